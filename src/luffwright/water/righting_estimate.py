"""A monohull's righting levers from her measurements, for boats without a stability curve.

The form gives most of it and can be computed; the height of the weight cannot be seen from outside
and is an estimate.
"""

from __future__ import annotations

import math

from luffwright.arrays import FloatArray
from luffwright.water.delft_form import PARENT_WATERPLANE

VANISHING = math.radians(120.0)
"""Heel at which a ballasted cruising boat has no lever left (common practice, from memory)."""
FORM_UNTIL = math.radians(30.0)
_RESIDUAL = (0.0636, -0.0196)
"""Of the lever beyond GM sin(heel), over waterline and heel squared: 1 and beam over draught
(Gerritsma, Keuning and Onnink 1992, from memory)."""


def waterplane_inertia(length: float, beam: float, fullness: float) -> float:
    r"""Return the moment of inertia of a waterplane about its middle line.

    For waterlines :math:`y = \tfrac B2 (1 - |2x/L|^n)` with the fullness :math:`n/(n+1)`:

    .. math:: I = \frac{L B^3}{12}
        \left(1 - \frac{3}{n+1} + \frac{3}{2n+1} - \frac{1}{3n+1}\right)

    Parameters
    ----------
    length : float
        Of the waterline, :math:`L`. [m]
    beam : float
        Of the waterline, :math:`B`. [m]
    fullness : float
        Area over length and beam, below 1. [-]

    Returns
    -------
    float
        [m⁴]

    Examples
    --------
    A parabola, 2/3 full, has 16/35 of the box's :math:`L B^3 / 12`:

    >>> round(waterplane_inertia(12.0, 1.0, 2 / 3) * 35, 9)
    16.0
    """
    n = fullness / (1.0 - fullness)
    share = 1.0 - 3.0 / (n + 1.0) + 3.0 / (2.0 * n + 1.0) - 1.0 / (3.0 * n + 1.0)
    return length * beam**3 / 12.0 * share


def metacentric_height(
    length: float, beam: float, draught: float, volume: float, centre_height: float
) -> float:
    r"""Return the metacentric height GM of a hull of the Delft parent's waterplane.

    .. math:: GM = \frac{I}{\nabla} - T\left(\frac16 + \frac{C_b}{3 C_w}\right) - z_G

    Parameters
    ----------
    length, beam : float
        Of the waterline. [m]
    draught : float
        Of the body, :math:`T`. [m]
    volume : float
        Displaced by the body, :math:`\nabla`. [m³]
    centre_height : float
        Of the boat's weight above the waterline, :math:`z_G`. [m]

    Returns
    -------
    float
        [m]

    Notes
    -----
    The depth of the buoyancy is Morrish's approximation, from textbooks of naval architecture.

    Examples
    --------
    >>> round(metacentric_height(8.6, 2.75, 0.55, 5.2, 0.2), 2)
    1.01
    """
    inertia = waterplane_inertia(length, beam, PARENT_WATERPLANE)
    block = volume / (length * beam * draught)
    below = draught * (1.0 / 6.0 + block / (3.0 * PARENT_WATERPLANE))
    return inertia / volume - below - centre_height


def estimated_lever(
    heel: float, metacentric: float, length: float, beam_to_draught: float
) -> float:
    r"""Return the righting lever GZ of a ballasted monohull at a heel.

    .. math:: GZ = GM \sin\varphi + L\,(0.0636 - 0.0196\,B/T)\,\varphi^2,
        \quad \varphi \le 30°

    and from there on a sine that reaches nothing at 120°.

    Parameters
    ----------
    heel : float
        :math:`\varphi`, from 0 to 120°. [rad]
    metacentric : float
        Metacentric height, :math:`GM`. [m]
    length : float
        Of the waterline, :math:`L`. [m]
    beam_to_draught : float
        Of the body, :math:`B/T`. [-]

    Returns
    -------
    float
        [m]

    Notes
    -----
    Good for the heels one sails at; beyond 30° only a usual shape, no judgement on safety.

    Examples
    --------
    >>> round(estimated_lever(math.radians(20.0), 1.0, 8.6, 5.0), 2)
    0.31
    """
    within = min(heel, FORM_UNTIL)
    extra = _RESIDUAL[0] + _RESIDUAL[1] * beam_to_draught
    lever = metacentric * math.sin(within) + length * extra * within**2
    return lever * _fading(heel) / _fading(within) if heel > FORM_UNTIL else lever


def _fading(heel: float) -> float:
    return math.sin(math.pi * min(heel, VANISHING) / VANISHING)


def estimated_levers(
    heels: FloatArray, metacentric: float, length: float, beam_to_draught: float
) -> tuple[float, ...]:
    """Return the righting levers at several heels [m].

    Parameters
    ----------
    heels : (n,) array
        [rad]
    metacentric : float
        Metacentric height. [m]
    length : float
        Of the waterline. [m]
    beam_to_draught : float
        Of the body. [-]

    Returns
    -------
    tuple of float
    """
    return tuple(
        estimated_lever(float(heel), metacentric, length, beam_to_draught) for heel in heels
    )
