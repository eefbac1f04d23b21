"""The search for the best setting: sails that stand, a climb, less sail where it pays, marks."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from luffwright.advice.climb import Ground, Peak, climb, ground, settle_on_marks
from luffwright.advice.first_guess import rolled_to
from luffwright.advice.sparing import Sparing, let_go
from luffwright.advice.task import NEVER, TURN, Reached, Task
from luffwright.arrays import FloatArray
from luffwright.sails.flight import Flight
from luffwright.sails.measure import sections
from luffwright.sails.setting import Setting

AREA_CONTROLS = ("reef", "main_furl", "furl")
"""In the order in which they are tried."""
RIGGED = (*AREA_CONTROLS, "pole")
"""What stands for a while, and is not reached by little steps."""
TAKEN_IN = {"reef": 1.0, "main_furl": 3.0, "furl": 2.0}
"""How much is taken in at a time [steps]: 15 % of the foot, a mainsail's roll, takes as much sail
away as a reef does."""
WORTH_A_REEF = 1.01
"""What a reef has to bring, of the way made good, where no limit presses. Where one does less sail
is set if it costs nothing: it leaves something for a gust."""
SPARES_THE_SAIL = 0.995
"""The same, of the best way yet, where a sail flogs, as it may where a limit presses: that
wears it, shakes the rig and leaves nothing to ease in a gust, which no mechanics here prices. How
much way that is worth is a judgement; it is told."""
FLOGGING = 2
"""Levels of three at which the inside of a sail that flogs lifts."""
NEARLY = 0.99
"""Share of the best way yet from which another amount of sail is told as nearly as fast: tries are
short and on the coarse mesh, and lie up to half a per cent from where a whole search ends."""
STEPS_AHEAD = 2
"""How many reefs, or little rolls, are tried before it is given up."""
FROM_PEAK, FROM_FIRST = 8, 20
"""Tries with less sail: from the peak under more, and sheeted as at first."""
SAILS_FIRST = 10
"""Tries with the sails alone before the course is searched too."""
COURSE_BEND = 1e-3
"""Share of the aim that half a degree off the best course costs twice over, before it is known."""
RELIEF = 0.25
"""Share of a limit that a reef or a little roll set free at most: where its price times this
brings less than a reef has to bring, none is tried."""
PRESSED = 0.98
"""Share of a limit from which on it presses. What it costs cannot be read off its price there: a
mainsail let out until it flogs keeps her within it, and stands on a hill of its own."""
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


Spared = Literal["", "flogs", "pressed"]


@dataclass(frozen=True)
class Other:
    """Another amount of sail that is nearly as fast: where its tries ended, and the share of the
    best way that it brings [-].
    """

    setting: Setting
    share: float


@dataclass(frozen=True)
class Top:
    """Where a search has ended before marks: its peak, the tries it took [-], why sail is taken in
    where not for the way that it brings (under more a sail flogs, or a limit presses), and what
    sail is nearly as fast.
    """

    peak: Peak
    flown: int
    spared: Spared = ""
    others: tuple[Other, ...] = ()


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


def _smaller(task: Task, setting: Setting, name: str) -> Setting | None:
    """Return the setting with one reef or a little more roll, if there is any left."""
    travel = next((entry for entry in task.free if entry.name == name), None)
    if travel is None:
        return None
    amount = setting.value(name) + TAKEN_IN[name] * travel.step
    if amount > travel.high + 1e-9:
        return None
    if name == "furl":
        return rolled_to(task.plan, setting, amount, frozenset(entry.name for entry in task.free))
    return setting.changed(**{name: amount})


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
    """
    over = ground(task, turns=turns, fixed=AREA_CONTROLS)
    return found_at(task, highest(Sparing(task), start, angle, over), over)


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
    bend = None
    if TURN.name in over.names:
        # Sails that stall would have her pinch: they are put right before the course is let go.
        sails = ground(task, turns=False, fixed=AREA_CONTROLS)
        first = climb(task.shorter(SAILS_FIRST), begun, sails)
        begun, flown, bend = first.state, flown + first.flown, with_course(first)
    peak = climb(task, begun, over, bend=bend)
    return _less_sail(task, start, over, Top(peak, flown + peak.flown))


def _less_sail(task: Task, start: Setting, over: Ground, top: Top) -> Top:
    """Return the top with sail taken in while that pays, or spares one that flogs."""
    seen = [top.peak]
    # A reef that did not pay under the whole headsail may under a rolled one.
    again = AREA_CONTROLS[:1] if _flogs(task, top.peak) else ()
    for name in (*AREA_CONTROLS, *again):
        while _flogs(task, top.peak) or _could_pay(task, top.peak):
            tried = _taken_in(task, start, over, top, name)
            seen += tried
            top = replace(top, flown=top.flown + sum(it.flown + 1 for it in tried))
            most = max(it.merit for it in seen)
            if not (tried and _better(task, top.peak, tried[-1], most)):
                break
            spared = _spared(task, top.peak, tried[-1]) or top.spared
            top = replace(top, peak=tried[-1], spared=spared)
    return replace(top, others=_others(task, top.peak, seen))


def _better(task: Task, peak: Peak, less: Peak, most: float) -> bool:
    """Return whether a peak under less sail is gone to: it pays, costs nothing where a limit
    presses, or spares a sail that flogs for little of the best way yet.
    """
    spares = _flogs(task, peak) and less.merit >= SPARES_THE_SAIL * most
    free = _pressed(task, peak) and less.merit >= most
    return spares or free or less.merit >= WORTH_A_REEF * peak.merit


def _spared(task: Task, peak: Peak, less: Peak) -> Spared:
    """Return why less sail is set, where it is not for the way that it brings."""
    if less.merit >= WORTH_A_REEF * peak.merit:
        return ""
    return "flogs" if _flogs(task, peak) else "pressed"


def _pressed(task: Task, peak: Peak) -> bool:
    """Return whether a limit presses that less sail relieves."""
    return bool(np.any(task.relieved(peak.state) > PRESSED))


def _taken_in(task: Task, start: Setting, over: Ground, top: Top, name: str) -> list[Peak]:
    """Return the peaks under one reef or roll more, and where that is nearly as fast under the next
    too, until one is better: what two reefs bring cannot be read off one.
    """
    begun, tried = top.peak, list[Peak]()
    flogs = _flogs(task, top.peak)
    for _ in range(STEPS_AHEAD):
        smaller = _with_less(task, start, begun.state, name, flogs=flogs)
        if smaller is None:
            break
        shorter = task.shorter(FROM_FIRST if flogs else FROM_PEAK)
        begun = climb(shorter, smaller, over, bend=top.peak.bend)
        tried.append(begun)
        if _better(task, top.peak, begun, top.peak.merit) or begun.merit < NEARLY * top.peak.merit:
            break
    return tried


def _with_less(
    task: Task, start: Setting, state: Reached, name: str, *, flogs: bool
) -> Reached | None:
    """Return the state with one reef or a little more roll, if there is any left.

    A sheet let fly is no start for the reefed sail: where the sail flogs she is sheeted as at
    first. What does not settle so may from where she is, and the other way round.
    """
    setting, angle = state.flight.setting, state.value(TURN.name)
    ways = ((_with_area(task, start, setting), None), (setting, state))
    trial: Reached | None = None
    for sheeted, near in ways if flogs else ways[::-1]:
        less = _smaller(task, sheeted, name)
        if less is None:
            return None
        trial = task.sail(less, angle, near, afresh=True)
        if trial.settled:
            break
    return trial


def _others(task: Task, best: Peak, seen: list[Peak]) -> tuple[Other, ...]:
    """Return the peaks under other amounts of sail that are nearly as fast, the fastest first.

    None under which a sail flogs: what that saves is why less is set.
    """
    told: dict[tuple[float, ...], Other] = {}
    here = _area(best.state.flight.setting)
    for it in sorted(seen, key=lambda it: it.merit, reverse=True):
        setting = it.state.flight.setting
        area, share = _area(setting), it.merit / best.merit
        if share >= NEARLY and area != here and not _flogs(task, it):
            told.setdefault(area, Other(setting, float(share)))
    return tuple(told.values())


def _area(setting: Setting) -> tuple[float, ...]:
    """Return how much of each sail is taken in; 0 of one that cannot be."""
    return tuple(round(getattr(setting, name) or 0.0, 6) for name in AREA_CONTROLS)


def _flogs(task: Task, peak: Peak) -> bool:
    """Return whether the mainsail lifts at most levels, or where a limit presses the headsail does.

    A headsail that lifts aloft under no limit is badly led or twists off a reach, not too large.
    """
    flight = peak.state.flight
    head, main = (_lifts(flight, sail) for sail in (0, 1))
    return main or (head and _pressed(task, peak))


def _lifts(flight: Flight, sail: int) -> bool:
    """Return whether a sail lifts at most levels."""
    levels = sections(flight, flight.rigging.sails[sail])
    return sum(it.windward_lifts for it in levels) >= FLOGGING


def _with_area(task: Task, setting: Setting, like: Setting) -> Setting:
    """Return a setting with as much sail as another, of the controls that it has; where a headsail
    is rolled further its sheet, and its lead where that may move, go with it.
    """
    areas = {name: like.value(name) for name in AREA_CONTROLS if getattr(like, name) is not None}
    furl = areas.pop("furl", None)
    there = setting.changed(**areas)
    if furl is None or furl == there.furl:
        return there
    return rolled_to(task.plan, there, furl, frozenset(entry.name for entry in task.free))


def _could_pay(task: Task, peak: Peak) -> bool:
    """Return whether less sail could bring what a reef has to bring: a limit presses."""
    if _pressed(task, peak):
        return True
    return float(peak.prices.sum()) * RELIEF > (WORTH_A_REEF - 1.0) * abs(peak.merit)


def with_course(peak: Peak) -> FloatArray | None:
    """Return a hill's bend with the course added, of which nothing is known but the least."""
    if peak.bend is None or peak.known is None:
        return None
    count = len(peak.bend)
    bend = np.zeros((count + 1, count + 1))
    bend[:count, :count] = peak.bend
    bend[count, count] = COURSE_BEND * abs(peak.known.height)
    return bend
