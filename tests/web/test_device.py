"""What stays on a device, and what leaves it: units and words, paper, hands that are quick."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from luffwright.aboard.boat import load_boat
from luffwright.app.answer import Trimmed
from luffwright.app.request import Request
from luffwright.faces.web.guard import own_addresses
from luffwright.faces.web.one_file import filled, sheet_of
from web_fixtures import Served, Watched, free_port, watch

pytestmark = pytest.mark.browser
WAIT = 300_000


def settled(page: Page, served: Served) -> None:
    """Open See and wait until she stands at her best trim."""
    page.goto(f"{served.address}/set")
    page.select_option("#boat", "marram")
    page.goto(f"{served.address}/see")
    expect(page.locator("#cost-short")).to_have_text("Nothing lost", timeout=WAIT)
    expect(page.locator("body")).to_have_attribute("data-settled", "true", timeout=WAIT)


def test_units_and_words_are_kept_by_the_device_and_told_everywhere(
    phone: Watched, served: Served
) -> None:
    page = phone.page
    page.goto(f"{served.address}/set")
    page.fill("#gust", "20")
    page.dispatch_event("#gust", "change")
    for field, value in (("units", "ms"), ("lengths", "ft"), ("words", "windward")):
        page.click(".device summary")
        page.select_option(f"#{field}", value)
        page.wait_for_load_state()
    # What blows stays what it is, by 1 kn = 0.514 m/s: 12 knots are 6.17 m/s, 20 are 10.29.
    expect(page.locator("#true_wind")).to_have_value("6.17")
    expect(page.locator("#gust")).to_have_value("10.29")
    expect(page.locator('label[for="true_wind"]')).to_contain_text("m/s")
    expect(page.locator('#sea option[value="slight"]')).to_have_text("slight, 1.6 ft")
    page.fill("#gust", "")
    page.dispatch_event("#gust", "change")
    page.goto(f"{served.address}/fix")
    expect(page.locator(".tap i").first).to_have_text("windward")
    expect(page.locator("#case-line")).to_contain_text("6.17 m/s")
    page.goto(f"{served.address}/learn/put-it-right")
    expect(page.locator(".lesson-head")).to_contain_text("6.2 m/s true")
    page.goto(f"{served.address}/see")
    expect(page.locator("#speed")).to_have_text(re.compile(r"^\d\.\d m/s$"), timeout=WAIT)
    cuts = page.locator('[data-view="cuts"] .ink')
    expect(cuts).to_contain_text(re.compile(r"\d ft up"))
    assert not re.search(r"\d kn\b", page.inner_text("main"))
    page.goto(f"{served.address}/set")
    page.click(".device summary")
    page.select_option("#units", "kn")
    expect(page.locator("#true_wind")).to_have_value("12")


def test_no_step_is_lost_however_quick_the_hand(phone: Watched, served: Served) -> None:
    page = phone.page
    settled(page, served)
    knot = page.locator('.knot[data-control="traveller"]')
    was, low, high = (
        float(knot.get_attribute(f"aria-value{name}") or "nan") for name in ("now", "min", "max")
    )
    up = was < 0.5 * (low + high)
    plus = page.locator("#steppers [data-control='traveller'] button")
    step = plus.last if up else plus.first
    kept = "JSON.parse(localStorage.getItem('case')).controls.traveller"
    step.click()
    page.wait_for_timeout(1500)
    one = abs(page.evaluate(kept) - was)
    for _ in range(5):
        step.click()
        page.wait_for_timeout(40)
    page.wait_for_timeout(2500)
    # The first step may be part of one, from between two marks.
    assert abs(page.evaluate(kept) - was) == pytest.approx(one + 5 * 0.05, abs=0.03)


def test_every_rope_can_be_stepped_whatever_is_drawn(phone: Watched, served: Served) -> None:
    page = phone.page
    settled(page, served)
    # By the verbs of the trade: nobody has to know which way a rope's scale runs.
    for name, verbs in (
        ("genoa sheet", ("pull", "ease")), ("genoa car", ("forward", "aft")),
        ("mainsheet", ("pull", "ease")), ("traveller", ("up", "down")),
        ("backstay", ("off", "on")), ("vang", ("ease", "pull")),
    ):  # fmt: skip
        for verb in verbs:
            it = page.get_by_role("button", name=f"{name}: {verb}, one step")
            expect(it).to_have_text(verb)
    # As the ear has it: each knot by its rope, with where it stands in deck words.
    expect(page.get_by_role("slider", name="genoa car")).to_have_attribute(
        "aria-valuetext", re.compile("hole")
    )
    for name in ("The deck from above", "Three sections of the sails from above"):
        expect(page.get_by_role("img", name=re.compile(name))).to_be_visible()


def on_paper(page: Page) -> int:
    """Return how many sheets it takes, having looked that nothing to press is on them."""
    page.emulate_media(media="print")
    for it in (".top", "button:not(.tap, .summary)", ".go", ".knot", "form", ".lost"):
        for found in page.locator(it).all():
            assert not found.is_visible(), it
    paper = page.evaluate("getComputedStyle(document.documentElement).backgroundColor")
    assert paper == "rgb(255, 255, 255)"
    sheets = page.pdf(format="A4")
    page.emulate_media(media="screen")
    return len(re.findall(rb"/Type\s*/Page\b", sheets))


@pytest.mark.parametrize("night", ["off", "on"])
def test_paper_is_clean_by_day_and_night(phone: Watched, served: Served, night: str) -> None:
    page = phone.page
    page.add_init_script("window.print = () => { document.body.dataset.printed = 'yes'; }")
    page.goto(f"{served.address}/set")
    page.evaluate(f"localStorage.setItem('night', '{night}')")
    page.goto(f"{served.address}/set")
    page.select_option("#boat", "marram")
    page.click("#case .go")
    expect(page.locator(".work li").first).to_be_visible(timeout=WAIT)
    assert 1 <= on_paper(page) <= 2
    page.goto(f"{served.address}/see")
    expect(page.locator("#steppers li").first).to_be_visible(timeout=WAIT)
    page.click("#print")
    # A phone shows one drawing; paper has them all.
    expect(page.locator("body")).to_have_attribute("data-printed", "yes", timeout=60_000)
    page.emulate_media(media="print")
    for view in ("cuts", "deck", "side", "helm", "boom"):
        expect(page.locator(f'[data-view="{view}"] .ink svg')).to_be_visible()
    expect(page.locator("#steppers")).to_contain_text("genoa sheet")
    assert 1 <= on_paper(page) <= 2
    page.goto(f"{served.address}/fix")
    page.locator('.tap[data-level="top"]').first.click()
    page.emulate_media(media="print")
    expect(page.locator('.tap[data-level="top"]').first).to_be_visible()
    assert on_paper(page) == 1


def test_a_phone_of_the_boats_network_is_let_in_by_what_it_scans(
    browser: Browser, tmp_path: Path
) -> None:
    numbers = [it for it in own_addresses() if it.replace(".", "").isdecimal()]
    if not numbers:
        pytest.skip("this machine is on no network")
    house = Served(free_port(), tmp_path)
    house.start("--lan")
    try:
        outside = f"http://{numbers[0]}:{house.port}"
        phone, other, desk = (watch(browser, it) for it in ("phone", "phone", "wide"))
        phone.page.goto(f"{outside}/see")
        assert phone.page.url == f"{outside}/pair"
        assert phone.page.goto(f"{outside}/here").url == f"{outside}/pair"  # type: ignore[union-attr]
        desk.page.goto(f"{house.address}/here")
        expect(desk.page.locator(".scan svg").first).to_be_visible()
        expect(desk.page.locator(".scan p").first).to_have_text(f"{outside}/pair")
        code = desk.page.inner_text(".code")
        wrong = f"{(int(code) + 1) % 10**6:06d}"
        other.page.goto(f"{outside}/pair#{wrong}")
        expect(other.page.locator("#fault")).to_contain_text("not the code")
        phone.page.wait_for_timeout(1100)
        phone.page.goto(f"{outside}/pair#{code}")
        phone.page.reload()
        expect(phone.page.locator("#true_wind")).to_be_visible()
        assert "#" not in phone.page.url
        phone.page.goto(f"{outside}/learn")
        expect(phone.page.locator(".lessons li").first).to_be_visible()
        # Known is who has shown the code, and nobody else; the code stays on the server's screen.
        other.page.goto(f"{outside}/learn")
        assert other.page.url == f"{outside}/pair"
        refused = phone.page.goto(f"{outside}/here")
        assert refused
        assert refused.status == 403
        for it in (phone, other, desk):
            it.page.context.close()
    finally:
        house.kill()


def test_one_file_works_with_no_server(browser: Browser, tmp_path: Path) -> None:
    from luffwright.app.trim import trim  # noqa: PLC0415  # compiled kernels: only where asked

    boat = load_boat("marram")
    found: Trimmed = trim(Request(boat="marram", wind_kn=12.0, angle_deg=90.0))
    sheets = [sheet_of(boat, wind, "beam reach", found, free=False) for wind in (8.0, 14.0)]
    path = tmp_path / "marram.html"
    path.write_text(filled(boat, (8.0, 14.0), sheets), encoding="utf-8")
    watched = watch(browser, "phone")
    page = watched.page
    page.context.set_offline(True)
    page.goto(path.as_uri())
    page.get_by_text("beam reach", exact=True).first.click()
    expect(page.locator("#w8-beam-reach .work li").first).to_be_visible()
    expect(page.locator("#w14-beam-reach")).to_be_hidden()
    page.get_by_text("14", exact=True).first.click()
    expect(page.locator("#w14-beam-reach .pictured svg")).to_be_visible()
    page.click("#night")
    expect(page.locator("html")).to_have_attribute("data-night", "on")
    assert watched.asked == [path.as_uri()]
    assert watched.said == []
    assert page.evaluate("document.documentElement.scrollWidth") <= page.evaluate("innerWidth")
    # On paper each wind stands, and nothing to press.
    page.emulate_media(media="print")
    expect(page.locator(".pick")).to_be_hidden()
    page.context.close()
