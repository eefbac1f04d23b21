"""`trim`: where every control should stand, in which order to go there, what each step brings."""

from __future__ import annotations

import time
from dataclasses import replace

import numpy as np

from luffwright.advice.load_limit import GREATEST_SHARE
from luffwright.advice.search import Found, best_setting
from luffwright.advice.task import Goal, HeldTask, Limits, Reached, SailingTask, Task
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
from luffwright.sails.measure import track_forces
from luffwright.sails.setting import CONTROL_UNITS, Setting
from luffwright.units import to_knots
from luffwright.water.estimate import righting_moment

HEEL_LIMIT_DEG = 20.0
CATAMARAN_SHARE = 0.5
"""A cruising catamaran is not pressed beyond half of her greatest righting moment: common practice,
in the absence of the maker's reefing table."""
KEEL_CENTRE = 0.4
"""Depth of the keel's force as a share of the draught: estimate of our own."""
WORK_ORDER = (
    "reef", "main_furl", "furl", "sheet", "traveller", "mainsheet", "lead", "lead_out",
    "clew_hole", "vang", "halyard", "backstay", "outhaul", "cunningham",
)  # fmt: skip
"""Area, then angle, then twist, then depth and draft."""
LEAVE_IT_BELOW = 0.01
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
    free = tuple(entry for entry in plan.controls if entry.name not in asked.request.hold)
    if "speed" in asked.held:
        return HeldTask(
            plan, asked.stream, asked.sheet_zero, MESH, asked.density, free,
            moment_limit(asked)[0], KEEL_CENTRE * hull.draught, load=GREATEST_SHARE,
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


def _changed(asked: Question, end: Setting) -> tuple[str, ...]:
    """Return the controls that move by a mark or more, in the order of work."""
    moved = []
    for name in WORK_ORDER:
        steps = {entry.name: entry.step for entry in asked.boat.plan.controls}
        if name in steps:
            change = end.value(name) - asked.setting.value(name)
            if abs(change) > 0.5 * steps[name]:
                moved.append(name)
    return tuple(moved)


def _walk(
    task: HeldTask | SailingTask,
    asked: Question,
    start: Reached,
    end: Reached,
    order: tuple[str, ...],
) -> tuple[Why, ...]:
    """Return what each step brings when the changes are made one after the other."""
    out, now = [], start
    for name in order:
        here = now.flight.setting
        there = end.flight.setting.value(name)
        then = task.sail(here.changed(**{name: there}), now.value("wind_angle"), now)
        move = asked.boat.marks[name].move(here.value(name), there)
        gain = "the sails do not settle on the way; its own worth is not told"
        if then.settled and now.settled:
            gain = _gain(task, now, then)
        out.append(Why(name, f"{move}: {gain}"))
        now = then
    return tuple(out)


def _gain(task: HeldTask | SailingTask, now: Reached, then: Reached) -> str:
    """Return what a step brings, with its amounts."""
    if isinstance(task, HeldTask):
        drives = [float(track_forces(it.flight)[:, 0].sum()) for it in (now, then)]
        gain = 100.0 * (drives[1] / max(drives[0], 1.0) - 1.0)
        press = 100.0 * float(task.used(then)[0] / max(float(task.used(now)[0]), 1e-6) - 1.0)
        return f"drive {gain:+.1f} %, heeling moment {press:+.1f} %"
    boats = [it.boat for it in (now, then) if it.boat is not None]
    speeds = [to_knots(task.made_good(boat)) for boat in boats]
    heels = [float(np.degrees(boat.flight.stream.heel)) for boat in boats]
    return f"{_more(speeds[1] - speeds[0], 'kn', 'faster', 'slower', 2)}, " + _more(
        heels[1] - heels[0], "°", "more heel", "less heel", 1
    )


def _more(change: float, unit: str, up: str, down: str, digits: int) -> str:
    size = f"{abs(change):.{digits}f}"
    if float(size) == 0.0:
        return f"no {up}"
    gap = "" if unit == "°" else " "
    return f"{size}{gap}{unit} {up if change > 0.0 else down}"


def _leave_it(task: Task, start: Reached, found: Found) -> bool:
    """Return whether all changes together bring less than one per cent."""
    gain = found.merit - task.merit(start)
    return start.settled and gain < LEAVE_IT_BELOW * abs(task.merit(start))


def trim(request: Request) -> Trimmed:
    """Return the setting that sails best: most speed, made good where no course is given.

    With the speed held: the setting with the most drive at it.

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
    asked = question(request)
    task, angle = task_of(asked), asked.stream.wind_angle
    turns = isinstance(task, SailingTask) and task.goal != "speed"
    start = task.sail(asked.setting, angle, None)
    found = best_setting(task, reefed(asked), angle, turns=turns)
    leave = bool(request.controls) and _leave_it(task, start, found)
    leave = leave and not too_much_sail(asked, asked.setting)
    end = start if leave else found.state
    order = () if leave else _changed(asked, end.flight.setting)
    why = () if leave else _walk(task, asked, start, end, order)
    pressed = limit_why(asked, found.used, found.flight, _limit_words(asked, task))
    why = (*table_why(asked, end.flight.setting), *pressed, *why)
    asked = replace(asked, flags=tuple(it for it in asked.flags if not turns or "angle" not in it))
    base = fly_answer(asked, end.flight, end.boat)
    worth = {
        entry.name: Worth(entry.step, CONTROL_UNITS[entry.name], None, None, None)
        for entry in task.free
    }
    seconds = time.perf_counter() - began
    search = Search(found.evaluations + len(order) + 1, seconds, from_table=False)
    answer = TrimAnswer(
        base.status, base.reason, base.conditions, base.boat, base.controls, base.sails,
        base.stays, base.loads, base.cautions, _method(base.method),
        worth, order, leave, why, search,
    )  # fmt: skip
    return Trimmed(unpraised(answer), picture(asked, end.flight, sail_names(asked.boat)))


def _method(base: Method) -> Method:
    """Return a flight's method, with what the search does not compute beside it."""
    return replace(base, not_computed=(*base.not_computed, *NOT_COMPUTED))
