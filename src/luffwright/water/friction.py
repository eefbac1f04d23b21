"""Skin friction of hull, keel and rudder, and the wetted surface it works on."""

from __future__ import annotations

import numpy as np

from luffwright.arrays import FloatArray
from luffwright.water.delft_curve import smooth_through
from luffwright.water.fluid import Water

HULL_REACH = 0.7
"""Share of the waterline that a hull's Reynolds number takes as its length, by Delft's practice
(from memory)."""
LEAST_REYNOLDS = 1.0e5
"""Below, the line is continued along its tangent [-]."""

_HEELS = np.radians([0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0])
_S0 = np.array([0.0, -4.112, -4.522, -3.291, 1.850, 6.510, 12.334, 14.648])
_S1 = np.array([0.0, 0.054, -0.132, -0.389, -1.200, -2.305, -3.911, -5.182])
_S2 = np.array([0.0, -0.027, -0.077, -0.118, -0.109, -0.066, 0.024, 0.102])
_S3 = np.array([0.0, 6.329, 8.738, 8.949, 5.364, 3.443, 1.767, 3.497])

MOST_HEEL = float(_HEELS[-1])
"""The greatest heel of the towed models [rad]; the wetted surface is held beyond."""


def friction_line(reynolds: FloatArray) -> FloatArray:
    r"""Return the friction coefficient of the towing tanks' line of 1957.

    .. math:: C_f = \frac{0.075}{(\log_{10} Re - 2)^2}

    Parameters
    ----------
    reynolds : array
        :math:`Re`. [-]

    Returns
    -------
    array
        On the wetted surface. [-]

    Notes
    -----
    Holds for turbulent flow, :math:`Re` from 10⁵ up; below it goes on along its tangent in
    :math:`\log Re`, so that a boat at rest neither divides by nothing nor meets a corner.

    References
    ----------
    .. [1] International Towing Tank Conference, *8th ITTC*, Madrid, 1957.

    Examples
    --------
    >>> friction_line(np.array([1e6, 1e7])).round(6)
    array([0.004688, 0.003   ])
    """
    exponent = np.log10(np.maximum(reynolds, 1.0))
    least = np.log10(LEAST_REYNOLDS)
    on_line = np.maximum(exponent, least) - 2.0
    below = np.minimum(exponent - least, 0.0)
    return 0.075 / on_line**2 - 0.15 / on_line**3 * below


def foil_form_factor(thickness: float) -> float:
    r"""Return how much more than a flat plate's friction a foil drags, :math:`1 + k`.

    .. math:: 1 + k = 1 + 2\,\frac{t}{c} + 60\left(\frac{t}{c}\right)^4

    Parameters
    ----------
    thickness : float
        Of the section over its chord, 0 to 0.25, :math:`t/c`. [-]

    Returns
    -------
    float
        [-]

    References
    ----------
    .. [1] Hoerner, *Fluid-Dynamic Drag*, 1965, chapter 6 (from memory).

    Examples
    --------
    >>> round(foil_form_factor(0.10), 3)
    1.206
    """
    return 1.0 + 2.0 * thickness + 60.0 * thickness**4


def friction(
    speed: FloatArray, surface: FloatArray | float, length: float, water: Water, form: float = 1.0
) -> FloatArray:
    r"""Return the friction of a wetted surface.

    .. math:: R_f = \tfrac12 \rho V^2 S\, C_f(V l / \nu)\,(1 + k)

    Parameters
    ----------
    speed : array
        Through the water, 0 or more, :math:`V`. [m/s]
    surface : array or float
        Wetted, both sides of a foil, :math:`S`. [m²]
    length : float
        Of the Reynolds number, :math:`l`: `HULL_REACH` of a hull's waterline, a foil's mean
        chord. [m]
    water : Water
    form : float
        Form factor :math:`1 + k`. [-]

    Returns
    -------
    array
        [N]

    Examples
    --------
    A hull of 25 m² and 10 m waterline at 3 m/s:

    >>> friction(np.array([3.0]), 25.0, 7.0, Water(1025.0, 1.19e-6)).round(0)
    array([314.])
    """
    coefficient = friction_line(speed * length / water.viscosity)
    return 0.5 * water.density * speed**2 * surface * coefficient * form


def wetted_surface(
    length: float, beam: float, draught: float, volume: float, midship: float
) -> float:
    r"""Return an estimate of the upright wetted surface of the body without keel and rudder.

    .. math:: S_c = \left(1.97 + 0.171\,\frac{B}{T_c}\right)
        \left(\frac{0.65}{C_m}\right)^{1/3}\sqrt{\nabla_c L}

    Parameters
    ----------
    length, beam, draught : float
        Of the waterline, and of the body below it, :math:`L, B, T_c`. [m]
    volume : float
        Of the body, :math:`\nabla_c`. [m³]
    midship : float
        Coefficient of the midship section, :math:`C_m`. [-]

    Returns
    -------
    float
        [m²]

    Notes
    -----
    Fitted to the round-bilged models of the Delft series.

    References
    ----------
    .. [1] Gerritsma, Keuning & Onnink, *Sailing yacht performance in calm water and in waves*,
       12th HISWA symposium, 1992 (formula from memory).

    Examples
    --------
    >>> round(wetted_surface(10.0, 3.17, 0.79, 9.18, 0.65), 1)
    25.4
    """
    return float(
        (1.97 + 0.171 * beam / draught) * np.cbrt(0.65 / midship) * np.sqrt(volume * length)
    )


def heeled_surface(heel: FloatArray, beam_to_draught: float, midship: float) -> FloatArray:
    r"""Return the wetted surface of a heeled body over its upright one.

    .. math:: \frac{S_c(\varphi)}{S_c} = 1 + \frac{1}{100}\left[s_0 + s_1\frac{B}{T_c} +
        s_2\left(\frac{B}{T_c}\right)^2 + s_3 C_m\right]

    Parameters
    ----------
    heel : array
        Either way, :math:`\varphi`. [rad]
    beam_to_draught : float
        :math:`B/T_c`. [-]
    midship : float
        :math:`C_m`. [-]

    Returns
    -------
    array
        [-]

    Notes
    -----
    Tabulated every 5° to 35°, smooth between and held beyond.

    References
    ----------
    .. [1] Keuning & Sonnenberg, *Approximation of the hydrodynamic forces on a sailing yacht based
       on the Delft Systematic Yacht Hull Series*, 15th HISWA symposium, 1998.

    Examples
    --------
    >>> heeled_surface(np.radians([0.0, 20.0]), 4.0, 0.65).round(3)
    array([1.   , 0.988])
    """
    b = beam_to_draught
    factors = 1.0 + 0.01 * (_S0 + _S1 * b + _S2 * b**2 + _S3 * midship)
    return smooth_through(_HEELS, factors, np.abs(heel))
