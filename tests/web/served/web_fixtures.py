"""A real server in a process of its own, and a page in a real browser that is watched."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

CHROMIUM = os.environ.get("CHROMIUM") or shutil.which("chromium") or ""
FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--no-first-run", "--disable-quic",
]  # fmt: skip
SIZES = {"phone": (390, 844), "wide": (1280, 800)}
ON_ITS_SIDE = (844, 390)
REQUIRED = os.environ.get("CI", "") not in ("", "0", "false")
"""In continuous integration a missing browser is a failure, not something to leave out."""


def free_port() -> int:
    """Return a port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@dataclass
class Served:
    """A server in a process of its own, which can be killed and started again."""

    port: int
    state: Path
    process: subprocess.Popen[bytes] | None = None

    @property
    def address(self) -> str:
        """Return where it is open."""
        return f"http://127.0.0.1:{self.port}"

    def start(self, *more: str) -> None:
        """Start it, and wait until it answers."""
        path = os.pathsep.join(it for it in sys.path if it)
        self.process = subprocess.Popen(
            [sys.executable, "-m", "luffwright.faces.cli", "serve", "--port", str(self.port),
             *more],
            env=os.environ | {"PYTHONPATH": path, "XDG_STATE_HOME": str(self.state),
                             "LUFFWRIGHT_STORE": str(self.state)},
            stdout=subprocess.DEVNULL,
        )  # fmt: skip
        for _ in range(300):
            try:
                urllib.request.urlopen(f"{self.address}/pair", timeout=2)  # noqa: S310  # our own
            except (urllib.error.URLError, OSError):
                time.sleep(0.1)
            else:
                return
        pytest.fail("the server did not start")

    def kill(self) -> None:
        """Kill it, as a flat battery does."""
        if self.process is not None:
            self.process.kill()
            self.process.wait(10)


@dataclass
class Watched:
    """A page, with all that it asked for and all that its console said."""

    page: Page
    asked: list[str]
    said: list[str]

    def calm(self, served: Served) -> bool:
        """Return whether nothing left the machine and nothing was complained about."""
        away = [it for it in self.asked if not it.startswith((served.address, "data:"))]
        return not away and not self.said


def watch(browser: Browser, size: str) -> Watched:
    """Return a new device's page of a size, or of a phone on its side, watched."""
    width, height = SIZES.get(size, ON_ITS_SIDE)
    context = browser.new_context(viewport={"width": width, "height": height})
    page = context.new_page()
    watched = Watched(page, [], [])
    page.on("request", lambda it: watched.asked.append(it.url))
    page.on("pageerror", lambda it: watched.said.append(str(it)))
    page.on("console", lambda it: watched.said.append(it.text) if it.type == "error" else None)
    return watched
