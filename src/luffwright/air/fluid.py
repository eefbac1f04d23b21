"""The air itself: density and viscosity at a temperature."""

from __future__ import annotations

import math

from luffwright.errors import InputError

STANDARD_PRESSURE = 101_325.0
"""At sea level in the standard atmosphere [Pa]."""
FREEZING = 273.15
"""Zero of the Celsius scale [K]."""
_GAS_DRY, _GAS_VAPOUR = 287.05287, 461.52
"""Specific gas constants of dry air (ISO 2533:1975) and of water vapour [J/(kg K)]."""
_COLDEST, _WARMEST = 233.15, 333.15


def _checked(temperature: float) -> float:
    if not _COLDEST <= temperature <= _WARMEST:
        raise InputError(
            "air_temp_c", round(temperature - FREEZING, 1), "must be -40 to 60",
            "give the air's temperature in degrees Celsius",
        )  # fmt: skip
    return temperature


def vapour_pressure(temperature: float) -> float:
    r"""Return the pressure of water vapour in saturated air.

    .. math:: e = 611.2\,\mathrm{Pa}\,\exp\frac{17.62\,t}{243.12\,\mathrm{K}+t},\quad
        t = T - 273.15\,\mathrm{K}

    Parameters
    ----------
    temperature : float
        Of the air, -40 to 60 °C. [K]

    Returns
    -------
    float
        [Pa]

    References
    ----------
    .. [1] World Meteorological Organization, *Guide to Instruments and Methods of Observation*,
       WMO-No. 8, annex 4.B (from memory).

    Examples
    --------
    >>> round(vapour_pressure(273.15), 1)
    611.2
    """
    celsius = _checked(temperature) - FREEZING
    return 611.2 * math.exp(17.62 * celsius / (243.12 + celsius))


def air_density(
    temperature: float, humidity: float = 0.0, pressure: float = STANDARD_PRESSURE
) -> float:
    r"""Return the density of moist air, a mixture of two ideal gases.

    .. math:: \rho = \frac{p - h e}{R_d T} + \frac{h e}{R_v T}

    Parameters
    ----------
    temperature : float
        -40 to 60 °C, :math:`T`. [K]
    humidity : float
        Relative, 0 to 1, :math:`h`. [-]
    pressure : float
        Of the air, :math:`p`. [Pa]

    Returns
    -------
    float
        [kg/m³]

    References
    ----------
    .. [1] ISO 2533:1975, *Standard Atmosphere* (gas constant of dry air).

    Examples
    --------
    >>> round(air_density(288.15), 3)
    1.225
    """
    vapour = humidity * vapour_pressure(temperature)
    return (pressure - vapour) / (_GAS_DRY * temperature) + vapour / (_GAS_VAPOUR * temperature)


def air_viscosity(temperature: float) -> float:
    r"""Return the dynamic viscosity of air by Sutherland's law.

    .. math:: \mu = 1.458\cdot10^{-6}\,\frac{T^{3/2}}{T + 110.4\,\mathrm{K}}

    Parameters
    ----------
    temperature : float
        -40 to 60 °C, :math:`T`. [K]

    Returns
    -------
    float
        [Pa s]

    References
    ----------
    .. [1] ISO 2533:1975, *Standard Atmosphere*, equation of the dynamic viscosity.

    Examples
    --------
    >>> round(air_viscosity(288.15) * 1e5, 4)
    1.7894
    """
    return 1.458e-6 * _checked(temperature) ** 1.5 / (temperature + 110.4)
