"""Where to begin: sheets eased by geometry until the sails stand at an angle for the course.

Only a start for the flight; what comes of it is computed.
"""

from __future__ import annotations

import math

import numpy as np

from luffwright.sails.placing import clew_at, lead_place
from luffwright.sails.plan import SailPlan
from luffwright.sails.setting import Setting
from luffwright.sails.sheet_mark import rolled_up, sheeted_as

CLOSE_HAULED = math.radians(27.0)
"""Apparent wind angle for which the marks are made."""
HARD_IN = math.radians(15.0)
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
    main = setting.mainsheet + _mainsheet_for(plan, min(0.5 * wider, WIDEST_BOOM))
    head = setting.sheet + _sheet_for(plan, setting, min(0.15 * wider, WIDEST_HEADSAIL))
    high = {entry.name: entry.high for entry in plan.controls}
    return setting.changed(mainsheet=min(main, high["mainsheet"]), sheet=min(head, high["sheet"]))


def _mainsheet_for(plan: SailPlan, angle: float) -> float:
    """Return the rope [m] that lets the boom swing out by an angle."""
    gear = plan.mainsail_gear
    tack, car = np.array(gear.tack), np.array(gear.traveller)
    out = tack + gear.sheet_at * np.array([-math.cos(angle), math.sin(angle), 0.0])
    hold = tack + np.array([-gear.sheet_at, 0.0, 0.0])
    longer = float(np.linalg.norm(out - car) - np.linalg.norm(hold - car))
    return max(gear.sheet_parts, 1.0) * longer


def _sheet_for(plan: SailPlan, setting: Setting, angle: float) -> float:
    """Return the rope [m] that lets the clew swing out about the luff by an angle."""
    lead = lead_place(plan, setting)
    hard = HARD_IN
    ends = [clew_at(plan, plan.headsail, hard + more) for more in (0.0, angle)]
    return float(np.linalg.norm(ends[1] - lead) - np.linalg.norm(ends[0] - lead))


def resheeted(plan: SailPlan, setting: Setting, furl: float) -> Setting:
    """Return the setting with the headsail rolled up to a share and its sheet longer to suit;
    the lead stays.

    Parameters
    ----------
    plan : SailPlan
    setting : Setting
    furl : float
        Share of the luff perpendicular. [-]

    Returns
    -------
    Setting
    """
    return sheeted_as(plan, setting, setting.changed(furl=furl))


def rolled_to(plan: SailPlan, setting: Setting, furl: float, free: frozenset[str]) -> Setting:
    """Return the setting with the headsail rolled up to a share, as a crew would re-set it.

    Parameters
    ----------
    plan : SailPlan
    setting : Setting
    furl : float
        Share of the luff perpendicular. [-]
    free : set of str
        Controls that may move: the lead goes with its neutral place where it is one of them.

    Returns
    -------
    Setting
        The sheet is longer to suit in any case.
    """
    return (rolled_up if "lead" in free else resheeted)(plan, setting, furl)
