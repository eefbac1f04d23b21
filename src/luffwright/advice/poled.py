"""The headsail on its pole: where to begin, and what may move once it is rigged.

Only starts and travels; what comes of them is computed.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from scipy.optimize import brentq

from luffwright.sails.cut import moulded
from luffwright.sails.placing import headsail_axis, pole_end, winch_place
from luffwright.sails.plan import ControlTravel, SailPlan
from luffwright.sails.setting import Setting

FOREMOST = 35.0
"""Least angle of a rigged pole aft of right ahead [°]: further forward it lies upon the forestay (a
judgement of our own)."""
FULL = 0.93
"""Distance from tack to pole's end at which a foot stands full but not slack, as a share of its
length: an arc of some 17 % depth."""
SLACK = 0.75
"""The same at which it bags: less is no start for the sail (both are judgements of our own)."""
BOWLINE = 0.15
"""Least distance of the clew from the pole's end: knot and shackle [m]."""
AFT_OF = float(np.radians(110.0))
"""Apparent wind from which on a pole is tried: further forward the headsail is not in the
mainsail's lee, and a sail to windward would be aback [rad]."""


def poled(
    plan: SailPlan, setting: Setting, sheet_zero: float, pole: float | None = None
) -> Setting:
    """Return a setting with the headsail held out to windward by its pole.

    Parameters
    ----------
    plan : SailPlan
        With a pole.
    setting : Setting
        The other controls stay where they are.
    sheet_zero : float
        Unstretched headsail sheet from winch to clew at its mark. [m]
    pole : float, optional
        Degrees aft of right ahead; so far that the foot stands full unless given.

    Returns
    -------
    Setting
        The sheet holds the clew at the pole's end, or as near as the foot reaches.
    """
    out = setting.changed(pole=_fitting(plan, setting) if pole is None else pole)
    end, foot = pole_end(plan, out), _foot(plan, out)
    short = max(_reach(plan, out) - FULL * foot, BOWLINE)
    whole = float(np.linalg.norm(end - winch_place(plan, out))) + short
    return out.changed(sheet=whole - sheet_zero)


def square_to(plan: SailPlan, setting: Setting, apparent_angle: float) -> float:
    """Return where a pole begins: square to the apparent wind, as crews set it, as far as the foot
    lets it.

    Parameters
    ----------
    plan : SailPlan
        With a pole.
    setting : Setting
        Its `furl` counts.
    apparent_angle : float
        From the bow. [rad]

    Returns
    -------
    float
        Degrees aft of right ahead, in whole steps of 5°; there the foot is neither slack nor bar
        taut.

    Notes
    -----
    Common practice, without a source.
    """
    least, most = (_fitting(plan, setting, share) for share in (SLACK, FULL))
    square = 5.0 * np.floor((np.degrees(apparent_angle) - 90.0) / 5.0)
    return float(np.clip(square, least, most))


def _foot(plan: SailPlan, setting: Setting) -> float:
    """Return the foot that is not rolled up [m]."""
    shape = moulded(plan.headsail, 5, 5, rolled_share=setting.value("furl"))
    return float(np.linalg.norm(shape.grid[0, -1] - shape.grid[0, 0]))


def _reach(plan: SailPlan, setting: Setting) -> float:
    """Return the distance from the headsail's tack to the pole's end [m]."""
    return float(np.linalg.norm(pole_end(plan, setting) - headsail_axis(plan)[0]))


def _fitting(plan: SailPlan, setting: Setting, share: float = FULL) -> float:
    """Return the pole's angle whose reach is a share of the foot, to whole steps of 5° [°]."""
    want, far = share * _foot(plan, setting), _farthest(plan)

    def spare(pole: float) -> float:
        return _reach(plan, setting.changed(pole=pole)) - want

    if spare(FOREMOST) > 0.0 or spare(far) < 0.0:
        return FOREMOST if spare(FOREMOST) > 0.0 else far
    return float(5.0 * np.floor(brentq(spare, FOREMOST, far, xtol=0.1) / 5.0))


def _farthest(plan: SailPlan) -> float:
    return next(entry.high for entry in plan.controls if entry.name == "pole")


def has_pole(plan: SailPlan) -> bool:
    """Return whether a boat can hold her headsail out to windward."""
    return any(entry.name == "pole" for entry in plan.controls)


def free_with(free: tuple[ControlTravel, ...], setting: Setting) -> tuple[ControlTravel, ...]:
    """Return which controls may move as the pole is rigged.

    Parameters
    ----------
    free : tuple of ControlTravel
    setting : Setting
        With its pole out, or stowed.

    Returns
    -------
    tuple of ControlTravel
        A stowed pole stays stowed; one that is out stays out, and the car has no sheet to lead.
    """
    if not setting.poled:
        return tuple(entry for entry in free if entry.name != "pole")
    return tuple(
        replace(entry, low=FOREMOST) if entry.name == "pole" else entry
        for entry in free
        if entry.name not in ("lead", "lead_out")
    )
