"""A range of wind in place of one: which winds, and what the setting is good for."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from luffwright.advice.easy import RangeReached, RangeTask, easy, wind_to_change
from luffwright.advice.task import Reached, SailingTask
from luffwright.air.wind import wind_profile
from luffwright.app.answer import Why
from luffwright.app.question import LIGHTEST_KN, STRONGEST_KN, Question
from luffwright.app.request import Request
from luffwright.errors import InputError
from luffwright.units import from_knots, to_knots

LIGHTER, STRONGER = 0.8, 1.25
"""The range of an easy setting where none is given, as shares of the wind."""


def with_range(request: Request) -> Request:
    """Return the request with its range of wind filled in, and the wind in its middle if not given.

    Parameters
    ----------
    request : Request

    Returns
    -------
    Request

    Raises
    ------
    InputError
        Where a range cannot be used.
    """
    wanted = request.range_kn
    if wanted is None and request.aim == "easy" and request.wind_kn is not None:
        wanted = (LIGHTER * request.wind_kn, max(STRONGER * request.wind_kn, request.gust_kn or 0))
    if wanted is None:
        return request
    _check(request, wanted)
    wind = request.wind_kn if request.wind_kn is not None else 0.5 * sum(wanted)
    return request.model_copy(update={"range_kn": wanted, "wind_kn": wind})


def _check(request: Request, wanted: tuple[float, float]) -> None:
    low, high = wanted
    told = f"{low:g} to {high:g}"
    if not LIGHTEST_KN <= low < high <= STRONGEST_KN:
        limit = f"must rise, from {LIGHTEST_KN:g} kn on and to {STRONGEST_KN:g} kn at most"
        raise InputError("range_kn", told, limit, "give the lighter wind first")
    if request.apparent_wind_kn is not None or request.speed_kn is not None:
        limit = "is a range of true wind, in which the boat finds her own speed"
        raise InputError("range_kn", told, limit, "leave out the apparent wind and the speed")
    if request.wind_kn is not None and not low <= request.wind_kn <= high:
        limit = f"does not hold the wind of {request.wind_kn:g} kn"
        raise InputError("range_kn", told, limit, "leave out the wind, or widen the range")


def in_wind(asked: Question, wind_kn: float) -> Question:
    """Return the same question in another true wind at 10 m [kn]."""
    stream = replace(asked.stream, profile=wind_profile(from_knots(wind_kn)))
    return replace(asked, stream=stream)


def range_task(asked: Question, task: SailingTask) -> RangeTask:
    """Return the task over the range asked for, within easy limits where easy is asked for.

    Parameters
    ----------
    asked : Question
    task : SailingTask
        In the wind asked for.

    Returns
    -------
    RangeTask
    """
    low, high = asked.request.range_kn or (0.0, 0.0)
    limits = easy(task.limits) if asked.request.aim == "easy" else task.limits
    middle = replace(task, limits=limits)
    ends = [replace(middle, stream=in_wind(asked, wind).stream) for wind in (low, high)]
    return RangeTask((ends[0], middle, ends[1]))


def range_why(asked: Question, task: RangeTask, state: Reached) -> Why:
    """Return what the setting is good for, by what it was chosen, and when to change it.

    Parameters
    ----------
    asked : Question
    task : RangeTask
    state : Reached

    Returns
    -------
    Why
    """
    low, high = asked.request.range_kn or (0.0, 0.0)
    limits = task.winds[-1].limits
    text = f"one setting for {low:.0f} to {high:.0f} kn, fastest on average at the ends and middle"
    held = [] if np.isinf(limits.heel) else [f"heel {np.degrees(limits.heel):.0f}°"]
    held.append(f"helm {np.degrees(limits.rudder):.0f}°")
    text += f", with {' and '.join(held)} at most in {high:.0f} kn"
    return Why("range", f"{text}; {_change_words(task, state)}")


def _change_words(task: RangeTask, state: Reached) -> str:
    if not isinstance(state, RangeReached) or not state.settled:
        return "when to change it is not told, for it does not settle in all of them"
    winds = np.array([it.stream.profile.speed for it in task.winds])
    used = np.array([it.used(at) for it, at in zip(task.winds, state.states, strict=True)])
    change = wind_to_change(winds, used)
    if change is None:
        return "no limit calls for a change in up to twice that wind"
    return f"change at {to_knots(change):.0f} kn"
