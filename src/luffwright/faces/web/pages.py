"""The pages themselves: templates filled, and the few files that go with them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from hashlib import sha256
from importlib import resources
from typing import TYPE_CHECKING

from jinja2 import Environment, FunctionLoader, StrictUndefined
from markupsafe import Markup
from starlette.responses import HTMLResponse, PlainTextResponse, Response

from luffwright.aboard.boat import load_boat
from luffwright.app.answer import Trimmed
from luffwright.app.lesson import LESSONS, lesson_of, spoiled
from luffwright.app.wind_words import COURSES, seas
from luffwright.faces.web.answers import AskedSearch, Desk
from luffwright.faces.web.pairing import link, qr_svg
from luffwright.faces.web.set_view import set_view

if TYPE_CHECKING:
    from luffwright.faces.web.server import House

PLACES = {"set": "Set", "see": "See", "fix": "Fix", "learn": "Learn"}
_HERE = resources.files("luffwright.faces.web")
_KINDS = {"css": "text/css", "js": "text/javascript", "svg": "image/svg+xml"}
HOUR = 3600


def _text(folder: str, name: str) -> str:
    return (_HERE / folder / name).read_text(encoding="utf-8")


def static_files() -> dict[str, str]:
    """Return the text of every file that goes with the pages, by name."""
    return {
        entry.name: entry.read_text(encoding="utf-8")
        for entry in (_HERE / "static").iterdir()
        if entry.name.rpartition(".")[2] in _KINDS
    }


def templates() -> Environment:
    """Return the templates; all that is filled in is escaped."""
    return Environment(
        loader=FunctionLoader(lambda name: _text("templates", name)),
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip


class Pages:
    """The pages of one house."""

    def __init__(self, desk: Desk, house: House) -> None:
        self.desk, self.house = desk, house
        self.files = static_files()
        whole = "".join(f"{name}{text}" for name, text in sorted(self.files.items()))
        # A new version of the program is fetched anew, the same one is kept.
        self.version = sha256(whole.encode()).hexdigest()[:12]
        self.templates = templates()

    def place(self, name: str) -> Response:
        """Return one of the four places."""
        return self._filled(f"{name}.html", place=name, **self._form())

    def lesson(self, name: str) -> Response:
        """Return a lesson, or the boat to put right."""
        if name == "put-it-right":
            return self._filled("puzzle.html", place="learn")
        lesson = lesson_of(name)
        if lesson is None:
            return PlainTextResponse("There is no such lesson.", 404)
        told = json.dumps(asdict(lesson))
        return self._filled("lesson.html", place="learn", lesson=lesson, told=told)

    def pair(self) -> Response:
        """Return the page that asks a new device for the code."""
        return self._filled("pair.html", place="pair")

    def here(self) -> Response:
        """Return the page that shows the code on the server's own screen."""
        links = [link(it, self.house.port, self.house.door.code) for it in self.house.addresses]
        drawn = [(it, Markup(qr_svg(it))) for it in links]  # noqa: S704  # our own drawing
        return self._filled("here.html", place="here", code=self.house.door.code, links=drawn)

    def static(self, name: str) -> Response:
        """Return one of the files that go with the pages, and nothing else."""
        kind = _KINDS.get(name.rpartition(".")[2])
        if name not in self.files or kind is None:
            return PlainTextResponse("No such file.", 404)
        headers = {"cache-control": f"private, max-age={24 * HOUR}, immutable"}
        return Response(self.files[name], media_type=kind, headers=headers)

    def searched(self, wish: AskedSearch, found: Trimmed) -> dict[str, object]:
        """Return the best setting as the page shows it."""
        answer = found.answer
        ropes = self.desk.ropes(wish.case)
        made_good = isinstance(self.desk.fields(wish.case).get("angle_deg"), str)
        view = set_view(answer, ropes, changes=wish.changes, made_good=made_good)
        return {
            "html": self._text("sentences.html", view=view, answer=answer),
            "controls": {name: float(it.value) for name, it in answer.controls.items()},
            "failed": answer.status == "failed",
            "left": bool(answer.leave_it),
            "spoiled": self._spoiled(wish, found),
        }

    def _spoiled(self, wish: AskedSearch, found: Trimmed) -> dict[str, float] | None:
        if wish.spoil is None:
            return None
        stand = {name: float(it.value) for name, it in found.answer.controls.items()}
        return spoiled(stand, tuple(self.desk.ropes(wish.case).values()), wish.spoil)

    def _form(self) -> Mapping[str, object]:
        boats = [(key, load_boat(path)) for key, path in self.house.boats.items()]
        return {
            "boats": [(key, boat.name, boat.note or boat.kind) for key, boat in boats],
            "courses": tuple(COURSES), "seas": seas(), "lessons": LESSONS,
        }  # fmt: skip

    def _filled(self, name: str, **given: object) -> HTMLResponse:
        return HTMLResponse(self._text(name, **given))

    def _text(self, name: str, **given: object) -> str:
        return self.templates.get_template(name).render(
            {"version": self.version, "places": PLACES} | given
        )
