"""Proportions of a boat beside what is published or usual: what does not fit was mismeasured, or is
worth knowing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from luffwright.aboard.boat import Boat
from luffwright.water.delft_form import BOX, Form, form_of
from luffwright.water.estimate import GRAVITY, righting_moment
from luffwright.water.foil_estimate import keel_of, rudder_of
from luffwright.water.reef_table import Canvas, sails_set
from luffwright.water.righting_estimate import metacentric_height

SEA_WATER = 1025.0
LONG_TON = 1016.05
FOOT = 0.3048
SMALL_HEEL = math.radians(5.0)
MEMORY = "common practice, from memory"
DELFT = "the 22 towed models of the Delft series, Gerritsma and others 1981"
SOUTHAMPTON = "catamaran models of Molland and others, Southampton 1994 (from memory)"
DESIGNERS = "Larsson and Eliasson, Principles of Yacht Design (from memory)"
PASSENGERS = "46 CFR 171.057, sailing catamarans that carry passengers, exposed waters"
SKENE = "Skene's graph as a rigging textbook cites it: 50 kN m at 32 ft, 108 at 40 ft"


@dataclass(frozen=True)
class Ratio:
    """One proportion: its value, the band and whose it is; no `low` or `high` where it is open."""

    name: str
    value: float
    unit: str
    low: float | None
    high: float | None
    source: str
    keys: tuple[str, ...] = ()

    @property
    def inside(self) -> bool:
        """Return whether the value lies in its band, half of the last told digit granted."""
        slack = 0.005 * abs(self.value)
        above = self.low is None or self.value >= self.low - slack
        return above and (self.high is None or self.value <= self.high + slack)


def ratios(boat: Boat) -> tuple[Ratio, ...]:
    """Return the proportions of a boat, hull first."""
    own = _one_hull(boat) if boat.hull.kind == "monohull" else _two_hulls(boat)
    return (*_size(boat), *own, *_fins(boat), *_sails(boat), *_rig(boat))


def sail_area_of(boat: Boat) -> float:
    """Return the area of both sails, all set [m²]."""
    return sails_set(boat.plan, Canvas()).area


def _size(boat: Boat) -> list[Ratio]:
    hull = boat.hull
    tons, feet = hull.displacement / LONG_TON, hull.length_waterline / FOOT
    heavy = tons / (0.01 * feet) ** 3
    driven = sail_area_of(boat) / (hull.displacement / SEA_WATER) ** (2.0 / 3.0)
    band = (100.0, 400.0) if hull.kind == "monohull" else (40.0, 200.0)
    floats = ("hull.displacement_kg", "hull.length_waterline_m")
    return [
        Ratio("displacement to length (long tons, 100 ft)", heavy, "", *band, MEMORY, floats),
        Ratio(
            "sail area to displacement", driven, "", 12.0, 28.0, MEMORY, ("hull.displacement_kg",)
        ),
        Ratio(
            "waterline to length overall", hull.length_waterline / hull.length_overall, "", 0.70,
            1.0, MEMORY, ("hull.length_waterline_m", "hull.length_overall_m"),
        ),
    ]  # fmt: skip


def _one_hull(boat: Boat) -> list[Ratio]:
    form = form_of(boat.hull)
    told: dict[str, tuple[float, tuple[str, ...]]] = {
        "length over cube root of volume": (form.slenderness, ("hull.displacement_kg",)),
        "beam over draught of the body": (form.beam / form.draught, ("hull.draught_body_m",)),
        "length over beam of the waterline": (form.length / form.beam, ("hull.beam_waterline_m",)),
    }
    found = [
        Ratio(name, value, "", *BOX[name], DELFT, keys) for name, (value, keys) in told.items()
    ]
    return [*found, _midship(form), _weight(boat, form), _skene(boat)]


def _midship(form: Form) -> Ratio:
    return Ratio(
        "fullness of the midship section", form.midship, "", 0.55, 0.90, MEMORY,
        ("hull.draught_body_m", "hull.beam_waterline_m", "hull.displacement_kg"),
    )  # fmt: skip


def _weight(boat: Boat, form: Form) -> Ratio:
    """Return how high her weight must lie for her first levers to come from her form."""
    hull = boat.hull
    stiff = righting_moment(hull, SMALL_HEEL) / (GRAVITY * hull.displacement * SMALL_HEEL)
    from_form = metacentric_height(form.length, form.beam, form.draught, form.volume, 0.0)
    return Ratio(
        "her weight above the waterline, by her first levers", from_form - stiff, "m", -0.6, 0.6,
        MEMORY, ("hull.righting_lever_m", "hull.beam_waterline_m"),
    )  # fmt: skip


def skene_moment(length: float) -> float:
    """Return the righting moment at 30° of heel that goes with a waterline [kN m].

    A straight line in logarithms through the two points that the source prints, at 32 and 40 ft.

    Parameters
    ----------
    length : float
        Of the waterline. [m]

    Examples
    --------
    >>> round(skene_moment(40 * 0.3048))
    108
    """
    power = math.log(108.0 / 50.0) / math.log(40.0 / 32.0)
    return 50.0 * (length / FOOT / 32.0) ** power


def _skene(boat: Boat) -> Ratio:
    moment = righting_moment(boat.hull, math.radians(30.0)) / 1000.0
    usual = skene_moment(boat.hull.length_waterline)
    return Ratio(
        "righting moment at 30° to that of her length", moment / usual, "", 0.5, 1.6, SKENE,
        ("hull.righting_lever_m",),
    )  # fmt: skip


def _two_hulls(boat: Boat) -> list[Ratio]:
    hull = boat.hull
    volume = 0.5 * hull.displacement / SEA_WATER
    slender = hull.length_waterline / volume ** (1.0 / 3.0)
    sails = sails_set(boat.plan, Canvas())
    arm = sails.height - boat.plan.deck_height
    pressure = 0.1 * hull.displacement * hull.hull_spacing / (sails.area * arm)
    return [
        Ratio("each hull: length over cube root of volume", slender, "", 6.3, 9.5, SOUTHAMPTON,
              ("hull.displacement_kg",)),
        Ratio("each hull: length over beam", hull.length_waterline / hull.beam_waterline, "", 7.0,
              15.1, SOUTHAMPTON, ("hull.beam_waterline_m",)),
        Ratio("each hull: beam over draught", hull.beam_waterline / hull.draught_body, "", 1.5,
              2.5, SOUTHAMPTON, ("hull.draught_body_m",)),
        Ratio("spacing of the hulls over length", hull.hull_spacing / hull.length_waterline, "",
              0.2, 0.5, SOUTHAMPTON, ("hull.hull_spacing_m",)),
        Ratio("0.1 weight × spacing / (sail area × its height)", pressure, "kg/m²", 7.32, None,
              PASSENGERS, ("hull.displacement_kg", "hull.hull_spacing_m")),
    ]  # fmt: skip


def _fins(boat: Boat) -> list[Ratio]:
    out = []
    for name, foil, usual in (
        ("keel", keel_of(boat.hull), (1.75, 7.0)),
        ("rudder", rudder_of(boat.hull), (0.5, 4.0)),
    ):
        area = foil.count * foil.span * 0.5 * (foil.root_chord + foil.tip_chord)
        share = 100.0 * area / sail_area_of(boat)
        out.append(
            Ratio(f"{name} to sail area", share, "%", *usual, DESIGNERS, (f"{name}.span_m",))
        )
    return [*out, *([_lead(boat)] if boat.hull.kind == "monohull" else [])]


def _lead(boat: Boat) -> Ratio:
    """Return how far the sails' centre lies before the keel's, as designers draw them."""
    plan, keel = boat.plan, keel_of(boat.hull)
    fore, main = plan.headsail_gear.tack[0], plan.mainsail
    areas = (0.5 * main.luff * main.foot, 0.5 * fore * (plan.mast.hounds - plan.deck_height))
    middles = (plan.mainsail_gear.tack[0] - main.foot / 3.0, fore / 3.0)
    centre = sum(a * x for a, x in zip(areas, middles, strict=True)) / sum(areas)
    down = 0.45 * boat.hull.draught - keel.depth
    ahead = centre - (keel.x_position - down * math.tan(keel.sweep))
    masthead = boat.file.rig.type == "masthead"
    return Ratio(
        "sails' centre before the keel's, of the waterline",
        100.0 * ahead / boat.hull.length_waterline, "%", *((4.0, 10.0) if masthead else (2.0, 8.0)),
        DESIGNERS, ("keel.root_front_aft_m", "hull.bow_forward_m"),
    )  # fmt: skip


def _sails(boat: Boat) -> list[Ratio]:
    out = []
    for cut, draft in ((boat.plan.headsail, (30.0, 42.0)), (boat.plan.mainsail, (35.0, 50.0))):
        key = f"sails.{cut.role}."
        out += [
            Ratio(f"{cut.role}: luff over foot", cut.luff / cut.foot, "", 1.8, 4.5, MEMORY,
                  (key + "luff_m", key + "leech_m")),
            Ratio(f"{cut.role}: depth cut in, half-way up", 100.0 * cut.camber[1], "%", 4.0, 14.0,
                  MEMORY, (key + "camber_pct",)),
            Ratio(f"{cut.role}: deepest at", 100.0 * cut.draft[1], "%", *draft, MEMORY,
                  (key + "draft_pct",)),
        ]  # fmt: skip
    return out


def _rig(boat: Boat) -> list[Ratio]:
    stay = boat.plan.forestay.line.breaking
    share = stay / (GRAVITY * boat.hull.displacement)
    found = [
        Ratio("forestay's break to the boat's weight", share, "", 0.6, 2.0, MEMORY,
              ("stays.forestay_wire_mm",)),
    ]  # fmt: skip
    if boat.hull.kind == "monohull":
        moment = righting_moment(boat.hull, math.radians(30.0))
        asked = 15.0 * moment / boat.plan.forestay.height
        found.append(
            Ratio("forestay's break to 15 × righting moment / its height", stay / asked, "", 1.0,
                  None, "Nordic Boat Standard, in Larsson and Eliasson (from memory)",
                  ("stays.forestay_wire_mm",)),
        )  # fmt: skip
    return found


def greatest(boat: Boat) -> tuple[float, float]:
    """Return the greatest righting moment [N m] and its heel [rad], on the curve as it is given."""
    levers = np.array(boat.hull.righting_lever)
    heel = boat.hull.righting_heel[int(np.argmax(levers))]
    return righting_moment(boat.hull, heel), heel
