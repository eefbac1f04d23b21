"""What is not known of a boat that sails: where its controls truly stand, how its sails are cut,
and what wind meets it. One axis for each, with the range over which the mechanics are flown.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from luffwright.advice.area import AREA_CONTROLS
from luffwright.advice.effects import Effects
from luffwright.advice.task import TURN, SailingTask
from luffwright.air.stream import Stream
from luffwright.air.wind import wind_at, wind_profile
from luffwright.arrays import FloatArray
from luffwright.sails.plan import SailCut, SailPlan
from luffwright.sails.setting import Setting

FARTHEST = float(np.radians(8.0))
"""How far from the best trim a control is flown: until it turns or twists a sail by so much [rad],
or changes its depth or draft by what weighs the same."""
DEEPER, DRAFTER = 0.01 / float(np.radians(1.0)), 0.04 / float(np.radians(1.0))
"""Depth and draft [shares of the chord] that weigh as much as a radian of angle."""
OFF_COURSE = float(np.radians(8.0))
"""How far the true wind's angle may be from what is said [rad]."""

Kind = Literal["control", "course", "wind", "cloth"]


@dataclass(frozen=True)
class Axis:
    """One unknown: the ends between which it is flown [its unit], and how far from `middle` it is
    likely to be before anything is seen, `spread` [its unit, one standard deviation].

    `rides`: how far the headsail's sheet goes with one unit of a control, counted from `origin`
    [its unit], to keep the sail's angle low down [m by its unit]: the sheet's own ends are counted
    from there. `slipped`: the spread of a control whose mark is wrong [its unit]; `suits`: whether
    the sheet is believed to be set to suit the others.
    """

    name: str
    kind: Kind
    low: float
    high: float
    middle: float
    spread: float
    rides: float = 0.0
    origin: float = 0.0
    slipped: float = 0.0
    suits: bool = False


CLOTH: tuple[Axis, ...] = (
    Axis("head_camber", "cloth", 0.8, 1.25, 1.0, 0.10),
    Axis("head_draft", "cloth", -0.04, 0.06, 0.0, 0.02),
    Axis("head_shear", "cloth", -1.2, 0.6, 0.0, 0.5),
    Axis("main_camber", "cloth", 0.8, 1.25, 1.0, 0.10),
    Axis("main_draft", "cloth", -0.04, 0.06, 0.0, 0.02),
    Axis("stay", "cloth", -0.35, 0.35, 0.0, 0.12),
)
"""Cut and cloth against the file: depth as a multiple, draft by a share of the chord, stiffness on
the bias as a natural logarithm, the shrouds' and stays' tension at the dock as a share. The twist
sewn into the headsail is none of them: 6° of it either way moved the incidence of a genoa's top by
0.7° and low down by 0.2°, for the loaded leech finds its own."""
WINDS: tuple[Axis, ...] = (
    Axis("wind", "wind", 0.80, 1.25, 1.0, 0.05),
    Axis("gradient", "wind", 0.4, 1.8, 1.0, 0.3),
)
"""Wind at 10 m as a multiple of what is said; growth with height as a multiple of the usual."""
BY_EYE = {"wind": 0.14, "course": float(np.radians(5.0))}
BY_SENSOR = {"wind": 0.05, "course": float(np.radians(2.7))}
"""How far wind and course are off what is said: an instrument that reads up to 4° wrong and a
helmsman who sails 2° high or low; by eye, half a Beaufort and "close-hauled"."""
LOOSE = 0.45
"""Spread of a control of which nobody said where it stands, as a share of half its range."""
MARKED = 0.06
"""Least spread of a control about its mark, as a share of its range."""
SLIPPED = 0.1
"""Share of marks that tell nothing, because a rope was renewed or has crept in its clutch, a car
was counted from the other end, or the file's place for it is wrong: a judgement, not measured."""


def axes_of(task: SailingTask, best: Setting, done: Effects) -> tuple[Axis, ...]:
    """Return every unknown with the range over which it is flown about a boat's best trim.

    Parameters
    ----------
    task : SailingTask
    best : Setting
    done : Effects
        What one step of each control does there.

    Returns
    -------
    tuple of Axis
        Controls, course, wind, cloth. How far a control goes is told with the headsail's sheet set
        to suit: a crew that has its car far off still sheets the sail to its angle.
    """
    weight = np.array([1.0, 1.0, 1.0 / DEEPER, 1.0 / DRAFTER])
    step = {it.name: it.step for it in task.free}
    out = []
    for entry in task.free:
        if entry.name in AREA_CONTROLS or entry.name not in done.names:
            continue
        most = float(np.max(np.abs(done.resheeted(entry.name)) * weight)) / entry.step
        reach = min(FARTHEST / max(most, 1e-9), entry.high - entry.low)
        middle = best.value(entry.name)
        low, high = max(middle - reach, entry.low), min(middle + reach, entry.high)
        rides = done.sheet_with(entry.name) * step.get("sheet", 0.0) / entry.step
        if high - low > entry.step:
            spread = LOOSE * 0.5 * (high - low)
            out.append(Axis(entry.name, "control", low, high, middle, spread, rides, middle))
    turn = Axis(TURN.name, "course", -OFF_COURSE, OFF_COURSE, 0.0, BY_SENSOR["course"])
    return (*out, turn, *WINDS, *CLOTH)


def believed(
    axes: tuple[Axis, ...], steps: Mapping[str, float], given: Mapping[str, float], *,
    instruments: bool,
) -> tuple[Axis, ...]:  # fmt: skip
    """Return the axes with what is believed before anything is seen.

    Parameters
    ----------
    axes : tuple of Axis
    steps : mapping
        One step of each control. [its unit]
    given : mapping
        Where controls stand by their marks. [each its unit]
    instruments : bool
        Whether wind and angle were read from instruments.

    Returns
    -------
    tuple of Axis
        Controls that were given lie about their marks, but for some whose mark is wrong; the
        others anywhere near the best trim, the headsail's sheet set to suit.
    """
    known = BY_SENSOR if instruments else BY_EYE
    out = []
    for it in axes:
        if it.kind == "control" and it.name in given:
            spread = max(0.5 * steps[it.name], MARKED * 0.5 * (it.high - it.low))
            slipped = max(it.spread, spread)
            out.append(replace(it, middle=given[it.name], spread=spread, slipped=slipped))
        elif it.name == "sheet":
            out.append(replace(it, suits=True))
        elif it.kind == "course":
            out.append(replace(it, spread=known["course"]))
        elif it.name == "wind":
            out.append(replace(it, spread=known["wind"]))
        else:
            out.append(it)
    return tuple(out)


def scaled(axes: tuple[Axis, ...], points: FloatArray) -> FloatArray:
    """Return points as shares of the half ranges, -1 to 1 from end to end.

    Parameters
    ----------
    axes : tuple of Axis
    points : (..., axes) array
        Each in its axis' unit. [its unit]

    Returns
    -------
    (..., axes) array
        The headsail's sheet counted from where it suits the other controls. [-]

    Examples
    --------
    >>> scaled((Axis("lead", "control", 0.2, 0.6, 0.3, 0.1),), np.array([[0.3]])).round(2)
    array([[-0.5]])
    """
    low, high = (np.array([getattr(it, end) for it in axes]) for end in ("low", "high"))
    return np.asarray(2.0 * (sheeted(axes, points, -1.0) - low) / (high - low) - 1.0)


def unscaled(axes: tuple[Axis, ...], shares: FloatArray) -> FloatArray:
    """Return the points of shares of the half ranges: the way back from `scaled`.

    Parameters
    ----------
    axes : tuple of Axis
    shares : (..., axes) array
        [-]

    Returns
    -------
    (..., axes) array
        [each its unit]

    Examples
    --------
    A car 0.1 m aft of the middle with 0.4 m of sheet pulled by each metre:

    >>> axes = (
    ...     Axis("sheet", "control", -0.2, 0.2, 0.0, 0.1),
    ...     Axis("lead", "control", 0.2, 0.6, 0.4, 0.1, -0.4, 0.4),
    ... )
    >>> unscaled(axes, np.array([0.0, 0.5])).round(3)
    array([-0.04,  0.5 ])
    """
    low, high = (np.array([getattr(it, end) for it in axes]) for end in ("low", "high"))
    return sheeted(axes, low + 0.5 * (shares + 1.0) * (high - low), 1.0)


def sheeted(axes: tuple[Axis, ...], points: FloatArray, sense: float) -> FloatArray:
    """Return points with the headsail's sheet moved as suits where the other controls stand.

    Parameters
    ----------
    axes : tuple of Axis
    points : (..., axes) array
        [each its unit]
    sense : float
        1 moves the sheet so; -1 takes that off again. [-]

    Returns
    -------
    (..., axes) array
        [each its unit]
    """
    out = np.array(points, dtype=np.float64)
    place = next((k for k, it in enumerate(axes) if it.name == "sheet"), None)
    if place is not None:
        rides, origin = (np.array([getattr(it, end) for it in axes]) for end in ("rides", "origin"))
        out[..., place] += sense * ((points - origin) @ rides)
    return out


def with_cloth(plan: SailPlan, values: Mapping[str, float]) -> SailPlan:
    """Return the boat with other sails and stays.

    Parameters
    ----------
    plan : SailPlan
    values : mapping
        By name of `CLOTH`; what is left out stays. [as there]

    Returns
    -------
    SailPlan
    """
    shear = float(np.exp(values.get("head_shear", 0.0)))
    head = _sewn(plan.headsail, values.get("head_camber", 1.0), values.get("head_draft", 0.0))
    head = replace(head, cloth=replace(head.cloth, shear=shear * head.cloth.shear))
    main = _sewn(plan.mainsail, values.get("main_camber", 1.0), values.get("main_draft", 0.0))
    taut = 1.0 + values.get("stay", 0.0)
    stay = replace(plan.forestay, dock_tension=taut * plan.forestay.dock_tension)
    shrouds = tuple(replace(it, dock_tension=taut * it.dock_tension) for it in plan.shrouds)
    return replace(plan, headsail=head, mainsail=main, forestay=stay, shrouds=shrouds)


def _sewn(cut: SailCut, deeper: float, aft: float) -> SailCut:
    low, middle, top = (deeper * it for it in cut.camber)
    first, second, third = (it + aft for it in cut.draft)
    return replace(cut, camber=(low, middle, top), draft=(first, second, third))


def met_by(stream: Stream, values: Mapping[str, float]) -> Stream:
    """Return the air that truly meets the boat.

    Parameters
    ----------
    stream : Stream
        As it was said.
    values : mapping
        `wind`, `gradient` [-] and `wind_angle`, by how much lower she sails than said. [rad]

    Returns
    -------
    Stream
        Its profile a power law through the usual one's wind at 10 m.
    """
    speed = stream.profile.speed * values.get("wind", 1.0)
    profile = wind_profile(speed)
    low, high = (float(wind_at(profile, np.array([z]))[0]) for z in (2.5, 15.0))
    usual = float(np.log(high / low) / np.log(15.0 / 2.5))
    if "gradient" in values:
        profile = replace(profile, exponent=values["gradient"] * usual)
    angle = stream.wind_angle + values.get(TURN.name, 0.0)
    return replace(stream, profile=profile, wind_angle=angle)
