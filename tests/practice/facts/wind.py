"""The wind over water, and the apparent wind up the mast."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from boat_states import Sailed
from facts.effect import ANGLE, Effect, LostError, UnfitError, angle, within, yes
from luffwright.air.wind import wind_at
from luffwright.app.fly import flown, sail
from luffwright.app.question import question
from luffwright.app.request import Request
from states import State

HEIGHTS = np.array([2.0, 5.0, 10.0, 15.0])
COURSES_DEG = (46.0, 60.0, 90.0, 110.0)
LOW = 2.0
SEVERAL = 2.5
"""How many times is several."""


def grows_with_height(state: State | Sailed, course_deg: float) -> list[Effect]:
    """W1: up the mast the apparent wind is stronger and from further aft."""
    stream = replace(state.flight.stream, wind_angle=np.radians(course_deg))
    if stream.profile.speed <= stream.speed * abs(np.cos(stream.wind_angle)):
        raise UnfitError("she sails as fast as the wind along it")
    true = wind_at(stream.profile, HEIGHTS)
    speed, turned = stream.apparent(HEIGHTS)
    return [
        yes("true wind grows", bool(np.all(np.diff(true) > 0.0))),
        yes("stronger aloft", bool(np.all(np.diff(speed) > 0.0))),
        yes("further aft aloft", bool(np.all(np.diff(turned) > 0.0))),
    ]


def on_all_courses(state: State | Sailed) -> list[Effect]:
    """W1 on every course on which the wind overtakes the boat."""
    found = []
    for course in COURSES_DEG:
        try:
            found += grows_with_height(state, course)
        except UnfitError:
            continue
    return found


def stands_further_out_aloft(state: State) -> list[Effect]:
    """W2: at the best trim the chord stands further out with height, on both sails."""
    found = []
    for sail_, name in ((0, "headsail"), (1, "mainsail")):
        angles = [section.chord_angle for section in state.all(sail_)]
        found.append(angle(f"{name} further out", float(np.min(np.diff(angles))) - ANGLE, 1e-9))
    return found


def twist_up_the_mast(boat: str, wind_kn: float, course_deg: float) -> float:
    """Return by how much the apparent wind turns from 2 m to the masthead [rad], on a course for
    which a boat is set by a first guess.
    """
    asked = question(Request(boat=boat, wind_kn=wind_kn, angle_deg=course_deg))
    flight = flown(asked)
    found = sail(asked, flight) if flight.settled else None
    if found is None or not found.settled:
        raise LostError(f"at {course_deg:g}°")
    plan = asked.boat.plan
    top = plan.mainsail_gear.tack[2] + plan.mainsail.luff
    turned = found.flight.stream.apparent(np.array([LOW, top]))[1]
    return float(turned[1] - turned[0])


def times_upwind(boat: str, wind_kn: float) -> float:
    """Return how much more the apparent wind twists on a broad reach than to windward."""
    upwind, reaching = (twist_up_the_mast(boat, wind_kn, course) for course in (46.0, 120.0))
    return reaching / upwind


def twists_more_off_the_wind(state: Sailed) -> list[Effect]:
    """W3: on a broad reach in light air the apparent wind twists several times as much."""
    request = state.asked.request
    times = times_upwind(request.boat, request.wind_kn or 0.0)
    return [within("times the twist upwind", times, SEVERAL, 100.0)]
