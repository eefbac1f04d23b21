"""A boat that might be, drawn from a seed: from 7 to 16 m, one hull or two, a usual rig.

For sweeps over many boats, so that what is shown does not hang on three of them. Every range is in
`random_ranges.toml`, with whose word it is; what is not drawn is left to what such a boat usually
has.
"""

from __future__ import annotations

import math
from typing import Any

from luffwright.aboard.completed import completed
from luffwright.aboard.convert import hull_of
from luffwright.aboard.random_deck import random_deck
from luffwright.aboard.random_ranges import Draw
from luffwright.aboard.random_rig import (
    random_chainplate,
    random_rig,
    random_spreaders,
    random_stays,
)
from luffwright.aboard.random_sails import random_sails
from luffwright.aboard.usual_hull import SEA_WATER
from luffwright.water.delft_form import APPENDAGE_SHARE
from luffwright.water.foil_estimate import keel_of

Table = dict[str, Any]
USUAL_BEAM = (0.52, 0.81)
"""Of one hull: so much [m] times her length to this power, 2.5 m for 7 m and 4.9 m for 16 m."""
USUAL_DRAUGHT = (0.45, 0.12)
"""Of one hull: so much [m], and this share of her length."""
SIDE_FORCE_DEPTH = 0.45
"""Of the draught, where designers have the keel's side force attack."""


def random_boat(seed: int) -> Table:
    """Return the boat file's table of a seed, the same on every machine.

    Parameters
    ----------
    seed : int
        0 or more.

    Returns
    -------
    dict
        As `tomllib` would read it; `toml_text` writes it.

    Examples
    --------
    >>> boat = random_boat(1)
    >>> boat == random_boat(1), 7.0 <= boat["hull"]["length_overall_m"] <= 16.0
    (True, True)
    """
    draw = Draw(seed)
    kind = draw.word("boat.kind")
    rig = draw.word(f"{kind}.rig")
    group = "two_hulls" if kind == "catamaran" else rig
    backstay = "none" if kind == "catamaran" else draw.word(f"{group}.backstay")
    # Chainplates that stand far aft leave no room for a genoa.
    free = backstay == "none" and kind == "monohull"
    headsail = draw.word(f"{'no_backstay' if free else group}.headsail")
    hull = _one_hull(draw, rig) if kind == "monohull" else _two_hulls(draw)
    table: Table = {"boat": {"name": f"Random {seed}", "kind": kind}, "hull": hull}
    table["rig"] = {"type": rig} | random_rig(draw, hull, group)
    hull["bow_forward_m"] = _bow(draw, table)
    out = random_chainplate(draw, table, headsail)
    table["rig"]["spreaders"] = random_spreaders(draw, table, group, backstay, out)
    table["stays"] = random_stays(table, group, backstay, out)
    table["sails"] = random_sails(draw, table, headsail)
    table["deck"] = random_deck(draw, table, headsail, group, backstay)
    table["keel"] = {"root_front_aft_m": _keel_front(draw, table, group)}
    table["boat"]["note"] = _note(table, headsail, backstay)
    return table


def _one_hull(draw: Draw, rig: str) -> Table:
    length = round(draw.number("monohull.length_overall_m"), 1)
    waterline = round(length * draw.number("monohull.waterline_of_length"), 2)
    usual_beam = USUAL_BEAM[0] * length ** USUAL_BEAM[1]
    beam = round(usual_beam * draw.number("monohull.beam_of_usual"), 2)
    usual_draught = USUAL_DRAUGHT[0] + USUAL_DRAUGHT[1] * length
    body = (waterline / draw.number(f"{rig}.slenderness")) ** 3
    return {
        "length_overall_m": length,
        "length_waterline_m": waterline,
        "beam_m": beam,
        "beam_waterline_m": round(beam * draw.number("monohull.waterline_beam_of_beam"), 2),
        "draught_m": round(usual_draught * draw.number("monohull.draught_of_usual"), 2),
        "displacement_kg": round(SEA_WATER * body / (1.0 - APPENDAGE_SHARE), -1),
        "centre_above_water_m": round(draw.number("monohull.centre_above_water_m"), 2),
    }


def _two_hulls(draw: Draw) -> Table:
    length = round(draw.number("catamaran.length_overall_m"), 1)
    waterline = round(length * draw.number("catamaran.waterline_of_length"), 2)
    each = (waterline / draw.number("catamaran.slenderness")) ** 3
    return {
        "length_overall_m": length,
        "length_waterline_m": waterline,
        "beam_m": round(length * draw.number("catamaran.beam_of_length"), 2),
        "draught_m": round(length * draw.number("catamaran.draught_of_length"), 2),
        "displacement_kg": round(2.0 * SEA_WATER * each, -1),
        "centre_above_water_m": round(draw.number("catamaran.centre_above_water_m"), 2),
    }


def _bow(draw: Draw, table: Table) -> float:
    kind, length = table["boat"]["kind"], table["hull"]["length_overall_m"]
    before = length * draw.number(f"{kind}.forestay_behind_bow_of_length")
    return round(table["rig"]["j_m"] + before, 2)


def _keel_front(draw: Draw, table: Table, group: str) -> float:
    """Return where the keel's root begins behind the mast [m], the sails' centre before it."""
    rig, hull = table["rig"], hull_of(completed(table).file)
    keel, main = keel_of(hull), table["sails"]["mainsail"]
    areas = main["luff_m"] * main["foot_m"], rig["j_m"] * rig["i_m"]
    middles = -rig["mast_depth_mm"] / 1000.0 - main["foot_m"] / 3.0, rig["j_m"] / 3.0
    centre = (areas[0] * middles[0] + areas[1] * middles[1]) / sum(areas)
    ahead = 0.01 * draw.number(f"{group}.lead_of_waterline") * hull.length_waterline
    swept = (SIDE_FORCE_DEPTH * hull.draught - keel.depth) * math.tan(keel.sweep)
    return round(ahead - centre - swept - 0.25 * keel.root_chord, 2)


_HEADSAIL = {
    "genoa": "overlapping genoa on track cars",
    "jib": "small jib on track cars",
    "board": "self-tacking jib with a clew board",
}


def _note(table: Table, headsail: str, backstay: str) -> str:
    length = f"{table['hull']['length_overall_m']:g} m {table['rig']['type']}"
    kind = "catamaran" if table["boat"]["kind"] == "catamaran" else "sloop"
    stay = "no backstay" if backstay == "none" else f"backstay {_BACKSTAY[backstay]}"
    return f"{length} {kind}, {stay}, {_HEADSAIL[headsail]}"


_BACKSTAY = {"fixed": "fixed", "turns": "by turns", "ram": "by a ram"}
