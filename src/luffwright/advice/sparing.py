"""Ropes are spared: what is pulled and brings nothing that can be told is let go.

Where a rope hardly tells, the best place for it is anywhere, and a search leaves it where it came
by, hard on as well as slack. Cloth and stays wear under what is pulled for nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from luffwright.advice.task import NEVER, TURN, Reached, Slopes, Task
from luffwright.arrays import FloatArray
from luffwright.sails.plan import ControlTravel, SailPlan
from luffwright.sails.setting import Setting

PRICE = 1e-3
"""Share of the aim that a rope pulled to the end of its travel is counted to cost, growing with the
square: at 5 kn half of the least that is told of a control. A judgement."""
SPARED = ("backstay", "cunningham", "vang")
"""What a crew lets go where it does nothing. The halyard is not among it: what sailors pull it for
in a breeze, a draft blown aft, is not in the cloth here; it would be let go as the wind rises."""


@dataclass(frozen=True)
class Pull:
    """How hard a rope is pulled, as a share of its travel, and what a unit more adds to that."""

    share: float
    slope: float


def pull_of(entry: ControlTravel, value: float) -> Pull:
    """Return how hard a rope is pulled.

    Parameters
    ----------
    entry : ControlTravel
    value : float
        Where it stands. [its unit]

    Returns
    -------
    Pull
        Nought for what is not among `SPARED`.

    Examples
    --------
    >>> pull_of(ControlTravel("cunningham", 0.0, 0.2, 0.02, 0.0), 0.1).share
    0.5
    >>> pull_of(ControlTravel("vang", -1.0, 0.4, 0.02, -0.2), -0.5).share
    0.0
    """
    if entry.name not in SPARED or value <= 0.0:
        return Pull(0.0, 0.0)
    return Pull(value / entry.high, 1.0 / entry.high)


@dataclass(frozen=True)
class Sparing:
    """A task in which ropes are spared; else as the `task` itself."""

    task: Task

    @property
    def plan(self) -> SailPlan:
        """Return the boat's sails and what holds them [m, N]."""
        return self.task.plan

    @property
    def free(self) -> tuple[ControlTravel, ...]:
        """Return the controls that may move [each in its unit]."""
        return self.task.free

    @property
    def limit(self) -> int:
        """Return the greatest number of tries [-]."""
        return self.task.limit

    def shorter(self, limit: int) -> Sparing:
        """Return the same task with fewer tries [-]."""
        return Sparing(self.task.shorter(limit))

    def coarser(self) -> Sparing | None:
        """Return the same task on the mesh for a first search; None where its own is no finer."""
        coarse = self.task.coarser()
        return None if coarse is None else Sparing(coarse)

    def sail(
        self, setting: Setting, angle: float, near: Reached | None, *, afresh: bool = False
    ) -> Reached:
        """Return the state at a setting and an angle to the true wind [rad]."""
        return self.task.sail(setting, angle, near, afresh=afresh)

    def _pulls(self, state: Reached) -> dict[str, Pull]:
        free = (it for it in self.free if it.name in SPARED)
        return {it.name: pull_of(it, state.value(it.name)) for it in free}

    def aim(self, state: Reached) -> float:
        """Return what is sought less what pulled ropes are counted to cost [N or m/s]."""
        aim = self.task.aim(state)
        return aim * _left(aim, self._pulls(state))

    def merit(self, state: Reached) -> float:
        """Return the same, less the price of limits passed [N or m/s]."""
        if not state.settled:
            return NEVER
        return self.task.merit(state) + self.aim(state) - self.task.aim(state)

    def used(self, state: Reached) -> FloatArray:
        """Return the shares of the limits that are used [-]."""
        return self.task.used(state)

    def relieved(self, state: Reached) -> FloatArray:
        """Return the same of the limits that less sail relieves; 0 for the others [-]."""
        return self.task.relieved(state)

    def slopes(self, state: Reached, names: tuple[str, ...]) -> Slopes:
        r"""Return what a little of each parameter does, what a pull is counted to cost with it.

        .. math:: a' = a\,(1 - P \sum p^2),\quad
            \frac{da'}{dx} = \frac{da}{dx}(1 - P\sum p^2) - 2 a P\,p\,\frac{dp}{dx}
        """
        known, pulls = self.task.slopes(state, names), self._pulls(state)
        left = _left(known.height, pulls)
        cost, none = 2.0 * PRICE * max(known.height, 0.0), Pull(0.0, 0.0)
        more = np.array([cost * it.share * it.slope for it in (pulls.get(n, none) for n in names)])
        return replace(known, height=left * known.height, aim=left * known.aim - more)


def let_go(task: Sparing, state: Reached) -> tuple[Reached, int]:
    """Return the state with each rope let go that does not tell, and how many were tried.

    A climb ends where no little step brings anything: a rope that was pulled early, when sails
    stood otherwise, may stand there still.

    Parameters
    ----------
    task : Sparing
    state : Reached
        On marks.

    Returns
    -------
    (Reached, int)
    """
    tries = 0
    for entry in task.free:
        if entry.name not in SPARED or state.value(entry.name) <= 0.0:
            continue
        loose = state.flight.setting.changed(**{entry.name: max(entry.low, 0.0)})
        trial = task.sail(loose, state.value(TURN.name), state, afresh=True)
        tries += 1
        state = trial if task.merit(trial) > task.merit(state) else state
    return state, tries


def _left(aim: float, pulls: dict[str, Pull]) -> float:
    """Return the share of the aim that is left; all of one that is no gain."""
    return 1.0 - PRICE * sum(it.share**2 for it in pulls.values()) if aim > 0.0 else 1.0
