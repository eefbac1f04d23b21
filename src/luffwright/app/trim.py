"""`trim`: where every control should stand, in which order to go there, what each step brings."""

from __future__ import annotations

import time
from dataclasses import replace

import numpy as np

from luffwright.advice.search import Found, Task, best_setting
from luffwright.app.answer import Method, Search, TrimAnswer, Trimmed, Why, Worth
from luffwright.app.picture import picture
from luffwright.app.question import MESH, Question, question
from luffwright.app.report import fly_answer, sail_names
from luffwright.app.request import Request
from luffwright.sails.flight import Flight
from luffwright.sails.measure import track_forces
from luffwright.sails.setting import CONTROL_UNITS, Setting
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


def _task(asked: Question) -> Task:
    plan, hull = asked.boat.plan, asked.boat.hull
    free = tuple(entry for entry in plan.controls if entry.name not in asked.request.hold)
    return Task(
        plan, asked.stream, asked.sheet_zero, MESH, asked.density, free,
        moment_limit(asked)[0], KEEL_CENTRE * hull.draught,
    )  # fmt: skip


def _drive(flight: Flight) -> float:
    return float(track_forces(flight)[:, 0].sum())


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
    task: Task, asked: Question, start: Flight, end: Setting, order: tuple[str, ...]
) -> tuple[Why, ...]:
    """Return what each step brings when the changes are made one after the other."""
    out, now = [], start
    for name in order:
        setting = now.setting.changed(**{name: end.value(name)})
        then = task.fly(setting, now)
        mark = asked.boat.marks[name]
        move = mark.move(now.setting.value(name), end.value(name))
        if then.settled and now.settled:
            gain = 100.0 * (_drive(then) / max(_drive(now), 1.0) - 1.0)
            press = 100.0 * (task.moment(then) / max(task.moment(now), 1.0) - 1.0)
            text = f"{move}: drive {gain:+.1f} %, heeling moment {press:+.1f} %"
        else:
            text = f"{move}: the sails do not settle on the way; its own worth is not told"
        out.append(Why(name, text))
        now = then
    return tuple(out)


def _leave_it(task: Task, start: Flight, found: Found) -> bool:
    """Return whether all changes together bring less than one per cent."""
    gain = found.merit - task.merit(start)
    return start.settled and gain < LEAVE_IT_BELOW * abs(task.merit(start))


def trim(request: Request) -> Trimmed:
    """Return the setting with the most drive at the held speed and heel.

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
    task = _task(asked)
    start = task.fly(asked.setting, None)
    found = best_setting(task, asked.setting)
    leave = bool(request.controls) and _leave_it(task, start, found)
    flight = start if leave else found.flight
    order = () if leave else _changed(asked, flight.setting)
    why = () if leave else _walk(task, asked, start, flight.setting, order)
    if found.pressed:
        why = (Why("heel", moment_limit(asked)[1]), *why)
    base = fly_answer(asked, flight)
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
    return Trimmed(answer, picture(asked, flight, sail_names(asked.boat)))


def _method(base: Method) -> Method:
    """Return a flight's method, with what the search does not compute beside it."""
    return replace(base, not_computed=(*base.not_computed, *NOT_COMPUTED))
