"""Drag of the hull, or of both hulls, with the friction of the fins, whichever boat it is."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from luffwright.water.catamaran import demihull, hull_waves
from luffwright.water.delft_form import Form, form_of
from luffwright.water.fluid import Water
from luffwright.water.foil_estimate import keel_of, rudder_of
from luffwright.water.friction import HULL_REACH, friction
from luffwright.water.hull import Hull
from luffwright.water.resistance import foil_friction, resistance

CATAMARAN_BAND = 0.15
"""Band of a catamaran's resistance as a share: estimate of our own."""


@dataclass(frozen=True)
class HullDrag:
    """Drag along the track without what side force costs [N], its band [N], and flags."""

    force: float
    band: float
    flags: tuple[str, ...]


@lru_cache(maxsize=16)
def _form(hull: Hull) -> Form:
    return form_of(hull)


@lru_cache(maxsize=64)
def hull_drag(hull: Hull, speed: float, heel: float, water: Water) -> HullDrag:
    """Return the drag in flat water.

    Parameters
    ----------
    hull : Hull
    speed : float
        Through the water. [m/s]
    heel : float
        [rad]
    water : Water

    Returns
    -------
    HullDrag

    Notes
    -----
    Holds for: monohulls as `resistance`; catamarans as thin ships with two wetted hulls, upright.
    """
    if hull.kind == "catamaran":
        return _two_hulls(hull, speed, water)
    fins = (keel_of(hull), rudder_of(hull))
    found = resistance(_form(hull), water, np.array([speed]), np.array([heel]), fins)
    return HullDrag(float(found.total[0]), float(found.band[0]), found.flags)


def _two_hulls(hull: Hull, speed: float, water: Water) -> HullDrag:
    form = demihull(hull)
    waves = hull_waves(hull).drag(speed, water.density)
    ahead = np.array([abs(speed)])
    skin = friction(ahead, 2.0 * form.wetted, HULL_REACH * hull.length_waterline, water)
    fins = foil_friction((keel_of(hull), rudder_of(hull)), ahead, water)
    total = waves.resistance + float(np.sign(speed)) * (float(skin[0]) + float(fins[0]))
    flags = () if waves.in_range else ("speed beyond the range of the catamaran's wave table",)
    return HullDrag(total, CATAMARAN_BAND * abs(total), flags)
