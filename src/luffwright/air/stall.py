"""First stall model of a strip: how much lift separation takes, and the drag it brings.

Everything hangs on one number, the incidence parameter `a`: A0 of thin-section theory in the flow
that the strip meets, zero when the air enters along the luff's tangent. Kirchhoff's flow past a
plate with its separation point at the share `f` of the chord keeps ((1 + sqrt f) / 2)² of the
attached lift. Far beyond the stall the section is a plate in dead air.
"""

from __future__ import annotations

import numpy as np

from luffwright.arrays import FloatArray

LUFF_LIFTS = 0.0
"""Incidence parameter below which the windward side separates at the luff [rad]."""
LEEWARD_STALLS = 0.11
"""Incidence parameter beyond which the leeward side separates [rad]: there the drag of a measured
arched plate has grown by half (Goettingen 417a at Re 3e5, Lyon, Broeren, Giguere, Gopalarathnam,
Selig, *Summary of Low-Speed Airfoil Data* vol. 3, 1997)."""
LEECH_SEPARATED = 0.80
"""Separation point, share of the chord, ahead of which the leech telltale no longer streams."""
_KNEE, _FRONT, _BACK = 0.135, 0.097, 0.11
_LUFF_WIDTH = 0.05
_SOFT, _ROUND = 0.006, 0.01
_SKIN_DRAG = 0.010


def separation(incidence: FloatArray) -> FloatArray:
    r"""Return the place of leeward separation as a share of the chord, 1 = attached.

    .. math:: f = 1 - 0.3\,e^{(a - a_1)/S_1}\ (a \le a_1),\quad f = 0.04 + 0.66\,e^{(a_1 - a)/S_2}

    with `a_1`, `S_1`, `S_2` fitted to the lift of the arched plate; below zero the luff's windward
    bubble grows and takes the lift with it.

    Parameters
    ----------
    incidence : array
        Incidence parameter `a`, as the belly sees it. [rad]

    Returns
    -------
    array
        Share of the chord. [-]

    References
    ----------
    .. [1] Leishman and Beddoes, *A semi-empirical model for dynamic stall*, J. American Helicopter
       Society 34(3), 1989, eq. 12 (form; from memory).

    Examples
    --------
    >>> separation(np.array([0.0, 0.135, 0.6])).round(2)
    array([0.85, 0.7 , 0.05])
    """
    up = _SOFT * np.logaddexp(0.0, incidence / _SOFT)
    down = incidence - up
    past = 0.5 * (1.0 + np.tanh((up - _KNEE) / (2.0 * _ROUND)))
    front = 1.0 - 0.3 * np.exp(np.minimum(up - _KNEE, 0.05) / _FRONT)
    back = 0.04 + 0.66 * np.exp((_KNEE - np.maximum(up, _KNEE - 0.05)) / _BACK)
    return ((1.0 - past) * front + past * back) * np.exp(down / _LUFF_WIDTH)


def plate_force(incidence: FloatArray) -> FloatArray:
    """Return the normal-force coefficient of a plate in separated flow.

    Hoerner's fit 1 / (0.222 + 0.283 / sin) for plates of great span, taken down to the drag of
    plates of a sail's aspect ratio, 1.2 of 1.98 at right angles.

    Parameters
    ----------
    incidence : array
        Sine of the angle to the stream. [-]

    Returns
    -------
    array

    References
    ----------
    .. [1] Hoerner, *Fluid-Dynamic Drag*, 1965, chapter 3 (from memory).
    """
    sine = np.clip(np.abs(incidence), 1e-6, 1.0)
    return 1.2 / 1.98 * np.sign(incidence) / (0.222 + 0.283 / sine)


def _mix(incidence: FloatArray) -> FloatArray:
    """Return the share of the dead-air plate: 0 below 0.25, 1 beyond 0.6."""
    x = np.clip((incidence - 0.25) / 0.35, 0.0, 1.0)
    return x * x * (3.0 - 2.0 * x)


def _ratio(incidence: FloatArray) -> FloatArray:
    kirchhoff = (0.5 * (1.0 + np.sqrt(separation(incidence)))) ** 2
    sine = np.clip(incidence, 0.0, 1.0)
    plate = plate_force(sine) * np.sqrt(1.0 - sine**2 + 1e-4) / (2.0 * np.pi * (sine + 0.2))
    share = _mix(incidence)
    return np.maximum((1.0 - share) * kirchhoff + share * plate, 0.01)


def lift_ratios(incidence: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the share of the attached lift that is left, and its slope in the incidence.

    Parameters
    ----------
    incidence : array
        Incidence parameter `a`, as the belly sees it. [rad]

    Returns
    -------
    (array, array)
        Ratio [-] and slope [1/rad].
    """
    step = 1e-5
    low, high = _ratio(np.stack([incidence - step, incidence + step]))
    return 0.5 * (low + high), (high - low) / (2.0 * step)


def drag_coefficients(incidence: FloatArray, attached_lift: FloatArray) -> FloatArray:
    """Return the drag of skin and separation on the strip's area.

    In Kirchhoff's flow the force stands square to the plate as far as the leading edge has lost
    its suction, 1 - sqrt f of it.

    Parameters
    ----------
    incidence : array
        Incidence parameter, as the belly sees it. [rad]
    attached_lift : array
        Lift coefficient that attached flow would have. [-]

    Returns
    -------
    array
    """
    point = separation(incidence)
    kirchhoff = (0.5 * (1.0 + np.sqrt(point))) ** 2
    lost = np.abs(attached_lift) * kirchhoff * np.abs(incidence) * (1.0 - np.sqrt(point))
    share = _mix(incidence)
    plate = plate_force(incidence) * np.clip(incidence, 0.0, 1.0)
    return _SKIN_DRAG + (1.0 - share) * np.minimum(lost, 0.5) + share * plate
