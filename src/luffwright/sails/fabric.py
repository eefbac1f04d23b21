"""Stiffness of what sails and rigging are made of."""

from __future__ import annotations

import numpy as np

from luffwright.sails.plan import Cloth, Line

WIRE_MODULUS = 107.5e9
"""1x19 stainless strand, on the whole circle round it [Pa] (makers' figure, from memory). On the
metal alone it would make 1 mm on 2 m a pull of 6.5 % of the breaking load; riggers count 5 %."""
WIRE_FILL = 19.0 / 25.0
"""Metal in the circle round 19 wires of a fifth of its diameter: exact geometry."""
WIRE_STRENGTH = 1570e6
WIRE_LAY = 0.88
"""Nominal strength of the wires [Pa] and what the lay of 1x19 leaves of it (a chandler's technical
note; makers' certificates for 316 run 5 % lower)."""


def wire(diameter: float) -> Line:
    r"""Return stiffness and breaking load of 1x19 wire.

    .. math:: EA = E \frac{\pi d^2}{4}, \qquad
        F_b = \sigma \, k \, \frac{19}{25} \frac{\pi d^2}{4}

    Parameters
    ----------
    diameter : float
        Nominal. [m]

    Returns
    -------
    Line

    Notes
    -----
    Holds for: new 1x19 stainless strand under working load, below half the breaking load.

    References
    ----------
    .. [1] A mast maker's "Hints and advice": on a length of 2 m, 1 mm of stretch is 5 % of the
       breaking load.

    Examples
    --------
    >>> round(wire(0.008).stiffness / 1e6, 2), round(wire(0.008).breaking / 1e3, 1)
    (5.4, 52.8)
    """
    circle = np.pi * diameter**2 / 4.0
    metal = WIRE_FILL * circle
    return Line(float(WIRE_MODULUS * circle), float(WIRE_STRENGTH * WIRE_LAY * metal))


_ROPE = {"polyester": (1.3e5, 20_960.0), "dyneema": (7.0e5, 41_320.0)}
"""Of 10 mm braided rope [N]: stiffness EA in the working range, from memory of makers' lists, and
breaking load, from a yacht magazine's test (2096 daN and 4132 daN)."""


def rope(diameter: float, fibre: str) -> Line:
    """Return stiffness and breaking load of braided rope, in proportion to its section.

    Parameters
    ----------
    diameter : float
        Nominal. [m]
    fibre : str
        `polyester` or `dyneema`.

    Returns
    -------
    Line

    Examples
    --------
    >>> round(rope(0.012, "polyester").breaking)
    30182
    """
    stiffness, breaking = _ROPE[fibre]
    scale = (diameter / 0.010) ** 2
    return Line(stiffness * scale, breaking * scale)


PERMANENT, CREEP_YEARS = 0.7, 4.0
"""Share of the usual stretch that stays in the end, and the seasons after which two thirds of that
have come (from memory: the leeches of old sails measure about half a per cent long)."""
BIAS_FIRM, BIAS_SOFT, FINISH_YEARS = 230.0, 70.0, 4.0
"""Stiffness on the bias [kN/m per kg/m²] with the finish whole and without it, and the seasons in
which it goes (from memory of makers' figures: soft cloth stretches three times as much there)."""
THREAD_LOSS = 0.04
"""Of the threads' stiffness, a year (from memory)."""


def woven(mass: float, age: float) -> Cloth:
    r"""Return the stiffness of woven polyester sailcloth by weight and age, and what stays of use.

    .. math:: E_1 = 1.2\,m, \quad E_2 = 3.4\,m, \quad G = 0.23\,m \quad [\mathrm{kN/m}, m
        \text{ in g/m²}]

    when new, of cloth woven for the leech of cross-cut sails: 1.2 kN/m along the light threads,
    that wind about the heavy ones, 3.4 along these, 0.2 on the bias for each g/m² of firm cloth.
    The threads lose a little each season; the bias, held by the finish alone, falls to that of
    soft cloth:

    .. math:: G = G_s + (G_f - G_s) \, e^{-a/4}

    From memory of makers' stretch figures, between printed ones (docs/cloth.md): good to a factor
    of 1.5 new, of 2 when old.

    Parameters
    ----------
    mass : float
        Cloth weight. [kg/m²]
    age : float
        Seasons of use. [years]

    Returns
    -------
    Cloth

    Examples
    --------
    >>> new, old = woven(0.165, 0.0), woven(0.165, 8.0)
    >>> round(new.warp / 1e3), round(new.fill / 1e3), round(new.shear / 1e3)
    (198, 561, 38)
    >>> round(old.warp / new.warp, 2), round(old.shear / new.shear, 2)
    (0.76, 0.4)
    """
    worn = 1.0 / (1.0 + THREAD_LOSS * age)
    bias = BIAS_SOFT + (BIAS_FIRM - BIAS_SOFT) * np.exp(-age / FINISH_YEARS)
    return Cloth(
        1.2e6 * mass * worn, 3.4e6 * mass * worn, float(1000.0 * mass * bias), 0.2, mass,
        float(PERMANENT * (1.0 - np.exp(-age / CREEP_YEARS))),
    )  # fmt: skip
