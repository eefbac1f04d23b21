"""What a move is worth that is to last: now, and once all ropes stand where her file has them best.

What brings most at once is often a turn, or a rope, that makes up for another one, and has to be
taken back when that is put right. The mean of what a move brings as the first one and as the last
is its part of the whole gain by Shapley's value, where it and all the rest together are the two
players (L. S. Shapley, A Value for n-Person Games, 1953, eq. 13 with n = 2).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from luffwright.advice.decision import SCREENED, Deck, Option, backs, gains_of
from luffwright.advice.emulator import Surface
from luffwright.advice.posterior import Boats

EQUAL = 1e-9

By = Mapping[str, float]


def lasting(
    boats: Boats, surfaces: Mapping[str, Surface], deck: Deck, now: By, found: tuple[Option, ...]
) -> tuple[Option, ...]:
    """Return moves with what each gains as the last one; where it is worth more to put a rope back
    where her file has it best, of that size.

    Parameters
    ----------
    boats : Boats
    surfaces : mapping
    deck : Deck
    now : mapping
        How far controls [its unit] and course [rad] stand from the first look.
    found : tuple of Option
        The move of each control that gains most now.

    Returns
    -------
    tuple of Option
        Best first by their worth; as found where all ropes stand where the file has them. What is
        held counts as standing right.
    """
    end = {it.name: by for it in deck.travel if abs(by := deck.back(it.name)) > EQUAL}
    if not end:
        return found
    sizes = {it.control: (it,) for it in found}
    for back in backs(boats, surfaces, deck, now):
        sizes[back.control] = (*sizes.get(back.control, ()), back)
    rated = (
        max((_last(boats, surfaces, now, it, end) for it in same), key=lambda it: it.worth)
        for same in sizes.values()
    )
    return tuple(sorted(rated, key=lambda it: -it.worth))


def _last(
    boats: Boats, surfaces: Mapping[str, Surface], now: By, option: Option, end: By
) -> Option:
    """Return a move with what it gains where all other ropes stand where the file has them best."""
    rest = {name: it for name, it in end.items() if name not in option.by}
    there = {name: now.get(name, 0.0) + rest.get(name, 0.0) for name in {**now, **rest}}
    gains = gains_of(boats, surfaces, there, [{**option.by}], SCREENED)
    return replace(option, last=float(np.mean(gains)))
