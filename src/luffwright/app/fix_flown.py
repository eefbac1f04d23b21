"""The best moves flown by the mechanics on the likeliest boat, for confirmation."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.advice.decision import NOTHING, WORTH_IT, Option, carried
from luffwright.advice.doubt import scaled
from luffwright.advice.sample import flown, sailed
from luffwright.advice.task import TURN
from luffwright.app.fix_again import any_gone, by_sight, worth_telling
from luffwright.app.fix_infer import Inferred
from luffwright.arrays import FloatArray
from luffwright.water.equilibrium import Balanced

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

    def kept(self, *, gone: bool) -> tuple[Option, ...]:
        """Return the moves without those by which the likeliest boat, flown, loses: what counts
        where tufts were seen `gone`, for a cure may cost a little; else anything at all.
        """
        least = -WORTH_IT if gone else -NOTHING
        return tuple(it for it in self.options if self.flown.get(it.control, 0.0) > least)


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
    judged = Confirmed(moves, {})
    if not any(it.gain > least for it in moves):
        return judged
    trial = Trial.of(found)
    while trial.before.settled and len(judged.flown) < MOST_FLOWN:
        ranked = sorted(judged.options, key=lambda it: -it.worth)[:CONFIRMED]
        fresh = [it for it in ranked if it.control not in judged.flown and it.gain > least]
        if not fresh or (len(judged.flown) >= CONFIRMED and ranked[0].control in judged.flown):
            break
        judged = trial.flies(judged, fresh[0])
    return judged


def with_sight(found: Inferred, judged: Confirmed) -> tuple[list[Option], Confirmed]:
    """Return the moves that are worth telling, the first of them flown if any was.

    Parameters
    ----------
    found : Inferred
    judged : Confirmed

    Returns
    -------
    (list of Option, Confirmed)
        What is to be told, and what has been flown for it.
    """
    trial: Trial | None = None
    gone = any_gone(found)
    while True:
        best = worth_telling(judged.kept(gone=gone))
        best = by_sight(found, best) if found.sightings else best
        if not judged.sure or not best or best[0].control in judged.flown:
            return best, judged
        trial = trial or Trial.of(found)
        if not trial.before.settled:
            return best, judged
        judged = trial.flies(judged, best[0])


@dataclass(frozen=True)
class Trial:
    """The likeliest boat where she `stands`, the `point` at which she was flown [each its unit],
    and how she sails `before` a move. The point differs where she could not be flown as she stands.
    """

    found: Inferred
    stands: FloatArray
    point: FloatArray
    before: Balanced

    @classmethod
    def of(cls, found: Inferred) -> Trial:
        """Return her flown."""
        stands = found.likeliest()
        point = found.within(stands) if found.at is None else found.at
        return cls(found, stands, point, sailed(found.known.task, found.known.centre(), point))

    def flies(self, judged: Confirmed, option: Option) -> Confirmed:
        """Return the moves after one more was flown."""
        found, axes = self.found, self.found.boats.axes
        speed = found.known.surfaces["made_good"]
        there, gain = self.after(np.array([option.by.get(it.name, 0.0) for it in axes]))
        if found.keeps is not None:
            gain -= found.keeps.price * option.by.get(TURN.name, 0.0)
        here, after = scaled(axes, np.stack([self.point, there]))
        reached = float(speed(here[None])[0]) + gain
        off = carried(found.boats, speed, found.now, option, after, reached)
        gained = {**judged.flown, option.control: gain}
        moves = (option.flown(off) if it is option else it for it in judged.options)
        # What the likeliest boat loses by stands behind what she does not.
        order = sorted(moves, key=lambda it: (gained.get(it.control, 0.0) < 0.0, -it.worth))
        return Confirmed(tuple(order), gained)

    def after(self, change: FloatArray) -> tuple[FloatArray, float]:
        """Return where a move [each its unit] takes her, and what she makes good more there [m/s].

        From where she stands, though she could not be flown there: at the nearest place within
        what was flown the sheet stands otherwise, and a board put back would not suit it.
        """
        task, centre = self.found.known.task, self.found.known.centre()
        for start in (self.stands, self.point):
            boat = sailed(task, centre, start + change)
            if boat.settled:
                return start + change, task.made_good(boat) - task.made_good(self.before)
        return self.point + change, LOST
