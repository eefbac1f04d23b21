"""The first guess of the sheets: geometry of boom and clew, within what ropes can do."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from luffwright.aboard.boat import boat_keys, load_boat
from luffwright.advice.first_guess import _mainsheet_for, first_guess, resheeted
from luffwright.sails.sheet_mark import mark_setting

BOATS = boat_keys()


@pytest.mark.parametrize("key", BOATS)
def test_close_hauled_both_sheets_stay_at_their_marks(key: str) -> None:
    plan = load_boat(key).plan
    marks = mark_setting(plan)
    for angle_deg in (15.0, 27.0):
        found = first_guess(plan, marks, math.radians(angle_deg))
        assert found.sheet == pytest.approx(marks.sheet, abs=1e-12)
        assert found.mainsheet == pytest.approx(marks.mainsheet, abs=1e-12)


@pytest.mark.parametrize("key", BOATS)
def test_further_off_the_wind_both_sheets_are_eased_and_never_beyond_their_travel(key: str) -> None:
    plan = load_boat(key).plan
    high = {entry.name: entry.high for entry in plan.controls}
    angles = np.radians(np.arange(25.0, 181.0, 5.0))
    found = [first_guess(plan, mark_setting(plan), float(angle)) for angle in angles]
    for name in ("sheet", "mainsheet"):
        eased = [setting.value(name) for setting in found]
        assert np.all(np.diff(eased) >= 0.0), name
        assert eased[-1] > eased[0] + 0.5, name
        assert max(eased) <= high[name], name


@pytest.mark.parametrize("key", BOATS)
def test_nothing_but_the_sheets_is_touched(key: str) -> None:
    plan = load_boat(key).plan
    marks = mark_setting(plan)
    found = first_guess(plan, marks, math.radians(100.0))
    assert found.changed(sheet=marks.sheet, mainsheet=marks.mainsheet) == marks


@pytest.mark.parametrize("angle_deg", [0.0, 20.0, 60.0])
def test_the_mainsheet_follows_the_circle_of_the_boom(angle_deg: float) -> None:
    """Car below the boom's block: chord 2 r sin(a/2) of the circle, height h, Pythagoras."""
    plan = load_boat("marram").plan
    gear, drop = plan.mainsail_gear, 1.5
    below = (gear.tack[0] - gear.sheet_at, 0.0, gear.tack[2] - drop)
    plan = replace(plan, mainsail_gear=replace(gear, traveller=below))
    chord = 2.0 * gear.sheet_at * math.sin(0.5 * math.radians(angle_deg))
    rope = gear.sheet_parts * (math.hypot(chord, drop) - drop)
    assert _mainsheet_for(plan, math.radians(angle_deg)) == pytest.approx(rope)


@pytest.mark.parametrize("key", BOATS)
def test_rolling_a_headsail_and_unrolling_it_brings_the_sheet_back(key: str) -> None:
    plan = load_boat(key).plan
    whole = mark_setting(plan)
    rolled = resheeted(plan, whole, 0.3)
    assert rolled.furl == 0.3
    assert abs(rolled.sheet - whole.sheet) > 0.1
    back = resheeted(plan, rolled, whole.value("furl"))
    assert back.sheet == pytest.approx(whole.sheet)
