"""What sea and gusts do to a boat against closed forms of linear waves and findings in print."""

from __future__ import annotations

import math

import numpy as np
import pytest

from luffwright.air.stream import Stream
from luffwright.air.wind import wind_profile
from luffwright.water.hull import Hull
from luffwright.water.sea import Sea
from luffwright.water.waves import added_resistance
from luffwright.water.waves_motion import Turbulence, incidence_swing, motion_rates, turbulence_of

CALM_AIR = Turbulence(0.0, 0.0)
GERRITSMA = (
    "Gerritsma, Keuning and Onnink, Sailing yacht performance in calm water and in waves, report "
    "925-P, Delft, 1992 (abstract)"
)


def hull(length: float = 10.0, displacement: float = 7000.0, draught: float = 0.5) -> Hull:
    """Return a monohull."""
    return Hull(
        "monohull", 1.1 * length, length, 0.36 * length, 0.3 * length, draught, 1.9, displacement,
        0.0, 0.5 * length, (0.0,), (0.0,),
    )  # fmt: skip


CORK = hull(1e-3, 1.0, 1e-5)


@pytest.mark.source(
    work="Ratio of mean zero-crossing to peak period of the two-parameter spectrum (from memory)",
    where="Tz = 0.710 Tp: the water's speed has the deviation 2π / Tz times that of its height",
    tolerance="rel 0.5 %: three digits, frequencies to 15 times the peak",
)
@pytest.mark.parametrize("angle_deg", [0.0, 50.0, 90.0, 180.0])
def test_a_cork_goes_with_the_water(angle_deg: float) -> None:
    sea, angle = Sea(1.2, 5.0), math.radians(angle_deg)
    stream = Stream(wind_profile(6.0), angle, 0.0, 0.0, 0.0)
    swing = incidence_swing(np.array([0.0]), stream, sea, CORK, turbulence=CALM_AIR)
    printed = 0.25 * sea.height * 2.0 * math.pi / (0.710 * sea.period)
    # The wind blows along the waves' course: all of it is speed, nothing is angle.
    assert swing.speed[0] == pytest.approx(printed, rel=5e-3)
    assert swing.incidence[0] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.source(
    work="Airy, Tides and waves, Encyclopaedia Metropolitana, 1845: linear waves, closed form",
    where="a boat that rides a long wave of amplitude a pitches with k ω a, and masthead and water "
    "move against each other: ω a - k ω a z, nought at z = g / ω²",
    tolerance="rel 2 %: sum over 40 000 single waves against 200",
)
def test_masthead_and_water_move_against_each_other() -> None:
    """Sum of single waves by hand: v² of each frequency under the same spectrum."""
    sea = Sea(1.0, 8.0)
    frequency = np.linspace(0.25, 11.7, 40_000)
    ratio = sea.peak / frequency
    density = 0.3125 / sea.peak * ratio**5 * np.exp(-1.25 * ratio**4)
    k, long = frequency**2 / 9.81, hull(2.0, 100.0, 0.05)
    x = k * 1.0
    pitch = k * frequency * 3.0 * (np.sin(x) - x * np.cos(x)) / x**3 * np.exp(-0.05 * k)
    drift = frequency * np.sin(x) / x * np.exp(-0.05 * k)
    stream = Stream(wind_profile(6.0), 0.0, 0.0, 0.0, 0.0)
    heights = np.array([0.0, 6.0, 12.0, 20.0])
    swing = incidence_swing(heights, stream, sea, long, turbulence=CALM_AIR)
    apart = [
        math.sqrt(np.trapezoid((drift - pitch * z) ** 2 * density, frequency)) for z in heights
    ]
    assert swing.speed == pytest.approx(apart, rel=0.02)
    rate = math.sqrt(np.trapezoid(pitch**2 * density, frequency))
    assert motion_rates(sea, long, 0.0, 0.0).pitch == pytest.approx(rate, rel=0.02)


@pytest.mark.source(
    work="Panofsky and Dutton, Atmospheric Turbulence, Wiley, 1984 (from memory)",
    where="neutral air: deviation along the wind over its speed is about 1 / ln(z / z0)",
    tolerance="rel 6 %: their 2.39 times the Karman constant of 0.4 is not quite one",
)
@pytest.mark.parametrize("wind", [5.0, 10.0, 15.0])
def test_gustiness_over_the_sea(wind: float) -> None:
    profile = wind_profile(wind)
    found = turbulence_of(profile.friction).along / wind
    assert found == pytest.approx(1.0 / math.log(10.0 / profile.roughness), rel=0.06)


@pytest.mark.source(
    work=GERRITSMA,
    where="added resistance is of second order in the waves' height and grows with displacement "
    "over length",
    tolerance="exact square; sense only for the displacement",
)
def test_added_resistance_goes_with_the_square_of_height() -> None:
    boat = hull()
    one = added_resistance(Sea(0.5, 3.0), boat, 0.6).resistance
    assert added_resistance(Sea(1.0, 3.0), boat, 0.6).resistance == pytest.approx(4.0 * one)
    assert added_resistance(Sea(0.0, 3.0), boat, 0.6).resistance == 0.0
    assert added_resistance(Sea(0.5, 3.0), hull(10.0, 9000.0), 0.6).resistance > one


@pytest.mark.source(
    work="Added resistance in waves, textbooks of seakeeping (from memory)",
    where="greatest in head seas whose waves are about as long as the waterline",
    tolerance="length of the peak's waves 0.8 to 2 waterlines, for boats of 7 to 13 m",
)
@pytest.mark.parametrize("length", [7.0, 10.0, 13.0])
def test_waves_as_long_as_the_boat_cost_most(length: float) -> None:
    periods = np.linspace(1.0, 9.0, 161)
    found = [added_resistance(Sea(0.5, float(at)), hull(length), 0.0).resistance for at in periods]
    worst = periods[int(np.argmax(found))]
    assert 0.8 < 9.81 * worst**2 / (2.0 * math.pi) / length < 2.0
    angles = np.radians([0.0, 45.0, 90.0, 135.0, 180.0])
    by_angle = [added_resistance(Sea(0.5, 3.0), hull(length), at).resistance for at in angles]
    assert np.all(np.diff(by_angle) < 0.0)
