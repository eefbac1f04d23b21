"""A boat's settings in one file: all in it, nothing fetched, one sheet for each wind and course."""

from __future__ import annotations

import re

import pytest

from luffwright.aboard.boat import load_boat
from luffwright.app.answer import BoatPicture, TrimAnswer, Trimmed
from luffwright.errors import InputError
from luffwright.faces.web.one_file import COURSES, filled, one_file, sheet_of


def written(trimmed: TrimAnswer, picture: BoatPicture) -> str:
    """Return a page of an invented setting in every place."""
    boat, winds = load_boat("marram"), (8.0, 14.0)
    found = Trimmed(trimmed, picture)
    sheets = [
        sheet_of(boat, wind, course, found, free=angle == "upwind")
        for wind in winds
        for course, angle in COURSES
    ]
    return filled(boat, winds, sheets)


def test_it_fetches_nothing(trimmed: TrimAnswer, picture: BoatPicture) -> None:
    text = written(trimmed, picture).replace("http://www.w3.org/2000/svg", "")
    assert not re.search(r"https?:|src=|href=|url\(|@import|fetch\(", text)


def test_each_wind_and_course_has_its_words_and_its_picture(
    trimmed: TrimAnswer, picture: BoatPicture
) -> None:
    text = written(trimmed, picture)
    names = re.findall(r'<section class="sheet" id="([\w-]+)"', text)
    assert len(names) == 2 * len(COURSES)
    assert text.count("<svg") == len(names)
    assert text.count("<b>GENOA CAR</b> hole 7 from forward") == len(names)


def test_a_page_of_winds_that_no_boat_can_sail_is_refused() -> None:
    with pytest.raises(InputError, match="60 kn"):
        one_file("marram", [70.0])


def test_no_two_parts_of_it_have_one_name(trimmed: TrimAnswer, picture: BoatPicture) -> None:
    names = re.findall(r'\bid="([^"]+)"', written(trimmed, picture))
    assert len(names) == len(set(names))
