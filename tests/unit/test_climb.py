"""The climb to the best setting, on hills whose top is known."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import pytest

from luffwright.advice.climb import Stop, climb, ground, settle_on_marks
from luffwright.advice.model import Fences, Hill, best_move, first_hill, whole, whole_moves
from luffwright.advice.programme import least_within
from luffwright.advice.task import NEVER, Reached, Slopes, Task
from luffwright.arrays import FloatArray
from luffwright.sails.plan import ControlTravel, SailPlan
from luffwright.sails.setting import Setting

SHEET = ControlTravel("sheet", -0.4, 5.0, 0.02, 0.0)
HALYARD = ControlTravel("halyard", 0.0, 0.15, 0.01, 0.0)
MAINSHEET = ControlTravel("mainsheet", -0.6, 10.0, 0.02, 0.0)


@dataclass(frozen=True)
class Stood:
    """A state of the stand-in: ropes and nothing else."""

    flight: Rope
    settled: bool = True
    boat: None = None

    def value(self, name: str) -> float:
        """Return where a control stands; the course stays at 0."""
        return 0.0 if name == "wind_angle" else self.flight.setting.value(name)


@dataclass(frozen=True)
class Rope:
    """A flight of the stand-in."""

    setting: Setting


@dataclass(frozen=True)
class Dome:
    """A task whose aim is a rounded ridge over three ropes [m], with a limit on one of them.

    aim = 4 − q (1 + q²/2) with q the squared distance from the top, stretched along the ridge
    where sheet and halyard pull together.
    """

    top: FloatArray
    most: float = 10.0
    limit: int = 40
    free: tuple[ControlTravel, ...] = (SHEET, HALYARD, MAINSHEET)

    @property
    def plan(self) -> SailPlan:
        """The stand-in has none."""
        raise NotImplementedError

    def coarser(self) -> None:
        """Return None: a stand-in has no mesh."""

    def shorter(self, limit: int) -> Dome:
        """Return the same task with fewer tries."""
        return replace(self, limit=limit)

    def _off(self, state: Reached) -> FloatArray:
        x = np.array([state.value(name) for name in ("sheet", "halyard", "mainsheet")]) - self.top
        return np.array([(x[0] + 2.0 * x[1]) / 0.2, (x[0] - x[1]) / 0.1, x[2] / 1.5])

    def sail(
        self,
        setting: Setting,
        angle: float,  # noqa: ARG002  # the stand-in has ropes alone
        near: Reached | None,  # noqa: ARG002
        *,
        afresh: bool = False,  # noqa: ARG002
    ) -> Reached:
        """Return the setting as a state."""
        return Stood(Rope(setting))  # type: ignore[return-value]

    def aim(self, state: Reached) -> float:
        """Return the height."""
        q = float(np.sum(self._off(state) ** 2))
        return 4.0 - q * (1.0 + 0.5 * q**2)

    def used(self, state: Reached) -> FloatArray:
        """Return the share of the sheet's limit that is used."""
        return np.array([state.value("sheet") / self.most])

    def relieved(self, state: Reached) -> FloatArray:
        """Return the same: there is no other limit."""
        return self.used(state)

    def merit(self, state: Reached) -> float:
        """Return the height less the price of passing the limit."""
        over = float(np.maximum(self.used(state) - 1.0, 0.0).sum())
        return self.aim(state) - 12.0 * over if state.settled else NEVER

    def slopes(self, state: Reached, names: tuple[str, ...]) -> Slopes:
        """Return the exact slopes, in the order of the ropes."""
        assert names == ("sheet", "halyard", "mainsheet")
        off = self._off(state)
        q = float(np.sum(off**2))
        by = np.array([[5.0, 10.0, 0.0], [10.0, -10.0, 0.0], [0.0, 0.0, 1.0 / 1.5]])
        slope = -(1.0 + 1.5 * q**2) * 2.0 * off @ by
        limits = np.array([[1.0 / self.most, 0.0, 0.0]])
        empty = np.zeros((3, 1))
        return _NoLead(self.aim(state), slope, limits, self.used(state), 12.0, empty, empty, empty)


class _NoLead(Slopes):
    def ahead(self, state: Reached, by: FloatArray) -> Reached:  # noqa: ARG002
        """Return the state itself: the stand-in needs no start."""
        return state


def _climbed(task: Dome, start: Setting) -> tuple[Task, Reached, Reached]:
    over = ground(task, turns=False)
    peak = climb(task, task.sail(start, 0.0, None), over)
    return task, peak.state, settle_on_marks(task, peak, over)


@pytest.mark.parametrize("seed", range(8))
def test_from_any_start_the_climb_ends_on_the_top_of_a_crooked_ridge(seed: int) -> None:
    rng = np.random.default_rng(seed)
    task = Dome(np.array([0.13, 0.083, 0.91]))
    start = Setting(
        sheet=rng.uniform(-0.1, 0.3), halyard=rng.uniform(0.0, 0.15),
        mainsheet=rng.uniform(0.2, 1.6),
    )  # fmt: skip
    _, top, _ = _climbed(task, start)
    # The climb stops where a step promises less than 0.03 %.
    assert task.merit(top) == pytest.approx(4.0, rel=2e-3)


def test_a_climb_is_given_up_that_will_not_pass_the_bar_it_is_climbed_for() -> None:
    """The top is 4 high: a bar of 3.9 is passed and climbed beyond, one of 6 never is."""
    task = Dome(np.array([0.13, 0.083, 0.91]), limit=4)
    state = task.sail(Setting(sheet=0.1, halyard=0.06, mainsheet=0.5), 0.0, None)
    over = ground(task, turns=False)
    free = climb(task, state, over)
    assert free.merit > 3.9
    passed = climb(task, state, over, stop=Stop(bars=(3.9,)))
    assert (passed.flown, passed.merit) == (free.flown, free.merit)
    given_up = climb(task, state, over, stop=Stop(bars=(6.0,)))
    assert given_up.flown < free.flown
    # A lower one that can be passed still counts.
    both = climb(task, state, over, stop=Stop(bars=(6.0, 3.9)))
    assert both.merit > 3.9


def test_a_limit_stops_the_climb_at_its_fence() -> None:
    task = Dome(np.array([0.13, 0.083, 0.91]), most=0.06)
    _, top, _ = _climbed(task, Setting(sheet=0.0, halyard=0.05, mainsheet=0.5))
    assert top.value("sheet") == pytest.approx(0.06, abs=1e-3)
    # With the sheet there, the ridge's best: minimise ((x+2h)/.2)² + ((x-h)/.1)² over h at x=-.07.
    x, h = -0.07, np.linspace(-0.083, 0.067, 4001)
    q = ((x + 2.0 * h) / 0.2) ** 2 + ((x - h) / 0.1) ** 2
    best = 4.0 - float(np.min(q * (1.0 + 0.5 * q**2)))
    assert task.aim(top) == pytest.approx(best, rel=3e-3)


def test_marks_are_chosen_together_and_better_than_each_control_rounded_by_itself() -> None:
    hill = Hill(4.0, np.zeros(2), np.array([[1.0, 0.9], [0.9, 1.0]]))
    fences = Fences(np.zeros(1), np.zeros((1, 2)), 12.0)
    wide = np.full(2, 3.0)
    # Both stand half a step above a mark: the one up, the other down costs least.
    moves = whole_moves(hill, fences, -wide, wide, np.array([0.6, 0.6]))
    alone = np.array([0.4, 0.4])
    assert np.allclose(np.mod(moves + 0.6, 1.0) % 1.0, 0.0)
    assert hill.gain(moves) > hill.gain(alone)


def test_a_course_is_not_put_on_marks() -> None:
    hill = Hill(4.0, np.array([0.3, 0.3]), np.eye(2))
    fences = Fences(np.zeros(1), np.zeros((1, 2)), 12.0)
    wide = np.full(2, 3.0)
    moves = whole_moves(hill, fences, -wide, wide, np.array([0.0, np.nan]))
    assert moves == pytest.approx([0.0, 0.3], abs=1e-6)


def test_no_random_move_beats_the_best_one() -> None:
    rng = np.random.default_rng(5)
    for _ in range(20):
        part = rng.normal(size=(6, 6))
        hill = Hill(2.0, 0.02 * rng.normal(size=6), 1e-3 * part @ part.T + 1e-4 * np.eye(6))
        fences = Fences(rng.uniform(-1, 1.1, 4), 0.03 * rng.normal(size=(4, 6)), 6.0)
        low, high = -rng.uniform(0, 6, 6), rng.uniform(0, 6, 6)
        move = best_move(hill, fences, low, high)
        begin = fences.cost(np.zeros(6))
        for scale in (1e-3, 1e-1, 1.0):
            for _ in range(200):
                other = np.clip(move.moves + scale * rng.normal(size=6), low, high)
                assert hill.gain(other) - fences.cost(other) + begin <= move.promise + 1e-6


def test_the_price_of_a_limit_is_what_a_little_more_of_it_would_bring() -> None:
    hill = Hill(2.0, np.array([0.05, 0.02]), np.array([[0.02, 0.005], [0.005, 0.01]]))
    wide = np.full(2, 20.0)

    def promise(used: float) -> float:
        fences = Fences(np.array([used]), np.array([[0.1, 0.05]]), 6.0)
        return best_move(hill, fences, -wide, wide).promise

    fences = Fences(np.array([0.9]), np.array([[0.1, 0.05]]), 6.0)
    price = best_move(hill, fences, -wide, wide).prices[0]
    assert price == pytest.approx((promise(0.899) - promise(0.901)) / 0.002, rel=1e-3)


def test_a_bend_is_learnt_from_slopes_and_from_steps_that_failed() -> None:
    true = np.array([[0.5, 0.2], [0.2, 0.4]])
    hill = first_hill(3.0, np.array([0.6, -0.3]), 12.0)
    move = np.array([1.0, -1.0])
    known = hill.moved(move, 3.0, hill.slope - true @ move, true @ move)
    assert known.bend @ move == pytest.approx(true @ move)
    gain = float(hill.slope @ move - 0.5 * move @ true @ move)
    assert hill.seen(move, gain).gain(move) == pytest.approx(gain, abs=1e-6)


def test_a_bend_that_goes_uphill_is_not_believed() -> None:
    values = np.linalg.eigvalsh(whole(np.diag([1.0, -1.0]), 4.0))
    assert values.min() > 0.0


def test_fences_that_leave_no_inside_are_said_not_to_be_found() -> None:
    table, room = np.array([[1.0], [-1.0]]), np.array([-1.0, -1.0])
    assert not least_within(np.eye(1), np.zeros(1), table, room).found
