"""What each control is worth: the loss when it stands a step off, all other ropes as they are.

At a best setting the slopes are nothing, so each loss comes from a balance solved anew.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from luffwright.advice.task import FORGIVEN, Reached, Slopes, Task
from luffwright.arrays import FloatArray
from luffwright.sails.plan import ControlTravel
from luffwright.units import from_knots

REPEATABLE = float(from_knots(0.002))
"""What two solves of one state may differ by [m/s]."""
LEAST_TOLD = 5.0 * REPEATABLE
MOST_OF_RANGE = 0.1
COUNTS = (1, 2, 5, 10)
"""How many marks one goes off, where one mark is too small to tell."""
PASSED = 1.03
"""Share of a limit from which a place counts as beyond it."""

Reason = Literal["", "end", "unsettled", "limit", "small"]


@dataclass(frozen=True)
class Side:
    """One side of a control: the `loss` of what is sought there [m/s or N], or why none is told:
    the end of its travel, sails that do not settle, a limit passed, or too small to tell.
    """

    loss: float | None
    reason: Reason = ""


@dataclass(frozen=True)
class StepWorth:
    """What a `step` [the control's unit] down and up would lose."""

    control: str
    step: float
    down: Side
    up: Side

    @property
    def most(self) -> float | None:
        """Return the greater loss [m/s or N], if any is told."""
        losses = [side.loss for side in (self.down, self.up) if side.loss is not None]
        return max((loss for loss in losses if loss > 0.0), default=None)


@dataclass(frozen=True)
class Around:
    """The worth of every control, and the best place found on the way, if it beats the middle by
    more than can be told.
    """

    worth: tuple[StepWorth, ...]
    better: Reached | None
    flown: int


@dataclass(frozen=True)
class Lie:
    """How the hill lies near a state: the `slopes` by one unit of each of `names`, which lead to
    the neighbours, and the `bend` (names, names) by their steps, if it is known.
    """

    names: tuple[str, ...]
    slopes: Slopes
    bend: FloatArray | None = None


def worth_of(task: Task, best: Reached, lie: Lie, least: float = LEAST_TOLD) -> Around:
    """Return what a step of each control would lose.

    Parameters
    ----------
    task : Task
    best : Reached
    lie : Lie
        Where one mark is expected to cost too little, more are taken.
    least : float
        Loss that can be told. [m/s or N]

    Returns
    -------
    Around
        A side where more would be had but for a limit passed is told as such.
    """
    travel = {entry.name: entry for entry in task.free}
    out: list[StepWorth] = []
    beside: list[Reached] = []
    for k, name in enumerate(lie.names):
        if name not in travel:
            continue
        entry = travel[name]
        cost = least if lie.bend is None else 0.5 * float(lie.bend[k, k])
        step = marks_off(entry, cost, least) * entry.step
        sides = []
        for sign in (-1.0, 1.0):
            by = np.zeros(len(lie.names))
            by[k] = sign * step
            if not _within(entry, best.value(name) + by[k]):
                sides.append(Side(None, "end"))
                continue
            there = _beside(task, best, lie, by)
            beside.append(there)
            sides.append(_side(task, best, there, least))
        out.append(StepWorth(name, step, sides[0], sides[1]))
    better = max(beside, key=task.merit, default=None)
    if better is not None and task.merit(better) < task.merit(best) + least:
        better = None
    return Around(tuple(out), better, len(beside))


def marks_off(entry: ControlTravel, cost: float, least: float) -> int:
    """Return how many marks to go off: one, or as many as are expected to cost what can be told.

    Parameters
    ----------
    entry : ControlTravel
    cost : float
        Expected loss one mark off; it grows with the square. [m/s or N]
    least : float
        Loss that can be told. [m/s or N]

    Returns
    -------
    int
        Never more than a tenth of the range, but one mark at least.

    Examples
    --------
    >>> halyard = ControlTravel("halyard", 0.0, 0.15, 0.01, 0.0)
    >>> marks_off(halyard, 0.01, 0.005), marks_off(halyard, 0.0001, 0.005)
    (1, 1)
    >>> mainsheet = ControlTravel("mainsheet", -0.6, 10.0, 0.02, 0.0)
    >>> marks_off(mainsheet, 0.0005, 0.005)
    5
    """
    most = max(1, int(MOST_OF_RANGE * (entry.high - entry.low) / entry.step + 1e-9))
    enough = [count for count in COUNTS if count**2 * cost >= least]
    return min(enough[0] if enough else COUNTS[-1], most)


def _within(entry: ControlTravel, value: float) -> bool:
    return entry.low - 1e-9 <= value <= entry.high + 1e-9


def _beside(task: Task, best: Reached, lie: Lie, by: FloatArray) -> Reached:
    """Return the state a step off, solved from where the slopes lead, else from the best one."""
    place = int(np.flatnonzero(by)[0])
    setting, name = best.flight.setting, lie.names[place]
    there = setting.changed(**{name: setting.value(name) + float(by[place])})
    angle = best.value("wind_angle")
    found = task.sail(there, angle, lie.slopes.ahead(best, by))
    return found if found.settled else task.sail(there, angle, best)


def _side(task: Task, best: Reached, there: Reached, least: float) -> Side:
    if not there.settled:
        return Side(None, "unsettled")
    loss, used = task.aim(best) - task.aim(there), task.used(there)
    further = (used > 1.0 + FORGIVEN) & (used > task.used(best))
    # A gain counts for nothing where it is had by passing a limit, nor any place far beyond one.
    if np.any(further & (used > PASSED)) or (loss < 0.0 and np.any(further)):
        return Side(None, "limit")
    return Side(None, "small") if abs(loss) < least else Side(loss)
