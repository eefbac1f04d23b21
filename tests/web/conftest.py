"""A real server, and a real browser where there is one."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, sync_playwright

from web_fixtures import CHROMIUM, FLAGS, REQUIRED, SIZES, Served, Watched, free_port, watch


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Leave out what needs a browser where there is none, and say so; in CI let it fail."""
    if CHROMIUM or REQUIRED:
        return
    leave = pytest.mark.skip(reason="BROWSER TESTS NOT RUN: no Chromium on this machine")
    for item in items:
        if item.get_closest_marker("browser"):
            item.add_marker(leave)


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """Return a running server."""
    server = Served(free_port(), tmp_path_factory.mktemp("state"))
    server.start()
    yield server
    server.kill()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Return the browser."""
    assert CHROMIUM, "no Chromium: apt-get install chromium, or name it: CHROMIUM=/path/to/it"
    with sync_playwright() as play:
        found = play.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield found
        found.close()


@pytest.fixture(params=list(SIZES))
def watched(request: pytest.FixtureRequest, browser: Browser) -> Iterator[Watched]:
    """Return a page of each size."""
    found = watch(browser, request.param)
    yield found
    found.page.context.close()


@pytest.fixture
def turned(browser: Browser) -> Iterator[Watched]:
    """Return the page of a phone on its side."""
    found = watch(browser, "turned")
    yield found
    found.page.context.close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[Watched]:
    """Return a phone's page."""
    found = watch(browser, "phone")
    yield found
    found.page.context.close()
