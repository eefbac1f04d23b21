"""What `check` shows at 80 columns: everything it knows, and nothing made up."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from pathlib import Path

import pytest
from rich.console import Console

from luffwright.app.answer import Caution
from luffwright.app.check import Checked, check
from luffwright.faces.check_tables import check_tables, long

TERN = str(Path(__file__).parents[1] / "data" / "tern.toml")


def shown(checked: Checked) -> str:
    """Return what a terminal of 80 columns shows."""
    out = io.StringIO()
    Console(file=out, width=80).print(*check_tables(checked), sep="\n")
    return out.getvalue()


def in_a_line(text: str) -> str:
    """Return a text without its line breaks."""
    return " ".join(text.split())


@pytest.fixture(scope="module")
def tern() -> str:
    """Return what is shown of the boat of twelve measurements."""
    return shown(check(TERN))


@pytest.fixture(scope="module")
def marram() -> str:
    """Return what is shown of a boat that is measured whole."""
    return shown(check("marram"))


def test_nothing_is_wider_than_80_columns(tern: str, marram: str) -> None:
    assert max(map(len, (tern + marram).splitlines())) <= 80


def test_it_begins_with_how_much_is_known(tern: str) -> None:
    assert "Tern: one hull, 39 m² of sail; the file can be used." in tern
    assert "12 measurements are given, " in tern


def test_no_hole_is_named_where_none_was_measured(tern: str, marram: str) -> None:
    assert not re.search(r"hole \d", tern)
    assert "not marked on this boat: measure its track and holes" in in_a_line(tern)
    assert "hole 17 from forward" in in_a_line(marram)


def test_what_is_not_marked_is_said_before_how_to_measure_it(tern: str) -> None:
    line = in_a_line(tern)
    assert "Not marked yet: genoa car, mainsheet, traveller, vang, outhaul." in line
    assert line.index("Not marked yet") < line.index("measure next, for marks")
    assert "Measure over ten gaps" in line
    assert "lead_front_aft_m in [deck.headsail]" in line
    assert line.index("measure next, for marks") < line.index("then, for shape and speed")


def test_each_estimate_shows_its_reason_and_its_source(tern: str) -> None:
    line = in_a_line(tern)
    assert "breaks at about the boat's weight" in line
    assert "5: parent hull of the Delft series, Gerritsma and others 1981" in line


def test_a_boat_that_is_measured_whole_has_nothing_left_to_measure(marram: str) -> None:
    assert "Nothing is left to measure: every control has its marks." in in_a_line(marram)
    assert "Not marked" not in marram


def test_what_lies_outside_is_shown_as_such() -> None:
    line = in_a_line(shown(check("dunlin")))
    assert "5.36 4.34 to 5.14 OUTSIDE b" in line
    assert "hole 1 at 38 %, hole 2 at 40 %" in line


def test_two_hulls_are_told_the_wind_that_lifts_one_and_who_stands_above_it() -> None:
    line = in_a_line(shown(check("eider")))
    assert "would lift the windward hull; carry it to" in line
    assert "the maker's reefing table stands above that" in line


def test_warnings_come_before_notes() -> None:
    found = (Caution("note", "a small thing [of two]"), Caution("warning", "a great thing"))
    line = in_a_line(shown(replace(check("marram"), findings=found)))
    assert line.index("WARNING a great thing") < line.index("note a small thing [of two]")


@pytest.mark.parametrize(
    ("length", "text"), [(1.447, "1 m 45 cm"), (0.3, "30 cm"), (2.0, "2 m"), (1.999, "2 m")]
)
def test_a_length_is_told_as_a_tape_shows_it(length: float, text: str) -> None:
    assert long(length) == text
