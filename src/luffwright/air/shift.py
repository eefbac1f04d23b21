r"""How the loads of solved flows answer to small shifts of sails, wind and mirror.

What flow and strips have to satisfy is looked at a little off, with circulations and incidences
held; what is out of balance there they take up through their own equations, already factorised.
Nothing is left out, and no flow is solved anew: with x the circulations and incidences and p the
shift,

.. math:: \frac{dF}{dp} = \frac{\partial F}{\partial p}
    - \frac{\partial F}{\partial x} \left(\frac{\partial G}{\partial x}\right)^{-1}
      \frac{\partial G}{\partial p},\quad G(x, p) = 0
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.air.astern import plate_load
from luffwright.air.lattice import CORE, Flow, Lattice, Water, corners
from luffwright.air.luffing import cloth_drag, cloth_ratios
from luffwright.air.shade import Onset, blown
from luffwright.air.shift_kernel import filament_velocities
from luffwright.air.strip_geometry import StripGeometry, Strips, own_influence, strip_geometry
from luffwright.air.strips import LEAST_RATIO, StripState, facing_of
from luffwright.arrays import FloatArray
from luffwright.frames import cross

STEP = 1e-5
"""How far off is looked [unit of the shift]: no iteration is in it, so that rounding leaves a
millionth and the bend of the loads as little."""


@dataclass(frozen=True)
class Scene:
    """What solved flows hang on: places of the nodes (n, 3) [m], an onset for each flow [m/s], the
    one that the wakes run along, and the mirror.
    """

    nodes: FloatArray
    onsets: tuple[Onset, ...]
    wakes: Onset
    water: Water


@dataclass(frozen=True)
class _Shapes:
    """Scenes seen together, the first axis: points, panels and legs [m], and where wakes go."""

    nodes: FloatArray
    points: FloatArray
    reach: FloatArray
    chordwise: FloatArray
    spanwise: FloatArray
    velocity: FloatArray
    onset: FloatArray

    @property
    def normal(self) -> FloatArray:
        """Return the panels' normals, as long as their areas [m²]."""
        return cross(self.chordwise, self.spanwise)


def _shapes(mesh: Lattice, flows: tuple[Flow, ...], scenes: tuple[Scene, ...]) -> _Shapes:
    """Return the scenes; `velocity` and `onset` (scenes, flows, points, xyz) [m/s] at panels, then
    legs, by the filaments as strong as they were and by the wind.
    """
    lines = mesh.lines
    strength = np.array([flow.leg_strength for flow in flows])
    padded = np.array([np.append(flow.circulation, 0.0) for flow in flows])
    rays = np.sum(lines.ray_share * padded[:, lines.ray_ring], axis=-1)
    owner = np.concatenate([mesh.control_owner, lines.owner])
    nodes = np.array([scene.nodes for scene in scenes])
    control = mesh.control @ nodes
    points, reach, felt, wind = [], [], [], []
    for scene, at in zip(scenes, control, strict=True):
        corner = corners(mesh, scene.nodes, scene.water)
        start, end, begun = corner[lines.start], corner[lines.end], corner[lines.ray_start]
        places = np.vstack([at, 0.5 * (start + end)])
        along = scene.wakes(begun)
        along /= np.maximum(np.linalg.norm(along, axis=1, keepdims=True), 1e-12)
        felt.append(
            filament_velocities(
                places, owner, start, end, lines.owner, strength, begun, along, lines.ray_owner,
                rays, scene.water.up, scene.water.present, CORE[0] ** 2, CORE[1] ** 2,
            )
        )  # fmt: skip
        points.append(places)
        reach.append(end - start)
        wind.append(
            [blown(mesh.shades, scene.nodes, onset, places, owner) for onset in scene.onsets]
        )
    return _Shapes(
        nodes, np.array(points), np.array(reach), mesh.chordwise @ nodes, mesh.spanwise @ nodes,
        np.array(felt), np.array(wind),
    )  # fmt: skip


@dataclass(frozen=True)
class _Met:
    """How strips meet the air in each scene, circulations and incidences held: their geometry, the
    wash that is left to be stopped [m³/s], the incidence that is left to be met [rad], and the
    camber's load [-].
    """

    geometry: StripGeometry
    stopped: FloatArray
    met: FloatArray
    camber: FloatArray


def _by_strip(strips: Strips, values: FloatArray) -> FloatArray:
    return values.reshape(*values.shape[:-1], strips.count, strips.panels)


def _ratios(facing: FloatArray, camber: FloatArray, holds: FloatArray) -> FloatArray:
    flat = (facing.ravel(), camber.ravel(), holds.ravel())
    return cloth_ratios(*flat)[0].reshape(facing.shape)


def _met(strips: Strips, state: StripState, shapes: _Shapes, flow: int) -> _Met:
    """Return how the strips of one flow meet the air of each scene."""
    rings = len(state.circulation)
    normal, stream = shapes.normal, shapes.onset[:, flow, :rings]
    geometry = strip_geometry(strips, shapes.nodes, stream, normal, shapes.spanwise)
    leak = np.sum(normal * shapes.velocity[:, flow, :rings], axis=-1)
    wash = -np.sum(normal * stream, axis=-1)
    own = own_influence(strips, geometry)
    pressed = np.einsum("kspq,sq->ksp", own, _by_strip(strips, state.circulation))
    through = _by_strip(strips, geometry.panel) * geometry.speed[..., None]
    left = _by_strip(strips, wash - leak)
    met = np.sum(strips.fit / through * (left + pressed), axis=-1) - state.incidence
    load = np.sum(strips.bend / through * _by_strip(strips, wash), axis=-1)
    camber, _ = facing_of(load @ strips.blend.T, geometry.sense)
    facing, _ = facing_of(strips.blend @ state.incidence, geometry.sense)
    ratio = (1.0 - geometry.astern) * _ratios(facing, camber, geometry.holds)
    ratio = ratio + geometry.astern * LEAST_RATIO
    stopped = left - (1.0 / ratio - 1.0)[..., None] * pressed
    return _Met(geometry, stopped.reshape(len(left), -1), met, camber)


def _change(values: FloatArray) -> FloatArray:
    """Return the change by one unit of each shift from scenes, the first of which is at rest."""
    return np.asarray((values[1:] - values[0]) / STEP)


def _drags(strips: Strips, met: _Met, circulation: FloatArray, incidence: FloatArray) -> FloatArray:
    """Return the strips' drag areas [m²] in each scene at its circulations and incidences."""
    geometry = met.geometry
    facing, _ = facing_of(incidence @ strips.blend.T, geometry.sense)
    ratio = (1.0 - geometry.astern) * _ratios(facing, met.camber, geometry.holds)
    ratio = ratio + geometry.astern * LEAST_RATIO
    total = circulation[:, strips.panels - 1 :: strips.panels]
    lift = 2.0 * total / (geometry.speed * geometry.chord)
    drag = cloth_drag(facing, met.camber, lift / ratio, geometry.holds)
    return np.asarray((1.0 - geometry.astern) * drag * geometry.chord * geometry.height)


def _plates(geometry: StripGeometry) -> FloatArray:
    """Return the loads of strips that the wind meets from their leech, by density [m⁴/s²]."""
    flat = (geometry.chord_line, geometry.span, geometry.stream)
    load = plate_load(*(values.reshape(-1, 3) for values in flat)).reshape(flat[0].shape)
    return np.asarray((geometry.chord * geometry.height)[..., None] * load)


def _loads(mesh: Lattice, flow: Flow, number: int, shapes: _Shapes) -> FloatArray:
    """Return the change of a flow's load by node for each shift, (shifts, n, 3)."""
    strips, state, lines, rings = mesh.strips, flow.strip, mesh.lines, mesh.rings
    met = _met(strips, state, shapes, number)
    turned, leant = state.answer(_change(met.stopped).T, _change(met.met).T)
    rest = np.zeros((1, rings))
    ahead = STEP * np.vstack([rest, turned.T])
    padded = np.hstack([ahead, np.zeros((len(ahead), 1))])
    strength = flow.leg_strength + np.sum(lines.share * padded[:, lines.ring], axis=-1)
    velocity = shapes.velocity[:, number, rings:] + shapes.onset[:, number, rings:]
    velocity = velocity + np.tensordot(ahead, flow.influence[rings:], axes=(1, 1))
    force = flow.density * strength[..., None] * cross(velocity, shapes.reach)
    force *= lines.loaded[:, None]
    incidence = state.incidence + STEP * np.vstack([np.zeros((1, strips.count)), leant.T])
    area = _drags(strips, met, state.circulation + ahead, incidence)
    geometry = met.geometry
    drag = (0.5 * flow.density * area * geometry.speed)[..., None] * geometry.stream
    if bool(np.any(geometry.astern > 0.0)):
        drag = drag + flow.density * _plates(geometry)
    return mesh.to_node @ _change(force) + strips.spread @ _change(drag)


def load_shifts(
    mesh: Lattice, flows: tuple[Flow, ...], here: Scene, there: tuple[Scene, ...]
) -> FloatArray:
    """Return how the loads of flows change as nodes, wind and mirror shift together.

    Parameters
    ----------
    mesh : Lattice
    flows : tuple of Flow
        Stalling ones about the same nodes with the same wakes.
    here : Scene
        Where they were solved.
    there : tuple of Scene
        Each `STEP` of a shift away.

    Returns
    -------
    (flows, shifts, n, 3) array
        By node and unit of each shift. Frame: boat. [N]

    Notes
    -----
    Of the first order in the shift, and exact in that.
    """
    shapes = _shapes(mesh, flows, (here, *there))
    return np.array([_loads(mesh, flow, k, shapes) for k, flow in enumerate(flows)])
