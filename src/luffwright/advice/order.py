"""In which order to work: area, angle, twist, depth and draft, as the computed effects have it.

Which control belongs where is not listed: it follows from what each does to the sails' sections
once the headsail's sheet has put its angle right.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from luffwright.advice.effects import ANGLE, CAMBER, DRAFT, HEADSAIL, LOW, TOP, TWIST, Effects
from luffwright.advice.first_guess import resheeted
from luffwright.sails.plan import ControlTravel, SailPlan
from luffwright.sails.setting import Setting

Stage = Literal["area", "angle", "twist", "depth"]
STAGES: tuple[Stage, ...] = ("area", "angle", "twist", "depth")
AREA = ("reef", "main_furl", "furl")
AS_MUCH = np.array([np.radians(1.0), np.radians(1.0), 0.01, 0.04])
"""What weighs the same: a degree of angle, a degree of twist, 1 % of depth (in thin sections it
lifts as a degree does), and 4 % of draft."""
LEAST_SEEN = 0.1
"""What a tenth of its travel has to do, in these, for a control to be more than the last touch."""


@dataclass(frozen=True)
class Work:
    """One control's place in the work.

    `sheet` is how much headsail sheet [m by the control's unit] goes with it so that the sail keeps
    its angle; `disturbs` how far one step would turn it without [rad].
    """

    control: str
    stage: Stage
    sheet: float
    disturbs: float


def order_of_work(found: Effects, free: tuple[ControlTravel, ...]) -> tuple[Work, ...]:
    """Return the controls in the order in which to work.

    Area first, for it changes all else. The headsail's sheet sets its angle, and in the mainsail
    the control that does most of its own work by angle. The others are judged after the headsail
    has been sheeted to its old angle: what then mostly opens or closes a leech comes before what
    mostly changes depth and draft, and in each of the two what disturbs the angle most comes first.

    Parameters
    ----------
    found : Effects
    free : tuple of ControlTravel

    Returns
    -------
    tuple of Work
    """
    travel = {entry.name: entry for entry in free}
    area = [Work(name, "area", 0.0, 0.0) for name in AREA if name in travel]
    rest = [_work(found, entry, travel.get("sheet")) for entry in free if entry.name in found.names]
    rest.sort(key=lambda it: (STAGES.index(it.stage), -it.disturbs))
    return (*area, *rest)


def _work(found: Effects, entry: ControlTravel, sheet: ControlTravel | None) -> Work:
    name = entry.name
    disturbs = abs(float(found.of(name)[HEADSAIL, LOW, ANGLE]))
    with_it = 0.0 if sheet is None else found.sheet_with(name) * sheet.step / entry.step
    tenth = 0.1 * (entry.high - entry.low) / entry.step
    return Work(name, _stage(found, name, max(tenth, 1.0)), with_it, disturbs)


def _stage(found: Effects, name: str, per_reach: float) -> Stage:
    if name == "sheet":
        return "angle"
    weighed = np.abs(found.resheeted(name)) / AS_MUCH
    parts: dict[Stage, float] = {
        "angle": float(np.max(weighed[:, LOW, ANGLE])),
        "twist": float(np.max(weighed[:, TOP, TWIST])),
        "depth": float(np.max(weighed[:, :, [CAMBER, DRAFT]])),
    }
    most = max(STAGES[1:], key=lambda stage: parts[stage])
    return most if parts[most] * per_reach > LEAST_SEEN else "depth"


@dataclass(frozen=True)
class Step:
    """One step of the work: the control, and where it and the sheet that goes with it move to."""

    control: str
    to: dict[str, float]


def steps_between(
    plan: SailPlan, work: tuple[Work, ...], start: Setting, end: Setting
) -> tuple[Step, ...]:
    """Return the steps from one setting to another, each carrying its sheet.

    Parameters
    ----------
    plan : SailPlan
    work : tuple of Work
        In the order of work.
    start, end : Setting

    Returns
    -------
    tuple of Step
        Those that move by half a step or more. The sheet is set for the angle it is to have in the
        end, and every later step brings the sheet that keeps it there: after the last one it stands
        where it is to stand.
    """
    travel = {entry.name: entry for entry in plan.controls}
    mark = travel["sheet"].step if "sheet" in travel else 1.0
    moved = [it for it in work if _moves(travel[it.control], start, end)]
    carried = {it.control: it.sheet * _change(it.control, start, end) for it in moved}
    left = sum(carried.values())
    now, steps = start, []
    for it in work:
        to = {it.control: end.value(it.control)}
        if it.control == "sheet":
            to = {"sheet": _on_mark(end.sheet - left, end.sheet, mark)}
        elif it not in moved:
            continue
        elif it.control == "furl":
            to["sheet"] = _on_mark(resheeted(plan, now, to["furl"]).sheet, end.sheet, mark)
        elif carried[it.control] != 0.0:
            left -= carried[it.control]
            to["sheet"] = _on_mark(end.sheet - left, end.sheet, mark)
        if abs(to.get("sheet", now.sheet) - now.sheet) < 0.5 * mark:
            to.pop("sheet", None)
        if to:
            steps.append(Step(it.control, to))
            now = now.changed(**to)
    return tuple(steps)


def _on_mark(value: float, end: float, step: float) -> float:
    """Return the nearest place that lies whole steps from the end."""
    return end + round((value - end) / step) * step


def _change(name: str, start: Setting, end: Setting) -> float:
    return end.value(name) - start.value(name)


def _moves(entry: ControlTravel, start: Setting, end: Setting) -> bool:
    return abs(_change(entry.name, start, end)) > 0.5 * entry.step
