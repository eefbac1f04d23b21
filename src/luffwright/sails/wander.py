"""The wander: what sails and telltales do on average while wind and sea swing the onset.

Waves and gusts swing the wind that a sail meets faster than boat and cloth answer: the flying shape
is held as it is, and only the flow is solved again. All heights swing together, each by its own
deviation, across and along the apparent wind independently of each other.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.special import ndtr

from luffwright.air.lattice import Flow, Lattice, Water, solve_flow
from luffwright.air.shift import STEP, Scene, load_shifts
from luffwright.air.stall import LEECH_SEPARATED, PLATE_HOLDS, separation
from luffwright.air.stream import Stream
from luffwright.air.tufts import LUFF_LIFTS
from luffwright.arrays import FloatArray
from luffwright.frames import to_boat, to_level
from luffwright.sails.flight import Flight, sail_lattice
from luffwright.sails.measure import LEVELS, Level, sail_grid, stalls_above, strip_values
from luffwright.sails.rigging import Mesh
from luffwright.sails.sailcloth import SailPart
from luffwright.sails.sensitivity import MOTIONS, Sensitivity, sail_wrench, stream_off

Helm = Literal["hand", "pilot", "vane"]
GUSTS_LEFT: dict[Helm, float] = {"hand": 0.5, "vane": 0.7, "pilot": 0.85}
"""Share of the gusts' swing of angle that is left once it is steered for: estimates of our own. A
hand sees a shift coming, a vane answers it late, a pilot holds a course or a smoothed wind. None is
quick enough for the waves' part."""
ACROSS = (np.sqrt(3.0), 1.0 / 6.0)
"""Place on either side and weight of a normal variable: exact up to its fifth power. Against 21
places it is within 0.2 % in force and 0.5 % of the time, in seas that swing the wind by 7°."""
SIDES = (-1.0, 1.0)
"""Ahead and aft of the mean wind."""
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

    def track_forces(self, leeway: float) -> FloatArray:
        """Return each sail's drive and side force along and across the track, (sails, 2) [N].

        Leeway [rad] tells where the track points.
        """
        ahead, aside = self.forces[:, 0], self.forces[:, 1]
        drive = ahead * np.cos(leeway) + aside * np.sin(leeway)
        return np.stack([drive, aside * np.cos(leeway) - ahead * np.sin(leeway)], axis=1)


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


def leech_limit(camber: float, holds: float = float(PLATE_HOLDS)) -> float:
    """Return the facing incidence beyond which the leech telltale no longer streams [rad].

    Parameters
    ----------
    camber : float
        Camber load as the belly sees it. [-]
    holds : float
        What the luff's nose holds. [rad]

    Returns
    -------
    float

    Examples
    --------
    A deeper section leaves the leech earlier:

    >>> leech_limit(0.4) < leech_limit(0.2)
    True
    """
    point = separation(_FACINGS, np.full_like(_FACINGS, camber), np.array(holds))
    best = int(np.argmax(point))
    return float(np.interp(-LEECH_SEPARATED, -point[best:], _FACINGS[best:]))


def _lattice(flight: Flight) -> Lattice:
    part = flight.rigging.sails[0]
    return sail_lattice(flight.rigging.plan, Mesh(part.rows - 1, part.columns - 1))


def _nodes(flight: Flight) -> FloatArray:
    return flight.places[: flight.rigging.sail_nodes]


def _swung(flight: Flight, onset: Onset) -> tuple[Flow, ...]:
    """Return the flows on both sides of the mean wind; none where it does not swing."""
    if not np.any(onset.turn > 0.0):
        return ()
    scene, flow = _both(_nodes(flight), onset), flight.flow
    return tuple(
        solve_flow(
            _lattice(flight), scene.nodes, wind, scene.water, flight.density,
            first=flow.strip.incidence, influence=flow.influence,
        )
        for wind in scene.onsets
    )  # fmt: skip


def _rushing(flight: Flight, onset: Onset) -> FloatArray:
    """Return by which share the swing of the speed adds to each node's load on average [-]."""
    height = _nodes(flight) @ onset.stream.up
    speed, _ = onset.stream.apparent(height)
    rush = np.interp(height, onset.heights, onset.rush) / np.maximum(speed, 1e-6)
    return np.asarray(rush**2)


def _load(flight: Flight, onset: Onset, sides: tuple[Flow, ...]) -> FloatArray:
    """Return the average load by node, boat frame [N]."""
    still = flight.flow.node_force
    load = still * (1.0 + _rushing(flight, onset)[:, None])
    for flow in sides:
        load += ACROSS[1] * (flow.node_force - still)
    return load


def mean_load(flight: Flight, onset: Onset) -> FloatArray:
    """Return the air's load by node on average over the swing, boat frame [N].

    Parameters
    ----------
    flight : Flight
        Its shape is held.
    onset : Onset

    Returns
    -------
    (nodes, 3) array

    Notes
    -----
    That of `wander`, without the telltales.
    """
    return _load(flight, onset, _swung(flight, onset))


def mean_changes(
    flight: Flight, onset_of: Callable[[Stream], Onset], known: Sensitivity
) -> Sensitivity:
    """Return sensitivities of a flight as those of the average over the swing.

    Parameters
    ----------
    flight : Flight
    onset_of : callable
        From a stream to how it swings.
    known : Sensitivity
        Of the flight itself.

    Returns
    -------
    Sensitivity
        The same but for `wrench`.

    Notes
    -----
    The shape that a parameter brings about is held while the wind swings about it. By how much the
    swing of the speed adds is taken as the same before and after.
    """
    onset, nodes = onset_of(flight.stream), _nodes(flight)
    sides = _swung(flight, onset)
    load = np.linalg.norm(flight.flow.node_force, axis=1)
    rushing = float(load @ _rushing(flight, onset) / max(float(load.sum()), 1e-9))
    wrench = (1.0 + rushing - ACROSS[1] * len(sides)) * known.wrench
    if not sides:
        return replace(known, wrench=wrench)
    streams = [
        stream_off(flight.stream, name) if name in MOTIONS else flight.stream
        for name in known.names
    ]
    there = tuple(
        _both(nodes + STEP * move[: len(nodes)], onset if it is flight.stream else onset_of(it))
        for it, move in zip(streams, known.places, strict=True)
    )
    changes = load_shifts(_lattice(flight), sides, _both(nodes, onset), there)
    for flow, change in zip(sides, changes, strict=True):
        before = sail_wrench(nodes, flow.node_force, flight.stream.heel)
        for k, scene in enumerate(there):
            force = flow.node_force + STEP * change[k]
            now = sail_wrench(scene.nodes, force, streams[k].heel)
            wrench[k] += ACROSS[1] * (now - before) / STEP
    return replace(known, wrench=wrench)


def _both(nodes: FloatArray, onset: Onset) -> Scene:
    """Return what the flows on both sides of the mean wind meet; the wakes keep to the mean."""
    winds = tuple(onset.swung(side * ACROSS[0], 0.0) for side in SIDES)
    return Scene(nodes, winds, onset.stream, Water(onset.stream.up))


def _tufts(flight: Flight, part: SailPart, spread: FloatArray) -> tuple[TuftShares, ...]:
    """Return the shares of time at a sail's levels from the spread of facing by strip [rad]."""
    grid = sail_grid(flight, part)
    rows = np.array([share for _, share in LEVELS]) * (part.rows - 1)
    height = CubicSpline(np.arange(part.rows), grid[:, 0, 2])(rows)
    strip = flight.flow.strip
    facing, camber, holds, width = (
        strip_values(flight, part, values, height)
        for values in (strip.facing, strip.camber, strip.geometry.holds, spread)
    )
    leech = np.array([leech_limit(*map(float, it)) for it in zip(camber, holds, strict=True)])
    lifting = 1.0 - share_beyond(facing, width, np.full(3, LUFF_LIFTS))
    stalled = share_beyond(facing, width, stalls_above(flight, part, height))
    leaving = share_beyond(facing, width, leech)
    return tuple(
        TuftShares(level, float(lifting[k]), float(stalled[k]), float(leaving[k]))
        for k, (level, _) in enumerate(LEVELS)
    )


def _spread(flight: Flight, sides: tuple[Flow, ...]) -> FloatArray:
    """Return the spread of facing by strip, from the flows on both sides of the mean wind [rad]."""
    still = flight.flow.strip.facing
    square = np.zeros_like(still)
    for flow in sides:
        square += ACROSS[1] * (flow.strip.facing - still) ** 2
    return np.asarray(np.sqrt(square))


def luff_swing(flight: Flight, onset: Onset) -> FloatArray:
    """Return how far the headsail's facing incidence swings at each level, low to top.

    Parameters
    ----------
    flight : Flight
    onset : Onset
        The wind past the boat and its swing.

    Returns
    -------
    (3,) array
        Standard deviation. [rad]
    """
    part = flight.rigging.sails[0]
    rows = np.array([share for _, share in LEVELS]) * (part.rows - 1)
    height = CubicSpline(np.arange(part.rows), sail_grid(flight, part)[:, 0, 2])(rows)
    return strip_values(flight, part, _spread(flight, _swung(flight, onset)), height)


def wander(flight: Flight, heights: FloatArray, turn: FloatArray, rush: FloatArray) -> Wander:
    r"""Return what the sails do on average over the swing of the wind that they meet.

    .. math:: \bar F = F_0 \left(1 + \frac{\sigma_V^2}{V_A^2}\right)
        + \tfrac16 \sum_\pm (F(\pm\sqrt3\,\sigma_\beta) - F_0)

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

    In the angle Gauss's quadrature for the normal weight, three places. In the speed the mean of
    its square, at each node's height: exact where it swings in one proportion at all heights;
    where it grows from 5 to 30 % of the wind up the mast, within 0.2 % of the force.

    References
    ----------
    .. [1] Abramowitz and Stegun, *Handbook of Mathematical Functions*, 1964, 25.4.46.
    """
    onset = Onset(flight.stream, heights, turn, rush)
    sides = _swung(flight, onset)
    load = _load(flight, onset, sides)
    level = to_level(load, flight.stream.heel)
    parts = flight.rigging.sails
    forces = np.array([level[p.first : p.first + p.count].sum(axis=0) for p in parts])
    spread = _spread(flight, sides)
    tufts = tuple(_tufts(flight, part, spread) for part in parts)
    return Wander(load, forces, tufts, max((flow.strip.gap for flow in sides), default=0.0))
