"""The air that meets a sailing boat: apparent wind by height, seen from the heeled boat.

Level frame: x forward, y to port, z up. The wind comes over the starboard side, so it blows to +y;
leeway carries the boat to +y and heel leans the mast to +y.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.air.wind import WindProfile, wind_at, wind_profile
from luffwright.arrays import FloatArray
from luffwright.frames import to_boat


@dataclass(frozen=True)
class Stream:
    """Wind and the boat's motion: angle bow to true wind, leeway, heel [rad], speed [m/s]."""

    profile: WindProfile
    wind_angle: float
    speed: float
    leeway: float
    heel: float

    @property
    def up(self) -> FloatArray:
        """Return the level vertical in the boat frame."""
        return np.array([0.0, -np.sin(self.heel), np.cos(self.heel)])

    def level(self, height: FloatArray) -> FloatArray:
        """Return the air's velocity past the boat at heights above the water, level frame [m/s]."""
        wind = wind_at(self.profile, height)
        out = np.zeros((len(height), 3))
        out[:, 0] = -wind * np.cos(self.wind_angle) - self.speed * np.cos(self.leeway)
        out[:, 1] = wind * np.sin(self.wind_angle) - self.speed * np.sin(self.leeway)
        return out

    def __call__(self, points: FloatArray) -> FloatArray:
        """Return the air's velocity past the boat at points, both in the boat frame [m/s]."""
        return to_boat(self.level(points @ self.up), self.heel)

    def apparent(self, height: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return speed [m/s] and angle from the bow [rad] of the apparent wind, level frame."""
        level = self.level(height)
        return np.hypot(level[:, 0], level[:, 1]), np.arctan2(level[:, 1], -level[:, 0])


def from_apparent(  # noqa: PLR0913
    apparent_speed: float, apparent_angle: float, height: float, speed: float, leeway: float,
    heel: float,
) -> Stream:  # fmt: skip
    """Return the stream whose apparent wind at a height is the one given.

    Parameters
    ----------
    apparent_speed, apparent_angle : float
        Level frame, angle from the bow. [m/s], [rad]
    height : float
        Of the apparent wind. [m]
    speed, leeway, heel : float
        Of the boat. [m/s], [rad], [rad]

    Returns
    -------
    Stream
    """
    ahead = apparent_speed * np.cos(apparent_angle) - speed * np.cos(leeway)
    across = apparent_speed * np.sin(apparent_angle) + speed * np.sin(leeway)
    wind, angle = float(np.hypot(ahead, across)), float(np.arctan2(across, ahead))
    ten = wind
    for _ in range(20):
        ten *= wind / float(wind_at(wind_profile(ten), np.array([height]))[0])
    return Stream(wind_profile(ten), angle, speed, leeway, heel)
