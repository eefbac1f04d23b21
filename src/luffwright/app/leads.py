"""Where the line of the headsail's sheet meets the luff, and where the lead is neutral by it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from luffwright.aboard.boat import Boat
from luffwright.sails.cut import moulded
from luffwright.sails.placing import lead_place, place_headsail
from luffwright.sails.setting import Setting
from luffwright.sails.sheet_mark import NEUTRAL_SHARE, neutral_lead

SURE = (
    "sails.headsail.luff_m", "sails.headsail.leech_m", "sails.headsail.luff_perpendicular_m",
    "rig.i_m", "deck.headsail.tack_forward_m", "deck.headsail.tack_above_deck_m",
    "deck.headsail.lead_above_deck_m",
)  # fmt: skip
"""The measurements that place the neutral lead."""
_ROWS = 5


@dataclass(frozen=True)
class Lead:
    """Where the lead is neutral: its sheet's line meets the luff at `share` from the tack.

    `aft_of_mast_m`: behind the mast's front face; `mark`: where that is on the track, in deck
    words, empty for a fixed lead; `on_track`: whether the track reaches there; `holes`: for a clew
    board, the share of the luff that each of its holes aims at; `assumed`: keys behind it that
    nobody measured.
    """

    share: float
    aft_of_mast_m: float
    mark: str
    on_track: bool
    holes: tuple[float, ...]
    assumed: tuple[str, ...]


def lead_of(boat: Boat) -> Lead:
    """Return where a boat's headsail lead is neutral, or where her clew board's holes aim."""
    gear = boat.plan.headsail_gear
    track = math.dist(gear.track_front, gear.track_aft)
    place = neutral_lead(boat.plan)
    at = lead_place(boat.plan, Setting(lead=place))
    holes = tuple(_aim(boat, at, hole) for hole in range(gear.board_holes))
    assumed = tuple(key for key in SURE if key not in boat.given)
    if place is None:
        return Lead(holes[0], float(-at[0]), "", on_track=True, holes=holes, assumed=assumed)
    inside = 0.02 * track < place < 0.98 * track
    mark = boat.marks["lead"].unmarked or boat.marks["lead"].text(place)
    share = NEUTRAL_SHARE if inside else holes[0]
    return Lead(share, float(-at[0]), mark, inside, holes if len(holes) > 1 else (), assumed)


def _aim(boat: Boat, lead: np.ndarray, hole: int) -> float:
    """Return where the line through the lead and a hole of the clew board meets the luff: share
    from the tack, seen from abeam.
    """
    shape = moulded(boat.plan.headsail, _ROWS, _ROWS)
    grid = place_headsail(boat.plan, shape, Setting()).reshape(_ROWS, _ROWS, 3)[..., [0, 2]]
    tack, head, clew = grid[0, 0], grid[-1, 0], grid[0, -1]
    up = (grid[1, -1] - clew) / np.linalg.norm(grid[1, -1] - clew)
    clew = clew + hole * boat.plan.headsail_gear.board_pitch * up
    pull = clew - lead[[0, 2]]
    # tack + share (head - tack) = clew + length pull
    share, _ = np.linalg.solve(np.stack([head - tack, -pull], axis=1), clew - tack)
    return float(share)
