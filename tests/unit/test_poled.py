"""The headsail on its pole: what the boat file says, where it stands, how it is told and drawn."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import pytest

from luffwright.aboard.boat import Boat, load_boat
from luffwright.advice.poled import BOWLINE, FOREMOST, FULL, free_with, poled, square_to
from luffwright.advice.task import Reached
from luffwright.app.caution import POLE, Seen, cautions
from luffwright.app.fix_sample import condition, sailing
from luffwright.app.fly import flown
from luffwright.app.picture import picture
from luffwright.app.question import Question, question, with_controls
from luffwright.app.report import lee_of
from luffwright.app.request import Request
from luffwright.app.trim_pole import invited
from luffwright.errors import BoatFileError, InputError
from luffwright.faces.draw.tuft import place_on
from luffwright.sails.cut import moulded
from luffwright.sails.flight import Flight
from luffwright.sails.measure import sections, track_forces
from luffwright.sails.placing import (
    headsail_axis,
    lead_place,
    place_headsail,
    pole_end,
    winch_place,
)
from luffwright.sails.rigging import Mesh, rig
from luffwright.sails.ropes import KNOT

MARRAM = load_boat("marram")
POLE_M, ABOVE_DECK_M = 4.1, 1.5


def text_of(boat: Boat) -> str:
    """Return the boat's file as it was typed in."""
    folder = Path(__file__).parents[2] / "src" / "luffwright" / "aboard" / "demo"
    return (folder / f"{boat.key}.toml").read_text(encoding="utf-8")


def changed(tmp_path: Path, old: str, new: str) -> str:
    """Return the name of a file like Marram's with some of it written otherwise."""
    whole = text_of(MARRAM)
    assert old in whole
    file = tmp_path / "marram.toml"
    file.write_text(whole.replace(old, new), encoding="utf-8")
    return str(file)


def asked(**fields: object) -> Question:
    """Return a question about Marram on a run in 12 knots."""
    known: dict[str, object] = {"boat": "marram", "wind_kn": 12.0, "angle_deg": 175.0}
    return question(Request.model_validate({**known, **fields}))


@cache
def sailed(pole: float) -> tuple[Question, Flight]:
    """Return Marram's sails on a run with the pole so far aft; 0 = stowed."""
    it = asked(controls={"pole": pole})
    flight = flown(it)
    assert flight.settled
    return it, flight


def test_only_a_boat_with_a_pole_has_the_control() -> None:
    assert MARRAM.travel("pole").rest == 0.0
    for name in ("dunlin", "eider"):
        with pytest.raises(InputError, match="no such control"):
            load_boat(name).travel("pole")


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("pole_above_deck_m = 1.5", "", "deck.headsail.pole_above_deck_m"),
        ("pole_m = 4.1", "", "deck.headsail.pole_m"),
        ("pole_m = 4.1", "pole_m = 41.0", "deck.headsail.pole_m"),
        ("pole_m = 4.1", "pole_mm = 4100", "deck.headsail.pole_mm"),
    ],
)
def test_a_pole_that_is_half_told_or_out_of_range_is_refused_by_its_field(
    tmp_path: Path, old: str, new: str, field: str
) -> None:
    with pytest.raises(BoatFileError) as refused:
        load_boat(changed(tmp_path, old, new))
    assert refused.value.field == field


def test_the_mark_tells_the_angle_in_words_and_reads_them_back() -> None:
    mark = MARRAM.marks["pole"]
    assert mark.text(70.0) == "70° aft of right ahead"
    assert mark.text(0.0) == "stowed"
    for words, value in (
        ("70° aft of right ahead", 70.0), ("70 degrees aft", 70.0), ("85", 85.0), ("stowed", 0.0),
    ):  # fmt: skip
        assert mark.position(words) == value
    assert mark.move(70.0, 80.0).startswith("GENOA POLE 10° aft (")


@pytest.mark.parametrize("angle", [40.0, 70.0, 90.0])
def test_the_poles_end_is_its_length_from_the_mast_to_windward_and_level(angle: float) -> None:
    end = pole_end(MARRAM.plan, MARRAM.resting().changed(pole=angle))
    height = MARRAM.plan.deck_height + ABOVE_DECK_M
    mast = np.array([-np.tan(MARRAM.plan.mast.rake) * ABOVE_DECK_M, 0.0, height])
    assert end[2] == pytest.approx(height)
    assert np.linalg.norm(end - mast) == pytest.approx(POLE_M)
    assert np.degrees(np.arctan2(-end[1], (end - mast)[0])) == pytest.approx(angle)


def test_the_sheet_leads_over_the_poles_end_to_the_windward_winch() -> None:
    out = MARRAM.resting().changed(pole=70.0)
    assert lead_place(MARRAM.plan, out) == pytest.approx(pole_end(MARRAM.plan, out))
    lee = winch_place(MARRAM.plan, MARRAM.resting())
    assert winch_place(MARRAM.plan, out) == pytest.approx(lee * [1.0, -1.0, 1.0])


def test_the_sail_hangs_on_the_windward_side_with_its_belly_forward() -> None:
    plan, out = MARRAM.plan, MARRAM.resting().changed(pole=70.0)
    grid = place_headsail(plan, moulded(plan.headsail, 7, 7), out).reshape(7, 7, 3)
    end, tack = pole_end(plan, out), headsail_axis(plan)[0]
    clew = grid[0, -1]
    assert clew[1] < -2.0
    # Its foot points at the pole's end, seen from above, as near as a start needs.
    foot, way = clew[:2] - tack[:2], end[:2] - tack[:2]
    cosine = foot @ way / (np.linalg.norm(foot) * np.linalg.norm(way))
    assert np.degrees(np.arccos(cosine)) < 8.0
    belly = grid[3, 3] - 0.5 * (grid[3, 0] + grid[3, -1])
    assert belly[0] > 0.05


def test_on_its_pole_the_sail_has_nothing_to_pass() -> None:
    out = MARRAM.resting().changed(pole=70.0)
    assert len(rig(MARRAM.plan, MARRAM.resting(), Mesh(4, 4), 4.0).blockers) > 0
    assert len(rig(MARRAM.plan, out, Mesh(4, 4), 4.0).blockers) == 0


@pytest.mark.parametrize("angle", [60.0, 80.0, 110.0])
def test_the_sheet_is_so_long_that_the_clew_stands_at_the_poles_end_or_as_near_as_it_reaches(
    angle: float,
) -> None:
    plan, zero = MARRAM.plan, 4.0
    out = poled(plan, MARRAM.resting(), zero, angle)
    end = pole_end(plan, out)
    beyond = zero + out.sheet - float(np.linalg.norm(end - winch_place(plan, out)))
    away = float(np.linalg.norm(end - headsail_axis(plan)[0]))
    foot = plan.headsail.foot
    assert beyond == pytest.approx(max(BOWLINE, away - FULL * foot), abs=0.02)
    assert beyond + foot >= away


def test_a_pole_starts_where_the_foot_stands_full() -> None:
    out = poled(MARRAM.plan, MARRAM.resting(), 4.0)
    away = float(np.linalg.norm(pole_end(MARRAM.plan, out) - headsail_axis(MARRAM.plan)[0]))
    # Down to the next whole 5 degrees.
    assert 0.85 < away / MARRAM.plan.headsail.foot <= FULL
    rolled = poled(MARRAM.plan, MARRAM.resting().changed(furl=0.2), 4.0)
    assert rolled.value("pole") < out.value("pole")


@pytest.mark.parametrize(("apparent", "least", "most"), [(115.0, 50.0, 75.0), (178.0, 80.0, 90.0)])
def test_trim_begins_with_the_pole_as_square_to_the_wind_as_the_foot_lets_it(
    apparent: float, least: float, most: float
) -> None:
    plan, setting = MARRAM.plan, MARRAM.resting()
    pole = square_to(plan, setting, float(np.radians(apparent)))
    assert least <= pole <= most
    away = pole_end(plan, setting.changed(pole=pole)) - headsail_axis(plan)[0]
    assert 0.70 < float(np.linalg.norm(away)) / plan.headsail.foot <= FULL


def test_a_stowed_pole_stays_stowed_and_one_that_is_out_takes_the_cars_place() -> None:
    free = MARRAM.plan.controls
    stowed = {it.name for it in free_with(free, MARRAM.resting())}
    out = {it.name: it for it in free_with(free, MARRAM.resting().changed(pole=70.0))}
    assert stowed == {it.name for it in free} - {"pole"}
    assert set(out) == {it.name for it in free} - {"lead"}
    assert out["pole"].low == FOREMOST


def test_a_pole_upon_the_forestay_is_refused_with_what_would_do() -> None:
    with pytest.raises(InputError, match="forestay"):
        asked(controls={"pole": 10.0})


def test_a_sheet_that_is_not_given_goes_with_the_pole() -> None:
    before = asked().setting
    there = with_controls(MARRAM, before, {"pole": 80.0}, "controls")
    assert there.sheet == pytest.approx(asked(controls={"pole": 80.0}).setting.sheet)
    assert there.sheet - before.sheet > 1.0
    given = with_controls(MARRAM, before, {"pole": 80.0, "sheet": 3.0}, "controls")
    assert given.sheet == 3.0
    # Stowed again, it is eased as on a run.
    back = with_controls(MARRAM, there, {"pole": 0.0}, "controls")
    assert back.sheet == pytest.approx(asked(angle_deg=165.0).setting.sheet, abs=0.2)


def test_on_its_pole_the_sail_stands_out_of_the_lee_and_pulls() -> None:
    behind, out = sailed(0.0)[1], sailed(80.0)[1]
    assert lee_of(behind) < 0.6
    assert lee_of(out) > 0.95
    assert track_forces(out)[0, 0] > 3.0 * track_forces(behind)[0, 0]


def test_on_its_pole_the_sail_is_measured_as_one_who_stands_by_it_sees_it() -> None:
    """Hollow to the wind, open at the top, chord to windward; its tufts answer to the wind."""
    flight = sailed(80.0)[1]
    cuts = sections(flight, flight.rigging.sails[0])
    for cut in cuts:
        assert 0.05 < cut.camber < 0.45
        assert cut.lift > 0.0
        assert not cut.windward_lifts
        assert cut.leeward_stalls
    assert cuts[0].chord_angle < 0.0
    assert 0.0 < cuts[0].twist < cuts[2].twist
    names = flight.rigging.points.names
    clew, end = flight.places[names["clew"]], flight.places[names["lead"]]
    assert np.linalg.norm(clew - end) < 0.4


def test_the_picture_has_the_pole_and_the_sails_side() -> None:
    it, flight = sailed(80.0)
    drawn = picture(it, flight, ("genoa", "mainsail"))
    assert [sail.to_windward for sail in drawn.sails] == [True, False]
    assert drawn.pole_m[1] == pytest.approx(drawn.sheet_line_m[0])
    assert drawn.winch_m is not None
    assert drawn.winch_m[1] < 0.0
    stowed = picture(*sailed(0.0), ("genoa", "mainsail"))
    assert stowed.pole_m == ()
    assert not stowed.sails[0].to_windward


def test_the_lee_of_a_poled_section_lies_on_the_other_side_of_the_cloth() -> None:
    """A chord straight out to windward, and one to leeward: the lee of both is ahead."""
    for side in (1.0, -1.0):
        place = place_on([(0.0, 0.0), (0.0, side * 2.0)], 0.5, side)
        assert place.lee == pytest.approx((1.0, 0.0))


def test_a_pole_that_is_out_brings_its_cautions() -> None:
    it = asked()
    told = {
        pole: [entry.text for entry in cautions(it, Seen(it.setting.changed(pole=pole), 175.0))]
        for pole in (0.0, 80.0)
    }
    assert POLE not in told[0.0]
    assert POLE in told[80.0]
    for word in ("foreguy or downhaul", "preventer", "harness", "foredeck", "manual"):
        assert word in POLE


@pytest.mark.parametrize(
    ("fields", "is_tried"),
    [
        ({}, True),
        ({"controls": {"mainsheet": 5.0}}, False),
        ({"hold": {"pole": 0.0}}, False),
        ({"hold": {"mainsheet": 5.0}}, True),
        ({"gust_kn": 24.0}, False),
        ({"boat": "dunlin"}, False),
    ],
)
def test_trim_tries_a_pole_only_where_a_crew_would_think_of_it(
    fields: dict[str, object], *, is_tried: bool
) -> None:
    assert invited(asked(**fields), Reached(sailed(0.0)[1])) is is_tried


def test_trim_tries_a_pole_dead_before_the_wind_too() -> None:
    # There the apparent wind at the headsail comes from either side, whose sign is rounding's.
    running = asked(angle_deg=180.0)
    assert invited(running, Reached(flown(running)))


def test_trim_tries_no_pole_with_the_wind_on_the_beam() -> None:
    reaching = asked(angle_deg=100.0)
    assert not invited(reaching, Reached(flown(reaching)))


def test_fix_keeps_the_pole_as_it_is_rigged_and_proposes_no_other() -> None:
    request = Request(
        boat="marram", wind_kn=12.0, angle_deg=175.0, controls={"pole": 80.0, "sheet": 3.2}
    )
    assert condition(request).controls == {"pole": 80.0}
    it, task = sailing(request)
    assert it.setting.poled
    assert not {entry.name for entry in task.free} & {"pole", "lead"}


@pytest.mark.parametrize("wind", [6.0, 12.0, 20.0])
@pytest.mark.parametrize("sheet", [-0.2, 1.0])
def test_a_clew_hauled_right_into_the_poles_jaw_comes_to_rest(wind: float, sheet: float) -> None:
    it = asked(wind_kn=wind, angle_deg=150.0, controls={"pole": 60.0, "sheet": sheet})
    flight = flown(it)
    assert flight.settled
    assert not flight.flutters
    names = flight.rigging.points.names
    away = flight.places[names["clew"]] - flight.places[names["lead"]]
    assert np.linalg.norm(away) < KNOT
