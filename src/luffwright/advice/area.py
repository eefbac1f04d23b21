"""How much sail is set in a search: sized at first, taken in where that pays, let out again."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from luffwright.advice.climb import Ground, Peak, Stop, climb
from luffwright.advice.first_guess import rolled_to
from luffwright.advice.task import TURN, Reached, Task
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
SHEETED_BY = (("sheet", "lead", "lead_out", "clew_hole"), ("mainsheet", "traveller", "vang"))
"""What leads each sail, headsail first: where it flogs they are no start for a smaller one."""
FLOGGING = 2
"""Levels of three at which the inside of a sail that flogs lifts, or its belly lies to windward."""
NEARLY = 0.99
"""Share of the best way yet from which another amount of sail is told as nearly as fast: tries are
short and on the coarse mesh, and lie up to half a per cent from where a whole search ends."""
STEPS_AHEAD = 2
"""How many reefs, or little rolls, are tried before it is given up."""
FROM_PEAK, FROM_FIRST = 8, 20
"""Tries with less sail: from the peak under more, and sheeted as at first."""
SIZED = 1.1
"""Share of a limit that a boat sheeted as at first may use before she is searched with less sail
from the start: sails that are well trimmed press less. Where that was too much taken in, it is let
out again."""
RELIEF = 0.25
"""Share of a limit that a reef or a little roll set free at most: where its price times this
brings less than a reef has to bring, none is tried."""
PRESSED = 0.98
"""Share of a limit from which on it presses. What it costs cannot be read off its price there: a
mainsail let out until it flogs keeps her within it, and stands on a hill of its own."""


Spared = Literal["", "flogs", "pressed"]


@dataclass(frozen=True)
class Other:
    """Another amount of sail that is nearly as fast: where its tries ended, and the share of the
    best way that it brings [-].
    """

    setting: Setting
    share: float


@dataclass(frozen=True)
class Sought:
    """What is sought: a task, from a start sheeted as at first, over what moves."""

    task: Task
    start: Setting
    over: Ground

    @property
    def free(self) -> frozenset[str]:
        """Return the names of the controls that may move."""
        return frozenset(entry.name for entry in self.task.free)

    def by(self, setting: Setting, name: str, more: float) -> Setting | None:
        """Return the setting with one reef or a little roll more (1), or less (-1) [-], a rolled
        headsail's sheet with it; none beyond the end of its travel, or with more sail than the
        start has.
        """
        travel = next((entry for entry in self.task.free if entry.name == name), None)
        if travel is None:
            return None
        amount = setting.value(name) + more * TAKEN_IN[name] * travel.step
        if not self.start.value(name) - 1e-9 <= amount <= travel.high + 1e-9:
            return None
        if name == "furl":
            return rolled_to(self.task.plan, setting, amount, self.free)
        return setting.changed(**{name: amount})

    def sheeted(self, like: Setting) -> Setting:
        """Return the start with as much sail as another setting, of the controls that it has; where
        a headsail is rolled further its sheet, and its lead where that may move, go with it.
        """
        areas = {it: like.value(it) for it in AREA_CONTROLS if getattr(like, it) is not None}
        furl = areas.pop("furl", None)
        there = self.start.changed(**areas)
        if furl is None or furl == there.furl:
            return there
        return rolled_to(self.task.plan, there, furl, self.free)


@dataclass(frozen=True)
class Top:
    """Where a search has ended before marks: its peak, the tries it took [-], why sail is taken in
    where not for the way that it brings (under more a sail flogs, or a limit presses), what sail is
    nearly as fast, and the best peak under another amount.
    """

    peak: Peak
    flown: int
    spared: Spared = ""
    others: tuple[Other, ...] = ()
    second: Peak | None = None


def sized(sought: Sought, begun: Reached) -> tuple[Reached, int]:
    """Return the state with so much sail taken in that a search is worth its while, and how many
    were tried.

    Parameters
    ----------
    sought : Sought
    begun : Reached
        At the start.

    Returns
    -------
    (Reached, int)
        As it was where no limit is passed by much, or less sail would not settle.
    """
    task, state, tries = sought.task, begun, 0
    while state.settled and np.any(task.relieved(state) > SIZED):
        smaller = (sought.by(state.flight.setting, name, 1.0) for name in AREA_CONTROLS)
        less = next((it for it in smaller if it is not None), None)
        if less is None:
            break
        trial = task.sail(sought.sheeted(less), state.value(TURN.name), None)
        tries += 1
        if not trial.settled:
            break
        state = trial
    return state, tries


def with_area(sought: Sought, top: Top, *, sized: bool) -> Top:
    """Return the top with sail taken in while that pays, or spares a sail that flogs; with what is
    nearly as fast.

    Parameters
    ----------
    sought : Sought
    top : Top
        With as much sail as it was begun with.
    sized : bool
        Whether that was less than the start has: it is let out again where less is not the better.

    Returns
    -------
    Top
    """
    seen = [top.peak]
    top = _less(sought, top, seen)
    if sized:
        top = _more(sought, top, seen)
    here = _area(top.peak.state.flight.setting)
    rest = [it for it in seen if _area(it.state.flight.setting) != here]
    second = max(rest, key=lambda it: it.merit, default=None)
    return replace(top, others=_others(sought.task, top.peak, seen), second=second)


def _less(sought: Sought, top: Top, seen: list[Peak]) -> Top:
    task = sought.task
    # A reef that did not pay under the whole headsail may under a rolled one.
    again = AREA_CONTROLS[:1] if _flogs(task, top.peak) else ()
    for name in (*AREA_CONTROLS, *again):
        while _flogs(task, top.peak) or _could_pay(task, top.peak):
            bar = _bar(task, top.peak, max(it.merit for it in seen))
            tried = _taken_in(sought, top, name, bar)
            seen += tried
            top = replace(top, flown=top.flown + sum(it.flown + 1 for it in tried))
            if not (tried and tried[-1].merit >= bar):
                break
            spared = _spared(task, top.peak, tried[-1]) or top.spared
            top = replace(top, peak=tried[-1], spared=spared)
    return top


def _more(sought: Sought, top: Top, seen: list[Peak]) -> Top:
    """Return the top with sail let out again while less is not the better; what was seen under
    more sail stays left behind.
    """
    task = sought.task
    known = {_area(it.state.flight.setting) for it in seen}
    for name in AREA_CONTROLS[::-1]:
        while True:
            state, stop = top.peak.state, Stop(bars=(top.peak.merit / WORTH_A_REEF,))
            larger = sought.by(state.flight.setting, name, -1.0)
            if larger is None or _area(larger) in known:
                break
            begun = task.sail(larger, state.value(TURN.name), state, afresh=True)
            shorter = task.shorter(FROM_PEAK)
            tried = climb(shorter, begun, sought.over, bend=top.peak.bend, stop=stop)
            seen.append(tried)
            top = replace(top, flown=top.flown + tried.flown + 1)
            if top.peak.merit >= _bar(task, tried, max(it.merit for it in seen)):
                top = replace(top, spared=_spared(task, tried, top.peak) or top.spared)
                break
            top = replace(top, peak=tried)
    return top


def _bar(task: Task, peak: Peak, most: float) -> float:
    """Return the merit from which on less sail than a peak's is gone to: it pays, costs nothing
    where a limit presses, or spares a sail that flogs for little of the best way yet.
    """
    bars = [WORTH_A_REEF * peak.merit]
    if _flogs(task, peak):
        bars.append(SPARES_THE_SAIL * most)
    if _pressed(task, peak):
        bars.append(most)
    return min(bars)


def _spared(task: Task, peak: Peak, less: Peak) -> Spared:
    """Return why less sail is set, where it is not for the way that it brings."""
    if less.merit >= WORTH_A_REEF * peak.merit:
        return ""
    return "flogs" if _flogs(task, peak) else "pressed"


def _pressed(task: Task, peak: Peak) -> bool:
    """Return whether a limit presses that less sail relieves."""
    return bool(np.any(task.relieved(peak.state) > PRESSED))


def _taken_in(sought: Sought, top: Top, name: str, bar: float) -> list[Peak]:
    """Return the peaks under one reef or roll more, and where that is nearly as fast under the next
    too, until one passes the bar: what two reefs bring cannot be read off one.
    """
    task, begun, tried = sought.task, top.peak, list[Peak]()
    flogs, nearly = _flogs(task, top.peak), NEARLY * top.peak.merit
    shorter = task.shorter(FROM_FIRST if flogs else FROM_PEAK)
    # A hill's bend is known near its top; a sail that is led anew stands far from there.
    bend = None if flogs else top.peak.bend
    for _ in range(STEPS_AHEAD):
        smaller = _with_less(sought, begun.state, name, flogs=flogs)
        if smaller is None:
            break
        stop = Stop(bars=(nearly, bar))
        begun = climb(shorter, smaller, sought.over, bend=bend, stop=stop)
        tried.append(begun)
        if begun.merit >= bar or begun.merit < nearly:
            break
    return tried


def _with_less(sought: Sought, state: Reached, name: str, *, flogs: bool) -> Reached | None:
    """Return the state with one reef or a little more roll, if there is any left.

    A sheet let fly is no start for the reefed sail: what leads a sail that flogs stands as at
    first. What does not settle so may from where she is, and the other way round.
    """
    setting, angle = state.flight.setting, state.value(TURN.name)
    first = sought.sheeted(setting)
    flying = [rope for k in (0, 1) if _lifts(state.flight, k) for rope in SHEETED_BY[k]]
    led_anew = setting.changed(**{rope: getattr(first, rope) for rope in flying})
    ways = ((led_anew, None), (setting, state))
    trial: Reached | None = None
    for sheeted, near in ways if flogs else ways[::-1]:
        less = sought.by(sheeted, name, 1.0)
        if less is None:
            return None
        trial = sought.task.sail(less, angle, near, afresh=True)
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
    """Return whether a sail lifts at most levels, or has its belly blown to windward there."""
    levels = sections(flight, flight.rigging.sails[sail])
    return sum(it.windward_lifts or it.camber < 0.0 for it in levels) >= FLOGGING


def _could_pay(task: Task, peak: Peak) -> bool:
    """Return whether less sail could bring what a reef has to bring: a limit presses.

    A limit farther off than a reef relieves has a price where a climb has looked that far; here it
    holds nothing back.
    """
    if _pressed(task, peak):
        return True
    prices = peak.prices[task.relieved(peak.state) > 1.0 - RELIEF]
    return float(prices.sum()) * RELIEF > (WORTH_A_REEF - 1.0) * abs(peak.merit)
