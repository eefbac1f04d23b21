"""Strips of the lattice: incidence parameter A0 of each, and the lift lost to separation.

In a strip the lattice's own two-dimensional influence M of the strip on itself is known. Scaling
it by 1 + tau divides the strip's lift slope by 1 + tau without touching what the others do to it:
that is the one decambering unknown of the strip. Its cause is the incidence parameter `a` of the
flow that the strip meets (A0 of the attached flow in the wash of all others), with the load `b` of
its own camber in the onset (A1), through the section's lift ratio r(a, b, n), `n` what the luff's
nose holds: 1 + tau = 1 / r.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.linalg import block_diag
from scipy.linalg.lapack import dgetrf, dgetrs

from luffwright.air.astern import from_leech
from luffwright.air.lattice_mesh import SheetMesh
from luffwright.air.luffing import cloth_drag, cloth_drag_slopes, cloth_ratios
from luffwright.air.nose import nose_holds
from luffwright.air.stall import separation
from luffwright.arrays import FloatArray, IntArray

LEAST_RATIO = 0.01
"""Share of its circulation that is left to a strip that the wind meets from its leech: none would
leave its equations without a hold."""
_SETTLED, _LONGEST = 1e-9, 0.2
"""Disagreement of the incidences that counts as none, and the longest step of one [rad]."""
_FIRST_TIME, _GROWTH, _MOST_STEPS = 0.5, 1.5, 50
"""First step of the pseudo-time in which the incidences settle [-], the power of a gain by which it
grows, and the most steps. Found on sails swung by up to 34 degrees either way and bent at random in
winds from 25 to 175 degrees: 237 of 240 starts settled, and 234 with the powers 1 and 2."""


@dataclass(frozen=True)
class Strips:
    """Numbering of all strips and their linear maps.

    `luff`, `leech`, `belly` weights of the nodes; `kernel` the strip's influence on itself for unit
    chord; `fit` the weights of A0 and `bend` those of A1 on the control points' wash; `spread` from
    strips to nodes; `whole` the mean of each sail; `nose` radius of the luff [m]; `blend` the mean
    of each strip with its neighbours on the same sail: separation is a cell wider than a strip, and
    without this a stalled sail has many solutions with strips stalled by turns (Chattot's viscosity
    in lifting-line theory, Wind Energy 7, 2004, from memory).
    """

    count: int
    panels: int
    luff: FloatArray
    leech: FloatArray
    belly: FloatArray
    spread: FloatArray
    kernel: FloatArray
    fit: FloatArray
    bend: FloatArray
    blend: FloatArray
    whole: FloatArray
    nose: FloatArray


def _whole(meshes: tuple[SheetMesh, ...]) -> FloatArray:
    """Return the mean over each sail, for each of its strips."""
    return block_diag(*(np.full((m.strips, m.strips), 1.0 / m.strips) for m in meshes))


def _blend(meshes: tuple[SheetMesh, ...]) -> FloatArray:
    """Return the mean of each strip with its neighbours, 1/4 1/2 1/4, the sail's ends held."""
    count = sum(mesh.strips for mesh in meshes)
    blend = np.zeros((count, count))
    first = 0
    for mesh in meshes:
        last = first + mesh.strips - 1
        for strip in range(first, last + 1):
            blend[strip, strip] += 0.5
            blend[strip, max(strip - 1, first)] += 0.25
            blend[strip, min(strip + 1, last)] += 0.25
        first = last + 1
    return blend


def strips_of(meshes: tuple[SheetMesh, ...], noses: tuple[float, ...] = ()) -> Strips:
    """Return the strips of several sails that share the number of panels along a chord.

    Parameters
    ----------
    meshes : tuple of SheetMesh
        One a sail.
    noses : tuple of float
        Radius of each luff; as thick as the law of the stall knows if not given. [m]

    Returns
    -------
    Strips

    Examples
    --------
    >>> from luffwright.air.lattice_mesh import sheet_mesh
    >>> strips_of((sheet_mesh(10, 8), sheet_mesh(10, 8))).count
    18
    """
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
    mean, first_mode = np.vstack([np.linalg.pinv(modes), np.zeros(panels)])[:2]
    radius = np.array(noses or [np.inf] * len(meshes))
    return Strips(
        count, panels, luff, leech, belly, spread, kernel, -mean, first_mode, _blend(meshes),
        _whole(meshes), np.repeat(radius, [mesh.strips for mesh in meshes]),
    )  # fmt: skip


@dataclass(frozen=True)
class StripGeometry:
    """The strips as the air meets them.

    `chord` normal to the span [m], `height` along the span [m], `stream` the onset [m/s], `speed`
    of it normal to the span [m/s], `sense` of the sail's belly (+1 full to leeward, -1 backed,
    0 flat) [-], `panel` areas [m²], `holds`: the incidence parameter that the luff's nose holds
    [rad], `chord_line` as a vector [m], unit vector along the `span`, `astern` the share of a plate
    that the wind meets from its leech [-].

    The sense is the whole sail's: a strip that luffs alone swings its belly to and fro, and a load
    that turned with each swing would have no mean place to hold it.
    """

    chord: FloatArray
    height: FloatArray
    stream: FloatArray
    speed: FloatArray
    sense: FloatArray
    panel: FloatArray
    holds: FloatArray
    chord_line: FloatArray
    span: FloatArray
    astern: FloatArray


def strip_geometry(
    strips: Strips, nodes: FloatArray, stream: FloatArray, normal: FloatArray, spanwise: FloatArray
) -> StripGeometry:
    """Return the strips' chords, onset and belly's sense at the nodes given.

    Parameters
    ----------
    strips : Strips
    nodes : (n, 3) array
        Of all sails. Frame: boat. [m]
    stream : (r, 3) array
        Onset at each panel's control point. [m/s]
    normal : (r, 3) array
        Of each panel, as long as its area. [m²]
    spanwise : (r, 3) array
        Tangent of each panel from foot to head. [m]

    Returns
    -------
    StripGeometry
    """
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
    along = np.sum(met * chord, axis=1) / (length * speed)
    sense = np.tanh(strips.whole @ belly / 0.01)
    return StripGeometry(
        length, area / length, met, speed, sense, panel, nose_holds(strips.nose / length),
        chord, span_axis, from_leech(along),
    )  # fmt: skip


@dataclass(frozen=True)
class StripSlopes:
    """How the stall of solved strips answers to changes.

    By strip `pressed`, what its own circulations stop at each panel for a unit rise of 1 / ratio,
    and the fall of 1 / ratio with the facing incidence, `steep` [1/rad], and with the camber's
    load, `bent` [-]; `turn` from incidences to facing ones, `bend` from wash to the camber's load,
    `soften` from incidences to circulations, `close` from incidences to their gap, with its sign
    turned.
    """

    pressed: FloatArray
    steep: FloatArray
    bent: FloatArray
    turn: FloatArray
    bend: FloatArray
    soften: FloatArray
    close: FloatArray

    def relieved(self, wash: FloatArray) -> FloatArray:
        """Return wash, (rings, m) [m³/s], with what the camber's load relieves."""
        load = self.bent[:, None] * (self.bend @ wash)
        count, panels = self.pressed.shape
        more = self.pressed[:, :, None] * load[:, None, :]
        return np.asarray(wash + more.reshape(count * panels, -1))


@dataclass(frozen=True)
class StripState:
    """The solved strips and what the flight's tangent needs of them.

    `circulation` of each ring [m²/s]; by strip the `incidence` parameter [rad], the same as the
    belly sees it, `facing` [rad], the `camber` load as the belly sees it [-], the place where the
    flow has `separated` as a share of the chord (1 = attached) [-], lift `ratio` [-], `lift`
    coefficient [-], `drag_area` [m²]; `gap` between the incidences and what the circulations make
    of them, nought if settled [rad].
    """

    circulation: FloatArray
    incidence: FloatArray
    facing: FloatArray
    camber: FloatArray
    separated: FloatArray
    ratio: FloatArray
    lift: FloatArray
    drag_area: FloatArray
    gap: float
    geometry: StripGeometry
    factors: tuple[FloatArray, IntArray]
    gather: FloatArray
    between: FloatArray
    slopes: StripSlopes | None

    @property
    def yields(self) -> bool:
        """Return whether strips give way to the wind, more than one, or meet it from the leech."""
        lets_go = self.facing + 0.5 * self.camber < 0.0
        return bool(lets_go.sum() > 1 or (self.geometry.astern > 0.0).any())

    def respond(self, wash: FloatArray) -> FloatArray:
        """Return the change of all circulations [m²/s] for changes of wash, (rings, m) [m³/s]."""
        slopes = self.slopes
        if slopes is None:
            return _through(self.factors, wash)
        # In Fortran's order, as LAPACK wants it.
        stopped = np.asarray(slopes.relieved(wash), order="F")
        direct = _through(self.factors, stopped)
        met = self.gather @ wash - self.between @ direct
        return np.asarray(direct + slopes.soften @ np.linalg.solve(slopes.close, met))

    def respond_in_drag(self, wash: FloatArray, circulation: FloatArray) -> FloatArray:
        """Return the change of the drag areas [m²] for changes of wash and their circulations.

        Parameters
        ----------
        wash : (rings, m) array
            Changes of wash. [m³/s]
        circulation : (rings, m) array
            What `respond` makes of them. [m²/s]

        Returns
        -------
        (s, m) array
        """
        slopes, geometry = self.slopes, self.geometry
        if slopes is None:
            return np.zeros((len(self.facing), wash.shape[1]))
        facing = slopes.turn @ (self.gather @ wash - self.between @ circulation)
        camber = slopes.bend @ wash
        last = len(self.circulation) // len(self.facing)
        lift = circulation[last - 1 :: last] * (2.0 / (geometry.speed * geometry.chord))[:, None]
        fall = slopes.steep[:, None] * facing + slopes.bent[:, None] * camber
        attached = lift / self.ratio[:, None] - self.lift[:, None] * fall
        by_incidence, by_camber, by_lift = cloth_drag_slopes(
            self.facing, self.camber, self.lift / self.ratio, geometry.holds
        )
        change = by_incidence[:, None] * facing + by_camber[:, None] * camber
        change += by_lift[:, None] * attached
        area = (1.0 - geometry.astern) * geometry.chord * geometry.height
        return np.asarray(area[:, None] * change)


def _through(factors: tuple[FloatArray, IntArray], right: FloatArray) -> FloatArray:
    """Return the solution for factors that LAPACK made."""
    found, _ = dgetrs(*factors, right)
    return np.asarray(found)


def _facing(incidence: FloatArray, sense: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the incidence as the belly sees it, and its slope.

    A sail that fills the other way is its own mirror; a flat one has no sides, so that only the
    size of the incidence counts, as it does for any belly that the wind fills.
    """
    size = np.sqrt(incidence**2 + 1e-6)
    sided, flat = sense * np.abs(sense), 1.0 - sense**2
    return sided * incidence + flat * size, sided + flat * incidence / size


def own_influence(strips: Strips, geometry: StripGeometry) -> FloatArray:
    """Return each strip's two-dimensional influence on itself.

    Parameters
    ----------
    strips : Strips
    geometry : StripGeometry
        Chords and panel areas. [m, m²]

    Returns
    -------
    (s, panels, panels) array
        Flow through each panel by the strip's rings of unit circulation. [m]
    """
    area = geometry.panel.reshape(strips.count, strips.panels)
    return strips.kernel * (area / geometry.chord[:, None])[:, :, None]


@dataclass(frozen=True)
class _Trial:
    """Circulations at assumed incidences: factors of their matrix, and what still disagrees."""

    incidence: FloatArray
    ratio: FloatArray
    factors: tuple[FloatArray, IntArray]
    circulation: FloatArray
    gap: FloatArray
    turn: FloatArray
    steep: FloatArray
    bent: FloatArray

    @property
    def size(self) -> float:
        return float(np.linalg.norm(self.gap))

    @property
    def worst(self) -> float:
        return float(np.max(np.abs(self.gap)))


class _Balance:
    """The strips' equations at one shape: circulations for incidences, and the way to agreement."""

    def __init__(
        self, strips: Strips, geometry: StripGeometry, matrix: FloatArray, wash: FloatArray
    ) -> None:
        self.strips, self.geometry, self.wash = strips, geometry, wash
        self.shape = (strips.count, strips.panels)
        area = geometry.panel.reshape(self.shape)
        self.own = own_influence(strips, geometry)
        self.kept = 1.0 - geometry.astern
        # Transposed, so that LAPACK gets its columns without another copy.
        self.columns = np.array(matrix.T, order="C")
        weight = strips.fit / (area * geometry.speed[:, None])
        each = np.arange(strips.count)
        gather = np.zeros((strips.count, *self.shape))
        gather[each, each] = weight
        self.gather = gather.reshape(strips.count, -1)
        between = np.einsum("sp,spr->sr", weight, matrix.reshape(*self.shape, -1))
        by_strip = between.reshape(strips.count, *self.shape)
        by_strip[each, each] -= np.einsum("sp,spq->sq", weight, self.own)
        self.between = between
        self.met = np.einsum("sp,sp->s", weight, wash.reshape(self.shape))
        bend = strips.bend / (area * geometry.speed[:, None])
        load = np.einsum("sp,sp->s", bend, wash.reshape(self.shape))
        self.camber, slope = _facing(strips.blend @ load, geometry.sense)
        # The camber's load by wash, through blend and belly.
        by_strip = (slope[:, None] * strips.blend)[:, :, None] * bend
        self.bend = by_strip.reshape(strips.count, -1)

    def factors(self, more: FloatArray | None) -> tuple[FloatArray, IntArray]:
        """Return the factors with each strip's influence on itself raised by the share `more`."""
        columns = self.columns.copy()
        if more is not None:
            blocks = columns.reshape(*self.shape, *self.shape)
            each = np.arange(self.strips.count)
            blocks[each, :, each, :] += more[:, None, None] * self.own.transpose(0, 2, 1)
        factors, pivots, _ = dgetrf(columns.T, overwrite_a=True)
        return factors, pivots

    def attempt(self, incidence: FloatArray, *, stalling: bool = True) -> _Trial:
        """Return the circulations at given incidences."""
        facing, slope = _facing(self.strips.blend @ incidence, self.geometry.sense)
        cloth = cloth_ratios(facing, self.camber, self.geometry.holds)
        ratio, by_incidence, by_camber = self.kept * np.stack(cloth)
        ratio = ratio + (1.0 - self.kept) * LEAST_RATIO
        factors = self.factors(1.0 / ratio - 1.0 if stalling else None)
        circulation = _through(factors, self.wash)
        met = self.met - self.between @ circulation
        return _Trial(
            incidence,
            ratio,
            factors,
            circulation,
            met - incidence,
            slope[:, None] * self.strips.blend,
            by_incidence / ratio**2,
            by_camber / ratio**2,
        )

    def tangent(self, trial: _Trial) -> StripSlopes:
        """Return the slopes at a trial."""
        pressed = np.einsum("spq,sq->sp", self.own, trial.circulation.reshape(self.shape))
        pushed = pressed[:, :, None] * (trial.steep[:, None] * trial.turn)[:, None, :]
        soften = _through(trial.factors, pushed.reshape(-1, len(pressed)))
        close = np.eye(len(pressed)) + self.between @ soften
        return StripSlopes(pressed, trial.steep, trial.bent, trial.turn, self.bend, soften, close)

    def march(self, trial: _Trial) -> _Trial:
        """Return the incidences that agree, or the last ones tried.

        Pseudo-time: each strip's incidence runs after what the circulations make of it, in implicit
        steps that grow as the disagreement falls, so that near the end this is Newton's method.
        Newton alone sticks beyond the stall, where the lift ratio's slope turns.
        """
        eye = np.eye(self.strips.count)
        time = _FIRST_TIME * max(1.0, 0.3 / max(trial.worst, 1e-12)) ** _GROWTH
        for _ in range(_MOST_STEPS):
            if trial.worst < _SETTLED:
                break
            step = np.linalg.solve(self.tangent(trial).close + eye / time, trial.gap)
            ahead = self.attempt(trial.incidence + np.clip(step, -_LONGEST, _LONGEST))
            gain = min(trial.size / max(ahead.size, 1e-300), 1e8)
            time = float(np.clip(time * (gain**_GROWTH if gain > 1.0 else gain**2), 0.05, 1e8))
            trial = ahead
        return trial

    def state(self, trial: _Trial, *, stalling: bool) -> StripState:
        """Return the solved strips."""
        strips, geometry = self.strips, self.geometry
        facing, _ = _facing(strips.blend @ trial.incidence, geometry.sense)
        total = trial.circulation[strips.panels - 1 :: strips.panels]
        lift = 2.0 * total / (geometry.speed * geometry.chord)
        ratio, drag = np.ones(strips.count), np.zeros(strips.count)
        point = np.ones(strips.count)
        slopes = None
        if stalling:
            ratio, point = trial.ratio, separation(facing, self.camber, geometry.holds)
            drag = cloth_drag(facing, self.camber, lift / ratio, geometry.holds)
            drag = self.kept * drag * geometry.chord * geometry.height
            slopes = self.tangent(trial)
        return StripState(
            trial.circulation, trial.incidence, facing, self.camber, point, ratio, lift, drag,
            trial.worst, geometry, trial.factors, self.gather, self.between, slopes,
        )  # fmt: skip


def solve_strips(  # noqa: PLR0913 - geometry, equations, choice and start
    strips: Strips,
    geometry: StripGeometry,
    matrix: FloatArray,
    wash: FloatArray,
    *,
    stalling: bool,
    first: FloatArray | None,
) -> StripState:
    """Return circulations and incidences that agree.

    Parameters
    ----------
    strips : Strips
    geometry : StripGeometry
    matrix, wash : (n, n) and (n,) array
        Flow through each panel by each ring of unit circulation [m], and what it has to stop
        [m³/s]: matrix @ circulation = wash.
    stalling : bool
        False holds all lift ratios at one.
    first : (s,) array or None
        Start of the incidences; None = nought. [rad]

    Returns
    -------
    StripState
        Its `gap` says whether the incidences settled.
    """
    balance = _Balance(strips, geometry, matrix, wash)
    start = np.zeros(strips.count) if first is None else first
    trial = balance.attempt(start, stalling=stalling)
    if stalling:
        trial = balance.march(trial)
    else:
        trial = replace(trial, incidence=start + trial.gap, gap=np.zeros(strips.count))
    return balance.state(trial, stalling=stalling)
