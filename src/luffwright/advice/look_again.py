"""When to look again: the wind in which leaving everything as it is would cost what can be told."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from luffwright.advice.climb import Ground
from luffwright.advice.model import Hill, best_move
from luffwright.advice.task import Reached, SailingTask
from luffwright.air.wind import wind_profile
from luffwright.arrays import FloatArray

AWAY = 0.2
"""How far the wind is changed to see what leaving it would cost, as a share of it."""
FARTHEST = 0.5
"""How far from the wind of now a wind is told, as a share of it."""


@dataclass(frozen=True)
class LookAgain:
    """The winds below and above in which to look again [m/s]; None = none that is near."""

    below: float | None
    above: float | None


def look_again(
    task: SailingTask, state: Reached, over: Ground, bend: FloatArray, gain: float
) -> LookAgain:
    """Return the winds in which the best setting would gain a share over leaving it.

    Ropes are left as they are in a wind a fifth lighter and a fifth stronger; the slopes there and
    the bends of the hill here tell what the best setting would bring. That grows with the square of
    the change, as it does about any best place.

    Parameters
    ----------
    task : SailingTask
    state : Reached
        What is left as it is.
    over : Ground
    bend : (n, n) array
        Of the hill there, by steps.
    gain : float
        Share of the aim for which one looks again. [-]

    Returns
    -------
    LookAgain
    """
    speed = task.stream.profile.speed
    found = [_away(task, state, over, bend, speed * (1.0 + sign * AWAY)) for sign in (-1.0, 1.0)]
    shares = [None if it is None else change_for(it, gain) for it in found]
    below, above = (
        None if it is None else speed * (1.0 + sign * it)
        for sign, it in zip((-1.0, 1.0), shares, strict=True)
    )
    return LookAgain(below, above)


def change_for(promise: float, gain: float) -> float | None:
    """Return the change of the wind [its share] at which a gain is reached, if it is near.

    Parameters
    ----------
    promise : float
        Share of the aim gained `AWAY` from here. [-]
    gain : float
        Share for which one looks again. [-]

    Returns
    -------
    float or None

    Examples
    --------
    Where a fifth more wind would bring 4 %, half of it brings 1 %:

    >>> round(change_for(0.04, 0.01), 3)
    0.1
    """
    if promise <= 0.0:
        return None
    change = AWAY * float(np.sqrt(gain / promise))
    return change if change <= FARTHEST else None


def _away(
    task: SailingTask, state: Reached, over: Ground, bend: FloatArray, wind: float
) -> float | None:
    """Return the share that the best setting would gain in another wind; None if not settled."""
    profile = wind_profile(wind, task.stream.profile.exponent)
    there = replace(task, stream=replace(task.stream, profile=profile))
    left = there.sail(state.flight.setting, state.value("wind_angle"), state, afresh=True)
    if not left.settled:
        return None
    known = there.slopes(left, over.names)
    hill = Hill(known.height, known.aim * over.steps, bend)
    move = best_move(hill, over.fences(known), *over.room(left, REACH))
    return move.promise / max(abs(known.height), 1e-9)


REACH = 12.0
"""How far a change is looked for [steps]."""
