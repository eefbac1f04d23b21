"""A catamaran builder's reef table against 70 % of the wind that lifts the windward hull.

The boat is one like the school's Eider: 12.2 m, 9.8 t, hulls 5.2 m apart, jib 30 m² and mainsail
50 m².
Each reef takes 15 % of the luff (common practice); areas shrink with it, centres come down.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.units import to_knots
from luffwright.water.catamaran import lift_off, lift_off_wind, two_hulls, working_wind
from luffwright.water.hull import Hull
from luffwright.water.reef_table import (
    ROUGH_SHARE,
    Canvas,
    Reefing,
    close_hauled,
    reef_table,
    row,
)

MANUAL = (
    "Owner's manual of a production cruising catamaran of 13 m, sail plan by apparent wind, "
    "close-hauled, calm sea"
)
TABLE = np.loadtxt(
    Path(__file__).parent / "data" / "reef_table_cat_13m.csv", delimiter=",", skiprows=4
)
HULL = Hull("catamaran", 12.2, 11.7, 6.7, 1.35, 0.62, 1.2, 9800.0, 5.2, 5.4, (0.0,), (0.0,))
LUFF, FOOT, HEAD, ROACH = 14.5, 5.1, 1.0, 6.0
JIB, JIB_FOOT, JIB_LUFF = 30.4, 2.0, 14.0
GOOSENECK, SIDE_FORCE_DEPTH = 3.4, 0.6
SCHOOL = load_boat("eider")
EIDER = Reefing(SCHOOL.plan, SCHOOL.hull, SCHOOL.sensor_height)
"""By the righting margin alone: the maker's table of her boat file is left out."""


def working_knots(reefs: float, jib: float) -> float:
    """Return the wind above which the boat should carry less than this."""
    left = 1.0 - 0.15 * reefs
    foot = HEAD + left * (FOOT - HEAD)
    mainsail = left * LUFF * (foot + HEAD) / 2.0 + ROACH * left
    centre = GOOSENECK + 0.42 * left * LUFF
    jib_area, jib_centre = jib * JIB, JIB_FOOT + 0.36 * JIB_LUFF * np.sqrt(jib)
    area = mainsail + jib_area
    lever = (mainsail * centre + jib_area * jib_centre) / area + SIDE_FORCE_DEPTH
    moment = lift_off(two_hulls(HULL, 1.0)).moment
    return to_knots(working_wind(lift_off_wind(moment, area, float(lever))))


@pytest.mark.source(
    work=MANUAL,
    where="the wind up to which each reduced sail plan holds: 26, 30 and 36 kn",
    tolerance="rel 10 %: another boat of the same size",
)
@pytest.mark.parametrize("row", TABLE[1:].tolist())
def test_the_reefed_sail_plans(row: list[float]) -> None:
    assert working_knots(row[1], row[2]) == pytest.approx(row[0], rel=0.10)


@pytest.mark.xfail(
    strict=True,
    reason="the builder takes the first reef at 20 kn, 0.58 of the wind that lifts the hull; 0.70 "
    "of it is 24 kn here; a maker's table, where there is one, is to be obeyed",
)
@pytest.mark.source(
    work=MANUAL,
    where="the wind up to which full sail holds: 20 kn",
    tolerance="rel 10 % asked of the first reef",
)
def test_the_first_reef() -> None:
    assert working_knots(0.0, 1.0) == pytest.approx(TABLE[0, 0], rel=0.10)


@pytest.mark.source(
    work=MANUAL,
    where="sense: full sail is never called safe beyond the table's one-reef step, 26 kn",
    tolerance="one-sided",
)
def test_full_sail_is_not_held_into_the_second_step() -> None:
    assert TABLE[0, 0] < working_knots(0.0, 1.0) < TABLE[1, 0]


@pytest.mark.source(
    work=MANUAL,
    where="the wind up to which each reduced sail plan holds: 26, 30 and 36 kn, against Eider's "
    "own table, from the sails of her boat file",
    tolerance="rel 10 %: another boat of the same size, and each maker's reef takes another share",
)
@pytest.mark.parametrize("line", TABLE[1:].tolist())
def test_eiders_own_table_is_of_the_builders_size(line: list[float]) -> None:
    canvas = Canvas(int(line[1]), 1.0 - float(np.sqrt(line[2])))
    assert to_knots(row(EIDER, canvas).limit) == pytest.approx(line[0], rel=0.10)


@pytest.mark.source(
    work=MANUAL,
    where="sense: first reef between the table's first and second step, 20 to 26 kn apparent; with "
    "all reefs and a rolled jib she stands beyond the last, 36 kn",
    tolerance="one-sided",
)
def test_eiders_table_begins_and_ends_about_where_the_builders_does() -> None:
    table = reef_table(EIDER)
    assert TABLE[0, 0] < to_knots(table[0].limit) < TABLE[1, 0]
    assert to_knots(table[-1].limit) > TABLE[-1, 0]


@pytest.mark.source(
    work="The same manuals of a production catamaran",
    where="calm-sea values; in a rough sea each reef 10 % earlier",
    tolerance="exact",
)
def test_a_rough_sea_brings_each_reef_a_tenth_earlier() -> None:
    rough = replace(EIDER, share=ROUGH_SHARE)
    for count in range(4):
        calm = row(EIDER, Canvas(count)).limit
        assert row(rough, Canvas(count)).limit == pytest.approx(0.9 * calm)


@pytest.mark.source(
    work="A cruising magazine's advice on catamarans, 2018",
    where="the table is kept in true wind: the apparent wind falls downwind and jumps on rounding "
    "up; in 20 kn of true wind a boat of this size at 8 kn meets 26 kn close-hauled, by the "
    "triangle of winds, worked out by hand at 10 m",
    tolerance="one-sided for the fall; 10 % for the sum: the masthead stands in more wind",
)
def test_the_wind_that_counts_is_met_on_rounding_up() -> None:
    twenty = 20.0 * 1852.0 / 3600.0
    for line in reef_table(EIDER):
        assert line.running < line.true < line.limit
    by_hand = float(
        np.hypot(20.0 * np.cos(np.radians(50.0)) + 8.0, 20.0 * np.sin(np.radians(50.0)))
    )
    assert to_knots(close_hauled(EIDER, twenty)) == pytest.approx(by_hand, rel=0.10)
