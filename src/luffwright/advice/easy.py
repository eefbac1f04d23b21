"""One setting for a range of wind: best on average, and easy where the wind is strongest.

Fast over a range is the setting with the best mean of what is sought at the range's ends and middle
within the limits of the search. Easy is the same within narrower limits, so that she heels little
and steers lightly in the strongest of these winds, and with nothing touched in between: ropes keep
their lengths, and the course keeps its angle to the true wind.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from luffwright.advice.area import AREA_CONTROLS
from luffwright.advice.climb import climb, ground
from luffwright.advice.search import Found, best_setting, found_at, highest
from luffwright.advice.sparing import Sparing
from luffwright.advice.task import NEVER, TURN, Limits, Reached, SailingTask, Slopes
from luffwright.arrays import FloatArray
from luffwright.sails.plan import ControlTravel, SailPlan
from luffwright.sails.setting import Setting

EASY_HEEL = float(np.radians(20.0))
EASY_RUDDER = float(np.radians(3.0))
MOST_OVER_RANGE = 8
"""Tries in all winds together."""
EASY_SHARE = 0.7
"""Of the limits of heeling moment and loads. All three are our own measure of easy: one walks about
below without holding on, and a hand or a small pilot steers."""


def easy(limits: Limits) -> Limits:
    """Return the limits within which sailing is easy.

    Examples
    --------
    >>> round(float(np.degrees(easy(Limits()).heel)))
    20
    """
    return replace(
        limits,
        heel=min(EASY_HEEL, limits.heel) if np.isfinite(limits.heel) else limits.heel,
        rudder=min(EASY_RUDDER, limits.rudder),
        moment=EASY_SHARE * limits.moment,
    )


@dataclass(frozen=True)
class RangeReached(Reached):
    """One setting in the winds of a range, `states` from the lightest to the strongest; what it is
    by itself is its middle.
    """

    states: tuple[Reached, ...] = ()

    @property
    def settled(self) -> bool:
        """Return whether sails and boat balance in every wind [-]."""
        return all(state.settled for state in self.states)


@dataclass(frozen=True)
class RangeSlopes(Slopes):
    """The mean slopes over a range; `parts` in each wind."""

    parts: tuple[Slopes, ...] = ()

    def ahead(self, state: Reached, by: FloatArray) -> Reached:
        """Return where each wind's own slopes lead after moves [each in its unit]."""
        states = _states(state)
        return joined(
            tuple(part.ahead(it, by) for part, it in zip(self.parts, states, strict=True))
        )


def joined(states: tuple[Reached, ...]) -> RangeReached:
    """Return the states of one setting in several winds as one."""
    middle = states[len(states) // 2]
    return RangeReached(middle.flight, middle.boat, states=states)


def _states(state: Reached) -> tuple[Reached, ...]:
    if not isinstance(state, RangeReached):
        msg = "a state of this task holds one for every wind"
        raise TypeError(msg)
    return state.states


@dataclass(frozen=True)
class RangeTask:
    """The best mean speed over a range of wind, limits held where it is strongest.

    `winds`: one task for each wind, from the lightest to the strongest.
    """

    winds: tuple[SailingTask, ...]

    @property
    def plan(self) -> SailPlan:
        """Return the boat's sails and what holds them [m, N]."""
        return self.winds[0].plan

    @property
    def free(self) -> tuple[ControlTravel, ...]:
        """Return the controls that may move [each in its unit]."""
        return self.winds[0].free

    @property
    def limit(self) -> int:
        """Return the greatest number of tries [-]."""
        return self.winds[0].limit

    def shorter(self, limit: int) -> RangeTask:
        """Return the same task with fewer tries [-]."""
        return RangeTask(tuple(task.shorter(limit) for task in self.winds))

    def coarser(self) -> RangeTask | None:
        """Return the same task on the mesh for a first search; None where its own is no finer."""
        coarse = [it for it in (task.coarser() for task in self.winds) if it is not None]
        return RangeTask(tuple(coarse)) if len(coarse) == len(self.winds) else None

    def sail(
        self, setting: Setting, angle: float, near: Reached | None, *, afresh: bool = False
    ) -> Reached:
        """Return the boat in balance in every wind at a setting and an angle [rad].

        From nothing, each wind is come to from the one before.
        """
        before = _states(near) if near is not None else ()
        states: list[Reached] = []
        for k, task in enumerate(self.winds):
            start = before[k] if before else states[-1] if states else None
            anew = afresh or not before
            state = task.sail(setting, angle, start, afresh=anew and start is not None)
            states.append(state)
        return joined(tuple(states))

    def aim(self, state: Reached) -> float:
        """Return the mean of the speeds that count [m/s]."""
        states = _states(state)
        return float(np.mean([t.aim(it) for t, it in zip(self.winds, states, strict=True)]))

    def used(self, state: Reached) -> FloatArray:
        """Return the shares of the limits used in the strongest wind [-]."""
        return self.winds[-1].used(_states(state)[-1])

    def relieved(self, state: Reached) -> FloatArray:
        """Return the same of the limits that less sail relieves; 0 for the others [-]."""
        return self.winds[-1].relieved(_states(state)[-1])

    def merit(self, state: Reached) -> float:
        """Return the mean speed less the price of limits passed in the strongest wind [m/s]."""
        if not state.settled:
            return NEVER
        strongest = self.winds[-1]
        last = _states(state)[-1]
        return self.aim(state) - (strongest.aim(last) - strongest.merit(last))

    def slopes(self, state: Reached, names: tuple[str, ...]) -> Slopes:
        """Return what a little of each parameter does to the mean speed [m/s] and to the limits."""
        states = _states(state)
        parts = tuple(t.slopes(it, names) for t, it in zip(self.winds, states, strict=True))
        middle, last = parts[len(parts) // 2], parts[-1]
        return RangeSlopes(
            float(np.mean([it.height for it in parts])),
            np.mean([it.aim for it in parts], axis=0),
            last.limits, last.used, last.price, middle.unknowns, middle.motion, middle.places,
            parts=parts,
        )  # fmt: skip


def best_over_range(task: RangeTask, start: Setting, angle: float, *, turns: bool) -> Found:
    """Return the best setting for a range of wind.

    The area and a first setting come from the strongest wind alone, where the limits hold; from
    there all winds of the range are climbed together.

    Parameters
    ----------
    task : RangeTask
    start : Setting
    angle : float
        Bow to true wind. [rad]
    turns : bool
        Whether the course is searched too.

    Returns
    -------
    Found
    """
    over = ground(task, turns=turns, fixed=AREA_CONTROLS)
    top = highest(Sparing(task.winds[-1]), start, angle, over)
    near = joined((top.peak.state,) * len(task.winds))
    setting, course = top.peak.state.flight.setting, top.peak.state.value(TURN.name)
    begun = task.sail(setting, course, near, afresh=True)
    if not begun.settled:
        found = best_setting(task, start, angle, turns=turns)
        return replace(found, evaluations=found.evaluations + top.flown + 1)
    peak = climb(Sparing(task.shorter(MOST_OVER_RANGE)), begun, over, bend=top.peak.bend)
    return found_at(task, replace(top, peak=peak, flown=top.flown + peak.flown + 1), over)


def wind_to_change(winds: FloatArray, used: FloatArray) -> float | None:
    """Return the wind above the range in which the first limit is passed.

    Parameters
    ----------
    winds : (3,) array
        Lightest, middle and strongest of the range. [m/s]
    used : (3, limits) array
        Share of each limit that is used in each. [-]

    Returns
    -------
    float or None
        By the parabola through the three, at most twice the strongest wind; None where no limit is
        passed by then. The strongest itself where a limit is passed there already. [m/s]

    Examples
    --------
    A heel that grows with the square of the wind and is half of its limit in 10 m/s:

    >>> winds = np.array([6.0, 8.0, 10.0])
    >>> round(wind_to_change(winds, 0.005 * winds[:, None] ** 2), 2)
    14.14
    """
    strongest = float(winds[-1])
    if np.any(used[-1] >= 1.0):
        return strongest
    first = []
    for share in used.T:
        curve = np.polynomial.Polynomial.fit(winds, share, 2) - 1.0
        roots = np.atleast_1d(curve.roots())
        real = np.real(roots[np.abs(np.imag(roots)) < 1e-9])
        first += [float(it) for it in real if strongest < it <= 2.0 * strongest]
    return min(first, default=None)
