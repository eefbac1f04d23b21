"""The search for the best setting: steps along the sensitivities, within what they can be trusted.

Each step is a small linear programme: most drive from a little of every control while the heeling
moment stays at its limit; the step is flown, and the trust grows or shrinks by what came of it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import linprog

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
GREATEST_REACH = 30.0
LEAST_REACH = 0.7
OVERLOAD_PRICE = 3.0
"""Drive paid for a heeling moment over its limit, in shares of drive for a share of moment."""
WORTH_A_REEF = 1.01


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
    limit: int = 14

    def moment(self, flight: Flight) -> float:
        """Return the heeling moment about the keel's force [N m]."""
        return heeling_moment(flight) + self.lever * float(track_forces(flight)[:, 1].sum())

    def merit(self, flight: Flight) -> float:
        """Return the drive less the price of being pressed over the limit [N]."""
        drive = float(track_forces(flight)[:, 0].sum())
        over = max(self.moment(flight) / self.moment_limit - 1.0, 0.0)
        return drive - OVERLOAD_PRICE * max(abs(drive), 1.0) * over if flight.settled else -1e9

    def fly(self, setting: Setting, near: Flight | None) -> Flight:
        """Return the flight of a setting."""
        return fly(
            self.plan, setting, self.stream, self.sheet_zero,
            mesh=self.mesh, density=self.density, near=near,
        )  # fmt: skip


@dataclass(frozen=True)
class Found:
    """The best setting found, on marks that can be set; `pressed`: the moment limit holds it."""

    flight: Flight
    merit: float
    pressed: bool
    evaluations: int


def _step(task: Task, flight: Flight, known: Sensitivity, reach: float) -> dict[str, float]:
    """Return the best changes within the reach, by a linear programme."""
    count = len(known.names)
    travel = {entry.name: entry for entry in task.free}
    drive = float(track_forces(flight)[:, 0].sum())
    moment = known.moment + task.lever * known.side
    steps = np.array([travel[name].step for name in known.names])
    room = []
    for name, step in zip(known.names, steps, strict=True):
        at = flight.setting.value(name)
        low = min(max(-reach, (travel[name].low - at) / step), 0.0)
        high = max(min(reach, (travel[name].high - at) / step), 0.0)
        room.append((low, high))
    price = OVERLOAD_PRICE * max(abs(drive), 1.0)
    gain = np.append(-known.drive * steps, price)
    row = np.append(moment * steps / task.moment_limit, -1.0)[None, :]
    left = 1.0 - task.moment(flight) / task.moment_limit
    answer = linprog(gain, A_ub=row, b_ub=[left], bounds=[*room, (0.0, None)], method="highs")
    if not answer.success:
        return dict.fromkeys(known.names, 0.0)
    moves: FloatArray = answer.x[:count] * steps
    return dict(zip(known.names, moves.tolist(), strict=True))


def _climb(task: Task, flight: Flight) -> tuple[Flight, int]:
    """Return the best flight reached from one, and how many were flown."""
    names = tuple(entry.name for entry in task.free if entry.name not in AREA_CONTROLS)
    reach, flown = FIRST_REACH, 0
    merit = task.merit(flight)
    known: Sensitivity | None = None
    while flown < task.limit and reach >= LEAST_REACH and names and flight.settled:
        if known is None:
            known = sensitivity(flight, names, task.sheet_zero, task.mesh)
        moves = _step(task, flight, known, reach)
        if all(abs(move) < 1e-9 for move in moves.values()):
            break
        target = {name: flight.setting.value(name) + move for name, move in moves.items()}
        trial = task.fly(flight.setting.changed(**target), flight)
        flown += 1
        better = task.merit(trial)
        if better > merit:
            gained = (better - merit) / max(abs(merit), 1.0)
            reach = min(1.5 * reach, GREATEST_REACH) if gained > 0.01 else 0.6 * reach
            flight, merit, known = trial, better, None
        else:
            reach *= 0.4
    return flight, flown


def on_marks(setting: Setting, free: tuple[ControlTravel, ...]) -> Setting:
    """Return the setting with every free control on the nearest mark that the crew can set."""
    marks = {}
    for entry in free:
        count = round((setting.value(entry.name) - entry.low) / entry.step)
        marks[entry.name] = float(np.clip(entry.low + count * entry.step, entry.low, entry.high))
    return setting.changed(**marks)


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
    flight, flown = _climb(task, task.fly(start, None))
    flown += 1
    for name in ("reef", "furl"):
        travel = next((entry for entry in task.free if entry.name == name), None)
        while travel is not None and task.moment(flight) > 0.98 * task.moment_limit:
            amount = flight.setting.value(name) + (1.0 if name == "reef" else 2 * travel.step)
            if amount > travel.high + 1e-9:
                break
            less = task.fly(flight.setting.changed(**{name: amount}), None)
            trial, count = _climb(replace(task, limit=8), less)
            flown += count + 1
            if task.merit(trial) < WORTH_A_REEF * task.merit(flight):
                break
            flight = trial
    flight = task.fly(on_marks(flight.setting, task.free), flight)
    pressed = task.moment(flight) > 0.97 * task.moment_limit
    return Found(flight, task.merit(flight), pressed, flown + 1)
