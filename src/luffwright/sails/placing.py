"""A first guess of where the sails hang, from which the flight starts."""

from __future__ import annotations

import numpy as np

from luffwright.arrays import FloatArray
from luffwright.sails.cut import Moulded
from luffwright.sails.plan import SailPlan
from luffwright.sails.setting import Setting


def _frame(axis: FloatArray, angle: float) -> FloatArray:
    """Return columns (chord, luff, leeward) of a sail whose luff lies along `axis`.

    The chord swings out by `angle` from the boat's middle plane about the luff.
    """
    up = axis / np.linalg.norm(axis)
    aft = np.array([-1.0, 0.0, 0.0]) + up[0] * up
    aft /= np.linalg.norm(aft)
    out = np.cross(up, aft)
    out = out if out[1] > 0 else -out
    chord = np.cos(angle) * aft + np.sin(angle) * out
    leeward = np.cross(chord, up)
    leeward = leeward if leeward[1] > 0 else -leeward
    return np.stack([chord, up, leeward], axis=1)


def place_headsail(
    plan: SailPlan,
    shape: Moulded,
    setting: Setting,  # noqa: ARG001
) -> FloatArray:
    """Return the headsail's nodes hung on the stay and swung towards its lead [m].

    Parameters
    ----------
    plan : SailPlan
    shape : Moulded
    setting : Setting
        As for the mainsail; a headsail is placed alike in every setting.

    Returns
    -------
    (n, 3) array
        Frame: boat. [m]
    """
    gear = plan.headsail_gear
    mast = plan.mast
    hounds = np.array(
        [-np.tan(mast.rake) * (plan.forestay.height - mast.foot), 0.0, plan.forestay.height]
    )
    tack = np.array(gear.tack)
    axis = (hounds - tack) / np.linalg.norm(hounds - tack)
    tack = tack + shape.tack_height * axis
    lead = 0.5 * (np.array(gear.track_front) + np.array(gear.track_aft))
    swing = float(np.clip(np.arctan2(lead[1] + 0.1, tack[0] - lead[0]), 0.05, 0.6))
    placed: FloatArray = tack + shape.nodes @ _frame(axis, swing).T
    return placed


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
    gear = plan.mainsail_gear
    axis = np.array([-np.tan(plan.mast.rake), 0.0, 1.0])
    offset = setting.value("traveller") + 0.5 * max(setting.value("mainsheet"), 0.0) / max(
        gear.sheet_parts, 1.0
    )
    swing = float(np.clip(offset / max(gear.sheet_at, 0.5), 0.02, 1.3))
    return np.array(gear.tack) + shape.nodes @ _frame(axis, swing).T
