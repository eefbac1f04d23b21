"""Vortex lattice of several sails over the water: circulations, strips in the stall, forces.

Boat frame: x forward, y to port (leeward), z up the mast. The water is a mirror whose normal `up`
is the level vertical seen from the heeled boat. Nothing here knows cloth or ropes.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from luffwright.air.astern import plate_load, plate_load_slopes
from luffwright.air.lattice_kernel import lattice_influence
from luffwright.air.lattice_mesh import Filaments, SheetMesh, filaments
from luffwright.air.shade import Onset, Shade, blown
from luffwright.air.strip_geometry import StripGeometry, Strips, strip_geometry, strips_of
from luffwright.air.strips import StripState, solve_strips
from luffwright.air.tangent_kernel import add_own_turn, load_by_node, load_by_ring
from luffwright.arrays import FloatArray, IntArray
from luffwright.frames import cross

CORE = (1e-4, 0.05)
"""Core radius of filaments felt by their own sail and by the others [m]."""


@dataclass(frozen=True)
class Links:
    """Which nodes each part touches, as lists (start of each row, index, weights).

    `leg` from a node to the legs that load it, `panel` from a node to the panels it turns (weights
    along the chord and along the span), `end` from a leg to the nodes that carry its ends.
    """

    leg: tuple[IntArray, IntArray, FloatArray]
    panel: tuple[IntArray, IntArray, FloatArray, FloatArray]
    end: tuple[IntArray, IntArray, FloatArray]


def _rows(*matrices: FloatArray) -> tuple[IntArray, IntArray, tuple[FloatArray, ...]]:
    """Return the entries of matrices, row by row, where any of them is not zero."""
    row, column = np.nonzero(np.any([matrix != 0.0 for matrix in matrices], axis=0))
    start = np.searchsorted(row, np.arange(len(matrices[0]) + 1))
    return start, column, tuple(matrix[row, column] for matrix in matrices)


def _links(
    lines: Filaments, corner: FloatArray, to_node: FloatArray, chord: FloatArray, span: FloatArray
) -> Links:
    stretch = np.zeros((len(lines.start), corner.shape[1]))
    loaded = np.flatnonzero(lines.loaded)
    stretch[loaded] = corner[lines.end[loaded]] - corner[lines.start[loaded]]
    leg, panel, end = _rows(to_node), _rows(chord.T, span.T), _rows(stretch)
    return Links(
        (*leg[:2], leg[2][0]), (*panel[:2], panel[2][0], panel[2][1]), (*end[:2], end[2][0])
    )


@dataclass(frozen=True)
class Lattice:
    """The unchanging part of a lattice: meshes, filaments, numbering, strips, and which sail takes
    another's wind where it stands as a stalled plate.
    """

    meshes: tuple[SheetMesh, ...]
    lines: Filaments
    strips: Strips
    corner: FloatArray
    control: FloatArray
    chordwise: FloatArray
    spanwise: FloatArray
    control_owner: IntArray
    skirt_from: IntArray
    skirt_owner: IntArray
    to_node: FloatArray
    links: Links
    shades: tuple[Shade, ...] = ()

    @property
    def rings(self) -> int:
        """Return the number of panels of all sails."""
        return int(self.control.shape[0])


def _block(parts: list[FloatArray]) -> FloatArray:
    rows = sum(part.shape[0] for part in parts)
    columns = sum(part.shape[1] for part in parts)
    out = np.zeros((rows, columns))
    row = column = 0
    for part in parts:
        out[row : row + part.shape[0], column : column + part.shape[1]] = part
        row, column = row + part.shape[0], column + part.shape[1]
    return out


def lattice(
    meshes: tuple[SheetMesh, ...],
    closure: tuple[float, ...],
    noses: tuple[float, ...] = (),
    shades: tuple[Shade, ...] = (),
) -> Lattice:
    """Return the lattice of several sails.

    Parameters
    ----------
    meshes : tuple of SheetMesh
        One a sail, all with the same number of panels along a chord.
    closure : tuple of float
        Share of each foot's circulation that the deck carries down to the water. [-]
    noses : tuple of float
        Radius of each luff; as thick as the law of the stall knows if not given. [m]
    shades : tuple of Shade, optional
        Which sails stand in the lee of which.

    Returns
    -------
    Lattice
    """
    lines = filaments(meshes, closure)
    corner = _block([mesh.corner for mesh in meshes])
    carrier = _block([mesh.carrier for mesh in meshes])
    to_node = np.zeros((corner.shape[1], len(lines.start)))
    skirt_from, skirt_owner, first = [], [], 0
    for sail, mesh in enumerate(meshes):
        skirt_from.append(first + np.arange(mesh.columns))
        skirt_owner.append(np.full(mesh.columns, sail))
        first += mesh.rows * mesh.columns
    for leg in np.flatnonzero(lines.loaded):
        to_node[:, leg] = 0.5 * (carrier[lines.start[leg]] + carrier[lines.end[leg]])
    chordwise = _block([mesh.chordwise for mesh in meshes])
    spanwise = _block([mesh.spanwise for mesh in meshes])
    return Lattice(
        meshes,
        lines,
        strips_of(meshes, noses),
        corner,
        _block([mesh.control for mesh in meshes]),
        chordwise,
        spanwise,
        np.repeat(np.arange(len(meshes)), [mesh.strips * mesh.panels for mesh in meshes]),
        np.concatenate(skirt_from),
        np.concatenate(skirt_owner),
        to_node,
        _links(lines, corner, to_node, chordwise, spanwise),
        shades,
    )


def blunt(mesh: Lattice) -> Lattice:
    """Return a lattice with luffs as thick as the law of the stall knows."""
    return replace(mesh, strips=replace(mesh.strips, nose=np.full(mesh.strips.count, np.inf)))


@dataclass(frozen=True)
class Water:
    """The mirror: unit level vertical in the boat frame, or no mirror at all (free air)."""

    up: FloatArray
    present: bool = True


FREE_AIR = Water(np.array([0.0, 0.0, 1.0]), present=False)


@dataclass(frozen=True)
class Flow:
    """The solved flow about given nodes.

    `circulation` per ring [m²/s]; `strip` the state of each strip; `leg_*` filaments with their
    strength, local velocity and force [N]; `influence` (control points, then
    legs; ring, 3) and the factors serve the flight's tangent; `node_force` [N] is all air load by
    node; `reached` the share of the wind's speed that other sails leave each panel [-].
    """

    circulation: FloatArray
    strip: StripState
    leg_start: FloatArray
    leg_end: FloatArray
    leg_strength: FloatArray
    leg_velocity: FloatArray
    influence: FloatArray
    leg_force: FloatArray
    node_force: FloatArray
    control_velocity: FloatArray
    chordwise: FloatArray
    spanwise: FloatArray
    wake_along: FloatArray
    density: float
    reached: FloatArray

    @property
    def in_lee(self) -> bool:
        """Return whether a sail stands in another's lee."""
        return bool(np.any(self.reached < 1.0 - 1e-9))


def corners(mesh: Lattice, nodes: FloatArray, water: Water) -> FloatArray:
    """Return the vortex corners of all sails and, behind them, the feet of the skirts.

    Parameters
    ----------
    mesh : Lattice
    nodes : (n, 3) array
        Nodes of all sails. Frame: boat. [m]
    water : Water
        The mirror that the skirts stand on.

    Returns
    -------
    (m, 3) array
        Each skirt's foot stands under its hem along the mast. Frame: boat. [m]
    """
    corner = mesh.corner @ nodes
    hems = corner[mesh.skirt_from]
    drop = (hems @ water.up)[:, None] / max(float(water.up[2]), 0.1)
    feet = hems - drop * np.array([0.0, 0.0, 1.0])
    return np.vstack([corner, feet])


def _unit(vectors: FloatArray) -> FloatArray:
    return vectors / np.maximum(np.linalg.norm(vectors, axis=1, keepdims=True), 1e-12)


def felt(
    mesh: Lattice, nodes: FloatArray, onset: Onset, water: Water,
    core: tuple[float, float] = CORE,
) -> FloatArray:  # fmt: skip
    """Return the velocity at control points, then legs, by each ring of unit circulation.

    Parameters
    ----------
    mesh : Lattice
    nodes : (n, 3) array
        Nodes of all sails. Frame: boat. [m]
    onset : callable
        The wakes run along it. [m/s]
    water : Water
        The mirror.
    core : (float, float)
        Core radius of filaments felt by their own sail and by the others. [m]

    Returns
    -------
    (points, rings, 3) array
        [1/m]
    """
    lines = mesh.lines
    corner = corners(mesh, nodes, water)
    start, end, rays = corner[lines.start], corner[lines.end], corner[lines.ray_start]
    points = np.vstack([mesh.control @ nodes, 0.5 * (start + end)])
    out: FloatArray = lattice_influence(
        points, np.concatenate([mesh.control_owner, lines.owner]),
        start, end, lines.owner, lines.ring, lines.share,
        rays, _unit(onset(rays)), lines.ray_owner, lines.ray_ring, lines.ray_share,
        water.up, water.present, core[0] ** 2, core[1] ** 2, mesh.rings,
    )  # fmt: skip
    return out


def solve_flow(  # noqa: PLR0913 - one argument for each physical input
    mesh: Lattice,
    nodes: FloatArray,
    onset: Onset,
    water: Water,
    density: float,
    *,
    stalling: bool = True,
    first: FloatArray | None = None,
    core: tuple[float, float] = CORE,
    influence: FloatArray | None = None,
) -> Flow:
    """Return circulations and forces of all sails at fixed shape.

    Each panel lets no air through at its control point; in each strip the lift that the separated
    flow loses is one more unknown, solved together with the circulations.

    Parameters
    ----------
    mesh : Lattice
    nodes : (n, 3) array
        Nodes of all sails, in the order of `mesh.meshes`. Frame: boat. [m]
    onset : callable
        Undisturbed velocity of the air at (m, 3) points. Frame: boat. [m/s]
    water : Water
        The mirror.
    density : float
        Of the air. [kg/m³]
    stalling : bool
        False = attached potential flow everywhere.
    first : (s,) array, optional
        Incidence parameter of each strip to start from. [rad]
    core : (float, float)
        Core radius of filaments felt by their own sail and by the others. [m]
    influence : array, optional
        From `felt` at the same nodes, whose wakes are then kept. [1/m]

    Returns
    -------
    Flow

    Notes
    -----
    Steady, incompressible; wakes straight along the onset at their own height.
    """
    lines = mesh.lines
    corner = corners(mesh, nodes, water)
    control = mesh.control @ nodes
    start, end = corner[lines.start], corner[lines.end]
    middle = 0.5 * (start + end)
    along = _unit(onset(corner[lines.ray_start]))
    if influence is None:
        influence = felt(mesh, nodes, onset, water, core)
    chordwise, spanwise = mesh.chordwise @ nodes, mesh.spanwise @ nodes
    normal = cross(chordwise, spanwise)
    free = onset(control)
    stream = blown(mesh.shades, nodes, onset, control, mesh.control_owner)
    matrix = (influence[: mesh.rings] @ normal[:, :, None])[:, :, 0]
    wash = -np.sum(normal * stream, axis=1)
    geometry = strip_geometry(mesh.strips, nodes, stream, normal, spanwise)
    strip = solve_strips(mesh.strips, geometry, matrix, wash, stalling=stalling, first=first)
    circulation = strip.circulation
    wind = blown(mesh.shades, nodes, onset, middle, lines.owner)
    velocity = wind + circulation @ influence[mesh.rings :]
    padded = np.append(circulation, 0.0)
    strength = np.sum(lines.share * padded[lines.ring], axis=1)
    force = density * strength[:, None] * cross(velocity, end - start) * lines.loaded[:, None]
    drag = strip.drag_area[:, None] * 0.5 * density * geometry.speed[:, None] * geometry.stream
    if stalling and bool(np.any(geometry.astern > 0.0)):
        area = density * geometry.chord * geometry.height
        drag += area[:, None] * plate_load(geometry.chord_line, geometry.span, geometry.stream)
    node_force = mesh.to_node @ force + mesh.strips.spread @ drag
    return Flow(
        circulation, strip, start, end, strength, velocity, influence, force, node_force,
        stream + circulation @ influence[: mesh.rings],
        chordwise, spanwise, along, density,
        np.linalg.norm(stream, axis=1) / np.maximum(np.linalg.norm(free, axis=1), 1e-9),
    )  # fmt: skip


@dataclass(frozen=True)
class Moved:
    """What moving each node does at held circulations: the `leak` through each panel, (rings, 3n)
    [m²/s], and the `load` on each node, (3n, 3n) [N/m], both by the vortices' shift alone.
    """

    leak: FloatArray
    load: FloatArray


def load_tangent(mesh: Lattice, flow: Flow, moved: Moved | None = None) -> FloatArray:
    """Return how the nodes' air loads change with the nodes, (3n, 3n), node-major [N/m].

    The slope of each panel against the flow, the strips' stall with its drag and the legs' own
    length are followed exactly; the influence of one filament on another is held, unless `moved`
    brings its change.

    Parameters
    ----------
    mesh : Lattice
    flow : Flow
        Solved at the nodes in question. [m, N]
    moved : Moved, optional
        What the vortices' own shift does. [m²/s, N/m]

    Returns
    -------
    (3n, 3n) array
    """
    links, lines = mesh.links, mesh.lines
    count = mesh.corner.shape[1]
    reach = flow.leg_end - flow.leg_start
    pull = flow.density * flow.leg_strength
    by_ring = load_by_ring(
        *links.leg, pull, reach, flow.density * cross(flow.leg_velocity, reach),
        flow.influence[mesh.rings :], lines.ring, lines.share,
    ).reshape(3 * count, mesh.rings)  # fmt: skip
    turned = -np.eye(mesh.rings)
    response = flow.strip.respond(turned)
    dragging = flow.strip.respond_in_drag(turned, response)
    geometry = flow.strip.geometry
    blow = 0.5 * flow.density * geometry.speed[:, None] * geometry.stream
    carried = (mesh.strips.spread.T[:, :, None] * blow[:, None, :]).reshape(len(blow), -1)
    by_leak = response.T @ by_ring.T + dragging.T @ carried
    tangent: FloatArray = load_by_node(
        *links.panel,
        cross(flow.spanwise, flow.control_velocity),
        cross(flow.control_velocity, flow.chordwise),
        by_leak,
    )
    if moved is not None:
        tangent += by_leak.T @ moved.leak + moved.load
    if flow.strip.slopes is not None and bool(np.any(geometry.astern > 0.0)):
        _add_plates(tangent, mesh.strips, geometry, flow.density)
    add_own_turn(tangent, *links.leg, *links.end, pull[:, None] * flow.leg_velocity)
    return tangent


def _add_plates(
    tangent: FloatArray, strips: Strips, geometry: StripGeometry, density: float
) -> None:
    """Add how the load of strips that the wind meets from the leech turns with their chords."""
    turn = plate_load_slopes(geometry.chord_line, geometry.span, geometry.stream)
    turn *= (density * geometry.chord * geometry.height)[:, None, None]
    reach = strips.leech - strips.luff
    more = np.einsum("ns,sab,sm->namb", strips.spread, turn, reach, optimize=True)
    tangent += more.reshape(tangent.shape)
