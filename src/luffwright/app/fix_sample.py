"""The boat and condition of a `fix` as the mechanics know them: flown on all cores, and kept."""

from __future__ import annotations

from dataclasses import dataclass, replace

from luffwright.advice.area import RIGGED
from luffwright.advice.doubt import scaled
from luffwright.advice.emulator import NO_SLANTS, Slants, Smooth, Surface, smoothness, surface
from luffwright.advice.readings import NAMES
from luffwright.advice.sample import (
    Centre,
    Plot,
    Sample,
    centre_again,
    centre_of,
    on_course,
)
from luffwright.advice.task import Goal, SailingTask
from luffwright.app.fix_hands import Progress, alone, hands, sampled
from luffwright.app.fix_store import forget, keep, kept, key_of
from luffwright.app.question import Question, question
from luffwright.app.request import Request
from luffwright.app.trim import task_of
from luffwright.errors import UnsailableError
from luffwright.units import from_degrees

FIRST, WHOLE = 96, 288
"""States flown for a first answer, and for a good one."""
FIRST_NAME, GROWING_NAME = "-first", "-on"
"""What the store's names of a first sample, and of a whole one not all flown yet, end in."""
JUDGED = 192
"""States from which the smoothness of each quantity is found: more would cost and not change it."""
SLANTED_AT = 40
"""The same for slopes: those of the first states, the star among them."""
JUDGED_BY = ("made_good", "used")
"""What a move is judged by."""
UPWIND, DOWNWIND = from_degrees(60.0), from_degrees(120.0)
"""Up to here she is steered by her tufts, and speed made good counts; likewise from here on."""


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

    @property
    def first(self) -> bool:
        """Return whether the sample is one for a first answer, on the coarse mesh."""
        return self.key.endswith(FIRST_NAME)

    def centre(self) -> Centre:
        """Return the state in the middle of the sample."""
        return _centre(self.key) or _remember(self.key, centre_again(self.task, self.plot))

    def with_more(self, more: Sample) -> Known:
        """Return what is known with states flown besides: speed and limits, by which moves are
        judged, pass through them. What is seen stays as it was told when boats were weighed by it.
        """
        surfaces = self.surfaces
        for state, point in enumerate(scaled(self.plot.axes, more.points)):
            surfaces = surfaces | {
                name: surfaces[name].passing(
                    point,
                    float(more.values[state, NAMES.index(name)]),
                    _slants(name, more).at(state),
                )
                for name in JUDGED_BY
            }
        return replace(self, surfaces=surfaces)


_CENTRES: dict[str, Centre] = {}
"""The last centres flown, by their samples' keys: of a first sample and of the whole behind it."""


def _centre(key: str) -> Centre | None:
    return _CENTRES.get(key)


def _remember(key: str, centre: Centre) -> Centre:
    for old in list(_CENTRES)[:-1]:
        del _CENTRES[old]
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
        States that will do where no more are kept: `FIRST` for a first answer, on a coarse mesh
        about the best trim there. [-]
    processes : int, optional
        How many to work at once; as many as there are cores unless given. [-]

    Returns
    -------
    Known
    """
    asked, task = sailing(request)
    key = key_of(condition(request), asked.boat.file)
    places = [(key, task)]
    if wanted < WHOLE:
        places.append((f"{key}{FIRST_NAME}", task.coarser() or task))
    for name, flies in () if request.refine else places:
        if (found := kept(name)) is not None:
            return _kept(asked, flies, name, *found)
    name, task = places[-1]
    begun = None if request.refine or name != key else kept(f"{key}{GROWING_NAME}")
    with hands(processes) as fly:
        centre = _middle(asked, task, name, None if begun is None else begun[0])
        task = on_course(task, centre.plot)
        before = None if begun is None else begun[1]
        sample = sampled(task, centre, wanted, before, progress, fly)
    smooth = smoothness_of(centre.plot, sample)
    _keep(name, centre.plot, sample, smooth)
    surfaces = surfaces_of(centre.plot, sample, smooth)
    return Known(asked, task, centre.plot, surfaces, sample.tried, False, name)  # noqa: FBT003


def _kept(  # noqa: PLR0913  # what a store holds
    asked: Question, task: SailingTask, key: str, plot: Plot, sample: Sample,
    smooth: tuple[Smooth, ...],
) -> Known:  # fmt: skip
    """Return what is known from a sample that was kept."""
    surfaces = _fitted(key, plot, sample, smooth)
    return Known(asked, on_course(task, plot), plot, surfaces, sample.tried, True, key)  # noqa: FBT003


def _keep(key: str, plot: Plot, sample: Sample, smooth: tuple[Smooth, ...]) -> None:
    """Keep a sample; with a whole one what led up to it is kept no longer."""
    keep(key, plot, sample, smooth)
    if not key.endswith(FIRST_NAME):
        forget(f"{key}{FIRST_NAME}")
        forget(f"{key}{GROWING_NAME}")


def _middle(asked: Question, task: SailingTask, key: str, plot: Plot | None) -> Centre:
    """Return the state in the middle of a sample, of one that was begun or of a new one."""
    if (centre := _centre(key)) is not None:
        return centre
    if plot is None:
        centre = centre_of(task, asked.setting, turns=searched(asked.request))
    else:
        centre = centre_again(task, plot)
    if not centre.state.settled:
        raise UnsailableError(
            "boat", asked.boat.name, "her sails do not settle in this wind on this course",
            "give another course, or take sail in",
        )  # fmt: skip
    return _remember(key, centre)


def flown_further(request: Request, more: int) -> int:
    """Return how many states of the whole sample are flown once `more` have been, beside other
    work.

    Answers go on from the first sample until all are flown: they would jump with each part. None
    of its states is taken over, for they were flown on a coarser mesh.

    Parameters
    ----------
    request : Request
        Of a condition whose first answer was given; elsewhere nothing is flown.
    more : int
        Flown in this process alone; a caller asks again until there are `WHOLE`. [-]

    Returns
    -------
    int

    Raises
    ------
    UnsailableError
        Where her sails settle on the coarse mesh alone.
    """
    asked, task = sailing(request)
    key = key_of(condition(request), asked.boat.file)
    if kept(key) is not None or kept(f"{key}{FIRST_NAME}") is None:
        return WHOLE
    begun = kept(f"{key}{GROWING_NAME}")
    centre = _middle(asked, task, key, None if begun is None else begun[0])
    plot, before = centre.plot, None if begun is None else begun[1]
    wanted = min((0 if before is None else before.tried) + more, WHOLE)
    sample = sampled(on_course(task, plot), centre, wanted, before, None, alone)
    if wanted < WHOLE:
        keep(f"{key}{GROWING_NAME}", plot, sample, ())
    else:
        _keep(key, plot, sample, smoothness_of(plot, sample))
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
