"""A boat of twelve measurements from the words typed to the answer: she flies, she is trimmed, and
no hole is made up; with six more and the counts, she has all her marks.
"""

from __future__ import annotations

import contextlib
import io
import json
import re
import sys
from importlib import resources
from pathlib import Path
from typing import Any

import pytest

from luffwright.aboard.filling import NEEDED
from luffwright.faces.cli import main

TERN = Path(__file__).parents[1] / "data" / "tern.toml"
UNMARKED = {"lead", "mainsheet", "traveller", "vang", "outhaul"}
MORE = """
[deck.headsail]
lead_front_aft_m = 0.7
lead_front_out_m = 0.95
lead_aft_aft_m = 2.5
hole_spacing_m = 0.06

[deck.mainsail]
sheet_parts = 4
traveller_reach_m = 0.6
vang_along_boom_m = 0.9
vang_parts = 4
outhaul_parts = 2
"""


def run(*words: str) -> tuple[int, str, str]:
    """Return exit code, what is printed at 80 columns, and what goes to stderr."""
    out, err = io.StringIO(), io.StringIO()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "argv", ["luffwright", *words])
        patch.setenv("COLUMNS", "80")
        with (
            contextlib.redirect_stdout(out),
            contextlib.redirect_stderr(err),
            pytest.raises(SystemExit) as left,
        ):
            main()
    assert isinstance(left.value.code, int)
    return left.value.code, out.getvalue(), err.getvalue()


def answered(*words: str) -> dict[str, Any]:
    """Return the JSON of a command that answers."""
    code, out, err = run(*words, "--json")
    assert (code, err) == (0, "")
    found: dict[str, Any] = json.loads(out, parse_constant=pytest.fail)
    return found


STATE = ("--wind", "12", "--angle", "45", "--set", "sheet=on the mark", "--set", "mainsheet=0.05")


@pytest.fixture(scope="module")
def flown() -> dict[str, Any]:
    """Return Tern close-hauled in 12 knots."""
    return answered("fly", str(TERN), *STATE)


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the file of Tern with all her marks measured."""
    path = tmp_path_factory.mktemp("boat") / "tern.toml"
    path.write_text(TERN.read_text(encoding="utf-8") + MORE, encoding="utf-8")
    return path


def test_she_is_checked_and_told_what_to_measure() -> None:
    code, out, err = run("check", str(TERN))
    assert (code, err) == (0, "")
    assert "12 measurements are given" in out
    assert "measure next, for marks" in out


def test_she_flies_like_a_boat_of_her_size(flown: dict[str, Any]) -> None:
    assert flown["status"] in ("converged", "stalled", "luffing")
    # A waterline of 7.2 m: 4 to 6.5 kn hard on the wind in 12 kn, upright no more than 30 degrees.
    assert 4.0 < flown["boat"]["speed_kn"] < 6.5
    assert 5.0 < flown["boat"]["heel_deg"] < 30.0
    assert 0.5 < flown["stays"]["forestay"]["sag_pct"] < 4.0


def test_no_answer_names_a_hole_that_nobody_measured(flown: dict[str, Any]) -> None:
    marks = {name: control["mark"] for name, control in flown["controls"].items()}
    silent = {name for name, mark in marks.items() if "not marked on this boat: " in mark}
    assert silent == UNMARKED
    # What can be seen without marks is told first.
    assert marks["lead"].startswith("by eye: neutral; ")
    assert "boom's end about " in marks["mainsheet"]
    assert marks["traveller"].startswith("by eye: the centre; ")
    assert re.match(r"by eye: mainsail about \d+ % deep low down; ", marks["outhaul"])
    assert marks["vang"].startswith("by eye: ")
    assert not any(re.search(r"hole \d", mark) for mark in marks.values())
    assert marks["sheet"] == "on the mark"


def test_a_hole_cannot_be_asked_for_before_it_is_measured() -> None:
    code, out, err = run("fly", str(TERN), "--wind", "12", "--set", "lead=hole:7")
    assert (code, out) == (2, "")
    assert "has no marks yet on this boat; measure its track and holes" in err


def test_six_more_measurements_give_her_holes(marked: Path) -> None:
    found = answered("fly", str(marked), *STATE, "--set", "lead=hole:11")
    marks = {name: control["mark"] for name, control in found["controls"].items()}
    assert found["controls"]["lead"]["value"] == pytest.approx(0.60)
    assert marks["lead"] == "hole 11 from forward"
    assert not any("not marked" in mark for mark in marks.values())


def test_what_an_answer_said_of_the_controls_can_be_asked_again(
    marked: Path, tmp_path: Path
) -> None:
    first = answered("fly", str(marked), *STATE, "--set", "lead=hole:11")
    marks = {name: control["mark"] for name, control in first["controls"].items()}
    pairs = [word for name, mark in marks.items() for word in ("--set", f"{name}={mark}")]
    again = answered("fly", str(marked), "--wind", "12", "--angle", "45", *pairs)
    assert {name: it["mark"] for name, it in again["controls"].items()} == marks


def cut_down(name: str, folder: Path) -> str:
    """Return the file of a boat of the school with nothing but the twelve measurements."""
    whole = (resources.files("luffwright.aboard") / "demo" / f"{name}.toml").read_text("utf-8")
    tables: dict[str, list[str]] = {"boat": ['name = "Cut"']}
    place = ""
    for line in whole.splitlines():
        key = f"{place}.{line.partition(' = ')[0]}"
        if line.startswith("["):
            place = line.strip("[]")
        elif key in {*NEEDED, "boat.kind", "rig.type"}:
            tables.setdefault(place, []).append(line)
    path = folder / f"{name}.toml"
    path.write_text(
        "\n".join(f"[{place}]\n" + "\n".join(lines) for place, lines in tables.items()),
        encoding="utf-8",
    )
    return str(path)


@pytest.mark.parametrize(
    "name", ["marram", "dunlin", pytest.param("eider", marks=pytest.mark.slow)]
)
def test_the_schools_boats_sail_nearly_the_same_from_twelve_measurements(
    name: str, tmp_path: Path
) -> None:
    state = ("--wind", "12", "--angle", "50")
    whole = answered("fly", name, *state)
    cut = answered("fly", cut_down(name, tmp_path), *state)
    # A tenth of her speed, and four degrees of heel and of twist: what twelve numbers can tell.
    assert cut["boat"]["speed_kn"] == pytest.approx(whole["boat"]["speed_kn"], rel=0.10)
    assert cut["boat"]["heel_deg"] == pytest.approx(whole["boat"]["heel_deg"], abs=4.0)
    for ours, theirs in zip(cut["sails"], whole["sails"], strict=True):
        assert ours["area_m2"] == pytest.approx(theirs["area_m2"], rel=0.12)
        twists = [[level["twist_deg"] for level in sail["levels"]] for sail in (ours, theirs)]
        assert twists[0] == pytest.approx(twists[1], abs=4.0)


@pytest.mark.slow
def test_she_is_trimmed_without_a_hole_being_made_up() -> None:
    found = answered("trim", str(TERN), "--wind", "12", "--angle", "45")
    assert found["status"] in ("converged", "stalled")
    assert not any(re.search(r"hole \d", it["text"]) for it in found["why"])
    assert "not marked on this boat" in found["controls"]["lead"]["mark"]
