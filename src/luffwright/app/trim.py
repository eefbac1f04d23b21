"""`trim`: where every control should stand, in which order to go there, what each step brings."""

from __future__ import annotations

import time
from dataclasses import dataclass, replace

import numpy as np

from luffwright.advice.area import PRESSED
from luffwright.advice.easy import RangeTask
from luffwright.advice.effects import Effects
from luffwright.advice.look_again import look_again
from luffwright.advice.order import Work, steps_between
from luffwright.advice.poled import free_with
from luffwright.advice.task import TURN, Goal, HeldTask, Limits, Reached, SailingTask, Task
from luffwright.advice.worth import StepWorth
from luffwright.app.anchor import helm_anchor
from luffwright.app.answer import Method, Search, TrimAnswer, Trimmed, Why, Worth
from luffwright.app.call import unpraised
from luffwright.app.fly import waters_of
from luffwright.app.picture import picture
from luffwright.app.question import MESH, Question, question
from luffwright.app.reef import reefed, too_much_sail
from luffwright.app.reef_words import limit_why, table_why
from luffwright.app.report import fly_answer, sail_names
from luffwright.app.request import Request
from luffwright.app.swing import minute_of
from luffwright.app.trim_area import others_why, spared_why
from luffwright.app.trim_best import Best, best_of
from luffwright.app.trim_pole import pole_why, with_pole
from luffwright.app.trim_range import in_wind, range_task, range_why, with_range
from luffwright.app.trim_words import (
    effect_words,
    loss_words,
    step_words,
    with_sheet,
    worth_told,
)
from luffwright.app.trim_work import (
    LEAVE_IT_BELOW,
    again_words,
    as_it_stands,
    nothing_to_gain,
    walk,
)
from luffwright.sails.setting import CONTROL_UNITS, Setting
from luffwright.water.estimate import righting_moment

HEEL_LIMIT_DEG = 20.0
CATAMARAN_SHARE = 0.5
"""A cruising catamaran is not pressed beyond half of her greatest righting moment: common practice,
in the absence of the maker's reefing table."""
KEEL_CENTRE = 0.4
"""Depth of the keel's force as a share of the draught: estimate of our own."""
NOT_COMPUTED = ("worth.loss_down_kn", "worth.loss_up_kn", "worth.minutes_per_hour")


def moment_limit(asked: Question) -> tuple[float, str]:
    """Return the heeling moment that the boat is not pressed beyond [N m], and its reason.

    Parameters
    ----------
    asked : Question

    Returns
    -------
    (float, str)
    """
    hull = asked.boat.hull
    if hull.kind == "monohull":
        moment = righting_moment(hull, float(np.radians(HEEL_LIMIT_DEG)))
        return moment, f"heeling moment at its limit: what she bears at {HEEL_LIMIT_DEG:.0f}° heel"
    greatest = max(righting_moment(hull, heel) for heel in hull.righting_heel)
    return CATAMARAN_SHARE * greatest, (
        "heeling moment at its limit: half of the greatest she can bear; "
        "the maker's reefing table stands above this"
    )


def _goal(asked: Question) -> Goal:
    """Return what counts: speed made good where no course is given, else speed on the course."""
    request = asked.request
    if request.apparent_wind_kn is not None or isinstance(request.angle_deg, float):
        return "speed"
    return "downwind" if request.angle_deg == "downwind" else "upwind"


def task_of(asked: Question) -> HeldTask | SailingTask:
    """Return what the search is for: with the speed held most drive, else the best speed.

    Parameters
    ----------
    asked : Question

    Returns
    -------
    HeldTask or SailingTask
    """
    plan, hull = asked.boat.plan, asked.boat.hull
    loose = tuple(entry for entry in plan.controls if entry.name not in asked.request.hold)
    free = free_with(loose, asked.setting)
    if "speed" in asked.held:
        return HeldTask(
            plan, asked.stream, asked.sheet_zero, MESH, asked.density, free,
            moment_limit(asked)[0], KEEL_CENTRE * hull.draught, load=1.0,
            hull=hull, minute=minute_of(asked),
        )  # fmt: skip
    limits = Limits(seen=helm_anchor(asked) or 0.0)
    if hull.kind == "catamaran":
        # Heel is no cue on two hulls.
        limits = replace(limits, heel=float("inf"), moment=moment_limit(asked)[0])
    return SailingTask(
        plan, asked.stream, asked.sheet_zero, MESH, asked.density, free, waters_of(asked),
        _goal(asked), limits, asked.held,
    )  # fmt: skip


def _limit_words(asked: Question, task: HeldTask | SailingTask) -> tuple[tuple[str, str], ...]:
    """Return what each limit but the loads is about, and in words, in the order of the task."""
    pressed = ("margin", moment_limit(asked)[1])
    if isinstance(task, HeldTask):
        return (pressed,)
    turned = f"helm at its limit of {np.degrees(task.limits.rudder):.0f}°"
    return (
        ("heel", f"heel at its limit of {np.degrees(task.limits.heel):.0f}°"),
        ("helm", f"weather {turned}"),
        ("helm", f"lee {turned}"),
        pressed,
    )


def trim(request: Request) -> Trimmed:
    """Return the setting that sails best: most speed, made good where no course is given.

    With the speed held: the setting with the most drive at it. With a range of wind: the best mean
    speed at its ends and middle, limits held where it is strongest. With `aim` easy: the same
    within 20° of heel, 3° of helm and 70 % of the heeling moment, over a fifth less to a quarter
    more wind unless a range is given.

    Parameters
    ----------
    request : Request
        `controls` given = as they stand now: the answer then tells the changes.

    Returns
    -------
    Trimmed

    Raises
    ------
    InputError
        Where a field cannot be used, or no boat could sail it.
    """
    began = time.perf_counter()
    asked = question(with_range(request))
    single = task_of(asked)
    task: Task = single
    if asked.request.range_kn is not None and isinstance(single, SailingTask):
        task = range_task(asked, single)
    turns = isinstance(single, SailingTask) and single.goal != "speed"
    strongest = in_wind(asked, asked.request.range_kn[1]) if asked.request.range_kn else asked
    best = best_of(task, reefed(strongest), asked.stream.wind_angle, turns=turns)
    tried, without = with_pole(asked, task, best, turns=turns), best
    if tried is not None and tried.pays:
        task, best = tried.task, tried.best
    left = as_it_stands(task, asked, turns=turns) if request.controls else None
    told = _told(asked, task, best, left)
    end = left if told.leave_it and left is not None else best.state
    pole = () if tried is None else (pole_why(asked, tried, without),)
    why = (*_limits(asked, single, task, best), *table_why(asked, end.flight.setting), *pole)
    why = (*why, *told.why)
    asked = replace(asked, flags=tuple(it for it in asked.flags if not turns or "angle" not in it))
    base = fly_answer(asked, end.flight, end.boat)
    seconds = time.perf_counter() - began
    other = without if best is not without else None if tried is None else tried.best
    flown = best.flown + told.flown + (0 if other is None else other.flown)
    search = Search(flown, seconds, from_table=False)
    answer = TrimAnswer(
        base.status, base.reason, base.conditions, base.boat, base.controls, base.sails,
        base.stays, base.loads, base.cautions, _method(base.method, best),
        _worth(task, best), told.order, told.leave_it, why, search,
    )  # fmt: skip
    return Trimmed(unpraised(answer), picture(asked, end.flight, sail_names(asked.boat)))


@dataclass(frozen=True)
class Told:
    """What the crew is told to do."""

    order: tuple[str, ...]
    leave_it: bool | str
    why: tuple[Why, ...]
    flown: int = 0


def _told(asked: Question, task: Task, best: Best, left: Reached | None) -> Told:
    """Return the order of work: all controls, or the changes from how they stand."""
    if left is None:
        order = tuple(it.control for it in best.work)
        # It is rigged before the sheet comes on.
        order = ("pole", *(it for it in order if it != "pole")) if "pole" in order else order
        return Told(order, leave_it=False, why=_reasons(asked, best))
    if not too_much_sail(asked, asked.setting) and nothing_to_gain(task, left, best.state):
        again = _again(task, left, best)
        return Told((), again or True, (), 0 if again is None else 2)
    steps = steps_between(task.plan, best.work, asked.setting, best.state.flight.setting)
    peak = best.search.peak if TURN.name in best.search.over.names else None
    made = walk(task, asked, left, steps, peak)
    order = tuple(it.control for it in made)
    gains = tuple(Why(it.control, f"{it.move}: {it.gain}") for it in made)
    reasons = tuple(it for it in _reasons(asked, best) if it.control in order)
    return Told(order, leave_it=False, why=(*gains, *reasons), flown=len(made) + 1)


def _again(task: Task, left: Reached, best: Best) -> str | None:
    """Return the winds in which to look again, where they are near."""
    if not isinstance(task, SailingTask) or best.search.peak.bend is None:
        return None
    found = look_again(task, left, best.search.over, best.search.peak.bend, LEAVE_IT_BELOW)
    return again_words(found)


def _reasons(asked: Question, best: Best) -> tuple[Why, ...]:
    """Return what a step of each control does and what it would lose, in the order of work."""
    if best.effects is None:
        return ()
    worth = {it.control: it for it in best.worth}
    setting, out = best.state.flight.setting, []
    for it in best.work:
        text = _reason(asked, best.effects, it, worth.get(it.control), setting)
        out += [Why(it.control, text)] if text else []
    return tuple(out)


def _reason(
    asked: Question, found: Effects, work: Work, worth: StepWorth | None, setting: Setting
) -> str:
    name = work.control
    if name not in found.names:
        return ""
    travel = asked.boat.travel(name, "controls")
    step = travel.step if worth is None else worth.step
    step = -step if setting.value(name) + step > travel.high + 1e-9 else step
    does = effect_words(asked, found, name, step / travel.step)
    parts = []
    if does:
        move = step_words(asked.boat.marks[name], setting.value(name), step)
        parts.append(f"{move}{with_sheet(asked, work, step, setting)} {does}")
    if worth is not None:
        parts.append(loss_words(asked, worth, setting))
    # What comes after the colon is left out where no gain is to be told.
    return ": ".join(parts)


def _limits(
    asked: Question, single: HeldTask | SailingTask, task: Task, best: Best
) -> tuple[Why, ...]:
    """Return which limits hold the setting back, and what a range means."""
    out: tuple[Why, ...] = ()
    if isinstance(task, RangeTask):
        out = (range_why(asked, task, best.state),)
        single = task.winds[-1]
    used = task.used(best.state)
    if np.any(used > PRESSED):
        out = (*out, *limit_why(asked, used, best.state.flight, _limit_words(asked, single)))
    here = best.state.flight.setting
    if best.search.spared:
        out = (*out, spared_why(here, best.search.spared))
    return (*out, *others_why(asked, here, best.search.others, task.aim(best.state)))


def _worth(task: Task, best: Best) -> dict[str, Worth]:
    """Return the worth of every free control in the order of work; unknown where not computed."""
    aim = task.aim(best.state) if best.worth else 0.0
    told = {it.control: worth_told(it, aim) for it in best.worth}
    names = dict.fromkeys((*(it.control for it in best.work), *(it.name for it in task.free)))
    steps = {entry.name: entry.step for entry in task.free}
    return {
        name: told.get(name, Worth(steps[name], CONTROL_UNITS[name], None, None, None))
        for name in names
    }


def _method(base: Method, best: Best) -> Method:
    """Return a flight's method, with what the search does not compute beside it."""
    if best.worth:
        return base
    return replace(base, not_computed=(*base.not_computed, *NOT_COMPUTED))
