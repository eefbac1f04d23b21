r"""Wind on all that is no sail: hull, mast, stays.

Each piece is an area with its drag coefficient folded in, met by the wind at its own height. Round
things drag along the wind across them, the hull ahead and abeam by its own areas::

    force = 1/2 rho |v| (front v_x, side v_y)      v: wind across the piece, boat frame
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from luffwright.arrays import FloatArray
from luffwright.frames import to_boat, to_level
from luffwright.sails.fabric import WIRE_MODULUS
from luffwright.sails.plan import Line, Mast, Point, SailPlan, Stay
from luffwright.water.hull import Hull
from luffwright.water.side_force import Vector
from luffwright.water.yaw import Applied

AIR_DENSITY = 1.225
"""At 15 °C [kg/m³] (ISO 2533:1975)."""
HULL_AHEAD = 0.5
"""Drag coefficient of a hull from ahead, on beam times freeboard [-]."""
MAST_ACROSS = 1.0
"""Of a mast, its boundary layer stirred by halyards and fittings, on its breadth [-]."""
WIRE_ACROSS = 1.2
"""Of stays and shrouds, on their thickness [-]. All three: Larsson and Eliasson, *Principles of
Yacht Design*, fig. 9.2."""
HULL_ABEAM = 1.0
"""Of a hull from abeam, on length times freeboard [-]: a bluff body on the water, from memory 0.9
to 1.1."""
_MAST_FINENESS = 0.65
_PIECES = 4
_LEAST_WIND = 0.05


@dataclass(frozen=True)
class Exposed:
    """One piece in the wind: `front` and `side`, area times drag coefficient for wind along x and y
    [m²], `point` of its middle in the boat frame [m]; `axis` along it, for what is long and thin.
    """

    front: float
    side: float
    point: Point
    axis: Point | None = None


def diameter_of(line: Line) -> float:
    r"""Return the thickness of a wire of known stiffness.

    .. math:: d = \sqrt{4\,EA/(\pi E)}

    Parameters
    ----------
    line : Line
        Of 1x19 wire. [N]

    Returns
    -------
    float
        [m]
    """
    return math.sqrt(4.0 * line.stiffness / (math.pi * WIRE_MODULUS))


def exposed_pieces(plan: SailPlan, hull: Hull) -> tuple[Exposed, ...]:
    """Return hull, mast and stays as pieces for the wind.

    Parameters
    ----------
    plan : SailPlan
    hull : Hull

    Returns
    -------
    tuple of Exposed
        Hull by length, beam and deck height; mast 0.65 as broad as it is deep (an estimate); each
        stay and shroud in four pieces. The forestay counts although a sail may be set on it.
    """
    stays = [(plan.forestay, 1)] + [(shroud, -1) for shroud in plan.shrouds]
    if plan.backstay is not None:
        stays.append((plan.backstay, 1))
    wires = [piece for stay, sides in stays for piece in _wire(plan.mast, stay, pair=sides < 0)]
    return (_hull(plan, hull), *_mast(plan.mast), *wires)


def _hull(plan: SailPlan, hull: Hull) -> Exposed:
    """Return the topsides; of two hulls the windward one hides the other from abeam."""
    freeboard = plan.deck_height
    return Exposed(
        HULL_AHEAD * hull.beam * freeboard,
        HULL_ABEAM * hull.length_overall * freeboard,
        (hull.bow_x - 0.5 * hull.length_overall, 0.0, 0.5 * freeboard),
    )


def _mast(mast: Mast) -> list[Exposed]:
    foot, top = np.array([0.0, 0.0, mast.foot]), np.array([0.0, 0.0, mast.top])
    top[0] = -(mast.top - mast.foot) * math.tan(mast.rake)
    return _rod(foot, top, MAST_ACROSS * _MAST_FINENESS * mast.depth, MAST_ACROSS * mast.depth)


def _wire(mast: Mast, stay: Stay, *, pair: bool) -> list[Exposed]:
    """Return a stay, or a shroud on each side, as straight from chainplate to mast."""
    lower = np.array(stay.lower)
    upper = np.array([-(stay.height - mast.foot) * math.tan(mast.rake), 0.0, stay.height])
    broad = WIRE_ACROSS * diameter_of(stay.line)
    leeward = _rod(lower, upper, broad, broad)
    if not pair:
        return leeward
    return leeward + _rod(lower * np.array([1.0, -1.0, 1.0]), upper, broad, broad)


def _rod(lower: FloatArray, upper: FloatArray, front: float, side: float) -> list[Exposed]:
    """Return a long thin thing in equal pieces; `front` and `side` are breadths [m]."""
    whole = upper - lower
    length = float(np.linalg.norm(whole)) / _PIECES
    axis = whole / np.linalg.norm(whole)
    return [
        Exposed(
            front * length, side * length, _point(lower + (place + 0.5) / _PIECES * whole),
            _point(axis),
        )
        for place in range(_PIECES)
    ]  # fmt: skip


def _point(values: FloatArray) -> Point:
    return float(values[0]), float(values[1]), float(values[2])


def heights(pieces: Sequence[Exposed], heel: float) -> FloatArray:
    """Return how high above the water the pieces stand, where the wind is to be asked for.

    Parameters
    ----------
    pieces : sequence of Exposed
    heel : float
        To leeward. [rad]

    Returns
    -------
    (n,) array
        [m]
    """
    return to_level(np.array([piece.point for piece in pieces]), heel)[:, 2]


def windage(
    pieces: Sequence[Exposed], wind: FloatArray, heel: float, density: float = AIR_DENSITY
) -> tuple[Applied, ...]:
    r"""Return what the wind does to each piece.

    .. math:: \mathbf F = \tfrac12 \rho\,|\mathbf v_n|\,
        (S_x v_{n,x},\; S_y v_{n,y},\; 0), \quad
        \mathbf v_n = \mathbf v - (\mathbf v\cdot\mathbf a)\,\mathbf a

    Parameters
    ----------
    pieces : sequence of Exposed
    wind : (n, 3) array
        Velocity of the air past the boat at each piece. Frame: level. [m/s]
    heel : float
        To leeward. [rad]
    density : float
        Of the air. [kg/m³]

    Returns
    -------
    tuple of Applied
        One for each piece, in the level frame. [N]

    Notes
    -----
    Holds for: pieces that do not shelter each other. Along a wire there is no force (Hoerner's
    cross-flow principle, from memory).

    References
    ----------
    .. [1] Larsson and Eliasson, *Principles of Yacht Design*, fig. 9.2.
    """
    velocity = to_boat(wind, heel)
    places = to_level(np.array([piece.point for piece in pieces]), heel)
    axes = np.array([piece.axis or (0.0, 0.0, 1.0) for piece in pieces])
    across = velocity - np.sum(velocity * axes, axis=1, keepdims=True) * axes
    strength = np.sqrt(np.sum(across**2, axis=1, keepdims=True) + _LEAST_WIND**2)
    areas = np.array([(piece.front, piece.side, 0.0) for piece in pieces])
    forces = to_level(0.5 * density * strength * across * areas, heel)
    return tuple(
        Applied(_point(force), _point(place)) for force, place in zip(forces, places, strict=True)
    )


def total(applied: Sequence[Applied]) -> Vector:
    """Return the sum of forces [N].

    Parameters
    ----------
    applied : sequence of Applied

    Returns
    -------
    tuple of three floats
    """
    whole = np.sum([entry.force for entry in applied], axis=0)
    return _point(whole)
