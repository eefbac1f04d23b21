"""The sails of a random boat: new or tired cloth, full or short battens."""

from __future__ import annotations

import math
from typing import Any

from luffwright.aboard.random_ranges import Draw
from luffwright.aboard.usual_sails import BATTENS, FULL_BATTENS

Table = dict[str, Any]
HEADBOARD_M = 0.12
LOWEST_CLEW_M = 0.55
"""Of a headsail above the deck."""
JIB_BATTENS = (
    {"leech_pct": 30, "chord_pct": 40, "bending_nm2": 1.8},
    {"leech_pct": 60, "chord_pct": 45, "bending_nm2": 1.3},
)
JIB_FOOT, MAINSAIL_FOOT = 3.2, 3.9
"""Of the sails whose battens are the usual ones [m]; those of wider sails are stiffer."""
LESS_LOW, LESS_HIGH = 1.3, 0.6
"""Of a sail's depth half-way up, how much less is cut in low down and at the top [%]."""


def random_sails(draw: Draw, table: Table, headsail: str) -> Table:
    """Return headsail and mainsail."""
    length = table["hull"]["length_overall_m"]
    age = draw.number(f"{draw.word('cloth.state')}.age_years")
    cloth = {
        "cloth_g_per_m2": round(length * draw.number("cloth.g_per_m2_per_metre"), -1),
        "age_years": round(age, 1),
    }
    head = _headsail(draw, table, headsail) | cloth
    return {"headsail": head, "mainsail": _mainsail(draw, table) | cloth}


def _cut(draw: Draw, sail: str) -> Table:
    depth, draft = draw.number(f"{sail}.camber_pct"), draw.number(f"{sail}.draft_pct")
    depths = (depth - LESS_LOW, depth, depth - LESS_HIGH)
    return {
        "camber_pct": [round(it, 1) for it in depths],
        "draft_pct": [round(draft, 0)] * 3,
        "twist_deg": round(draw.number(f"{sail}.twist_deg"), 1),
    }


def leaning_stay(rig: Table) -> tuple[float, float]:
    """Return how far the forestay goes aft and up [m] from its foot, the mast raked."""
    return rig["j_m"] + rig["i_m"] * math.tan(math.radians(rig["rake_deg"])), rig["i_m"]


def _headsail(draw: Draw, table: Table, headsail: str) -> Table:
    rig, length = table["rig"], table["hull"]["length_overall_m"]
    back, height = leaning_stay(rig)
    stay = math.hypot(back, height)
    luff = round(stay * draw.number("headsail.luff_of_stay"), 2)
    wide = round(rig["j_m"] * draw.number(f"{headsail}.width_of_foretriangle"), 2)
    clew = max(length * draw.number(f"{table['boat']['kind']}.clew_of_length"), LOWEST_CLEW_M)
    above_tack = clew - draw.number("headsail.tack_above_deck_m")
    up = (above_tack + wide * back / stay) * stay / height
    leech = round(math.hypot(luff - up, wide - HEADBOARD_M), 2)
    stiff = draw.word(f"{headsail}.battens") != "none"
    hollow = "leech_hollow_with_battens_of_leech" if stiff else "leech_hollow_of_leech"
    found = {
        "luff_m": luff,
        "luff_perpendicular_m": wide,
        "leech_m": leech,
        "head_width_m": HEADBOARD_M,
        "luff_hollow_pct": round(draw.number("headsail.luff_hollow_pct"), 1),
        "leech_hollow_m": round(leech * draw.number(f"headsail.{hollow}"), 2),
        "foot_round_m": round(wide * draw.number("headsail.foot_round_of_width"), 2),
    }
    battens = {"battens": _stiffer(list(JIB_BATTENS), wide / JIB_FOOT)} if stiff else {}
    return found | _cut(draw, "headsail") | battens


def _mainsail(draw: Draw, table: Table) -> Table:
    rig = table["rig"]
    battens = draw.word(f"{table['boat']['kind']}.battens")
    luff = round(rig["p_m"] * draw.number("mainsail.luff_of_hoist"), 2)
    foot = round(rig["e_m"] * draw.number("mainsail.foot_of_boom"), 2)
    lean = math.sin(math.radians(rig["rake_deg"]))
    usual = FULL_BATTENS if battens == "full" else BATTENS
    stiffness = foot / MAINSAIL_FOOT * math.cbrt(draw.number(f"{battens}.batten_of_usual"))
    found = {
        "luff_m": luff,
        "foot_m": foot,
        "leech_m": round(math.sqrt(luff**2 + foot**2 - 2.0 * luff * foot * lean), 2),
        "head_width_m": round(foot * draw.number(f"{battens}.head_of_foot"), 2),
        "roach_m": round(foot * draw.number(f"{battens}.roach_of_foot"), 2),
        "luff_round_pct": round(draw.number("mainsail.luff_round_pct"), 2),
    }
    return found | _cut(draw, "mainsail") | {"battens": _stiffer(usual, stiffness)}


def _stiffer(battens: list[Table], size: float) -> list[Table]:
    """Return battens of a sail so much wider: stiffer by the third power."""
    return [it | {"bending_nm2": round(it["bending_nm2"] * size**3, 1)} for it in battens]
