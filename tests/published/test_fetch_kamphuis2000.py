"""How a sea grows with wind, fetch and duration, against printed relations and an exercise."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from luffwright.water.sea import named_sea, sea_of_height, wind_sea

KAMPHUIS = (
    "Kamphuis, Introduction to Coastal Engineering and Management, World Scientific, 2000 (the "
    "JONSWAP relations, as in two course texts)"
)
TABLE = np.loadtxt(
    Path(__file__).parent / "data" / "wind_sea_fetch.csv", delimiter=",", skiprows=5
).tolist()
HOUR = 3600.0
WITHIN = "abs 0.006 m, 0.06 s: rounded there"


@pytest.mark.source(
    work=KAMPHUIS,
    where="heights and periods for winds of 5 to 20 m/s over 5 to 200 km, worked out by hand",
    tolerance=WITHIN,
)
@pytest.mark.parametrize(("wind", "fetch_km", "height", "period"), TABLE)
def test_growth_with_fetch(wind: float, fetch_km: float, height: float, period: float) -> None:
    sea = wind_sea(wind, 1000.0 * fetch_km)
    assert sea.height == pytest.approx(height, abs=6e-3)
    assert sea.period == pytest.approx(period, abs=0.06)


@pytest.mark.source(
    work=KAMPHUIS,
    where="long fetch, 10 and 15 m/s blowing for 1, 3, 6 and 12 hours, worked out by hand",
    tolerance=WITHIN,
)
@pytest.mark.parametrize(
    ("wind", "hours", "height", "period"),
    [
        (10.0, 1, 0.31, 2.1), (10.0, 3, 0.71, 3.6), (10.0, 6, 1.20, 5.1), (10.0, 12, 2.02, 7.2),
        (15.0, 1, 0.52, 2.6), (15.0, 3, 1.18, 4.4), (15.0, 6, 1.99, 6.3), (15.0, 12, 3.35, 8.9),
    ],
)  # fmt: skip
def test_growth_with_duration(wind: float, hours: float, height: float, period: float) -> None:
    sea = wind_sea(wind, 1e7, hours * HOUR)
    assert sea.height == pytest.approx(height, abs=6e-3)
    assert sea.period == pytest.approx(period, abs=0.06)


EXERCISE = "Course text's exercise on wave growth: 15 m/s over 200 km for 10 hours"


@pytest.mark.source(
    work=EXERCISE,
    where="printed answer 3.42 m, 9.0 s: that of the fetch alone",
    tolerance="abs 0.01 m, 0.06 s",
)
def test_the_exercise_as_printed_leaves_the_duration_out() -> None:
    sea = wind_sea(15.0, 200_000.0)
    assert sea.height == pytest.approx(3.42, abs=0.01)
    assert sea.period == pytest.approx(9.0, abs=0.06)


@pytest.mark.source(
    work=EXERCISE,
    where="the same with its duration, which is shorter than the fetch asks for: fetch without "
    "dimension 6330 in place of 8720, 2.92 m, 8.1 s, worked out by hand",
    tolerance="abs 0.01 m, 0.06 s",
)
def test_the_exercise_with_its_duration() -> None:
    sea = wind_sea(15.0, 200_000.0, 10.0 * HOUR)
    assert sea.height == pytest.approx(2.92, abs=0.01)
    assert sea.period == pytest.approx(8.1, abs=0.06)


@pytest.mark.source(
    work=KAMPHUIS,
    where="the table above read the other way: period of a sea of given height",
    tolerance="abs 0.07 s: height and period are rounded there",
)
@pytest.mark.parametrize(("wind", "fetch_km", "height", "period"), TABLE)
def test_period_of_a_sea_of_given_height(
    wind: float, fetch_km: float, height: float, period: float
) -> None:
    assert sea_of_height(height, wind).period == pytest.approx(period, abs=0.07)


@pytest.mark.source(
    work="World Meteorological Organization, sea state code 3700 (from memory)",
    where="lower bounds of smooth, slight, moderate and rough: 0.1, 0.5, 1.25, 2.5 m",
    tolerance="rel 5 %: one of the four is rounded here",
)
def test_the_words_of_the_sea() -> None:
    heights = [named_sea(word, 8.0).height for word in ("flat", "slight", "moderate", "rough")]
    assert heights == pytest.approx([0.1, 0.5, 1.25, 2.5], rel=0.05)


@pytest.mark.source(
    work="Beaufort scale, Met Office table: probable heights of waves in the open sea",
    where="forces 3 to 8, middle of each in m/s: 0.6, 1.0, 2.0, 3.0, 4.0, 5.5 m",
    tolerance="rel 25 %: waves after half a day on a long fetch against probable ones",
)
@pytest.mark.parametrize(
    ("wind", "height"),
    [(4.4, 0.6), (6.7, 1.0), (9.35, 2.0), (12.3, 3.0), (15.5, 4.0), (18.95, 5.5)],
)
def test_the_open_sea_is_of_the_size_that_beaufort_tells(wind: float, height: float) -> None:
    found = wind_sea(wind, math.inf, 12.0 * HOUR).height
    assert found == pytest.approx(height, rel=0.25)
