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
from scipy.linalg.lapack import dgetrf, dgetrs

from luffwright.air.bubble import drag_cells
from luffwright.air.luffing import cloth_drag, cloth_drag_slopes
from luffwright.air.stall import separation
from luffwright.air.strip_geometry import StripGeometry, Strips, own_influence
from luffwright.air.strip_kernel import carried_at, facing_each, gathered, pressed_by, raised
from luffwright.arrays import FloatArray, IntArray, each

LEAST_RATIO = 0.01
"""Share of its circulation that is left to a strip that the wind meets from its leech: none would
leave its equations without a hold."""
_SETTLED, _LONGEST = 1e-9, 0.2
"""Disagreement of the incidences that counts as none, and the longest step of one [rad]."""
_FIRST_TIME, _GROWTH, _MOST_STEPS = 0.5, 1.5, 50
"""First step of the pseudo-time in which the incidences settle [-], the power of a gain by which it
grows, and the most steps. Found on sails swung by up to 34 degrees either way and bent at random in
winds from 25 to 175 degrees: 237 of 240 starts settled, and 234 with the powers 1 and 2."""


LETS_GO = 0.1
"""Share of its camber's load by which a strip has to meet the wind from the wrong side to count as
giving way [rad]: about where cloth luffs. What holds it there is so soft that the usual force left
out of balance still moves a top by centimetres."""


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
        lets_go = self.facing + LETS_GO * self.camber < 0.0
        return bool(lets_go.sum() > 1 or (self.geometry.astern > 0.0).any())

    def respond(self, wash: FloatArray) -> FloatArray:
        """Return the change of all circulations [m²/s] for changes of wash, (rings, m) [m³/s]."""
        slopes = self.slopes
        if slopes is None:
            return _through(self.factors, wash)
        return self.answer(slopes.relieved(wash), self.gather @ wash)[0]

    def answer(self, stopped: FloatArray, met: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return how circulations and incidences take up what a change leaves over.

        Parameters
        ----------
        stopped : (rings, m) array
            What the rings have to stop more, circulations and incidences held. [m³/s]
        met : (s, m) array
            What the strips meet more, held likewise. [rad]

        Returns
        -------
        (rings, m) array, (s, m) array
            [m²/s], [rad]
        """
        # In Fortran's order, as LAPACK wants it.
        direct = _through(self.factors, np.asarray(stopped, order="F"))
        if self.slopes is None:
            return direct, met - self.between @ direct
        slopes = self.slopes
        turned = np.linalg.solve(slopes.close, met - self.between @ direct)
        return np.asarray(direct + slopes.soften @ turned), np.asarray(turned)

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


def facing_of(incidence: FloatArray, sense: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the incidence, or the camber's load, as the belly sees it, and its slope.

    A sail that fills the other way is its own mirror; a flat one has no sides, so that only the
    size of the incidence counts, as it does for any belly that the wind fills.

    Parameters
    ----------
    incidence : array
        [rad]
    sense : array
        Of the belly, from +1 to -1. [-]

    Returns
    -------
    (array, array)
        [rad], [-]

    Examples
    --------
    >>> facing_of(np.array([0.1, 0.1]), np.array([1.0, -1.0]))[0]
    array([ 0.1, -0.1])
    """
    facing, slope = each(facing_each, incidence, sense)
    return facing, slope


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
        self.own = own_influence(strips, geometry)
        self.kept = 1.0 - geometry.astern
        # Transposed, so that LAPACK gets its columns without another copy.
        self.columns = np.array(matrix.T, order="C")
        self.gather, self.between, self.bend, self.met, self.camber = gathered(
            strips.fit, strips.bend, strips.blend, self.own, matrix, wash,
            geometry.panel, geometry.speed, geometry.sense,
        )  # fmt: skip

    def attempt(self, incidence: FloatArray, *, stalling: bool = True) -> _Trial:
        """Return the circulations at given incidences."""
        geometry = self.geometry
        ratio, turn, steep, bent = carried_at(
            incidence, self.strips.blend, geometry.sense, self.camber, geometry.holds,
            self.kept, LEAST_RATIO, drag_cells(),
        )  # fmt: skip
        columns = raised(self.columns, self.own, ratio if stalling else np.ones(len(ratio)))
        factors, pivots, _ = dgetrf(columns.T, overwrite_a=True)
        circulation = _through((factors, pivots), self.wash)
        met = self.met - self.between @ circulation
        return _Trial(
            incidence, ratio, (factors, pivots), circulation, met - incidence, turn, steep, bent
        )

    def tangent(self, trial: _Trial) -> StripSlopes:
        """Return the slopes at a trial."""
        pressed, pushed = pressed_by(self.own, trial.circulation, trial.steep, trial.turn)
        soften = _through(trial.factors, pushed.T)
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
        facing, _ = facing_of(strips.blend @ trial.incidence, geometry.sense)
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
