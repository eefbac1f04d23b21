"""What sails of these measurements usually are: estimates for a boat file's blanks."""

from __future__ import annotations

import math

from luffwright.aboard.filling import GEOMETRY, PRACTICE, Page, Value

CLOTH_G_PER_M = 30.0
"""Cloth weight over the boat's length."""
AGE_YEARS = 3.0
FOIL_OF_WIRE = 2.5
"""Breadth of a roller headsail's foil over its stay's diameter (from memory)."""
MAST_FINENESS = 0.65
"""Breadth of a mast over its depth, as for its windage (an estimate)."""
IN_MAST_HOLLOW = 0.02
"""How far the leech of a mainsail without battens is hollowed, as a share of it."""
BATTENS: list[Value] = [
    {"leech_pct": 20, "chord_pct": 40, "bending_nm2": 6.5},
    {"leech_pct": 40, "chord_pct": 40, "bending_nm2": 5.5},
    {"leech_pct": 60, "chord_pct": 45, "bending_nm2": 4.5},
    {"leech_pct": 80, "chord_pct": 55, "bending_nm2": 3.0},
]
FULL_BATTENS: list[Value] = [
    {"leech_pct": place, "chord_pct": 100, "bending_nm2": bending}
    for place, bending in ((18, 19.0), (36, 17.0), (54, 14.0), (72, 10.5), (88, 8.5))
]
_DEPTH = "woven cruising sails are cut 6 to 10 % deep; wind and sag add to it"
_DRAFT = "cruising sails are deepest at 30 to 42 % (headsail), 35 to 50 % (mainsail)"


def fill_sails(page: Page) -> None:
    """Fill the sails' blanks."""
    _headsail(page)
    _mainsail(page)
    cloth = round(CLOTH_G_PER_M * page.number("hull.length_overall_m"), -1)
    for name in ("headsail", "mainsail"):
        page.fill(f"sails.{name}.twist_deg", 10.0, "cut in by most lofts")
        page.fill(f"sails.{name}.cloth_g_per_m2", cloth, "30 g/m² for each metre of boat")
        page.fill(f"sails.{name}.age_years", AGE_YEARS, "neither new nor worn")


def _headsail(page: Page) -> None:
    page.fill("sails.headsail.camber_pct", [7.0, 8.5, 8.0], _DEPTH)
    page.fill("sails.headsail.draft_pct", [37.0, 37.0, 37.0], _DRAFT)
    page.fill("sails.headsail.luff_hollow_pct", 0.6, "hollow cut in for the stay's sag")
    page.fill(
        "sails.headsail.luff_thickness_mm",
        FOIL_OF_WIRE * page.number("stays.forestay_wire_mm"),
        "a foil 2.5 times as broad as its wire; for hanks on a wire give the wire",
    )
    if not page.has("sails.headsail.battens"):
        hollow = 0.02 * page.number("sails.headsail.leech_m")
        page.fill("sails.headsail.leech_hollow_m", hollow, "2 % of the leech, as it has no battens")


def _mainsail(page: Page) -> None:
    two = page.word("boat.kind") == "catamaran"
    page.fill("sails.mainsail.luff_m", 0.99 * page.number("rig.p_m"), "P less 1 %", PRACTICE)
    page.fill("sails.mainsail.foot_m", 0.98 * page.number("rig.e_m"), "E less 2 %", PRACTICE)
    luff, foot = page.number("sails.mainsail.luff_m"), page.number("sails.mainsail.foot_m")
    rake = math.radians(page.number("rig.rake_deg"))
    page.fill(
        "sails.mainsail.leech_m", math.sqrt(luff**2 + foot**2 - 2.0 * luff * foot * math.sin(rake)),
        "from luff and foot, the boom level on the raked mast", GEOMETRY,
    )  # fmt: skip
    page.fill("sails.mainsail.camber_pct", [7.5, 8.5, 7.5], _DEPTH)
    page.fill("sails.mainsail.draft_pct", [42.0, 42.0, 42.0], _DRAFT)
    page.fill(
        "sails.mainsail.luff_thickness_mm", MAST_FINENESS * page.number("rig.mast_depth_mm"),
        "the mast ahead of it, 0.65 as broad as it is deep",
    )  # fmt: skip
    page.fill("sails.mainsail.luff_round_pct", 0.15, "round cut in for a stiff mast's bend")
    page.fill("sails.mainsail.head_width_m", 0.2 * foot if two else 0.15, "usual headboard")
    if page.word("deck.mainsail.furl") == "in_mast":
        hollow = -IN_MAST_HOLLOW * page.number("sails.mainsail.leech_m")
        page.fill("sails.mainsail.roach_m", hollow, "hollow, as it rolls into the mast unbattened")
        page.fill("deck.mainsail.reefs", 0, "none: the mainsail rolls into the mast", GEOMETRY)
    elif not page.has("sails.mainsail.battens"):
        page.fill(
            "sails.mainsail.roach_m", (0.11 if two else 0.05) * foot, "what usual battens hold"
        )
        page.fill(
            "sails.mainsail.battens", FULL_BATTENS if two else BATTENS,
            "five over the whole chord" if two else "four, of usual stiffness",
        )  # fmt: skip
