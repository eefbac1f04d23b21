r"""The bubble behind a sharp luff: its length, its height, its drag.

A sharp edge cannot turn the air: as soon as the incidence parameter is above zero the flow leaves
at the luff and comes back at some distance. Under the bubble the air is dead, at one pressure;
outside it the flow is potential. The linear problem is solved in the plane
:math:`Z = \sqrt{x/(1-x)}`, where the section lies on the real axis and the far stream at
:math:`i`. All it leaves open is the length, and that is what the mixing layer over the dead air
decides: it comes back to the wall a fixed number of heights away.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from scipy.interpolate import RectBivariateSpline

from luffwright.air.nose import beyond_nose
from luffwright.air.stall_kernel import EXCESS, LOAD, bubble_drag_each
from luffwright.arrays import FloatArray, each

HEIGHTS = 7.0
"""Length of a bubble in its greatest heights [-]: flow over a step comes back after 7 +- 1 heights
(Kim, Kline and Johnston, J. Fluids Eng. 102, 1980, from memory)."""
LONGEST = 0.6
"""Longest bubble that is followed [chords]; past 0.75 no closed one exists and the flow stays off.
"""
_LOADS = np.linspace(0.0, LOAD, 13)
_LENGTHS = np.concatenate([np.geomspace(1e-4, 0.02, 14)[:-1], np.linspace(0.02, LONGEST, 30)])
_EXCESSES = np.linspace(0.0, EXCESS, 81)
_RING = 0.4 * np.exp(2j * np.pi * (np.arange(64) + 0.5) / 64)
_CELLS = 400


@dataclass(frozen=True)
class Bubble:
    """Bubbles of given lengths: the incidence each needs, and what it does.

    `incidence` beyond what the nose holds [rad], `height` and `length` [chords], `velocity` over it
    in the stream's, `drag` coefficient and `lift` coefficient that it adds.
    """

    length: FloatArray
    incidence: FloatArray
    height: FloatArray
    velocity: FloatArray
    drag: FloatArray
    lift: FloatArray


def _root(place: FloatArray, end: float) -> FloatArray:
    return np.sqrt(place) * np.sqrt(place - end)


@dataclass(frozen=True)
class _Unit:
    """What one unit of incidence or of camber's load does in a bubble of given length."""

    velocity: float
    height: FloatArray
    end: float
    lift: float


def _source(z: FloatArray, end: float, known: FloatArray) -> FloatArray:
    """Return the numerator of the flow over its root, from (free 0, free 1, camber's load)."""
    pole = -known[2] * _root(np.array(1j), end)
    return np.asarray(
        known[0] + known[1] * z + pole / (z - 1j) + np.conj(pole) / (z + 1j), dtype=complex
    )


def _far(end: float, unknown: FloatArray, given: FloatArray) -> tuple[FloatArray, float]:
    """Return what has to vanish far away (stream, net source), and the circulation."""
    z = 1j + _RING
    flow = unknown[0] - given[0] / z - given[1] * 2.0 * z / (1.0 + z**2)
    flow = flow - _source(z, end, np.append(unknown[1:], given[1])) / _root(z, end)
    value, slope = flow.mean(), (flow / _RING).mean()
    return np.array([value.real, value.imag, slope.imag]), float(slope.real)


def _unit(end: float, given: FloatArray) -> _Unit:
    nothing = np.zeros(2)
    system = np.array([_far(end, row, nothing)[0] for row in np.eye(3)]).T
    found = np.linalg.solve(system, -_far(end, np.zeros(3), given)[0])
    known = np.append(found[1:], given[1])
    turn = (np.arange(_CELLS) + 0.5) * np.pi / _CELLS
    z = end * np.sin(0.5 * turn) ** 2
    leaving = -_source(z, end, known).real * 2.0 * z / (1.0 + z**2) ** 2
    height = np.cumsum(leaving) * np.pi / _CELLS
    last = float(_source(np.array(end), end, known).real) / (1.0 + end**2)
    return _Unit(float(found[0]), height, last, 2.0 * np.pi * _far(end, found, given)[1])


@cache
def _units(length: float) -> tuple[_Unit, _Unit]:
    end = float(np.sqrt(length / (1.0 - length)))
    return _unit(end, np.array([1.0, 0.0])), _unit(end, np.array([0.0, 1.0]))


def bubbles(length: FloatArray, camber: float) -> Bubble:
    r"""Return the bubbles of given lengths on a sharp section, and the incidence that makes each.

    .. math:: \ell = 7 h,\qquad \ell \to \left(\frac{7 \cdot 3\sqrt3}{4} A_0\right)^2
        \text{ on a short flat one}

    Parameters
    ----------
    length : (n,) array
        From the luff, above 0 and up to 0.75. [chords]
    camber : float
        Camber load A1, four times an arc's depth, zero or more. [-]

    Returns
    -------
    Bubble

    Notes
    -----
    Linear in incidence and camber; short against the chord it grows with the square of the
    incidence. The camber speeds the flow up behind the luff and keeps the bubble low and short. Its
    drag is the force by which potential flow would press on its blunt end and real flow does not:
    2 pi A0 squared, all the suction of the edge, where the bubble is short; less on a camber whose
    face looks forward under it.

    References
    ----------
    .. [1] The free-streamline problem as in Newman and Tse, Aeronautical Journal 96, 1992 (flat
       plate; from memory), solved here for a cambered section of finite chord.

    Examples
    --------
    On a flat plate at 2 degrees (0.035) the flow comes back after a tenth of the chord:

    >>> bubbles(np.array([0.1]), 0.0).incidence.round(3)
    array([0.034])
    """
    rows = []
    for share in length:
        flat, bent = _units(float(share))
        inside = slice(_CELLS // 20, -_CELLS // 20)
        needed = (share / HEIGHTS - camber * bent.height)[inside] / flat.height[inside]
        own = float(needed.min())
        end = own * flat.end + camber * bent.end
        rows.append(
            (
                own,
                share / HEIGHTS,
                1.0 + own * flat.velocity + camber * bent.velocity,
                2.0 * np.pi * end**2,
                own * flat.lift + camber * bent.lift,
            )
        )
    return Bubble(np.asarray(length), *np.array(rows).T)


@cache
def _tables() -> tuple[RectBivariateSpline, RectBivariateSpline]:
    """Return splines: incidence by (length, load), the drag's root by (excess, load)."""
    needs, roots = [], []
    for load in _LOADS:
        there = bubbles(_LENGTHS, float(load))
        root = np.sqrt(there.drag / (2.0 * np.pi))
        last = there.incidence[-1]
        # Past the longest bubble all the suction that comes on top is lost.
        more = np.linspace(0.0, 0.5, 11)
        at = np.concatenate([[0.0], there.incidence, last + more[1:]])
        needs.append(there.incidence)
        roots.append(np.interp(_EXCESSES, at, np.concatenate([[0.0], root, root[-1] + more[1:]])))
    return (
        RectBivariateSpline(np.sqrt(_LENGTHS), _LOADS, np.array(needs).T),
        RectBivariateSpline(_EXCESSES, _LOADS, np.array(roots).T),
    )


@cache
def drag_cells() -> FloatArray:
    r"""Return the spline of the drag's root as cubics, one a cell of its table.

    .. math:: \sqrt{c_d / 2\pi} = \sum_{pq} C_{ijpq}\, x^p y^q,\quad
              x, y \in [-\tfrac12, \tfrac12]

    Returns
    -------
    (80, 12, 4, 4) array
        By cell of incidence beyond the nose and of camber's load, about its middle, in widths of
        the cell. [rad]
    """
    spline = _tables()[1]
    wide, tall = _EXCESSES[1] - _EXCESSES[0], _LOADS[1] - _LOADS[0]
    places = np.array([-0.45, -0.15, 0.15, 0.45])
    values = spline(
        (_EXCESSES[:-1, None] + wide * (places + 0.5)).ravel(),
        (_LOADS[:-1, None] + tall * (places + 0.5)).ravel(),
    ).reshape(len(_EXCESSES) - 1, 4, len(_LOADS) - 1, 4)
    # Four values along each way make the cubic, exactly.
    cubic = np.linalg.inv(np.vander(places, increasing=True))
    return np.ascontiguousarray(np.einsum("pk,ikjm,qm->ijpq", cubic, values, cubic))


def reaches(place: FloatArray, camber: FloatArray, holds: FloatArray) -> FloatArray:
    r"""Return the incidence parameter at which the bubble reaches a place behind the luff.

    .. math:: A_0 = \sqrt{A_n^2 + A_b(\ell, b)^2}

    Parameters
    ----------
    place : array
        Behind the luff, up to 0.6. [chords]
    camber : array
        Camber load, up to 1.2. [-]
    holds : array
        What the nose holds until its short bubble bursts. [rad]

    Returns
    -------
    array
        [rad]

    Examples
    --------
    A tuft at 15 % of the chord, sharp luff, sections of 5 and 15 % camber:

    >>> reaches(np.full(2, 0.15), np.array([0.2, 0.6]), np.zeros(2)).round(3)
    array([0.046, 0.055])
    """
    load = np.clip(camber, 0.0, _LOADS[-1])
    needs = _tables()[0].ev(np.sqrt(np.clip(place, 1e-4, LONGEST)), load)
    return np.asarray(np.hypot(holds, needs))


def bubble_drag(excess: FloatArray, camber: FloatArray) -> FloatArray:
    """Return the drag coefficient of the bubble from the incidence beyond what the nose holds.

    Parameters
    ----------
    excess : array
        From `beyond_nose`; past 0.4 all the suction that comes on top is lost. [rad]
    camber : array
        Camber load. [-]

    Returns
    -------
    array

    Examples
    --------
    The edge's suction on a flat plate, 2 pi times 0.03 squared, and less with camber:

    >>> bubble_drag(np.array([0.03, 0.03]), np.array([0.0, 0.4])).round(4)
    array([0.0058, 0.0038])
    """
    return np.asarray(each(bubble_drag_each, excess, camber, given=(drag_cells(),)))


def lost_suction(incidence: FloatArray, camber: FloatArray, holds: FloatArray) -> FloatArray:
    r"""Return the square of the incidence whose suction an open bubble has taken from the luff.

    .. math:: A_l^2 = \frac{c_d(A_b, b)}{2\pi},\quad A_b^2 = A_0^2 - A_n^2

    Parameters
    ----------
    incidence : array
        Incidence parameter, zero or more. [rad]
    camber : array
        Camber load. [-]
    holds : array
        What the nose holds until its short bubble bursts. [rad]

    Returns
    -------
    array
        [rad²]

    Examples
    --------
    A sharp flat plate loses all of it, a nose that holds as much next to nothing:

    >>> lost_suction(np.full(2, 0.03), np.zeros(2), np.array([0.0, 0.04])).round(6)
    array([9.18e-04, 1.40e-05])
    """
    return bubble_drag(beyond_nose(incidence, holds), camber) / (2.0 * np.pi)
