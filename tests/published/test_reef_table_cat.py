"""A catamaran builder's reef table against 70 % of the wind that lifts the windward hull.

The boat is one like the school's Eider: 12.2 m, 9.8 t, hulls 5.2 m apart, jib 30 m² and mainsail
50 m².
Each reef takes 15 % of the luff (common practice); areas shrink with it, centres come down.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from luffwright.units import to_knots
from luffwright.water.catamaran import lift_off, lift_off_wind, two_hulls, working_wind
from luffwright.water.hull import Hull

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
