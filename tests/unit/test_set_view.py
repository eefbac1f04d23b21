"""What the page says and in which order: what can hurt stands before the first thing to do."""

from __future__ import annotations

from dataclasses import replace

import pytest

from luffwright.app.answer import Caution, TrimAnswer
from luffwright.app.caution import DEEP, GALE, NOTES, POLE
from luffwright.app.request import Request
from luffwright.app.ropes import Rope, ropes
from luffwright.app.trim import trim
from luffwright.faces.web.set_view import set_view


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
