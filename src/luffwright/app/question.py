"""From a request to everything the physics needs: checked, in SI, on the starboard tack."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from luffwright.aboard.boat import Boat, load_boat
from luffwright.advice.first_guess import first_guess
from luffwright.advice.poled import FOREMOST, poled
from luffwright.air.stream import Stream, from_apparent
from luffwright.air.wind import wind_profile
from luffwright.app.request import Request
from luffwright.errors import InputError, UnsailableError
from luffwright.sails.cut import moulded, sail_area, triangles
from luffwright.sails.plan import SailPlan
from luffwright.sails.rigging import Mesh
from luffwright.sails.setting import Setting
from luffwright.sails.sheet_mark import mark_setting, rolled_up, sheet_zero
from luffwright.units import from_knots, to_knots
from luffwright.water.estimate import first_heel, first_leeway, first_speed

MESH = Mesh()
MARK_SPEED = 0.8
"""Share of the first estimate's top speed at which the sheet's tape mark is made."""
UPWIND_DEG = {"monohull": 45.0, "catamaran": 50.0}
DOWNWIND_DEG = {"monohull": 150.0, "catamaran": 140.0}
CLOSEST_TRUE_DEG = 28.0
CLOSEST_APPARENT_DEG = 15.0
STRONGEST_KN = 60.0
LIGHTEST_KN = 1.0
FASTEST_KN = 30.0


@dataclass(frozen=True)
class Question:
    """What is asked of the physics; `port` mirrors the answer, `flags` say what was assumed."""

    request: Request
    boat: Boat
    stream: Stream
    setting: Setting
    sheet_zero: float
    density: float
    port: bool
    flags: tuple[str, ...]

    @property
    def held(self) -> frozenset[str]:
        """Return which of speed, heel and leeway are given and not solved for."""
        given = {
            "speed": self.request.speed_kn,
            "heel": self.request.heel_deg,
            "leeway": self.request.leeway_deg,
        }
        return frozenset(name for name, value in given.items() if value is not None)


def _within(name: str, value: float, low: float, high: float, remedy: str) -> float:
    if not low <= value <= high:
        raise InputError(name, value, f"must be {low:g} to {high:g}", remedy)
    return value


def _true_angle(request: Request, boat: Boat, flags: list[str]) -> float:
    """Return the true wind's angle off the bow, signed [deg]."""
    asked = request.angle_deg
    if asked is None or isinstance(asked, str):
        table = DOWNWIND_DEG if asked == "downwind" else UPWIND_DEG
        flags.append(
            f"angle {table[boat.kind]:.0f}° taken for {asked or 'upwind'}: "
            "the best angle is not searched yet"
        )
        return table[boat.kind]
    angle = _within("angle_deg", asked, -180.0, 180.0, "give it off the bow, starboard positive")
    if abs(angle) < CLOSEST_TRUE_DEG:
        raise UnsailableError(
            "angle_deg", angle, f"no boat sails closer than {CLOSEST_TRUE_DEG:.0f}° to the wind",
            "bear away, or ask for upwind",
        )  # fmt: skip
    return angle


def _check_wind(name: str, value: float) -> float:
    if value > STRONGEST_KN:
        raise UnsailableError(
            name, value, f"no sail of this boat stands above {STRONGEST_KN:.0f} kn",
            "storm sails and the boat's manual come first",
        )  # fmt: skip
    return _within(name, value, LIGHTEST_KN, STRONGEST_KN, "give knots of wind at 10 m")


def _check_gust(request: Request, stream: Stream) -> None:
    """Refuse gusts that are weaker than the wind, or that no sail stands."""
    if request.gust_kn is None:
        return
    mean = to_knots(stream.profile.speed)
    # A mean wind found from the apparent one may be half a knot off.
    if _check_wind("gust_kn", request.gust_kn) < mean - 0.5:
        raise InputError(
            "gust_kn", request.gust_kn, f"must be at least the wind's {mean:.0f} kn",
            "give the true speed of the gusts, or leave it out",
        )  # fmt: skip


def _signed(request: Request, angle: float) -> tuple[float, bool]:
    """Return the angle on the starboard tack and whether the boat is on port."""
    port = angle < 0.0 if request.tack is None else request.tack == "port"
    given = request.angle_deg if request.apparent_angle_deg is None else request.apparent_angle_deg
    # Dead downwind either tack will do, and "upwind" takes the one asked for.
    if not isinstance(given, float) or abs(given) == 180.0 or port is (given < 0.0):
        return abs(angle), port
    side = "port" if given < 0.0 else "starboard"
    raise InputError(
        "tack", request.tack, f"the angle {given:g}° lies over the {side} side",
        f"leave tack out, or give the angle as {-given:g}",
    )  # fmt: skip


def _whole_area(boat: Boat) -> float:
    cuts = (boat.plan.headsail, boat.plan.mainsail)
    return sum(sail_area(moulded(cut, 9, 9).nodes, triangles(9, 9, 0)) for cut in cuts)


def _heel(request: Request, boat: Boat, stream: Stream) -> float:
    if request.heel_deg is not None:
        return math.radians(
            _within("heel_deg", request.heel_deg, 0.0, 45.0, "give heel to leeward in degrees")
        )
    height = boat.plan.deck_height + 0.4 * boat.plan.mainsail.luff
    speed, angle = stream.apparent(np.array([height]))
    return first_heel(
        boat.hull, _whole_area(boat), height + 0.4 * boat.hull.draught, float(speed[0]),
        float(angle[0]),
    )  # fmt: skip


def _stream(request: Request, boat: Boat, flags: list[str]) -> tuple[Stream, bool]:
    apparent = (request.apparent_wind_kn, request.apparent_angle_deg)
    if apparent != (None, None):
        return _from_apparent(request, boat)
    if request.wind_kn is None:
        raise InputError("wind_kn", "nothing", "must be given", "add the wind's speed in knots")
    wind = from_knots(_check_wind("wind_kn", request.wind_kn))
    angle, port = _signed(request, _true_angle(request, boat, flags))
    angle = math.radians(angle)
    speed = _speed(request, boat, wind, angle)
    leeway = _leeway(request, angle)
    level = Stream(wind_profile(wind), angle, speed, leeway, 0.0)
    heel = _heel(request, boat, level)
    return Stream(level.profile, angle, speed, leeway, heel), port


def _speed(request: Request, boat: Boat, wind: float, angle: float) -> float:
    if request.speed_kn is not None:
        return from_knots(
            _within("speed_kn", request.speed_kn, 0.0, FASTEST_KN, "give knots through the water")
        )
    return first_speed(boat.hull, wind, angle)


def _leeway(request: Request, angle: float) -> float:
    if request.leeway_deg is not None:
        return math.radians(
            _within("leeway_deg", request.leeway_deg, -5.0, 20.0, "give degrees to leeward")
        )
    return first_leeway(angle)


def _from_apparent(request: Request, boat: Boat) -> tuple[Stream, bool]:
    wind, angle = request.apparent_wind_kn, request.apparent_angle_deg
    if wind is None or angle is None:
        name = "apparent_wind_kn" if wind is None else "apparent_angle_deg"
        raise InputError(name, "nothing", "apparent wind needs speed and angle", "give both")
    if request.wind_kn is not None or request.angle_deg is not None:
        raise InputError(
            "apparent_wind_kn", wind, "true and apparent wind are both given", "give one of them"
        )
    wind = _check_wind("apparent_wind_kn", wind)
    _within("apparent_angle_deg", angle, -180.0, 180.0, "give it off the bow, starboard positive")
    if abs(angle) < CLOSEST_APPARENT_DEG:
        raise UnsailableError(
            "apparent_angle_deg", angle,
            f"no boat sails closer than {CLOSEST_APPARENT_DEG:.0f}° to the apparent wind",
            "bear away",
        )  # fmt: skip
    angle, port = _signed(request, angle)
    angle, met = math.radians(angle), from_knots(wind)
    speed = _speed(request, boat, 0.75 * met, angle + 0.25)
    leeway = _leeway(request, angle + 0.25)
    level = from_apparent(met, angle, boat.sensor_height, speed, leeway, 0.0)
    heel = _heel(request, boat, level)
    return Stream(level.profile, level.wind_angle, speed, leeway, heel), port


def with_controls(boat: Boat, setting: Setting, given: dict[str, float], field: str) -> Setting:
    """Return the setting with the controls given, each within its travel.

    A sheet that is not given goes with the pole.

    Raises
    ------
    InputError
        For a control that the boat does not have, or a place beyond its travel.
    """
    for name, value in given.items():
        travel = boat.travel(name, field)
        if not travel.low - 1e-9 <= value <= travel.high + 1e-9:
            raise InputError(
                f"{field}.{name}", value,
                f"{boat.name}'s {boat.marks[name].rope} runs from {travel.low:g} to "
                f"{travel.high:g}", "give a place within its travel",
            )  # fmt: skip
        if travel.step == 1.0 and abs(value - round(value)) > 1e-9:
            raise InputError(f"{field}.{name}", value, "is counted in whole numbers", "round it")
    if given.get("pole"):
        _check_pole(given["pole"], field)
    there = setting.changed(**given)
    return there if "sheet" in given else _poled_anew(boat, setting, there)


ON_A_RUN = math.radians(150.0)
"""Apparent wind for which the headsail is sheeted to leeward when its pole is stowed [rad]."""


def _poled_anew(boat: Boat, setting: Setting, there: Setting) -> Setting:
    """Return a setting with the headsail's sheet to suit its pole, where that is rigged or stowed
    or comes to stand elsewhere: it leads another way.
    """
    if there.poled and setting.pole != there.pole:
        return poled(boat.plan, there, zero_of_sheet(boat), there.pole)
    if setting.poled and not there.poled:
        eased = first_guess(boat.plan, mark_setting(boat.plan), ON_A_RUN)
        return there.changed(sheet=eased.sheet)
    return there


def _check_pole(pole: float, field: str) -> None:
    """Refuse a pole that lies upon the forestay."""
    if pole < FOREMOST:
        raise InputError(
            f"{field}.pole", pole, f"less than {FOREMOST:g}° aft it lies upon the forestay",
            f"give at least {FOREMOST:g}, or 0 for stowed",
        )  # fmt: skip


def zero_of_sheet(boat: Boat) -> float:
    """Return the headsail sheet's length from winch to clew at its tape mark [m]."""
    wind = from_knots(12.0)
    angle = math.radians(UPWIND_DEG[boat.kind])
    speed = MARK_SPEED * first_speed(boat.hull, 2.0 * wind, angle)
    stream = Stream(wind_profile(wind), angle, speed, first_leeway(angle), 0.0)
    heel = _heel(Request(boat=boat.key), boat, stream)
    return sheet_zero(boat.plan, MESH, speed, heel)


def guessed(plan: SailPlan, stream: Stream) -> Setting:
    """Return a first guess of the setting for a course.

    Parameters
    ----------
    plan : SailPlan
    stream : Stream

    Returns
    -------
    Setting
    """
    height = plan.deck_height + 0.4 * plan.mainsail.luff
    _, angle = stream.apparent(np.array([height]))
    return first_guess(plan, mark_setting(plan), float(angle[0]))


def question(request: Request) -> Question:
    """Return what is asked, checked field by field.

    Parameters
    ----------
    request : Request

    Returns
    -------
    Question

    Raises
    ------
    InputError, UnsailableError, BoatFileError
        With field, value, limit and remedy.
    """
    boat = load_boat(request.boat)
    flags: list[str] = list(boat.assumed)
    stream, port = _stream(request, boat, flags)
    _check_gust(request, stream)
    _within("air_temp_c", request.air_temp_c, -30.0, 50.0, "give °C of the air")
    missing = {"sheet", "mainsheet"} - set(request.controls) - set(request.hold)
    base = guessed(boat.plan, stream) if missing else mark_setting(boat.plan)
    given = {**request.controls, **request.hold}
    setting = with_controls(boat, base, request.controls, "controls")
    setting = with_controls(boat, setting, request.hold, "hold")
    if setting.poled:
        setting = setting.changed(**given)
    elif "sheet" not in given and setting.value("furl") > 0.0:
        setting = rolled_up(boat.plan, base, setting.value("furl")).changed(**given)
    # A pole that is not given is stowed.
    if {entry.name for entry in boat.plan.controls} - {"pole"} - set(given):
        flags.append("controls not given stand at a first guess for this course")
    density = 101325.0 / (287.05 * (273.15 + request.air_temp_c))
    return Question(
        request, boat, stream, setting, zero_of_sheet(boat), density, port, tuple(flags)
    )
