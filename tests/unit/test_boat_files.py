"""Boat files are read, and refused in the sailor's words: field, value, limit, remedy."""

from __future__ import annotations

import math
from importlib import resources
from pathlib import Path

import pytest

from luffwright.aboard.boat import boat_keys, load_boat
from luffwright.errors import BoatFileError, InputError

MARRAM = (resources.files("luffwright.aboard") / "demo" / "marram.toml").read_text(encoding="utf-8")


def refusal(folder: Path, *changes: tuple[str, str]) -> BoatFileError:
    """Return what a boat file with lines changed is refused with."""
    text = MARRAM
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    path = folder / "boat.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BoatFileError) as caught:
        load_boat(str(path))
    return caught.value


@pytest.mark.parametrize("key", boat_keys())
def test_each_boat_of_the_school_is_read(key: str) -> None:
    boat = load_boat(key)
    assert boat.key == key
    assert set(boat.marks) == {entry.name for entry in boat.plan.controls}
    resting = boat.resting()
    for entry in boat.plan.controls:
        assert entry.low <= resting.value(entry.name) <= entry.high


def test_a_boat_file_of_ones_own_is_read_like_a_demo_boat(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(MARRAM, encoding="utf-8")
    assert load_boat(str(path)).plan == load_boat("marram").plan


def test_lengths_angles_and_loads_arrive_in_si(tmp_path: Path) -> None:
    plan = load_boat("marram").plan
    assert plan.mast.rake == pytest.approx(math.radians(1.5))
    assert plan.mast.depth == pytest.approx(0.170)
    assert plan.forestay.dock_tension == pytest.approx(9000.0)
    # 13.4 m above a deck that stands 1.15 m above the water.
    assert plan.forestay.height == pytest.approx(14.55)
    assert plan.headsail.camber == pytest.approx((0.06, 0.075, 0.07))


def test_the_headsails_foot_follows_from_luff_leech_and_perpendicular() -> None:
    cut = load_boat("marram").plan.headsail
    # Heron: twice the area over the luff is the distance of the clew from it.
    half = 0.5 * (cut.luff + cut.leech + cut.foot)
    area = math.sqrt(half * (half - cut.luff) * (half - cut.leech) * (half - cut.foot))
    # The head is 0.12 m wide, which the three straight sides leave out.
    assert 2.0 * area / cut.luff == pytest.approx(5.8, abs=0.12)


@pytest.mark.parametrize(
    ("old", "new", "field", "value", "limit", "remedy"),
    [
        ("luff_m = 13.2", "luff_ft = 43", "sails.headsail.luff_ft", "43",
         "unknown entry", 'did you mean "luff_m"?'),
        ("foot_m = 3.3", "foot = 3.3", "sails.mainsail.foot", "3.3",
         "unknown entry", 'did you mean "foot_m"?'),
        ("[rig]", "[rigging]", "rigging", "a table", "unknown entry", 'did you mean "rig"?'),
        ("i_m = 13.4", "I = 13.4", "rig.I", "13.4", "unknown entry", 'did you mean "i_m"?'),
        ("[boat]", "colour = 1\n[boat]", "colour", "1", "unknown entry", "take it out"),
        ("luff_m = 13.2\n", "", "sails.headsail.luff_m", "nothing", "must be given",
         "headsail's luff: from head to tack, the sail laid out straight"),
        ("luff_m = 13.2", "luff_m = 132", "sails.headsail.luff_m", "132",
         "must be less than 40", "measure again, in the unit that the key names"),
        ("rake_deg = 1.5", "rake_deg = -2", "rig.rake_deg", "-2",
         "must be at least 0", "measure again, in the unit that the key names"),
        ("luff_m = 13.2", 'luff_m = "13,2"', "sails.headsail.luff_m", '"13,2"',
         "must be a number", "write the number alone, with a point"),
        ("luff_m = 13.2", "luff_m = true", "sails.headsail.luff_m", "true",
         "must be a number", "write the number alone, with a point"),
        ("lead_aft_aft_m = 3.6", "lead_aft_aft_m = inf", "deck.headsail.lead_aft_aft_m", "inf",
         "must be a finite number", "measure again"),
        ("sheet_parts = 4", "sheet_parts = 4.5", "deck.mainsail.sheet_parts", "4.5",
         "must be a whole number", "count again"),
        ('kind = "monohull"', 'kind = "canoe"', "boat.kind", '"canoe"',
         "must be 'monohull' or 'catamaran'", "choose one of these"),
        ("passes_shrouds = true", 'passes_shrouds = "often"', "deck.headsail.passes_shrouds",
         '"often"', "must be true or false", "write true or false without quotes"),
        ("passes_shrouds = true", 'passes_shrouds = "yes"', "deck.headsail.passes_shrouds",
         '"yes"', "must be true or false", "write true or false without quotes"),
        ("forestay_wire_mm = 8", "forestay_wire_mm = 0.008", "stays.forestay_wire_mm", "0.008",
         "must be at least 3", "measure again, in the unit that the key names"),
        ("[6.0, 7.5, 7.0]", "[0.06, 0.075, 0.07]", "sails.headsail.camber_pct.1", "0.06",
         "must be at least 1", "measure again, in the unit that the key names"),
        ("height_m = 6.7", "height_m = 67", "rig.spreaders.1.height_m", "67",
         "must be less than 40", "measure again, in the unit that the key names"),
        ("[6.0, 7.5, 7.0]", "[6.0, 75, 7.0]", "sails.headsail.camber_pct.2", "75",
         "must be less than 30", "measure again, in the unit that the key names"),
        ("[6.0, 7.5, 7.0]", "7", "sails.headsail.camber_pct", "7",
         "must be a list", "write the values in square brackets"),
        ("[6.0, 7.5, 7.0]", "[6.0, 7.5]", "sails.headsail.camber_pct", "too short a list",
         "has 2 values, number 3 must be given", "add it"),
        ("[6.0, 7.5, 7.0]", "[6, 7, 7, 6]", "sails.headsail.camber_pct", "[6, 7, 7, 6]",
         "must have at most 3 values", "count the values in the brackets"),
    ],
)  # fmt: skip
def test_a_faulty_entry_is_refused_with_field_value_limit_and_remedy(
    tmp_path: Path, old: str, new: str, field: str, value: str, limit: str, remedy: str
) -> None:
    found = refusal(tmp_path, (old, new))
    assert (found.field, str(found.value), found.limit, found.remedy) == (
        field, value, limit, remedy,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "field", "limit"),
    [
        ("luff_m = 13.2", "luff_m = 14", "sails.headsail.luff_m", "at most 13.80 fits the stay"),
        ("luff_perpendicular_m = 5.8", "luff_perpendicular_m = 12.5",
         "sails.headsail.luff_perpendicular_m", "must be shorter than the leech"),
        ("leech_m = 12.35", "leech_m = 16.2", "sails.headsail.leech_m", "0.30 is the least"),
        ("luff_m = 11.75", "luff_m = 12", "sails.mainsail.luff_m", "at most p_m = 11.8"),
        ("foot_m = 3.3", "foot_m = 3.6", "sails.mainsail.foot_m", "at most e_m = 3.4"),
        ("leech_m = 12.15", "leech_m = 15.1", "sails.mainsail.leech_m", "no triangle"),
        ("mast_top_m = 13.4", "mast_top_m = 12.5", "rig.p_m", "above the mast's top"),
        ("i_m = 13.4", "i_m = 13.6", "rig.i_m", "at most mast_top_m = 13.4"),
        ("height_m = 6.7", "height_m = 14.6", "rig.spreaders.1.height_m", "at most mast_top_m"),
        ("height_m = 13.4", "height_m = 14.6", "stays.shrouds.1.height_m", "at most mast_top_m"),
        ("backstay_aft_m = 5.6\n", "", "stays.backstay_aft_m", "needs its wire and its place"),
        ("backstay_wire_mm = 7\n", "", "stays.backstay_wire_mm", "needs its wire and its place"),
        ("backstay_wire_mm = 7\nbackstay_aft_m = 5.6\n", "", "deck.backstay", "no backstay"),
        ("lead_aft_aft_m = 3.6", "lead_aft_aft_m = 1.5", "deck.headsail.lead_aft_aft_m",
         "at least lead_front_aft_m = 1.6"),
        ('name = "aft_lower"', 'name = "cap_shroud"', "stays.shrouds.name", "used 2 times"),
        ("lever_m = [0, 0.17,", "lever_m = [0.17,", "hull.righting_lever_m", "must be 7"),
        ("heel_deg = [0, 10, 20,", "heel_deg = [0, 20, 10,", "hull.righting_heel_deg",
         "must grow"),
        ('kind = "monohull"', 'kind = "catamaran"', "hull.hull_spacing_m", "more than 0"),
    ],
)  # fmt: skip
def test_measurements_that_contradict_each_other_are_refused(
    tmp_path: Path, old: str, new: str, field: str, limit: str
) -> None:
    found = refusal(tmp_path, (old, new))
    assert found.field == field
    assert limit in found.limit
    assert found.remedy


def test_a_file_that_is_no_toml_is_refused_with_the_line(tmp_path: Path) -> None:
    found = refusal(tmp_path, ("[rig]", "[rig"))
    assert str(found).startswith("file = ")
    assert "line 8" in found.limit


def test_a_boat_file_that_is_not_there_or_named_by_half_is_refused_as_such(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(InputError, match=r"boat = pipit.toml: no such file"):
        load_boat("pipit.toml")
    (tmp_path / "pipit.toml").write_text("", encoding="utf-8")
    with pytest.raises(InputError, match=r'did you mean "pipit.toml"'):
        load_boat("pipit")


def test_a_file_in_another_encoding_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "boat.toml"
    path.write_bytes('[boat]\nname = "Düne"'.encode("latin-1"))
    with pytest.raises(BoatFileError, match="UTF-8"):
        load_boat(str(path))


def test_a_misspelt_boat_is_refused_with_the_nearest_name() -> None:
    with pytest.raises(InputError, match='did you mean "marram"'):
        load_boat("maram")


def test_a_control_that_the_boat_lacks_is_refused_with_her_own_list() -> None:
    with pytest.raises(InputError, match=r"Dunlin has no such control; she has sheet, "):
        load_boat("dunlin").travel("main_furl")
