"""The mechanics flown over everything that is not known: one quasi-random sample of a boat."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.stats import qmc

from luffwright.advice.area import AREA_CONTROLS
from luffwright.advice.doubt import Axis, axes_of, met_by, scaled, sheeted, with_cloth
from luffwright.advice.effects import Effects, effects
from luffwright.advice.emulator import NO_SLANTS, Slants
from luffwright.advice.readings import NAMES, readings
from luffwright.advice.search import best_setting
from luffwright.advice.task import TURN, Reached, SailingTask, Slopes
from luffwright.arrays import FloatArray
from luffwright.sails.flight import Flight
from luffwright.sails.setting import Setting
from luffwright.sails.wander import luff_swing
from luffwright.water.equilibrium import Balanced, Course, balance
from luffwright.water.minute import onset

TRIES = 10
"""Settings tried for the trim about which the sample lies: near the best is enough."""
STEPS = 12
"""Steps in which a sampled state balances, or it is left out."""
SEED = 20
LEAST_ARM = 1e-3
"""Share of its range below which a control stands at its end: there is no star's arm that way [-].
"""
NEAR = 0.36
"""How far a state lies from the middle, root mean square over controls and course, to have its
slopes taken too [half ranges]: a sixth to a quarter of them, where boats mostly are."""


@dataclass(frozen=True)
class Plot:
    """What a sample is flown over: where the ropes stand in its middle and the course to the true
    wind there [rad], what one step of each control does, the axes of what is not known, and how far
    the headsail's incidence swings there over a minute, low to top [rad].
    """

    setting: Setting
    course: float
    done: Effects
    axes: tuple[Axis, ...]
    swings: tuple[float, ...] = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Centre:
    """The state in the middle of a sample, and what a little of each control does there."""

    state: Reached
    names: tuple[str, ...]
    slopes: Slopes
    plot: Plot

    @property
    def setting(self) -> Setting:
        """Return where every rope stands there."""
        return self.state.flight.setting

    @property
    def axes(self) -> tuple[Axis, ...]:
        """Return what is not known, and how far it is flown [each its unit]."""
        return self.plot.axes


@dataclass(frozen=True)
class Sample:
    """States flown: `points` (n, axes) [each its unit], `values` (n, names) in the order of
    `readings.NAMES`, of those that settled, and how many were `tried`; `slants`: what the speed
    that counts gains along controls and course, known near the middle [m/s by half a range].
    """

    points: FloatArray
    values: FloatArray
    tried: int
    slants: Slants = NO_SLANTS

    def joined(self, other: Sample) -> Sample:
        """Return both together."""
        ours, theirs = self.slants, other.slants
        return Sample(
            np.vstack([self.points, other.points]), np.vstack([self.values, other.values]),
            self.tried + other.tried,
            Slants(
                np.append(ours.state, theirs.state + len(self.points)),
                np.append(ours.axis, theirs.axis), np.append(ours.rise, theirs.rise),
            ),
        )  # fmt: skip


def centre_of(task: SailingTask, start: Setting, *, turns: bool) -> Centre:
    """Return the state about which a boat's sample lies: trimmed as well as a few tries will do.

    Parameters
    ----------
    task : SailingTask
    start : Setting
        A first guess.
    turns : bool
        Whether the course is searched too, or is the one asked for.

    Returns
    -------
    Centre
    """
    course = task.stream.wind_angle
    return _centre(task, best_setting(task.shorter(TRIES), start, course, turns=turns).state, None)


def centre_again(task: SailingTask, plot: Plot) -> Centre:
    """Return the middle of a sample flown earlier.

    Parameters
    ----------
    task : SailingTask
    plot : Plot

    Returns
    -------
    Centre
    """
    return _centre(task, task.sail(plot.setting, plot.course, None), plot)


def on_course(task: SailingTask, plot: Plot) -> SailingTask:
    """Return the task on the course of a sample's middle.

    Parameters
    ----------
    task : SailingTask
    plot : Plot

    Returns
    -------
    SailingTask
    """
    return replace(task, stream=replace(task.stream, wind_angle=plot.course))


def _centre(task: SailingTask, state: Reached, plot: Plot | None) -> Centre:
    names = tuple(it.name for it in task.free if it.name not in AREA_CONTROLS)
    slopes = task.slopes(state, (*names, TURN.name))
    if plot is None:
        setting = state.flight.setting
        steps = np.array([it.step for it in task.free if it.name in names])
        done = effects(state.flight, names, slopes.places[: len(names)], steps)
        plot = Plot(
            setting, state.value(TURN.name), done, axes_of(task, setting, done),
            _swings(task, state.flight),
        )  # fmt: skip
    return Centre(state, names, slopes, plot)


def _swings(task: SailingTask, flight: Flight) -> tuple[float, ...]:
    if task.at.minute is None:
        return (0.0, 0.0, 0.0)
    swung = onset(task.at.minute, task.at.hull, task.plan, flight.stream)
    return tuple(map(float, luff_swing(flight, swung)))


def points_of(axes: tuple[Axis, ...], count: int) -> FloatArray:
    """Return points over the axes: a star of what the crew moves, then quasi-random ones.

    Parameters
    ----------
    axes : tuple of Axis
    count : int
        [-]

    Returns
    -------
    (count, axes) array
        Each in its axis' unit; the same whenever asked, a smaller sample the beginning of a larger.
        The headsail's sheet goes with the controls that ask for it.

    Notes
    -----
    The star tells what each control and the course do alone. Among points where all else differs
    too that is lost in what the surfaces are off by, and a rope would be told for its noise.

    References
    ----------
    .. [1] Box and Wilson, *On the experimental attainment of optimum conditions*, J. Royal
       Statistical Society B 13, 1951 (central composite design); from memory.
    """
    middle = np.array([it.middle for it in axes])
    star = _star(axes, middle)
    rest = max(count - len(star), 1)
    raw = qmc.Sobol(len(axes), seed=SEED).random_base2((rest - 1).bit_length())[:rest]
    low, high = (np.array([getattr(it, end) for it in axes]) for end in ("low", "high"))
    # Every other point lies evenly, so that nothing is told from beyond what was flown; the rest
    # are drawn in towards the middle by a cube, where the doubt is densest.
    inward = 4.0 * (raw - 0.5) ** 3 + 0.5
    even = low + (high - low) * raw
    reach = np.where(inward < 0.5, middle - low, high - middle)
    inner = middle + 2.0 * (inward - 0.5) * reach
    spread = np.where(np.arange(rest)[:, None] % 2 == 1, even, inner)
    return sheeted(axes, np.vstack([star, spread])[:count], 1.0)


def _star(axes: tuple[Axis, ...], middle: FloatArray) -> FloatArray:
    """Return the middle, and either way from it half as far as each control and the course go."""
    out = [middle]
    for k, it in enumerate(axes):
        if it.kind in ("control", "course"):
            for end in (it.low, it.high):
                arm = 0.5 * (end - it.middle)
                away = abs(arm) > LEAST_ARM * (it.high - it.low)
                out += [middle + arm * np.eye(len(axes))[k]] if away else []
    return np.array(out)


def sailed(task: SailingTask, centre: Centre, point: FloatArray) -> Balanced:
    """Return the boat in balance as a point has it: other ropes, cloth and wind.

    Parameters
    ----------
    task : SailingTask
    centre : Centre
    point : (axes,) array
        [each its unit]

    Returns
    -------
    Balanced
        Solved from where the slopes of the centre lead; from the centre itself where that fails.
    """
    values = dict(zip((it.name for it in centre.axes), map(float, point), strict=True))
    here = centre.setting
    position = {it.name: values[it.name] for it in centre.axes if it.kind == "control"}
    by = np.array(
        [position.get(name, here.value(name)) - here.value(name) for name in centre.names]
    )
    ahead = centre.slopes.ahead(centre.state, np.append(by, values[TURN.name]))
    course = Course(
        with_cloth(task.plan, values), here.changed(**position), met_by(task.stream, values),
        task.sheet_zero, task.mesh, task.density,
    )  # fmt: skip
    found = _from(task, course, ahead)
    return found if found.settled else _from(task, course, centre.state)


def _from(task: SailingTask, course: Course, near: Reached) -> Balanced:
    return balance(course, task.at, near=near.boat, held=task.held, afresh=False, limit=STEPS)


def flown(
    task: SailingTask, centre: Centre, points: FloatArray, *, near: float = NEAR
) -> Sample:  # fmt: skip
    """Return what is seen and felt at points.

    Parameters
    ----------
    task : SailingTask
    centre : Centre
    points : (n, axes) array
        [each its unit]
    near : float
        How far from the middle slopes are taken too, as `NEAR`. [half ranges]

    Returns
    -------
    Sample
        Of those that settled.
    """
    kept: list[FloatArray] = []
    values, states, places, rises = [], [], [], []
    for point in points:
        boat = sailed(task, centre, point)
        if not boat.settled:
            continue
        here = replace(task, plan=boat.course.plan)
        if _away(centre.axes, point) <= near:
            place, rise = _rises(here, centre, boat)
            states += [len(kept)] * len(place)
            places += place
            rises += rise
        kept.append(point)
        values.append(readings(here, boat))
    shape = (len(kept), len(NAMES))
    return Sample(
        np.array(kept).reshape(len(kept), points.shape[1]), np.array(values).reshape(shape),
        len(points),
        Slants(np.array(states, np.int64), np.array(places, np.int64), np.array(rises, float)),
    )  # fmt: skip


def _away(axes: tuple[Axis, ...], point: FloatArray) -> float:
    """Return how far a point lies from the middle in what the crew moves [half ranges]."""
    away = scaled(axes, point) - scaled(axes, np.array([it.middle for it in axes]))
    moved = np.array([it.kind in ("control", "course") for it in axes])
    return float(np.sqrt(np.mean(away[moved] ** 2)))


def _rises(task: SailingTask, centre: Centre, boat: Balanced) -> tuple[list[int], list[float]]:
    """Return which axes the crew moves, and what half the range of each brings [m/s].

    The headsail's sheet rides along with what asks for it, as in the points.
    """
    names = (*centre.names, TURN.name)
    by = dict(zip(names, task.slopes(Reached(boat.flight, boat), names).aim, strict=True))
    out = {
        k: 0.5 * (it.high - it.low) * float(by[it.name] + it.rides * by.get("sheet", 0.0))
        for k, it in enumerate(centre.axes)
        if it.name in by
    }
    return list(out), list(out.values())
