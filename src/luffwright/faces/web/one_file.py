"""`page`: a boat's settings by wind and course with pictures, in one file that needs no server."""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass

from markupsafe import Markup

from luffwright.aboard.boat import Boat, load_boat
from luffwright.app.answer import Trimmed
from luffwright.app.ropes import ropes_of
from luffwright.errors import InputError, LuffwrightError
from luffwright.faces.draw.sheet import sheet
from luffwright.faces.web.pages import static_files, templates
from luffwright.faces.web.set_view import SetView, set_view
from luffwright.faces.web.work import search

WINDS = (8.0, 14.0, 20.0)
COURSES: tuple[tuple[str, str | float], ...] = (
    ("close-hauled", "upwind"), ("beam reach", 90.0), ("broad reach", 135.0),
)  # fmt: skip
MOST = 60
"""Winds times courses that one file holds at most [-]."""


@dataclass(frozen=True)
class Sheet:
    """One wind on one course: a name for the link, its words, what to set, and the picture."""

    name: str
    wind_kn: float
    course: str
    view: SetView | None
    picture: Markup
    fault: str


def one_file(
    boat_name: str, winds: Sequence[float] = WINDS, said: Callable[[str], None] = lambda _: None
) -> str:
    """Return the page as HTML: style, pictures and all.

    Parameters
    ----------
    boat_name : str
    winds : sequence of float
        True wind. [kn]
    said : function
        Told how far it has come.

    Raises
    ------
    InputError, BoatFileError
        Where the boat cannot be used, it would be too much, or no wind and course has an answer.
    """
    boat = load_boat(boat_name)
    if not winds or len(winds) * len(COURSES) > MOST:
        limit = f"must be 1 to {MOST // len(COURSES)} winds"
        raise InputError("--winds", len(winds), limit, "leave some out")
    places = [(wind, *course) for wind in winds for course in COURSES]
    fresh = multiprocessing.get_context("spawn")
    sheets: list[Sheet] = []
    refused: list[LuffwrightError] = []
    with ProcessPoolExecutor(mp_context=fresh) as pool:
        asked = [
            pool.submit(search, {"boat": boat_name, "wind_kn": wind, "angle_deg": angle}, None)
            for wind, _, angle in places
        ]
        for (wind, course, angle), task in zip(places, asked, strict=True):
            try:
                sheets.append(sheet_of(boat, wind, course, task.result(), free=angle == "upwind"))
            except LuffwrightError as refusal:
                refused.append(refusal)
                sheets.append(
                    Sheet(_name(wind, course), wind, course, None, Markup(), str(refusal))
                )
            said(f"{len(sheets)} of {len(places)}: {wind:.0f} kn, {course}")
    if len(refused) == len(sheets):
        raise refused[0]
    return filled(boat, winds, sheets)


def filled(boat: Boat, winds: Sequence[float], sheets: Sequence[Sheet]) -> str:
    """Return the page of sheets that are ready.

    Parameters
    ----------
    boat : Boat
    winds : sequence of float
        [kn]
    sheets : sequence of Sheet
    """
    files = static_files()
    style, script = files["page.css"] + files["tufts.css"], files["one_file.js"]
    return templates().get_template("one_file.html").render(
        boat=boat, winds=[f"{it:.0f}" for it in winds], courses=[it for it, _ in COURSES],
        sheets=sheets, style=Markup(style), script=Markup(script),  # noqa: S704  # our own files
    )  # fmt: skip


def _name(wind: float, course: str) -> str:
    return f"w{wind:.0f}-{course.replace(' ', '-')}"


def sheet_of(boat: Boat, wind: float, course: str, found: Trimmed, *, free: bool) -> Sheet:
    """Return one wind [kn] on one course; `free` where what is made good counts."""
    ropes = {it.control: it for it in ropes_of(boat)}
    view = set_view(found.answer, ropes, changes=False, made_good=free)
    drawn = "" if found.picture is None or found.answer.status == "failed" else sheet(
        found.answer, found.picture, alone=False
    )  # fmt: skip
    name = _name(wind, course)
    # Several drawings stand in one page: their names must not meet.
    drawn = drawn.replace("drawing-t", f"{name}-t")
    return Sheet(name, wind, course, view, Markup(drawn), "")  # noqa: S704  # our own drawing
