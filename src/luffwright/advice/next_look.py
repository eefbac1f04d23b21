"""What to look at next: the tuft that tells which of the moves is the right one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from luffwright.advice.decision import Option
from luffwright.advice.doubt import scaled
from luffwright.advice.emulator import Surface
from luffwright.advice.posterior import MISREAD, Boats, moved, streams
from luffwright.advice.readings import TUFTS
from luffwright.arrays import FloatArray

LOOKED_AT = (*TUFTS, "leech_top")


@dataclass(frozen=True)
class NextLook:
    """The tuft `name` to look at; the best move if it streams and if it does not, None for leaving
    her as she is; `worth`: what looking brings over moving at once [m/s].
    """

    name: str
    streaming: Option | None
    gone: Option | None
    worth: float


def next_look(
    boats: Boats, surfaces: Mapping[str, Surface], now: Mapping[str, float],
    options: tuple[Option, ...],
) -> NextLook | None:  # fmt: skip
    r"""Return the look that brings most, if any changes what is done.

    .. math:: v = \sum_s \max_o E[\,p(s)\, g_o\,] - \max_o E[\,g_o\,]

    Parameters
    ----------
    boats : Boats
    surfaces : mapping
    now : mapping
        How far controls [its unit] and course [rad] stand from the first look.
    options : tuple of Option
        Their gains on the same boats.

    Returns
    -------
    NextLook or None

    Notes
    -----
    The value of one look, as told either way with the chance that it is misread.

    References
    ----------
    .. [1] Raiffa and Schlaifer, *Applied Statistical Decision Theory*, Harvard, 1961, section 4.5
       (expected value of sample information); from memory.
    """
    if not options:
        return None
    gains = np.stack([np.zeros_like(options[0].gains), *(it.gains for it in options)])
    moves = (None, *options)
    points = scaled(boats.axes, moved(boats.axes, boats.drawn(gains.shape[1]), now))
    at_once = float(np.max(gains.mean(axis=1)))
    found = []
    for name in LOOKED_AT:
        share = MISREAD + (1.0 - 2.0 * MISREAD) * streams(surfaces, name, points)
        yes, no = _best(gains * share), _best(gains * (1.0 - share))
        if yes[0] != no[0]:
            worth = yes[1] + no[1] - at_once
            found.append(NextLook(name, moves[yes[0]], moves[no[0]], worth))
    return max(found, key=lambda it: it.worth, default=None)


def _best(weighed: FloatArray) -> tuple[int, float]:
    """Return which move is best, and what it gains [m/s]."""
    mean = weighed.mean(axis=1)
    first = int(np.argmax(mean))
    return first, float(mean[first])
