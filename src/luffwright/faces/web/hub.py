"""Open pages and what is sent to them: each hears only its own, and the newest wish wins."""

from __future__ import annotations

import asyncio
import json
from collections import OrderedDict
from collections.abc import AsyncIterator, Awaitable, Callable
from dataclasses import dataclass, field

from luffwright.errors import LuffwrightError
from luffwright.faces.web.refusals import refusal_words

PAGES_A_DEVICE, PAGES = 8, 128
QUEUE = 32
HEARTBEAT = 10.0
"""Seconds between signs of life, by which a page sees that the server is there."""

Work = Callable[[], Awaitable[dict[str, object]]]


@dataclass
class Page:
    """One open page of a device: what waits to be sent, and what waits to be done.

    `wishes` by kind: only the newest of each is kept, until the one at work is done.
    """

    key: str
    events: asyncio.Queue[str] = field(default_factory=lambda: asyncio.Queue(QUEUE))
    wishes: dict[str, tuple[int, Work]] = field(default_factory=dict)
    busy: set[str] = field(default_factory=set)
    tasks: set[asyncio.Task[None]] = field(default_factory=set)
    readers: int = 0

    def send(self, name: str, text: str) -> None:
        """Put an event in line, its JSON as text; where nobody reads, the oldest is dropped."""
        if self.events.full():
            self.events.get_nowait()
        self.events.put_nowait(f"event: {name}\ndata: {text}\n\n")

    def wish(self, kind: str, number: int, work: Work) -> None:
        """Do this next; what of its kind was waiting is forgotten."""
        self.wishes[kind] = (number, work)
        if kind not in self.busy:
            self.busy.add(kind)
            task = asyncio.create_task(self._work_off(kind))
            self.tasks.add(task)
            task.add_done_callback(self.tasks.discard)

    def waits(self, kind: str) -> bool:
        """Return whether the page is open and still waits for what is being done for it."""
        return self.readers > 0 and kind not in self.wishes

    async def _work_off(self, kind: str) -> None:
        try:
            while kind in self.wishes:
                number, work = self.wishes.pop(kind)
                self.send(*await _told(kind, number, work))
        finally:
            self.busy.discard(kind)

    async def stream(self) -> AsyncIterator[str]:
        """Yield what is sent to the page, with a sign of life when there is nothing."""
        # Once more, that the page may show what it missed.
        self.readers += 1
        try:
            yield "retry: 700\nevent: hello\ndata: {}\n\n"
            while True:
                try:
                    yield await asyncio.wait_for(self.events.get(), HEARTBEAT)
                except TimeoutError:
                    yield ": here\n\n"
        finally:
            self.readers -= 1


def _written(told: dict[str, object]) -> str:
    return json.dumps(told, ensure_ascii=False, allow_nan=False)


async def _told(kind: str, number: int, work: Work) -> tuple[str, str]:
    """Return the event that tells what came of a wish."""
    try:
        return kind, _written({"number": number} | await work())
    except LuffwrightError as refusal:
        text = refusal_words(refusal)
    except (ArithmeticError, LookupError, RuntimeError, TypeError, ValueError) as fault:
        # A page that hears nothing would wait for ever.
        text = f"This could not be shown ({type(fault).__name__}): try a state close by."
    return "refused", _written({"kind": kind, "number": number, "text": text})


class Hub:
    """All open pages. Those not heard of for longest are forgotten first."""

    def __init__(self) -> None:
        self.pages: OrderedDict[tuple[str, str], Page] = OrderedDict()

    def page(self, device: str, name: str) -> Page:
        """Return a device's page of that name."""
        place = (device, name)
        if place not in self.pages:
            self.pages[place] = Page(f"{device}/{name}")
        self.pages.move_to_end(place)
        own = [it for it in self.pages if it[0] == device]
        for old in own[: max(len(own) - PAGES_A_DEVICE, 0)]:
            del self.pages[old]
        while len(self.pages) > PAGES:
            self.pages.popitem(last=False)
        return self.pages[place]
