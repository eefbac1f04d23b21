"""Backstay, forestay and wind: what tightens the headsail's luff, and what lets it sag."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from boat_states import Sailed
from facts.effect import (
    ANGLE,
    CAMBER,
    DRAFT,
    SAG,
    Effect,
    LostError,
    UnfitError,
    angle,
    fitted,
    share,
    speed,
    stood,
    within,
    yes,
)
from luffwright.app.fly import fly as fly_verb
from luffwright.sails.measure import sail_grid
from states import State

HALF_RANGE = 5.0
"""Tenths of the backstay's range: by one tenth the headsail's camber changes by 0.1 to 0.2 % of the
chord, which is the right way but no more than twice what two solves may differ by."""
LOAD = 0.002
"""Least change of the forestay's pull that counts, a share."""
BEND = 0.005
"""Least bend of a mast that counts [m]."""
SHARED_LIFT = 2.0
"""How far the boat is steered off at a time to compare drags at one lift [°]."""


def slack(state: State) -> tuple[State, float]:
    """Return the state with room to take up half of the backstay's range, and how much that is."""
    fitted(state, "backstay")
    amount = HALF_RANGE * state.two_marks("backstay")
    travel = state.travel("backstay")
    over = state.setting.value("backstay") + amount - travel.high
    return (stood(state.fly(backstay=-over)) if over > 1e-9 else state), amount


def camber(before: State, after: State) -> float:
    """Return the change of the headsail's camber half-way up, a share of the chord."""
    return after.section(0, "middle").camber - before.section(0, "middle").camber


def taken_up(state: State) -> list[Effect]:
    """B1: more backstay, the sag falls."""
    eased, amount = slack(state)
    tight = stood(eased.fly(backstay=amount))
    return [share("sag falls", eased.sag - tight.sag, SAG)]


def tightened(state: State) -> tuple[State, State]:
    """Return the state and the same with the backstay taken up, the headsail re-sheeted.

    With the sheet's length untouched the masthead that comes aft lets the clew out: on a reach the
    foot then deepens by 0.3 to 1 % of the chord, which is the sheet's doing and not the stay's.
    """
    eased, amount = slack(state)
    return eased, stood(eased.resheeted(backstay=amount))


def taken_up_flattens(state: State) -> list[Effect]:
    """B1: more backstay, the headsail is flatter half-way up."""
    eased, tight = tightened(state)
    return [share("camber falls", -camber(eased, tight), CAMBER)]


def eased_off(state: State) -> list[Effect]:
    """B2: less backstay, the reverse."""
    eased, tight = tightened(state)
    amount = tight.setting.value("backstay") - eased.setting.value("backstay")
    back = stood(tight.resheeted(backstay=-amount))
    return [
        share("sag grows", back.sag - tight.sag, SAG),
        share("camber grows", camber(tight, back), CAMBER),
    ]


def _lift_drag(state: State) -> tuple[float, float]:
    """Return the headsail's lift and drag against the apparent wind at its middle [N]."""
    stream, (drive, side) = state.flight.stream, state.force(0)
    height = np.array([state.section(0, "middle").height])
    wind = float(stream.apparent(height)[1][0]) + stream.leeway
    return (
        drive * np.sin(wind) + side * np.cos(wind),
        side * np.sin(wind) - drive * np.cos(wind),
    )


def _drag_at(state: State, lift: float) -> float:
    """Return the headsail's drag [N] steered to a lift, from four courses."""
    turns = np.radians([-1.0, 0.0, 1.0, 2.0]) * SHARED_LIFT
    found = np.array([_lift_drag(stood(state.steered(float(turn)))) for turn in turns])
    order = np.argsort(found[:, 0])
    if not found[order[0], 0] < lift < found[order[-1], 0]:
        raise UnfitError("the lift is not reached on a course near by")
    return float(np.interp(lift, found[order, 0], found[order, 1]))


def taken_up_drag(state: State) -> list[Effect]:
    """B1, report: drag of the headsail at the same lift."""
    eased, tight = tightened(state)
    lift, drag = _lift_drag(eased)
    return [share("drag at the same lift falls", 1.0 - _drag_at(tight, lift) / drag)]


def stronger(state: State) -> State:
    """Return the state in 30 % more wind, until the headsail luffs half-way up."""
    there = stood(state.stronger(0.3))
    if there.section(0, "middle").windward_lifts:
        raise UnfitError("the headsail luffs")
    return there


def blown_up(state: State) -> list[Effect]:
    """B3: more wind, ropes untouched: more sag, a deeper headsail."""
    there = stronger(state)
    return [
        share("sag grows", there.sag - state.sag, SAG),
        share("camber grows", camber(state, there), CAMBER),
    ]


def blown_up_draft(state: State) -> list[Effect]:
    """B3: more wind, ropes untouched: the draft moves aft."""
    there = stronger(state)
    change = there.section(0, "middle").draft - state.section(0, "middle").draft
    return [share("draft aft", change, DRAFT)]


def more_pays(state: Sailed, control: str, change: float) -> Effect:
    """Return whether more of a control brings way made good, the headsail sheeted again.

    At the end of its travel: whether less of it costs way.
    """
    amount = change if state.room(control, change) else -change
    there = stood(state.resheeted(**{control: amount}))
    gain = float(np.sign(amount)) * (there.made_good - state.made_good)
    return speed(f"more {control} pays", gain)


def pays_in_a_blow(state: Sailed) -> list[Effect]:
    """B4: in a strong wind, in the trim of a lighter one, more backstay pays."""
    fitted(state, "backstay")
    return [more_pays(state, "backstay", HALF_RANGE * state.two_marks("backstay"))]


def pays_eased(state: Sailed) -> list[Effect]:
    """B4: on a reach less backstay pays, from where it stood to windward."""
    fitted(state, "backstay")
    change = HALF_RANGE * state.two_marks("backstay")
    amount = -change if state.room("backstay", -change) else change
    there = stood(state.resheeted(backstay=amount))
    return [speed("less backstay pays", float(np.sign(-amount)) * (there.speed - state.speed))]


def deepest_in(best: dict[float, Sailed]) -> list[Effect]:
    """B4a, report: the headsail is deepest in 6 to 10 kn, and flatter in a drift.

    `best`: one boat at her best to windward in these winds [kn].
    """
    depth = {wind: it.section(0, "middle").camber for wind, it in best.items() if it.settled}
    if len(depth) < 4 or min(depth) > 5.0:
        raise LostError("in the light winds")
    most = max(depth, key=lambda wind: depth[wind])
    told = ", ".join(f"{100 * depth[wind]:.1f} % in {wind:g} kn" for wind in sorted(depth))
    flat = share("flatter in a drift", depth[most] - depth[min(depth)])
    return [within("deepest in", most, 6.0, 10.0, "kn"), replace(flat, told=told)]


def none_offered(state: Sailed) -> list[Effect]:
    """B5: a boat without a backstay is never told of one."""
    if state.task.plan.backstay is not None:
        raise UnfitError("a backstay")
    answer = fly_verb(state.asked.request).answer
    told = "backstay" in answer.controls or "backstay" in answer.stays
    return [yes("no backstay told", not told)]


def held_by_mainsheet(state: State) -> list[Effect]:
    """B5: without a backstay the mainsheet does part of its work."""
    if state.plan.backstay is not None:
        raise UnfitError("a backstay")
    pulled = stood(state.fly(mainsheet=-0.3))
    gain = pulled.flight.pull("forestay") / state.flight.pull("forestay") - 1.0
    return [share("forestay's pull grows", gain, LOAD)]


def bend(state: Sailed) -> float:
    """Return how far the mast bends fore and aft between the mainsail's tack and head [m]."""
    luff = sail_grid(state.flight, state.flight.rigging.sails[1])[:, 0]
    line = np.interp(luff[:, 2], luff[[0, -1], 2], luff[[0, -1], 0])
    return float(np.max(luff[:, 0] - line))


def bent(state: Sailed) -> tuple[Sailed, Sailed]:
    """Return a fractional rig and the same with the backstay taken up, mainsheet as it is."""
    fitted(state, "backstay")
    mast, change = state.task.plan.mast, HALF_RANGE * state.two_marks("backstay")
    if mast.hounds > 0.97 * mast.top:
        raise UnfitError("masthead")
    if not state.room("backstay", change):
        raise UnfitError("no room to take up the backstay")
    return state, stood(state.by(backstay=change))


def bends_the_mast(state: Sailed) -> list[Effect]:
    """B6: on a fractional rig more backstay bends the mast, flattens and opens the mainsail."""
    before, after = bent(state)
    was, now = before.section(1, "middle").camber, after.section(1, "middle").camber
    opened = after.section(1, "top").twist - before.section(1, "top").twist
    return [
        Effect("mast bends", 100.0 * (bend(after) - bend(before)), 100.0 * BEND, "cm"),
        share("mainsail flatter", was - now, CAMBER),
        angle("leech opens", opened, ANGLE),
    ]


def bends_into_sag(state: Sailed) -> list[Effect]:
    """B6, report: how much of it goes into sag."""
    before, after = bent(state)
    more = 100.0 * (bend(after) - bend(before))
    sweep = max((float(np.degrees(it.sweep)) for it in state.task.plan.mast.spreaders), default=0.0)
    fall = share("sag falls", before.sag - after.sag, SAG)
    told = f"{fall.change:+.3f} % while the mast bends {more:.1f} cm, spreaders swept {sweep:.0f}°"
    return [replace(fall, told=told)]


def lets_go_with_the_mainsheet(state: Sailed) -> list[Effect]:
    """Y1: held up by the mainsheet, easing it lets forestay and headsail go."""
    if state.task.plan.backstay is not None:
        raise UnfitError("a backstay")
    eased = stood(state.by(mainsheet=state.two_marks("mainsheet")))
    change = eased.section(0, "middle").camber - state.section(0, "middle").camber
    return [share("sag grows", eased.sag - state.sag, SAG), share("camber grows", change, CAMBER)]
