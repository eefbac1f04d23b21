"""A rougher sea, the boat underpowered: what pays more in it than in flat water."""

from __future__ import annotations

import numpy as np

from boat_states import Sailed
from facts.effect import Effect, UnfitError, fitted, speed, stood

HIGHER = float(np.radians(2.0))
TWISTED, FLATTER = 0.2, 0.04
"""Mainsheet eased and traveller pulled up, outhaul pulled [m]."""
POWER = float(np.radians(20.0))
"""From this heel on a boat of one hull is not underpowered [rad]."""


def paying(state: Sailed, *, turn: float = 0.0, **change: float) -> float:
    """Return how much more a change brings in a moderate sea than in flat water [kn]."""
    if state.heel > POWER:
        raise UnfitError("not underpowered")
    gains = []
    for sea in ("moderate", "flat"):
        there = stood(state.in_sea(sea), f"in a {sea} sea")
        moved = stood(there.by(turn=turn, **change), f"changed in a {sea} sea")
        gains.append(moved.made_good - there.made_good)
    return gains[0] - gains[1]


def lower(state: Sailed) -> list[Effect]:
    """V1, report: in a rougher sea it pays less to point higher."""
    return [speed("pointing 2° higher pays less", -paying(state, turn=-HIGHER))]


def more_twisted(state: Sailed) -> list[Effect]:
    """V1, report: in a rougher sea a more twisted mainsail pays more."""
    fitted(state, "traveller")
    gain = paying(state, mainsheet=TWISTED, traveller=-TWISTED)
    return [speed("more twist pays more", gain)]


def fuller(state: Sailed) -> list[Effect]:
    """V1, report: in a rougher sea a flatter mainsail pays less."""
    pull = -FLATTER if state.room("outhaul", -FLATTER) else FLATTER
    gain = float(np.sign(-pull)) * paying(state, outhaul=pull)
    return [speed("a fuller mainsail pays more", gain)]
