"""The search for the best setting: sails that stand, a climb, less sail where it pays, marks."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from luffwright.advice.area import (
    AREA_CONTROLS,
    PRESSED,
    Other,
    Sought,
    Spared,
    Top,
    sized,
    with_area,
)
from luffwright.advice.climb import FELL_OFF, Ground, Peak, climb, ground, settle_on_marks
from luffwright.advice.sparing import Sparing, let_go
from luffwright.advice.task import NEVER, TURN, Reached, Task
from luffwright.arrays import FloatArray
from luffwright.sails.flight import Flight
from luffwright.sails.measure import sections
from luffwright.sails.setting import Setting

SAILS_FIRST = 10
"""Tries with the sails alone before the course is searched too."""
COURSE_BEND = 1e-3
"""Share of the aim that half a degree off the best course costs twice over, before it is known."""
PULLS = (0.08, -0.08, 0.16, 0.3)
"""How much sheet [m] comes in, or out, where the first guess flogs."""
EASES = (0.16, 0.3, 0.08, 0.6)
"""How much sheet [m] goes out where it stalls: a boat that was guessed faster than she is in light
air lies there with her sails sheeted in, and does not gather way."""
MORE = (0.15, 0.3, 0.45, 0.6, 0.8, 1.0)
"""How much [m] goes out where sails stand and stall from foot to head, one after the other."""
BRINGS_ON = 0.05
"""Share of speed that each has to bring for the next to be tried: a judgement."""
OFF_THE_WIND, FURTHER_OUT = float(np.radians(60.0)), 0.2
"""True wind angle [rad] from which on a search with the course given begins twice, and by how much
sheet [m] the starts differ: judgements."""
STALLED = 0.25
"""Incidence of the headsail, on average over its levels, beyond which it stalls [rad]: there a
strip begins to be a plate in dead air."""


@dataclass(frozen=True)
class Found:
    """The best setting found, on marks that can be set; `used`: the shares of the limits; `spared`
    and `others` as in `Top`.
    """

    state: Reached
    merit: float
    used: FloatArray
    evaluations: int
    peak: Peak
    over: Ground
    spared: Spared
    others: tuple[Other, ...]

    @property
    def flight(self) -> Flight:
        """Return the sails' flight there."""
        return self.state.flight

    @property
    def pressed(self) -> bool:
        """Return whether a limit holds the setting back [-]."""
        return bool(np.any(self.used > PRESSED))


def _begin(task: Task, start: Setting, angle: float) -> tuple[Reached, int]:
    """Return a settled state at or near the start, and how many it took.

    Sails that flog have no shape to improve on: both sheets come in, or out, until they stand.
    Sails that stall hold her back: both go out until she gathers way.
    """
    best = task.sail(start, angle, None)
    pulls = tuple(-out for out in EASES) if _stalls(best.flight) else PULLS
    for tries, pull in enumerate(pulls, start=1):
        if best.settled:
            best, more = _gathers_way(task, best, angle)
            return best, tries + more
        trial = task.sail(_pulled(task, start, pull), angle, None)
        if trial.settled or trial.flight.residual < best.flight.residual:
            best = trial
    return best, len(pulls) + 1


def _pulled(task: Task, setting: Setting, pull: float) -> Setting:
    """Return the setting with both sheets pulled in, or eased, as far as they go."""
    free = {entry.name: entry for entry in task.free}
    parts = max(task.plan.mainsail_gear.sheet_parts, 1.0)
    ends = {"sheet": setting.sheet - pull, "mainsheet": setting.mainsheet - 0.5 * parts * pull}
    there = {
        name: min(max(to, free[name].low), free[name].high)
        for name, to in ends.items() if name in free
    }  # fmt: skip
    return setting.changed(**there)


def _gathers_way(task: Task, best: Reached, angle: float) -> tuple[Reached, int]:
    """Return the state with both sheets out, where the headsail stalls from foot to head, as long
    as that brings her on, and how many it took.

    In light air she has two balances: slow with the wind on her beam and sails that stall in it,
    and fast with the wind she makes drawn ahead. No little step leads from the one to the other.
    """
    begun = best.flight.setting
    if not _stalls_to_the_head(best.flight):
        return best, 0
    for tries, out in enumerate(MORE, start=1):
        trial = task.sail(_pulled(task, begun, -out), angle, None)
        gained = task.merit(trial) - task.merit(best)
        if trial.settled and gained < BRINGS_ON * abs(task.merit(best)):
            return (trial if gained > 0.0 else best), tries
        best = trial if trial.settled else best
    return best, len(MORE)


def _stalls_to_the_head(flight: Flight) -> bool:
    """Return whether no level of the headsail draws: a climb finds its way where one does."""
    return min(it.incidence for it in sections(flight, flight.rigging.sails[0])) > STALLED


def _stalls(flight: Flight) -> bool:
    """Return whether the headsail stalls on the whole."""
    levels = sections(flight, flight.rigging.sails[0])
    return sum(it.incidence for it in levels) > STALLED * len(levels)


def best_setting(task: Task, start: Setting, angle: float, *, turns: bool = False) -> Found:
    """Return the best setting within the limits.

    Parameters
    ----------
    task : Task
    start : Setting
        To begin from; controls that are not free stay there.
    angle : float
        Bow to true wind. [rad]
    turns : bool
        Whether the course is searched too.

    Returns
    -------
    Found
        A local best near the start; reefs are tried one after the other while a limit presses.
        Where that stands on an edge, so that marks beside it lose what it has, the best under
        another amount of sail if that keeps more.
    """
    over = ground(task, turns=turns, fixed=AREA_CONTROLS)
    top = highest(Sparing(task), start, angle, over)
    found = found_at(task, top, over)
    if top.second is None or found.merit > top.peak.merit - FELL_OFF * abs(top.peak.merit):
        return found
    state = top.second.state
    begun = task.sail(state.flight.setting, state.value(TURN.name), state, afresh=True)
    peak = climb(Sparing(task), begun, over, bend=top.second.bend)
    other = found_at(task, Top(peak, found.evaluations + 1 + peak.flown), over)
    best = max(found, other, key=lambda it: it.merit)
    return replace(best, evaluations=other.evaluations)


def found_at(task: Task, top: Top, over: Ground) -> Found:
    """Return what was found where a search has ended, on the marks near it."""
    peak = top.peak
    sparing = Sparing(task)
    state, tries = let_go(sparing, settle_on_marks(sparing, peak, over))
    return Found(
        state, task.merit(state), task.used(state), top.flown + 1 + tries, peak, over, top.spared,
        top.others,
    )  # fmt: skip


def highest(task: Task, start: Setting, angle: float, over: Ground) -> Top:
    """Return the peak reached from a start, with less sail where that pays, or spares what flogs.

    Searched on a coarse mesh first: from its top only the last steps are made on the task's own.

    Parameters
    ----------
    task : Task
    start : Setting
    angle : float
        Bow to true wind. [rad]
    over : Ground

    Returns
    -------
    Top
    """
    coarse = task.coarser()
    if coarse is None:
        return _highest(task, start, angle, over)
    tops = _tops(coarse, start, angle, over)
    flown = sum(it.flown for it in tops)
    for top in tops:
        state = top.peak.state
        begun = task.sail(state.flight.setting, state.value(TURN.name), state, afresh=True)
        flown += 1
        if begun.settled:
            peak = climb(task, begun, over, bend=top.peak.bend)
            return replace(top, peak=peak, flown=flown + peak.flown)
    again = _highest(task, start, angle, over)
    return replace(again, flown=flown + again.flown)


def _tops(task: Task, start: Setting, angle: float, over: Ground) -> tuple[Top, ...]:
    """Return the peaks reached from a start, and off the wind from one with both sheets further out
    and the backstay let go too, the higher one first: a headsail that stalls low down and one that
    flogs aloft are hills apart, and so may be taut and slack stays.
    """
    top = _highest(task, start, angle, over)
    if TURN.name in over.names or angle < OFF_THE_WIND or top.spared:
        return (top,)
    slack = {it.name: 0.0 for it in over.travel if it.name == "backstay"}
    out = _pulled(task, start, -FURTHER_OUT).changed(**slack)
    other = _highest(task, out, angle, over)
    return tuple(
        sorted((top, other), key=lambda it: NEVER if it.spared else it.peak.merit, reverse=True)
    )


def _highest(task: Task, start: Setting, angle: float, over: Ground) -> Top:
    """Return the peak reached on the task's own mesh."""
    begun, flown = _begin(task, start, angle)
    sought = Sought(task, start, over)
    begun, more = sized(sought, begun)
    flown, bend = flown + more, None
    if TURN.name in over.names:
        # Sails that stall would have her pinch: they are put right before the course is let go.
        sails = ground(task, turns=False, fixed=AREA_CONTROLS)
        first = climb(task.shorter(SAILS_FIRST), begun, sails)
        begun, flown, bend = first.state, flown + first.flown, with_course(first)
    peak = climb(task, begun, over, bend=bend)
    return with_area(sought, Top(peak, flown + peak.flown), sized=more > 0)


def with_course(peak: Peak) -> FloatArray | None:
    """Return a hill's bend with the course added, of which nothing is known but the least."""
    if peak.bend is None or peak.known is None:
        return None
    count = len(peak.bend)
    bend = np.zeros((count + 1, count + 1))
    bend[:count, :count] = peak.bend
    bend[count, count] = COURSE_BEND * abs(peak.known.height)
    return bend
