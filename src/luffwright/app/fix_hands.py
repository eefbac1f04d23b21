"""Hands that fly a sample: on all cores, or in this process alone beside other work."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import replace
from functools import partial

from luffwright.advice.sample import Centre, Sample, flown, points_of
from luffwright.advice.task import SailingTask
from luffwright.app.batch import work_alone
from luffwright.arrays import FloatArray

AT_ONCE = 4
"""States a process flies before it tells."""

Progress = Callable[[int, int], None]
"""Told how many states of how many are flown."""
Fly = Callable[[SailingTask, Centre, list[FloatArray]], Iterator[Sample]]
"""Flies parts of a sample, each as its turn comes."""


def sampled(  # noqa: PLR0913
    task: SailingTask, centre: Centre, wanted: int, before: Sample | None,
    progress: Progress | None, fly: Fly,
) -> Sample:  # fmt: skip
    """Return a sample, what was flown of it before taken over.

    Parameters
    ----------
    task : SailingTask
        On the course of the middle.
    centre : Centre
    wanted : int
        States of the whole sample. [-]
    before : Sample, optional
        Its beginning.
    progress : callable, optional
    fly : callable
        `alone`, or what `hands` gives.

    Returns
    -------
    Sample
    """
    done = 0 if before is None else before.tried
    points = points_of(centre.axes, wanted)[done:]
    parts = [points[k : k + AT_ONCE] for k in range(0, len(points), AT_ONCE)]
    found = before
    for part in fly(task, centre, parts):
        found = part if found is None else found.joined(part)
        done += part.tried
        if progress is not None:
            progress(done, wanted)
    assert found is not None  # noqa: S101  # something is always flown
    return replace(found, tried=wanted)


def alone(task: SailingTask, centre: Centre, parts: list[FloatArray]) -> Iterator[Sample]:
    """Return parts flown in this process."""
    return (flown(task, centre, part) for part in parts)


@contextmanager
def hands(processes: int | None) -> Iterator[Fly]:
    """Give what flies on as many processes, which load while the middle is still sought.

    Parameters
    ----------
    processes : int, optional
        As many as there are cores unless given; with one all is flown in this process. [-]

    Yields
    ------
    callable
    """
    count = processes or os.cpu_count() or 1
    if count == 1:
        yield alone
        return
    # Started afresh, because compiled code with threads does not survive a fork.
    fresh = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(count, mp_context=fresh, initializer=work_alone) as pool:
        for _ in range(count):
            pool.submit(_loaded)
        yield lambda task, centre, parts: pool.map(partial(flown, task, centre), parts)


def _loaded() -> None:
    """Do nothing: a process that is asked to has this module loaded."""
