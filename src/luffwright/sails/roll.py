"""The roll that a sail makes on its foil or mandrel: how much cloth each height winds up.

The foil turns as one piece, so every height makes the same number of turns. A padded luff makes the
roll thicker in the middle, where each later turn then takes more cloth.
"""

from __future__ import annotations

import numpy as np

from luffwright.arrays import FloatArray

FOIL_RADIUS = 0.015
"""Of the foil or mandrel that the sail is wound on [m] (from memory)."""
POLYESTER = 1380.0
PACKING = 0.5
"""Density of the fibre [kg/m³], and how much of a roll is fibre: the rest is air (from memory)."""
PAD_WIDTH = 0.25
PAD_TOP = 0.75
"""A luff pad's usual width [m], and the share of the luff where it ends: above, a rolled sail has
no middle (both from memory)."""


def thickness(mass: float) -> float:
    """Return how thick a layer of cloth lies in a roll [m].

    Parameters
    ----------
    mass : float
        Cloth weight. [kg/m²]

    Returns
    -------
    float

    Examples
    --------
    >>> round(1000.0 * thickness(0.276), 3)
    0.4
    """
    return mass / (POLYESTER * PACKING)


def roll_radius(wound: float, layer: float) -> float:
    r"""Return the radius of a roll [m]: its area is the foil's and the cloth's.

    .. math:: \pi r^2 = \pi r_0^2 + L t

    Parameters
    ----------
    wound : float
        Cloth on the roll, :math:`L`. [m]
    layer : float
        Its thickness there, :math:`t`. [m]

    Returns
    -------
    float

    Examples
    --------
    >>> round(roll_radius(0.0, 0.0004), 4), round(roll_radius(1.5, 0.0004), 4)
    (0.015, 0.0204)
    """
    return float(np.sqrt(FOIL_RADIUS**2 + layer * wound / np.pi))


def turns_for(wound: float, layer: float) -> float:
    """Return how many turns wind up a length of cloth: each makes the roll a layer thicker.

    Parameters
    ----------
    wound, layer : float
        [m]

    Returns
    -------
    float

    Examples
    --------
    Very thin cloth goes once round the foil's 94 mm a turn:

    >>> round(turns_for(0.9425, 1e-7), 2)
    10.0
    """
    return (roll_radius(wound, layer) - FOIL_RADIUS) / layer


def wound_up(turns: float, layer: float, pad: FloatArray) -> FloatArray:
    r"""Return the cloth that a number of turns takes at each height [m].

    .. math:: L = \pi n \, (2 r + n t) \quad \text{from radius } r

    first with the pad's thickness added to each layer as far as the pad is wide, then without.

    Parameters
    ----------
    turns : float
        :math:`n`. [-]
    layer : float
        Thickness of the cloth in the roll, :math:`t`. [m]
    pad : array
        Thickness of the pad in the roll at each height. [m]

    Returns
    -------
    array

    Examples
    --------
    Ten turns on a foil of 30 mm take more where a pad of 1 mm lies on it:

    >>> wound_up(10.0, 0.0004, np.array([0.0, 0.001])).round(3)
    array([1.068, 1.2  ])
    """
    thick = layer + pad
    far = np.sqrt(FOIL_RADIUS**2 + thick * PAD_WIDTH / np.pi)
    first = np.minimum((far - FOIL_RADIUS) / thick, turns)
    onto_pad = np.pi * first * (2.0 * FOIL_RADIUS + first * thick)
    rest = turns - first
    taken: FloatArray = onto_pad + np.pi * rest * (2.0 * far + rest * layer)
    return taken


def wound_strip(wound: float, mass: float, pad: float, eta: FloatArray) -> FloatArray:
    """Return the cloth wound up at each share of the luff [m]; where there is no pad, `wound`.

    Parameters
    ----------
    wound : float
        At tack and head, where there is no pad. [m]
    mass : float
        Cloth weight. [kg/m²]
    pad : float
        Greatest thickness of the luff pad, pressed as in the roll; it tapers to nothing at the tack
        and at three quarters of the luff. [m]
    eta : array
        Shares of the luff. [-]

    Returns
    -------
    array
    """
    layer = thickness(mass)
    along = np.clip(eta / PAD_TOP, 0.0, 1.0)
    return wound_up(turns_for(wound, layer), layer, 4.0 * pad * along * (1.0 - along))
