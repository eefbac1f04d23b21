"""Tufts: what they show at the best trim, what cures them, and how wide the groove is."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np

from boat_states import Sailed
from facts.effect import ANGLE, Effect, LostError, UnfitError, angle, fitted, stood, within, yes
from luffwright.app.swing import wandering
from luffwright.sails.measure import LEVELS, Section, leech_gap
from states import TOUCHING, State

HAND = 0.06
"""Headsail sheet at a time [m]."""
PINCH = float(np.radians(1.5))
STEERED = float(np.radians(4.0))
FARTHEST = 12
"""Steps in which a pattern is looked for."""
EDGE = float(np.radians(0.1))
"""How near the edges of the groove are found [rad]."""
LEADS = (0.0, -0.25, 0.25, -0.5, 0.5)
"""Shares of the track by which the car is set out of place to make a pattern."""
CURES = 4
"""Times two marks of lead that may be needed."""
HALYARD = 0.06
"""Pulled to round the entry [m]."""
GROOVE = (2.0, 6.0)
Pattern = tuple[bool, bool, bool]


def windward(state: State) -> Pattern:
    """Return which of the headsail's inside tufts lift, low to top."""
    low, middle, top = (it.windward_lifts for it in state.all(0))
    return low, middle, top


def leeward(state: State) -> Pattern:
    """Return which of the headsail's outside tufts stall, low to top."""
    low, middle, top = (it.leeward_stalls for it in state.all(0))
    return low, middle, top


def streams_at_best(state: Sailed) -> list[Effect]:
    """T1: at the best trim, no limit active, both sides stream at all levels most of the time."""
    if state.sails.pressed:
        raise UnfitError("a limit presses: she is trimmed to spill")
    tufts = wandering(state.asked, state.flight).tufts
    found = []
    for name, sail in zip(("headsail", "mainsail"), tufts, strict=True):
        for level, it in zip((level for level, _ in LEVELS), sail, strict=True):
            for word, part in (("lifts", it.windward_lifting), ("stalls", it.leeward_stalled)):
                found.append(within(f"{name} {level} {word}", 100.0 * part, -1.0, 50.0, "%"))
    return sorted(found, key=lambda it: it.change)[:1]


def pushed(state: State, step: float, all_of: Callable[[State], Pattern]) -> State:
    """Return the state sheeted until all three tufts on one side are in trouble."""
    now = state
    for _ in range(FARTHEST):
        if all(all_of(now)):
            return now
        now = stood(now.fly(sheet=step), "on the way to the tufts")
    raise UnfitError("the tufts do not all go within 70 cm of sheet")


def cured(state: State, step: float, streams: Callable[[Section], bool]) -> bool:
    """Return whether the tuft half-way up streams again within a hand or two of sheet."""
    now = state
    for _ in range(8):
        now = now.fly(sheet=step)
        if not now.settled:
            return False
        if streams(now.section(0, "middle")):
            return True
    return False


def eased_cures_stall(state: State) -> list[Effect]:
    """T2: all outside tufts stalled: easing the sheet cures it."""
    stalled = pushed(state, -HAND, leeward)
    return [yes("easing cures", cured(stalled, HAND, lambda it: not it.leeward_stalls))]


def pinched(state: State) -> State:
    """Return the state with the boat sailed closer until all inside tufts lift."""
    now = stood(state.fly(sheet=HAND), "eased")
    for _ in range(FARTHEST):
        if all(windward(now)):
            return now
        now = stood(now.steered(-PINCH), "pinching")
    raise UnfitError("the tufts do not all lift within 18°")


def pulled_cures_lifting(state: State) -> list[Effect]:
    """T3: all inside tufts lifting, sheet not hard in: pulling the sheet cures it."""
    lifting = pinched(state)
    return [yes("pulling cures", cured(lifting, -0.04, lambda it: not it.windward_lifts))]


def steered_low(state: State) -> list[Effect]:
    """T6: steered 4° low, the outside tuft half-way up stalls."""
    there = stood(state.steered(STEERED), "steered low").section(0, "middle")
    return [yes("outside stalls", there.leeward_stalls, f"A0 {there.incidence:.3f}")]


def steered_high(state: State) -> list[Effect]:
    """T6: steered 4° high, the inside tuft half-way up lifts."""
    there = stood(state.steered(-STEERED), "steered high").section(0, "middle")
    return [yes("inside lifts", there.windward_lifts, f"A0 {there.incidence:.3f}")]


def only(level: int) -> Pattern:
    """Return the pattern in which one tuft alone is in trouble: 0 the low, 2 the top one."""
    return level == 0, level == 1, level == 2


def _further(side: Callable[[State], Pattern]) -> float:
    """Return the turn [rad] that brings more of one side's tufts into trouble."""
    return -PINCH if side is windward else PINCH


def _misplaced(state: State, side: Callable[[State], Pattern]) -> Iterator[State]:
    """Yield states on the edge of trouble on one side, the car in place and out of it."""
    fitted(state, "lead")
    free = state.clear()
    if free is None:
        raise UnfitError("the leech lies against the spreader")
    state = free[0]
    travel, turn = state.travel("lead"), _further(side)
    for part in LEADS:
        move = part * (travel.high - travel.low)
        if not state.room("lead", move):
            continue
        now = state.resheeted(lead=move) if move else state
        # Into trouble by a course at a time; out of it first, where she is in it already.
        for way in (-0.5 * turn, 0.5 * turn):
            for _ in range(FARTHEST):
                if not now.settled or any(side(now)) == (way == 0.5 * turn):
                    break
                now = now.steered(way)
        if now.settled and any(side(now)):
            yield now


def _stands(found: State, side: Callable[[State], Pattern], level: int) -> bool:
    """Return whether one tuft alone is in trouble, and still is where all have a little more of it.

    Less than a degree at the helm: where that much sends the others too, the whole luff is on the
    edge, and a sailor sees no pattern.
    """
    if side(found) != only(level):
        return False
    there = found.steered(0.5 * _further(side))
    return there.settled and side(there) == only(level)


def with_only(state: State, side: Callable[[State], Pattern], level: int) -> State:
    """Return a state in which one tuft of the headsail alone is in trouble."""
    for found in _misplaced(state, side):
        # A leech on its spreader is held by that, and no lead puts it right.
        if leech_gap(found.flight) > TOUCHING and _stands(found, side, level):
            return found
    raise UnfitError("the pattern is not met")


def lead_cures(state: State, side: Callable[[State], Pattern], aft: float) -> bool:
    """Return whether the lead moved one way, re-sheeted, has that side stream at all levels."""
    for count in range(1, CURES + 1):
        move = aft * count * state.two_marks("lead")
        there = state.resheeted(lead=move)
        if not there.settled:
            return False
        if not any(side(there)):
            return True
    return False


def upper_lifts(state: State) -> list[Effect]:
    """T4: only the upper inside tuft lifts: lead forward cures it."""
    found = with_only(state, windward, 2)
    return [yes("lead forward cures", lead_cures(found, windward, -1.0))]


def lower_lifts(state: State) -> list[Effect]:
    """T7: only the lower inside tuft lifts: lead aft cures it."""
    found = with_only(state, windward, 0)
    return [yes("lead aft cures", lead_cures(found, windward, 1.0))]


def upper_stalls(state: State) -> list[Effect]:
    """T8: only the upper outside tuft stalls: lead aft cures it."""
    found = with_only(state, leeward, 2)
    return [yes("lead aft cures", lead_cures(found, leeward, 1.0))]


def lower_stalls(state: State) -> list[Effect]:
    """T5, report: only the lower outside tuft stalls: lead aft cures it, or lead forward and ease.

    Told beside it: the foot's depth, and where its flow separates, which says whether the luff or
    the trailing edge lets go.
    """
    found = with_only(state, leeward, 0)
    back, ahead = (lead_cures(found, leeward, aft) for aft in (1.0, -1.0))
    ease = cured_low(found.fly(lead=-found.two_marks("lead")))
    low = found.section(0, "low")
    told = (
        f"aft {_word(back)}, forward re-sheeted {_word(ahead)}, forward and eased {_word(ease)}; "
        f"foot {100.0 * low.camber:.1f} % deep, A0 {low.incidence:.3f}, "
        f"{100.0 * low.separated:.0f} % separated"
    )
    return [yes("lead aft cures", back, told)]


def cured_low(state: State) -> bool:
    """Return whether easing the sheet has the lower outside tuft stream again."""
    now = state
    for _ in range(8):
        if not now.settled:
            return False
        if not now.section(0, "low").leeward_stalls:
            return True
        now = now.fly(sheet=0.5 * HAND)
    return False


def _word(answer: bool) -> str:
    return "yes" if answer else "no"


def _edge(state: State, turn: float, gone: Callable[[Section], bool]) -> float:
    """Return the apparent wind's angle [rad] at which a tuft half-way up goes, by a course."""
    now = state
    for _ in range(FARTHEST):
        last, now = now, stood(now.steered(turn), "steered to the groove's edge")
        if gone(now.section(0, "middle")):
            break
    else:
        raise LostError("the groove's edge, 18° off")
    part = 0.5 * turn
    while abs(part) > EDGE:
        there = stood(last.steered(part), "at the groove's edge")
        last = last if gone(there.section(0, "middle")) else there
        part *= 0.5
    section = last.section(0, "middle")
    return float(last.flight.stream.apparent(np.array([section.height]))[1][0])


def groove(state: State) -> float:
    """Return how many degrees of apparent wind lie between inside lifting and outside stalling."""
    middle = state.section(0, "middle")
    begin = state
    # From a state in the groove: one that stalls already is steered up, one that lifts down.
    for _ in range(FARTHEST):
        if not (middle.leeward_stalls or middle.windward_lifts):
            break
        begin = stood(begin.steered(PINCH if middle.windward_lifts else -PINCH), "into the groove")
        middle = begin.section(0, "middle")
    low = _edge(begin, -PINCH, lambda it: it.windward_lifts)
    high = _edge(begin, PINCH, lambda it: it.leeward_stalls)
    return float(np.degrees(high - low))


def groove_width(state: State) -> list[Effect]:
    """G1, report: the groove of the headsail's middle tuft is 2 to 6° of apparent wind wide."""
    return [within("groove", groove(state), *GROOVE, "°")]


def groove_by_entry(state: State) -> list[Effect]:
    """G1: the groove is wider with a rounder entry, as a harder halyard makes it."""
    round_ = stood(state.resheeted(halyard=HALYARD), "halyard pulled")
    rounder = round_.section(0, "middle").entry - state.section(0, "middle").entry
    if rounder < ANGLE:
        raise UnfitError("the entry is no rounder")
    wider = float(np.radians(groove(round_) - groove(state)))
    told = f"{np.degrees(wider):+.2f}° for an entry {np.degrees(rounder):.1f}° rounder"
    return [replace(angle("groove wider", wider), told=told)]
