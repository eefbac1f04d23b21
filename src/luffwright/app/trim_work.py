"""From where the ropes stand to where they should: each step and its gain, or leave it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.advice.climb import Peak, climb, ground
from luffwright.advice.look_again import LookAgain
from luffwright.advice.order import Step
from luffwright.advice.task import TURN, HeldTask, Reached, Task
from luffwright.app.fly import STEPS, begun, between
from luffwright.app.question import Question
from luffwright.app.trim_words import move_words
from luffwright.units import to_knots

LEAVE_IT_BELOW = 0.01
"""Share of the aim below which nothing is worth touching."""
STEERED = 3
"""Tries to find the best course for a setting."""
LOST = "the sails do not settle on the way; its own worth is not told"


@dataclass(frozen=True)
class Walked:
    """One step made: the control, the order to the crew, and what it brought, in words."""

    control: str
    move: str
    gain: str


def as_it_stands(task: Task, asked: Question, *, turns: bool) -> Reached:
    """Return the boat as her ropes stand now, steered as well as can be where the course is free.

    Parameters
    ----------
    task : Task
    asked : Question
    turns : bool

    Returns
    -------
    Reached
    """
    state = task.sail(asked.setting, asked.stream.wind_angle, None)
    state = state if state.settled else _by_steps(task, asked, state)
    return steered(task.shorter(STEERED), state) if turns else state


def _by_steps(task: Task, asked: Question, lost: Reached) -> Reached:
    """Return the boat as her ropes stand, trimmed to it from a first guess; else as she was."""
    begin = begun(asked)
    angle = asked.stream.wind_angle
    near = task.sail(begin, angle, None)
    for share in STEPS:
        if not near.settled:
            return lost
        near = task.sail(between(begin, asked.setting, share), angle, near)
    return near


def steered(task: Task, state: Reached, bend: float | None = None) -> Reached:
    """Return a state on its best course, ropes untouched; `bend` of the hill by the course's steps.

    Parameters
    ----------
    task : Task
    state : Reached
    bend : float, optional
        [by steps squared]

    Returns
    -------
    Reached
    """
    fixed = tuple(entry.name for entry in task.free)
    known = None if bend is None else np.array([[bend]])
    return climb(task, state, ground(task, turns=True, fixed=fixed), bend=known).state


def walk(
    task: Task, asked: Question, start: Reached, steps: tuple[Step, ...], peak: Peak | None
) -> tuple[Walked, ...]:
    """Return what each step brings when they are made one after the other.

    Parameters
    ----------
    task : Task
    asked : Question
    start : Reached
    steps : tuple of Step
    peak : Peak, optional
        Given where the course is free: after each step she is steered on her best one.

    Returns
    -------
    tuple of Walked
    """
    out, now = [], start
    for step in steps:
        here = now.flight.setting
        then = task.sail(here.changed(**step.to), now.value(TURN.name), now)
        if peak is not None and peak.bend is not None and then.settled:
            then = steered(task.shorter(1), then, float(peak.bend[-1, -1]))
        told = now.settled and then.settled
        gain = gained(task, now, then) if told else LOST
        out.append(Walked(step.control, move_words(asked, step, here), gain))
        now = then
    return tuple(out)


def gained(task: Task, now: Reached, then: Reached) -> str:
    """Return what a step brings, with its amounts."""
    if isinstance(task, HeldTask):
        drives = [task.aim(it) for it in (now, then)]
        gain = 100.0 * (drives[1] / max(drives[0], 1.0) - 1.0)
        press = 100.0 * float(task.used(then)[0] / max(float(task.used(now)[0]), 1e-6) - 1.0)
        return f"drive {gain:+.1f} %, heeling moment {press:+.1f} %"
    faster = to_knots(task.aim(then) - task.aim(now))
    heels = [float(np.degrees(it.flight.stream.heel)) for it in (now, then)]
    return f"{_more(faster, 'kn', 'faster', 'slower', 2)}, " + _more(
        heels[1] - heels[0], "°", "more heel", "less heel", 1
    )


def _more(change: float, unit: str, up: str, down: str, digits: int) -> str:
    size = f"{abs(change):.{digits}f}"
    if float(size) == 0.0:
        return f"no {up}"
    gap = "" if unit == "°" else " "
    return f"{size}{gap}{unit} {up if change > 0.0 else down}"


def nothing_to_gain(task: Task, start: Reached, best: Reached) -> bool:
    """Return whether all changes together bring less than one per cent."""
    gain = task.merit(best) - task.merit(start)
    return start.settled and gain < LEAVE_IT_BELOW * abs(task.merit(start))


def again_words(found: LookAgain) -> str | None:
    """Return when to look again, in words; None where no wind near is known to call for it.

    Examples
    --------
    >>> again_words(LookAgain(4.6, 7.2))
    'below 9 kn or above 14 kn of wind'
    """
    parts = [
        f"{word} {to_knots(wind):.0f} kn"
        for word, wind in (("below", found.below), ("above", found.above))
        if wind is not None
    ]
    return f"{' or '.join(parts)} of wind" if parts else None
