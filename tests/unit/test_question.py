"""From a request to the physics: what is refused, on which tack, and in which units."""

from __future__ import annotations

import math

import numpy as np
import pytest

from luffwright.app import question as module
from luffwright.app.question import question
from luffwright.app.request import Request
from luffwright.errors import InputError, UnsailableError
from luffwright.sails.setting import Setting

KNOT = 1852.0 / 3600.0
SHEETS = {"sheet": 0.1, "mainsheet": 0.2}


@pytest.fixture(autouse=True)
def marked_sheet(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave out the flights that find the sheet's mark: no test here looks at it."""
    monkeypatch.setattr(module, "sheet_zero", lambda *_: 9.0)


def asked(**fields: object) -> Request:
    """Return a request for Marram close-hauled in 12 knots, with fields changed or taken out."""
    given: dict[str, object] = {"boat": "marram", "wind_kn": 12.0, "angle_deg": 45.0} | fields
    return Request.model_validate({name: it for name, it in given.items() if it is not None})


def refused(**fields: object) -> InputError:
    """Return what a request is refused with."""
    with pytest.raises(InputError) as caught:
        question(asked(**fields))
    return caught.value


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"angle_deg": 5.0}, "angle_deg = 5.0: no boat sails closer than 28° to the wind; bear"),
        ({"angle_deg": -27.0}, "angle_deg = -27.0: no boat sails closer"),
        ({"wind_kn": 80.0}, "wind_kn = 80.0: no sail of this boat stands above 60 kn; storm sails"),
        ({"wind_kn": None, "angle_deg": None, "apparent_wind_kn": 61.0, "apparent_angle_deg": 30.0},
         "apparent_wind_kn = 61.0: no sail of this boat stands"),
        ({"wind_kn": None, "angle_deg": None, "apparent_wind_kn": 15.0, "apparent_angle_deg": -9.0},
         "apparent_angle_deg = -9.0: no boat sails closer than 15° to the apparent wind; bear"),
    ],
)  # fmt: skip
def test_what_no_boat_can_sail_is_refused_as_such(fields: dict[str, object], said: str) -> None:
    found = refused(**fields)
    assert isinstance(found, UnsailableError)
    assert str(found).startswith(said)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"wind_kn": None}, "wind_kn = nothing: must be given"),
        ({"wind_kn": 0.5}, "wind_kn = 0.5: must be 1 to 60"),
        ({"wind_kn": math.nan}, "wind_kn = nan: must be 1 to 60"),
        ({"angle_deg": 190.0}, "angle_deg = 190.0: must be -180 to 180"),
        ({"apparent_wind_kn": 15.0}, "apparent_angle_deg = nothing"),
        ({"apparent_angle_deg": 30.0}, "apparent_wind_kn = nothing"),
        ({"apparent_wind_kn": 15.0, "apparent_angle_deg": 30.0},
         "apparent_wind_kn = 15.0: true and apparent wind are both given; give one of them"),
        ({"speed_kn": -1.0}, "speed_kn = -1.0: must be 0 to 30"),
        ({"heel_deg": 60.0}, "heel_deg = 60.0: must be 0 to 45"),
        ({"leeway_deg": 21.0}, "leeway_deg = 21.0: must be -5 to 20"),
        ({"air_temp_c": 59.0}, "air_temp_c = 59.0: must be -30 to 50"),
        ({"controls": {"lead": 2.5}}, "controls.lead = 2.5: Marram's genoa car runs from 0 to 2"),
        ({"hold": {"backstay": -0.1}}, "hold.backstay = -0.1: Marram's backstay runs from 0"),
        ({"controls": {"reef": 0.5}}, "controls.reef = 0.5: is counted in whole numbers; round it"),
        ({"controls": {"gadget": 3.0}}, "controls = gadget: Marram has no such control; she has "),
        ({"hold": {"clew_hole": 2.0}}, "hold = clew_hole: Marram has no such control; she has "),
        ({"boat": "maram"}, 'boat = maram: no such boat; there are dunlin, eider, marram; did you'),
    ],
)  # fmt: skip
def test_a_field_that_cannot_be_used_is_refused_with_its_limit(
    fields: dict[str, object], said: str
) -> None:
    found = refused(**fields)
    assert not isinstance(found, UnsailableError)
    assert str(found).startswith(said)


@pytest.mark.parametrize(
    ("angle", "tack", "port"),
    [
        (45.0, None, False), (-45.0, None, True), (-45.0, "port", True),
        (45.0, "starboard", False), ("upwind", None, False), ("upwind", "port", True),
    ],
)  # fmt: skip
def test_everything_is_solved_with_the_wind_from_starboard_and_the_tack_kept(
    angle: float | str, tack: str | None, port: bool
) -> None:
    found = question(asked(angle_deg=angle, tack=tack))
    assert found.port is port
    assert math.degrees(found.stream.wind_angle) == pytest.approx(45.0)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"angle_deg": 45.0, "tack": "port"},
         "tack = port: the angle 45° lies over the starboard side; leave tack out, or give "),
        ({"angle_deg": -45.0, "tack": "starboard"}, "tack = starboard: the angle -45° lies over"),
        ({"wind_kn": None, "angle_deg": None, "apparent_wind_kn": 16.0, "tack": "port",
          "apparent_angle_deg": 30.0}, "tack = port: the angle 30° lies over the starboard side"),
    ],
)  # fmt: skip
def test_a_tack_that_contradicts_the_side_of_the_wind_is_refused(
    fields: dict[str, object], said: str
) -> None:
    assert str(refused(**fields)).startswith(said)


@pytest.mark.parametrize("angle", [180.0, -180.0])
@pytest.mark.parametrize("tack", ["starboard", "port"])
def test_dead_downwind_either_tack_will_do(angle: float, tack: str) -> None:
    assert question(asked(angle_deg=angle, tack=tack)).port is (tack == "port")


def test_both_tacks_ask_the_same_of_the_physics() -> None:
    starboard, port = question(asked(angle_deg=70.0)), question(asked(angle_deg=-70.0))
    assert port.stream == starboard.stream
    assert port.setting == starboard.setting


def test_what_is_held_arrives_in_si() -> None:
    found = question(asked(speed_kn=6.0, heel_deg=15.0, leeway_deg=4.0)).stream
    assert found.profile.speed == pytest.approx(12.0 * KNOT)
    assert found.speed == pytest.approx(6.0 * KNOT)
    assert (found.heel, found.leeway) == pytest.approx((math.radians(15.0), math.radians(4.0)))


def test_what_is_not_given_is_told_as_assumed() -> None:
    flags = " ".join(question(asked(angle_deg=None)).flags)
    for word in ("upwind", "controls not given"):
        assert word in flags
    held = asked(speed_kn=6.0, heel_deg=15.0, leeway_deg=4.0)
    assert [flag for flag in question(held).flags if "estimate" in flag] == []


def test_an_apparent_wind_is_met_again_at_the_sensor() -> None:
    request = asked(wind_kn=None, angle_deg=None, apparent_wind_kn=16.0, apparent_angle_deg=30.0)
    found = question(request)
    speed, angle = found.stream.apparent(np.array([found.boat.sensor_height]))
    assert speed[0] / KNOT == pytest.approx(16.0, rel=1e-6)
    assert math.degrees(angle[0]) == pytest.approx(30.0, abs=1e-6)


def test_controls_given_or_held_stand_where_they_are_put() -> None:
    found = question(asked(controls=SHEETS | {"lead": 0.4}, hold={"backstay": 0.02})).setting
    named = ("sheet", "mainsheet", "lead", "backstay")
    assert [found.value(name) for name in named] == [0.1, 0.2, 0.4, 0.02]


def test_a_sheet_given_alone_leaves_the_other_to_the_guess() -> None:
    guess = question(asked(angle_deg=90.0)).setting
    found = question(asked(angle_deg=90.0, controls={"sheet": 0.1})).setting
    assert found == guess.changed(sheet=0.1)
    assert isinstance(found, Setting)


def test_the_air_has_the_density_of_the_standard_atmosphere() -> None:
    # ISO 2533: 1.225 kg/m³ at 15 °C and 101 325 Pa; at 0 °C by the gas law 1.2930 (from memory).
    assert question(asked()).density == pytest.approx(1.225, abs=5e-4)
    assert question(asked(air_temp_c=0.0)).density == pytest.approx(1.293, abs=1e-3)
