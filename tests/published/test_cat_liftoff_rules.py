"""The wind that lifts a catamaran's windward hull against printed rules and worked figures."""

from __future__ import annotations

import math

import pytest

from luffwright.units import to_knots
from luffwright.water.catamaran import TwoHulls, lift_off, lift_off_wind, working_wind

POUND, FOOT = 0.45359237, 0.3048
TEN_TONNES = 10_000.0 * 9.81 * 5.3 / 2.0


@pytest.mark.source(
    work="A designer's rule for the wind that lifts a catamaran's hull, quoted by a builder",
    where="knots = 13.7 √(½ W B / (S h)), pounds and feet; four boats across the range",
    tolerance="rel 0.3 %: the rule prints three digits",
)
@pytest.mark.parametrize(
    ("pounds", "beam_ft", "area_sqft", "height_ft"),
    [
        (3000, 12, 300, 15),
        (12_000, 16, 650, 24),
        (22_046, 17.4, 1022, 29.5),
        (40_000, 24, 1600, 36),
    ],
)
def test_the_designers_rule(
    pounds: float, beam_ft: float, area_sqft: float, height_ft: float
) -> None:
    printed = 13.7 * math.sqrt(pounds * 0.5 * beam_ft / (area_sqft * height_ft))
    moment = pounds * POUND * 9.80665 * 0.5 * beam_ft * FOOT
    found = lift_off_wind(moment, area_sqft * FOOT**2, height_ft * FOOT)
    assert to_knots(found) == pytest.approx(printed, rel=3e-3)


@pytest.mark.source(
    work="46 CFR 171.057, Intact stability requirements for a sailing catamaran",
    where="0.1 W B / (As Hc) at least 4.88 kg/m² (protected) or 7.32 (exposed waters): as a "
    "wind at force coefficients 1.57 and 1.75, worked out by hand",
    tolerance="abs 0.1 kn: rounded there",
)
@pytest.mark.parametrize(
    ("limit", "coefficient", "knots"),
    [(4.88, 1.57, 30.7), (7.32, 1.57, 37.6), (4.88, 1.75, 29.1), (7.32, 1.75, 35.6)],
)
def test_the_passenger_catamarans_rule_as_a_wind(
    limit: float, coefficient: float, knots: float
) -> None:
    moment = limit / 0.1 * 9.81 * 0.5  # W g B / 2 of a boat with one m³ of As Hc
    assert to_knots(lift_off_wind(moment, 1.0, 1.0, coefficient)) == pytest.approx(knots, abs=0.1)


@pytest.mark.source(
    work="ISO 12217-2 as worded in the owner's manual of a 40 ft production catamaran",
    where="the stated wind is not greater than 70 % of that required to lift the windward hull; a "
    "boat of 10 t, hulls 5.3 m apart, 95 m² at 9 m, worked out by hand: lift at 34.6 and 32.7 kn, "
    "70 % is 24.2 and 22.9",
    tolerance="abs 0.1 kn: rounded there",
)
@pytest.mark.parametrize(
    ("coefficient", "lift", "working"), [(1.57, 34.6, 24.2), (1.75, 32.7, 22.9)]
)
def test_seventy_per_cent_of_the_lifting_wind(
    coefficient: float, lift: float, working: float
) -> None:
    found = lift_off_wind(TEN_TONNES, 95.0, 9.0, coefficient)
    assert to_knots(found) == pytest.approx(lift, abs=0.1)
    assert to_knots(working_wind(found)) == pytest.approx(working, abs=0.1)


@pytest.mark.source(
    work="Greatest static righting moment of a catamaran, textbook of naval architecture (from "
    "memory)",
    where="weight times half the spacing of the hulls; the weight low and the hulls shallow",
    tolerance="rel 0.2 % with shallow hulls; a cruising boat's never above, at most 15 % below",
)
def test_the_greatest_righting_moment() -> None:
    shallow = TwoHulls(10_000.0, 5.3, 160.0, 0.05, 0.0)
    assert lift_off(shallow).moment == pytest.approx(TEN_TONNES, rel=2e-3)
    cruising = lift_off(TwoHulls(10_000.0, 5.3, 11.0, 0.65, 1.2)).moment
    assert 0.85 * TEN_TONNES < cruising < TEN_TONNES
