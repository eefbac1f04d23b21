"""Which reef in which wind: the lower of the righting margin and the maker's table."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from luffwright.aboard.boat import load_boat
from luffwright.aboard.reefing import reefing_of
from luffwright.errors import InputError
from luffwright.units import from_knots, to_knots
from luffwright.water.estimate import GRAVITY
from luffwright.water.reef_table import (
    Canvas,
    MakerStep,
    Reefing,
    close_hauled,
    lifting_wind,
    maker_limit,
    met,
    reef_table,
    righting_limit,
    row,
    sails_set,
    taken_in,
    true_of,
)

BOAT = load_boat("eider")
BARE = Reefing(BOAT.plan, BOAT.hull, BOAT.sensor_height)
MARRAM = load_boat("marram")
ONE = Reefing(MARRAM.plan, MARRAM.hull, MARRAM.sensor_height)
FULL = Canvas()
LINES = (MakerStep(from_knots(20.0), FULL), MakerStep(from_knots(26.0), Canvas(1)))


def knots(boat: Reefing, canvas: Canvas) -> float:
    return to_knots(row(boat, canvas).limit)


def test_the_sails_that_are_set_are_those_of_the_plan() -> None:
    """Areas of the straight triangle and the straight quadrilateral, roach apart."""
    whole, main = sails_set(BOAT.plan, FULL), BOAT.plan.mainsail
    jib = 0.5 * 14.0 * 4.35
    straight = 0.5 * main.luff * (main.foot + main.head_width)
    assert whole.area == pytest.approx(jib + straight, rel=0.12)
    assert sails_set(BOAT.plan, Canvas(rolled=0.5)).area == pytest.approx(
        whole.area - 0.75 * jib, rel=0.03
    )


def test_each_reef_makes_less_sail_lower_down() -> None:
    sails = [sails_set(BOAT.plan, Canvas(count)) for count in range(4)]
    assert all(b.area < a.area and b.height < a.height for a, b in pairwise(sails))


def test_the_wind_that_lifts_her_has_the_pressure_to_do_it() -> None:
    """By hand: half of the density, wind squared, area and 1.57, at the lever, is the moment."""
    wind, sails = lifting_wind(BARE, FULL), sails_set(BOAT.plan, FULL)
    push = 0.5 * 1.225 * wind**2 * sails.area * 1.57
    moment = push * (sails.height + 0.4 * BOAT.hull.draught)
    assert moment == pytest.approx(righting_limit(BARE), rel=1e-3)


def test_the_lower_of_spacing_and_stability_curve_rights_her() -> None:
    half = tuple(0.5 * lever for lever in BOAT.hull.righting_lever)
    weak = replace(BARE, hull=replace(BOAT.hull, righting_lever=half))
    most = GRAVITY * BOAT.hull.displacement * max(half)
    assert righting_limit(weak) == pytest.approx(most)
    assert righting_limit(BARE) <= GRAVITY * BOAT.hull.displacement * 0.5 * BOAT.hull.hull_spacing


def test_a_higher_weight_takes_the_reef_earlier() -> None:
    high = replace(BARE, centre_height=2.0)
    assert row(high, FULL).limit < row(BARE, FULL).limit


def test_seven_tenths_of_the_lifting_wind_is_the_margin_and_less_in_a_rough_sea() -> None:
    found = row(BARE, FULL)
    assert found.by == "margin"
    assert found.limit == pytest.approx(0.7 * found.lift)
    assert row(replace(BARE, share=0.9), FULL).limit == pytest.approx(0.63 * found.lift)


def test_the_lower_of_margin_and_maker_is_obeyed() -> None:
    own = replace(BARE, maker=LINES)
    assert row(own, FULL).by == "maker"
    assert knots(own, FULL) == pytest.approx(20.0)
    bold = replace(BARE, maker=(MakerStep(from_knots(40.0), FULL),))
    assert (row(bold, FULL).by, row(bold, FULL).limit) == ("margin", row(BARE, FULL).limit)


def test_a_makers_true_wind_is_met_close_hauled() -> None:
    own = replace(BARE, maker=(MakerStep(from_knots(14.0), FULL, apparent=False),))
    assert maker_limit(own, FULL) == pytest.approx(close_hauled(own, from_knots(14.0)))
    assert row(own, FULL).true == pytest.approx(from_knots(14.0), rel=1e-6)


def test_more_sail_than_the_makers_first_line_is_never_allowed() -> None:
    own = replace(BARE, maker=(MakerStep(from_knots(20.0), Canvas(1)),))
    assert maker_limit(own, FULL) == 0.0
    assert taken_in(own, from_knots(10.0), FULL) == Canvas(1)


def test_a_rolled_jib_does_not_stand_for_a_reef_that_the_maker_asks_for() -> None:
    own = replace(BARE, maker=LINES)
    assert knots(own, Canvas(0, 0.6)) == pytest.approx(20.0)
    assert knots(own, Canvas(2)) == pytest.approx(26.0)


def test_a_third_reef_does_not_stand_for_a_jib_that_the_maker_wants_rolled() -> None:
    two = Canvas(2, 0.1)
    lines = (MakerStep(from_knots(20.0), FULL), MakerStep(from_knots(30.0), two))
    own = replace(BARE, maker=lines)
    assert sails_set(BOAT.plan, Canvas(3)).area < sails_set(BOAT.plan, two).area
    assert maker_limit(own, Canvas(3)) == pytest.approx(from_knots(20.0))
    assert maker_limit(own, Canvas(3, 0.1)) == pytest.approx(from_knots(30.0))
    assert taken_in(own, from_knots(22.0), FULL) == two


def test_a_jib_that_cannot_be_rolled_is_made_good_by_reefs() -> None:
    controls = tuple(it for it in BOAT.plan.controls if it.name != "furl")
    two = Canvas(2, 0.1)
    lines = (MakerStep(from_knots(20.0), FULL), MakerStep(from_knots(30.0), two))
    own = replace(BARE, plan=replace(BOAT.plan, controls=controls), maker=lines)
    assert maker_limit(own, Canvas(2)) == pytest.approx(from_knots(20.0))
    assert taken_in(own, from_knots(22.0), FULL) == Canvas(3)


def test_true_and_apparent_wind_lead_back_to_each_other() -> None:
    assert true_of(BARE, close_hauled(BARE, 9.0)) == pytest.approx(9.0)
    assert true_of(BARE, 500.0) == 40.0


def test_off_the_wind_the_same_true_wind_is_felt_as_less() -> None:
    found = row(BARE, FULL)
    assert found.running < found.reaching < found.limit
    assert found.running < found.true < found.limit


def test_a_boat_that_stands_still_meets_the_true_wind_at_her_masthead() -> None:
    found = met(BARE, 8.0, math.pi, 0.0)
    # 8 m/s at 10 m is some 5 % more at 19 m over the sea.
    assert found == pytest.approx(8.0 * 1.05, rel=0.02)


@pytest.mark.parametrize("boat", [BARE, replace(BARE, maker=LINES)], ids=["margin", "maker"])
def test_the_table_asks_for_less_sail_in_more_wind(boat: Reefing) -> None:
    table = reef_table(boat)
    assert table[0].canvas == FULL
    assert [it.sails.area for it in table] == sorted((it.sails.area for it in table), reverse=True)
    asked = [taken_in(boat, from_knots(wind), FULL) for wind in range(10, 36, 2)]
    areas = [sails_set(boat.plan, it).area for it in asked if it is not None]
    assert areas == sorted(areas, reverse=True)
    assert areas[-1] < areas[0]


def test_what_is_little_enough_stays_and_what_is_too_much_wind_has_no_answer() -> None:
    assert taken_in(BARE, from_knots(15.0), Canvas(2, 0.3)) == Canvas(2, 0.3)
    assert taken_in(BARE, from_knots(80.0), FULL) is None


def test_a_monohull_without_a_makers_table_has_none_and_with_it_obeys_it() -> None:
    assert reef_table(ONE) == ()
    own = replace(ONE, maker=LINES)
    assert math.isinf(row(own, FULL).margin)
    assert taken_in(own, from_knots(22.0), FULL) == Canvas(1)


def test_a_wind_that_is_none_is_refused() -> None:
    with pytest.raises(InputError, match="0 or more"):
        taken_in(BARE, math.nan, FULL)


def test_the_makers_lines_of_the_boat_file_arrive_in_si() -> None:
    boat = reefing_of(BOAT.file, BOAT.plan, BOAT.hull)
    assert boat.maker[0] == MakerStep(pytest.approx(from_knots(21.0)), FULL)  # type: ignore[arg-type]
    # Four fifths of the area are left where 1 - √0.8 of the luff perpendicular is rolled away.
    assert boat.maker[2].canvas.rolled == pytest.approx(0.1056, abs=1e-4)
    jib = [sails_set(boat.plan, Canvas(0, share)).area for share in (0.0, 0.1056, 0.9999)]
    assert (jib[1] - jib[2]) / (jib[0] - jib[2]) == pytest.approx(0.8, abs=0.01)
