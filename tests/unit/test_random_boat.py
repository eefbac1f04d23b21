"""Random boats: the same for a seed everywhere, within frozen ranges, of every kind, plausible."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
from collections import defaultdict
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from luffwright.aboard.boat import Boat, load_boat
from luffwright.aboard.random_boat import random_boat
from luffwright.aboard.random_ranges import Draw, ranges
from luffwright.aboard.toml_text import toml_text
from luffwright.app.check import check
from luffwright.app.leads import lead_of
from luffwright.app.plausible import ratios

ROOT = Path(__file__).parents[2]
SCRIPT = ROOT / "scripts" / "random_boat.py"
BOATS, MANY = 60, 300


def written(folder: Path, seed: int) -> str:
    """Return the path of a random boat's file."""
    path = folder / f"random_{seed}.toml"
    path.write_text(toml_text(random_boat(seed)), encoding="utf-8")
    return str(path)


@pytest.fixture(scope="module")
def boats(tmp_path_factory: pytest.TempPathFactory) -> list[Boat]:
    """Return the first sixty boats, read from their files."""
    folder = tmp_path_factory.mktemp("boats")
    return [load_boat(written(folder, seed)) for seed in range(BOATS)]


def run(*words: str, **more: str) -> subprocess.CompletedProcess[str]:
    """Return what the script says to the words given."""
    there = os.environ | {"PYTHONPATH": str(ROOT / "src")} | more
    return subprocess.run(
        [sys.executable, str(SCRIPT), *words],
        env=there,
        capture_output=True,
        text=True,
        check=False,
    )


def test_every_file_is_read_by_the_program_and_by_toml(
    tmp_path: Path, sweep_size: Callable[[int, int], int]
) -> None:
    for seed in range(BOATS, sweep_size(BOATS + 40, BOATS + MANY)):
        table = random_boat(seed)
        assert tomllib.loads(toml_text(table)) == table
        boat = load_boat(written(tmp_path, seed))
        assert set(boat.marks) == {entry.name for entry in boat.plan.controls}
        for entry in boat.plan.controls:
            assert entry.low <= entry.rest <= entry.high


def test_the_seed_alone_decides_in_any_process() -> None:
    told = [run("7", PYTHONHASHSEED=word).stdout for word in ("1", "2")]
    assert told[0] == told[1]
    assert tomllib.loads(told[0]) == random_boat(7) != random_boat(8)


@pytest.mark.parametrize("words", [(), ("-1",), ("many",), ("1", "2")])
def test_the_script_refuses_what_is_no_seed(words: tuple[str, ...]) -> None:
    done = run(*words)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert not done.stdout


@pytest.mark.parametrize("name", sorted(ranges()))
def test_every_range_says_whose_it_is_and_every_draw_keeps_to_it(name: str) -> None:
    found = ranges()[name]
    assert len(found.source) > 10
    if found.of:
        words = {Draw(seed).word(name) for seed in range(MANY)}
        assert words == {str(it) for it in found.of}
        return
    numbers = [Draw(seed).number(name) for seed in range(MANY)]
    assert found.low <= min(numbers) <= max(numbers) <= found.high
    # The whole range is used.
    width = found.high - found.low
    assert min(numbers) <= found.low + 0.05 * width
    assert max(numbers) >= found.high - 0.05 * width


def shares(table: dict[str, Any]) -> dict[str, float]:
    """Return what a file's numbers say of the ranges they were drawn from."""
    hull, rig = table["hull"], table["rig"]
    head, main = table["sails"]["headsail"], table["sails"]["mainsail"]
    kind, length = table["boat"]["kind"], hull["length_overall_m"]
    group = "two_hulls" if kind == "catamaran" else rig["type"]
    return {
        f"{kind}.length_overall_m": length,
        f"{kind}.waterline_of_length": hull["length_waterline_m"] / length,
        f"{kind}.foretriangle_of_length": rig["j_m"] / length,
        f"{kind}.centre_above_water_m": hull["centre_above_water_m"],
        f"{kind}.rake_deg": rig["rake_deg"],
        f"{group}.forestay_height_of_length": rig["i_m"] / length,
        f"{group}.boom_length_of_length": rig["e_m"] / length,
        f"{group}.mast_of_depth": 1000.0 * rig["mast_top_m"] / rig["mast_depth_mm"],
        "headsail.camber_pct": head["camber_pct"][1],
        "headsail.draft_pct": head["draft_pct"][1],
        "mainsail.camber_pct": main["camber_pct"][1],
        "mainsail.luff_of_hoist": main["luff_m"] / rig["p_m"],
        "mainsail.foot_of_boom": main["foot_m"] / rig["e_m"],
    }


def test_the_numbers_of_the_files_lie_in_the_ranges_they_are_drawn_from() -> None:
    for seed in range(BOATS):
        for name, value in shares(random_boat(seed)).items():
            found = ranges()[name]
            # Rounded as one would measure.
            slack = 0.06 if name.endswith(("_pct", "_deg", "_m")) else 0.008 * abs(value)
            slack = 0.5 if name.endswith("draft_pct") else slack
            assert found.low - slack <= value <= found.high + slack, (seed, name, value)


def test_every_kind_of_boat_is_among_the_first_sixty(boats: list[Boat]) -> None:
    seen: dict[str, int] = defaultdict(int)
    for boat in boats:
        deck, stays = boat.file.deck, boat.file.stays
        battens = [it.chord_pct for it in boat.file.sails.mainsail.battens]
        cloth = boat.file.sails.mainsail.age_years
        words = (
            boat.kind,
            boat.file.rig.type,
            "backstay" if stays.backstay_wire_mm else f"{boat.kind} without backstay",
            "adjusted" if deck.backstay else "fixed",
            "genoa" if boat.plan.headsail_gear.overlaps_shrouds else "jib",
            "board" if deck.headsail.clew_board_holes > 1 else "cars",
            "new" if cloth <= 2.0 else "tired",
            "full" if min(battens) == 100 else "short",
            "small" if boat.hull.length_overall < 9.0 else "",
            "large" if boat.hull.length_overall > 14.0 else "",
        )
        for word in words:
            seen[word] += 1
    assert min(seen.values()) >= 4, dict(seen)
    assert len(seen) >= 20


def test_what_they_measure_together_is_mostly_as_published_or_usual(boats: list[Boat]) -> None:
    inside: dict[str, list[bool]] = defaultdict(list)
    for boat in boats:
        for it in ratios(boat):
            inside[it.name].append(it.inside)
    share = {name: sum(found) / len(found) for name, found in inside.items()}
    assert min(share.values()) >= 0.75, share
    every = [it for found in inside.values() for it in found]
    assert sum(every) / len(every) >= 0.97


def test_their_neutral_leads_lie_on_their_tracks_and_their_boards_aim_usually(
    boats: list[Boat],
) -> None:
    for boat in boats:
        lead = lead_of(boat)
        assert lead.on_track, boat.name
        if lead.holes:
            # The middle hole aims where practice has a sheet meet the luff.
            middle = lead.holes[len(lead.holes) // 2]
            assert 0.30 < middle < 0.50, (boat.name, lead.holes)


def test_check_reads_them_without_a_value_that_cannot_be(tmp_path: Path) -> None:
    for seed in range(12):
        found = check(written(tmp_path, seed))
        text = " ".join(it.text for it in found.findings)
        assert "off the end" not in text
        assert "measure both ends from the mast" not in text
        assert 15.0 < found.sail_area_m2 < 220.0
