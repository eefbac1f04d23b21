"""The page's server: who is let in, where each place is, and what is sent where."""

from __future__ import annotations

import contextlib
from collections.abc import AsyncIterator, Awaitable, Callable, Mapping
from dataclasses import dataclass
from functools import partial

from starlette.applications import Starlette
from starlette.requests import ClientDisconnect, Request
from starlette.responses import (
    JSONResponse,
    PlainTextResponse,
    RedirectResponse,
    Response,
    StreamingResponse,
)
from starlette.routing import Route

from luffwright.errors import InputError, LuffwrightError
from luffwright.faces.web import answers, pages
from luffwright.faces.web.crew import Crew
from luffwright.faces.web.guard import LOOPBACK, Guard
from luffwright.faces.web.hub import Hub
from luffwright.faces.web.pairing import COOKIE, Door
from luffwright.faces.web.refusals import refusal_words
from luffwright.faces.web.work import set_up

YEAR = 365 * 24 * 3600

Answer = Callable[[Request, str], Awaitable[Response]]


@dataclass(frozen=True)
class House:
    """What the server needs: the boats on the list by name with what loads each, the door, and
    under which host names it is asked for. `addresses` are told to who pairs a device.
    """

    boats: Mapping[str, str]
    door: Door
    hosts: tuple[str, ...] = LOOPBACK
    addresses: tuple[str, ...] = ()
    port: int = 8100


class Server:
    """The routes over one house."""

    def __init__(self, house: House) -> None:
        self.house, self.hub = house, Hub()
        self.crew = Crew(set_up)
        self.desk = answers.Desk(self.crew, house.boats)
        self.pages = pages.Pages(self.desk, house)

    def app(self) -> Guard:
        """Return the application with its guard before it."""
        routes = [
            Route("/", lambda _: RedirectResponse("/set", 303)),
            *(Route(f"/{name}", self._known(self._place), name=name) for name in pages.PLACES),
            Route("/learn/{lesson}", self._known(self._lesson)),
            Route("/pair", self._pair, methods=["GET", "POST"]),
            Route("/here", self._known(self._here)),
            Route("/events/{page}", self._known(self._events)),
            Route("/static/{version}/{name}", self._static),
            *(
                Route(f"/do/{name}", self._known(work), methods=["POST"])
                for name, work in self._works().items()
            ),
        ]
        app = Starlette(routes=routes, lifespan=self._lifespan)
        return Guard(app, frozenset(it.lower() for it in (*LOOPBACK, *self.house.hosts)))

    @contextlib.asynccontextmanager
    async def _lifespan(self, _: Starlette) -> AsyncIterator[None]:
        self.crew.warm()
        try:
            yield
        finally:
            self.crew.close()

    # --------------------------------------------------------------------------- who is let in

    def _known(self, answer: Answer) -> Callable[[Request], Awaitable[Response]]:
        """Return an answer for known devices only; this machine itself is let in without a code."""

        async def known(request: Request) -> Response:
            device, token = self._device(request), None
            if device is None and _from_here(request):
                token = self.house.door.token()
                device = self.house.door.device(token)
            if device is None:
                if request.method == "GET":
                    return RedirectResponse("/pair", 303)
                return PlainTextResponse("Pair this device first.", 401)
            response = await _refusing(answer, request, device)
            if token is not None:
                _remember(response, token)
            return response

        return known

    def _device(self, request: Request) -> str | None:
        return self.house.door.device(request.cookies.get(COOKIE))

    async def _pair(self, request: Request) -> Response:
        if request.method != "POST":
            return self.pages.pair()
        try:
            given = await request.json()
        except (ValueError, ClientDisconnect):
            return PlainTextResponse("Send the code.", 400)
        if not isinstance(given, dict) or not self.house.door.opens(given.get("code")):
            return PlainTextResponse("That is not the code on the screen. Wait a second.", 403)
        response = JSONResponse({"paired": True})
        _remember(response, self.house.door.token())
        return response

    async def _here(self, request: Request, _: str) -> Response:
        """Show the code on this machine's own screen, and on no other."""
        if not _from_here(request):
            return PlainTextResponse("The code is shown on the server's own screen.", 403)
        return self.pages.here()

    # ------------------------------------------------------------------------------ the places

    async def _place(self, request: Request, _: str) -> Response:
        return self.pages.place(request.url.path.strip("/"))

    async def _lesson(self, request: Request, _: str) -> Response:
        return self.pages.lesson(str(request.path_params["lesson"]))

    async def _static(self, request: Request) -> Response:
        return self.pages.static(str(request.path_params["name"]))

    async def _events(self, request: Request, device: str) -> Response:
        name = str(request.path_params["page"])
        if not (name.isalnum() and 4 <= len(name) <= 32):
            return PlainTextResponse("No such page.", 404)
        headers = {"x-accel-buffering": "no"}
        stream = self.hub.page(device, name).stream()
        return StreamingResponse(stream, media_type="text/event-stream", headers=headers)

    # -------------------------------------------------------------------------------- the work

    def _works(self) -> dict[str, Answer]:
        return {"look": self._look, "search": self._search, "fix": self._fix}

    async def _fix(self, request: Request, device: str) -> Response:
        wish = answers.read(answers.AskedFix, await request.body())
        self.desk.fields(wish.case)
        page = self.hub.page(device, wish.page)

        async def first() -> dict[str, object]:
            told = await self.desk.fix(wish)
            if told["flies_on"]:
                waits = partial(page.waits, "surer")
                page.wish("surer", wish.number, partial(self.desk.surer, wish, waits=waits))
            return told

        page.wish("fix", wish.number, first)
        return Response(status_code=202)

    async def _look(self, request: Request, device: str) -> Response:
        wish = answers.read(answers.AskedLook, await request.body())
        self.desk.fields(wish.case)
        page = self.hub.page(device, wish.page)
        page.wish("look", wish.number, partial(self.desk.look, page.key, wish))
        return Response(status_code=202)

    async def _search(self, request: Request, device: str) -> Response:
        wish = answers.read(answers.AskedSearch, await request.body())
        self.desk.fields(wish.case)

        async def found() -> dict[str, object]:
            return self.pages.searched(wish, await self.desk.search(wish))

        self.hub.page(device, wish.page).wish("search", wish.number, found)
        return Response(status_code=202)


async def _refusing(answer: Answer, request: Request, device: str) -> Response:
    """Return the answer, or its refusal as a sentence."""
    try:
        return await answer(request, device)
    except InputError as refusal:
        return JSONResponse({"text": refusal_words(refusal)} | refusal.as_json(), 422)
    except LuffwrightError as refusal:
        return JSONResponse({"text": str(refusal)}, 422)
    except ClientDisconnect:
        return PlainTextResponse("Broken off.", 400)


def _from_here(request: Request) -> bool:
    return request.client is not None and request.client.host in LOOPBACK


def _remember(response: Response, token: str) -> None:
    response.set_cookie(COOKIE, token, max_age=YEAR, httponly=True, samesite="strict", path="/")
