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

import numpy as np

from luffwright.air.bubble import drag_cells
from luffwright.air.nose import THICKEST, nose_holds
from luffwright.air.stall_kernel import (
    drag_each,
    kept_each,
    plate_each,
    plate_share_each,
    ratios_each,
    separation_each,
    wake_drag_each,
)
from luffwright.arrays import FloatArray, each

LEECH_SEPARATED = 0.80
"""Separation point, share of the chord, ahead of which the leech telltale no longer streams."""
ARCHED_PLATE = np.array(0.217)
"""Camber load of the arched plate 417a, 5.9 % deep [-]."""
PLATE_HOLDS = nose_holds(np.array(THICKEST))
"""What the nose of that plate holds [rad]: its radius is 1.5 % of the chord, its sides at 1.25 %
being 1.55 and 1.40 % off the line."""


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
    return np.asarray(each(separation_each, incidence, camber, holds, given=(drag_cells(),)))


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
    incidence, camber = each(kept_each, point)
    return incidence, camber


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
    return np.asarray(each(wake_drag_each, point, camber))


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
    return np.asarray(each(plate_each, incidence))


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
    return np.asarray(each(plate_share_each, incidence))


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
    ratio, by_incidence, by_camber = each(
        ratios_each, incidence, camber, holds, given=(drag_cells(),)
    )
    return ratio, by_incidence, by_camber


def drag_coefficients(
    incidence: FloatArray,
    camber: FloatArray,
    attached_lift: FloatArray,
    holds: FloatArray = PLATE_HOLDS,
) -> FloatArray:
    r"""Return the drag of skin, separation and the luff's lost suction on the strip's area.

    .. math:: c_d = 0.010 + |c_l\,a|\,(1 - \sqrt f) + 2\pi\,r_0 \sqrt f\,a_l^2 + c_w(f, b)

    The force stands square to the plate as far as the flow has left it: 1 - sqrt f of the edge's
    suction, an empirical share that the drag of the arched plate bears out (free-streamline theory
    has the edge lose m²/h² of it, less than a tenth of that at f = 0.9). Of the rest an open bubble
    takes its share; the camber's part is the drag of its dead air. On a sharp flat plate the sum is
    that of a force square to it.

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
    return np.asarray(
        each(drag_each, incidence, camber, attached_lift, holds, given=(drag_cells(),))
    )
