"""The headsail's lead: car, clew board, roll, and where the sheet's line meets the luff."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from boat_states import Sailed
from facts.effect import (
    ANGLE,
    CAMBER,
    SHARE,
    Effect,
    LostError,
    UnfitError,
    angle,
    fitted,
    share,
    speed,
    stood,
    within,
)
from luffwright.sails.measure import sheet_meets_luff
from states import State

HOLES, CAR_MARKS = 3.0, 0.2
"""Holes of a clew board, and metres of car, that are compared."""
ROLLED_TENTHS = 3


def low_camber(before: State, after: State, sail: int = 0) -> float:
    """Return the change of a sail's camber low down, a share of the chord."""
    return after.section(sail, "low").camber - before.section(sail, "low").camber


def twist(before: State | Sailed, after: State | Sailed) -> float:
    """Return the change of the headsail's twist at the top [rad]."""
    return after.section(0, "top").twist - before.section(0, "top").twist


def _moved(state: State, aft: float) -> list[Effect]:
    fitted(state, "lead")
    pair = state.clear(lead=aft * state.two_marks("lead"))
    if pair is None:
        raise UnfitError("the leech lies against the spreader")
    before, after = pair[0], stood(pair[1])
    words = ("flatter", "opens") if aft > 0.0 else ("deeper", "closes")
    return [
        share(f"foot {words[0]}", -aft * low_camber(before, after), CAMBER),
        angle(f"top {words[1]}", aft * twist(before, after), ANGLE),
    ]


def forward(state: State) -> list[Effect]:
    """L1: lead forward, re-sheeted: the foot is deeper, the top closes."""
    return _moved(state, -1.0)


def aft(state: State) -> list[Effect]:
    """L2: lead aft, re-sheeted: the foot is flatter, the top opens."""
    return _moved(state, 1.0)


def points_to(state: Sailed) -> list[Effect]:
    """L3: at the best trim the sheet's line meets the luff at 30 to 50 % of its length."""
    meets = 100.0 * sheet_meets_luff(state.flight)
    return [within("sheet points to", meets, 30.0, 50.0, "% of the luff")]


def loses_forward(state: Sailed) -> list[Effect]:
    """L4a: pressed by her heel in the trim of a lighter wind, the lead forward loses way."""
    fitted(state, "lead")
    step = min(state.two_marks("lead"), state.setting.value("lead"))
    if step < 1e-6:
        raise UnfitError("the car stands at the front of its track")
    there = stood(state.resheeted(lead=-step))
    return [speed("lead forward loses", state.made_good - there.made_good)]


def _gain(state: Sailed, control: str, change: float) -> float:
    """Return what more of a control brings, the headsail re-sheeted [kn]."""
    there = stood(state.resheeted(**{control: change}))
    return there.made_good - state.made_good


def aft_in_a_sea(state: Sailed) -> list[Effect]:
    """L4b, report: what the lead aft brings in a moderate sea, beyond what it brings in flat."""
    fitted(state, "lead")
    amount = state.two_marks("lead")
    back = amount if state.room("lead", amount) else -amount
    sense = float(np.sign(back))
    rough = stood(state.in_sea("moderate"), "in the sea")
    more = sense * (_gain(rough, "lead", back) - _gain(state, "lead", back))
    return [speed("lead aft pays more in a sea", more)]


def rolled(state: Sailed) -> list[Effect]:
    """L5: a headsail rolled by 30 %: with the lead left the sheet points lower; forward, higher."""
    fitted(state, "furl")
    less = stood(state.rolled(ROLLED_TENTHS), "rolled")
    was, now = sheet_meets_luff(state.flight), sheet_meets_luff(less.flight)
    found = [share("sheet points lower", was - now, SHARE)]
    if state.has("lead") and state.room("lead", -state.two_marks("lead")):
        ahead = less.by(lead=-state.two_marks("lead"))
        if ahead.settled:
            higher = sheet_meets_luff(ahead.flight) - now
            found.append(share("lead forward, higher", higher, SHARE))
    return found


def _led(state: Sailed, control: str, marks: float) -> list[Effect]:
    """Return whether the twist follows the sheet's line: line down, twist up, or both reversed."""
    fitted(state, control)
    free = state.clear()
    if free is None:
        raise UnfitError("the leech lies against the spreader")
    amount = marks if free.room(control, marks) else -marks
    if not free.room(control, amount):
        raise UnfitError(f"no room for the {control}")
    there = stood(free.resheeted(**{control: amount}))
    line = sheet_meets_luff(there.flight) - sheet_meets_luff(free.flight)
    if not np.isfinite(line):
        raise LostError("the sheet's line")
    follows = -float(np.sign(line)) * twist(free, there) if abs(line) >= SHARE else 0.0
    told = f"{np.degrees(twist(free, there)):+.1f}° as the line goes {100.0 * line:+.1f} %"
    return [replace(angle("twist", follows, ANGLE), told=told)]


def by_holes(state: Sailed) -> list[Effect]:
    """L6: another hole of the clew board moves line and twist as a car would."""
    return _led(state, "clew_hole", HOLES)


def by_car(state: Sailed) -> list[Effect]:
    """L6: the car itself: where the sheet points lower the leech opens."""
    return _led(state, "lead", CAR_MARKS)


def forward_on_a_reach(state: Sailed) -> list[Effect]:
    """L7, report: on a beam reach, from where it stood to windward, the lead forward pays."""
    fitted(state, "lead")
    amount = state.two_marks("lead")
    ahead = -amount if state.room("lead", -amount) else amount
    there = stood(state.resheeted(lead=ahead))
    gain = float(np.sign(-ahead)) * (there.speed - state.speed)
    return [speed("lead forward pays", gain)]


def outboard_on_a_reach(state: Sailed) -> list[Effect]:
    """L7, report: on a beam reach the lead outboard pays, where it can go there or not."""
    there = stood(state.resheeted(lead_out=0.10))
    return [speed("lead 10 cm outboard pays", there.speed - state.speed)]
