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

from luffwright.advice.decision import SCREENED, Deck, Option, gains_of, option_of
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
        Best first by their worth; as found where all ropes stand where the file has them.
    """
    end = {name: change for name in deck.marks if abs(change := _back(deck, name)) > EQUAL}
    if not end:
        return found
    rated = []
    for it in found:
        sizes = [it, *_of_its_mark(boats, surfaces, now, it, end.get(it.control, 0.0))]
        last = [_as_last(boats, surfaces, now, size, end) for size in sizes]
        judged = [replace(size, last=gain) for size, gain in zip(sizes, last, strict=True)]
        rated.append(max(judged, key=lambda option: option.worth))
    return tuple(sorted(rated, key=lambda option: -option.worth))


def _back(deck: Deck, name: str) -> float:
    return deck.best.get(name, deck.marks[name]) - deck.marks[name]


def _of_its_mark(
    boats: Boats, surfaces: Mapping[str, Surface], now: By, option: Option, back: float
) -> list[Option]:
    """Return the move of the size that puts its rope back, none where that is what it does."""
    if abs(back) <= EQUAL or abs(back - option.by[option.control]) <= EQUAL:
        return []
    share = back / option.by[option.control]
    by = {name: share * it for name, it in option.by.items()}
    gains = gains_of(boats, surfaces, now, [by], len(option.gains))[0]
    return [option_of(boats.axes, by, gains, surfaces["made_good"].error)]


def _as_last(
    boats: Boats, surfaces: Mapping[str, Surface], now: By, option: Option, end: By
) -> float:
    """Return what a move gains where all other ropes stand where the file has them best [m/s]."""
    rest = {name: it for name, it in end.items() if name not in option.by}
    there = {name: now.get(name, 0.0) + rest.get(name, 0.0) for name in {**now, **rest}}
    return float(np.mean(gains_of(boats, surfaces, there, [{**option.by}], SCREENED)))
