"""What sightings tell of the unknowns: boats that might be, reweighted by what was seen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr, ndtri
from scipy.stats import qmc

from luffwright.advice.doubt import Axis, scaled
from luffwright.advice.emulator import Surface
from luffwright.arrays import FloatArray

MISREAD = 0.04
"""Share of looks in which a telltale is told as what it is not."""
BLURRED = float(np.radians(0.7))
"""How near to nought a margin has to be for a crew to tell the tuft either way [rad]: there it
streams between a third and two thirds of the time. Together with the emulator's own error."""
SLACK_BLURRED = 0.0015
BOATS = 4096
"""How many boats are drawn."""
FEW = 400.0
"""Where fewer of them count, more are drawn where the sightings point to."""
WIDER = 1.4
"""How much wider the second draw is than what the first one points to."""
ROUNDS = 3


@dataclass(frozen=True)
class Sighting:
    """One look: `tufts` [by name of a margin] streaming or not; `felt` values [by name, the
    reading's unit] with how far each may be off; `moved`: how far each control [its unit] and the
    course [rad] stand from where they stood at the first look.
    """

    tufts: tuple[tuple[str, bool], ...] = ()
    felt: tuple[tuple[str, float, float], ...] = ()
    moved: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True)
class Boats:
    """Boats that might be: `points` (n, axes) [each its unit] as they were at the first look, and
    their `weights`, which sum to one; `fit`: how likely all sightings together were [-, natural
    logarithm].
    """

    axes: tuple[Axis, ...]
    points: FloatArray
    weights: FloatArray
    fit: float = 0.0

    @property
    def count(self) -> float:
        """Return how many boats count [-]."""
        return float(1.0 / np.sum(self.weights**2))

    def middle(self) -> FloatArray:
        """Return the mean of each unknown [each its unit]."""
        return np.asarray(self.weights @ self.points)

    def spread(self) -> FloatArray:
        """Return the standard deviation of each unknown [each its unit]."""
        away = self.points - self.middle()
        return np.asarray(np.sqrt(self.weights @ away**2))

    def drawn(self, count: int) -> FloatArray:
        """Return `count` boats, each as often as it weighs [each its unit]."""
        places = (np.arange(count) + 0.5) / count
        index = np.searchsorted(np.cumsum(self.weights), places)
        return np.asarray(self.points[np.minimum(index, len(self.points) - 1)])


def after(
    axes: tuple[Axis, ...], surfaces: Mapping[str, Surface], sightings: tuple[Sighting, ...]
) -> Boats:
    """Return the boats that might be after sightings.

    Parameters
    ----------
    axes : tuple of Axis
        With what is believed before.
    surfaces : mapping
        The emulator, by name of a reading.
    sightings : tuple of Sighting
        Their order does not matter.

    Returns
    -------
    Boats
        What was not looked at tells nothing. Sightings are independent of each other but for the
        boat, which is the same.

    Notes
    -----
    Importance sampling: boats are drawn from what is believed, weighed by how likely each look is
    on them, and where few of them count drawn again from a normal variable as wide as those.
    """
    middle = np.array([it.middle for it in axes])
    spread = np.array([it.spread for it in axes])
    normal = _normal(len(axes), BOATS)
    points = middle + spread * normal
    likely = likelihood(axes, surfaces, sightings, points)
    found = _weighed(axes, points, likely)
    for _ in range(ROUNDS):
        if found.count >= FEW:
            break
        root = _root(found, spread)
        points = found.middle() + normal @ root.T
        rest = -0.5 * np.sum(((points - middle) / spread) ** 2, axis=1)
        drawn = -0.5 * np.sum(normal**2, axis=1)
        likely = likelihood(axes, surfaces, sightings, points)
        new = _weighed(axes, points, likely + rest - drawn)
        if new.count <= found.count:
            break
        found = new
    return found


def _normal(axes: int, count: int) -> FloatArray:
    """Return quasi-random normal variables, the same whenever asked."""
    raw = qmc.Sobol(axes, seed=1).random(count)
    return np.asarray(ndtri(np.clip(raw, 1e-6, 1.0 - 1e-6)))


def _root(found: Boats, spread: FloatArray) -> FloatArray:
    """Return the root of the covariance to draw from anew."""
    away = (found.points - found.middle()) / spread
    cover = (found.weights[:, None] * away).T @ away
    share = min(1.0, found.count / (4.0 * len(spread)))
    cover = share * cover + (1.0 - share) * np.diag(np.diag(cover)) + 0.02 * np.eye(len(spread))
    return np.asarray(spread[:, None] * np.linalg.cholesky(WIDER * cover))


def _weighed(axes: tuple[Axis, ...], points: FloatArray, likely: FloatArray) -> Boats:
    most = float(np.max(likely))
    weight = np.exp(likely - most)
    mean = float(np.mean(weight))
    return Boats(axes, points, weight / (mean * len(weight)), most + float(np.log(mean)))


def likelihood(
    axes: tuple[Axis, ...], surfaces: Mapping[str, Surface], sightings: tuple[Sighting, ...],
    points: FloatArray,
) -> FloatArray:  # fmt: skip
    """Return how likely the sightings are on each boat, natural logarithm.

    Parameters
    ----------
    axes : tuple of Axis
    surfaces : mapping
    sightings : tuple of Sighting
    points : (n, axes) array
        [each its unit]

    Returns
    -------
    (n,) array
        [-]
    """
    out = np.zeros(len(points))
    for look in sightings:
        there = scaled(axes, moved(axes, points, dict(look.moved)))
        for name, streams in look.tufts:
            found = surfaces[name]
            blur = float(np.hypot(SLACK_BLURRED if "flutter" in name else BLURRED, found.error))
            share = ndtr(found(there) / blur)
            share = share if streams else 1.0 - share
            out += np.log(MISREAD + (1.0 - 2.0 * MISREAD) * share)
        for name, value, doubt in look.felt:
            found = surfaces[name]
            off = (found(there) - value) / np.hypot(doubt, found.error)
            # Heavy tails: a figure that fits no boat does not throw out all that do.
            out -= 2.5 * np.log1p(off**2 / 4.0)
    return out


def moved(axes: tuple[Axis, ...], points: FloatArray, by: Mapping[str, float]) -> FloatArray:
    """Return boats after moves.

    Parameters
    ----------
    axes : tuple of Axis
    points : (n, axes) array
        [each its unit]
    by : mapping
        How far each goes. [each its unit]

    Returns
    -------
    (n, axes) array
        [each its unit]
    """
    shift = np.array([by.get(it.name, 0.0) for it in axes])
    return points + shift
