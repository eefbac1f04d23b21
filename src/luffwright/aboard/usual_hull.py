"""What a hull of these measurements usually has: estimates for a boat file's blanks."""

from __future__ import annotations

import math

import numpy as np

from luffwright.aboard.filling import (
    DELFT,
    GEOMETRY,
    PRACTICE,
    SOUTHAMPTON,
    STABILITY,
    Page,
)
from luffwright.water.catamaran import lift_off, righting_lever, two_hulls, vanishing_heel
from luffwright.water.delft_form import APPENDAGE_SHARE
from luffwright.water.hull import Hull
from luffwright.water.righting_estimate import estimated_levers, metacentric_height

SEA_WATER = 1026.0
PARENT_BLOCK = 3.17**2 * 3.99 / 4.78**3
"""Of the Delft parent hull, volume over length, beam and draught: from its length over beam, beam
over draught and length over cube root of volume."""
DEMIHULL_BLOCK, DEMIHULL_BEAM_TO_DRAUGHT = 0.397, 2.0
WATERLINE_OF_BEAM = 0.82
DEEPEST_BODY = 0.6
LEAST_SPACING = 1.5
CENTRE_HEIGHT = {"monohull": 0.1, "catamaran": 1.0}
"""Of the whole boat's weight above the waterline [m]."""
HEELS = {
    "monohull": (0.0, 10.0, 20.0, 30.0, 40.0, 60.0, 90.0, 120.0),
    "catamaran": (0.0, 2.0, 4.0, 6.0, 8.0),
}


def fill_hull(page: Page) -> None:
    """Fill the hull's blanks."""
    kind = page.word("boat.kind")
    if kind == "monohull":
        _one_hull(page)
    else:
        _two_hulls(page)
    length = page.number("hull.length_overall_m")
    page.fill(
        "hull.bow_forward_m", page.number("rig.j_m") + 0.05 * length,
        "J and 5 % of the length for the bow before the forestay",
    )  # fmt: skip
    page.fill(
        "hull.stern_aft_m", length - page.number("hull.bow_forward_m"),
        "the length less what lies before the mast", GEOMETRY,
    )  # fmt: skip
    share = 0.12 if kind == "monohull" else 0.14
    page.fill(
        "rig.deck_above_water_m", share * length, f"{100 * share:.0f} % of the length overall"
    )
    if not page.has("hull.righting_heel_deg") and not page.has("hull.righting_lever_m"):
        (_levers_of_one if kind == "monohull" else _levers_of_two)(page)


def _one_hull(page: Page) -> None:
    beam = WATERLINE_OF_BEAM * page.number("hull.beam_m")
    page.fill("hull.beam_waterline_m", beam, "82 % of the greatest beam")
    volume = (1.0 - APPENDAGE_SHARE) * page.number("hull.displacement_kg") / SEA_WATER
    plane = page.number("hull.length_waterline_m") * page.number("hull.beam_waterline_m")
    deepest = DEEPEST_BODY * page.number("hull.draught_m")
    page.fill(
        "hull.draught_body_m", min(volume / (PARENT_BLOCK * plane), deepest),
        "floats her weight with the fullness of the parent hull", DELFT,
    )  # fmt: skip


def _two_hulls(page: Page) -> None:
    volume = 0.5 * page.number("hull.displacement_kg") / SEA_WATER
    length = page.number("hull.length_waterline_m")
    page.fill(
        "hull.beam_waterline_m",
        math.sqrt(DEMIHULL_BEAM_TO_DRAUGHT * volume / (DEMIHULL_BLOCK * length)),
        "half her weight on a hull of the series' fullness, twice as wide as deep", SOUTHAMPTON,
    )  # fmt: skip
    plane = length * page.number("hull.beam_waterline_m")
    deepest = 0.8 * page.number("hull.draught_m")
    page.fill(
        "hull.draught_body_m", min(volume / (DEMIHULL_BLOCK * plane), deepest),
        "floats half her weight with the series' fullness", SOUTHAMPTON,
    )  # fmt: skip
    width = page.number("hull.beam_waterline_m")
    spacing = page.number("hull.beam_m") - 1.1 * width
    # Hulls that close together are no catamaran's: the measurements are at odds.
    if spacing > LEAST_SPACING * width:
        page.fill("hull.hull_spacing_m", spacing, "the whole beam less one hull", PRACTICE)


def _fill_curve(page: Page, heels: tuple[float, ...], levers: tuple[float, ...], how: str) -> None:
    page.fill("hull.righting_heel_deg", list(heels), how, STABILITY)
    page.fill("hull.righting_lever_m", [max(it, -4.9) for it in levers], how, STABILITY)


def _centre(page: Page, kind: str, usual: str) -> tuple[float, str]:
    """Return the height of her weight above the waterline [m], and in words where it stands."""
    key = "hull.centre_above_water_m"
    if page.has(key):
        return page.number(key), "where the file has it"
    return CENTRE_HEIGHT[kind], usual


def _centre_height(page: Page) -> float:
    """Return the height of the whole boat's weight above the water [m]."""
    if page.has("hull.centre_above_water_m"):
        return page.number("hull.centre_above_water_m")
    return CENTRE_HEIGHT[page.word("boat.kind")]


def _levers_of_one(page: Page) -> None:
    length, beam = (
        page.number("hull.length_waterline_m"), page.number("hull.beam_waterline_m"),
    )  # fmt: skip
    draught = page.number("hull.draught_body_m")
    volume = (1.0 - APPENDAGE_SHARE) * page.number("hull.displacement_kg") / SEA_WATER
    height, said = _centre(page, "monohull", "taken 10 cm above the waterline")
    stiff = metacentric_height(length, beam, draught, volume, height)
    heels = HEELS["monohull"]
    levers = estimated_levers(np.radians(heels), max(stiff, 0.3), length, beam / draught)
    _fill_curve(
        page, heels, levers,
        f"from waterline, beam and weight; her weight {said}",
    )  # fmt: skip


def _levers_of_two(page: Page) -> None:
    hull = Hull(
        "catamaran", page.number("hull.length_overall_m"), page.number("hull.length_waterline_m"),
        page.number("hull.beam_m"), page.number("hull.beam_waterline_m"),
        page.number("hull.draught_body_m"), page.number("hull.draught_m"),
        page.number("hull.displacement_kg"),
        page.number("hull.hull_spacing_m") if page.has("hull.hull_spacing_m") else 0.0,
        page.number("hull.bow_forward_m"), (0.0, 1.0), (0.0, 1.0),
    )  # fmt: skip
    if hull.hull_spacing <= 0.0:
        return
    height, said = _centre(page, "catamaran", "1 m above the water")
    boat = two_hulls(hull, height)
    top, last = math.degrees(lift_off(boat).heel), math.degrees(vanishing_heel(boat))
    heels = (*(it for it in HEELS["catamaran"] if it < top - 0.5), round(top, 1), 20.0, 40.0, last)
    heels = tuple(sorted({round(it, 1) for it in heels}))
    levers = tuple(righting_lever(boat, math.radians(it)) if it else 0.0 for it in heels)
    _fill_curve(page, heels, levers, f"two hulls of this weight and spacing, her weight {said}")
