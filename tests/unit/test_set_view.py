"""What the page says and in which order: what can hurt stands before the first thing to do."""

from __future__ import annotations

from dataclasses import replace

import pytest

from luffwright.app.answer import Caution, LoadReading, TrimAnswer, Why, Worth
from luffwright.app.caution import DEEP, GALE, NOTES, POLE
from luffwright.app.request import Request
from luffwright.app.ropes import Rope, ropes
from luffwright.app.trim import trim
from luffwright.app.trim_area import spared_why
from luffwright.faces.web.set_view import set_view
from luffwright.faces.words import mark_words
from luffwright.sails.setting import Setting


@pytest.fixture(scope="module")
def deck() -> dict[str, Rope]:
    return {it.control: it for it in ropes("dunlin")}


@pytest.fixture(scope="module")
def answer() -> TrimAnswer:
    """Return Dunlin's trim at a held speed, which takes least."""
    return trim(Request(boat="dunlin", wind_kn=12.0, angle_deg=50.0, speed_kn=5.5)).answer


def test_warnings_stand_before_the_work_and_notes_after_it(
    answer: TrimAnswer, deck: dict[str, Rope]
) -> None:
    cautions = tuple(Caution("warning", text) for text in (DEEP, GALE, POLE))
    notes = tuple(Caution("note", text) for text in NOTES)
    called = Caution("warning", "Reef: take reef 1 first: she heels 30°.")
    told = replace(answer, cautions=(called, *cautions, *notes))
    view = set_view(told, deck, changes=False, made_good=False)
    assert view.reef == ("Take reef 1 first: she heels 30°.",)
    # How a pole is rigged is long, and read where there is time.
    assert view.warned == (DEEP, GALE)
    assert view.cautions == (POLE, *NOTES)


def test_a_clew_board_is_worked_on_the_foredeck_with_the_sail_down(
    answer: TrimAnswer, deck: dict[str, Rope]
) -> None:
    assert deck["clew_hole"].reach == "foredeck"
    view = set_view(answer, deck, changes=False, made_good=False)
    [board] = [it for it in (*view.work, *view.rest) if it.control == "clew_hole"]
    for words in ("furl or drop the sail first", "unload the sheet", "clip on"):
        assert words in board.mind


@pytest.mark.parametrize(
    ("mark", "load_kn", "words"),
    [
        ("19 cm slack", 0.4, "19 cm slack by its mark, and holding the boom down as it lies"),
        (
            "2 cm past hand-tight",
            0.0,
            "2 cm past hand-tight by its mark, and slack as the boom lies",
        ),
        ("19 cm slack", 0.0, "19 cm slack"),
        ("2 cm past hand-tight", 0.4, "2 cm past hand-tight"),
    ],
)
def test_a_vang_is_told_by_what_it_does_with_the_boom_where_it_is(
    answer: TrimAnswer, mark: str, load_kn: float, words: str
) -> None:
    value = -0.19 if mark.endswith("slack") else 0.02
    vang = replace(answer.controls["vang"], mark=mark, value=value)
    controls = {**answer.controls, "vang": vang}
    loads = {**answer.loads, "vang": LoadReading(load_kn, None)}
    told = replace(answer, controls=controls, loads=loads)
    assert mark_words(told, "vang") == words
    assert mark_words(told, "sheet") == answer.controls["sheet"].mark
    seen = replace(vang, mark="by eye: slack; not marked on this boat: count its parts")
    told = replace(told, controls={**controls, "vang": seen})
    assert mark_words(told, "vang") == seen.mark


def test_the_page_says_why_less_sail_is_set_and_what_is_as_fast(
    answer: TrimAnswer, deck: dict[str, Rope]
) -> None:
    setting = Setting(sheet=0.0, halyard=0.0, reef=1.0)
    whys = (
        spared_why(setting, "pressed"),
        Why("furl", "nearly as fast with no reef, jib 10 % rolled: no slower, by a short search"),
        Why("reef", "take reef 2: gains 0.1 kn"),
    )
    view = set_view(replace(answer, why=whys), deck, changes=False, made_good=False)
    less, other = view.limits
    assert less.startswith("Less sail, for it costs no way")
    assert other.startswith("Nearly as fast with no reef, jib 10 % rolled")


@pytest.mark.parametrize(
    ("wind_kn", "minutes", "first"), [(24.0, 1.0, False), (24.0, 4.0, True), (12.0, 1.0, True)]
)
def test_in_a_strong_wind_nobody_goes_forward_for_a_minute(
    answer: TrimAnswer, deck: dict[str, Rope], wind_kn: float, minutes: float, first: bool
) -> None:
    worth = {name: Worth(0.1, "m", 0.05, 0.05, minutes) for name in ("vang", "traveller")}
    conditions = replace(answer.conditions, wind_kn=wind_kn)
    told = replace(answer, conditions=conditions, worth=worth, order=("traveller", "vang"))
    view = set_view(told, deck, changes=False, made_good=False)
    assert ("vang" in {it.control for it in view.work}) is first
    assert ("vang" in {it.control for it in view.rest}) is not first
    # What is worked from the cockpit stays.
    assert "traveller" in {it.control for it in view.work}
