"""A first answer that grows surer: flown on beside other work, shown where nobody has moved on."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

import pytest
from playwright.sync_api import Route, expect

from luffwright.app.fix_again import LOOK_FIRST
from luffwright.faces.web import fix_work
from luffwright.faces.web.answers import AskedFix, Desk
from luffwright.faces.web.crew import Crew
from luffwright.faces.web.hub import Hub
from web_fixtures import Served, Watched

SEEN = [{"headsail": {"top": {"windward": "lifting"}}}]
WISH = AskedFix.model_validate(
    {"page": "abcd1234", "number": 7, "seen": SEEN,
     "case": {"boat": "marram", "wind_kn": 12, "angle_deg": "upwind"}}
)  # fmt: skip


@dataclass
class Portions(Crew):
    """A crew that has everything flown after so many portions."""

    left: int
    asked: list[str] = field(default_factory=list)

    async def search(self, work: Callable[..., Any], *arguments: object) -> Any:  # noqa: ANN401
        assert arguments[-1] == SEEN
        self.asked.append(work.__name__)
        if work is fix_work.flown_on:
            self.left -= 1
            return self.left <= 0
        return {"moves": []}


def test_the_boat_is_flown_on_portion_by_portion_and_then_answered_again() -> None:
    crew = Portions(3)
    desk = Desk(crew, {"marram": "marram"})
    told = asyncio.run(desk.surer(WISH, waits=lambda: True))
    assert told == {"moves": []}
    assert crew.asked == ["flown_on", "flown_on", "flown_on", "fixed"]


def test_nothing_is_flown_on_for_a_page_that_waits_no_more() -> None:
    crew = Portions(9)
    answers = iter([True, True, False])
    told = asyncio.run(Desk(crew, {"marram": "marram"}).surer(WISH, waits=lambda: next(answers)))
    assert told == {}
    assert crew.asked == ["flown_on", "flown_on"]


def test_a_page_waits_as_long_as_it_is_open_and_asks_nothing_newer() -> None:
    async def opened() -> list[bool]:
        page = Hub().page("device", "abcd1234")
        seen = [page.waits("surer")]
        stream = page.stream()
        await anext(stream)
        seen.append(page.waits("surer"))
        page.wishes["surer"] = (8, lambda: asyncio.sleep(0, {}))
        seen.append(page.waits("surer"))
        del page.wishes["surer"]
        await stream.aclose()  # type: ignore[attr-defined]
        return [*seen, page.waits("surer")]

    assert asyncio.run(opened()) == [False, True, False, False]


DOUBT = f"{LOOK_FIRST} the low outside tuft stalled hardly fits her. Is the tuft dry?"


def answer(number: int, sentence: str, *, flies_on: bool) -> dict[str, object]:
    """Return an answer of `fix` with one move."""
    move = {"control": "sheet", "to": 0.02, "sentence": sentence, "then_see": "it streams",
            "why": "it opens the leech"}  # fmt: skip
    return {"number": number, "nothing_wrong": False, "says": [DOUBT], "moves": [move],
            "cautions": [], "flies_on": flies_on}  # fmt: skip


def spoken(route: Route, *events: tuple[str, dict[str, object]]) -> None:
    """Send events as the server would, and end the line."""
    lines = ["retry: 200\nevent: hello\ndata: {}\n\n"]
    lines += [f"event: {name}\ndata: {json.dumps(told)}\n\n" for name, told in events]
    route.fulfill(body="".join(lines), content_type="text/event-stream")


@pytest.mark.browser
@pytest.mark.parametrize("moved_on", [False, True])
def test_a_surer_answer_is_shown_unless_the_crew_has_moved_on(
    phone: Watched, served: Served, moved_on: bool
) -> None:
    page = phone.page
    asked: list[bool] = []
    first = answer(1, "GENOA SHEET 1 finger ease", flies_on=True)
    surer = answer(1, "GENOA CAR 2 holes aft", flies_on=False)
    ready: list[bool] = []

    def events(route: Route) -> None:
        said: Iterator[tuple[str, dict[str, object]]] = iter(())
        if asked:
            said = iter([("surer", surer)] if ready else [("fix", first)])
            asked.clear()
        spoken(route, *said)

    def wished(route: Route) -> None:
        asked.append(True)
        route.fulfill(status=202)

    page.route("**/events/*", events)
    page.route("**/do/fix", wished)
    page.goto(f"{served.address}/fix")
    page.locator('.tap[data-level="top"]').first.click()
    page.click("#ask")
    expect(page.locator("#told .first")).to_have_text("GENOA SHEET 1 finger ease")
    expect(page.locator("#told .flies-on")).to_contain_text("may change")
    # A doubt stands before the move in one line, and why behind it.
    expect(page.locator("#told p").first).to_have_text(
        "First look again for ten seconds: the low outside tuft stalled hardly fits her."
    )
    expect(page.locator("#told .first ~ .quiet", has_text="Is the tuft dry?")).to_be_visible()
    if moved_on:
        page.click("#done")
    ready.append(True)
    asked.append(True)
    if moved_on:
        page.wait_for_timeout(1500)
        expect(page.locator("#told")).to_contain_text("Now look again")
        expect(page.locator("#told")).not_to_contain_text("GENOA CAR")
    else:
        expect(page.locator("#told .first")).to_have_text("GENOA CAR 2 holes aft")
        expect(page.locator("#told .flies-on")).to_contain_text("surer")


def moved(control: str) -> dict[str, object]:
    """Return a move of a control."""
    return {"control": control, "to": 3.0, "sentence": "CAR OR BOARD 1 aft", "then_see": "",
            "why": ""}  # fmt: skip


REEF = {"level": "warning", "text": "Reef: take reef 1 first. She heels too far."}


@pytest.mark.browser
@pytest.mark.parametrize(
    ("changed", "head", "shown", "hidden"),
    [
        ({"nothing_wrong": True}, "LEAVE IT", "With hands to spare: GENOA SHEET", "LOOK AGAIN"),
        ({"moves": []}, "LOOK AGAIN", "before you move anything", "LEAVE IT"),
        ({"moves": [], "says": [], "cautions": [REEF]}, "", "Take reef 1 first.", "LOOK AGAIN"),
        ({"moves": [moved("lead")]}, "", "Mind: unload the sheet before", "drop the sail"),
        ({"moves": [moved("clew_hole")]}, "", "Mind: furl or drop the sail and", "LOOK AGAIN"),
    ],
)
def test_one_thing_is_read_from_afar(
    phone: Watched, served: Served, changed: dict[str, object], head: str, shown: str, hidden: str
) -> None:
    page = phone.page
    told = {**answer(1, "GENOA SHEET 1 finger ease", flies_on=False), **changed}
    asked: list[bool] = []

    def wished(route: Route) -> None:
        asked.append(True)
        route.fulfill(status=202)

    page.route("**/events/*", lambda route: spoken(route, *([("fix", told)] if asked else [])))
    page.route("**/do/fix", wished)
    page.goto(f"{served.address}/fix")
    page.locator('.tap[data-level="top"]').first.click()
    page.click("#ask")
    expect(page.locator("#told")).to_contain_text(shown)
    expect(page.locator("#told")).not_to_contain_text(hidden)
    assert page.locator("#told .leave strong").all_text_contents() == ([head] if head else [])
    # What little is left can be told done, too.
    expect(page.locator("#done-row")).to_be_visible(visible=bool(told["moves"]))
