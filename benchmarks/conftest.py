"""What the benchmarks share: they run only when asked for, and have a stopwatch.

Times depend on the machine, so nothing here asserts one: what is asserted is a ratio of two times
taken in the same run, with room for a busy machine.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest

import luffwright  # noqa: F401  # sees to the threads of NumPy's libraries before it is loaded


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave everything here to scripts/benchmark, before any boat is flown for it."""
    if config.getoption("benchmark_skip"):
        for item in items:
            item.add_marker(pytest.mark.skip(reason="run scripts/benchmark"))


@pytest.fixture(scope="session")
def least_time() -> Callable[[Callable[[], object], int], float]:
    """Return a stopwatch: the least time of several rounds of a piece of work [s]."""

    def measure(work: Callable[[], object], rounds: int) -> float:
        times = []
        for _ in range(rounds):
            began = time.perf_counter()
            work()
            times.append(time.perf_counter() - began)
        return min(times)

    return measure
