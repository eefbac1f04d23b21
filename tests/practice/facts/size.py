"""Sizes at the best trim: depth, twist, sag, leeway, the boom's place, the sheet's load."""

from __future__ import annotations

import numpy as np

from boat_states import Sailed
from facts.effect import Effect, UnfitError, within
from luffwright.sails.cut import sail_area, triangles
from luffwright.sails.measure import foot_angle
from luffwright.units import to_knots
from states import State

KILOGRAM_FORCE = 9.80665
RULE = 0.02104
"""Of a genoa sheet's load: kgf by square metre and knot squared."""
NEAR_LIMIT = 0.95
BESIDE = (-3.0, 5.0)
"""Near the centreline [°]."""


def headsail(state: Sailed) -> list[Effect]:
    """N1: the headsail's depth, the forestay's sag and the leeway are those of real boats."""
    most = 9.0 if state.asked.boat.hull.kind == "catamaran" else 7.0
    return [
        within("headsail", 100.0 * state.section(0, "middle").camber, 8.0, 16.0, "% deep"),
        within("sag", 100.0 * state.sag, 0.3, 2.5, "%"),
        within("leeway", float(np.degrees(state.leeway)), 2.0, most, "°"),
    ]


def mainsail(state: Sailed) -> list[Effect]:
    """N1: the mainsail's depth is that of real ones."""
    return [within("mainsail", 100.0 * state.section(1, "middle").camber, 8.0, 16.0, "% deep")]


def tops(state: Sailed) -> list[Effect]:
    """N1: the tops twist 5 to 20°."""
    return [
        within(f"{name} top", float(np.degrees(state.section(sail, "top").twist)), 5.0, 20.0, "°")
        for sail, name in ((0, "headsail"), (1, "mainsail"))
    ]


def _free(state: Sailed) -> None:
    """Refuse a boat near a limit of heel or helm."""
    limits = state.task.limits
    if state.heel > NEAR_LIMIT * limits.heel or abs(state.helm) > NEAR_LIMIT * limits.rudder:
        raise UnfitError("overpowered")


def leech(state: Sailed) -> list[Effect]:
    """M5: not overpowered, the top leech tuft is gone 5 to 60 % of the time."""
    _free(state)
    return [within("leech gone", 100.0 * state.leech_stalled, 5.0, 60.0, "% of the time")]


def boom(state: Sailed) -> list[Effect]:
    """M5, report: not overpowered, the boom lies near the centreline."""
    _free(state)
    out = float(np.degrees(foot_angle(state.flight, state.flight.rigging.sails[1])))
    return [within("boom", out, *BESIDE, "° to leeward")]


def sheet_load(state: State) -> list[Effect]:
    """N2: a genoa's sheet, hard in at its mark, carries what the rule of the trade says.

    Within a factor of 1.4; the apparent wind at the sail's middle.
    """
    if not state.plan.headsail_gear.overlaps_shrouds:
        raise UnfitError("no genoa")
    if not state.settled:
        raise UnfitError("does not settle hard in")
    flight = state.flight
    part = flight.rigging.sails[0]
    height = float(np.mean(flight.places[part.first : part.first + part.count, 2]))
    wind = to_knots(float(flight.stream.apparent(np.array([height]))[0][0]))
    area = sail_area(part.moulded.nodes, triangles(part.rows, part.columns, 0))
    rule = area * wind**2 * RULE * KILOGRAM_FORCE
    return [within("times the rule", flight.pull("sheet") / rule, 1.0 / 1.4, 1.4)]
