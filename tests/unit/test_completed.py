"""A boat file of twelve measurements: what is filled in, what is refused, how near it comes."""

from __future__ import annotations

import re
import tomllib
from importlib import resources
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from luffwright.aboard.boat import Boat, boat_keys, load_boat
from luffwright.aboard.completed import completed
from luffwright.aboard.filling import NEEDED, NEEDED_WORDS
from luffwright.errors import BoatFileError
from luffwright.sails.cut import moulded, sail_area, triangles
from luffwright.sails.sheet_mark import neutral_lead

DEMO = resources.files("luffwright.aboard") / "demo"
TERN = Path(__file__).parents[1] / "data" / "tern.toml"


def measured(name: str) -> dict[str, Any]:
    """Return the table of a boat of the school."""
    return tomllib.loads((DEMO / f"{name}.toml").read_text(encoding="utf-8"))


def cut_down(table: dict[str, Any]) -> dict[str, Any]:
    """Return a table with nothing left but the twelve measurements and three words."""
    left: dict[str, Any] = {}
    for key in (*NEEDED_WORDS, *NEEDED):
        there, here = table, left
        *tables, last = key.split(".")
        for part in tables:
            there, here = there[part], here.setdefault(part, {})
        here[last] = there[last]
    return left


def as_boat(folder: Path, table: dict[str, Any]) -> Boat:
    """Return the boat of a table of plain numbers and words."""
    lines: list[str] = []

    def write(name: str, part: dict[str, Any]) -> None:
        lines.append(f"[{name}]")
        lines.extend(
            f'{key} = "{it}"' if isinstance(it, str) else f"{key} = {it}"
            for key, it in part.items()
            if not isinstance(it, dict)
        )
        for key, it in part.items():
            if isinstance(it, dict):
                write(f"{name}.{key}", it)

    for key, it in table.items():
        write(key, it)
    path = folder / "cut.toml"
    path.write_text("\n".join(lines), encoding="utf-8")
    return load_boat(str(path))


def areas(boat: Boat) -> list[float]:
    """Return headsail and mainsail [m²]."""
    cuts = (boat.plan.headsail, boat.plan.mainsail)
    return [sail_area(moulded(it, 9, 9).nodes, triangles(9, 9, 0)) for it in cuts]


def test_the_file_of_the_twelve_holds_twelve_numbers() -> None:
    table = tomllib.loads(TERN.read_text(encoding="utf-8"))
    assert cut_down(table) | {"boat": table["boat"]} == table
    assert len(NEEDED) == 12


@pytest.mark.parametrize("name", boat_keys())
def test_a_whole_file_keeps_every_value_and_gets_none(name: str) -> None:
    boat = load_boat(name)
    assert boat.estimates == ()
    assert set(NEEDED) < boat.given


@pytest.mark.parametrize("name", boat_keys())
def test_the_schools_boats_cut_down_to_twelve_come_near_themselves(
    name: str, tmp_path: Path
) -> None:
    whole, cut = load_boat(name), as_boat(tmp_path, cut_down(measured(name)))
    # Roach and headboard are not among the twelve.
    assert areas(cut) == pytest.approx(areas(whole), rel=0.12)
    assert cut.plan.deck_height == pytest.approx(whole.plan.deck_height, rel=0.15)
    assert cut.hull.beam_waterline == pytest.approx(whole.hull.beam_waterline, rel=0.12)
    assert cut.hull.draught_body == pytest.approx(whole.hull.draught_body, rel=0.25)
    # At the heels one sails at.
    heels = np.radians([5.0, 10.0] if whole.hull.kind == "catamaran" else [10.0, 20.0, 30.0])
    levers = [
        np.interp(heels, boat.hull.righting_heel, boat.hull.righting_lever)
        for boat in (whole, cut)
    ]  # fmt: skip
    assert levers[1] == pytest.approx(levers[0], rel=0.30)
    for stay in ("forestay", "backstay"):
        ours, theirs = getattr(cut.plan, stay), getattr(whole.plan, stay)
        assert (ours is None) == (theirs is None)
        if ours is not None:
            assert 0.6 < ours.line.breaking / theirs.line.breaking < 1.7


@pytest.mark.parametrize("name", boat_keys())
def test_the_neutral_lead_of_twelve_measurements_lies_on_the_track(
    name: str, tmp_path: Path
) -> None:
    cut = as_boat(tmp_path, cut_down(measured(name)))
    gear = cut.plan.headsail_gear
    track = gear.track_front[0] - gear.track_aft[0]
    place = neutral_lead(cut.plan)
    assert place is not None
    assert 0.1 * track < place < 0.9 * track


def test_each_value_that_was_not_given_says_how_it_was_come_by() -> None:
    boat = load_boat(str(TERN))
    told = {entry.key: entry for entry in boat.estimates}
    assert len(told) == len(boat.estimates)
    assert not set(told) & boat.given
    assert all(entry.how and entry.source for entry in told.values())
    assert "Delft" in told["hull.draught_body_m"].source
    assert told["deck.headsail.passes_shrouds"].how == "luff perpendicular against J"


@pytest.mark.parametrize("key", [*NEEDED_WORDS, *NEEDED])
def test_none_of_the_twelve_can_be_left_out(key: str) -> None:
    table = cut_down(measured("marram"))
    *tables, last = key.split(".")
    here = table
    for name in tables:
        here = here[name]
    del here[last]
    with pytest.raises(BoatFileError) as caught:
        completed(table)
    assert (caught.value.field, caught.value.limit) == (key, "must be given")
    if key in NEEDED:
        assert re.search(r": (from|along|across|hoist) ", caught.value.remedy)


def test_what_is_given_is_never_filled_over() -> None:
    table = cut_down(measured("marram"))
    table["hull"]["draught_body_m"] = 0.61
    table["rig"]["boom_above_deck_m"] = 1.3
    found = completed(table)
    assert found.file.hull.draught_body_m == 0.61
    assert found.file.rig.boom_above_deck_m == 1.3
    assert not {"hull.draught_body_m", "rig.boom_above_deck_m"} & {
        entry.key for entry in found.estimates
    }


def test_no_backstay_is_guessed_once_the_shrouds_are_listed() -> None:
    whole = measured("dunlin")
    table = cut_down(whole)
    table["stays"] = {"shrouds": whole["stays"]["shrouds"]}
    assert completed(table).file.stays.backstay_wire_mm is None


def test_a_wrong_entry_is_refused_before_what_is_lacking() -> None:
    table = cut_down(measured("marram"))
    table["hull"]["beam_m"] = "wide"
    del table["rig"]["i_m"]
    with pytest.raises(BoatFileError) as caught:
        completed(table)
    assert caught.value.field == "hull.beam_m"


def test_an_estimate_that_no_boat_has_asks_for_the_measurement() -> None:
    table = cut_down(measured("eider"))
    table["hull"] |= {"beam_m": 13.5, "length_overall_m": 22.0, "length_waterline_m": 21.0}
    with pytest.raises(BoatFileError) as caught:
        completed(table)
    assert caught.value.field == "deck.mainsail.traveller_reach_m"
    assert caught.value.limit == "is an estimate that must be less than 4"
    assert caught.value.remedy.endswith("measure it and add it to the file")


def test_feet_for_metres_are_asked_after() -> None:
    table = cut_down(measured("marram"))
    # 11.2 m, typed in as feet.
    table["rig"]["i_m"] = 36.7
    with pytest.raises(BoatFileError) as caught:
        completed(table)
    assert "metres, not feet" in str(caught.value)


def test_the_readmes_boat_of_twelve_measurements_is_one(tmp_path: Path) -> None:
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    block = readme[readme.index("    [boat]\n") : readme.index("Six more and three counts")]
    path = tmp_path / "pipit.toml"
    path.write_text("\n".join(line.strip() for line in block.splitlines()), encoding="utf-8")
    boat = load_boat(str(path))
    assert {key for key in boat.given if key not in NEEDED_WORDS} == set(NEEDED)
    assert boat.marks["lead"].missing
