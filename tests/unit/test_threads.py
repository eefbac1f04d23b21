"""One thread for the small matrices of a flight: two that wait for each other are far slower."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

TELL = "import os, luffwright; print(os.environ['OPENBLAS_NUM_THREADS'])"


@pytest.mark.parametrize(("asked", "told"), [(None, "1"), ("2", "2")])
def test_the_package_asks_for_one_thread_unless_told_otherwise(
    asked: str | None, told: str
) -> None:
    kept = {name: value for name, value in os.environ.items() if name != "OPENBLAS_NUM_THREADS"}
    wanted = {} if asked is None else {"OPENBLAS_NUM_THREADS": asked}
    path = os.pathsep.join(sys.path)
    done = subprocess.run(
        [sys.executable, "-c", TELL], env=kept | wanted | {"PYTHONPATH": path},
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert done.stdout.strip() == told


def test_the_tests_ask_for_it_before_numpy_is_loaded(threads_set_too_late: bool) -> None:
    assert not threads_set_too_late
