"""Where to begin: sheets eased by geometry until the sails stand at an angle for the course.

Only a start for the flight; what comes of it is computed.
"""

from __future__ import annotations

import math

import numpy as np

from luffwright.arrays import FloatArray
from luffwright.sails.cut import moulded
from luffwright.sails.placing import place_headsail
from luffwright.sails.plan import SailPlan
from luffwright.sails.rigging import lead_place
from luffwright.sails.setting import Setting

CLOSE_HAULED = math.radians(27.0)
"""Apparent wind angle for which the marks are made."""
WIDEST_BOOM = math.radians(75.0)
WIDEST_HEADSAIL = math.radians(70.0)


def first_guess(plan: SailPlan, setting: Setting, apparent_angle: float) -> Setting:
    """Return the setting with both sheets eased for an apparent wind.

    Parameters
    ----------
    plan : SailPlan
    setting : Setting
        With the sheets at their close-hauled marks.
    apparent_angle : float
        Bow to apparent wind. [rad]

    Returns
    -------
    Setting
    """
    wider = max(apparent_angle - CLOSE_HAULED, 0.0)
    main = setting.mainsheet + _mainsheet_for(plan, min(0.75 * wider, WIDEST_BOOM))
    head = setting.sheet + _sheet_for(plan, setting, min(0.65 * wider, WIDEST_HEADSAIL))
    high = {entry.name: entry.high for entry in plan.controls}
    return setting.changed(
        mainsheet=min(main, high["mainsheet"]), sheet=min(head, high["sheet"])
    )


def _turned(point: FloatArray, axis: FloatArray, foot: FloatArray, angle: float) -> FloatArray:
    """Return a point turned about an axis by a right-handed angle."""
    along = axis / np.linalg.norm(axis)
    arm = point - foot
    on = along * float(arm @ along)
    off = arm - on
    turned = off * math.cos(angle) + np.cross(along, off) * math.sin(angle)
    return np.asarray(foot + on + turned)


def _mainsheet_for(plan: SailPlan, angle: float) -> float:
    """Return the rope [m] that lets the boom swing out by an angle."""
    gear = plan.mainsail_gear
    tack, car = np.array(gear.tack), np.array(gear.traveller)
    hold = tack + np.array([-gear.sheet_at, 0.0, 0.0])
    up = np.array([0.0, 0.0, 1.0])
    out = _turned(hold, up, tack, -angle)
    longer = float(np.linalg.norm(out - car) - np.linalg.norm(hold - car))
    return max(gear.sheet_parts, 1.0) * longer


def _sheet_for(plan: SailPlan, setting: Setting, angle: float) -> float:
    """Return the rope [m] that lets the clew swing out about the luff by an angle."""
    shape = moulded(plan.headsail, 5, 5)
    nodes = place_headsail(plan, shape, setting).reshape(5, 5, 3)
    tack, head, clew = nodes[0, 0], nodes[-1, 0], nodes[0, -1]
    lead = lead_place(plan, setting)
    out = _turned(clew, head - tack, tack, -angle)
    return float(np.linalg.norm(out - lead) - np.linalg.norm(clew - lead))
