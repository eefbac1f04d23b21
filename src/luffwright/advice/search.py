"""The search for the best setting: steps along the sensitivities, within what they can be trusted.

Each step is a small linear programme: most drive from a little of every control while the heeling
moment stays at its limit; the step is flown, and the trust grows or shrinks by what came of it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import linprog

from luffwright.advice.first_guess import resheeted
from luffwright.air.stream import Stream
from luffwright.arrays import FloatArray
from luffwright.sails.flight import Flight, fly
from luffwright.sails.measure import heeling_moment, track_forces
from luffwright.sails.plan import ControlTravel, SailPlan
from luffwright.sails.rigging import Mesh
from luffwright.sails.sensitivity import Sensitivity, sensitivity
from luffwright.sails.setting import Setting

AREA_CONTROLS = ("reef", "furl", "main_furl")
FIRST_REACH = 8.0
"""First trust of a sensitivity, in steps of each control."""
FARTHEST = 30.0
LEAST_PROMISE = 0.001
"""Share of the drive below which a step is not worth flying."""
OVERLOAD_PRICE = 3.0
"""Drive paid for a heeling moment over its limit, in shares of drive for a share of moment."""
WORTH_A_REEF = 1.01
PULLS = (0.08, -0.08, 0.16, 0.3)
"""How much sheet [m] comes in, or out, where the first guess flogs."""


@dataclass(frozen=True)
class Task:
    """What is asked: the boat, the wind, what may move and how much she may be pressed.

    `lever` [m] is the depth of the keel's force below the water; `moment_limit` [N m].
    """

    plan: SailPlan
    stream: Stream
    sheet_zero: float
    mesh: Mesh
    density: float
    free: tuple[ControlTravel, ...]
    moment_limit: float
    lever: float
    limit: int = 12

    def moment(self, flight: Flight) -> float:
        """Return the heeling moment about the keel's force [N m]."""
        return heeling_moment(flight) + self.lever * float(track_forces(flight)[:, 1].sum())

    def merit(self, flight: Flight) -> float:
        """Return the drive less the price of being pressed over the limit [N]."""
        drive = float(track_forces(flight)[:, 0].sum())
        over = max(self.moment(flight) / self.moment_limit - 1.0, 0.0)
        return drive - OVERLOAD_PRICE * max(abs(drive), 1.0) * over if flight.settled else -1e9

    def fly(self, setting: Setting, near: Flight | None, *, afresh: bool = False) -> Flight:
        """Return the flight of a setting; while searching, what a neighbour does not lead to is
        left alone.
        """
        return fly(
            self.plan, setting, self.stream, self.sheet_zero,
            mesh=self.mesh, density=self.density, near=near, afresh=afresh,
        )  # fmt: skip


@dataclass(frozen=True)
class Found:
    """The best setting found, on marks that can be set; `pressed`: the moment limit holds it."""

    flight: Flight
    merit: float
    pressed: bool
    evaluations: int


def _step(
    task: Task, flight: Flight, known: Sensitivity, reach: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return the best changes within each control's reach, and the drive each promises."""
    count = len(known.names)
    travel = {entry.name: entry for entry in task.free}
    drive = float(track_forces(flight)[:, 0].sum())
    moment = known.moment + task.lever * known.side
    steps = np.array([travel[name].step for name in known.names])
    room: list[tuple[float, float | None]] = []
    for name, step, most in zip(known.names, steps, reach, strict=True):
        at = flight.setting.value(name)
        low = min(max(-most, (travel[name].low - at) / step), 0.0)
        high = max(min(most, (travel[name].high - at) / step), 0.0)
        room.append((low, high))
    price = OVERLOAD_PRICE * max(abs(drive), 1.0)
    gain = np.append(-known.drive * steps, price)
    row = np.append(moment * steps / task.moment_limit, -1.0)[None, :]
    left = 1.0 - task.moment(flight) / task.moment_limit
    answer = linprog(gain, A_ub=row, b_ub=[left], bounds=[*room, (0.0, None)], method="highs")
    if not answer.success:
        return np.zeros(count), np.zeros(count)
    dual = abs(float(answer.ineqlin.marginals[0]))
    worth = known.drive * steps - dual * moment * steps / task.moment_limit
    moves: FloatArray = answer.x[:count]
    return moves * steps, np.abs(worth * moves)


def _climb(task: Task, flight: Flight) -> tuple[Flight, int]:
    """Return the best flight reached from one, and how many were flown.

    Each control has a reach of its own: where a step fails, those that promised most lose most of
    theirs, for a leech against a shroud answers to one control at a time.
    """
    names = tuple(entry.name for entry in task.free if entry.name not in AREA_CONTROLS)
    reach = np.full(len(names), FIRST_REACH)
    flown, merit = 0, task.merit(flight)
    known: Sensitivity | None = None
    while flown < task.limit and names and flight.settled:
        known = known or sensitivity(flight, names, task.sheet_zero, task.mesh)
        moves, promise = _step(task, flight, known, reach)
        if promise.sum() < LEAST_PROMISE * abs(merit):
            break
        target = {
            name: flight.setting.value(name) + float(move)
            for name, move in zip(names, moves, strict=True)
        }
        trial = task.fly(flight.setting.changed(**target), flight)
        flown += 1
        gained = task.merit(trial) - merit
        if gained > 0.0:
            reach = np.minimum(reach * (1.5 if gained > 0.5 * promise.sum() else 0.8), FARTHEST)
            flight, merit, known = trial, merit + gained, None
        else:
            reach *= np.where(promise > 0.3 * promise.max(), 0.3, 0.7)
    return flight, flown


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


def _begin(task: Task, start: Setting) -> tuple[Flight, int]:
    """Return a settled flight at or near the start, and how many it took.

    Sails that flog have no shape to improve on: both sheets come in, or out, until they stand.
    """
    free = {entry.name: entry.low for entry in task.free}
    parts = max(task.plan.mainsail_gear.sheet_parts, 1.0)
    best = task.fly(start, None)
    for tries, pull in enumerate(PULLS, start=1):
        if best.settled:
            return best, tries
        ends = {"sheet": start.sheet - pull, "mainsheet": start.mainsheet - 0.5 * parts * pull}
        there = {name: max(to, free[name]) for name, to in ends.items() if name in free}
        flight = task.fly(start.changed(**there), None)
        if flight.settled or flight.residual < best.residual:
            best = flight
    return best, len(PULLS) + 1


def best_setting(task: Task, start: Setting) -> Found:
    """Return the setting with the most drive whose heeling moment stays within the limit.

    Parameters
    ----------
    task : Task
    start : Setting
        To begin from; controls that are not free stay there.

    Returns
    -------
    Found
        A local best near the start; reefs are tried one after the other while the moment presses.
    """
    begun, tries = _begin(task, start)
    flight, flown = _climb(task, begun)
    flown += tries
    for name in ("reef", "furl"):
        while task.moment(flight) > 0.98 * task.moment_limit:
            less = _smaller(task, flight.setting, name)
            if less is None:
                break
            trial, count = _climb(replace(task, limit=8), task.fly(less, None))
            flown += count + 1
            if task.merit(trial) < WORTH_A_REEF * task.merit(flight):
                break
            flight = trial
    flight = task.fly(on_marks(flight.setting, task.free), flight, afresh=True)
    pressed = task.moment(flight) > 0.97 * task.moment_limit
    return Found(flight, task.merit(flight), pressed, flown + 1)
