"""Every value of a boat: whether the sailor gave it, and if not, where it comes from."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from luffwright.aboard.boat import Boat
from luffwright.aboard.filling import DELFT, PRACTICE
from luffwright.water.delft_form import form_of
from luffwright.water.foil import Foil

Told = float | int | str | bool | tuple[float, ...]

_UNITS = (
    ("_g_per_m2", "g/m²"), ("_knm2", "kN m²"), ("_nm2", "N m²"), ("dock_kn", "kN"), ("_kn", "kn"),
    ("_kg", "kg"), ("_deg", "°"), ("_pct", "%"), ("_mm", "mm"), ("_mm_per_turn", "mm"),
    ("mm_per_turn", "mm"), ("_years", "years"), ("_m", "m"), ("_n", "N"),
)  # fmt: skip
_FOIL_HOW = "area from the hull's volume, to the depth of her draught"
_FOIL_SOURCE = "shares that designers use: keel 3.5 %, rudder 1 to 2 % of the sail area (memory)"
_DEFAULT_HOW = "taken where the file says nothing"
_FORM_HOW = "as the parent hull has it"


@dataclass(frozen=True)
class Value:
    """One value: its key in the boat file, and how it was come by if nobody gave it."""

    key: str
    value: Told
    unit: str
    given: bool
    how: str
    source: str


def unit_of(key: str) -> str:
    """Return the unit that a key's ending names.

    Examples
    --------
    >>> unit_of("stays.shrouds.1.dock_kn"), unit_of("sails.headsail.cloth_g_per_m2")
    ('kN', 'g/m²')
    """
    return next((unit for end, unit in _UNITS if key.endswith(end)), "")


def values_of(boat: Boat) -> tuple[Value, ...]:
    """Return every value of a boat that enters an answer, in the order of the file."""
    estimates = {entry.key: entry for entry in boat.estimates}
    found, idle = [], _idle(boat)
    for key, value in _flat(boat.file.model_dump(exclude={"boat"})):
        if key in idle:
            continue
        if boat.given & set(_above(key)):
            found.append(Value(key, value, unit_of(key), given=True, how="", source=""))
            continue
        entry = next((estimates[it] for it in _above(key) if it in estimates), None)
        how = entry.how if entry else _DEFAULT_HOW
        source = entry.source if entry else PRACTICE
        found.append(Value(key, value, unit_of(key), given=False, how=how, source=source))
    return (*found, *_foils(boat), *_form(boat))


def _idle(boat: Boat) -> frozenset[str]:
    """Return the keys that mean nothing on this boat: she has no such thing."""
    deck, controls = boat.file.deck, {entry.name for entry in boat.plan.controls}
    absent = {
        "hull.hull_spacing_m": boat.kind == "monohull",
        "stays.backstay_dock_kn": boat.plan.backstay is None,
        "deck.mainsail.vang_parts": "vang" not in controls,
        "deck.mainsail.vang_lift_n": "vang" not in controls,
        "deck.headsail.hole_spacing_m": "lead" not in controls,
        "deck.headsail.holes_counted_from": "lead" not in controls,
        "deck.headsail.clew_board_pitch_m": "clew_hole" not in controls,
        "deck.backstay.mm_per_turn": deck.backstay is None or deck.backstay.counted_in == "mm",
    }
    return frozenset(key for key, lacks in absent.items() if lacks and key not in boat.given)


def _above(key: str) -> Iterator[str]:
    """Yield a key and the tables and lists that it stands in."""
    parts = key.split(".")
    for count in range(len(parts), 0, -1):
        yield ".".join(parts[:count])


def _flat(value: object, key: str = "") -> Iterator[tuple[str, Told]]:
    match value:
        case None:
            return
        case dict():
            for name, inner in value.items():
                yield from _flat(inner, f"{key}.{name}".strip("."))
        case list() | tuple() if not value or isinstance(value[0], dict):
            for place, inner in enumerate(value, start=1):
                yield from _flat(inner, f"{key}.{place}")
        case list() | tuple():
            yield key, tuple(float(it) for it in value)
        case bool() | str() | int() | float():
            yield key, value


def _foils(boat: Boat) -> list[Value]:
    """Return what is estimated of keel and rudder."""
    out = []
    for name, foil in (("keel", boat.hull.keel), ("rudder", boat.hull.rudder)):
        for key, value in _of_foil(foil).items() if foil else ():
            whole = f"{name}.{key}"
            if whole not in boat.given:
                out.append(
                    Value(
                        whole, value, unit_of(whole), given=False, how=_FOIL_HOW,
                        source=_FOIL_SOURCE,
                    )
                )  # fmt: skip
    return out


def _of_foil(foil: Foil) -> dict[str, float]:
    return {
        "span_m": round(foil.span, 3),
        "root_chord_m": round(foil.root_chord, 3),
        "tip_chord_m": round(foil.tip_chord, 3),
        "sweep_deg": round(math.degrees(foil.sweep), 1),
        "thickness_pct": round(100.0 * foil.thickness, 1),
        "root_front_aft_m": round(-foil.x_position - 0.25 * foil.root_chord, 3),
        "root_depth_m": round(foil.depth, 3),
    }


def _form(boat: Boat) -> list[Value]:
    """Return what the resistance takes of the form that no boat file asks for."""
    if boat.hull.kind != "monohull":
        return []
    form = form_of(boat.hull)
    told = {
        "prismatic coefficient": (round(form.prismatic, 3), ""),
        "centre of buoyancy before the middle": (round(100.0 * form.buoyancy, 1), "%"),
        "wetted surface of the body": (round(form.surface, 1), "m²"),
    }
    return [
        Value(f"hull, {name}", value, unit, given=False, how=_FORM_HOW, source=DELFT)
        for name, (value, unit) in told.items()
    ]
