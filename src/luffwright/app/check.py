"""`check`: whether a boat's measurements fit each other and what is usual."""

from __future__ import annotations

import math
from dataclasses import dataclass

from luffwright.aboard.boat import Boat, load_boat
from luffwright.app.answer import Caution
from luffwright.sails.cut import moulded, sail_area, triangles
from luffwright.sails.sheet_mark import neutral_lead

SEA_WATER = 1025.0
SAIL_AREA_DISPLACEMENT = (12.0, 28.0)
"""Usual sail area to displacement^(2/3) of cruising boats: common practice, from memory."""
BALLASTED_ASPECT = (1.8, 4.5)


@dataclass(frozen=True)
class Checked:
    """A boat that could be read, and what is worth a second look."""

    boat: str
    findings: tuple[Caution, ...]


def _area(boat: Boat) -> float:
    cuts = (boat.plan.headsail, boat.plan.mainsail)
    return sum(sail_area(moulded(cut, 9, 9).nodes, triangles(9, 9, 0)) for cut in cuts)


def _size(boat: Boat) -> list[Caution]:
    area = _area(boat)
    ratio = area / (boat.hull.displacement / SEA_WATER) ** (2.0 / 3.0)
    text = f"{area:.1f} m² of sail; sail area to displacement {ratio:.1f}"
    low, high = SAIL_AREA_DISPLACEMENT
    if low <= ratio <= high:
        return [Caution("note", text)]
    return [Caution("warning", f"{text}, usual is {low:g} to {high:g}: measure area and weight")]


def _shape(boat: Boat) -> list[Caution]:
    out = []
    low, high = BALLASTED_ASPECT
    for cut in (boat.plan.headsail, boat.plan.mainsail):
        aspect = cut.luff / cut.foot
        if not low <= aspect <= high:
            out.append(
                Caution(
                    "warning",
                    f"{cut.role}: luff {cut.luff:g} m on foot {cut.foot:g} m is {aspect:.1f} to 1, "
                    f"usual is {low:g} to {high:g}: measure both again",
                )
            )
    return out


def _lead(boat: Boat) -> list[Caution]:
    gear = boat.plan.headsail_gear
    place = neutral_lead(boat.plan)
    if place is None:
        return [Caution("note", "The jib's lead is fixed: its clew board does the car's work.")]
    track = math.dist(gear.track_front, gear.track_aft)
    mark = boat.marks["lead"]
    if place <= 0.02 * track or place >= 0.98 * track:
        return [
            Caution(
                "warning",
                "The line through clew and 40 % of the luff meets the deck off the end of the "
                "track: measure track, clew height and luff again.",
            )
        ]
    return [Caution("note", f"Neutral lead at {mark.text(place)}.")]


def _stays(boat: Boat) -> list[Caution]:
    weight = 9.81 * boat.hull.displacement
    share = boat.plan.forestay.line.breaking / weight
    if share < 0.6:
        return [
            Caution(
                "warning",
                f"The forestay breaks at {share:.1f} times the boat's weight, which is little: "
                "check its size with a rigger.",
            )
        ]
    return []


def _ends(boat: Boat) -> list[Caution]:
    """Return whether bow and stern lie as far apart as the hull is long."""
    apart, length = boat.hull.bow_x + boat.stern_aft, boat.hull.length_overall
    if abs(apart - length) <= 0.05 * length:
        return []
    return [
        Caution(
            "warning",
            f"bow_forward_m and stern_aft_m make {apart:.1f} m, length_overall_m is "
            f"{length:.1f} m: measure both ends from the mast's front again",
        )
    ]


def check(name: str) -> Checked:
    """Return what stands out in a boat's measurements.

    Parameters
    ----------
    name : str
        A demo boat or a boat file.

    Returns
    -------
    Checked

    Raises
    ------
    BoatFileError
        Where the file cannot be used at all.
    """
    boat = load_boat(name)
    found = (*_size(boat), *_ends(boat), *_shape(boat), *_lead(boat), *_stays(boat))
    return Checked(boat.name, found)
