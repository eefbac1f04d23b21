"""The best setting of a task, and what is known of it: worth, effects, the order of work."""

from __future__ import annotations

from dataclasses import dataclass

from luffwright.advice.easy import RangeTask, best_over_range
from luffwright.advice.effects import Effects, effects
from luffwright.advice.order import Work, order_of_work
from luffwright.advice.search import Found, best_setting
from luffwright.advice.task import TURN, HeldTask, Reached, Task
from luffwright.advice.worth import Lie, StepWorth, worth_of
from luffwright.sails.setting import Setting

POLISHED = 2
"""How often a neighbour that beats the best place is gone to."""


@dataclass(frozen=True)
class Best:
    """The best setting found: its state, the `worth` of a step of each control, what each does
    (`found`) and their `work` in order, the climb that led there, and how many were flown.
    """

    state: Reached
    search: Found
    worth: tuple[StepWorth, ...]
    effects: Effects | None
    work: tuple[Work, ...]
    flown: int


def best_of(task: Task, start: Setting, angle: float, *, turns: bool) -> Best:
    """Return the best setting, what each control is worth there and what it does.

    A neighbour one step off that beats the best place by more than can be told is gone to.

    Parameters
    ----------
    task : Task
    start : Setting
    angle : float
        Bow to true wind. [rad]
    turns : bool
        Whether the course is searched too.

    Returns
    -------
    Best
    """
    if isinstance(task, RangeTask):
        found = best_over_range(task, start, angle, turns=turns)
    else:
        found = best_setting(task, start, angle, turns=turns)
    state, flown, over = found.state, found.evaluations, found.over
    worth: tuple[StepWorth, ...] = ()
    if not (state.settled and over.names):
        return Best(state, found, worth, None, (), flown)
    # The place on the marks lies so near to the peak that its slopes lead to the neighbours too.
    slopes = found.peak.known or task.slopes(state, over.names)
    for _ in range(0 if isinstance(task, HeldTask) else POLISHED):
        around = worth_of(task, state, Lie(over.names, slopes, found.peak.bend))
        worth, flown = around.worth, flown + around.flown
        if around.better is None:
            break
        state = around.better
    controls = [k for k, name in enumerate(over.names) if name != TURN.name]
    names = tuple(over.names[k] for k in controls)
    done = effects(state.flight, names, slopes.places[controls], over.steps[controls])
    return Best(state, found, worth, done, order_of_work(done, task.free), flown)
