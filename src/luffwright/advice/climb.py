"""The climb from one state to the best one near it: a model of the hill, a step, the model mended.

Sequential quadratic programming inside a reach that is trusted: slopes come from the flight's own
sensitivities, bends from how the slopes changed over the last steps, and each trial is solved from
where the sensitivities say that boat and sails will be.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.advice.model import Fences, Hill, Move, best_move, first_hill, whole_moves
from luffwright.advice.task import TURN, Reached, Slopes, Task
from luffwright.arrays import FloatArray
from luffwright.sails.plan import ControlTravel

FIRST_REACH = 3.0
"""First trust of a sensitivity, in steps of each control."""
FARTHEST = 24.0
FIRST_TOP = 12.0
"""How far away each top is taken to be at first [steps]: beyond the reach, or a control whose bend
was guessed too sharp would never be seen to matter."""
NEAREST = 0.25
SHORTER, MUCH_SHORTER = 0.5, 0.35
"""How much is tried of a step that failed, or after which the sails did not settle."""
FELL_OFF = 0.02
"""Share of the aim that marks may cost; where more is lost, the sails have let go."""
WELL_INSIDE = 0.6
MARKS_REACH = 3.0
"""How far from the top a mark may lie [steps]."""
MARKS_COST = 0.002
"""Share of the aim that marks cost where they are well chosen; where it is more, they are chosen
again from there, `MARKS_AGAIN` times at most."""
MARKS_AGAIN = 2
LEAST_PROMISE = 1.5e-4
"""Share of the aim below which a step is not worth flying."""
NO_HELP = 3
"""Trials that bring less than that one after the other, after which there is nothing to be had."""


@dataclass(frozen=True)
class Peak:
    """Where a climb has ended: its state, the slopes there, the hill's bend, the prices of the
    limits [by one share of each], and how many were flown.
    """

    state: Reached
    merit: float
    known: Slopes | None
    bend: FloatArray | None
    prices: FloatArray
    flown: int


@dataclass(frozen=True)
class Stop:
    """When a climb ends before its top: below `bars`, merits that matter, where the next one above
    will not be passed in the tries that are left, were each to bring what the next promises.
    """

    bars: tuple[float, ...] = ()

    def at(self, merit: float, promise: float, left: int) -> bool:
        """Return whether a climb ends at a merit that the next step promises to raise [both the
        aim's unit], with so many tries left [-].
        """
        if promise < LEAST_PROMISE * abs(merit):
            return True
        below = merit < max(self.bars, default=merit)
        return below and not any(merit < bar <= merit + left * promise for bar in self.bars)


@dataclass(frozen=True)
class Ground:
    """What moves in a climb: names, and the step and ends of each."""

    names: tuple[str, ...]
    travel: tuple[ControlTravel, ...]

    @property
    def steps(self) -> FloatArray:
        """Return one step of each parameter [its unit]."""
        return np.array([entry.step for entry in self.travel])

    def room(self, state: Reached, reach: float) -> tuple[FloatArray, FloatArray]:
        """Return the least and greatest move of each parameter within a reach [steps]."""
        at = np.array([state.value(name) for name in self.names])
        low = (np.array([entry.low for entry in self.travel]) - at) / self.steps
        high = (np.array([entry.high for entry in self.travel]) - at) / self.steps
        return np.clip(low, -reach, 0.0), np.clip(high, 0.0, reach)

    def off_marks(self, state: Reached) -> FloatArray:
        """Return how far each control stands past its last mark [steps]; a course has none."""
        at = np.array([state.value(name) for name in self.names])
        past = np.mod((at - np.array([entry.low for entry in self.travel])) / self.steps, 1.0)
        turning = np.array([name == TURN.name for name in self.names])
        return np.where(turning, np.nan, past)

    def fences(self, known: Slopes) -> Fences:
        """Return the limits by steps."""
        return Fences(known.used, known.limits * self.steps, known.price)


def ground(task: Task, *, turns: bool, fixed: tuple[str, ...] = ()) -> Ground:
    """Return what moves in a climb.

    Parameters
    ----------
    task : Task
    turns : bool
        Whether the course moves too.
    fixed : tuple of str
        Controls that do not.

    Returns
    -------
    Ground
    """
    travel = tuple(entry for entry in task.free if entry.name not in fixed)
    travel = (*travel, TURN) if turns else travel
    return Ground(tuple(entry.name for entry in travel), travel)


def moved(
    task: Task, state: Reached, over: Ground, moves: FloatArray, known: Slopes | None
) -> Reached:
    """Return the state after moves, solved from where the slopes lead, if there are any.

    Parameters
    ----------
    task : Task
    state : Reached
    over : Ground
    moves : (n,) array
        Of what moves there. [steps]
    known : Slopes, optional

    Returns
    -------
    Reached
    """
    by = moves * over.steps
    target = {name: state.value(name) + float(it) for name, it in zip(over.names, by, strict=True)}
    angle = target.pop(TURN.name, state.value(TURN.name))
    setting = state.flight.setting.changed(**target)
    if known is None:
        return task.sail(setting, angle, state, afresh=True)
    return task.sail(setting, angle, known.ahead(state, by))


def climb(
    task: Task,
    state: Reached,
    over: Ground,
    *,
    bend: FloatArray | None = None,
    stop: Stop | None = None,
) -> Peak:
    """Return the best state reached from one.

    Parameters
    ----------
    task : Task
    state : Reached
    over : Ground
    bend : (n, n) array, optional
        Of the hill, from a climb nearby. [the aim's unit by steps squared]
    stop : Stop, optional
        When it ends before its top.

    Returns
    -------
    Peak
    """
    merit, flown, idle, reach = task.merit(state), 0, 0, FIRST_REACH
    most, prices, stop = FARTHEST, np.zeros(len(task.used(state))), stop or Stop()
    if not (over.names and state.settled):
        return Peak(state, merit, None, bend, prices, flown)
    known = task.slopes(state, over.names)
    hill = _hill(over, known, bend)
    while flown < task.limit and idle < NO_HELP and reach > NEAREST:
        move = best_move(hill, over.fences(known), *over.room(state, reach))
        prices = move.prices if move.promise > 0.0 else prices
        if stop.at(merit, move.promise, task.limit - flown):
            break
        trial, flown = moved(task, state, over, move.moves, known), flown + 1
        gained = task.merit(trial) - merit
        farthest = float(np.max(np.abs(move.moves)))
        if gained > 0.0:
            idle = idle + 1 if gained < LEAST_PROMISE * abs(merit) else 0
            state, merit = trial, merit + gained
            new = task.slopes(state, over.names)
            hill, known = _climbed(hill, over, (known, new), move), new
            # A step that the fence has held and that did well moves the fence out again.
            most = 1.5 * most if farthest > WELL_INSIDE * most else most
            reach = min(_reach(reach, farthest, gained / move.promise), most)
        elif trial.settled:
            hill = hill.seen(move.moves, task.aim(trial) - hill.height)
            reach = SHORTER * farthest
        else:
            # Where the sails have let go once they will again: what follows stays well inside.
            most, reach = WELL_INSIDE * farthest, MUCH_SHORTER * farthest
    return Peak(state, merit, known, hill.bend, prices, flown)


def _reach(reach: float, farthest: float, kept: float) -> float:
    """Return how far the model is trusted [steps] after a step that kept a share of its promise."""
    if kept > 0.7 and farthest > 0.9 * reach:
        return min(2.0 * reach, FARTHEST)
    return reach if kept > 0.25 else max(SHORTER * farthest, NEAREST)


def _hill(over: Ground, known: Slopes, bend: FloatArray | None) -> Hill:
    slope = known.aim * over.steps
    if bend is None:
        return first_hill(known.height, slope, FIRST_TOP)
    return Hill(known.height, slope, bend)


def _climbed(hill: Hill, over: Ground, slopes: tuple[Slopes, Slopes], move: Move) -> Hill:
    """Return the hill about the state that a move has led to."""
    before, after = slopes
    turn = (before.aim - after.aim) * over.steps
    turn = turn - move.prices @ ((before.limits - after.limits) * over.steps)
    return hill.moved(move.moves, after.height, after.aim * over.steps, turn)


def settle_on_marks(task: Task, peak: Peak, over: Ground) -> Reached:
    """Return the state on the marks near a peak that the model holds best.

    Parameters
    ----------
    task : Task
    peak : Peak
    over : Ground
        What moved in its climb.

    Returns
    -------
    Reached
        Solved from where the slopes lead; by halves where the sails let go on the way.
    """
    state, known = peak.state, peak.known
    if known is None or peak.bend is None:
        return state
    hill = _hill(over, known, peak.bend)
    low, high = over.room(state, MARKS_REACH)
    moves = whole_moves(hill, over.fences(known), low, high, over.off_marks(state))
    found = _nearer(task, peak, over, moved(task, state, over, moves, known))
    if task.merit(found) > peak.merit - FELL_OFF * abs(peak.merit):
        return found
    # The sails have let go on the way, as they would for a crew in a hurry: by halves, or anew.
    half = moved(task, state, over, 0.5 * moves, known)
    tries = [found, moved(task, half, over, 0.5 * moves, None)]
    best = max(tries, key=task.merit)
    # Between marks she still sails: the nearest marks are told then.
    return best if best.settled else state


def _nearer(task: Task, peak: Peak, over: Ground, found: Reached) -> Reached:
    """Return the best state a mark or a few further on, while marks cost more than they need.

    Slopes taken on the marks themselves see a limit that was passed, or a luff that has let go.
    """
    for _ in range(MARKS_AGAIN):
        if not found.settled or task.merit(found) > peak.merit - MARKS_COST * abs(peak.merit):
            break
        known = task.slopes(found, over.names)
        hill = _hill(over, known, peak.bend)
        low, high = over.room(found, MARKS_REACH)
        moves = whole_moves(hill, over.fences(known), low, high, over.off_marks(found))
        trial = moved(task, found, over, moves, known)
        if task.merit(trial) <= task.merit(found):
            break
        found = trial
    return found
