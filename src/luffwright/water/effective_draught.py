"""The draught that counts for the drag due to side force, measured on a series of yacht models."""

from __future__ import annotations

import math

from luffwright.air.wind import GRAVITY
from luffwright.water.hull import Hull

_SHAPE = (
    (3.7455, -3.6246, 0.0589, -0.0296),
    (4.4892, -4.8454, 0.0294, -0.0176),
    (3.9592, -3.9804, 0.0283, -0.0075),
    (3.4891, -2.9577, 0.0250, -0.0272),
)
_SPEED = ((1.2306, -0.7256), (1.4231, -1.2971), (1.5450, -1.5622), (1.4744, -1.3499))
_HEELS = tuple(math.radians(angle) for angle in (0.0, 10.0, 20.0, 30.0))
MOST_HEEL = _HEELS[-1]
"""The greatest heel of the series' models [rad]."""
SLOWEST, FASTEST = 0.25, 0.45
"""Froude numbers between which the series was fitted [-]."""
_CATAMARAN = 1.0


def draught_ratios(
    body_share: float, beam_ratio: float, taper: float, froude: float
) -> tuple[float, float, float, float]:
    r"""Return effective over geometric draught at 0, 10, 20 and 30° of heel.

    .. math:: \frac{T_e}{T} = \left(A_1 \frac{T_c}{T} + A_2 \left(\frac{T_c}{T}\right)^2
        + A_3 \frac{B}{T_c} + A_4 t\right)\left(B_0 + B_1 Fn\right)

    Parameters
    ----------
    body_share : float
        Draught of the hull over that of the boat, :math:`T_c/T`. [-]
    beam_ratio : float
        Beam on the waterline over draught of the hull, :math:`B/T_c`. [-]
    taper : float
        Keel's tip chord over root chord, :math:`t`. [-]
    froude : float
        Speed over the root of gravity times waterline, :math:`Fn`. [-]

    Returns
    -------
    tuple of four floats
        [-]

    Notes
    -----
    Holds for: Froude numbers of 0.25 to 0.45; slower and faster, the value at the end is kept.

    References
    ----------
    .. [1] Keuning and Sonnenberg, *Approximation of the Hydrodynamic Forces on a Sailing Yacht
       based on the Delft Systematic Yacht Hull Series*, 1998 (0° read in one copy; heeled
       coefficients from memory).

    Examples
    --------
    >>> [round(value, 2) for value in draught_ratios(0.344, 3.99, 0.6, 0.35)]
    [1.05, 1.04, 1.0, 0.94]
    """
    number = min(max(froude, SLOWEST), FASTEST)
    found = []
    for (a1, a2, a3, a4), (b0, b1) in zip(_SHAPE, _SPEED, strict=True):
        shape = a1 * body_share + a2 * body_share**2 + a3 * beam_ratio + a4 * taper
        found.append(shape * (b0 + b1 * number))
    return found[0], found[1], found[2], found[3]


def effective_draught(hull: Hull, taper: float, speed: float, heel: float) -> float:
    r"""Return the draught that counts for drag due to side force.

    .. math:: R_i = \frac{F^2}{\pi T_e^2 \tfrac12 \rho V^2}

    Parameters
    ----------
    hull : Hull
    taper : float
        Keel's tip chord over root chord. [-]
    speed : float
        Through the water. [m/s]
    heel : float
        Either way; beyond 30° as at 30°. [rad]

    Returns
    -------
    float
        [m]

    Notes
    -----
    Two hulls: the geometric draught of each, an estimate in the middle of what the series shows.
    """
    if hull.kind == "catamaran":
        return _CATAMARAN * hull.draught
    froude = speed / math.sqrt(GRAVITY * hull.length_waterline)
    share = min(max(hull.draught_body / hull.draught, 0.1), 0.8)
    ratios = draught_ratios(share, hull.beam_waterline / hull.draught_body, taper, froude)
    return hull.draught * max(_even_cubic(ratios, heel), 0.4)


def _even_cubic(values: tuple[float, ...], heel: float) -> float:
    """Return the polynomial in the heel's square through the four heels: no corner when upright."""
    nodes = [angle**2 for angle in _HEELS]
    here = min(heel**2, nodes[-1])
    total = 0.0
    for row, value in enumerate(values):
        weight = 1.0
        for column, node in enumerate(nodes):
            if column != row:
                weight *= (here - node) / (nodes[row] - node)
        total += value * weight
    return total
