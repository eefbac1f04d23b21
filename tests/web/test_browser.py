"""The page in a real browser: each place at work, nothing fetched from elsewhere, no complaint."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from web_fixtures import Served, Watched

pytestmark = pytest.mark.browser
WAIT = 300_000
"""Milliseconds in which a search ends on a slow machine."""


def knows(page: Page, served: Served, wind: str = "12", boat: str = "marram") -> None:
    """Give what a crew knows."""
    page.goto(f"{served.address}/set")
    page.select_option("#boat", boat)
    page.fill("#true_wind", wind)
    page.dispatch_event("#true_wind", "change")


def seen(page: Page, served: Served) -> None:
    """Open See and wait until she stands at her best trim, as she does where nothing is set."""
    page.goto(f"{served.address}/see")
    expect(page.locator('.drawing[data-view="deck"] svg[role="img"]')).to_be_attached(timeout=WAIT)
    expect(page.locator("#cost-short")).to_have_text("Nothing lost", timeout=WAIT)
    expect(page.locator("body")).to_have_attribute("data-settled", "true", timeout=WAIT)


def middle_of(page: Page, control: str) -> tuple[float, float]:
    """Return where a control's knot is, clear of the bar of places."""
    knot = page.locator(f'.knot[data-control="{control}"]')
    knot.evaluate("it => it.scrollIntoView({block: 'center'})")
    box = knot.bounding_box()
    assert box
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def drag(page: Page, control: str, down: float) -> None:
    """Drag a knot down the page by a number of pixels, in a few moves, and let go."""
    x, y = middle_of(page, control)
    page.mouse.move(x, y)
    page.mouse.down()
    for part in range(1, 6):
        page.mouse.move(x, y + part * down / 5)
        page.wait_for_timeout(60)
    page.mouse.up()


def test_set_tells_deck_sentences_and_see_shows_them(watched: Watched, served: Served) -> None:
    page = watched.page
    knows(page, served)
    page.click("#case .go")
    expect(page.locator(".work li").first).to_be_visible(timeout=WAIT)
    assert re.search(r"GENOA SHEET .*(mark|eased)", page.inner_text(".work"))
    assert "cockpit" in page.inner_text(".work")
    seen(page, served)
    # What Set has found is what See shows, and costs nothing.
    assert watched.calm(served), (watched.said, watched.asked)


def test_dragging_the_sheet_changes_what_a_tuft_does(watched: Watched, served: Served) -> None:
    page = watched.page
    knows(page, served)
    seen(page, served)
    tuft = page.locator('[data-view="cuts"] [data-tuft="headsail-middle-windward"]')
    expect(tuft).to_have_attribute("data-state", "streaming")
    before = page.locator("#steppers [data-control='sheet']").inner_text()
    drag(page, "sheet", -30.0)
    # Eased until it lifts: the sheet's knot runs forward when the sheet goes out.
    expect(tuft).to_have_attribute("data-state", "lifting", timeout=60_000)
    expect(page.locator("body")).to_have_attribute("data-settled", "true", timeout=60_000)
    assert page.locator("#steppers [data-control='sheet']").inner_text() != before
    assert watched.calm(served), (watched.said, watched.asked)


def test_a_warning_goes_when_its_cause_has_gone(watched: Watched, served: Served) -> None:
    """Before her best trim is found Dunlin stands with her backstay too hard on."""
    page = watched.page
    knows(page, served, "12", "dunlin")
    seen(page, served)
    expect(page.locator("#mind")).to_contain_text("unload a sheet before its car moves")
    expect(page.locator("#mind")).not_to_contain_text("backstay")
    assert watched.calm(served), (watched.said, watched.asked)


def test_a_car_moves_by_keyboard_as_by_hand(phone: Watched, served: Served) -> None:
    page = phone.page
    knows(page, served)
    seen(page, served)
    knot = page.locator('.knot[data-control="lead"]')
    was = float(knot.get_attribute("aria-valuenow") or "nan")
    knot.focus()
    page.keyboard.press("ArrowDown")
    expect(knot).not_to_have_attribute("aria-valuenow", str(was))
    # Down the page is aft, one hole of 5 cm; the hole nearest to the first guess counts as there.
    assert 0.0 < float(knot.get_attribute("aria-valuenow") or "nan") - was <= 0.075
    assert "hole" in (knot.get_attribute("aria-valuetext") or "")


def test_a_lesson_is_predicted_first_and_then_seen(watched: Watched, served: Served) -> None:
    page = watched.page
    page.goto(f"{served.address}/learn")
    page.get_by_role("link", name=re.compile("car of the headsail")).click()
    expect(page.locator("#steppers li")).to_have_count(1, timeout=WAIT)
    page.get_by_text("open", exact=True).click()
    drag(page, "lead", 24.0)
    # Car aft opens the leech: what every trimmer knows, and the page has to find.
    expect(page.locator("#verdict")).to_contain_text("As you said: open", timeout=60_000)
    assert watched.calm(served), (watched.said, watched.asked)


def test_a_boat_set_wrong_hides_her_cost_until_it_is_put_right(
    phone: Watched, served: Served
) -> None:
    page = phone.page
    page.goto(f"{served.address}/learn/put-it-right")
    expect(page.locator("#done")).to_be_enabled(timeout=WAIT)
    expect(page.locator("#cost")).to_be_hidden()
    expect(page.locator("#speed")).to_be_hidden()
    expect(page.locator("#heel")).to_be_visible()
    page.click("#done")
    expect(page.locator("#verdict")).to_contain_text("min lost an hour")
    expect(page.locator("#cost")).to_be_visible()
    assert phone.calm(served), (phone.said, phone.asked)


def test_a_server_killed_in_mid_drag_finds_the_setting_kept(phone: Watched, served: Served) -> None:
    page = phone.page
    knows(page, served)
    seen(page, served)
    x, y = middle_of(page, "lead")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y - 9)
    page.wait_for_timeout(300)
    number = page.locator("body").get_attribute("data-number")
    served.kill()
    page.mouse.move(x, y - 24)
    page.mouse.up()
    expect(page.locator("#lost")).to_be_visible(timeout=60_000)
    served.start()
    expect(page.locator("#lost")).to_be_hidden(timeout=60_000)
    expect(page.locator("body")).to_have_attribute("data-settled", "true", timeout=WAIT)
    knot = page.locator('.knot[data-control="lead"]')
    expect(page.locator("body")).not_to_have_attribute("data-number", str(number), timeout=WAIT)
    kept = json.loads(page.evaluate("localStorage.getItem('case')"))["controls"]["lead"]
    expect(knot).to_have_attribute("aria-valuenow", re.compile(f"^{kept:g}"), timeout=60_000)
    # The server has forgotten the best trim; the page asks for it again.
    expect(page.locator("#cost-short")).not_to_have_text("…", timeout=WAIT)


@pytest.mark.parametrize("place", ["set", "see", "fix", "learn", "learn/sag"])
@pytest.mark.parametrize("night", ["off", "on"])
def test_an_accessibility_check_finds_nothing_serious(
    phone: Watched, served: Served, place: str, night: str
) -> None:
    page = phone.page
    page.goto(f"{served.address}/set")
    page.evaluate(f"localStorage.setItem('night', '{night}')")
    if place in ("see", "learn/sag"):
        page.goto(f"{served.address}/{place}")
        expect(page.locator("#steppers li").first).to_be_visible(timeout=WAIT)
        if place == "learn/sag":
            page.locator(".choice label").first.click()
    else:
        page.goto(f"{served.address}/{place}")
    found = Axe().run(page).response["violations"]
    grave = [(it["id"], [n["html"][:120] for n in it["nodes"]][:3])
             for it in found if it["impact"] in ("serious", "critical")]  # fmt: skip
    assert grave == []


@pytest.mark.parametrize("place", ["set", "see", "fix", "learn"])
def test_targets_are_large_enough_for_wet_hands(
    watched: Watched, served: Served, place: str
) -> None:
    page = watched.page
    page.goto(f"{served.address}/{place}")
    if place == "see":
        expect(page.locator("#steppers li").first).to_be_visible(timeout=WAIT)
    assert too_small(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= page.evaluate("innerWidth")


@pytest.mark.parametrize("place", ["set", "see", "fix", "learn", "learn/lead"])
def test_a_phone_on_its_side_shows_what_is_moved_beside_what_it_does(
    turned: Watched, served: Served, place: str
) -> None:
    page = turned.page
    page.goto(f"{served.address}/{place}")
    if place in ("see", "learn/lead"):
        expect(page.locator("#steppers li").first).to_be_visible(timeout=WAIT)
        cuts = page.locator('[data-view="cuts"]').bounding_box()
        deck = page.locator('.drawings [data-view="deck"]').bounding_box()
        assert cuts
        assert deck
        assert cuts["x"] + cuts["width"] <= deck["x"]
    assert too_small(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= page.evaluate("innerWidth")
    # The places stand beside the page, and take none of its little height.
    bar, main = page.locator(".top").bounding_box(), page.locator("main").bounding_box()
    assert bar
    assert main
    assert bar["x"] + bar["width"] <= main["x"]
    assert turned.calm(served), (turned.said, turned.asked)


def too_small(page: Page) -> list[tuple[str, object]]:
    """Return what is to be touched and is smaller than a wet finger needs."""
    small: list[tuple[str, object]] = []
    for it in page.locator("a[href], button, select, input, summary, [role=slider]").all():
        box = it.bounding_box() if it.is_visible() else None
        if box and (it.get_attribute("class") or "") != "skip":
            # A radio's or a box's own label is what is touched.
            if it.get_attribute("type") in ("radio", "checkbox"):
                box = it.locator("xpath=..").bounding_box()
            if box and min(box["width"], box["height"]) < 43.5:
                small.append((it.evaluate("it => it.outerHTML.slice(0, 80)"), box))
    return small


def run_over(page: Page) -> list[str]:
    """Return the words on taps that do not fit between their borders."""
    return [
        it.inner_text()
        for it in page.locator(".tap").all()
        if it.evaluate("it => it.querySelector('b').offsetWidth > it.clientWidth")
    ]


def tapped(page: Page, **levels: str) -> None:
    """Tap what both tufts of each level do: `streams`, `lifts` (inside) or `hangs` (outside)."""
    for level, state in levels.items():
        bad = {"lifts": "windward", "hangs": "leeward"}.get(state)
        for side in ("windward", "leeward"):
            button = page.locator(f'.tap[data-level="{level}"][data-side="{side}"]')
            for _ in range(2 if side == bad else 1):
                button.click()
            expect(button.locator("b")).to_have_text(state if side == bad else "streams")


def asked(page: Page) -> dict[str, Any]:
    """Ask what to do first, and return what was sent once the answer is there."""
    with page.expect_request("**/do/fix") as sent:
        page.click("#ask")
    expect(page.locator("#told .first, #told .leave").first).to_be_visible(timeout=WAIT)
    found = sent.value.post_data_json
    assert isinstance(found, dict)
    return found


def at_fix(page: Page, served: Served, **tufts: str) -> None:
    """Open Fix for what a crew knows, and tap what the tufts do."""
    knows(page, served)
    page.goto(f"{served.address}/fix")
    tapped(page, **tufts)


def test_fix_takes_taps_and_goes_on_with_the_case(phone: Watched, served: Served) -> None:
    page = phone.page
    at_fix(page, served, top="lifts", middle="lifts", low="lifts")
    asked(page)
    # Sheet in or bear away: the trade says both, and the speed decides.
    expect(page.locator("#told .first")).to_have_text(
        re.compile(r"^(GENOA SHEET .* pull|STEER .* lower)")
    )
    page.click("#done")
    expect(page.locator('.tap[data-level="top"][data-side="windward"] b')).to_have_text("?")
    page.locator('.tap[data-level="top"][data-side="windward"]').click()
    # The case goes on: what was seen first, and what was moved before the second look.
    first, second = asked(page)["seen"]
    assert first["headsail"]["top"] == {"windward": "lifting", "leeward": "streaming"}
    assert second["headsail"] == {"top": {"windward": "streaming"}}
    assert "sheet" in second.get("moved", {}) or second["turned_deg"] > 0.0
    assert phone.calm(served), (phone.said, phone.asked)


def test_what_was_told_outlives_a_reload(phone: Watched, served: Served) -> None:
    page = phone.page
    knows(page, served)
    page.click("#case .go")
    expect(page.locator(".work li").first).to_be_visible(timeout=WAIT)
    told = page.locator(".work").inner_text()
    page.goto(f"{served.address}/learn")
    page.goto(f"{served.address}/set")
    expect(page.locator(".work")).to_have_text(told, use_inner_text=True)
    expect(page.locator("#answer")).to_contain_text(re.compile(r"As told at \d\d:\d\d\."))
    # In another wind it would be wrong.
    page.click("#change")
    page.fill("#true_wind", "20")
    page.dispatch_event("#true_wind", "change")
    page.reload()
    expect(page.locator("#answer")).to_contain_text("Give the wind")
    assert page.locator(".work").count() == 0
    assert phone.calm(served), (phone.said, phone.asked)


def test_what_is_no_number_is_told_and_nothing_is_asked(phone: Watched, served: Served) -> None:
    page = phone.page
    knows(page, served)
    page.select_option("#course", "angle")
    page.fill("#angle", "6O")
    page.click("#case .go")
    expect(page.locator("#fault")).to_have_text("True wind off the bow, °: “6O” is no number.")
    expect(page.locator("#angle")).to_be_focused()
    page.fill("#angle", "")
    page.click("#case .go")
    expect(page.locator("#fault")).to_have_text("True wind off the bow, °: give a number.")
    page.select_option("#course", "close-hauled")
    page.fill("#gust", "abc")
    page.click("#case .go")
    expect(page.locator("#fault")).to_contain_text("“abc” is no number")
    page.goto(f"{served.address}/fix")
    tapped(page, top="lifts", middle="lifts", low="lifts")
    page.fill("#heel_deg", "x")
    page.click("#ask")
    expect(page.locator("#fault")).to_have_text("Heel, °: “x” is no number.")
    assert not [it for it in phone.asked if "/do/" in it]
    assert phone.calm(served), (phone.said, phone.asked)


def test_a_look_outlives_a_reload(phone: Watched, served: Served) -> None:
    page = phone.page
    at_fix(page, served, top="lifts", middle="lifts", low="lifts")
    page.fill("#heel_deg", "17")
    page.dispatch_event("#heel_deg", "change")
    page.reload()
    first = page.locator('.tap[data-level="top"][data-side="windward"] b')
    expect(first).to_have_text("lifts")
    expect(page.locator("#heel_deg")).to_have_value("17")
    asked(page)
    told = page.locator("#told .first").inner_text()
    page.reload()
    expect(page.locator("#told .first")).to_have_text(told)
    expect(page.locator("#told")).to_contain_text(re.compile(r"As told at \d\d:\d\d\."))
    page.click("#done")
    page.reload()
    expect(page.locator("#told")).to_contain_text("Now look again")
    expect(first).to_have_text("?")
    # The look before is part of the case still.
    page.locator('.tap[data-level="top"][data-side="windward"]').click()
    assert len(asked(page)["seen"]) == 2
    page.click("#anew")
    page.reload()
    expect(page.locator("#told")).to_contain_text("Tap once for streaming")
    assert phone.calm(served), (phone.said, phone.asked)


def test_heel_and_log_belong_to_one_look(watched: Watched, served: Served) -> None:
    page = watched.page
    at_fix(page, served, top="hangs", middle="hangs", low="hangs")
    page.fill("#heel_deg", "17")
    page.fill("#speed_kn", "5,3")
    page.select_option("#helm", "weather")
    assert not run_over(page)
    assert not too_small(page)
    assert not Axe().run(page).response["violations"]
    seen = asked(page)["seen"][0]
    assert (seen["heel_deg"], seen["speed_kn"], seen["helm"]) == (17, 5.3, "weather")
    page.click("#done")
    for field in ("#heel_deg", "#speed_kn"):
        expect(page.locator(field)).to_have_value("")
    expect(page.locator("#helm")).to_have_value("?")
    tapped(page, top="streams", middle="streams", low="streams")
    assert set(asked(page)["seen"][1]) <= {"headsail", "moved", "turned_deg"}
    assert watched.calm(served), (watched.said, watched.asked)


def test_a_tuft_that_goes_now_and_then_is_told_so(watched: Watched, served: Served) -> None:
    page = watched.page
    at_fix(page, served, top="streams", middle="lifts", low="streams")
    button = page.locator('.tap[data-level="middle"][data-side="windward"]')
    at_rest = button.bounding_box()
    button.click()
    expect(button.locator("b")).to_have_text("wavers")
    expect(button).to_have_attribute("aria-label", "headsail middle inside tuft: wavers")
    assert button.bounding_box() == at_rest, "the taps move under the finger"
    assert not too_small(page)
    assert not Axe().run(page).response["violations"]
    for medium in ("print", "screen"):
        page.emulate_media(media=medium)
        assert not run_over(page)
    seen = asked(page)["seen"][0]["headsail"]
    assert seen["middle"] == {"windward": "wavering", "leeward": "streaming"}
    button.click()
    expect(button.locator("b")).to_have_text("?")
    assert watched.calm(served), (watched.said, watched.asked)


def test_all_outside_hanging_is_answered_by_sheet_car_or_course(
    watched: Watched, served: Served
) -> None:
    page = watched.page
    at_fix(page, served, top="hangs", middle="hangs", low="hangs")
    asked(page)
    # Ease, move aft or head up: all of them let the outside tufts stream again.
    expect(page.locator("#told .first")).to_have_text(
        re.compile(r"^(GENOA SHEET .* ease|GENOA CAR .* aft|STEER .* higher)")
    )


def two_faults(watched: Watched, served: Served) -> Page:
    """Sheeted too hard with the car too far aft: the first hides the second."""
    page = watched.page
    knows(page, served)
    page.goto(f"{served.address}/fix")
    told = page.locator("#told .first")
    tapped(page, top="hangs", middle="hangs", low="hangs")
    asked(page)
    # What a first sample tells of the second look hangs on how far she is flown by then.
    expect(page.locator("#told", has_text="A first answer")).to_have_count(0, timeout=WAIT)
    # Ease, move aft or head up: all of them let the outside tufts stream again.
    expect(told).to_have_text(
        re.compile(r"^(GENOA SHEET .* ease|GENOA CAR .* aft|STEER .* higher)")
    )
    page.click("#done")
    tapped(page, top="lifts", middle="streams", low="streams")
    asked(page)
    expect(told).to_have_text(
        re.compile(r"^(GENOA CAR .* forward|GENOA SHEET .* pull|STEER .* lower)")
    )
    page.click("#done")
    tapped(page, top="streams", middle="streams", low="streams")
    assert len(asked(page)["seen"]) == 3
    return page


def test_two_faults_are_put_right_one_after_the_other(watched: Watched, served: Served) -> None:
    two_faults(watched, served)
    assert watched.calm(served), (watched.said, watched.asked)


def test_two_faults_put_right_she_is_left_alone(watched: Watched, served: Served) -> None:
    page = two_faults(watched, served)
    expect(page.locator("#told .leave")).to_contain_text("LEAVE IT")
