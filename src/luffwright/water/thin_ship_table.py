"""Wave resistance of a boat's hulls over her speeds: the integral once, then a smooth curve."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline

from luffwright.arrays import FloatArray
from luffwright.water.thin_ship import (
    GRAVITY,
    SEA_WATER,
    HullForm,
    WaveDrag,
    wave_coefficients,
)

STILL, SLOWEST, FASTEST = 0.10, 0.12, 1.2
"""Froude numbers: no waves up to the first, the whole integral from the second to the last."""
_TURN = 0.6
"""Between neighbours, in waves' phase over the hull's length at low speed [rad]."""
_HIGH_SPEEDS = 40


@dataclass(frozen=True, eq=False)
class WaveTable:
    """Coefficient R / (½ρU²L²) of all hulls together and interference, as curves over the Froude
    number; `length` [m], `spacing` of the centrelines [m].
    """

    length: float
    spacing: float
    coefficient: CubicSpline
    interference: CubicSpline

    def drag(self, speed: float, density: float = SEA_WATER) -> WaveDrag:
        """Return the waves' resistance at a speed [m/s] in water of a density [kg/m³].

        Smooth to the first derivative at any speed; astern as ahead, pointing forward.
        """
        scale = float(np.sqrt(GRAVITY * self.length))
        froude = abs(speed) / scale
        value, slope = self._coefficient(froude)
        press = 0.5 * density * self.length**2
        inside = float(np.clip(froude, STILL, FASTEST))
        return WaveDrag(
            resistance=press * speed * abs(speed) * value,
            interference=float(self.interference(inside)),
            slope=press * (2.0 * abs(speed) * value + speed**2 * slope / scale),
            in_range=froude <= FASTEST,
        )

    def _coefficient(self, froude: float) -> tuple[float, float]:
        """Return coefficient and slope; beyond the fastest they go on as a power of speed."""
        if froude <= STILL:
            return 0.0, 0.0
        if froude <= FASTEST:
            return float(self.coefficient(froude)), float(self.coefficient(froude, 1))
        value = float(self.coefficient(FASTEST))
        power = FASTEST * float(self.coefficient(FASTEST, 1)) / value
        share = value * (froude / FASTEST) ** power
        return share, power * share / froude


def _froude_numbers() -> FloatArray:
    """Return the speeds of the table: humps follow each other in equal steps of 1 / Fn²."""
    slow = np.arange(4.0, STILL**-2, _TURN)
    fast = np.geomspace(FASTEST**-2, 4.0, _HIGH_SPEEDS, endpoint=False)
    return np.sort(np.concatenate([fast, slow, [STILL**-2]]) ** -0.5)


def _risen(froude: FloatArray) -> FloatArray:
    """Return the share of the waves that is counted: 0 to 1 between the two slowest speeds."""
    share = np.clip((froude - STILL) / (SLOWEST - STILL), 0.0, 1.0)
    return share**2 * (3.0 - 2.0 * share)


def thin_ship_table(form: HullForm, spacing: float, *, fading: float = 0.0) -> WaveTable:
    """Return the wave resistance of one hull, or of two side by side, at all speeds.

    Parameters
    ----------
    form : HullForm
        Of one hull.
    spacing : float
        Between the centrelines of two; 0 = one hull. [m]
    fading : float
        Of the bow's waves, as in `thin_ship.wave_coefficients`. [-]

    Returns
    -------
    WaveTable

    Notes
    -----
    Froude numbers 0.12 to 1.2. Slower, where friction is nearly all, the waves fade to nothing at
    0.10; faster, the coefficient goes on with its last slope and is flagged. Range and sources of
    the integral: `thin_ship.wave_coefficients`.
    """
    froude = _froude_numbers()
    found = np.array([wave_coefficients(form, spacing, float(at), fading=fading) for at in froude])
    hulls = 2.0 if spacing > 0.0 else 1.0
    total = hulls * found[:, 0] * found[:, 1] * _risen(froude)
    level = (1, 0.0)
    return WaveTable(
        form.length,
        spacing,
        CubicSpline(froude, total, bc_type=(level, "not-a-knot")),
        CubicSpline(froude, found[:, 1]),
    )
