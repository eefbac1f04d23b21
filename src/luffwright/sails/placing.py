"""A first guess of where the sails hang, from which the flight starts."""

from __future__ import annotations

import numpy as np
from scipy.optimize import brentq

from luffwright.arrays import FloatArray
from luffwright.frames import cross
from luffwright.sails.cut import Moulded, clew_place
from luffwright.sails.plan import SailCut, SailPlan
from luffwright.sails.setting import Setting

WIDEST = float(np.radians(85.0))
MIRROR = np.array([1.0, -1.0, 1.0])
"""From one side of the boat to the other."""
EASED = 0.25
"""Sheet eased by less than this [m] is taken up by the sail's own give: it starts hard in."""


def _frame(axis: FloatArray, angle: float) -> FloatArray:
    """Return columns (chord, luff, leeward) of a sail whose luff lies along `axis`.

    The chord swings out by `angle` from the boat's middle plane about the luff.
    """
    up = axis / np.linalg.norm(axis)
    aft = np.array([-1.0, 0.0, 0.0]) + up[0] * up
    aft /= np.linalg.norm(aft)
    out = cross(up, aft)
    out = out if out[1] > 0 else -out
    chord = np.cos(angle) * aft + np.sin(angle) * out
    leeward = cross(chord, up)
    leeward = leeward if leeward[1] > 0 else -leeward
    return np.stack([chord, up, leeward], axis=1)


def headsail_axis(plan: SailPlan) -> tuple[FloatArray, FloatArray]:
    """Return the headsail's tack [m] and the direction of its stay.

    Parameters
    ----------
    plan : SailPlan

    Returns
    -------
    (3,) array, (3,) array
        Frame: boat. [m], [-]
    """
    mast = plan.mast
    hounds = np.array(
        [-np.tan(mast.rake) * (plan.forestay.height - mast.foot), 0.0, plan.forestay.height]
    )
    tack = np.array(plan.headsail_gear.tack)
    return tack, (hounds - tack) / np.linalg.norm(hounds - tack)


def lead_place(plan: SailPlan, setting: Setting) -> FloatArray:
    """Return where the headsail sheet's lead stands: its car, or the end of a pole [m].

    Parameters
    ----------
    plan : SailPlan
    setting : Setting

    Returns
    -------
    (3,) array
        Frame: boat. [m]
    """
    if setting.poled:
        return pole_end(plan, setting)
    gear = plan.headsail_gear
    front, aft = np.array(gear.track_front), np.array(gear.track_aft)
    length = float(np.linalg.norm(aft - front))
    share = 0.0 if length < 1e-9 else setting.value("lead") / length
    out = np.array([0.0, setting.value("lead_out"), 0.0])
    place: FloatArray = front + share * (aft - front) + out
    return place


def pole_end(plan: SailPlan, setting: Setting) -> FloatArray:
    """Return where the end of the headsail's pole is held, on the windward side [m].

    Parameters
    ----------
    plan : SailPlan
        With a pole.
    setting : Setting
        Its `pole` in degrees aft of right ahead.

    Returns
    -------
    (3,) array
        As high as its fitting on the mast: the pole lies level, its lift, foreguy and sheet hold
        it there and give nothing. Frame: boat. [m]
    """
    gear, angle = plan.headsail_gear, np.radians(setting.value("pole"))
    ahead = -np.tan(plan.mast.rake) * (gear.pole_height - plan.mast.foot)
    reach = (gear.pole or 0.0) * np.array([np.cos(angle), -np.sin(angle), 0.0])
    return np.array([ahead, 0.0, gear.pole_height]) + reach


def winch_place(plan: SailPlan, setting: Setting) -> FloatArray:
    """Return where the headsail's sheet ends: at the winch on the side on which the sail stands.

    Parameters
    ----------
    plan : SailPlan
    setting : Setting

    Returns
    -------
    (3,) array
        Frame: boat. [m]
    """
    return np.array(plan.headsail_gear.winch) * (MIRROR if setting.poled else 1.0)


def headsail_swing(plan: SailPlan, setting: Setting, clew: FloatArray, tack_height: float) -> float:
    """Return the angle at which a headsail hangs before it flies, to its own side [rad].

    Hard in, it points at its track; with sheet eased it swings until the sheet is taut; with its
    pole out it points at the pole's end.

    Parameters
    ----------
    plan : SailPlan
    setting : Setting
    clew : (3,) array
        Of the moulded sail. Frame: sail. [m]
    tack_height : float
        Of the tack along the stay. [m]

    Returns
    -------
    float
    """
    tack, axis = headsail_axis(plan)
    if setting.poled:
        away = pole_end(plan, setting) - tack
        return float(min(np.arctan2(-away[1], -away[0]), WIDEST))
    gear = plan.headsail_gear
    lead = 0.5 * (np.array(gear.track_front) + np.array(gear.track_aft))
    hard = float(np.clip(np.arctan2(lead[1] + 0.1, tack[0] - lead[0]), 0.05, 0.6))
    whole = clew_at(plan, plan.headsail, hard)
    here = lead_place(plan, setting)
    allowed = float(np.linalg.norm(whole - here)) + setting.value("sheet")
    foot = tack + tack_height * axis

    def spare(angle: float) -> float:
        return float(np.linalg.norm(foot + _frame(axis, angle) @ clew - here)) - allowed

    if setting.value("sheet") < EASED or spare(hard) > 0.0:
        return hard
    return WIDEST if spare(WIDEST) < 0.0 else float(brentq(spare, hard, WIDEST, xtol=1e-3))


def clew_at(plan: SailPlan, cut: SailCut, angle: float) -> FloatArray:
    """Return the headsail's clew when its foot points at an angle [m].

    Parameters
    ----------
    plan : SailPlan
    cut : SailCut
    angle : float
        From the middle plane. [rad]

    Returns
    -------
    (3,) array
        Frame: boat. [m]
    """
    tack, axis = headsail_axis(plan)
    u, v = clew_place(cut)
    place: FloatArray = tack + _frame(axis, angle) @ np.array([u, v, 0.0])
    return place


def boom_swing(plan: SailPlan, setting: Setting) -> float:
    """Return the angle out to which mainsheet and traveller let the boom go [rad].

    Parameters
    ----------
    plan : SailPlan
    setting : Setting

    Returns
    -------
    float
    """
    gear = plan.mainsail_gear
    tack, middle = np.array(gear.tack), np.array(gear.traveller)
    car = middle + np.array([0.0, setting.value("traveller"), 0.0])
    centred = float(np.linalg.norm(tack - np.array([gear.sheet_at, 0.0, 0.0]) - middle))
    allowed = centred + setting.value("mainsheet") / max(gear.sheet_parts, 1.0)

    def spare(angle: float) -> float:
        arm = gear.sheet_at * np.array([-np.cos(angle), np.sin(angle), 0.0])
        return float(np.linalg.norm(tack + arm - car)) - allowed

    nearest = float(np.clip(np.arctan2(car[1], gear.sheet_at), 0.02, 1.3))
    if spare(nearest) > 0.0:
        return nearest
    return WIDEST if spare(WIDEST) < 0.0 else float(brentq(spare, nearest, WIDEST, xtol=1e-3))


def place_headsail(plan: SailPlan, shape: Moulded, setting: Setting) -> FloatArray:
    """Return the headsail's nodes hung on the stay and swung as far as its sheet lets it [m].

    Parameters
    ----------
    plan : SailPlan
    shape : Moulded
    setting : Setting
        Its lead and sheet swing the sail.

    Returns
    -------
    (n, 3) array
        Frame: boat. [m]
    """
    tack, axis = headsail_axis(plan)
    tack = tack + shape.tack_height * axis
    clew = shape.hung[shape.columns - 1]
    swing = headsail_swing(plan, setting, clew, shape.tack_height)
    placed: FloatArray = tack + shape.hung @ _frame(axis, swing).T
    return placed * MIRROR if setting.poled else placed


def place_mainsail(plan: SailPlan, shape: Moulded, setting: Setting) -> FloatArray:
    """Return the mainsail's nodes hung on the mast with the boom where its sheet lets it [m].

    Parameters
    ----------
    plan : SailPlan
    shape : Moulded
    setting : Setting
        Its traveller and mainsheet swing the boom.

    Returns
    -------
    (n, 3) array
        Frame: boat. [m]
    """
    axis = np.array([-np.tan(plan.mast.rake), 0.0, 1.0])
    swing = boom_swing(plan, setting)
    tack = np.array(plan.mainsail_gear.tack) + shape.tack_height * axis / np.linalg.norm(axis)
    placed: FloatArray = tack + shape.hung @ _frame(axis, swing).T
    return placed
