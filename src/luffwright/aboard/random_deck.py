"""Leads, traveller, vang and backstay gear of a random boat."""

from __future__ import annotations

import math
from typing import Any

from luffwright.aboard.random_ranges import Draw
from luffwright.aboard.random_sails import leaning_stay
from luffwright.sails.sheet_mark import NEUTRAL_SHARE

Table = dict[str, Any]
LEAD_ABOVE_DECK_M = 0.06
HOLE_SPACING_M = 0.05
FARTHEST_OUT = 0.47
"""Of the beam, how far out a lead can stand."""
BIG_BOOM_M = 4.2
"""From there on a vang has eight parts."""


def random_deck(draw: Draw, table: Table, headsail: str, group: str, backstay: str) -> Table:
    """Return the deck's tables: what is left out is filled with what is usual."""
    found = {"headsail": _headsail(draw, table, headsail), "mainsail": _mainsail(draw, table)}
    if backstay not in {"turns", "ram"}:
        return found
    travel = table["rig"]["mast_top_m"] * draw.number(f"{group}.backstay_mm_per_metre")
    mark: Table = {"counted_in": "turns" if backstay == "turns" else "mm"}
    mark |= {"mm_per_turn": 5.0} if backstay == "turns" else {}
    return found | {"backstay": mark | {"travel_mm": round(travel, -1)}}


def _neutral_aft(table: Table, tack: float, up_leech: float) -> float:
    """Return how far behind the mast the sheet's neutral line meets the lead's height [m].

    The line runs to 40 % of the luff through a point so far [m] up the leech from the clew.
    """
    rig, sail = table["rig"], table["sails"]["headsail"]
    back, height = leaning_stay(rig)
    stay = math.hypot(back, height)
    along, off = (-back / stay, height / stay), (-height / stay, -back / stay)
    leech, wide = sail["leech_m"], sail["luff_perpendicular_m"]
    down = math.sqrt(leech**2 - (wide - sail["head_width_m"]) ** 2)
    # Where the sheet is made fast: along the luff from the tack, and square off it.
    up = sail["luff_m"] - down * (1.0 - up_leech / leech)
    wide -= (wide - sail["head_width_m"]) * up_leech / leech
    clew = [it * up + part * wide for it, part in zip(along, off, strict=True)]
    aim = [it * NEUTRAL_SHARE * sail["luff_m"] for it in along]
    slope = (aim[1] - clew[1]) / (aim[0] - clew[0])
    down = tack + clew[1] - LEAD_ABOVE_DECK_M
    return -(float(rig["j_m"]) + clew[0] - down / slope)


def _headsail(draw: Draw, table: Table, headsail: str) -> Table:
    tack = round(draw.number("headsail.tack_above_deck_m"), 2)
    found: Table = {"tack_above_deck_m": tack, "lead_above_deck_m": LEAD_ABOVE_DECK_M}
    if headsail == "board":
        holes, pitch = draw.count("board.holes"), round(draw.number("board.hole_pitch_m"), 3)
        aft = _neutral_aft(table, tack, 0.5 * (holes - 1) * pitch)
        found |= {"clew_board_holes": holes, "clew_board_pitch_m": pitch}
        return found | {"lead_front_aft_m": round(aft, 2)} | _out(draw, table, headsail, aft)
    length = table["hull"]["length_overall_m"] * draw.number(f"{headsail}.track_m_per_metre")
    length = round(length / HOLE_SPACING_M) * HOLE_SPACING_M
    middle = _neutral_aft(table, tack, 0.0)
    front = round(middle - length * draw.number("headsail.track_before_neutral"), 2)
    found |= {
        "lead_front_aft_m": front,
        "lead_aft_aft_m": round(front + length, 2),
        "hole_spacing_m": HOLE_SPACING_M,
    }
    return found | _out(draw, table, headsail, middle)


def _out(draw: Draw, table: Table, headsail: str, aft: float) -> Table:
    """Return how far out the lead stands, by its angle from the tack."""
    angle = math.radians(draw.number(f"{headsail}.sheeting_deg"))
    out = (table["rig"]["j_m"] + aft) * math.tan(angle)
    return {"lead_front_out_m": round(min(out, FARTHEST_OUT * table["hull"]["beam_m"]), 2)}


def _mainsail(draw: Draw, table: Table) -> Table:
    kind, e = table["boat"]["kind"], table["rig"]["e_m"]
    fixed = draw.word(f"{kind}.has_traveller") == "no"
    reach = table["hull"]["beam_m"] * draw.number(f"{kind}.traveller_of_beam")
    found: Table = {
        "sheet_along_boom_m": round(e * draw.number("mainsail.sheet_along_boom"), 2),
        "sheet_parts": draw.count(f"{kind}.mainsheet_parts"),
        "traveller_reach_m": 0.0 if fixed else round(reach, 2),
        "outhaul_parts": 2,
        "reefs": draw.count("mainsail.reefs"),
    }
    if draw.word(f"{kind}.has_vang") == "yes":
        parts = 4 if e < BIG_BOOM_M else 8
        found |= {"vang_along_boom_m": round(0.33 * e, 2), "vang_parts": parts}
    if draw.word("mainsail.has_cunningham") == "yes":
        found["cunningham_parts"] = 4
    return found
