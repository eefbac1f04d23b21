"""The best moves flown by the mechanics on the likeliest boat, for confirmation."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.advice.decision import Option, carried
from luffwright.advice.doubt import scaled
from luffwright.advice.sample import flown, sailed
from luffwright.advice.task import TURN
from luffwright.app.fix_infer import Inferred

CONFIRMED, MOST_FLOWN = 4, 7
LOST = -0.1
"""What sails that do not settle are taken to lose [m/s]."""


@dataclass(frozen=True)
class Confirmed:
    """The moves after the best ones were flown by the mechanics, best first, and what each that was
    flown gained on the likeliest boat, by control [m/s]; `sure`: whether that has been done.
    """

    options: tuple[Option, ...]
    flown: dict[str, float]
    sure: bool = True


def at_likeliest(found: Inferred) -> Inferred:
    """Return what follows once the likeliest boat is flown, with what each rope brings there.

    Far from the middle the emulator knows no slopes: there it tells a rope's worth by heights that
    are off. A flight has them nearly for nothing, just where the moves are decided. A rope moved
    without the sheet that should go with it stands beyond all that was flown, where the surfaces
    are level: she is flown where she stands, or where that does not settle at the edge.
    """
    here = found.likeliest()
    for point in (here, found.within(here)):
        more = flown(found.known.task, found.known.centre(), point[None], near=np.inf)
        if len(more.points):
            return found.with_more(more)
    return found


def confirmed(
    found: Inferred, moves: tuple[Option, ...] | None = None, least: float = 0.0
) -> Confirmed:
    """Return the moves, the best four flown on the likeliest boat.

    What the mechanics gain there beyond the emulator counts for the other boats too; where another
    move then stands first, it is flown as well, up to seven.

    Parameters
    ----------
    found : Inferred
    moves : tuple of Option, optional
        None for those that were found best.
    least : float
        Expected gain above which a move is flown. [m/s]

    Returns
    -------
    Confirmed
    """
    moves = found.options if moves is None else moves
    options = {it.control: it for it in moves}
    gained: dict[str, float] = {}
    if not any(it.gain > least for it in moves):
        return Confirmed(moves, gained)
    centre, task, axes = found.known.centre(), found.known.task, found.boats.axes
    point = found.within(found.likeliest()) if found.at is None else found.at
    before, speed = sailed(task, centre, point), found.known.surfaces["made_good"]
    while before.settled and len(gained) < MOST_FLOWN:
        ranked = sorted(options.values(), key=lambda it: -it.gain)[:CONFIRMED]
        option = next((it for it in ranked if it.control not in gained and it.gain > least), None)
        if option is None or (len(gained) >= CONFIRMED and ranked[0].control in gained):
            break
        there = point + np.array([option.by.get(it.name, 0.0) for it in axes])
        boat = sailed(task, centre, there)
        gain = task.made_good(boat) - task.made_good(before) if boat.settled else LOST
        if found.keeps is not None:
            gain -= found.keeps.price * option.by.get(TURN.name, 0.0)
        gained[option.control] = gain
        here, after = scaled(axes, np.stack([point, there]))
        reached = float(speed(here[None])[0]) + gain
        off = carried(found.boats, speed, found.now, option, after, reached)
        options[option.control] = option.flown(off)
    # What the likeliest boat loses by stands behind what she does not.
    order = sorted(options.values(), key=lambda it: (gained.get(it.control, 0.0) < 0.0, -it.gain))
    return Confirmed(tuple(order), gained)
