"""What sailors say of old woven sails: common practice, no published source.

One headsail in two cloths, new and ten seasons old, on every boat: same ropes, same wind.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.optimize import brentq

from facts.effect import CAMBER, DRAFT, Verdict
from luffwright.air.stream import Stream
from luffwright.air.wind import wind_profile
from luffwright.app.question import MESH, question
from luffwright.app.request import Request
from luffwright.sails.fabric import woven
from luffwright.sails.flight import Flight, fly
from luffwright.sails.measure import Section, sections
from luffwright.sails.plan import SailPlan
from luffwright.sails.sheet_mark import mark_setting, sheet_zero
from luffwright.units import from_knots
from states import BOATS, held, sense

WINDS = (8.0, 10.0, 12.0)
OLD_YEARS = 10.0
EASED = 0.15
"""Sheet eased from its mark, so that no leech lies on a spreader [m]."""
PART = 0.5
"""Of the least effect that counts, where changes are compared: each starts from one state, and the
two solves of a change agree better than two from different starts."""
SECTION_HEIGHT = np.array([5.0])


def aged(plan: SailPlan, years: float) -> SailPlan:
    cloth = woven(plan.headsail.cloth.mass, years)
    return replace(plan, headsail=replace(plan.headsail, cloth=cloth))


def apparent_angle(stream: Stream) -> float:
    return float(stream.apparent(SECTION_HEIGHT)[1][0])


def steered_up(stream: Stream, share: float) -> Stream:
    """Return more of the same wind, the boat steered to the same apparent wind."""
    more = replace(stream, profile=wind_profile(stream.profile.speed * (1.0 + share)))
    wanted = apparent_angle(stream)

    def off(angle: float) -> float:
        return apparent_angle(replace(more, wind_angle=angle)) - wanted

    return replace(more, wind_angle=float(brentq(off, np.radians(25.0), stream.wind_angle)))


@cache
def flown(boat: str, wind_kn: float, years: float) -> tuple[Flight, Flight]:
    """Return a headsail of this age at its mark's ropes, and in 30 % more wind."""
    asked = question(Request(boat=boat, wind_kn=wind_kn, angle_deg=48.0))
    plan = aged(asked.boat.plan, years)
    speed = 0.5 * from_knots(wind_kn)
    heel = 0.03 if asked.boat.kind == "catamaran" else 0.17
    stream = replace(asked.stream, speed=speed, heel=heel)
    zero = sheet_zero(aged(asked.boat.plan, 0.0), MESH, from_knots(6.0), heel)
    setting = mark_setting(plan).changed(sheet=EASED)
    one = fly(plan, setting, stream, zero, mesh=MESH)
    return one, fly(plan, setting, steered_up(stream, 0.3), zero, mesh=MESH, near=one)


def middle(flight: Flight) -> Section:
    return sections(flight, flight.rigging.sails[0])[1]


def cases() -> list[tuple[str, tuple[Flight, Flight], tuple[Flight, Flight]]]:
    """Return case, new and old, where all four settled."""
    found = [
        (f"{boat} {wind:g} kn", flown(boat, wind, 0.0), flown(boat, wind, OLD_YEARS))
        for boat in BOATS
        for wind in WINDS
    ]
    return [it for it in found if all(flight.settled for flight in (*it[1], *it[2]))]


@pytest.mark.practice(fact="B3b")
def test_an_old_sail_is_deeper_and_its_draft_is_further_aft() -> None:
    held(
        {
            case: [
                sense(middle(old[0]).camber - middle(new[0]).camber, CAMBER),
                sense(middle(old[0]).draft - middle(new[0]).draft, DRAFT),
            ]
            for case, new, old in cases()
        }
    )


@pytest.mark.practice(fact="B3c")
def test_more_wind_moves_the_draft_further_aft_in_old_cloth_than_in_new() -> None:
    """Steered to the same apparent wind: left on her course it frees, and more incidence draws
    the draft forward whatever the cloth.
    """
    verdicts: dict[str, list[Verdict]] = {}
    for case, new, old in cases():
        moved = [middle(pair[1]).draft - middle(pair[0]).draft for pair in (new, old)]
        verdicts[case] = [sense(moved[1] - moved[0], PART * DRAFT)]
    held(verdicts)
