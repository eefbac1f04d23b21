"""The drawing: well formed, to scale, mirrored with the tack, and true to the tufts."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from math import atan2, degrees, hypot
from xml.etree import ElementTree as ET

import pytest

from luffwright.app.answer import BoatPicture, FlyAnswer, SectionPicture, TrimAnswer
from luffwright.faces.draw.ink import PORT, SAILS, STARBOARD, TROUBLE
from luffwright.faces.draw.sheet import sheet

SVG = "{http://www.w3.org/2000/svg}"


def drawn(answer: FlyAnswer, picture: BoatPicture) -> ET.Element:
    """Return the drawing as a tree."""
    # Our own text, not a stranger's.
    return ET.fromstring(sheet(answer, picture))  # noqa: S314


def part(tree: ET.Element, title: str) -> ET.Element:
    """Return the group of that title."""
    return next(it for it in tree.iter(f"{SVG}g") if it.findtext(f"{SVG}title") == title)


def paths(tree: ET.Element, colour: str, width: float) -> list[list[tuple[float, float]]]:
    """Return the corners of all lines of a colour and a width."""
    found = []
    for it in tree.iter(f"{SVG}path"):
        if it.get("stroke") == colour and float(it.get("stroke-width", 0)) == width:
            numbers = [float(text) for text in re.findall(r"-?\d+\.\d+", it.get("d", ""))]
            found.append(list(zip(numbers[::2], numbers[1::2], strict=True)))
    return found


def words(tree: ET.Element) -> list[str]:
    """Return all texts that are read, each once."""
    texts = tree.iter(f"{SVG}text")
    return ["".join(it.itertext()) for it in texts if not it.get("aria-hidden")]


def length(points: list[tuple[float, float]]) -> float:
    """Return the length of a line through points."""
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points))


def test_it_is_well_formed_and_tells_itself_to_who_cannot_see_it(
    flown: FlyAnswer, picture: BoatPicture
) -> None:
    tree = drawn(flown, picture)
    assert tree.get("role") == "img"
    assert "Starboard tack, 12 kn at 44°" in (tree.findtext(f"{SVG}title") or "")
    assert "top: inside lifting, outside streaming" in (tree.findtext(f"{SVG}desc") or "")


def test_it_fetches_nothing(flown: FlyAnswer, picture: BoatPicture) -> None:
    text = sheet(flown, picture).replace("http://www.w3.org/2000/svg", "")
    assert not re.search(r"https?:|href|url\(|@import|<script", text)


def test_a_text_with_signs_of_markup_stays_text(flown: FlyAnswer, picture: BoatPicture) -> None:
    odd = replace(flown, status="luffing", reason="a < b & c")
    assert "Luffing: a < b & c" in words(drawn(odd, picture))


def test_all_sections_are_drawn_to_one_scale(flown: FlyAnswer, picture: BoatPicture) -> None:
    tree = drawn(flown, picture)
    scales = []
    for sail in picture.sails:
        for cut in sail.sections:
            real = length(list(zip(cut.x_m, cut.y_m, strict=True)))
            seen = paths(part(tree, f"Section {cut.level}"), SAILS[sail.role], 3.4)
            scales.append(length(seen[0]) / real)
    assert len(scales) == 6
    # Page coordinates are rounded to a tenth of a pixel.
    assert scales == pytest.approx([scales[0]] * 6, rel=0.02)


def test_the_wind_arrow_points_as_the_apparent_wind_blows(
    flown: FlyAnswer, picture: BoatPicture
) -> None:
    for cut in picture.sails[0].sections:
        arrow = paths(part(drawn(flown, picture), f"Section {cut.level}"), "#16202a", 3.0)[0]
        tail, head = arrow[0], arrow[-1]
        # Up the page is forward; the wind from starboard comes from the right.
        angle = degrees(atan2(tail[0] - head[0], head[1] - tail[1]))
        assert angle == pytest.approx(cut.apparent_angle_deg, abs=0.5)


def test_the_other_tack_is_the_mirror_image(
    flown: FlyAnswer, mirrored: FlyAnswer, picture: BoatPicture
) -> None:
    one, other = drawn(flown, picture), drawn(mirrored, picture)
    assert "Port tack" in (other.findtext(f"{SVG}title") or "")
    for title, axis in (("Section low", 65.0), ("Section top", 325.0)):
        for colour in SAILS.values():
            first = paths(part(one, title), colour, 3.4)[0]
            second = paths(part(other, title), colour, 3.4)[0]
            assert [2 * axis - x for x, _ in second] == pytest.approx(
                [x for x, _ in first], abs=0.11
            )
            assert [y for _, y in second] == [y for _, y in first]


@pytest.mark.parametrize("turned", [False, True])
def test_red_is_port_and_green_is_starboard_on_both_tacks(
    flown: FlyAnswer, mirrored: FlyAnswer, picture: BoatPicture, turned: bool
) -> None:
    # Collision regulations, rule 21 (b): green to starboard, red to port.
    tree = drawn(mirrored if turned else flown, picture)
    reds, greens = paths(tree, PORT, 3.0), paths(tree, STARBOARD, 3.0)
    assert len(reds) == len(greens) == 3
    for red, green in zip(reds, greens, strict=True):
        assert max(x for x, _ in red) < min(x for x, _ in green)


def test_each_tuft_in_trouble_and_no_other_is_drawn_and_said_so(
    flown: FlyAnswer, picture: BoatPicture
) -> None:
    tree = drawn(flown, picture)
    # The genoa's top inside and low outside tuft, and the mainsail's top leech.
    for level, count in (("low", 1), ("middle", 0), ("top", 2)):
        assert len(paths(part(tree, f"Section {level}"), TROUBLE, 3.0)) == count
    assert {"lifts 70 %", "stalls 60 %", "streams 90 %"} <= set(words(tree))


def test_an_inside_tuft_that_lifts_stands_to_windward_and_a_stalled_outside_one_to_leeward(
    flown: FlyAnswer, picture: BoatPicture
) -> None:
    tree = drawn(flown, picture)
    for level, to_windward in (("top", True), ("low", False)):
        group = part(tree, f"Section {level}")
        tuft, sail = paths(group, TROUBLE, 3.0)[0], paths(group, SAILS["headsail"], 3.4)[0]
        # With the wind from starboard, windward is to the right on the page.
        nearest = min(sail, key=lambda p: abs(p[1] - tuft[-1][1]))
        assert (tuft[-1][0] > nearest[0]) == to_windward


def test_sag_and_the_sheets_aim_are_told_as_figures(flown: FlyAnswer, picture: BoatPicture) -> None:
    told = words(drawn(flown, picture))
    assert "sag 1.2 %" in told
    assert "40 % of the luff" in told


def test_a_boat_without_known_sag_or_sheet_line_is_drawn_without_them(
    flown: FlyAnswer, picture: BoatPicture
) -> None:
    bare = replace(picture, stay_line_m=(), sheet_line_m=(), luff_meet_share=None)
    told = words(drawn(replace(flown, stays={}), bare))
    assert not [text for text in told if "sag" in text or "luff" in text]


def test_nothing_reaches_beyond_the_page(flown: FlyAnswer, picture: BoatPicture) -> None:
    for title in ("Section low", "Section middle", "Section top", "The sails from windward"):
        for it in part(drawn(flown, picture), title).iter(f"{SVG}path"):
            numbers = [float(text) for text in re.findall(r"-?\d+\.\d+", it.get("d", ""))]
            assert min(numbers[::2]) >= 0.0
            assert max(numbers[::2]) <= 390.0


@pytest.mark.parametrize("apparent_deg", [60.0, 90.0, 115.0])
def test_sails_squared_out_and_a_wind_from_abeam_stay_on_the_page(
    flown: FlyAnswer, picture: BoatPicture, apparent_deg: float
) -> None:
    turned = tuple(
        replace(sail, sections=tuple(squared(cut, apparent_deg) for cut in sail.sections))
        for sail in picture.sails
    )
    tree = drawn(flown, replace(picture, sails=turned))
    for column, level in enumerate(("low", "middle", "top")):
        for it in part(tree, f"Section {level}").iter(f"{SVG}path"):
            numbers = [float(text) for text in re.findall(r"-?\d+\.\d+", it.get("d", ""))]
            # The rim of paper about the arrow may reach over.
            assert min(numbers[::2]) >= 130.0 * column - 2.0
            assert max(numbers[::2]) <= 130.0 * (column + 1) + 2.0


def squared(cut: SectionPicture, apparent_deg: float) -> SectionPicture:
    """Return a section turned about its luff until it lies athwart, and the wind from abeam."""
    x, y = cut.x_m[0], cut.y_m[0]
    return replace(
        cut,
        x_m=tuple(x - 0.3 * (other - x) for other in cut.x_m),
        y_m=tuple(y - (other - x) for other in cut.x_m),
        apparent_angle_deg=apparent_deg,
    )


def test_within_a_page_it_brings_no_rules_of_its_own(
    flown: FlyAnswer, picture: BoatPicture
) -> None:
    assert "<style>" in sheet(flown, picture)
    assert "<style>" not in sheet(flown, picture, alone=False)


def test_what_the_search_chose_is_no_alarm_in_the_drawing(
    trimmed: TrimAnswer, picture: BoatPicture
) -> None:
    tree = drawn(replace(trimmed, status="stalled", reason="genoa stalled low down"), picture)
    heading = " ".join(words(part(tree, tree.findtext(f"{SVG}title") or "")))
    assert "At the most drive outside tufts stall" in heading
    assert "Stalled" not in heading
    assert TROUBLE not in ET.tostring(part(tree, tree.findtext(f"{SVG}title") or ""), "unicode")


def test_trouble_is_told_in_neither_red_nor_green() -> None:
    red, green, blue = (int(TROUBLE[n : n + 2], 16) for n in (1, 3, 5))
    # Magenta: red and blue alike, little green; so no side of the boat is meant.
    assert green < 0.2 * red
    assert blue > 0.6 * red


@pytest.mark.parametrize("turned", [False, True])
def test_a_catamaran_has_two_hulls_with_a_bow_each_in_its_sides_colour(
    flown: FlyAnswer, mirrored: FlyAnswer, picture: BoatPicture, turned: bool
) -> None:
    two = replace(picture, beam_m=6.6, hull_spacing_m=5.0)
    tree = drawn(mirrored if turned else flown, two)
    for level in ("low", "middle", "top"):
        (red,) = paths(part(tree, f"Section {level}"), PORT, 3.0)
        (green,) = paths(part(tree, f"Section {level}"), STARBOARD, 3.0)
        assert max(x for x, _ in red) < min(x for x, _ in green)
        if level == "low":
            cut = two.sails[0].sections[0]
            real = length(list(zip(cut.x_m, cut.y_m, strict=True)))
            seen = length(paths(part(tree, f"Section {level}"), SAILS["headsail"], 3.4)[0])
            bows = [min(points, key=lambda p: p[1])[0] for points in (red, green)]
            assert bows[1] - bows[0] == pytest.approx(5.0 * seen / real, rel=0.02)


def test_from_windward_a_catamaran_looks_like_any_boat(
    flown: FlyAnswer, picture: BoatPicture
) -> None:
    one, two = (
        part(drawn(flown, it), "The sails from windward")
        for it in (picture, replace(picture, hull_spacing_m=2.0))
    )
    assert ET.tostring(one) == ET.tostring(two)
