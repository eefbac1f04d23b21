"""Make the pictures of the page: each place, both sizes, by day and by night.

`python scripts/page_pictures.py` starts a server of its own and drives Chromium.
"""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from pathlib import Path

from playwright.sync_api import Page, expect, sync_playwright

ROOT = Path(__file__).resolve().parents[1]
FOLDER = ROOT / "docs" / "pictures" / "page"
SIZES = {"phone": (390, 844), "wide": (1280, 800)}
WAIT = 120_000


def main() -> int:
    """Make them all; 2 where there is no browser."""
    chromium = os.environ.get("CHROMIUM") or shutil.which("chromium")
    if not chromium:
        print("No Chromium: apt-get install chromium, or name it: CHROMIUM=...", file=sys.stderr)
        return 2
    FOLDER.mkdir(parents=True, exist_ok=True)
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    with tempfile.TemporaryDirectory() as state:
        server = subprocess.Popen(  # noqa: S603  # our own command
            [sys.executable, "-m", "luffwright.faces.cli", "serve", "--port", str(port)],
            env=os.environ | {"XDG_STATE_HOME": state, "LUFFWRIGHT_STORE": state},
        )
        try:
            _await(f"http://127.0.0.1:{port}/pair")
            _all(f"http://127.0.0.1:{port}", chromium)
        finally:
            server.terminate()
            server.wait(20)
    return 0


def _await(address: str) -> None:
    for _ in range(300):
        try:
            urllib.request.urlopen(address, timeout=2)  # noqa: S310  # our own server
        except (urllib.error.URLError, OSError):
            time.sleep(0.1)
        else:
            return


def _all(home: str, chromium: str) -> None:
    with sync_playwright() as play:
        browser = play.chromium.launch(
            executable_path=chromium, args=["--no-sandbox", "--disable-gpu"]
        )
        for size, (width, height) in SIZES.items():
            context = browser.new_context(
                viewport={"width": width, "height": height},
                # Files stay small.
                device_scale_factor=1.0 if size == "phone" else 0.85,
                reduced_motion="reduce",
            )
            page = context.new_page()
            for night in ("day", "night"):
                page.goto(f"{home}/set")
                is_on = "on" if night == "night" else "off"
                page.evaluate(f"localStorage.setItem('night', '{is_on}')")
                _places(page, home, f"{size}-{night}")
            context.close()
        browser.close()


def _places(page: Page, home: str, name: str) -> None:
    page.goto(f"{home}/set")
    page.select_option("#boat", "marram")
    page.click("#case .go")
    expect(page.locator(".work li").first).to_be_visible(timeout=WAIT)
    _shot(page, f"set-{name}")
    page.goto(f"{home}/see")
    expect(page.locator("#cost-short")).to_have_text("Nothing lost", timeout=WAIT)
    for _ in range(4):
        page.locator("#steppers [data-control='lead'] button").last.click()
    page.wait_for_timeout(2500)
    page.evaluate("scrollTo(0, 0)")
    _shot(page, f"see-{name}")
    page.goto(f"{home}/fix")
    _tap(page, "top", "windward", 2)
    _tap(page, "top", "leeward", 1)
    _tap(page, "low", "windward", 1)
    _tap(page, "low", "leeward", 2)
    _shot(page, f"fix-{name}")
    page.click("#ask")
    expect(page.locator("#told .first, #told .leave").first).to_be_visible(timeout=2 * WAIT)
    page.wait_for_timeout(300)
    _shot(page, f"fix-told-{name}")
    page.goto(f"{home}/learn/lead")
    expect(page.locator("#steppers li")).to_have_count(1, timeout=WAIT)
    page.get_by_text("open", exact=True).click()
    for _ in range(4):
        page.locator("#steppers button").last.click()
        page.wait_for_timeout(500)
    page.evaluate("scrollTo(0, 0)")
    page.wait_for_timeout(1200)
    _shot(page, f"learn-{name}")


def _tap(page: Page, level: str, side: str, times: int) -> None:
    button = page.locator(f'.tap[data-level="{level}"][data-side="{side}"]')
    for _ in range(times):
        button.click()


def _shot(page: Page, name: str) -> None:
    page.screenshot(path=FOLDER / f"{name}.png")
    print(name, (FOLDER / f"{name}.png").stat().st_size // 1000, "kB")


if __name__ == "__main__":
    sys.exit(main())
