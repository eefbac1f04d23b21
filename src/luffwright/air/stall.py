"""Stall of a strip: where the flow leaves it, how much lift that takes, and the drag it brings.

Two numbers of thin-section theory, in the flow that the strip meets, say it all: the incidence
parameter `a` = A0, zero when the air enters along the luff's tangent, and the camber's load `b` =
A1, four times the camber of an arc. Both press the leeward flow off: the incidence by the suction
behind the luff, the camber by the rise of pressure over the leech half. Free-streamline theory
says what a section keeps of the lift of either when its flow leaves at the share `f` of the chord.
Far beyond the stall the section is a plate in dead air.
"""

from __future__ import annotations

import numpy as np

from luffwright.arrays import FloatArray

LUFF_LIFTS = 0.0
"""Incidence parameter below which the windward side separates at the luff [rad]."""
LEEWARD_STALLS = 0.11
"""Incidence parameter beyond which the leeward side separates [rad]: there the drag of a measured
arched plate has grown by half (Goettingen 417a at Re 3e5, Lyon, Broeren, Giguere, Gopalarathnam,
Selig, *Summary of Low-Speed Airfoil Data* vol. 3, 1997). That is what the plate's nose, 3 % thick,
can hold; on a thinner luff the bubble reaches a tuft sooner, see `bubble.reaches`."""
LEECH_SEPARATED = 0.80
"""Separation point, share of the chord, ahead of which the leech telltale no longer streams."""
ARCHED_PLATE = np.array(0.217)
"""Camber load of the arched plate 417a, 5.9 % deep [-]."""
_BY_CAMBER = 0.8
_BY_INCIDENCE, _LATE = 4.66, 121.0
_DEAD = 0.04
_LUFF_WIDTH = 0.07
_SOFT = 0.006
_LITTLE = 0.02
_SKIN_DRAG = 0.010


def _parts(incidence: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the incidence's leeward (above zero) and windward (below) part, smoothly divided."""
    up = _SOFT * np.logaddexp(0.0, incidence / _SOFT)
    return up, incidence - up


def _positive(camber: FloatArray) -> FloatArray:
    return 0.5 * (camber + np.sqrt(camber**2 + _LITTLE**2))


def _leeward(incidence: FloatArray, camber: FloatArray) -> FloatArray:
    square = np.minimum(_parts(incidence)[0], 1.0) ** 2
    pressed = (_BY_INCIDENCE + _LATE * square) * square + _BY_CAMBER * _positive(camber) ** 2
    return _DEAD + (1.0 - _DEAD) * np.exp(-pressed)


def separation(incidence: FloatArray, camber: FloatArray = ARCHED_PLATE) -> FloatArray:
    r"""Return the place of separation as a share of the chord, 1 = attached.

    .. math:: f = 0.04 + 0.96\,e^{-(4.66 a^2 + 121 a^4 + 0.8 b^2)}

    The law of `a` is fitted to the lift of the arched plate, that of `b` to the lift at small
    incidence of that plate (5.9 % deep) and of two thicker, deeper sections (8.7 and 10 %).
    Below zero the luff's windward bubble grows and takes the lift with it.

    Parameters
    ----------
    incidence : array
        Incidence parameter `a`, as the belly sees it. [rad]
    camber : array, optional
        Camber load `b`, as the belly sees it; that of the arched plate if not given. [-]

    Returns
    -------
    array
        Share of the chord. [-]

    Notes
    -----
    Fitted for `b` up to 0.5 (13 % deep); deeper is extrapolated.

    References
    ----------
    .. [1] Lyon and others, *Summary of Low-Speed Airfoil Data* vol. 3, 1997: GOE 417a, Re 3e5.
    .. [2] The same authors' lift of E423 (Re 3e5) and S1223 (Re 2e5), vol. 2, 1996: 0.80 and 0.70
       of thin-section theory at 4 degrees.

    Examples
    --------
    >>> separation(np.array([0.02, 0.16, 0.6])).round(2)
    array([0.96, 0.8 , 0.04])
    >>> separation(np.array(0.02), np.array(0.6)).round(2)
    np.float64(0.76)
    """
    return _leeward(incidence, camber) * np.exp(_parts(incidence)[1] / _LUFF_WIDTH)


def kept_lift(point: FloatArray) -> tuple[FloatArray, FloatArray]:
    r"""Return the shares that are kept of the incidence's and of the camber's lift.

    .. math:: r_0 = h^2,\quad r_1 = h^2 (12 m^2 + 3 h^2 - 2),\quad
              h = \tfrac12 (1 + \sqrt f),\ m = \tfrac12 (1 - \sqrt f)

    Dead air at the stream's pressure leaves the leeward side at `f` and the windward side at the
    leech. In the root of the chordwise coordinate that is a section of chord 1 + sqrt f in an
    unbroken plane: the incidence gives Kirchhoff's plate, the arc's slope 1 - 2x the other share.

    Parameters
    ----------
    point : array
        Separation point, share of the chord. [-]

    Returns
    -------
    (array, array)

    References
    ----------
    .. [1] Thwaites (ed.), *Incompressible Aerodynamics*, 1960, chapter IV (plate; from memory).

    Examples
    --------
    An arc whose flow leaves at nine tenths of its chord has lost a fifth of its lift:

    >>> [float(np.round(share, 2)) for share in kept_lift(np.array(0.9))]
    [0.95, 0.81]
    """
    root = np.sqrt(point)
    plus, minus = (0.5 * (1.0 + root)) ** 2, (0.5 * (1.0 - root)) ** 2
    return plus, plus * (12.0 * minus + 3.0 * plus - 2.0)


def wake_drag(point: FloatArray, camber: FloatArray) -> FloatArray:
    r"""Return the drag coefficient of the dead air behind a cambered section at its ideal angle.

    .. math:: c_d = 2\pi\,m^2 (2 m^2 + 3 h^2 - 1)^2\,b^2

    Free-streamline theory as in `kept_lift`: the dead air widens as a parabola, and its nose is
    the drag. The suction of real dead air is left out.

    Parameters
    ----------
    point : array
        Separation point, share of the chord. [-]
    camber : array
        Camber load. [-]

    Returns
    -------
    array
    """
    root = np.sqrt(point)
    plus, minus = (0.5 * (1.0 + root)) ** 2, (0.5 * (1.0 - root)) ** 2
    return 2.0 * np.pi * minus * ((2.0 * minus + 3.0 * plus - 1.0) * camber) ** 2


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


def _streaming(incidence: FloatArray, camber: FloatArray) -> FloatArray:
    """Return the lift ratio while the section still streams, by either side's separation."""
    up, down = _parts(incidence)
    bend = _positive(camber)
    flat, bent = kept_lift(_leeward(incidence, camber))
    whole = 2.0 * up + bend + _LITTLE
    windward, _ = kept_lift(np.exp(down / _LUFF_WIDTH))
    return windward * ((2.0 * up + _LITTLE) * flat + bend * bent) / whole


def _ratio(incidence: FloatArray, camber: FloatArray) -> FloatArray:
    sine = np.maximum(incidence, 0.0)
    # The wash of the others can carry the sine past one: the cosine fades there without a corner.
    cosine = np.sqrt(_positive(1.0 - sine**2))
    plate = plate_force(sine) * cosine / (2.0 * np.pi * (sine + 0.2))
    share = _mix(incidence)
    return np.maximum((1.0 - share) * _streaming(incidence, camber) + share * plate, 0.01)


def lift_ratios(
    incidence: FloatArray, camber: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return the share of the attached lift that is left, and its slopes.

    Parameters
    ----------
    incidence : array
        Incidence parameter `a`, as the belly sees it. [rad]
    camber : array
        Camber load `b`, as the belly sees it. [-]

    Returns
    -------
    (array, array, array)
        Ratio [-], its slope in the incidence [1/rad] and in the camber load [-].
    """
    step = 1e-5
    across = np.array([[-step], [step], [0.0], [0.0]])
    low, high, more, less = _ratio(incidence + across, camber + across[::-1])
    return 0.5 * (low + high), (high - low) / (2.0 * step), (more - less) / (2.0 * step)


def drag_coefficients(
    incidence: FloatArray, camber: FloatArray, attached_lift: FloatArray
) -> FloatArray:
    """Return the drag of skin and separation on the strip's area.

    The force stands square to the plate as far as the leading edge has lost its suction, 1 - sqrt f
    of it in Kirchhoff's flow; the camber's part is the drag of its dead air.

    Parameters
    ----------
    incidence : array
        Incidence parameter, as the belly sees it. [rad]
    camber : array
        Camber load, as the belly sees it. [-]
    attached_lift : array
        Lift coefficient that attached flow would have. [-]

    Returns
    -------
    array
    """
    point = separation(incidence, camber)
    kept = np.abs(attached_lift) * _streaming(incidence, camber)
    lost = kept * np.abs(incidence) * (1.0 - np.sqrt(point))
    streaming = np.minimum(lost, 0.5) + wake_drag(point, _positive(camber))
    share = _mix(incidence)
    plate = plate_force(incidence) * np.clip(incidence, 0.0, 1.0)
    return _SKIN_DRAG + (1.0 - share) * streaming + share * plate


def drag_slopes(
    incidence: FloatArray, camber: FloatArray, attached_lift: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return the slopes of `drag_coefficients` in its three arguments, at (s,) strips.

    Parameters
    ----------
    incidence : array
        Incidence parameter, as the belly sees it. [rad]
    camber : array
        Camber load, as the belly sees it. [-]
    attached_lift : array
        Lift coefficient that attached flow would have. [-]

    Returns
    -------
    (array, array, array)
        By incidence [1/rad], by camber load [-], by lift [-].
    """
    step = 1e-5
    turn = step * np.vstack([np.eye(3), -np.eye(3)])[:, :, None]
    drag = drag_coefficients(
        incidence + turn[:, 0], camber + turn[:, 1], attached_lift + turn[:, 2]
    )
    by_incidence, by_camber, by_lift = (drag[:3] - drag[3:]) / (2.0 * step)
    return by_incidence, by_camber, by_lift
