"""Keel and rudder from the hull's figures, for boats whose own are not known.

Estimates of our own on the shares that designers use (from memory: keel 3.5 % and rudder 1 to 2 %
of the sail area; sail area about 17 times the two-thirds power of the displaced volume, common
practice). A measured keel is better: each figure typed in takes the place of its estimate.
"""

from __future__ import annotations

import math

from luffwright.water.foil import WATER_DENSITY, Foil
from luffwright.water.hull import Hull

_KEEL = {"monohull": 0.60, "catamaran": 0.90}
_RUDDER = {"monohull": 0.22, "catamaran": 0.20}
_COUNT = {"monohull": 1, "catamaran": 2}
_TAPER = {"monohull": 0.65, "catamaran": 0.8}
_KEEL_SWEEP = {"monohull": math.radians(20.0), "catamaran": math.radians(10.0)}
_KEEL_AHEAD = {"monohull": 0.03, "catamaran": 0.02}
_RUDDER_SWEEP = math.radians(5.0)
_RUDDER_BACK = 0.47
_RUDDER_ROOT, _RUDDER_TIP = 0.3, 0.8
_LEAST_SPAN = 0.15


def _chords(hull: Hull, share: float, span: float) -> tuple[float, float]:
    """Return root and tip chord of a fin with its share of the hull's area."""
    area = share * (hull.displacement / WATER_DENSITY) ** (2.0 / 3.0) / _COUNT[hull.kind]
    root = 2.0 * area / (span * (1.0 + _TAPER[hull.kind]))
    return root, _TAPER[hull.kind] * root


def middle_x(hull: Hull) -> float:
    """Return the middle of the waterline [m forward of the mast], overhangs taken as equal."""
    return hull.bow_x - 0.5 * hull.length_overall


def estimated_keel(hull: Hull) -> Foil:
    """Return the keel (two stub keels for two hulls) that a hull of these figures usually has.

    Parameters
    ----------
    hull : Hull

    Returns
    -------
    Foil
        Lateral area 0.60 (two hulls: 0.90 in all) times volume to the power 2/3; from the hull's
        bottom to the draught; root's quarter chord 3 % (2 %) of the waterline before its middle.
    """
    span = max(hull.draught - hull.draught_body, _LEAST_SPAN * hull.draught)
    root, tip = _chords(hull, _KEEL[hull.kind], span)
    x = middle_x(hull) + _KEEL_AHEAD[hull.kind] * hull.length_waterline
    return Foil(
        span, root, tip, _KEEL_SWEEP[hull.kind], 0.12, x, hull.draught_body, _COUNT[hull.kind]
    )


def estimated_rudder(hull: Hull) -> Foil:
    """Return the spade rudder (two for two hulls) that a hull of these figures usually has.

    Parameters
    ----------
    hull : Hull

    Returns
    -------
    Foil
        Lateral area 0.22 (two: 0.20 in all) times volume to the power 2/3; from 0.3 of the hull's
        draught down to 0.8 of the whole, at 0.47 of the waterline behind its middle.
    """
    top = _RUDDER_ROOT * hull.draught_body
    span = max(_RUDDER_TIP * hull.draught - top, _LEAST_SPAN * hull.draught)
    root, tip = _chords(hull, _RUDDER[hull.kind], span)
    x = middle_x(hull) - _RUDDER_BACK * hull.length_waterline
    return Foil(span, root, tip, _RUDDER_SWEEP, 0.14, x, top, _COUNT[hull.kind])


def keel_of(hull: Hull) -> Foil:
    """Return the boat's own keel, or the estimate.

    Parameters
    ----------
    hull : Hull

    Returns
    -------
    Foil
    """
    return estimated_keel(hull) if hull.keel is None else hull.keel


def rudder_of(hull: Hull) -> Foil:
    """Return the boat's own rudder, or the estimate.

    Parameters
    ----------
    hull : Hull

    Returns
    -------
    Foil
    """
    return estimated_rudder(hull) if hull.rudder is None else hull.rudder
