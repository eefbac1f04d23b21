"""The search against trying everything, and from other starts: it has to find the same best.

The four ropes that matter most are free, the others stay at their first guess, the course is held,
so that every place can be tried: first coarsely over what a crew would think of, then by halves
down to single marks around the best place found.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from luffwright.advice.area import NEARLY, RIGGED
from luffwright.advice.search import best_setting
from luffwright.advice.task import Reached, SailingTask
from luffwright.app.question import Question, question
from luffwright.app.request import Request
from luffwright.app.trim import task_of
from luffwright.app.trim_best import best_of
from luffwright.sails.setting import Setting

ROPES = ("sheet", "lead", "mainsheet", "traveller")
WITHIN = 0.001
"""Share of the best speed that the search may miss."""
SHORT_SEARCH = 0.005
"""By what share of the best speed a short search may be off."""
COARSE = {
    "sheet": np.array([-0.08, 0.0, 0.08, 0.16, 0.24]),
    "lead": np.array([0.2, 0.4, 0.6, 0.8, 1.0]),
    "mainsheet": np.array([-0.6, -0.36, -0.12, 0.12, 0.36]),
    "traveller": np.array([-0.4, -0.2, 0.0, 0.2, 0.4]),
}
"""What a crew would think of close-hauled [m]."""


def _task(boat: str, wind_kn: float, free: tuple[str, ...]) -> tuple[Question, SailingTask]:
    """Return the search for the best speed on a course with some ropes free."""
    angle_deg = {"marram": 42.0, "eider": 50.0}[boat]
    first = question(Request(boat=boat, wind_kn=wind_kn, angle_deg=angle_deg))
    hold = {
        entry.name: first.setting.value(entry.name)
        for entry in first.boat.plan.controls
        if entry.name not in free
    }
    # At its first guess the backstay carries too much, whatever is done with the sheets.
    hold |= {name: 0.0 for name in ("backstay",) if name in hold}
    asked = question(Request(boat=boat, wind_kn=wind_kn, angle_deg=angle_deg, hold=hold))
    task = task_of(asked)
    assert isinstance(task, SailingTask)
    return asked, task


def _tried(
    task: SailingTask, base: Setting, angle: float, places: dict[str, np.ndarray]
) -> Reached:
    """Return the best of all places, each solved from the one before it where that leads there."""
    best: Reached | None = None
    near: Reached | None = None
    for values in itertools.product(*places.values()):
        setting = base.changed(**dict(zip(places, map(float, values), strict=True)))
        state = task.sail(setting, angle, near)
        if not state.settled:
            state = task.sail(setting, angle, None)
        near = state if state.settled else near
        if state.settled and (best is None or task.merit(state) > task.merit(best)):
            best = state
    assert best is not None
    return best


def _everything(task: SailingTask, asked: Question, around: slice) -> Reached:
    """Return the best of trying everything: coarsely, then by halves down to single marks.

    `around` tells which of the coarse places are tried.
    """
    angle = asked.stream.wind_angle
    travel = {entry.name: entry for entry in task.free}
    places = {
        name: np.clip(COARSE[name][around], entry.low, entry.high) for name, entry in travel.items()
    }
    best = _tried(task, asked.setting, angle, places)
    apart = {name: COARSE[name][1] - COARSE[name][0] for name in travel}
    while any(apart[name] > 1.01 * travel[name].step for name in travel):
        apart = {name: max(0.5 * it, travel[name].step) for name, it in apart.items()}
        here = {
            name: np.unique(
                np.clip(best.value(name) + apart[name] * np.arange(-1, 2), entry.low, entry.high)
            )
            for name, entry in travel.items()
        }
        found = _tried(task, best.flight.setting, angle, here)
        best = max(best, found, key=task.merit)
    return best


def _compared(boat: str, free: tuple[str, ...], around: slice = slice(None)) -> None:
    asked, task = _task(boat, 12.0, free)
    found = best_setting(task, asked.setting, asked.stream.wind_angle)
    best = _everything(task, asked, around)
    assert found.merit >= (1.0 - WITHIN) * task.merit(best), (
        {name: found.state.value(name) for name in free},
        {name: best.value(name) for name in free},
    )


def test_two_ropes_are_set_as_well_as_by_trying_everything() -> None:
    _compared("marram", ("sheet", "mainsheet"), slice(1, 4))


@pytest.mark.slow
@pytest.mark.parametrize("boat", ["marram", "eider"])
def test_four_ropes_are_set_as_well_as_by_trying_everything(boat: str) -> None:
    _compared(boat, ROPES)


def _elsewhere(asked: Question, rng: np.random.Generator) -> Setting:
    """Return a start some marks away in every rope, as another crew would leave her."""
    there = {}
    for entry in asked.boat.plan.controls:
        if entry.name in RIGGED:
            continue
        far = min(0.3 * (entry.high - entry.low), 8.0 * entry.step)
        off = entry.step * round(rng.uniform(-far, far) / entry.step)
        there[entry.name] = float(
            np.clip(asked.setting.value(entry.name) + off, entry.low, entry.high)
        )
    return asked.setting.changed(**there)


def test_other_starts_lead_to_the_same_best(sweep_size: Callable[[int, int], int]) -> None:
    rng = np.random.default_rng(7)
    asked = question(Request(boat="marram", wind_kn=12.0, angle_deg="upwind"))
    task = task_of(asked)
    assert isinstance(task, SailingTask)
    task = replace(task, held=asked.held)
    angle = asked.stream.wind_angle
    merits = []
    for count in range(sweep_size(2, 5) + 1):
        start = _elsewhere(asked, rng) if count else asked.setting
        merits.append(task.merit(best_of(task, start, angle, turns=True).state))
    assert min(merits) >= (1.0 - WITHIN) * max(merits), merits


def _breeze() -> tuple[Question, SailingTask]:
    """Return the search for the best way to windward in a wind that presses her."""
    asked = question(Request(boat="marram", wind_kn=16.0, angle_deg="upwind"))
    task = task_of(asked)
    assert isinstance(task, SailingTask)
    return asked, replace(task, held=asked.held)


def test_what_is_told_as_nearly_as_fast_is_so_when_searched_in_full() -> None:
    asked, task = _breeze()
    angle = asked.stream.wind_angle
    best = best_setting(task, asked.setting, angle, turns=True)
    assert best.others, "where the limit of heel presses, less sail is tried"
    for other in best.others:
        free = tuple(it for it in task.free if it.name not in RIGGED)
        held = replace(task, free=free)
        found = best_setting(held, other.setting, angle, turns=True)
        assert RIGGED[0] not in found.over.names
        for name in RIGGED:
            if getattr(other.setting, name) is not None:
                assert found.state.value(name) == other.setting.value(name)
        assert found.merit >= (NEARLY - WITHIN) * best.merit, (other, found.merit, best.merit)
        assert abs(found.merit / best.merit - other.share) < SHORT_SEARCH


def test_other_starts_in_a_breeze_end_as_fast(sweep_size: Callable[[int, int], int]) -> None:
    """Several amounts of sail are as fast there: she ends under one of them, within a per cent."""
    rng = np.random.default_rng(7)
    asked, task = _breeze()
    merits = []
    for count in range(sweep_size(2, 5) + 1):
        start = _elsewhere(asked, rng) if count else asked.setting
        found = best_setting(task, start, asked.stream.wind_angle, turns=True)
        merits.append(found.merit)
    assert min(merits) >= NEARLY * max(merits), merits
