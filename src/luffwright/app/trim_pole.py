"""On a run `trim` tries a second way: the headsail held out to windward by its pole."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from luffwright.advice.poled import AFT_OF, free_with, has_pole, poled, square_to
from luffwright.advice.task import Reached, SailingTask, Task
from luffwright.air.stream import Stream
from luffwright.app.answer import Why
from luffwright.app.caution import STRONG_KN
from luffwright.app.question import Question
from luffwright.app.reef_words import headsail_of
from luffwright.app.trim_best import Best, best_of
from luffwright.units import to_knots

PAYS = 1.02
"""Share of the way made without it from which on a pole is told: to rig one is work on the
foredeck, and has its dangers (a judgement of our own)."""
DEEP = float(np.radians(165.0))
"""Where the course is free the search with the pole begins this deep at least [rad]."""
HELD = ("pole", "sheet")


@dataclass(frozen=True)
class Poled:
    """What was tried with the pole out: its task, the best there, and what it made of the best
    without, `share` [-].
    """

    task: SailingTask
    best: Best
    share: float

    @property
    def pays(self) -> bool:
        """Return whether the pole brings enough to be told."""
        return self.share >= PAYS


def with_pole(asked: Question, task: Task, best: Best, *, turns: bool) -> Poled | None:
    """Return what the headsail on its pole brings, where it is worth trying.

    Parameters
    ----------
    asked : Question
    task : Task
    best : Best
        Without the pole.
    turns : bool
        Whether the course is searched too.

    Returns
    -------
    Poled or None
        None where nobody would rig it: on a boat without, where controls are told as they stand or
        held against it, in a range of wind, in strong wind, or with the wind not from aft.
    """
    if not isinstance(task, SailingTask) or not invited(asked, best.state):
        return None
    course = _course(best.state, turns=turns)
    flight = best.state.flight
    wind = _apparent(asked, replace(flight.stream, wind_angle=course))
    pole = square_to(task.plan, flight.setting, wind)
    begun = poled(task.plan, flight.setting, asked.sheet_zero, pole)
    loose = tuple(it for it in task.plan.controls if it.name not in asked.request.hold)
    rigged = replace(task, free=free_with(loose, begun))
    found = best_of(rigged, begun, course, turns=turns)
    if not found.state.settled:
        return Poled(rigged, found, 0.0)
    merits = [task.merit(it.state) for it in (best, found)]
    return Poled(rigged, found, merits[1] / merits[0] if merits[0] > 0.0 else np.inf)


def invited(asked: Question, state: Reached) -> bool:
    """Return whether a pole is to be tried beside the best way without.

    Parameters
    ----------
    asked : Question
    state : Reached
        The best without: its apparent wind counts.

    Returns
    -------
    bool
    """
    request, plan = asked.request, asked.boat.plan
    if not has_pole(plan) or request.controls or any(name in request.hold for name in HELD):
        return False
    wind = to_knots(asked.stream.profile.speed)
    if max(wind, request.gust_kn or 0.0) >= STRONG_KN:
        return False
    return _apparent(asked, state.flight.stream) >= AFT_OF


def _course(state: Reached, *, turns: bool) -> float:
    """Return the angle to the true wind with which the search begins [rad]."""
    angle = state.flight.stream.wind_angle
    return max(angle, DEEP) if turns else angle


def _apparent(asked: Question, stream: Stream) -> float:
    """Return the angle of the apparent wind that meets the headsail [rad]."""
    plan = asked.boat.plan
    height = plan.deck_height + 0.4 * plan.headsail.luff
    # Dead before the wind its angle may have either sign.
    return abs(float(stream.apparent(np.array([height]))[1][0]))


def pole_why(asked: Question, tried: Poled, without: Best) -> Why:
    """Return what the pole brings, or that it was tried and brings too little.

    Parameters
    ----------
    asked : Question
    tried : Poled
    without : Best

    Returns
    -------
    Why
    """
    sail, mark = headsail_of(asked), asked.boat.marks["pole"]
    if not tried.best.state.settled:
        return Why("pole", f"{mark.rope.upper()} tried: the {sail} does not settle on it here")
    made = [to_knots(tried.task.aim(it.state)) for it in (without, tried.best)]
    gain = f"{made[1]:.1f} kn against {made[0]:.1f} without"
    gain += "" if tried.task.goal == "speed" else ", made good"
    if not tried.pays:
        return Why("pole", f"{mark.rope.upper()} left stowed, it brings less than 2 %: {gain}")
    where = mark.text(tried.best.state.flight.setting.value("pole"))
    return Why(
        "pole",
        f"{mark.rope.upper()} {where} to windward, the {sail} out of the mainsail's lee: {gain}",
    )
