"""Strips of the lattice: incidence parameter A0 of each, and the lift lost to separation.

In a strip the lattice's own two-dimensional influence M of the strip on itself is known. Scaling
it by 1 + tau divides the strip's lift slope by 1 + tau without touching what the others do to it:
that is the one decambering unknown of the strip. Its cause is the incidence parameter `a` of the
flow that the strip meets (A0 of the attached flow in the wash of all others), through the section's
lift ratio r(a): 1 + tau = 1 / r(a).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg import lu_factor, lu_solve

from luffwright.air.lattice_mesh import SheetMesh
from luffwright.air.stall import drag_coefficients, lift_ratios
from luffwright.arrays import FloatArray, IntArray


@dataclass(frozen=True)
class Strips:
    """Numbering of all strips: `row` weights of nodes at luff and leech, `kernel` M for unit chord,
    `fit` the weights of A0 on the control points' wash, `spread` strips to nodes, `blend` the mean
    of each strip with its neighbours on the same sail: separation is a cell wider than a strip, and
    without this a stalled sail has many solutions with strips stalled by turns (Chattot's viscosity
    in lifting-line theory, Wind Energy 7, 2004, from memory)."""

    count: int
    panels: int
    luff: FloatArray
    leech: FloatArray
    belly: FloatArray
    spread: FloatArray
    kernel: FloatArray
    fit: FloatArray
    blend: FloatArray


def strips_of(meshes: tuple[SheetMesh, ...]) -> Strips:
    """Return the strips of several sails that share the number of panels along a chord."""
    panels = meshes[0].panels
    count = sum(mesh.strips for mesh in meshes)
    nodes = sum(mesh.rows * mesh.columns for mesh in meshes)
    luff, leech, belly = (np.zeros((count, nodes)) for _ in range(3))
    spread = np.zeros((nodes, count))
    strip = first = 0
    for mesh in meshes:
        for j in range(mesh.strips):
            low, high = first + j * mesh.columns, first + (j + 1) * mesh.columns
            for node in (low, high):
                luff[strip, node] = 0.5
                leech[strip, node + panels] = 0.5
                belly[strip, node + 1 : node + panels] = 0.5 / max(panels - 1, 1)
                spread[node : node + panels + 1, strip] += 0.5 / (panels + 1)
            strip += 1
        first += mesh.rows * mesh.columns
    k, i = np.arange(panels)[:, None], np.arange(panels)[None, :]
    bound = np.eye(panels) - np.eye(panels, k=-1)
    kernel = -panels / (2.0 * np.pi) / (k - i + 0.5) @ bound
    cosine = 1.0 - 2.0 * (np.arange(panels) + 0.75) / panels
    theta = np.arccos(cosine)
    modes = np.stack([np.cos(n * theta) for n in range(min(3, panels))], axis=1)
    blend = np.zeros((count, count))
    first = 0
    for mesh in meshes:
        for j in range(mesh.strips):
            for k, share in ((j - 1, 0.25), (j, 0.5), (j + 1, 0.25)):
                blend[first + j, first + min(max(k, 0), mesh.strips - 1)] += share
        first += mesh.strips
    return Strips(
        count, panels, luff, leech, belly, spread, kernel, -np.linalg.pinv(modes)[0], blend
    )


@dataclass(frozen=True)
class StripGeometry:
    """Chord normal to the span [m], span [m], onset [m/s] and its speed normal to the span, sense
    of the belly (+1 full to leeward, -1 backed, 0 flat), panel areas."""

    chord: FloatArray
    height: FloatArray
    stream: FloatArray
    speed: FloatArray
    sense: FloatArray
    panel: FloatArray


def strip_geometry(
    strips: Strips, nodes: FloatArray, stream: FloatArray, normal: FloatArray, spanwise: FloatArray
) -> StripGeometry:
    """Return the strips' chords, onset and belly's sense at the nodes given."""
    luff, leech = strips.luff @ nodes, strips.leech @ nodes
    span_axis = spanwise.reshape(strips.count, strips.panels, 3).sum(axis=1)
    span_axis /= np.linalg.norm(span_axis, axis=1, keepdims=True) + 1e-12
    chord = np.cross(np.cross(span_axis, leech - luff), span_axis)
    panel = np.linalg.norm(normal, axis=1) + 1e-9
    area = np.add.reduceat(panel, np.arange(0, len(panel), strips.panels))
    length = np.maximum(np.linalg.norm(chord, axis=1), 1e-6)
    met = stream.reshape(strips.count, strips.panels, 3).mean(axis=1)
    speed = np.maximum(np.linalg.norm(np.cross(met, span_axis), axis=1), 1e-6)
    across = np.cross(chord / length[:, None], span_axis)
    belly = np.sum((strips.belly @ nodes - 0.5 * (luff + leech)) * across, axis=1) / length
    return StripGeometry(length, area / length, met, speed, np.tanh(belly / 0.01), panel)


@dataclass(frozen=True)
class StripState:
    """Solved strips: circulations, incidence parameter `a` [rad], lift ratio, lift coefficient of
    the attached flow, `drag_area` [m²] and what `respond` needs."""

    circulation: FloatArray
    incidence: FloatArray
    facing: FloatArray
    ratio: FloatArray
    lift: FloatArray
    drag_area: FloatArray
    factors: tuple[FloatArray, IntArray]
    soften: FloatArray
    gather: FloatArray
    close: tuple[FloatArray, IntArray] | None

    def respond(self, wash: FloatArray) -> FloatArray:
        """Return the change of all circulations for changes of wash, (rings, m)."""
        direct = lu_solve(self.factors, wash, check_finite=False)
        if self.close is None:
            return direct  # type: ignore[no-any-return]
        met = self.gather @ wash - self.soften_gather @ direct
        return direct + self.soften @ lu_solve(self.close, met, check_finite=False)  # type: ignore[no-any-return]

    @property
    def soften_gather(self) -> FloatArray:
        """Return the incidence that the other strips' circulations make in each strip."""
        return self._others

    _others: FloatArray


def _own(strips: Strips, geometry: StripGeometry) -> FloatArray:
    """Return each strip's influence on itself, (s, panels, panels)."""
    area = geometry.panel.reshape(strips.count, strips.panels)
    return strips.kernel[None] * (area / geometry.chord[:, None])[:, :, None]


def _facing(incidence: FloatArray, sense: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the incidence as the belly sees it, and its slope.

    A sail that fills the other way is its own mirror; a flat one has no sides, so that only the
    size of the incidence counts.
    """
    size = np.sqrt(incidence**2 + 1e-6)
    return sense * incidence + (1.0 - sense**2) * size, sense + (1.0 - sense**2) * incidence / size


def solve_strips(  # noqa: PLR0913
    strips: Strips,
    geometry: StripGeometry,
    matrix: FloatArray,
    wash: FloatArray,
    *,
    stalling: bool,
    first: FloatArray | None,
) -> StripState:
    """Return circulations and incidences that agree: Newton on the strips' incidences.

    Parameters
    ----------
    strips : Strips
    geometry : StripGeometry
    matrix, wash : arrays
        No flow through the panels: matrix @ circulation = wash. [m², m³/s]
    stalling : bool
        False holds all lift ratios at one.
    first : (s,) array, optional
        Start of the incidences. [rad]

    Returns
    -------
    StripState
    """
    count, panels = strips.count, strips.panels
    own = _own(strips, geometry)
    rows = np.arange(count * panels).reshape(count, panels)
    others = matrix.copy()
    for s in range(count):
        others[np.ix_(rows[s], rows[s])] -= own[s]
    gather = np.zeros((count, count * panels))
    area = geometry.panel.reshape(count, panels)
    for s in range(count):
        gather[s, rows[s]] = strips.fit / (area[s] * geometry.speed[s])
    between = gather @ others
    if not stalling:
        factors = lu_factor(matrix, check_finite=False)
        circulation = lu_solve(factors, wash, check_finite=False)
        incidence = gather @ wash - between @ circulation
        return _state(
            strips, geometry, circulation, incidence, factors, gather, between, None, None
        )

    def attempt(incidence: FloatArray) -> tuple[FloatArray, ...]:
        facing, slope = _facing(strips.blend @ incidence, geometry.sense)
        ratio, ratio_slope = lift_ratios(facing)
        system = matrix.copy()
        for s in range(count):
            system[np.ix_(rows[s], rows[s])] += (1.0 / ratio[s] - 1.0) * own[s]
        lu, pivot = lu_factor(system, check_finite=False)
        circulation = lu_solve((lu, pivot), wash, check_finite=False)
        gap = gather @ wash - between @ circulation - incidence
        return lu, pivot, circulation, gap, ratio_slope * slope / ratio**2

    incidence = np.zeros(count) if first is None else first.copy()
    now = attempt(incidence)
    share = 1.0
    for _ in range(25):
        lu, pivot, circulation, gap, steep = now
        factors = (lu, pivot)
        push = np.zeros((count * panels, count))
        for s in range(count):
            push[rows[s]] = steep[s] * np.outer(own[s] @ circulation[rows[s]], strips.blend[s])
        soften = lu_solve(factors, push, check_finite=False)
        close = np.eye(count) + between @ soften
        if np.max(np.abs(gap)) < 1e-8:
            break
        step = np.clip(np.linalg.solve(close, gap), -0.08, 0.08)
        share = min(1.0, 2.0 * share)
        for _halving in range(4):
            trial = attempt(incidence + share * step)
            if np.linalg.norm(trial[3]) < np.linalg.norm(gap):
                break
            share *= 0.4
        incidence, now = incidence + share * step, trial
    return _state(
        strips, geometry, circulation, incidence, factors, gather, between, soften, close
    )


def _state(  # noqa: PLR0913
    strips: Strips,
    geometry: StripGeometry,
    circulation: FloatArray,
    incidence: FloatArray,
    factors: tuple[FloatArray, IntArray],
    gather: FloatArray,
    between: FloatArray,
    soften: FloatArray | None,
    close: FloatArray | None,
) -> StripState:
    facing, _ = _facing(strips.blend @ incidence, geometry.sense)
    total = circulation[strips.panels - 1 :: strips.panels]
    ratio = np.ones(strips.count) if soften is None else lift_ratios(facing)[0]
    lift = 2.0 * total / (geometry.speed * geometry.chord)
    drag = np.zeros(strips.count)
    if soften is not None:
        drag = drag_coefficients(facing, lift / ratio) * geometry.chord * geometry.height
    return StripState(
        circulation,
        incidence,
        facing,
        ratio,
        lift,
        drag,
        factors,
        np.zeros((0, 0)) if soften is None else soften,
        gather,
        None if close is None else lu_factor(close, check_finite=False),
        between,
    )
