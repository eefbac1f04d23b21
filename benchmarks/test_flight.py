"""The flight of both sails at the default mesh: from nothing, and from a neighbouring state."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import pytest

from luffwright.app.question import MESH, Question, question
from luffwright.app.request import Request
from luffwright.sails.flight import Flight, fly

if TYPE_CHECKING:
    from pytest_benchmark.fixture import BenchmarkFixture

STEP = 0.04
"""How far the headsail sheet is eased between two neighbouring states [m]: half a hand of rope."""


@dataclass(frozen=True)
class Course:
    """A boat close-hauled in 12 knots."""

    asked: Question

    def fly(self, eased: float, near: Flight | None = None) -> Flight:
        """Return the flight with the headsail sheet eased by a length [m]."""
        asked, setting = self.asked, self.asked.setting
        return fly(
            asked.boat.plan, setting.changed(sheet=setting.sheet + eased), asked.stream,
            asked.sheet_zero, mesh=MESH, density=asked.density, near=near,
        )  # fmt: skip


@pytest.fixture(scope="module", params=["marram", "dunlin", "eider"])
def course(request: pytest.FixtureRequest) -> Course:
    """Return one of the school's boats on the wind."""
    return Course(question(Request(boat=request.param, wind_kn=12.0, angle_deg=48.0)))


@pytest.fixture(scope="module")
def near(course: Course) -> Flight:
    """Return the neighbouring state."""
    return course.fly(0.0)


@pytest.mark.benchmark(group="flight")
def test_from_nothing(benchmark: BenchmarkFixture, course: Course) -> None:
    flight = benchmark.pedantic(course.fly, args=(STEP,), rounds=5, warmup_rounds=1)
    assert flight.settled


@pytest.mark.benchmark(group="flight")
def test_from_a_neighbour(benchmark: BenchmarkFixture, course: Course, near: Flight) -> None:
    flight = benchmark.pedantic(course.fly, args=(STEP, near), rounds=9, warmup_rounds=1)
    assert flight.settled


def test_a_neighbour_saves_work(
    course: Course, near: Flight, least_time: Callable[[Callable[[], object], int], float]
) -> None:
    cold = least_time(lambda: course.fly(STEP), 3)
    warm = least_time(lambda: course.fly(STEP, near), 5)
    print(f"\n{course.asked.boat.name}: from nothing {1e3 * cold:.0f} ms in "
          f"{course.fly(STEP).steps} steps, from a neighbour {1e3 * warm:.0f} ms in "
          f"{course.fly(STEP, near).steps}")  # fmt: skip
    assert warm < 0.9 * cold
