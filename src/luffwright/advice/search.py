"""The search for the best setting: steps along the sensitivities, within what they can be trusted.

Each step is a small linear programme: the most from a little of every parameter while the limits
hold; the step is flown, and the trust grows or shrinks by what came of it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.optimize import linprog

from luffwright.advice.first_guess import resheeted
from luffwright.advice.task import TURN, Reached, Slopes, Task
from luffwright.arrays import FloatArray
from luffwright.sails.flight import Flight
from luffwright.sails.plan import ControlTravel
from luffwright.sails.setting import Setting

AREA_CONTROLS = ("reef", "furl", "main_furl")
FIRST_REACH = 8.0
"""First trust of a sensitivity, in steps of each control."""
FARTHEST = 30.0
LEAST_PROMISE = 0.001
"""Share of the aim below which a step is not worth flying."""
PRESSED = 0.97
WORTH_A_REEF = 1.01
PULLS = (0.08, -0.08, 0.16, 0.3)
"""How much sheet [m] comes in, or out, where the first guess flogs."""


@dataclass(frozen=True)
class Found:
    """The best setting found, on marks that can be set; `used`: the shares of the limits."""

    state: Reached
    merit: float
    used: FloatArray
    evaluations: int

    @property
    def flight(self) -> Flight:
        """Return the sails' flight there."""
        return self.state.flight

    @property
    def pressed(self) -> bool:
        """Return whether a limit holds the setting back [-]."""
        return bool(np.any(self.used > PRESSED))


def _step(
    task: Task, state: Reached, names: tuple[str, ...], known: Slopes, reach: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return the best changes within each parameter's reach, and what each promises."""
    count, rows = len(names), len(known.used)
    travel = {entry.name: entry for entry in (*task.free, TURN)}
    steps = np.array([travel[name].step for name in names])
    room: list[tuple[float, float | None]] = []
    for name, step, most in zip(names, steps, reach, strict=True):
        at = state.value(name)
        low = min(max(-most, (travel[name].low - at) / step), 0.0)
        high = max(min(most, (travel[name].high - at) / step), 0.0)
        room.append((low, high))
    gain = np.append(-known.aim * steps, np.full(rows, known.price))
    table = np.hstack([known.limits * steps, -np.eye(rows)])
    bounds = [*room, *([(0.0, None)] * rows)]
    answer = linprog(gain, A_ub=table, b_ub=1.0 - known.used, bounds=bounds, method="highs")
    if not answer.success:
        return np.zeros(count), np.zeros(count)
    dual = np.abs(np.asarray(answer.ineqlin.marginals))
    worth = known.aim * steps - dual @ (known.limits * steps)
    moves: FloatArray = answer.x[:count]
    return moves * steps, np.abs(worth * moves)


def _climb(task: Task, state: Reached, *, turns: bool) -> tuple[Reached, int]:
    """Return the best state reached from one, and how many were flown.

    Each parameter has a reach of its own: where a step fails, those that promised most lose most of
    theirs, for a leech against a shroud answers to one control at a time.
    """
    names = tuple(entry.name for entry in task.free if entry.name not in AREA_CONTROLS)
    names = (*names, TURN.name) if turns else names
    reach = np.full(len(names), FIRST_REACH)
    flown, merit = 0, task.merit(state)
    known: Slopes | None = None
    while flown < task.limit and names and state.settled:
        known = known or task.slopes(state, names)
        moves, promise = _step(task, state, names, known, reach)
        if promise.sum() < LEAST_PROMISE * abs(merit):
            break
        target = {
            name: state.value(name) + float(move) for name, move in zip(names, moves, strict=True)
        }
        angle = target.pop(TURN.name, state.value(TURN.name))
        trial = task.sail(state.flight.setting.changed(**target), angle, state)
        flown += 1
        gained = task.merit(trial) - merit
        if gained > 0.0:
            reach = np.minimum(reach * (1.5 if gained > 0.5 * promise.sum() else 0.8), FARTHEST)
            state, merit, known = trial, merit + gained, None
        else:
            reach *= np.where(promise > 0.3 * promise.max(), 0.3, 0.7)
    return state, flown


def on_marks(setting: Setting, free: tuple[ControlTravel, ...]) -> Setting:
    """Return the setting with every free control on the nearest mark that the crew can set."""
    marks = {}
    for entry in free:
        count = round((setting.value(entry.name) - entry.low) / entry.step)
        marks[entry.name] = float(np.clip(entry.low + count * entry.step, entry.low, entry.high))
    return setting.changed(**marks)


def _smaller(task: Task, setting: Setting, name: str) -> Setting | None:
    """Return the setting with one reef or two steps of roll more, if there is any left."""
    travel = next((entry for entry in task.free if entry.name == name), None)
    if travel is None:
        return None
    amount = setting.value(name) + (1.0 if name == "reef" else 2.0) * travel.step
    if amount > travel.high + 1e-9:
        return None
    if name == "furl":
        return resheeted(task.plan, setting, amount)
    return setting.changed(**{name: amount})


def _begin(task: Task, start: Setting, angle: float) -> tuple[Reached, int]:
    """Return a settled state at or near the start, and how many it took.

    Sails that flog have no shape to improve on: both sheets come in, or out, until they stand.
    """
    free = {entry.name: entry.low for entry in task.free}
    parts = max(task.plan.mainsail_gear.sheet_parts, 1.0)
    best = task.sail(start, angle, None)
    for tries, pull in enumerate(PULLS, start=1):
        if best.settled:
            return best, tries
        ends = {"sheet": start.sheet - pull, "mainsheet": start.mainsheet - 0.5 * parts * pull}
        there = {name: max(to, free[name]) for name, to in ends.items() if name in free}
        trial = task.sail(start.changed(**there), angle, None)
        if trial.settled or trial.flight.residual < best.flight.residual:
            best = trial
    return best, len(PULLS) + 1


def best_setting(task: Task, start: Setting, angle: float, *, turns: bool = False) -> Found:
    """Return the best setting within the limits.

    Parameters
    ----------
    task : Task
    start : Setting
        To begin from; controls that are not free stay there.
    angle : float
        Bow to true wind. [rad]
    turns : bool
        Whether the course is searched too.

    Returns
    -------
    Found
        A local best near the start; reefs are tried one after the other while a limit presses.
    """
    begun, tries = _begin(task, start, angle)
    state, flown = _climb(task, begun, turns=turns)
    flown += tries
    for name in ("reef", "furl"):
        while np.any(task.used(state) > 1.01 * PRESSED):
            less = _smaller(task, state.flight.setting, name)
            if less is None:
                break
            smaller = task.sail(less, state.value(TURN.name), state, afresh=True)
            trial, count = _climb(task.shorter(8), smaller, turns=turns)
            flown += count + 1
            if task.merit(trial) < WORTH_A_REEF * task.merit(state):
                break
            state = trial
    marks = on_marks(state.flight.setting, task.free)
    state = task.sail(marks, state.value(TURN.name), state, afresh=True)
    return Found(state, task.merit(state), task.used(state), flown + 1)
