"""Time the page in a browser: drag to picture, letting go to rest, one phone and four."""

from __future__ import annotations

import statistics
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, Page, expect, sync_playwright

from web_fixtures import CHROMIUM, FLAGS, SIZES, Served, free_port

MOVES, PHONES = 24, 4
WAIT = 120_000


def ready(browser: Browser, served: Served) -> Page:
    """Return a phone that shows See, with the best trim known."""
    width, height = SIZES["phone"]
    page = browser.new_context(viewport={"width": width, "height": height}).new_page()
    page.goto(f"{served.address}/set")
    page.select_option("#boat", "marram")
    page.goto(f"{served.address}/see")
    expect(page.locator("#cost-short")).not_to_have_text("…", timeout=WAIT)
    page.wait_for_timeout(1500)
    return page


def take(page: Page) -> tuple[float, float]:
    """Take hold of the car."""
    knot = page.locator('.knot[data-control="lead"]')
    knot.evaluate("it => it.scrollIntoView({block: 'center'})")
    box = knot.bounding_box()
    assert box
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    return x, y


def drag(pages: list[Page]) -> tuple[list[float], list[float]]:
    """Return milliseconds from each move to its picture, and from letting go to rest."""
    holds = [take(page) for page in pages]
    took: list[float] = []
    for count in range(MOVES):
        before = [page.evaluate("document.body.dataset.number") for page in pages]
        for page, (x, y) in zip(pages, holds, strict=True):
            page.mouse.move(x, y - 3.0 * (1 + count % 8))
        for page, number in zip(pages, before, strict=True):
            for _ in range(80):
                if page.evaluate("document.body.dataset.number") != number:
                    took.append(float(page.evaluate("document.body.dataset.took")))
                    break
                page.wait_for_timeout(10)
    rests = []
    for page in pages:
        number = page.evaluate("document.body.dataset.number")
        page.mouse.up()
        for _ in range(200):
            if page.evaluate("document.body.dataset.number") != number:
                break
            page.wait_for_timeout(10)
        rests.append(float(page.evaluate("document.body.dataset.took")))
    return took, rests


def main() -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory() as state, sync_playwright() as play:
        served = Served(free_port(), Path(state))
        served.start()
        try:
            browser = play.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
            for count in (1, PHONES):
                pages = [ready(browser, served) for _ in range(count)]
                took, rests = drag(pages)
                print(
                    f"{count} phone(s): {len(took)} moves, to picture median "
                    f"{statistics.median(took):.0f} ms (most {max(took):.0f}), "
                    f"to rest median {statistics.median(rests):.0f} ms (most {max(rests):.0f})"
                )
                for page in pages:
                    page.context.close()
        finally:
            served.kill()


if __name__ == "__main__":
    main()
