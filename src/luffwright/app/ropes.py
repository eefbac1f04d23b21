"""What can be moved on a boat: each control with its travel, its name on deck and its mark."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from luffwright.aboard.boat import Boat, load_boat
from luffwright.sails.setting import CONTROL_UNITS

Reach = Literal["cockpit", "side deck", "mast", "foredeck"]

REACH: dict[str, Reach] = {
    "sheet": "cockpit", "mainsheet": "cockpit", "traveller": "cockpit", "backstay": "cockpit",
    "furl": "cockpit", "main_furl": "cockpit", "lead": "side deck", "lead_out": "side deck",
    "clew_hole": "foredeck", "halyard": "mast", "vang": "mast", "cunningham": "mast",
    "outhaul": "mast", "reef": "mast", "pole": "mast",
}  # fmt: skip
"""Where a cruising boat's crew usually stands for it; ropes led aft are nearer, and boat files do
not tell: common practice, without a source."""


@dataclass(frozen=True)
class Rope:
    """A control: key, name on deck, from `low` to `high` by `step` in its `unit`, the verbs for
    more and less, and how far a hand has to reach.
    """

    control: str
    rope: str
    unit: str
    low: float
    high: float
    step: float
    more: str
    less: str
    reach: Reach


def ropes(boat_name: str) -> tuple[Rope, ...]:
    """Return what can be moved on a boat.

    Raises
    ------
    InputError, BoatFileError
        Where there is no such boat, or her file cannot be used.
    """
    return ropes_of(load_boat(boat_name))


def ropes_of(boat: Boat) -> tuple[Rope, ...]:
    """Return what can be moved on a boat that is loaded."""
    out = []
    for entry in boat.plan.controls:
        mark = boat.marks[entry.name]
        out.append(
            Rope(
                entry.name, mark.rope, CONTROL_UNITS[entry.name], entry.low, entry.high,
                entry.step, mark.more, mark.less, REACH.get(entry.name, "mast"),
            )
        )  # fmt: skip
    return tuple(out)
