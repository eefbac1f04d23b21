"""Stall of a strip: where the flow leaves it, how much lift that takes, and the drag it brings.

Three numbers say it all: two of thin-section theory in the flow that the strip meets, the incidence
parameter `a` = A0, zero when the air enters along the luff's tangent, and the camber's load `b` =
A1, four times the camber of an arc; and `n`, the incidence that the nose of the luff holds. The
camber presses the leeward flow off by the rise of pressure over the leech half, the incidence by
the suction behind the luff: little while the nose holds, more behind a short bubble, and much once
that has burst and the edge loses its suction. Free-streamline theory says what a section keeps of
the lift of either when its flow leaves at the share `f` of the chord. Far beyond the stall the
section is a plate in dead air.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.air.bubble import lost_suction
from luffwright.air.nose import BURSTS, THICKEST, beyond_nose, nose_holds
from luffwright.arrays import FloatArray

LEECH_SEPARATED = 0.80
"""Separation point, share of the chord, ahead of which the leech telltale no longer streams."""
ARCHED_PLATE = np.array(0.217)
"""Camber load of the arched plate 417a, 5.9 % deep [-]."""
PLATE_HOLDS = nose_holds(np.array(THICKEST))
"""What the nose of that plate holds [rad]: its radius is 1.5 % of the chord, its sides at 1.25 %
being 1.55 and 1.40 % off the line."""
_BY_CAMBER = 0.8
_BY_INCIDENCE, _SHORT, _OPEN = 5.8, 3.7, 12.0
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


@dataclass(frozen=True)
class _Leeward:
    """The leeward flow: where it leaves, a share of the chord, and the suction lost [rad²]."""

    point: FloatArray
    lost: FloatArray


def _leeward(incidence: FloatArray, camber: FloatArray, holds: FloatArray) -> _Leeward:
    up, bend = np.minimum(_parts(incidence)[0], 1.0), _positive(camber)
    lost = lost_suction(up, bend, BURSTS * holds)
    behind = beyond_nose(up, holds)
    pressed = _BY_INCIDENCE * up**2 + _SHORT * behind**2 + _OPEN * lost + _BY_CAMBER * bend**2
    return _Leeward(_DEAD + (1.0 - _DEAD) * np.exp(-pressed), lost)


def separation(
    incidence: FloatArray, camber: FloatArray = ARCHED_PLATE, holds: FloatArray = PLATE_HOLDS
) -> FloatArray:
    r"""Return the place of separation as a share of the chord, 1 = attached.

    .. math:: f = 0.04 + 0.96\,e^{-(5.8 a^2 + 3.7 (a^2 - n^2)_+ + 12 a_l^2 + 0.8 b^2)}

    with :math:`a_l^2` from `lost_suction` beyond :math:`2 n`, where the short bubble bursts. The
    first three coefficients are fitted to the lift of the arched plate up to 19 degrees, the last
    to the lift at small incidence of that plate (5.9 % deep) and of two thicker, deeper sections
    (8.7 and 10 %); flat plates with a sharp edge were not fitted. Below zero the luff's windward
    bubble grows and takes the lift with it.

    Parameters
    ----------
    incidence : array
        Incidence parameter `a`, as the belly sees it. [rad]
    camber : array, optional
        Camber load `b`, as the belly sees it; that of the arched plate if not given. [-]
    holds : array, optional
        What the nose holds, `n`; that of the arched plate if not given. [rad]

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
    array([0.96, 0.79, 0.04])
    >>> separation(np.array(0.02), np.array(0.6)).round(2)
    np.float64(0.76)

    Behind a thin luff the flow leaves much sooner:

    >>> separation(np.array(0.16), holds=np.array(0.04)).round(2)
    np.float64(0.63)
    """
    point = _leeward(incidence, camber, holds).point
    return point * np.exp(_parts(incidence)[1] / _LUFF_WIDTH)


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


def plate_share(incidence: FloatArray) -> FloatArray:
    """Return how far a section is a plate in dead air: 0 below 0.25, 1 beyond 0.6.

    Parameters
    ----------
    incidence : array
        Incidence parameter, or the sine of the angle to the stream. [-]

    Returns
    -------
    array
        [-]

    Notes
    -----
    The window is an estimate of our own.
    """
    x = np.clip((incidence - 0.25) / 0.35, 0.0, 1.0)
    return x * x * (3.0 - 2.0 * x)


def _streaming(
    incidence: FloatArray, camber: FloatArray, holds: FloatArray
) -> tuple[FloatArray, _Leeward]:
    """Return the lift ratio while the section still streams, and the flow to leeward."""
    up, down = _parts(incidence)
    bend = _positive(camber)
    leeward = _leeward(incidence, camber, holds)
    flat, bent = kept_lift(leeward.point)
    whole = 2.0 * up + bend + _LITTLE
    windward, _ = kept_lift(np.exp(down / _LUFF_WIDTH))
    return windward * ((2.0 * up + _LITTLE) * flat + bend * bent) / whole, leeward


def _ratio(incidence: FloatArray, camber: FloatArray, holds: FloatArray) -> FloatArray:
    sine = np.maximum(incidence, 0.0)
    # The wash of the others can carry the sine past one: the cosine fades there without a corner.
    cosine = np.sqrt(_positive(1.0 - sine**2))
    plate = plate_force(sine) * cosine / (2.0 * np.pi * (sine + 0.2))
    share = plate_share(incidence)
    streaming, _ = _streaming(incidence, camber, holds)
    return np.maximum((1.0 - share) * streaming + share * plate, 0.01)


def lift_ratios(
    incidence: FloatArray, camber: FloatArray, holds: FloatArray = PLATE_HOLDS
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return the share of the attached lift that is left, and its slopes.

    Parameters
    ----------
    incidence : array
        Incidence parameter `a`, as the belly sees it. [rad]
    camber : array
        Camber load `b`, as the belly sees it. [-]
    holds : array, optional
        What the nose holds; that of the arched plate if not given. [rad]

    Returns
    -------
    (array, array, array)
        Ratio [-], its slope in the incidence [1/rad] and in the camber load [-].
    """
    step = 1e-5
    across = np.array([[-step], [step], [0.0], [0.0]])
    low, high, more, less = _ratio(incidence + across, camber + across[::-1], holds)
    return 0.5 * (low + high), (high - low) / (2.0 * step), (more - less) / (2.0 * step)


def drag_coefficients(
    incidence: FloatArray,
    camber: FloatArray,
    attached_lift: FloatArray,
    holds: FloatArray = PLATE_HOLDS,
) -> FloatArray:
    r"""Return the drag of skin, separation and the luff's lost suction on the strip's area.

    .. math:: c_d = 0.010 + |c_l\,a|\,(1 - \sqrt f) + 2\pi\,r_0 \sqrt f\,a_l^2 + c_w(f, b)

    The force stands square to the plate as far as the flow has left it, 1 - sqrt f of the edge's
    suction in Kirchhoff's flow; of the rest an open bubble takes its share; the camber's part is
    the drag of its dead air. On a sharp flat plate the sum is that of a force square to it.

    Parameters
    ----------
    incidence : array
        Incidence parameter, as the belly sees it. [rad]
    camber : array
        Camber load, as the belly sees it. [-]
    attached_lift : array
        Lift coefficient that attached flow would have. [-]
    holds : array, optional
        What the nose holds; that of the arched plate if not given. [rad]

    Returns
    -------
    array

    Examples
    --------
    At A0 0.1 a section 10 % deep, with a nose of 1.5 % of the chord and with one of 0.15 %:

    >>> noses = nose_holds(np.array([0.015, 0.0015]))
    >>> drag_coefficients(np.array([0.1]), np.array([0.4]), np.array([1.88]), noses).round(3)
    array([0.028, 0.051])
    """
    kept, leeward = _streaming(incidence, camber, holds)
    point = leeward.point * np.exp(_parts(incidence)[1] / _LUFF_WIDTH)
    left = np.abs(attached_lift * incidence) * kept * (1.0 - np.sqrt(point))
    edge = 2.0 * np.pi * kept_lift(point)[0] * np.sqrt(point) * leeward.lost
    streaming = np.minimum(left, 0.5) + edge + wake_drag(point, _positive(camber))
    share = plate_share(incidence)
    plate = plate_force(incidence) * np.clip(incidence, 0.0, 1.0)
    return _SKIN_DRAG + (1.0 - share) * streaming + share * plate
