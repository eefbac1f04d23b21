"""What stands a boat up, and what breaks her wires and ropes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from luffwright.aboard.boat import Boat
from luffwright.aboard.reefing import reefing_of
from luffwright.app.plausible import greatest
from luffwright.sails.plan import Line
from luffwright.units import to_knots
from luffwright.water.catamaran import working_wind
from luffwright.water.estimate import righting_moment
from luffwright.water.reef_table import Canvas, lifting_wind

HEELS_DEG = {"monohull": (1.0, 20.0, 25.0), "catamaran": (1.0, 5.0)}
WORKING_SHARE = 0.25
"""Of the breaking load: beyond it the rig's maker or a rigger is asked."""
LOAD_FORMULA = 0.02104 * 9.81e-3
"""Load of a headsail sheet over area and wind squared [kN/(m² kn²)], from a deck-hardware maker's
page."""
LOAD_WIND_KN = 20.0
CURVE = "hull.righting_lever_m"


@dataclass(frozen=True)
class Moment:
    heel_deg: float
    moment_knm: float


@dataclass(frozen=True)
class Righting:
    """What stands her up: moments at some heels and the greatest, and how the curve was come by.

    `lift_wind_kn`: two hulls only, the apparent wind that lifts the windward one with all sail set,
    and `working_wind_kn` 70 % of it.
    """

    moments: tuple[Moment, ...]
    greatest: Moment
    given: bool
    basis: str
    lift_wind_kn: float | None
    working_wind_kn: float | None


@dataclass(frozen=True)
class Strength:
    """A wire or rope: diameter, what breaks it, the quarter of that, and whether it was given."""

    name: str
    diameter_mm: float
    breaking_kn: float
    quarter_kn: float
    given: bool


def sheet_load(boat: Boat) -> float:
    """Return what the headsail's sheet carries in 20 kn over the deck [kN], by the formula."""
    area = 0.5 * boat.plan.headsail.luff * boat.file.sails.headsail.luff_perpendicular_m
    return LOAD_FORMULA * area * LOAD_WIND_KN**2


def righting_of(boat: Boat) -> Righting:
    """Return what stands a boat up, and how it is known."""
    moments = tuple(
        Moment(heel, righting_moment(boat.hull, math.radians(heel)) / 1000.0)
        for heel in HEELS_DEG[boat.hull.kind]
    )
    most, heel = greatest(boat)
    lift = None
    if boat.hull.kind == "catamaran":
        lift = lifting_wind(reefing_of(boat.file, boat.plan, boat.hull), Canvas())
    entry = next((it for it in boat.estimates if it.key == CURVE), None)
    basis = "the curve in the boat file" if entry is None else f"{entry.how} ({entry.source})"
    return Righting(
        moments, Moment(math.degrees(heel), most / 1000.0), entry is None, basis,
        None if lift is None else to_knots(lift),
        None if lift is None else to_knots(working_wind(lift)),
    )  # fmt: skip


def strengths_of(boat: Boat) -> tuple[Strength, ...]:
    """Return what breaks each wire and rope."""
    plan, stays, deck = boat.plan, boat.file.stays, boat.file.deck
    head, gear = boat.plan.headsail_gear, boat.plan.mainsail_gear
    told: list[tuple[str, float, Line, str]] = [
        ("forestay", stays.forestay_wire_mm, plan.forestay.line, "stays.forestay_wire_mm")
    ]
    if plan.backstay is not None and stays.backstay_wire_mm is not None:
        told.append(
            ("backstay", stays.backstay_wire_mm, plan.backstay.line, "stays.backstay_wire_mm")
        )
    told += [
        (table.name, table.wire_mm, shroud.line, "stays.shrouds")
        for table, shroud in zip(stays.shrouds, plan.shrouds, strict=True)
    ]
    told += [
        ("sheet", deck.headsail.sheet_mm, head.sheet, "deck.headsail.sheet_mm"),
        ("halyard", deck.headsail.halyard_mm, head.halyard, "deck.headsail.halyard_mm"),
        ("mainsheet", deck.mainsail.sheet_mm, gear.sheet, "deck.mainsail.sheet_mm"),
        ("main_halyard", deck.mainsail.halyard_mm, gear.halyard, "deck.mainsail.halyard_mm"),
    ]
    return tuple(
        Strength(
            name, mm, line.breaking / 1000.0, WORKING_SHARE * line.breaking / 1000.0,
            key in boat.given,
        )
        for name, mm, line, key in told
    )  # fmt: skip
