"""The boat and condition of a `fix` as the mechanics know them: flown on all cores, and kept."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import partial

from luffwright.advice.doubt import scaled
from luffwright.advice.emulator import NO_SLANTS, Slants, Smooth, Surface, smoothness, surface
from luffwright.advice.readings import NAMES
from luffwright.advice.sample import (
    Centre,
    Plot,
    Sample,
    centre_again,
    centre_of,
    flown,
    on_course,
    points_of,
)
from luffwright.advice.search import RIGGED
from luffwright.advice.task import Goal, SailingTask
from luffwright.app.batch import work_alone
from luffwright.app.fix_store import forget, keep, kept, key_of
from luffwright.app.question import Question, question
from luffwright.app.request import Request
from luffwright.app.trim import task_of
from luffwright.arrays import FloatArray
from luffwright.errors import UnsailableError
from luffwright.units import from_degrees

COARSE, WHOLE = 96, 288
"""States flown for a first answer, and for a good one."""
AT_ONCE = 8
"""States a process flies before it tells."""
JUDGED = 192
"""States from which the smoothness of each quantity is found: more would cost and not change it."""
SLANTED_AT = 40
"""The same for slopes: those of the first states, the star among them."""
UPWIND, DOWNWIND = from_degrees(60.0), from_degrees(120.0)
"""Up to here she is steered by her tufts, and speed made good counts; likewise from here on."""

Progress = Callable[[int, int], None]
"""Told how many states of how many are flown."""


@dataclass(frozen=True)
class Known:
    """A boat in a condition: what is asked, its task, the sample's plot and its surfaces."""

    asked: Question
    task: SailingTask
    plot: Plot
    surfaces: dict[str, Surface]
    flown: int
    from_store: bool
    key: str

    def centre(self) -> Centre:
        """Return the state in the middle of the sample."""
        return _centre(self.key) or _remember(self.key, centre_again(self.task, self.plot))


_CENTRES: dict[str, Centre] = {}
"""The last centre flown, by its sample's key."""


def _centre(key: str) -> Centre | None:
    return _CENTRES.get(key)


def _remember(key: str, centre: Centre) -> Centre:
    _CENTRES.clear()
    _CENTRES[key] = centre
    return centre


def condition(request: Request) -> Request:
    """Return what of a request belongs to the boat and its condition, and not to one moment."""
    names = set(Request.model_fields) - {
        "controls", "hold", "speed_kn", "heel_deg", "leeway_deg", "untouched_from", "refine",
        "range_kn", "aim", "tack",
    }  # fmt: skip
    fields = {name: getattr(request, name) for name in names}
    area = {name: it for name, it in request.controls.items() if name in RIGGED}
    for name in ("angle_deg", "apparent_angle_deg"):
        if isinstance(fields[name], float):
            fields[name] = abs(fields[name])
    return Request(**fields, controls=area)


def sailing(request: Request) -> tuple[Question, SailingTask]:
    """Return the question of a condition, and the task whose speed counts."""
    asked = question(condition(request))
    task = task_of(asked)
    assert isinstance(task, SailingTask)  # noqa: S101  # no speed is held in a condition
    angle, goal = asked.stream.wind_angle, "speed"
    goal = "upwind" if angle <= UPWIND else "downwind" if angle >= DOWNWIND else goal
    names: dict[str, Goal] = {"upwind": "upwind", "downwind": "downwind", "speed": "speed"}
    free = tuple(it for it in task.free if it.name not in RIGGED)
    return asked, replace(task, free=free, goal=names[goal])


def searched(request: Request) -> bool:
    """Return whether no course is given, so that the best one is searched."""
    given = isinstance(request.angle_deg, float) or request.apparent_angle_deg is not None
    return not given


def known(
    request: Request, progress: Progress | None = None, *, wanted: int = WHOLE,
    processes: int | None = None,
) -> Known:  # fmt: skip
    """Return what the mechanics know of the boat in this condition, flown now or kept from before.

    Parameters
    ----------
    request : Request
    progress : callable, optional
    wanted : int
        States that will do where no more are kept: `COARSE` for a first answer. [-]
    processes : int, optional
        How many to work at once; as many as there are cores unless given. [-]

    Returns
    -------
    Known
    """
    asked, task = sailing(request)
    key = key_of(condition(request), asked.boat.file)
    found = None if request.refine else kept(key)
    if found is not None and found[1].tried >= wanted:
        plot, sample, smooth = found
        task, surfaces = on_course(task, plot), _fitted(key, plot, sample, smooth)
        return Known(asked, task, plot, surfaces, sample.tried, True, key)  # noqa: FBT003
    if found is None:
        centre = centre_of(task, asked.setting, turns=searched(request))
    else:
        centre = _centre(key) or centre_again(task, found[0])
    if not centre.state.settled:
        raise UnsailableError(
            "boat", asked.boat.name, "her sails do not settle in this wind on this course",
            "give another course, or take sail in",
        )  # fmt: skip
    _remember(key, centre)
    task = on_course(task, centre.plot)
    before = None if found is None else found[1]
    sample = _sampled(task, centre, wanted, before, progress, processes)
    smooth = smoothness_of(centre.plot, sample)
    keep(key, centre.plot, sample, smooth)
    surfaces = surfaces_of(centre.plot, sample, smooth)
    return Known(asked, task, centre.plot, surfaces, sample.tried, False, key)  # noqa: FBT003


def flown_further(request: Request, more: int) -> int:
    """Return how many states are flown once `more` have been, beside other work.

    Answers go on from the sample that is kept until all are flown: they would jump with each part.

    Parameters
    ----------
    request : Request
        Of a condition whose first answer was given; elsewhere nothing is flown.
    more : int
        Flown in this process alone; a caller asks again until there are `WHOLE`. [-]

    Returns
    -------
    int
    """
    asked, task = sailing(request)
    key = key_of(condition(request), asked.boat.file)
    first, growing = kept(key), f"{key}-on"
    if first is None or first[1].tried >= WHOLE:
        return WHOLE
    plot, before, smooth = kept(growing) or first
    centre = _centre(key) or _remember(key, centre_again(task, plot))
    wanted = min(before.tried + more, WHOLE)
    sample = _sampled(on_course(task, plot), centre, wanted, before, None, 1)
    if wanted < WHOLE:
        keep(growing, plot, sample, smooth)
    else:
        keep(key, plot, sample, smoothness_of(plot, sample))
        forget(growing)
    return wanted


_SURFACES: dict[tuple[str, int], dict[str, Surface]] = {}
"""The last surfaces fitted, by their sample's key and size."""


def _fitted(key: str, plot: Plot, sample: Sample, smooth: tuple[Smooth, ...]) -> dict[str, Surface]:
    """Return the surfaces of a sample that was kept, fitted once as long as the program runs."""
    if (key, sample.tried) not in _SURFACES:
        found = surfaces_of(plot, sample, smooth)
        _SURFACES.clear()
        _SURFACES[key, sample.tried] = found
    return _SURFACES[key, sample.tried]


def smoothness_of(plot: Plot, sample: Sample) -> tuple[Smooth, ...]:
    """Return how smooth each reading is over the sample."""
    points = scaled(plot.axes, sample.points[:JUDGED])
    return tuple(
        smoothness(points, sample.values[:JUDGED, k], _slants(name, sample, SLANTED_AT))
        for k, name in enumerate(NAMES)
    )


def surfaces_of(plot: Plot, sample: Sample, smooth: tuple[Smooth, ...]) -> dict[str, Surface]:
    """Return the emulator: a surface for each reading, by its name."""
    points = scaled(plot.axes, sample.points)
    return {
        name: surface(points, sample.values[:, k], smooth[k], _slants(name, sample))
        for k, name in enumerate(NAMES)
    }


def _slants(name: str, sample: Sample, first: int | None = None) -> Slants:
    """Return the slopes that are known of a reading, at the first states only if so asked."""
    if name != "made_good":
        return NO_SLANTS
    return sample.slants if first is None else sample.slants.of(first)


def _sampled(  # noqa: PLR0913
    task: SailingTask, centre: Centre, wanted: int, before: Sample | None,
    progress: Progress | None, processes: int | None,
) -> Sample:  # fmt: skip
    """Return a sample, what was flown of it before taken over."""
    done = 0 if before is None else before.tried
    points = points_of(centre.axes, wanted)[done:]
    parts = [points[k : k + AT_ONCE] for k in range(0, len(points), AT_ONCE)]
    found = before
    for part in _flown(task, centre, parts, processes):
        found = part if found is None else found.joined(part)
        done += part.tried
        if progress is not None:
            progress(done, wanted)
    assert found is not None  # noqa: S101  # something is always flown
    return replace(found, tried=wanted)


def _flown(
    task: SailingTask, centre: Centre, parts: list[FloatArray], processes: int | None
) -> Iterator[Sample]:
    count = processes or os.cpu_count() or 1
    if count == 1:
        yield from (flown(task, centre, part) for part in parts)
        return
    # Started afresh, because compiled code with threads does not survive a fork.
    fresh = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(count, mp_context=fresh, initializer=work_alone) as pool:
        yield from pool.map(partial(flown, task, centre), parts)
