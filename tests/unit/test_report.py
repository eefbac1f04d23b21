"""From a flight to the answer: units of the edge, tacks, cautions, and nothing left out unsaid."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest

from luffwright.air.wind import wind_profile
from luffwright.app import question as module
from luffwright.app.answer import ControlReading, FlyAnswer
from luffwright.app.question import Question, question
from luffwright.app.report import _overall, fly_answer
from luffwright.app.request import Request
from luffwright.app.swing import minute_of, waves_cost
from luffwright.sails.flight import Flight, fly
from luffwright.sails.measure import track_forces
from luffwright.sails.rigging import Mesh
from luffwright.sails.sheet_mark import mark_setting, sheet_path
from luffwright.units import from_knots
from luffwright.water.equilibrium import Balanced
from luffwright.water.waves import BAND

COARSE = Mesh(5, 5)
DOES_NOT_APPLY = {"sails.levels.leech", "sails.levels.leech_stalled_pct"}
"""Null for a headsail without leech telltales."""


@pytest.fixture(scope="session")
def asked() -> Question:
    """Return Marram close-hauled in 12 knots, her sheet marked by geometry alone."""
    # Handed back from inside, so that the other tests of this worker find the mark by flights.
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "sheet_zero", lambda plan, *_: sheet_path(plan, mark_setting(plan)))
        return question(Request(boat="marram", wind_kn=12.0, angle_deg=46.0))


@pytest.fixture(scope="session")
def flight(asked: Question) -> Flight:
    """Return the one flight that all tests here look at, on a coarse mesh."""
    plan, setting = asked.boat.plan, asked.setting
    return fly(plan, setting, asked.stream, asked.sheet_zero, mesh=COARSE, density=asked.density)


@pytest.fixture(scope="session")
def answer(asked: Question, flight: Flight) -> FlyAnswer:
    """Return what is told of it."""
    return fly_answer(asked, flight)


def nothings(value: object, name: str = "") -> Iterator[str]:
    """Yield the names of all entries that are null, without keys of ropes and places in rows."""
    if isinstance(value, dict):
        for key, part in value.items():
            rope = name in {"controls", "stays", "loads"}
            yield from nothings(part, f"{name}[]" if rope else f"{name}.{key}".strip("."))
    elif isinstance(value, list | tuple):
        for part in value:
            yield from nothings(part, name)
    elif value is None:
        yield name


def test_every_number_left_out_is_named(answer: FlyAnswer) -> None:
    left_out = set(nothings(answer.as_json()))
    assert "boat.rudder_deg" in left_out
    assert left_out - DOES_NOT_APPLY <= set(answer.method.not_computed)


def test_sails_that_do_not_settle_have_no_shares_of_the_time(
    asked: Question, flight: Flight
) -> None:
    found = fly_answer(asked, replace(flight, residual=0.04 * flight.scale))
    left_out = {name for name in nothings(found.as_json()) if not name.startswith("boat.")}
    left_out -= DOES_NOT_APPLY - {"sails.levels.leech_stalled_pct"}
    named = {name for name in found.method.not_computed if not name.startswith("boat.")}
    assert left_out == named
    assert {name.split(".")[0] for name in left_out} == {"sails", "conditions"}


def test_only_a_stay_that_carries_a_sail_has_a_sag(answer: FlyAnswer) -> None:
    stays = answer.as_json()["stays"]
    assert isinstance(stays, dict)
    assert {name for name, stay in stays.items() if "sag_pct" in stay} == {"forestay"}


def test_told_numbers_carry_no_noise_of_their_last_digits(answer: FlyAnswer) -> None:
    noisy = replace(answer, controls={"sheet": ControlReading(0.1 + 0.2, "m", "3 hands")})
    assert noisy.as_json()["controls"] == {"sheet": {"value": 0.3, "unit": "m", "mark": "3 hands"}}
    conditions = answer.as_json()["conditions"]
    assert isinstance(conditions, dict)
    assert conditions["wind_kn"] == 12.0


def test_the_wind_asked_for_is_the_wind_told(answer: FlyAnswer) -> None:
    told = answer.conditions
    assert (told.wind_kn, told.angle_deg) == pytest.approx((12.0, 46.0))
    heights = [level.height_m for level in told.by_level]
    assert heights == sorted(heights)
    winds = [level.wind_kn for level in told.by_level]
    assert winds == sorted(winds)


def test_the_way_made_good_counts_the_leeway(answer: FlyAnswer) -> None:
    boat = answer.boat
    off = math.radians(answer.conditions.angle_deg + boat.leeway_deg)
    assert boat.vmg_kn == pytest.approx(boat.speed_kn * math.cos(off))


def test_on_port_only_the_signs_of_the_winds_angles_change(
    asked: Question, flight: Flight, answer: FlyAnswer
) -> None:
    port = fly_answer(replace(asked, port=True), flight)
    here, there = answer.conditions, port.conditions
    assert there.angle_deg == -here.angle_deg
    assert there.apparent_angle_deg == -here.apparent_angle_deg
    assert there.sensor_angle_deg == -here.sensor_angle_deg if here.sensor_angle_deg else False
    for one, other in zip(here.by_level, there.by_level, strict=True):
        assert other == replace(one, apparent_angle_deg=-one.apparent_angle_deg)
    assert replace(port, conditions=here) == answer


def test_twist_is_counted_from_the_foot(answer: FlyAnswer) -> None:
    for sail in answer.sails:
        feet = [level.chord_angle_deg - level.twist_deg for level in sail.levels]
        assert feet == pytest.approx([feet[0]] * 3)
        assert all(level.chord_m > 0.0 for level in sail.levels)
        assert [level.level for level in sail.levels] == ["low", "middle", "top"]


def test_loads_are_told_in_kilonewtons_of_the_rope_in_hand(
    asked: Question, flight: Flight, answer: FlyAnswer
) -> None:
    parts = asked.boat.plan.mainsail_gear.sheet_parts
    assert parts > 1
    told = answer.loads["mainsheet"]
    assert told.load_kn == pytest.approx(flight.pull("mainsheet") / parts / 1000.0)
    # A tackle of n parts breaks at n times one part: the share is the same either way.
    breaking = asked.boat.plan.mainsail_gear.sheet.breaking
    assert told.breaking_pct == pytest.approx(100.0 * told.load_kn * 1000.0 / breaking)
    assert answer.stays["forestay"].load_kn == pytest.approx(flight.pull("forestay") / 1000.0)


def test_each_sails_forces_are_those_along_and_across_the_track(
    flight: Flight, answer: FlyAnswer
) -> None:
    """On average over the minute, which in 12 knots and a slight sea is near the still flight."""
    for sail, (drive, side) in zip(answer.sails, track_forces(flight), strict=True):
        assert (sail.drive_n, sail.side_n) == pytest.approx((drive, side), rel=0.03)
        assert sail.drive_n != pytest.approx(drive, rel=1e-4)


def test_the_sensor_reads_the_upwash_of_the_sails_and_on_port_over_port(
    asked: Question, flight: Flight, answer: FlyAnswer
) -> None:
    told = answer.conditions
    assert told.sensor_angle_deg is not None
    assert told.apparent_angle_deg < told.sensor_angle_deg < told.apparent_angle_deg + 6.0
    assert told.sensor_wind_kn == pytest.approx(told.apparent_wind_kn, rel=0.05)
    port = fly_answer(replace(asked, port=True), flight).conditions
    assert port.sensor_angle_deg == -told.sensor_angle_deg
    assert port.sensor_wind_kn == told.sensor_wind_kn


def test_the_waves_height_is_told_and_what_they_cost_flagged_with_its_band() -> None:
    for sea, height in (("flat", 0.1), ("slight", 0.5), ("moderate", 1.2), ("rough", 2.5)):
        there = question(Request(boat="eider", wind_kn=12.0, angle_deg=50.0, sea=sea))
        assert minute_of(there).sea.height == height
        words = waves_cost(there)
        if sea != "flat":
            low, high = (float(it) for it in words.split("(")[1].split(")")[0].split(" to "))
            middle = float(words.split(" add ")[1].split()[0])
            assert f"{height:g} m" in words
            assert low == pytest.approx(middle / BAND, abs=1.0)
            assert high == pytest.approx(middle * BAND, abs=2.0)


def test_a_flight_out_of_balance_is_failed_and_says_by_how_much(
    asked: Question, flight: Flight
) -> None:
    found = fly_answer(asked, replace(flight, residual=0.04 * flight.scale))
    assert found.status == "failed"
    assert "4 %" in found.reason
    assert {sail.status for sail in found.sails} == {"failed"}


@pytest.mark.parametrize(("wind_kn", "words"), [(4.0, "another wind"), (25.0, "reduce sail")])
def test_only_in_a_breeze_a_boat_without_rest_is_told_to_reduce_sail(
    flight: Flight, wind_kn: float, words: str
) -> None:
    stream = replace(flight.stream, profile=wind_profile(from_knots(wind_kn)))
    lost = SimpleNamespace(
        settled=False, gaps=np.array([0.5]), scales=np.ones(1), sums=[0], steps=20,
        flight=replace(flight, stream=stream),
    )  # fmt: skip
    status, reason = _overall((), flight, cast("Balanced", lost))
    assert status == "failed"
    assert "50 % out of balance" in reason
    assert words in reason
    assert ("overpowered" in reason) is (wind_kn > 8.0)
