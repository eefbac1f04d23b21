"""What is let in: known host names, known methods, small bodies of JSON from our own pages."""

from __future__ import annotations

import contextlib
import socket
from collections.abc import Iterable
from dataclasses import dataclass

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LARGEST_BODY = 16_384
"""Bytes that a request may carry: a case with everything given has about 2 000."""
LOOPBACK = ("127.0.0.1", "localhost", "::1")
HEADERS = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
        "connect-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}


def host_of(header: str) -> str:
    """Return the host that a Host header or an origin names, without scheme and port.

    Examples
    --------
    >>> host_of("127.0.0.1:8000"), host_of("[::1]:8000"), host_of("http://Skerrow.local")
    ('127.0.0.1', '::1', 'skerrow.local')
    """
    text = header.rpartition("//")[2].lower()
    if text.startswith("["):
        return text[1:].partition("]")[0]
    return text.partition(":")[0]


def own_addresses() -> tuple[str, ...]:
    """Return the addresses and names of this machine on the boat's network."""
    name = socket.gethostname()
    found = {name, f"{name}.local"}
    with contextlib.suppress(OSError):
        found |= {str(entry[4][0]) for entry in socket.getaddrinfo(name, None)}
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # Nothing is sent: it only asks the system which way a private network lies.
            probe.connect(("10.255.255.255", 9))
            found.add(str(probe.getsockname()[0]))
        except OSError:
            pass
    return tuple(sorted(it.lower() for it in found if not it.startswith("127.")))


@dataclass(frozen=True)
class Guard:
    """Stands before the page: turns away what is not for it, and adds what keeps a browser strict.

    `hosts` are the names under which the page may be asked for.
    """

    app: ASGIApp
    hosts: Iterable[str]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request in, or answer it here."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            return
        refusal = self._refusal(scope)
        if refusal is not None:
            await refusal(scope, receive, _strict(send))
            return
        await self.app(scope, _bounded(receive), _strict(send))

    def _refusal(self, scope: Scope) -> PlainTextResponse | None:
        headers = Headers(scope=scope)
        if host_of(headers.get("host", "")) not in self.hosts:
            return PlainTextResponse("This page is not served under that name.", 421)
        if scope["method"] not in ("GET", "HEAD", "POST"):
            return PlainTextResponse("Only GET and POST are answered.", 405)
        if scope["method"] == "POST":
            return _refused_post(headers)
        return None


def _refused_post(headers: Headers) -> PlainTextResponse | None:
    """Return why a POST is turned away; None where it comes from our own pages."""
    origin = headers.get("origin")
    same_site = headers.get("sec-fetch-site", "same-origin") == "same-origin"
    if not same_site or (origin is not None and _place(origin) != _place(headers["host"])):
        return PlainTextResponse("Asked from another site.", 403)
    if headers.get("content-type", "").partition(";")[0].strip() != "application/json":
        return PlainTextResponse("Send JSON.", 415)
    length = headers.get("content-length", "")
    if not length.isdecimal():
        return PlainTextResponse("Say how long it is.", 411)
    if int(length) > LARGEST_BODY:
        return PlainTextResponse("Too much at once.", 413)
    return None


def _place(text: str) -> str:
    """Return host and port of a Host header or an origin."""
    return text.rpartition("//")[2].lower()


def _bounded(receive: Receive) -> Receive:
    """Return the body's stream, ended where it grows beyond its limit."""
    seen = 0

    async def bounded() -> Message:
        nonlocal seen
        message = await receive()
        if message["type"] == "http.request":
            seen += len(message.get("body", b""))
            if seen > LARGEST_BODY:
                return {"type": "http.disconnect"}
        return message

    return bounded


def _strict(send: Send) -> Send:
    """Return the answer's stream with the headers that keep a browser strict."""

    async def strict(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
        await send(message)

    return strict
