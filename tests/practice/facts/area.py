"""Less sail: a reef, a rolled headsail, and what they do to way, heel, helm and loads."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from boat_states import Sailed
from facts.effect import (
    HELM,
    LEEWAY,
    SHARE,
    Effect,
    UnfitError,
    angle,
    fitted,
    share,
    stood,
    yes,
)
from luffwright.air.wind import wind_profile
from luffwright.app.call import calls_in
from luffwright.app.caution import Seen, cautions
from luffwright.app.reef import canvas_of, reefed
from luffwright.sails.cut import moulded, sail_area, triangles
from luffwright.sails.plan import SailPlan
from luffwright.sails.rigging import REEF_SHARE
from luffwright.sails.setting import Setting
from luffwright.units import from_knots
from luffwright.water.reef_table import sails_set

OVERPOWERED, HEELED = float(np.radians(25.0)), float(np.radians(15.0))
HEELS_DEG = (0.0, 3.0, 10.0, 40.0)
NEARLY = 0.9
"""Of the heel at which a boat is overpowered: from there less sail has to ease the helm."""


def areas(plan: SailPlan, furl: float, reef: float) -> float:
    """Return the area of the sails with so much rolled and reefed [m²]."""
    faces = triangles(9, 9, 0)
    headsail = moulded(plan.headsail, 9, 9, rolled_share=furl)
    mainsail = moulded(plan.mainsail, 9, 9, reef_from=REEF_SHARE * reef)
    return sum(sail_area(shape.nodes.reshape(-1, 3), faces) for shape in (headsail, mainsail))


def tenth(plan: SailPlan, setting: Setting) -> float:
    """Return how many more reefs make a tenth less sail in all [-]."""
    furl, reef = setting.value("furl"), setting.value("reef")
    more = np.linspace(0.0, 2.0, 41)
    left = np.array([areas(plan, furl, reef + float(amount)) for amount in more])
    return float(np.interp(-0.9 * left[0], -left, more))


def costs_no_way(state: Sailed, less: Sailed) -> Effect:
    """Return whether less sail costs no more than 1 % of the way made good."""
    return share("way made good less 99 %", less.made_good / state.made_good - 0.99, 0.0)


def overpowered_reefed(state: Sailed) -> list[Effect]:
    """R1: heeled 25° and more, a tenth less mainsail costs no way; heel and helm fall."""
    less = stood(state.reefed(tenth(state.task.plan, state.setting)), "reefed")
    return [
        costs_no_way(state, less),
        angle("heel falls", state.heel - less.heel, HELM),
        angle("helm falls", state.helm - less.helm, HELM),
    ]


def overpowered_rolled(state: Sailed) -> list[Effect]:
    """R1: heeled 25° and more, a headsail rolled by a tenth costs no way; the heel falls.

    A tenth of the luff's perpendicular is 7 to 12 % of all sail.
    """
    less = _rolled(state, 1)
    return [costs_no_way(state, less), angle("heel falls", state.heel - less.heel, HELM)]


def _righted(state: Sailed, less: Sailed) -> list[Effect]:
    """Return whether the heel falls; on two hulls it hardly tells, and is left out."""
    one = state.asked.boat.hull.kind == "monohull"
    return [angle("heel falls", state.heel - less.heel, HELM)] if one else []


def _spared(state: Sailed, less: Sailed, rope: str) -> Effect:
    """Return whether a rope carries less."""
    return share(
        f"{rope} carries less", 1.0 - less.flight.pull(rope) / state.flight.pull(rope), SHARE
    )


def _reefed(state: Sailed) -> Sailed:
    fitted(state, "reef")
    if not state.room("reef", 1.0):
        raise UnfitError("no reef left")
    return stood(state.reefed(1.0), "reefed")


def _rolled(state: Sailed, tenths: int) -> Sailed:
    fitted(state, "furl")
    if not state.room("furl", 0.1 * tenths):
        raise UnfitError("no roll left")
    return stood(state.rolled(tenths), "rolled")


def _heeled(state: Sailed) -> None:
    if state.heel < HEELED:
        raise UnfitError("heeled less than 15°")


def reef(state: Sailed) -> list[Effect]:
    """R3: a reef rights the boat, and spares mainsheet and rudder."""
    less = _reefed(state)
    return [
        *_righted(state, less),
        _spared(state, less, "mainsheet"),
        angle("helm falls", state.helm - less.helm, HELM),
    ]


def roll(state: Sailed) -> list[Effect]:
    """R3: heeled 15° and more, a rolled headsail rights the boat; she slips less."""
    _heeled(state)
    less = _rolled(state, 2)
    slips = angle("leeway falls", state.leeway - less.leeway, LEEWAY)
    return [*_righted(state, less), slips]


def roll_helm(state: Sailed) -> list[Effect]:
    """R3: with only the headsail rolled she gripes more.

    While her heel is not near its limit: there less sail has to ease the helm by righting her.
    """
    if state.heel >= NEARLY * OVERPOWERED:
        raise UnfitError("heel near its limit")
    return [angle("helm rises", _rolled(state, 1).helm - state.helm, HELM)]


def reef_leeway(state: Sailed) -> list[Effect]:
    """R3: heeled 15° and more, a reef lets her slip less."""
    _heeled(state)
    return [angle("leeway falls", state.leeway - _reefed(state).leeway, LEEWAY)]


def roll_sheet(state: Sailed) -> list[Effect]:
    """R3: a rolled headsail spares its sheet."""
    return [_spared(state, _rolled(state, 2), "sheet")]


def roll_halyard(state: Sailed) -> list[Effect]:
    """R3: a rolled headsail spares its halyard."""
    return [_spared(state, _rolled(state, 2), "halyard")]


def by_table(state: Sailed) -> list[Effect]:
    """R2: two hulls are never called by their heel; more wind never allows more sail."""
    asked = state.asked
    if asked.boat.hull.kind != "catamaran":
        raise UnfitError("one hull")
    angle_deg = float(np.degrees(asked.stream.wind_angle))
    seen = (Seen(asked.setting, angle_deg, heel, 2.0, {}) for heel in HEELS_DEG)
    calls = {tuple(call.text for call in calls_in(cautions(asked, it))) for it in seen}
    set_areas = []
    for wind in np.arange(6.0, 31.0, 3.0):
        stream = replace(asked.stream, profile=wind_profile(from_knots(float(wind))))
        canvas = canvas_of(reefed(replace(asked, stream=stream)))
        set_areas.append(sails_set(asked.boat.plan, canvas).area)
    told = f"{set_areas[0]:.0f} m² in 6 kn, {set_areas[-1]:.0f} m² in 30 kn"
    return [
        yes("one call whatever the heel", len(calls) == 1),
        yes("less sail in more wind", bool(np.all(np.diff(set_areas) <= 1e-9)), told),
        yes("reefed in 30 kn", set_areas[-1] < 0.9 * set_areas[0], told),
    ]
