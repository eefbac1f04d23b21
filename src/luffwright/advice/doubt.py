"""What is not known of a boat that sails: where its controls truly stand, how its sails are cut,
and what wind meets it. One axis for each, with the range over which the mechanics are flown.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from luffwright.advice.effects import Effects
from luffwright.advice.search import AREA_CONTROLS
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
    """

    name: str
    kind: Kind
    low: float
    high: float
    middle: float
    spread: float


CLOTH: tuple[Axis, ...] = (
    Axis("head_camber", "cloth", 0.8, 1.25, 1.0, 0.10),
    Axis("head_draft", "cloth", -0.04, 0.06, 0.0, 0.02),
    Axis("head_shear", "cloth", -1.2, 0.6, 0.0, 0.5),
    Axis("main_camber", "cloth", 0.8, 1.25, 1.0, 0.10),
    Axis("main_draft", "cloth", -0.04, 0.06, 0.0, 0.02),
    Axis("stay", "cloth", -0.35, 0.35, 0.0, 0.12),
)
"""Cut and cloth against the file: depth as a multiple, draft by a share of the chord, stiffness on
the bias as a natural logarithm, the shrouds' and stays' tension at the dock as a share."""
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
        Controls, course, wind, cloth.
    """
    weight = np.array([1.0, 1.0, 1.0 / DEEPER, 1.0 / DRAFTER])
    out = []
    for entry in task.free:
        if entry.name in AREA_CONTROLS or entry.name not in done.names:
            continue
        most = float(np.max(np.abs(done.of(entry.name)) * weight)) / entry.step
        reach = min(FARTHEST / max(most, 1e-9), entry.high - entry.low)
        middle = best.value(entry.name)
        low, high = max(middle - reach, entry.low), min(middle + reach, entry.high)
        if high - low > entry.step:
            spread = LOOSE * 0.5 * (high - low)
            out.append(Axis(entry.name, "control", low, high, middle, spread))
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
        Controls that were given lie about their marks; the others anywhere near the best trim.
    """
    known = BY_SENSOR if instruments else BY_EYE
    out = []
    for it in axes:
        if it.kind == "control" and it.name in given:
            spread = max(0.5 * steps[it.name], MARKED * 0.5 * (it.high - it.low))
            out.append(replace(it, middle=given[it.name], spread=spread))
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
        [-]

    Examples
    --------
    >>> scaled((Axis("lead", "control", 0.2, 0.6, 0.3, 0.1),), np.array([[0.3]])).round(2)
    array([[-0.5]])
    """
    low, high = (np.array([getattr(it, end) for it in axes]) for end in ("low", "high"))
    return np.asarray(2.0 * (points - low) / (high - low) - 1.0)


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
