"""How sea and gusts swing the wind that the sails meet, by height, faster than the boat answers.

Axes as everywhere: x forward, y to port, wind from starboard; waves come from an angle measured
from the bow like the wind's, 0 = head sea, positive over the starboard side.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from luffwright.air.stream import Stream
from luffwright.arrays import FloatArray
from luffwright.water.hull import Hull
from luffwright.water.sea import GRAVITY, Sea, spectrum

GUST_ALONG, GUST_ACROSS = 2.4, 1.9
"""Deviations of the wind along and across its mean over the friction velocity (from memory) [-]."""
_FREQUENCIES = np.geomspace(0.4, 15.0, 200)


@dataclass(frozen=True)
class Turbulence:
    """Standard deviations of the wind along and across its mean direction [m/s]."""

    along: float
    across: float


@dataclass(frozen=True)
class MotionRates:
    """Standard deviations of a boat's pitch and roll rate in a sea [rad/s]."""

    pitch: float
    roll: float


@dataclass(frozen=True)
class Swing:
    """Standard deviations at each height of the apparent wind's angle [rad] and speed [m/s], and
    the part of the angle's that the waves alone make [rad].
    """

    heights: FloatArray
    incidence: FloatArray
    speed: FloatArray
    wave_incidence: FloatArray


def turbulence_of(friction: float) -> Turbulence:
    r"""Return the gustiness of neutral wind over open water.

    .. math:: \sigma_u = 2.4\,u_*,\quad \sigma_v = 1.9\,u_*

    Parameters
    ----------
    friction : float
        Friction velocity, :math:`u_*`. [m/s]

    Returns
    -------
    Turbulence

    Notes
    -----
    Neutral surface layer, averages of ten minutes to an hour; near land and under showers more.

    References
    ----------
    .. [1] Panofsky and Dutton, *Atmospheric Turbulence*, Wiley, 1984 (from memory).

    Examples
    --------
    >>> turbulence_of(0.5)
    Turbulence(along=1.2, across=0.95)
    """
    return Turbulence(GUST_ALONG * friction, GUST_ACROSS * friction)


def _plate(half: FloatArray) -> FloatArray:
    """Return the share of a sine's slope that a float of half length X follows: least squares."""
    x = np.maximum(half, 1e-2)
    return np.where(half < 1e-2, 1.0 - half**2 / 10.0, 3.0 * (np.sin(x) - x * np.cos(x)) / x**3)


def _mean(half: FloatArray) -> FloatArray:
    """Return the mean of a sine over a length, and the slope between two floats apart by it."""
    return np.sinc(half / np.pi)


@dataclass(frozen=True)
class _Ride:
    """Boat's velocity over wave amplitude by frequency: with the water at the surface along the
    waves' course, and per metre of height forward and to port; the sea's weights for a variance.
    """

    drift: FloatArray
    pitch: FloatArray
    roll: FloatArray
    weight: FloatArray
    course: tuple[float, float]

    def velocity(self, height: float) -> tuple[FloatArray, FloatArray]:
        """Return the velocity at a height [m] forward and to port, over wave amplitude [1/s]."""
        forward, port = self.course
        return (
            forward * (self.drift - self.pitch * height),
            port * (self.drift - self.roll * height),
        )


def _ride(sea: Sea, hull: Hull, speed: float, angle: float) -> _Ride:
    omega = sea.peak * _FREQUENCIES
    k = omega**2 / GRAVITY
    meeting = omega + k * speed * math.cos(angle)
    deep = np.exp(-k * hull.draught_body)
    along = 0.5 * k * hull.length_waterline * abs(math.cos(angle))
    two = hull.hull_spacing > 0.0
    across = 0.5 * k * (hull.hull_spacing if two else hull.beam_waterline) * abs(math.sin(angle))
    lean = _mean(across) if two else _plate(across)
    return _Ride(
        drift=omega * _mean(along) * deep,
        pitch=k * meeting * _plate(along) * deep,
        roll=k * meeting * lean * _mean(along) * deep,
        weight=spectrum(sea, omega) * np.gradient(omega),
        course=(-math.cos(angle), math.sin(angle)),
    )


def motion_rates(sea: Sea, hull: Hull, speed: float, angle: float) -> MotionRates:
    r"""Return how fast a boat pitches and rolls in a sea if she lies to the waves' slope.

    .. math:: \sigma^2 = \int (\omega_e\, k\, F)^2\, S(\omega)\, d\omega

    Parameters
    ----------
    sea : Sea
    hull : Hull
        Its waterline, beam, spacing of hulls and draught of body count.
    speed : float
        Of the boat. [m/s]
    angle : float
        From the bow to where the waves come from. [rad]

    Returns
    -------
    MotionRates

    Notes
    -----
    See `incidence_swing`.
    """
    ride = _ride(sea, hull, speed, angle)
    forward, port = ride.course
    return MotionRates(
        pitch=abs(forward) * math.sqrt(float(ride.weight @ ride.pitch**2)),
        roll=abs(port) * math.sqrt(float(ride.weight @ ride.roll**2)),
    )


def _wave_variances(ride: _Ride, heights: FloatArray, angles: FloatArray) -> FloatArray:
    """Return the variances along and across the apparent wind at each height [m²/s²]."""
    found = np.zeros((2, len(heights)))
    for i, (height, angle) in enumerate(zip(heights, angles, strict=True)):
        forward, port = ride.velocity(float(height))
        along = -forward * np.cos(angle) + port * np.sin(angle)
        across = forward * np.sin(angle) + port * np.cos(angle)
        found[:, i] = ride.weight @ along**2, ride.weight @ across**2
    return found


def incidence_swing(  # noqa: PLR0913
    heights: FloatArray, stream: Stream, sea: Sea, hull: Hull, *,
    wave_angle: float | None = None, turbulence: Turbulence | None = None,
) -> Swing:  # fmt: skip
    r"""Return how far the apparent wind swings at each height, in angle and in speed.

    .. math:: \sigma_\beta = \arctan\frac{\sigma_\perp}{V_A},\quad
        \sigma_\perp^2 = \sigma_u^2\sin^2\delta + \sigma_v^2\cos^2\delta
        + \int \left(\mathbf n\cdot\mathbf v\right)^2 S(\omega)\,d\omega

    with :math:`\delta` between true and apparent wind and, along the waves' course,
    :math:`v = \omega F_0 - \omega_e k F z`.

    Parameters
    ----------
    heights : (n,) array
        Above the water, :math:`z`. [m]
    stream : Stream
        True wind with its friction velocity, boat's speed.
    sea : Sea
    hull : Hull
        Its waterline, beam, spacing of hulls and draught of body count.
    wave_angle : float, optional
        From the bow to where the waves come from; default: from the true wind's. [rad]
    turbulence : Turbulence, optional
        Default: that of the friction velocity.

    Returns
    -------
    Swing

    Notes
    -----
    The boat goes with the water (orbital motion :math:`\omega`) and lies to the waves' slope
    (rate :math:`\omega_e k` times height), each as far as her length, breadth and draught let her:
    :math:`F_0` is the wave's mean over her length, :math:`F` the slope that a float of her length
    (two floats, for a catamaran's roll) follows by least squares, both times
    :math:`e^{-kT}`. Masthead and water move against each other in one wave, so the swing is
    least a few metres up and grows with height above.

    Limits: an estimate, within a factor of about 2. No resonance and no damping: a monohull's roll
    near her own period is larger running and smaller under the press of sail. Long-crested waves of
    one direction, deep water, small motion. All of the wind's turbulence is counted, also what a
    helmsman steers out or a sail's size averages; yawing is left out. Gusts and waves are
    independent of each other.

    References
    ----------
    .. [1] Airy, *Tides and waves*, 1845 (orbital velocity, slope); Panofsky and Dutton 1984.
    """
    gusts = turbulence_of(stream.profile.friction) if turbulence is None else turbulence
    apparent, angle = stream.apparent(heights)
    ride = _ride(sea, hull, stream.speed, stream.wind_angle if wave_angle is None else wave_angle)
    wave_along, wave_across = _wave_variances(ride, heights, angle)
    cosine, sine = np.cos(stream.wind_angle - angle), np.sin(stream.wind_angle - angle)
    along = (gusts.along * cosine) ** 2 + (gusts.across * sine) ** 2 + wave_along
    across = (gusts.along * sine) ** 2 + (gusts.across * cosine) ** 2 + wave_across
    return Swing(
        heights=heights,
        incidence=np.arctan2(np.sqrt(across), apparent),
        speed=np.sqrt(along),
        wave_incidence=np.arctan2(np.sqrt(wave_across), apparent),
    )
