"""What `check` says of a boat: what is given or estimated, what fits, what to measure next."""

from __future__ import annotations

import json
import math
from importlib import resources
from pathlib import Path
from typing import Any

import pytest

from luffwright.aboard.boat import boat_keys, load_boat
from luffwright.aboard.filling import NEEDED
from luffwright.app.check import Checked, check
from luffwright.app.check_values import unit_of, values_of
from luffwright.errors import BoatFileError, InputError
from luffwright.sails.cut import moulded
from luffwright.sails.placing import place_headsail
from luffwright.sails.setting import Setting

DEMO = resources.files("luffwright.aboard") / "demo"
TERN = str(Path(__file__).parents[1] / "data" / "tern.toml")


@pytest.fixture(scope="module")
def tern() -> Checked:
    """Return the boat of twelve measurements."""
    return check(TERN)


def warnings(name: str) -> list[str]:
    """Return the warnings on a boat."""
    return [entry.text for entry in check(name).findings if entry.level == "warning"]


def changed(folder: Path, *changes: tuple[str, str], boat: str = "marram") -> str:
    """Return the path of a boat of the school with lines changed."""
    text = (DEMO / f"{boat}.toml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    path = folder / "boat.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


@pytest.mark.parametrize("name", boat_keys())
def test_the_schools_boats_raise_no_warning(name: str) -> None:
    assert warnings(name) == []


def test_a_boat_of_twelve_measurements_is_warned_of_her_estimated_wires_alone() -> None:
    (text,) = warnings(TERN)
    assert "not what is on yours" in text


def test_a_clew_below_the_least_height_is_refused_where_the_sail_would_hang_it(
    tmp_path: Path,
) -> None:
    # Marram's clew hangs 0.44 m above the lead; a leech 0.25 m longer lowers it by as much.
    whole = load_boat("marram")
    gear = whole.plan.headsail_gear
    nodes = place_headsail(whole.plan, moulded(whole.plan.headsail, 5, 5), Setting())
    above = float(nodes.reshape(5, 5, 3)[0, -1, 2]) - gear.track_front[2]
    assert above == pytest.approx(0.44, abs=0.02)
    with pytest.raises(BoatFileError, match=r"stands 0.1\d m above the lead; 0.30 is the least"):
        load_boat(changed(tmp_path, ("leech_m = 12.35", "leech_m = 12.6")))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        # 5600 kg by mistake in pounds.
        ("displacement_kg = 5600", "displacement_kg = 12350", "usual is 12 to 28"),
        ("length_overall_m = 10.6", "length_overall_m = 8.5", "make 10.6 m, length_overall_m is"),
        ("forestay_wire_mm = 8", "forestay_wire_mm = 4", "ask one before you load it"),
        ("lead_aft_aft_m = 3.6", "lead_aft_aft_m = 1.7", "off the end of the track"),
        ("luff_m = 11.75\nfoot_m = 3.3", "luff_m = 11.75\nfoot_m = 1.5", "mainsail.leech_m again"),
        ("[0, 0.17, 0.33,", "[0, 0.02, 0.04,", "Her weight above the waterline, by her first"),
        ("0.33, 0.46, 0.55,", "0.33, 1.26, 1.35,", "Reef by the boat's manual"),
        ("draft_pct = [36, 36, 36]", "draft_pct = [36, 55, 36]", "Headsail: deepest at is 55 %"),
    ],
)
def test_a_measurement_that_fits_no_other_is_warned_of(
    tmp_path: Path, old: str, new: str, said: str
) -> None:
    path = changed(tmp_path, (old, new))
    assert any(said in text for text in warnings(path))


def test_a_hull_beyond_the_towed_models_is_a_note_and_no_fault() -> None:
    notes = [entry.text for entry in check("dunlin").findings if entry.level == "note"]
    told = [text for text in notes if "models towed" in text]
    assert len(told) == 2
    assert told[0].startswith("Length over cube root of volume is 5.36, usual is 4.34 to 5.14")


def test_a_thin_sheet_is_warned_of_by_the_formula_of_its_load(tmp_path: Path) -> None:
    # 38 m² in 20 kn: 0.02104 × 38.3 × 400 kgf, and polyester of 6 mm breaks at 7.5 kN.
    path = changed(tmp_path, ("sheet_mm = 12", "sheet_mm = 6"))
    (text,) = warnings(path)
    assert "about 3.2 kN, 42 % of what breaks it" in text
    assert "rigger" in text


def test_every_value_is_either_given_or_says_how_and_by_whom(tern: Checked) -> None:
    given = {it.key for it in tern.values if it.given}
    assert given == {*NEEDED, "rig.type"}
    assert all(bool(it.how) != it.given and bool(it.source) != it.given for it in tern.values)
    assert len({it.key for it in tern.values}) == len(tern.values)
    told = {it.key: it for it in tern.values}
    assert told["stays.shrouds.1.wire_mm"].how == "usual for a rig of this kind"
    assert "quarter of the beam" in told["deck.mainsail.traveller_reach_m"].how
    assert "Delft" in told["hull.draught_body_m"].source
    assert told["keel.span_m"].source.startswith("shares that designers use")


def test_what_a_boat_does_not_have_is_not_listed() -> None:
    keys = {it.key for it in values_of(load_boat("eider"))}
    assert not keys & {"stays.backstay_dock_kn", "deck.mainsail.vang_parts"}
    assert "hull.hull_spacing_m" in keys
    assert "hull.hull_spacing_m" not in {it.key for it in values_of(load_boat("marram"))}


@pytest.mark.parametrize(
    ("key", "unit"),
    [
        ("hull.displacement_kg", "kg"), ("rig.i_m", "m"), ("stays.forestay_dock_kn", "kN"),
        ("reefing.steps.1.up_to_kn", "kn"), ("rig.bending_fore_aft_knm2", "kN m²"),
        ("sails.mainsail.battens.1.bending_nm2", "N m²"), ("deck.backstay.mm_per_turn", "mm"),
        ("sails.headsail.draft_pct", "%"), ("deck.mainsail.vang_lift_n", "N"),
        ("deck.mainsail.reefs", ""), ("sails.headsail.age_years", "years"), ("rig.rake_deg", "°"),
    ],
)  # fmt: skip
def test_the_unit_is_what_the_key_ends_in(key: str, unit: str) -> None:
    assert unit_of(key) == unit


def test_the_righting_moment_is_weight_times_lever(tern: Checked) -> None:
    # Marram: 5600 kg, 0.33 m at 20°, half-way to 0.46 m at 25°.
    found = check("marram").righting
    moments = {it.heel_deg: it.moment_knm for it in found.moments}
    assert moments[20.0] == pytest.approx(5.6 * 9.81 * 0.33, rel=1e-3)
    assert moments[25.0] == pytest.approx(5.6 * 9.81 * 0.395, rel=1e-3)
    assert found.given
    assert found.lift_wind_kn is None
    assert not tern.righting.given
    assert "from memory" in tern.righting.basis


def test_two_hulls_are_told_the_greatest_moment_and_the_wind_that_lifts_one() -> None:
    found = check("eider").righting
    # 9800 kg, hulls 5.2 m apart: half of it is the textbook's greatest lever, which is never met.
    assert found.greatest.moment_knm < 9.8 * 9.81 * 2.6
    assert found.greatest.heel_deg == pytest.approx(14.0)
    assert found.lift_wind_kn is not None
    assert found.working_wind_kn == pytest.approx(0.7 * found.lift_wind_kn)


def test_the_neutral_lead_is_where_the_line_meets_the_luff_at_40_per_cent() -> None:
    lead = check("marram").lead
    assert lead.mark == "hole 17 from forward"
    assert lead.share == 0.40
    assert lead.assumed == ()
    # The track begins 1.60 m behind the mast: 16 gaps of 5 cm further.
    assert lead.aft_of_mast_m == pytest.approx(2.40, abs=0.03)


def test_a_clew_board_aims_higher_hole_by_hole() -> None:
    lead = check("dunlin").lead
    assert lead.mark == ""
    assert len(lead.holes) == 7
    assert list(lead.holes) == sorted(lead.holes)
    assert 0.3 < lead.holes[0] < 0.40 < lead.holes[-1] < 0.6


def test_the_neutral_lead_of_an_estimated_deck_says_on_what_it_rests(tern: Checked) -> None:
    assert tern.lead.mark.startswith("not marked on this boat")
    assert "deck.headsail.tack_above_deck_m" in tern.lead.assumed
    assert "sails.headsail.leech_m" not in tern.lead.assumed


def test_wires_and_ropes_are_told_with_what_breaks_them(tern: Checked) -> None:
    told = {it.name: it for it in check("marram").strengths}
    # Eight millimetres: 52.8 kN by the chandler's formula; 12 mm polyester from the 10 mm tested.
    assert told["forestay"].breaking_kn == pytest.approx(52.8, abs=0.1)
    assert told["sheet"].breaking_kn == pytest.approx(20.96 * 1.44, abs=0.1)
    assert told["forestay"].quarter_kn == pytest.approx(13.2, abs=0.1)
    assert all(it.given for it in told.values())
    assert not any(it.given for it in tern.strengths)


def test_marks_come_first_among_what_to_measure_next(tern: Checked) -> None:
    controls = [it.control for it in tern.measure_next]
    marks = controls.index("")
    assert all(controls[:marks])
    assert not any(controls[marks:])
    assert [it.key.rsplit(".", maxsplit=1)[1] for it in tern.measure_next[:marks]] == [
        "lead_front_aft_m", "lead_front_out_m", "lead_aft_aft_m", "hole_spacing_m", "sheet_parts",
        "traveller_reach_m", "vang_parts", "outhaul_parts",
    ]  # fmt: skip
    assert all(it.what and it.how.endswith(".") for it in tern.measure_next)


@pytest.mark.parametrize("name", boat_keys())
def test_every_mark_is_told_what_it_is_counted_from(name: str) -> None:
    told = {it.control: it for it in check(name).mark_places}
    assert set(told) == set(load_boat(name).marks) - {"reef"}
    for control, mark in load_boat(name).marks.items():
        # The words of the place are those that answers count from.
        for word in ("hand-tight", "band", "mark"):
            if word in mark.text(mark.first + 0.5 * (mark.last - mark.first)).split():
                assert word in told[control].zero


def test_what_is_not_marked_has_no_mark_to_place(tern: Checked) -> None:
    places = {it.control: it.zero for it in tern.mark_places}
    assert not {"mainsheet", "vang", "outhaul"} & set(places)
    # Two that can be found by eye, and how.
    assert "by eye it is neutral where the sheet, drawn on through the clew" in places["lead"]
    assert "by eye from its car on the centreline" in places["traveller"]
    assert all(places[name].startswith("no marks yet") for name in ("lead", "traveller"))


def test_a_folder_is_no_boat() -> None:
    with pytest.raises(InputError, match="no such boat"):
        check(".")


@pytest.mark.parametrize("name", boat_keys())
def test_a_boat_that_is_measured_whole_has_nothing_left(name: str) -> None:
    assert check(name).measure_next == ()


def test_a_turn_that_is_not_measured_gives_no_turns(tmp_path: Path) -> None:
    path = changed(tmp_path, ("mm_per_turn = 5\n", ""))
    boat = load_boat(path)
    assert boat.marks["backstay"].text(0.01).startswith("not marked on this boat: measure what")
    assert [it.key for it in check(path).measure_next] == ["deck.backstay.mm_per_turn"]


def test_each_key_to_measure_is_one_that_the_file_takes(tern: Checked) -> None:
    known = {it.key.split(", ")[0] for it in tern.values} | {"stays.shrouds"}
    for it in tern.measure_next:
        assert it.key in known


def test_what_is_told_is_finite_and_goes_into_json(tern: Checked) -> None:
    text = json.dumps(tern.as_json(), allow_nan=False)
    told: dict[str, Any] = json.loads(text)
    assert set(told) == {
        "boat", "kind", "sail_area_m2", "values", "ratios", "righting", "lead", "strengths",
        "sheet_load_kn", "mark_places", "measure_next", "findings",
    }  # fmt: skip
    assert set(told["values"][0]) == {"key", "value", "unit", "given", "how", "source"}
    assert all(math.isfinite(it["value"]) for it in told["ratios"])
    assert {it["inside"] for it in told["ratios"]} == {True}
    assert told["boat"] == "Tern"


def test_an_estimated_curve_is_never_told_without_its_caution(tern: Checked) -> None:
    assert any("never judge by them" in it.text for it in tern.findings)
    assert not any("never judge by them" in it.text for it in check("marram").findings)
    assert any("knots" in it.text and "rigger" in it.text for it in check("marram").findings)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("hole_spacing_m = 0.05\n", "hole_spacing_m = 0.05\nport = { front_aft_m = 3.7 }\n",
         r"deck.headsail.port.front_aft_m = 3.7: must be less than lead_aft_aft_m = 3.6"),
        ("lead_aft_aft_m = 3.6\n", "port = { holes = 20 }\n",
         r"deck.headsail.port = given: there is no track"),
    ],
)  # fmt: skip
def test_a_side_that_has_no_such_track_is_refused(
    tmp_path: Path, old: str, new: str, said: str
) -> None:
    with pytest.raises(BoatFileError, match=said):
        load_boat(changed(tmp_path, (old, new)))


def test_who_still_has_to_measure_is_told_to_do_it_at_rest_and_to_stay_on_deck(
    tern: Checked,
) -> None:
    assert any("Nobody needs to go aloft" in it.text for it in tern.findings)
    assert not any("aloft" in it.text for it in check("marram").findings)
