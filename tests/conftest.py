"""What all tests share: how far they sweep."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable

# As in luffwright/__init__.py, for tests that load NumPy first: small matrices, one thread each.
TOO_LATE = "numpy" in sys.modules and "OPENBLAS_NUM_THREADS" not in os.environ
for _threads in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(_threads, "1")

import pytest  # noqa: E402  # plugins may load NumPy
from hypothesis import HealthCheck, settings  # noqa: E402  # as pytest

FULL = os.environ.get("LUFFWRIGHT_SWEEP", "small") == "full"

settings.register_profile(
    "small",
    max_examples=25,
    # Compiling a kernel makes the first example slow; the machine is shared by workers.
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("full", settings.get_profile("small"), max_examples=500)
settings.load_profile("full" if FULL else "small")


def pytest_configure(config: pytest.Config) -> None:
    """Let compiled code be slow: the speed of one kernel is not what a test is about."""
    config.addinivalue_line("filterwarnings", "ignore::numba.core.errors.NumbaPerformanceWarning")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Leave what is marked slow to the full sweep."""
    if FULL:
        return
    leave = pytest.mark.skip(reason="slow: set LUFFWRIGHT_SWEEP=full to run it")
    for item in items:
        if item.get_closest_marker("slow"):
            item.add_marker(leave)


@pytest.fixture(scope="session")
def threads_set_too_late() -> bool:
    """Return whether NumPy was loaded before its libraries were told to use one thread."""
    return TOO_LATE


@pytest.fixture(scope="session")
def sweep_size() -> Callable[[int, int], int]:
    """Return a choice between the size of the daily sweep and that of the full one.

    A test asks for it by name: `for case in cases[: sweep_size(3, 40)]: ...`
    """

    def choose(small: int, full: int) -> int:
        return full if FULL else small

    return choose
