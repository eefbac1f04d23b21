"""What must hold of every boat in balance: trends, mirror, magnitudes, always an answer."""

from __future__ import annotations

import json
import random
import warnings
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from luffwright.app.answer import BoatState, FlyAnswer
from luffwright.app.fly import flown, fly, sail
from luffwright.app.question import question
from luffwright.app.request import Request
from luffwright.units import from_knots, to_knots
from luffwright.water.equilibrium import Balanced, balance

STATUSES = {"converged", "luffing", "stalled", "failed"}
SEAS = ("flat", "slight", "moderate", "rough")


@cache
def answer(boat: str, wind_kn: float, angle_deg: float) -> FlyAnswer:
    return fly(Request(boat=boat, wind_kn=wind_kn, angle_deg=angle_deg)).answer


def state(boat: str, wind_kn: float, angle_deg: float) -> BoatState:
    found = answer(boat, wind_kn, angle_deg)
    assert found.status != "failed", found.reason
    return found.boat


@cache
def start(boat: str) -> Balanced:
    """Return a boat close to the wind in 8 kn."""
    here = question(Request(boat=boat, wind_kn=8.0, angle_deg=46.0))
    return sail(here, flown(here))


@pytest.mark.parametrize("boat", ["marram", "dunlin"])
def test_with_ropes_untouched_more_wind_heels_more_and_drives_faster(boat: str) -> None:
    found = [start(boat)]
    for wind_kn in (9.0, 10.0, 11.0, 12.0):
        near = found[-1]
        stream = near.flight.stream
        share = from_knots(wind_kn) / from_knots(wind_kn - 1.0)
        profile = replace(
            stream.profile,
            speed=share * stream.profile.speed,
            friction=share * stream.profile.friction,
        )
        course = replace(near.course, stream=replace(stream, profile=profile))
        found.append(balance(course, near.at, near=near))
    assert all(it.settled for it in found)
    motions = np.array([it.motion for it in found])
    assert np.all(np.diff(motions[:, 0]) > 0.0)
    assert np.all(np.diff(motions[:, 1]) > 0.0)


@pytest.mark.parametrize("boat", ["marram", "dunlin"])
def test_leeway_and_heel_fall_as_she_bears_away(boat: str) -> None:
    angles = (46.0, 60.0, 75.0)
    assert np.all(np.diff([state(boat, 12.0, it).leeway_deg for it in angles]) < 0.0)
    deep = state(boat, 12.0, 110.0)
    assert deep.leeway_deg < state(boat, 12.0, 46.0).leeway_deg
    assert deep.heel_deg < state(boat, 12.0, 46.0).heel_deg


def test_a_reef_takes_heel_away() -> None:
    whole = state("marram", 16.0, 60.0)
    request = Request(boat="marram", wind_kn=16.0, angle_deg=60.0, controls={"reef": 1.0})
    reefed = fly(request).answer
    assert reefed.status != "failed", reefed.reason
    assert reefed.boat.heel_deg < whole.heel_deg - 1.0


@pytest.mark.parametrize("boat", ["marram", "eider"])
def test_the_other_tack_is_the_mirror_image(boat: str) -> None:
    starboard, port = answer(boat, 12.0, 60.0), answer(boat, 12.0, -60.0)
    assert port.status == starboard.status
    assert port.boat == starboard.boat
    assert port.conditions.angle_deg == -starboard.conditions.angle_deg


def test_a_ten_metre_boat_sails_as_such_boats_do() -> None:
    """Ranges of common practice for a cruising boat close-hauled in 12 kn."""
    boat = state("marram", 12.0, 46.0)
    assert 5.4 < boat.speed_kn < 6.8
    assert 10.0 < boat.heel_deg < 25.0
    assert 2.0 < boat.leeway_deg < 6.0
    assert boat.rudder_deg is not None
    assert -2.0 < boat.rudder_deg < 6.0


@pytest.mark.parametrize("angle_deg", [50.0, 90.0])
def test_a_catamaran_hardly_heels(angle_deg: float) -> None:
    """Common practice: a cruising catamaran stays under 5° in a fresh breeze."""
    assert 0.0 < state("eider", 14.0, angle_deg).heel_deg < 5.0


def requests(count: int) -> list[Request]:
    chance = random.Random(7)  # noqa: S311 - repeatable draws, no secrets
    return [
        Request(
            boat=("marram", "dunlin", "eider")[k % 3],
            wind_kn=chance.uniform(3.0, 35.0),
            angle_deg=chance.uniform(30.0, 180.0),
            sea=chance.choice(SEAS),
        )
        for k in range(count)
    ]


def test_any_request_gets_an_answer_with_a_status(sweep_size: Callable[[int, int], int]) -> None:
    for request in requests(sweep_size(10, 300)):
        with warnings.catch_warnings():
            warnings.simplefilter("error", RuntimeWarning)
            found = fly(request).answer
        assert found.status in STATUSES, request
        assert found.reason, request
        # Refuses NaN and infinity.
        json.dumps(found.as_json(), allow_nan=False)
        settled = found.status != "failed"
        assert not settled or max(found.boat.residuals.values()) <= 0.1001, request
        assert to_knots(15.0) >= found.boat.speed_kn >= 0.0, request
