"""What a rig of these measurements usually has: estimates for a boat file's blanks."""

from __future__ import annotations

import math

from luffwright.aboard.filling import GEOMETRY, MAST_MAKER, PRACTICE, Page, Value
from luffwright.sails.fabric import wire

SWEEP_DEG = {"masthead": 0.0, "fractional": 20.0, "catamaran": 28.0}
WIRES_MM = (4, 5, 6, 7, 8, 10, 12, 14, 16, 19, 22)
DOCK_SHARE = {"masthead": 0.15, "fractional": 0.20}
"""Pull at the dock over the breaking load: forestay and shrouds."""
TUBE_KNM2 = 0.7e6
"""Bending stiffness of an aluminium mast over its depth to the fourth power [kN/m²]."""


def _swept(page: Page) -> float:
    kind = page.word("boat.kind")
    return SWEEP_DEG["catamaran" if kind == "catamaran" else page.word("rig.type")]


def fill_rig(page: Page) -> None:
    """Fill the blanks of mast and boom."""
    i, p, j = (page.number(f"rig.{name}_m") for name in "ipj")
    two = page.word("boat.kind") == "catamaran"
    if not two and page.word("rig.type") == "masthead":
        page.fill("rig.mast_top_m", i, "the forestay's height: masthead rig", GEOMETRY)
    boom = 0.115 * p if two else 0.10 * p
    if page.has("rig.mast_top_m"):
        boom = max(min(boom, page.number("rig.mast_top_m") - p), 0.21)
    page.fill("rig.boom_above_deck_m", boom, "a tenth of the mainsail's luff")
    page.fill(
        "rig.mast_top_m", max(i, page.number("rig.boom_above_deck_m") + p + 0.2),
        "boom, mainsail's luff and a hand's breadth", GEOMETRY,
    )  # fmt: skip
    top = page.number("rig.mast_top_m")
    page.fill("rig.rake_deg", 2.0, "masts lean aft by 1° to 3°")
    page.fill("rig.mast_depth_mm", float(round(1000.0 * top / 80.0)), "an 80th of the mast")
    tube = TUBE_KNM2 * (page.number("rig.mast_depth_mm") / 1000.0) ** 4
    page.fill("rig.bending_fore_aft_knm2", tube, "aluminium tube of that depth")
    page.fill("rig.bending_sideways_knm2", 0.5 * tube, "half of that fore and aft")
    page.fill(
        "rig.sensor_above_water_m", page.number("rig.deck_above_water_m") + top + 0.7,
        "above the mast's top", GEOMETRY,
    )  # fmt: skip
    page.fill("rig.spreaders", _spreaders(page, i, two=two), "usual for a rig of this kind")
    page.fill("deck.headsail.tack_forward_m", j, "J", GEOMETRY)


def _spreaders(page: Page, i: float, *, two: bool) -> list[Value]:
    sweep, beam = _swept(page), page.number("hull.beam_m")
    length = 0.16 * beam if two else 0.31 * beam
    if two or page.word("rig.type") == "masthead":
        return [{"height_m": 0.5 * i, "length_m": length, "sweep_deg": sweep}]
    return [
        {"height_m": 0.36 * i, "length_m": length, "sweep_deg": sweep},
        {"height_m": 0.69 * i, "length_m": 0.8 * length, "sweep_deg": sweep},
    ]


def wire_for(break_kn: float) -> int:
    """Return the least usual diameter [mm] of a wire that breaks at a load or above.

    Parameters
    ----------
    break_kn : float
        [kN]

    Examples
    --------
    >>> wire_for(50.0)
    8
    """
    fits = [mm for mm in WIRES_MM if wire(mm / 1000.0).breaking >= 1000.0 * break_kn]
    return fits[0] if fits else WIRES_MM[-1]


def _thinner(mm: int) -> int:
    return WIRES_MM[max(WIRES_MM.index(mm) - 1, 0)]


def _dock(page: Page, mm: float) -> float:
    share = DOCK_SHARE[page.word("rig.type")]
    return round(share * wire(mm / 1000.0).breaking / 1000.0, 1)


def fill_stays(page: Page) -> None:
    """Fill the blanks of the standing rigging; once shrouds are listed, no backstay is guessed."""
    weight = 0.95 * 9.81 * page.number("hull.displacement_kg") / 1000.0
    stay = wire_for(weight)
    page.fill("stays.forestay_wire_mm", stay, "breaks at about the boat's weight")
    page.fill(
        "stays.forestay_dock_kn",
        round(0.15 * wire(page.number("stays.forestay_wire_mm") / 1000.0).breaking / 1000.0, 1),
        "15 % of its break, sails down", MAST_MAKER,
    )  # fmt: skip
    if page.has("stays.shrouds"):
        return
    if page.word("boat.kind") == "monohull" and not page.has("stays.backstay_aft_m"):
        page.fill("stays.backstay_wire_mm", _thinner(stay), "a size below the forestay")
        page.fill(
            "stays.backstay_aft_m", page.number("hull.stern_aft_m") - 0.2, "at the stern", PRACTICE
        )
        masthead = page.word("rig.type") == "masthead"
        share = 0.10 if masthead else 0.05
        pull = share * wire(_thinner(stay) / 1000.0).breaking / 1000.0
        page.fill(
            "stays.backstay_dock_kn", round(pull, 1), f"{100 * share:.0f} % of its break, eased",
            MAST_MAKER,
        )  # fmt: skip
    page.fill("stays.shrouds", _shrouds(page, stay), "usual for a rig of this kind")


def _shrouds(page: Page, stay: int) -> list[Value]:
    two = page.word("boat.kind") == "catamaran"
    i, out = page.number("rig.i_m"), (0.43 if two else 0.45) * page.number("hull.beam_m")
    aft = out * math.tan(math.radians(_swept(page)))
    thin, cap = _thinner(stay), {"name": "cap_shroud", "height_m": i, "out_m": out}
    if two:
        heavy = wire_for(1.4 * wire(stay / 1000.0).breaking / 1000.0)
        low = {"name": "lower", "height_m": 0.5 * i, "out_m": out}
        return [
            cap | {"wire_mm": heavy, "aft_m": aft, "dock_kn": 0.8 * _dock(page, heavy)},
            low | {"wire_mm": stay, "aft_m": aft, "dock_kn": 0.5 * _dock(page, stay)},
        ]
    cap |= {"wire_mm": stay, "dock_kn": _dock(page, stay), "over_spreaders": True}
    low = {"height_m": 0.48 * i, "out_m": out, "wire_mm": thin, "dock_kn": 0.6 * _dock(page, thin)}
    if page.word("rig.type") == "masthead":
        return [
            cap | {"aft_m": 0.1},
            low | {"name": "forward_lower", "aft_m": -0.05 * i},
            low | {"name": "aft_lower", "aft_m": 0.055 * i},
        ]
    middle = {"name": "intermediate", "height_m": 0.68 * i, "over_spreaders": True}
    return [
        cap | {"aft_m": aft},
        low | middle | {"aft_m": aft},
        low | {"name": "lower", "height_m": 0.35 * i, "aft_m": aft - 0.05},
    ]
