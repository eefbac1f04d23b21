"""Where leads, winches and ropes usually are: estimates for a boat file's blanks.

They place the sails well enough to fly them. No hole, turn or purchase is told from them.
"""

from __future__ import annotations

import math

from luffwright.aboard.filling import GEOMETRY, LOAD_FORMULA, Page
from luffwright.sails.fabric import rope
from luffwright.sails.sheet_mark import NEUTRAL_SHARE

SHEETING_ANGLE = math.radians(10.5)
"""Of a headsail's lead from its tack, off the middle line: 8° to 12°."""
ROPES_MM = (10, 12, 14, 16, 18, 20)
"""Thinner ropes hurt the hand."""
SHEET_LOAD = 0.02104 * 9.81
"""Load of a headsail sheet over area and wind squared [N/(m² kn²)]."""
LOAD_WIND_KN = 20.0
WORKING_SHARE = 0.20
REDUCING = ("deck.mainsail.furl", "deck.mainsail.reefs")
TRACK = {True: 2.0, False: 1.0}
"""Length of the car's track with and without overlap [m]."""


def fill_deck(page: Page) -> None:
    """Fill the blanks of the deck."""
    _headsail(page)
    _mainsail(page)


def _sheet_mm(page: Page) -> int:
    """Return the rope that works at a fifth of its break in 20 kn over the deck."""
    area = 0.5 * page.number("sails.headsail.luff_m")
    area *= page.number("sails.headsail.luff_perpendicular_m")
    wanted = SHEET_LOAD * area * LOAD_WIND_KN**2 / WORKING_SHARE
    fits = [mm for mm in ROPES_MM if rope(mm / 1000.0, "polyester").breaking >= wanted]
    return fits[0] if fits else ROPES_MM[-1]


def neutral_aft(page: Page) -> float:
    """Return how far behind the mast the sheet's neutral line meets the lead's height [m].

    The line runs through the clew to 40 % of the luff, in the boat's middle plane.
    """
    j, i = page.number("deck.headsail.tack_forward_m"), page.number("rig.i_m")
    stay = math.hypot(i, j)
    along, off = (-j / stay, i / stay), (-i / stay, -j / stay)
    wide = page.number("sails.headsail.luff_perpendicular_m")
    leech, luff = page.number("sails.headsail.leech_m"), page.number("sails.headsail.luff_m")
    up = luff - math.sqrt(max(leech**2 - wide**2, 0.01))
    foot = page.number("deck.headsail.tack_above_deck_m")
    clew = (j + up * along[0] + wide * off[0], foot + up * along[1] + wide * off[1])
    aim = (
        j + NEUTRAL_SHARE * luff * along[0],
        foot + NEUTRAL_SHARE * luff * along[1],
    )
    slope = (aim[1] - clew[1]) / (aim[0] - clew[0])
    x = clew[0] - (clew[1] - page.number("deck.headsail.lead_above_deck_m")) / slope
    return -x


def _headsail(page: Page) -> None:
    name = "deck.headsail."
    j, beam = page.number("rig.j_m"), page.number("hull.beam_m")
    overlap = page.number("sails.headsail.luff_perpendicular_m") > 1.05 * j
    page.fill(name + "passes_shrouds", overlap, "luff perpendicular against J", GEOMETRY)
    overlaps = page.word(name + "passes_shrouds") == "True"
    page.fill(name + "tack_above_deck_m", 0.2, "above drum or stem fitting")
    page.fill(name + "lead_above_deck_m", 0.06, "sheave of a car")
    whole = not page.has(name + "lead_front_aft_m")
    middle = neutral_aft(page)
    line = "where the line from 40 % of the luff through the clew meets the deck"
    page.fill(name + "lead_front_aft_m", middle - 0.5 * TRACK[overlaps], line, GEOMETRY)
    if whole:
        page.fill(name + "lead_aft_aft_m", middle + 0.5 * TRACK[overlaps], line, GEOMETRY)
    tack = page.number(name + "tack_forward_m")
    out = (tack + max(middle, 0.0)) * math.tan(SHEETING_ANGLE)
    page.fill(
        name + "lead_front_out_m", min(out, 0.47 * beam), "leads stand 8° to 12° off the tack"
    )
    front = page.number(name + "lead_front_aft_m")
    aft = min(max(front, 0.0) + TRACK[overlaps] + 1.6, page.number("hull.stern_aft_m") - 0.5)
    page.fill(name + "winch_aft_m", aft, "behind the track")
    two = page.word("boat.kind") == "catamaran"
    page.fill(name + "winch_out_m", (0.21 if two else 0.42) * beam, "at the coaming")
    page.fill(
        name + "sheet_mm", _sheet_mm(page),
        "works at a fifth of its break in 20 kn over the deck, 10 mm at least", LOAD_FORMULA,
    )  # fmt: skip
    _halyard(page, name)


def _halyard(page: Page, name: str) -> None:
    """Fill the blanks of a halyard."""
    page.fill(name + "halyard_mm", _sheet_mm(page), "as the headsail's sheet")
    page.fill(name + "halyard_fibre", "dyneema", "stretches little, as most halyards now do")


def _mainsail(page: Page) -> None:
    name = "deck.mainsail."
    two = page.word("boat.kind") == "catamaran"
    # How the sail is made smaller says nothing of the ropes on the boom.
    whole = not any(key.startswith(name) and key not in REDUCING for key in page.given)
    e, beam = page.number("rig.e_m"), page.number("hull.beam_m")
    page.fill(name + "boom_length_m", e + 0.1, "E and a hand's breadth", GEOMETRY)
    page.fill(name + "boom_kg", 1.3 * e**2, "aluminium boom of that length")
    page.fill(name + "sheet_along_boom_m", 0.93 * e, "near the boom's end")
    page.fill(name + "sheet_parts", 6 if two else 4, "usual purchase")
    page.fill(name + "sheet_mm", 12 if two else 10, "fits the hand")
    page.fill(
        name + "traveller_aft_m", page.number(name + "sheet_along_boom_m") + 0.15,
        "below the sheet's blocks on the boom", GEOMETRY,
    )  # fmt: skip
    page.fill(name + "traveller_above_deck_m", 0.2, "on a bridge deck or coach roof")
    page.fill(
        name + "traveller_reach_m", (0.33 if two else 0.24) * beam,
        "a third of the beam each side" if two else "a quarter of the beam each side",
    )  # fmt: skip
    _halyard(page, name)
    if whole and not two:
        page.fill(name + "vang_along_boom_m", 0.33 * e, "a third of the boom")
        page.fill(name + "vang_parts", 4, "usual purchase")
