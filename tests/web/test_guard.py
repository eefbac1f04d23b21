"""Who and what is let in: hosts, sites, sizes, devices, files."""

from __future__ import annotations

import asyncio
import http.client
import json
from collections.abc import Coroutine, MutableMapping
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

import pytest

from luffwright.faces.web.guard import LARGEST_BODY
from luffwright.faces.web.hub import PAGES_A_DEVICE, Hub
from luffwright.faces.web.pairing import COOKIE, TRIES, Door, kept_key, qr_svg, qr_terminal
from luffwright.faces.web.serve import boats_on_list
from luffwright.faces.web.server import House, Server
from web_fixtures import Served

T = TypeVar("T")
JSON = {"content-type": "application/json"}
CASE = {"boat": "marram", "wind_kn": 12, "angle_deg": "upwind"}
WISH = {"page": "abcd1234", "number": 1, "case": CASE, "controls": {}}


def ask(
    served: Served, method: str, path: str, body: bytes = b"", headers: dict[str, str] | None = None
) -> tuple[int, str, dict[str, str]]:
    """Return status, text and headers of an answer of the running server."""
    line = http.client.HTTPConnection("127.0.0.1", served.port, timeout=20)
    line.request(method, path, body or None, headers or {})
    answer = line.getresponse()
    told = {name.lower(): value for name, value in answer.getheaders()}
    text = answer.read(4000).decode(errors="replace") if "event-stream" not in str(told) else ""
    line.close()
    return answer.status, text, told


def test_another_host_name_is_turned_away(served: Served) -> None:
    # A page of a stranger whose name is made to lead here must not be answered.
    assert ask(served, "GET", "/set", headers={"host": "harbour.example"})[0] == 421
    assert ask(served, "GET", "/set", headers={"host": f"localhost:{served.port}"})[0] == 200


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        (JSON, 202),
        (JSON | {"origin": "http://harbour.example"}, 403),
        (JSON | {"sec-fetch-site": "cross-site"}, 403),
        ({"content-type": "text/plain"}, 415),
        ({"content-type": "application/x-www-form-urlencoded"}, 415),
    ],
)
def test_only_our_own_pages_may_ask_for_work(
    served: Served, headers: dict[str, str], status: int
) -> None:
    body = json.dumps(WISH).encode()
    assert ask(served, "POST", "/do/look", body, headers)[0] == status


def test_a_body_is_bounded(served: Served) -> None:
    body = json.dumps(WISH | {"controls": {"lead": 0.1}} | {"more": "x" * LARGEST_BODY}).encode()
    assert ask(served, "POST", "/do/look", body, JSON)[0] == 413


@pytest.mark.parametrize("path", ["/do/look", "/do/search", "/do/fix"])
def test_looking_at_an_address_changes_nothing(served: Served, path: str) -> None:
    assert ask(served, "GET", path)[0] == 405


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS"])
def test_other_methods_are_turned_away(served: Served, method: str) -> None:
    assert ask(served, method, "/set")[0] == 405


@pytest.mark.parametrize(
    "path",
    ["/static/v/../pages.py", "/static/v/..%2fpages.py", "/static/v/%2e%2e%2f%2e%2e%2fcli.py",
     "/static/v//etc/passwd", "/static/v/base.html"],
)  # fmt: skip
def test_no_other_file_is_given_out(served: Served, path: str) -> None:
    status, text, _ = ask(served, "GET", path)
    assert status in (404, 307)
    assert "import" not in text


@pytest.mark.parametrize("boat", ["/etc/passwd", "../secret.toml", "eider.toml", "", "x" * 80])
def test_a_page_cannot_name_a_file_as_its_boat(served: Served, boat: str) -> None:
    body = json.dumps(WISH | {"case": CASE | {"boat": boat}}).encode()
    assert ask(served, "POST", "/do/look", body, JSON)[0] == 422


@pytest.mark.parametrize(
    "wrong",
    [b"", b"{", b"[]", b'"a"', b'{"page": 5}', json.dumps(WISH | {"page": "../../x"}).encode(),
     json.dumps(WISH | {"controls": {"lead": 1e999}}).replace("Infinity", "1e999").encode(),
     json.dumps(WISH | {"case": CASE | {"wind_kn": "a<script>"}}).encode(), b"[" * 9000],
)  # fmt: skip
def test_nonsense_is_refused_and_the_server_stays(served: Served, wrong: bytes) -> None:
    headers = JSON | {"content-length": str(len(wrong))}
    assert ask(served, "POST", "/do/look", wrong, headers)[0] == 422
    assert ask(served, "GET", "/set")[0] == 200


def test_every_answer_keeps_the_browser_strict(served: Served) -> None:
    _, text, headers = ask(served, "GET", "/set")
    assert "default-src 'none'" in headers["content-security-policy"]
    assert "unsafe" not in headers["content-security-policy"]
    assert headers["x-content-type-options"] == "nosniff"
    cookie = headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert " style=" not in text
    assert "http://" not in text.replace("http://www.w3.org", "")


def apart(work: Coroutine[Any, Any, T]) -> T:
    """Return what comes of work in a thread of its own: a browser's loop may run in this one."""
    with ThreadPoolExecutor(1) as line:
        return line.submit(asyncio.run, work).result()


# ------------------------------------------------------------------------- devices on the network


async def _asked(
    server: Server, path: str, *, cookie: str = "", code: str | None = None
) -> tuple[int, dict[str, str]]:
    """Return status and headers of an answer to a phone on the boat's network."""
    body = b"" if code is None else json.dumps({"code": code}).encode()
    headers = [(b"host", b"192.168.4.1:8100"), (b"cookie", cookie.encode())]
    headers += [(b"content-type", b"application/json"),
                (b"content-length", str(len(body)).encode())]  # fmt: skip
    scope = {
        "type": "http", "method": "GET" if code is None else "POST", "path": path,
        "raw_path": path.encode(), "query_string": b"", "headers": headers, "http_version": "1.1",
        "scheme": "http", "client": ("192.168.4.77", 50000), "server": ("192.168.4.1", 8100),
        "root_path": "",
    }  # fmt: skip
    said: list[MutableMapping[str, Any]] = []

    async def receive() -> MutableMapping[str, Any]:
        return {"type": "http.request", "body": body, "more_body": False}

    async def send(message: MutableMapping[str, Any]) -> None:
        said.append(message)

    await server.app()(scope, receive, send)
    told = {name.decode(): value.decode() for name, value in said[0]["headers"]}
    return int(said[0]["status"]), told


def from_phone(
    server: Server, path: str, *, cookie: str = "", code: str | None = None
) -> tuple[int, dict[str, str]]:
    """Return the answer of a server that is not listening."""
    return apart(_asked(server, path, cookie=cookie, code=code))


@pytest.fixture
def house() -> House:
    """Return a house on the boat's network."""
    door = Door(b"k" * 32, code="012345")
    return House(boats_on_list(None), door, ("192.168.4.1",), ("192.168.4.1",))


def test_a_phone_is_let_in_once_with_the_code_and_then_known(house: House) -> None:
    server = Server(house)
    status, headers = from_phone(server, "/set")
    assert (status, headers["location"]) == (303, "/pair")
    assert from_phone(server, "/pair", code="543210")[0] == 403
    house.door.shut_until = 0.0
    status, headers = from_phone(server, "/pair", code="012345")
    assert status == 200
    token = headers["set-cookie"].partition(";")[0]
    assert from_phone(server, "/set", cookie=token)[0] == 200
    # Remembered when the server has been started again with the same key.
    again = Server(House(house.boats, Door(house.door.key), house.hosts))
    assert from_phone(again, "/set", cookie=token)[0] == 200
    other = Server(House(house.boats, Door(b"n" * 32), house.hosts))
    assert from_phone(other, "/set", cookie=token)[0] == 303


def test_a_made_up_device_is_not_known(house: House) -> None:
    token = house.door.token()
    name = token.partition(".")[0]
    for made in (f"{name}.{'0' * 64}", name, "", f"{'0' * 32}.{token.partition('.')[2]}"):
        assert from_phone(Server(house), "/set", cookie=f"{COOKIE}={made}")[0] == 303


def test_wrong_codes_shut_the_door_for_a_while_and_change_the_code(
    capsys: pytest.CaptureFixture[str],
) -> None:
    door = Door(b"k" * 32, code="012345")
    assert not door.opens("111111")
    # Even the right one waits now.
    assert not door.opens("012345")
    for _ in range(TRIES - 1):
        door.shut_until = 0.0
        assert not door.opens("111111")
    assert door.code != "012345"
    assert door.code in capsys.readouterr().out


def test_the_code_is_shown_on_the_servers_own_screen_only(house: House) -> None:
    token = f"{COOKIE}={house.door.token()}"
    assert from_phone(Server(house), "/here", cookie=token)[0] == 403


def test_the_key_is_kept_for_this_user_alone(tmp_path: Path) -> None:
    key = kept_key(tmp_path)
    assert kept_key(tmp_path) == key
    assert (tmp_path / "device.key").stat().st_mode & 0o077 == 0
    assert kept_key(tmp_path, anew=True) != key


def test_one_device_never_hears_what_another_asked() -> None:
    hub = Hub()
    mine, other = hub.page("a", "page1"), hub.page("b", "page1")
    mine.send("look", '{"wind": 12}')
    assert mine.events.qsize() == 1
    assert other.events.qsize() == 0
    assert mine.key != other.key


def test_pages_of_a_device_are_bounded() -> None:
    hub = Hub()
    for count in range(PAGES_A_DEVICE + 5):
        hub.page("a", f"page{count}")
    assert len(hub.pages) == PAGES_A_DEVICE


def test_the_newest_wish_wins() -> None:
    async def run() -> list[str]:
        page, done = Hub().page("a", "page1"), []

        async def work(number: int) -> dict[str, object]:
            await asyncio.sleep(0.02)
            done.append(number)
            return {}

        for number in range(10):
            page.wish("look", number, partial(work, number))
            await asyncio.sleep(0.005)
        await asyncio.gather(*page.tasks)
        return [str(it) for it in done]

    order = apart(run())
    assert order[0] == "0"
    assert order[-1] == "9"
    assert len(order) < 8


def test_a_code_to_scan_is_drawn_without_a_style_that_the_page_forbids() -> None:
    drawn = qr_svg("http://192.168.4.1:8100/pair#012345")
    assert drawn.startswith("<svg")
    assert "style=" not in drawn
    assert len({len(line) for line in qr_terminal("http://192.168.4.1:8100/").splitlines()}) == 1


def test_a_boat_file_is_on_the_list_and_a_broken_one_is_refused_at_the_start(
    tmp_path: Path,
) -> None:
    from luffwright.errors import InputError  # noqa: PLC0415

    broken = tmp_path / "broken.toml"
    broken.write_text("[boat]\nname = 'x'\n[[[", encoding="utf-8")
    with pytest.raises(InputError):
        boats_on_list(str(broken))
    with pytest.raises(InputError):
        boats_on_list("/etc/passwd")
