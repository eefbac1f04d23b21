"""The wander: what sails and telltales do on average while wind and sea swing the onset.

Waves and gusts swing the wind that a sail meets faster than boat and cloth answer: the flying shape
is held as it is, and only the flow is solved again. All heights swing together, each by its own
deviation, across and along the apparent wind independently of each other.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.special import ndtr

from luffwright.air.lattice import Flow, Water, solve_flow
from luffwright.air.stall import LEECH_SEPARATED, LEEWARD_STALLS, LUFF_LIFTS, separation
from luffwright.air.stream import Stream
from luffwright.arrays import FloatArray
from luffwright.frames import to_boat, to_level
from luffwright.sails.flight import Flight, sail_lattice
from luffwright.sails.measure import LEVELS, Level, sail_grid
from luffwright.sails.rigging import Mesh
from luffwright.sails.sailcloth import SailPart

Helm = Literal["hand", "pilot", "vane"]
GUSTS_LEFT: dict[Helm, float] = {"hand": 0.5, "vane": 0.7, "pilot": 0.85}
"""Share of the gusts' swing of angle that is left once it is steered for: estimates of our own. A
hand sees a shift coming, a vane answers it late, a pilot holds a course or a smoothed wind. None is
quick enough for the waves' part."""
ACROSS = (np.sqrt(3.0), 1.0 / 6.0)
"""Place on either side and weight of a normal variable: exact up to its fifth power. Against 21
places it is within 0.2 % in force and 0.5 % of the time, in seas that swing the wind by 7°."""
ALONG = (1.0, 0.5)
"""The same up to the third power: forces go with the square of the speed."""
_LEAST_SPREAD = 1e-9
_FACINGS = np.linspace(0.0, 0.5, 501)


@dataclass(frozen=True)
class Onset:
    """The wind past the boat with its standard deviations by height above the water.

    `turn` [rad] of the apparent wind's angle, `rush` [m/s] of its speed, at `heights` [m].
    """

    stream: Stream
    heights: FloatArray
    turn: FloatArray
    rush: FloatArray

    def swung(self, across: float, along: float) -> Swung:
        """Return the wind so many deviations aft of its mean and above its mean speed [-]."""
        return Swung(self, across, along)


@dataclass(frozen=True)
class Swung:
    """One moment of a swinging wind: the deviations that it stands off its mean [-]."""

    onset: Onset
    across: float
    along: float

    def __call__(self, points: FloatArray) -> FloatArray:
        """Return the air's velocity past the boat at points, both in the boat frame [m/s]."""
        onset = self.onset
        height = points @ onset.stream.up
        level = onset.stream.level(height)
        speed = np.hypot(level[:, 0], level[:, 1])
        turn = np.interp(height, onset.heights, onset.turn)
        rush = np.interp(height, onset.heights, onset.rush)
        aside = self.across * np.tan(turn)
        ahead = 1.0 + self.along * rush / np.maximum(speed, 1e-6)
        # Towards the stern and to leeward: square to the wind on the side of a larger angle.
        square = np.stack([level[:, 1], -level[:, 0], 0.0 * speed], axis=1)
        return to_boat(ahead[:, None] * level + aside[:, None] * square, onset.stream.heel)


@dataclass(frozen=True)
class TuftShares:
    """Shares of the time in which the telltales of one level are in trouble [-]."""

    level: Level
    windward_lifting: float
    leeward_stalled: float
    leech_stalled: float


@dataclass(frozen=True)
class Wander:
    """The flight on average over the swing.

    `node_force` [N] in the boat frame; `forces` of each sail (sails, 3), level frame: forward,
    leeward, up [N]; `tufts` of each sail from low to top; `gap`: the worst that a strip's incidence
    did not settle by at any moment [rad].
    """

    node_force: FloatArray
    forces: FloatArray
    tufts: tuple[tuple[TuftShares, ...], ...]
    gap: float


def left_swing(whole: FloatArray, waves: FloatArray, helm: Helm) -> FloatArray:
    r"""Return the swing of the wind's angle that steering leaves.

    .. math:: \tan^2\sigma = \tan^2\sigma_w + s^2 (\tan^2\sigma_0 - \tan^2\sigma_w)

    Parameters
    ----------
    whole : array
        Standard deviation of the angle by waves and gusts, :math:`\sigma_0`. [rad]
    waves : array
        The waves' part of it, :math:`\sigma_w`. [rad]
    helm : {"hand", "pilot", "vane"}
        Who steers, :math:`s` from `GUSTS_LEFT`.

    Returns
    -------
    array
        [rad]

    Notes
    -----
    Waves and gusts are independent of each other. The shares are estimates of our own.

    Examples
    --------
    Gusts of 0.10 rad without waves, steered by hand:

    >>> left_swing(np.array([0.10]), np.array([0.0]), "hand").round(3)
    array([0.05])
    """
    by_waves, both = np.tan(waves) ** 2, np.tan(whole) ** 2
    gusts = np.maximum(both - by_waves, 0.0)
    return np.arctan(np.sqrt(by_waves + GUSTS_LEFT[helm] ** 2 * gusts))


def share_beyond(middle: FloatArray, spread: FloatArray, limit: FloatArray) -> FloatArray:
    r"""Return for which share of the time an angle lies above a limit.

    .. math:: \Phi\left(\frac{m - l}{\sigma}\right)

    Parameters
    ----------
    middle : array
        What it is exceeded by half of the time, :math:`m`. [rad]
    spread : array
        Root mean square distance from there, :math:`\sigma`. [rad]
    limit : array
        :math:`l`. [rad]

    Returns
    -------
    array
        [-]

    Examples
    --------
    >>> share_beyond(np.array([0.0, 1.0]), np.array([1.0, 0.0]), np.array([1.0, 0.9])).round(3)
    array([0.159, 1.   ])
    """
    return np.asarray(ndtr((middle - limit) / np.maximum(spread, _LEAST_SPREAD)))


def leech_limit(camber: float) -> float:
    """Return the facing incidence beyond which the leech telltale no longer streams [rad].

    Parameters
    ----------
    camber : float
        Camber load as the belly sees it. [-]

    Returns
    -------
    float

    Examples
    --------
    A deeper section leaves the leech earlier:

    >>> leech_limit(0.4) < leech_limit(0.2)
    True
    """
    point = separation(_FACINGS, np.full_like(_FACINGS, camber))
    best = int(np.argmax(point))
    return float(np.interp(-LEECH_SEPARATED, -point[best:], _FACINGS[best:]))


@dataclass(frozen=True)
class _Moments:
    """Average load by node [N], mean square of facing less the flight's by strip [rad²], gap."""

    node_force: FloatArray
    square: FloatArray
    gap: float


def _moments(flight: Flight, flows: list[tuple[float, Flow]]) -> _Moments:
    """Return the averages of moments with their weights; what is left is the flight's own."""
    still = flight.flow
    force, square, gap = still.node_force.copy(), np.zeros_like(still.strip.facing), 0.0
    for weight, flow in flows:
        force += weight * (flow.node_force - still.node_force)
        square += weight * (flow.strip.facing - still.strip.facing) ** 2
        gap = max(gap, flow.strip.gap)
    return _Moments(force, square, gap)


def _swing(flight: Flight, onset: Onset) -> list[tuple[float, Flow]]:
    """Return the flows of all moments off the mean, each with its weight."""
    parts = flight.rigging.sails
    mesh = sail_lattice(flight.rigging.plan, Mesh(parts[0].rows - 1, parts[0].columns - 1))
    nodes, water = flight.places[: flight.rigging.sail_nodes], Water(flight.stream.up)

    def solved(across: float, along: float) -> Flow:
        first = flight.flow.strip.incidence
        return solve_flow(
            mesh, nodes, onset.swung(across, along), water, flight.density, first=first
        )

    moments = []
    if np.any(onset.rush > 0.0):
        moments += [(ALONG[1], 0.0, side * ALONG[0]) for side in (-1.0, 1.0)]
    if np.any(onset.turn > 0.0):
        moments += [(ACROSS[1], side * ACROSS[0], 0.0) for side in (-1.0, 1.0)]
    return [(weight, solved(across, along)) for weight, across, along in moments]


def _tufts(flight: Flight, part: SailPart, spread: FloatArray) -> tuple[TuftShares, ...]:
    """Return the shares of time at a sail's levels from the spread of facing by strip [rad]."""
    grid = sail_grid(flight, part)
    rows = np.array([share for _, share in LEVELS]) * (part.rows - 1)
    height = CubicSpline(np.arange(part.rows), grid[:, 0, 2])(rows)
    middle = 0.5 * (grid[:-1, 0, 2] + grid[1:, 0, 2])
    before = sum(other.rows - 1 for other in flight.rigging.sails if other.first < part.first)
    own = slice(before, before + part.rows - 1)
    strip = flight.flow.strip
    facing, camber, width = (
        np.interp(height, middle, values[own]) for values in (strip.facing, strip.camber, spread)
    )
    leech = np.array([leech_limit(float(load)) for load in camber])
    lifting = 1.0 - share_beyond(facing, width, np.full(3, LUFF_LIFTS))
    stalled = share_beyond(facing, width, np.full(3, LEEWARD_STALLS))
    leaving = share_beyond(facing, width, leech)
    return tuple(
        TuftShares(level, float(lifting[k]), float(stalled[k]), float(leaving[k]))
        for k, (level, _) in enumerate(LEVELS)
    )


def wander(flight: Flight, heights: FloatArray, turn: FloatArray, rush: FloatArray) -> Wander:
    r"""Return what the sails do on average over the swing of the wind that they meet.

    .. math:: \bar F = F_0 + \tfrac16 \sum_\pm (F(\pm\sqrt3\,\sigma_\beta) - F_0)
        + \tfrac12 \sum_\pm (F(\pm\sigma_V) - F_0)

    Parameters
    ----------
    flight : Flight
        Its shape is held.
    heights : (n,) array
        Above the water, rising. [m]
    turn : (n,) array
        Standard deviation of the apparent wind's angle there, :math:`\sigma_\beta`. [rad]
    rush : (n,) array
        Of its speed, :math:`\sigma_V`. [m/s]

    Returns
    -------
    Wander

    Notes
    -----
    The flow follows each moment at once (quasi-steady), shape and boat not at all. The facing
    incidence rises with the wind's angle, so that half of the time it is above the flight's own;
    the shares of the time are those of a normal variable about it, as wide as the facing is over
    the moments. A sail's size, which averages small gusts, is left out.

    Gauss's quadrature for the normal weight, three places in the angle, two in the speed.

    References
    ----------
    .. [1] Abramowitz and Stegun, *Handbook of Mathematical Functions*, 1964, 25.4.46.
    """
    found = _moments(flight, _swing(flight, Onset(flight.stream, heights, turn, rush)))
    level = to_level(found.node_force, flight.stream.heel)
    parts = flight.rigging.sails
    forces = np.array([level[p.first : p.first + p.count].sum(axis=0) for p in parts])
    spread = np.sqrt(found.square)
    return Wander(
        found.node_force, forces, tuple(_tufts(flight, part, spread) for part in parts), found.gap
    )
