"""The water itself: density and viscosity at a temperature."""

from __future__ import annotations

from dataclasses import dataclass

from luffwright.air.fluid import FREEZING
from luffwright.errors import InputError

OPEN_SEA = 35.0
"""Practical salinity of the open sea [-], grams of salt in a kilogram."""


@dataclass(frozen=True)
class Water:
    """What the boat floats in: density [kg/m³] and kinematic viscosity [m²/s]."""

    density: float
    viscosity: float


def _celsius(temperature: float) -> float:
    celsius = temperature - FREEZING
    if not -2.0 <= celsius <= 40.0:
        raise InputError(
            "water_temp_c", round(celsius, 1), "must be -2 to 40",
            "give the water's temperature in degrees Celsius",
        )  # fmt: skip
    return celsius


def _salt(salinity: float) -> float:
    if not 0.0 <= salinity <= 42.0:
        raise InputError(
            "salinity", salinity, "must be 0 to 42",
            "give grams of salt in a kilogram of water: 0 for a lake, 35 for the open sea",
        )  # fmt: skip
    return salinity


def water_density(temperature: float, salinity: float = OPEN_SEA) -> float:
    r"""Return the density of water at the surface, fresh or salt.

    .. math:: \rho = \rho_w(t) + A(t)\,S + B(t)\,S^{3/2} + C\,S^2

    Parameters
    ----------
    temperature : float
        -2 to 40 °C. [K]
    salinity : float
        Practical, 0 to 42, :math:`S`. [-]

    Returns
    -------
    float
        [kg/m³]

    References
    ----------
    .. [1] Millero & Poisson, *International one-atmosphere equation of state of seawater*,
       Deep-Sea Research 28A, 1981 (coefficients from memory; checked against printed densities).

    Examples
    --------
    >>> round(water_density(288.15), 1), round(water_density(288.15, 0.0), 1)
    (1026.0, 999.1)
    """
    t, s = _celsius(temperature), _salt(salinity)
    fresh = 999.842594 + t * (
        6.793952e-2 + t * (-9.095290e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9)))
    )
    first = 0.824493 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)))
    second = -5.72466e-3 + t * (1.0227e-4 - t * 1.6546e-6)
    return fresh + s * first + s**1.5 * second + s**2 * 4.8314e-4


def water_viscosity(temperature: float, salinity: float = OPEN_SEA) -> float:
    r"""Return the kinematic viscosity of water, fresh or salt.

    .. math:: \nu = \frac{\mu_w(t)\,(1 + A\,s + B\,s^2)}{\rho},\quad
        \mu_w = 4.2844\cdot10^{-5} + \frac{1}{0.157\,(t + 64.993)^2 - 91.296},\quad s = S/1000

    Parameters
    ----------
    temperature : float
        -2 to 40 °C. [K]
    salinity : float
        Practical, 0 to 42, :math:`S`. [-]

    Returns
    -------
    float
        [m²/s]

    References
    ----------
    .. [1] Sharqawy, Lienhard & Zubair, *Thermophysical properties of seawater*, Desalination and
       Water Treatment 16, 2010 (coefficients from memory; checked against printed viscosities).

    Examples
    --------
    >>> round(water_viscosity(288.15) * 1e6, 2)
    1.19
    """
    t, s = _celsius(temperature), _salt(salinity) / 1000.0
    fresh = 4.2844e-5 + 1.0 / (0.157 * (t + 64.993) ** 2 - 91.296)
    first = 1.541 + t * (1.998e-2 - t * 9.52e-5)
    second = 7.974 + t * (-7.561e-2 + t * 4.724e-4)
    return fresh * (1.0 + s * (first + s * second)) / water_density(temperature, salinity)


def water_at(temperature: float, salinity: float = OPEN_SEA) -> Water:
    """Return the water of a temperature and salinity.

    Parameters
    ----------
    temperature : float
        -2 to 40 °C. [K]
    salinity : float
        Practical, 0 to 42. [-]

    Returns
    -------
    Water
    """
    return Water(water_density(temperature, salinity), water_viscosity(temperature, salinity))
