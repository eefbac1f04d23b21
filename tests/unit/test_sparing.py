"""Ropes that bring nothing are let go: what pulling is counted to cost, and what comes of it."""

from __future__ import annotations

from dataclasses import dataclass, fields

import pytest

from luffwright.advice.search import best_setting
from luffwright.advice.sparing import PRICE, Sparing, let_go
from luffwright.advice.task import HeldTask, Reached, SailingTask
from luffwright.app.question import Question, question
from luffwright.app.request import Request
from luffwright.app.trim import task_of
from luffwright.units import from_knots


@pytest.fixture(scope="module")
def held() -> tuple[Question, HeldTask, Reached]:
    """Return the drive at a held speed with backstay and cunningham pulled by halves."""
    asked = question(Request(boat="marram", wind_kn=10.0, angle_deg=60.0, speed_kn=5.5))
    task = task_of(asked)
    assert isinstance(task, HeldTask)
    half = {it.name: 0.5 * it.high for it in task.free if it.name in ("backstay", "cunningham")}
    state = task.sail(asked.setting.changed(**half), asked.stream.wind_angle, None)
    assert state.settled
    return asked, task, state


def test_two_ropes_pulled_by_halves_cost_two_quarters(
    held: tuple[Question, HeldTask, Reached],
) -> None:
    _, task, state = held
    left = Sparing(task).aim(state) / task.aim(state)
    # The vang stands slack.
    assert 1.0 - left == pytest.approx(PRICE * (0.25 + 0.25))
    assert task.aim(state) - Sparing(task).aim(state) == pytest.approx(
        task.merit(state) - Sparing(task).merit(state)
    )


def test_slopes_are_those_of_what_is_sought(held: tuple[Question, HeldTask, Reached]) -> None:
    """By a small difference of the price alone, the drive itself held."""
    _, task, state = held
    names, little = ("sheet", "backstay", "cunningham"), 1e-6
    plain, spared = task.slopes(state, names), Sparing(task).slopes(state, names)
    assert spared.height == pytest.approx(Sparing(task).aim(state))
    high = {it.name: it.high for it in task.free}

    def left(**more: float) -> float:
        at = {name: state.value(name) + more.get(name, 0.0) for name in names[1:]}
        return 1.0 - PRICE * sum((value / high[name]) ** 2 for name, value in at.items())

    for k, name in enumerate(names):
        price = 0.0 if name == "sheet" else (left(**{name: little}) - left()) / little
        wanted = left() * plain.aim[k] + plain.height * price
        assert spared.aim[k] == pytest.approx(wanted, rel=1e-5), name


@dataclass(frozen=True)
class _Telling(HeldTask):
    """A task in which the backstay alone tells: 1 % from slack to its end."""

    def aim(self, state: Reached) -> float:
        high = next(it.high for it in self.free if it.name == "backstay")
        return 100.0 + state.value("backstay") / high

    def merit(self, state: Reached) -> float:
        return self.aim(state)


def test_what_does_not_tell_is_let_go_and_what_tells_stays(
    held: tuple[Question, HeldTask, Reached],
) -> None:
    _, task, state = held
    telling = _Telling(**{it.name: getattr(task, it.name) for it in fields(task)})
    loose, tries = let_go(Sparing(telling), state)
    assert tries == 2
    assert loose.value("backstay") == state.value("backstay") > 0.0
    assert loose.value("cunningham") == 0.0


def test_ropes_that_hold_her_back_are_let_go(held: tuple[Question, HeldTask, Reached]) -> None:
    """At 60° half of the backstay costs drive, by two flights that differ in it alone."""
    _, task, state = held
    free = state.flight.setting.changed(backstay=0.0)
    alone = task.sail(free, state.value("wind_angle"), state, afresh=True)
    assert task.merit(alone) > task.merit(state)
    loose, _ = let_go(Sparing(task), state)
    assert loose.value("backstay") == 0.0


@pytest.mark.parametrize(("wind_kn", "angle"), [(4.5, 90.0), (8.0, 120.0)])
def test_off_the_wind_the_backstay_is_let_go_and_she_is_no_slower(
    wind_kn: float, angle: float
) -> None:
    """Common practice; what eight turns bring there is below what can be told."""
    speeds = {}
    for name, hold in (("free", {}), ("taut", {"backstay": 0.04})):
        asked = question(Request(boat="marram", wind_kn=wind_kn, angle_deg=angle, hold=hold))
        task = task_of(asked)
        assert isinstance(task, SailingTask)
        found = best_setting(task, asked.setting, asked.stream.wind_angle)
        assert found.state.settled
        speeds[name] = task.aim(found.state)
        if name == "free":
            assert found.state.value("backstay") == pytest.approx(0.0, abs=1e-9)
    assert speeds["free"] > speeds["taut"] - from_knots(0.01)
