"""Two hulls side by side: their waves, how they stand up to the sails, and the wind that lifts one.

Heel is to leeward, so the windward hull rises. Heights are above the waterline at rest.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from scipy.optimize import brentq

from luffwright.air.fluid import FREEZING
from luffwright.errors import InputError
from luffwright.water.fluid import water_density
from luffwright.water.hull import Hull
from luffwright.water.thin_ship import FADING, GRAVITY, HullForm, slender_form
from luffwright.water.thin_ship_table import WaveTable, thin_ship_table

SEA_WATER = water_density(FREEZING + 15.0)
AIR_DENSITY = 1.225
"""At 15 °C and sea level, ISO 2533 [kg/m³]."""
LIFT_OFF_COEFFICIENT = 1.57
"""Force over pressure and sail area that a designer's rule for lifting a hull implies [-]."""
WORKING_SHARE = 0.70
"""Of the wind that lifts the windward hull, the most that a working sail plan may meet [-]."""


@dataclass(frozen=True)
class TwoHulls:
    """A catamaran as she stands on the water: `displacement` of both hulls [kg], `spacing` of their
    centrelines [m], `waterplane` of one hull [m²], `draught` of its body [m], `centre_height` of
    the boat's centre of gravity [m].
    """

    displacement: float
    spacing: float
    waterplane: float
    draught: float
    centre_height: float

    @property
    def volume(self) -> float:
        """Return what one hull displaces at rest [m³]."""
        return 0.5 * self.displacement / SEA_WATER

    @property
    def fullness(self) -> float:
        """Return the volume of one hull over that of a wall-sided one, 0.5 to 1 [-]."""
        return self.volume / (self.waterplane * self.draught)


@dataclass(frozen=True)
class LiftOff:
    """Where the windward hull leaves the water: heel [rad], heeling moment that it takes [N m]."""

    heel: float
    moment: float


def demihull(hull: Hull) -> HullForm:
    """Return one of a catamaran's two hulls as a slender form of her length and displacement.

    Parameters
    ----------
    hull : Hull
        Of kind catamaran.

    Returns
    -------
    HullForm

    Notes
    -----
    Fins are left out of the volume's account: 1 to 2 % of it.
    """
    if hull.kind != "catamaran" or hull.hull_spacing <= 0.0:
        raise InputError(
            "hull.hull_spacing_m", hull.hull_spacing, "must be above 0 for two hulls",
            "give the distance between the hulls' centrelines",
        )  # fmt: skip
    box = hull.length_waterline * hull.beam_waterline * hull.draught_body
    block = 0.5 * hull.displacement / (SEA_WATER * box)
    return slender_form(hull.length_waterline, hull.beam_waterline, hull.draught_body, block)


@lru_cache(maxsize=8)
def hull_waves(hull: Hull) -> WaveTable:
    """Return the wave resistance of a catamaran over her speeds; worked out once for each hull.

    Parameters
    ----------
    hull : Hull
        Of kind catamaran.

    Returns
    -------
    WaveTable
    """
    return thin_ship_table(demihull(hull), hull.hull_spacing, fading=FADING)


def two_hulls(hull: Hull, centre_height: float) -> TwoHulls:
    """Return a catamaran as she stands on the water.

    Parameters
    ----------
    hull : Hull
        Of kind catamaran.
    centre_height : float
        Of the whole boat's centre of gravity above the waterline; cruising catamarans about 0.7 to
        1.5 m (own estimate). [m]

    Returns
    -------
    TwoHulls
    """
    return TwoHulls(
        hull.displacement, hull.hull_spacing, demihull(hull).waterplane, hull.draught_body,
        centre_height,
    )  # fmt: skip


def _left(boat: TwoHulls, rise: float) -> float:
    """Return the volume that a hull still displaces when it has risen [m³]."""
    power = boat.fullness / (1.0 - boat.fullness)
    share = min(rise / boat.draught, 1.0)
    return (
        boat.waterplane * boat.draught
        * (1.0 - share - (1.0 - share ** (power + 1.0)) / (power + 1.0))
    )  # fmt: skip


def _apart(boat: TwoHulls, rise: float) -> float:
    """Return how far the hulls stand apart in height when the windward one has risen [m]."""
    return rise + (boat.volume - _left(boat, rise)) / boat.waterplane


def righting_lever(boat: TwoHulls, heel: float) -> float:
    r"""Return the righting lever GZ of two hulls.

    .. math:: GZ = \frac s2\,\frac{F_l - F_w}{W}\cos\varphi - z_G \sin\varphi,\quad
        F_l + F_w = W

    Parameters
    ----------
    boat : TwoHulls
    heel : float
        Either way, to 90°, :math:`\varphi`. [rad]

    Returns
    -------
    float
        Of the sign of the heel until she is past her vanishing angle. [m]

    Notes
    -----
    The hulls differ in height by :math:`s \sin\varphi`; each floats as deep as leaves their sum of
    buoyancies :math:`F` at the weight. Below the waterline they narrow as those of `slender_form`,
    above it they are wall-sided. Each hull's buoyancy is taken to act through the point of its
    centreline on the waterline, as it does with semicircular sections. Bridge deck dry.

    Examples
    --------
    Once a hull flies, the lever only falls:

    >>> boat = TwoHulls(9800.0, 5.2, 11.0, 0.62, 1.0)
    >>> [round(righting_lever(boat, math.radians(at)), 2) for at in (3, 12, 30, 60)]
    [0.76, 2.34, 1.75, 0.43]
    """
    if heel < 0.0:
        return -righting_lever(boat, -heel)
    apart = boat.spacing * math.sin(heel)
    if apart >= _apart(boat, boat.draught):
        share = 1.0
    else:
        rise = brentq(lambda at: _apart(boat, at) - apart, 0.0, boat.draught, xtol=1e-12)
        share = 1.0 - _left(boat, rise) / boat.volume
    return 0.5 * boat.spacing * share * math.cos(heel) - boat.centre_height * math.sin(heel)


def lift_off(boat: TwoHulls) -> LiftOff:
    r"""Return where the windward hull just leaves the water: nearly the greatest moment.

    .. math:: \sin\varphi_0 = \frac{T + V/A}{s},\quad
        M_0 = W\left(\frac s2 \cos\varphi_0 - z_G\sin\varphi_0\right)

    Parameters
    ----------
    boat : TwoHulls

    Returns
    -------
    LiftOff

    Notes
    -----
    To first order :math:`M_0 = W s/2`, the textbook's greatest static righting moment; heel and the
    height of the weight take 5 to 15 % from it. In a seaway she lifts sooner. The greatest lever
    itself lies a fraction of a degree earlier and is higher by 0.1 or 0.2 %.

    Examples
    --------
    >>> found = lift_off(TwoHulls(9800.0, 5.2, 11.0, 0.62, 1.0))
    >>> round(math.degrees(found.heel), 1), round(found.moment / 1000.0)
    (11.7, 225)
    """
    sine = _apart(boat, boat.draught) / boat.spacing
    if sine >= 1.0:
        raise InputError(
            "hull.hull_spacing_m", boat.spacing, "must exceed the height a hull has to rise",
            "check hull_spacing, draught_body and displacement",
        )  # fmt: skip
    heel = math.asin(sine)
    lever = 0.5 * boat.spacing * math.cos(heel) - boat.centre_height * sine
    return LiftOff(heel, GRAVITY * boat.displacement * lever)


def vanishing_heel(boat: TwoHulls) -> float:
    """Return the heel from which she goes over: the weight stands above the leeward hull [rad].

    Parameters
    ----------
    boat : TwoHulls

    Returns
    -------
    float
    """
    return math.atan2(0.5 * boat.spacing, boat.centre_height)


def lift_off_wind(
    moment: float, area: float, lever: float, coefficient: float = LIFT_OFF_COEFFICIENT,
    density: float = AIR_DENSITY,
) -> float:  # fmt: skip
    r"""Return the apparent wind whose side force on the sails just lifts the windward hull.

    .. math:: U = \sqrt{\frac{2 M_0}{\rho\, C\, A\, h}}

    Parameters
    ----------
    moment : float
        Righting moment at lift-off, :math:`M_0`. [N m]
    area : float
        Of the sails set, :math:`A`. [m²]
    lever : float
        Of the sails' centre above that of the side force in the water, :math:`h`. [m]
    coefficient : float
        Side force over pressure and area, :math:`C`. [-]
    density : float
        Of the air, :math:`\rho`. [kg/m³]

    Returns
    -------
    float
        Steady wind, sheets hard in, flat water. [m/s]

    Notes
    -----
    With :math:`M_0 = W s/2` and the coefficient 1.57 this is the designer's rule
    :math:`U_{kn} = 13.7\sqrt{\tfrac12 W B/(S h)}` in pounds and feet.

    Examples
    --------
    Ten tonnes, hulls 5.3 m apart, 95 m² with their centre 9 m up:

    >>> wind = lift_off_wind(10_000 * 9.81 * 5.3 / 2, 95.0, 9.0)
    >>> round(wind * 3600 / 1852, 1)
    34.6
    """
    return math.sqrt(2.0 * moment / (density * coefficient * area * lever))


def working_wind(lift_off_speed: float, gust_factor: float = 1.0 / WORKING_SHARE) -> float:
    r"""Return the mean apparent wind above which sail is to be taken off.

    .. math:: U = \min(0.70,\ 1/G)\; U_0

    Parameters
    ----------
    lift_off_speed : float
        Wind that lifts the windward hull, :math:`U_0`. [m/s]
    gust_factor : float
        Greatest gust over the mean wind, :math:`G`. [-]

    Returns
    -------
    float
        [m/s]

    Notes
    -----
    0.70 of the wind is 0.49 of the heeling moment, room for a gust of 1.43 times the mean. It is
    the wording of ISO 12217-2 as an owner's manual gives it; no conformity is claimed.

    Examples
    --------
    >>> working_wind(20.0), working_wind(20.0, 1.6)
    (14.0, 12.5)
    """
    return min(WORKING_SHARE, 1.0 / gust_factor) * lift_off_speed
