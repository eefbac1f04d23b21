"""Mast, triangles and standing rigging of a random boat."""

from __future__ import annotations

import math
from typing import Any

from luffwright.aboard.filling import Page
from luffwright.aboard.random_ranges import Draw
from luffwright.aboard.usual_hull import fill_hull
from luffwright.aboard.usual_rig import DOCK_SHARE, WIRES_MM, wire_for
from luffwright.sails.fabric import wire

Table = dict[str, Any]
TOP_GAP = 0.15
"""Between the mainsail's band and the top of the mast [m]."""
WEIGHT_SHARE = 0.95
"""Of the boat's weight, in the forestay's break at least."""
STAY_FACTOR = 15.0
"""Of the righting moment at 30° over the forestay's height, in its break at least (Nordic Boat
Standard, in Larsson and Eliasson, from memory)."""
STIFF_CAPS = 1.4
"""Of the forestay's break, in the cap shrouds that hold a mast without backstay."""
TALL = 14.0
"""Masthead rigs higher than this have a second pair of spreaders [m]."""


def random_rig(draw: Draw, hull: Table, group: str) -> Table:
    """Return mast and triangles."""
    kind = "catamaran" if group == "two_hulls" else "monohull"
    length = hull["length_overall_m"]
    j = round(length * draw.number(f"{kind}.foretriangle_of_length"), 2)
    e = round(length * draw.number(f"{group}.boom_length_of_length"), 2)
    i = round(length * draw.number(f"{group}.forestay_height_of_length"), 2)
    share = 1.0 if group == "masthead" else draw.number(f"{group}.forestay_height_of_mast")
    top, boom = round(i / share, 2), round(i * draw.number(f"{kind}.boom_of_forestay_height"), 2)
    return {
        "i_m": i,
        "j_m": j,
        "p_m": round(top - boom - TOP_GAP, 2),
        "e_m": e,
        "mast_top_m": top,
        "boom_above_deck_m": boom,
        "rake_deg": round(draw.number(f"{kind}.rake_deg"), 1),
        "mast_depth_mm": round(1000.0 * top / draw.number(f"{group}.mast_of_depth")),
    }


def random_chainplate(draw: Draw, table: Table, headsail: str) -> float:
    """Return how far out the shrouds stand [m]: further in where a genoa goes round them."""
    rail = table["hull"]["beam_m"] * draw.number("chainplate.of_beam")
    if headsail != "genoa":
        return round(rail, 2)
    return round(
        min(rail, table["rig"]["j_m"] * draw.number("genoa.chainplate_of_foretriangle")), 2
    )


def random_spreaders(
    draw: Draw, table: Table, group: str, backstay: str, out: float
) -> list[Table]:
    """Return the spreaders: one pair or two, swept where the rig is fractional.

    Parameters
    ----------
    draw : Draw
    table : dict
    group, backstay : str
    out : float
        Of the shrouds' chainplates. [m]

    Returns
    -------
    list of dict
    """
    i, beam = table["rig"]["i_m"], table["hull"]["beam_m"]
    free = group == "fractional" and backstay == "none"
    sweep = round(draw.number("no_backstay.sweep_deg" if free else f"{group}.sweep_deg"), 0)
    side = out * draw.number("chainplate.spreader_of_chainplate")
    length = 0.16 * beam if group == "two_hulls" else side
    one = group == "two_hulls" or (group == "masthead" and i < TALL)
    places = ((0.5, 1.0),) if one else ((0.36, 1.0), (0.69, 0.8))
    return [
        {
            "height_m": round(height * i, 2),
            "length_m": round(part * length, 2),
            "sweep_deg": sweep,
        }
        for height, part in places
    ]


def random_stays(table: Table, group: str, backstay: str, out: float) -> Table:
    """Return forestay, backstay and shrouds, of the wires that such a weight and stiffness ask.

    Parameters
    ----------
    table : dict
    group, backstay : str
    out : float
        Of the shrouds' chainplates. [m]

    Returns
    -------
    dict
    """
    page = Page(table)
    fill_hull(page)
    stay = wire_for(_forestay_break(page, group))
    found: Table = {"forestay_wire_mm": stay, "forestay_dock_kn": _dock(stay, 0.15)}
    if backstay != "none":
        thin = _thinner(stay)
        found |= {
            "backstay_wire_mm": thin,
            "backstay_aft_m": round(page.number("hull.stern_aft_m") - 0.2, 2),
            "backstay_dock_kn": _dock(thin, 0.10 if group == "masthead" else 0.05),
        }
    free = backstay == "none"
    cap = wire_for(STIFF_CAPS * wire(stay / 1000.0).breaking / 1000.0) if free else stay
    two = group == "two_hulls"
    wires = stay, cap
    shrouds = _of_two_hulls(table, out, wires) if two else _of_one_hull(table, group, out, wires)
    return found | {"shrouds": shrouds}


def _forestay_break(page: Page, group: str) -> float:
    """Return what the forestay has to stand [kN]."""
    weight = 9.81 * page.number("hull.displacement_kg") / 1000.0
    if group == "two_hulls":
        return WEIGHT_SHARE * weight
    heels, levers = page.table["hull"]["righting_heel_deg"], page.table["hull"]["righting_lever_m"]
    lever = levers[heels.index(30.0)]
    height = page.number("rig.i_m") + page.number("rig.deck_above_water_m")
    return max(WEIGHT_SHARE * weight, STAY_FACTOR * weight * lever / height)


def _thinner(mm: int) -> int:
    return WIRES_MM[max(WIRES_MM.index(mm) - 1, 0)]


def _dock(mm: int, share: float) -> float:
    """Return the pull at the dock [kN] that is a share of a wire's break."""
    return round(share * wire(mm / 1000.0).breaking / 1000.0, 1)


def _shroud(name: str, mm: int, place: tuple[float, float, float], dock: float) -> Table:
    """Return a pair of shrouds; `place`: up the mast, out and aft [m], `dock`: share of break."""
    height, out, aft = place
    return {
        "name": name,
        "wire_mm": mm,
        "height_m": round(height, 2),
        "out_m": round(out, 2),
        "aft_m": round(aft, 2),
        "dock_kn": _dock(mm, dock),
    }


def _of_two_hulls(table: Table, out: float, wires: tuple[int, int]) -> list[Table]:
    i, (stay, cap) = table["rig"]["i_m"], wires
    aft, dock = out * _swept(table), DOCK_SHARE["fractional"]
    return [
        _shroud("cap_shroud", cap, (i, out, aft), 0.8 * dock),
        _shroud("lower", stay, (0.5 * i, out, aft), 0.5 * dock),
    ]


def _of_one_hull(table: Table, group: str, out: float, wires: tuple[int, int]) -> list[Table]:
    i, (stay, cap) = table["rig"]["i_m"], wires
    aft, dock, thin = max(out * _swept(table), 0.1), DOCK_SHARE[group], _thinner(stay)
    found = [_shroud("cap_shroud", cap, (i, out, aft), dock) | {"over_spreaders": True}]
    two = len(table["rig"]["spreaders"]) > 1
    if two:
        middle = _shroud("intermediate", thin, (0.68 * i, out, aft), 0.6 * dock)
        found.append(middle | {"over_spreaders": True})
    low = (0.35 if two else 0.48) * i
    if group == "fractional":
        return [*found, _shroud("lower", thin, (low, out, aft - 0.05), 0.6 * dock)]
    return [
        *found,
        _shroud("forward_lower", thin, (low, out, -0.05 * i), 0.6 * dock),
        _shroud("aft_lower", thin, (low, out, 0.055 * i), 0.6 * dock),
    ]


def _swept(table: Table) -> float:
    """Return how far the spreaders are swept, aft over out."""
    return math.tan(math.radians(table["rig"]["spreaders"][0]["sweep_deg"]))
