"""Cloth that the wind meets on the side of its belly: it gives way, and far beyond it backs.

A stiff plate carries a load against its belly; cloth does not. As soon as the air would push a
strip from its belly's side, the strip flutters, and what it carries on average falls to nought with
the load that it would have to hold. Only where the wind stands far on the wrong side is the strip
pressed flat against it, a plate in dead air whichever way it was cut. All of it is continuous in
the incidence, so that a sail whose top luffs has a place to hang.
"""

from __future__ import annotations

import numpy as np

from luffwright.air.bubble import drag_cells
from luffwright.air.stall import PLATE_HOLDS
from luffwright.air.stall_kernel import carried_each, cloth_drag_each, cloth_ratios_each
from luffwright.arrays import FloatArray, each


def carried(facing: FloatArray, camber: FloatArray) -> tuple[FloatArray, FloatArray]:
    r"""Return the share of its load that cloth holds, and the slope of that in the incidence.

    .. math:: \lambda = a + \tfrac12 b

    The load of attached flow over 2 pi is :math:`\lambda`; below nought it presses on the belly.

    Parameters
    ----------
    facing, camber : array
        Incidence parameter [rad] and camber load [-], as the belly sees them.

    Returns
    -------
    (array, array)
        [-], [1/rad]; half the slope is that in the camber load.

    Examples
    --------
    >>> carried(np.array([0.05, -0.1, -0.2]), np.array([0.2, 0.2, 0.2]))[0].round(3)
    array([1.   , 0.515, 0.03 ])
    """
    share, slope = each(carried_each, facing, camber)
    return share, slope


def cloth_ratios(
    facing: FloatArray, camber: FloatArray, holds: FloatArray = PLATE_HOLDS
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return the share of the attached lift that cloth carries on average, and its slopes.

    Parameters
    ----------
    facing, camber : array
        Incidence parameter [rad] and camber load [-], as the belly sees them.
    holds : array, optional
        What the luff's nose holds; that of the arched plate if not given. [rad]

    Returns
    -------
    (array, array, array)
        Ratio [-], its slope in the incidence [1/rad] and in the camber load [-]; that of
        `stall.lift_ratios` where the load is on the belly's side.
    """
    ratio, by_facing, by_camber = each(
        cloth_ratios_each, facing, camber, holds, given=(drag_cells(),)
    )
    return ratio, by_facing, by_camber


def cloth_drag(
    facing: FloatArray,
    camber: FloatArray,
    attached_lift: FloatArray,
    holds: FloatArray = PLATE_HOLDS,
) -> FloatArray:
    """Return the drag coefficient of cloth on the strip's area.

    Parameters
    ----------
    facing, camber : array
        As the belly sees them. [rad], [-]
    attached_lift : array
        Lift coefficient that attached flow would have. [-]
    holds : array, optional
        What the luff's nose holds; that of the arched plate if not given. [rad]

    Returns
    -------
    array
        [-]

    Notes
    -----
    The beating of a flag costs less than its skin at a sail's size and weight (Fairthorne, *Drag of
    Flags*, ARC R&M 1345, 1930, from memory) and is left out.
    """
    return np.asarray(
        each(cloth_drag_each, facing, camber, attached_lift, holds, given=(drag_cells(),))
    )


def cloth_drag_slopes(
    facing: FloatArray, camber: FloatArray, attached_lift: FloatArray, holds: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return the slopes of `cloth_drag` in its first three arguments, at (s,) strips.

    Parameters
    ----------
    facing, camber, attached_lift, holds : array
        As in `cloth_drag`. [rad], [-], [-], [rad]

    Returns
    -------
    (array, array, array)
        By incidence [1/rad], by camber load [-], by lift [-].
    """
    step = 1e-5
    turn = step * np.vstack([np.eye(3), -np.eye(3)])[:, :, None]
    drag = cloth_drag(facing + turn[:, 0], camber + turn[:, 1], attached_lift + turn[:, 2], holds)
    by_incidence, by_camber, by_lift = (drag[:3] - drag[3:]) / (2.0 * step)
    return by_incidence, by_camber, by_lift
