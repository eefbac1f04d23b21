"""The boat in balance: drive, side force, heel and yaw, solved together with the flying sails.

Unknowns are speed, heel, leeway and rudder. The sails' answer to the first three comes from the
flight's own sensitivities, so that one step moves boat and cloth together: the flight is taken on
from where the sensitivities say that the sails will be, never solved anew inside the balance.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from luffwright.air.stream import Stream
from luffwright.arrays import FloatArray
from luffwright.sails.flight import Flight, fly
from luffwright.sails.plan import SailPlan
from luffwright.sails.rigging import Mesh
from luffwright.sails.sensitivity import Sensitivity, sail_wrench, sensitivity
from luffwright.sails.setting import Setting
from luffwright.water.estimate import righting_moment
from luffwright.water.fluid import Water
from luffwright.water.hull import Hull
from luffwright.water.hull_drag import hull_drag
from luffwright.water.side_force import Sailing, side_force
from luffwright.water.windage import Exposed, exposed_pieces, heights, windage
from luffwright.water.yaw import hull_yaw

SAIL_MOTIONS = ("speed", "heel", "leeway")
MOTIONS = (*SAIL_MOTIONS, "rudder")
SUM_OF = {"speed": 0, "heel": 2, "leeway": 1, "rudder": 3}
"""The sum that each motion balances: drive, side force, heeling, yaw."""
TOLERANCE = 1e-3
"""Greatest force or moment out of balance, as a share of the largest of its kind."""
GREATEST_STEP = np.array([0.6, 0.08, 0.03, 0.10])
"""Greatest change in one step: speed [m/s], heel, leeway, rudder [rad]."""
LOW = np.array([0.05, -0.2, -0.3, -0.6])
HIGH = np.array([15.0, 0.9, 0.5, 0.6])
_PROBE = np.array([1e-4, 1e-5, 1e-5, 1e-5])


@dataclass(frozen=True)
class Waters:
    """What the boat sails in and with, besides her sails: hull, water, pieces in the wind."""

    hull: Hull
    water: Water
    pieces: tuple[Exposed, ...]
    added: float = 0.0
    """Added resistance of the waves as a share of the hull's own drag [-]."""


@dataclass(frozen=True)
class Balanced:
    """A boat in balance, or as near as she came.

    `rudder` [rad]; `gaps`: what is left of drive, side force [N], heeling and yawing moment [N m],
    and `scales` the largest term of each; `water` (4, 4): change of the four sums by speed, heel,
    leeway and rudder with the sails' answer in it; `known`: sensitivities to the boat's motion.
    """

    flight: Flight
    rudder: float
    gaps: FloatArray
    scales: FloatArray
    slopes: FloatArray
    known: Sensitivity
    steps: int
    held: frozenset[str] = frozenset()

    @property
    def free(self) -> list[int]:
        """Return the numbers of the motions that are solved for."""
        return [k for k, name in enumerate(MOTIONS) if name not in self.held]

    @property
    def sums(self) -> list[int]:
        """Return the numbers of the sums that are balanced."""
        return [SUM_OF[MOTIONS[k]] for k in self.free]

    @property
    def settled(self) -> bool:
        """Return whether sails and boat balance within the tolerance [-]."""
        off = np.abs(self.gaps) <= TOLERANCE * self.scales
        return self.flight.settled and bool(np.all(off[self.sums]))

    @property
    def motion(self) -> FloatArray:
        """Return speed [m/s], heel, leeway and rudder [rad]."""
        stream = self.flight.stream
        return np.array([stream.speed, stream.heel, stream.leeway, self.rudder])


def waters(plan: SailPlan, hull: Hull, water: Water) -> Waters:
    """Return what the boat sails in and with.

    Parameters
    ----------
    plan : SailPlan
    hull : Hull
    water : Water

    Returns
    -------
    Waters
    """
    return Waters(hull, water, tuple(exposed_pieces(plan, hull)))


def outer_wrench(
    at: Waters, stream: Stream, motion: FloatArray, density: float
) -> tuple[FloatArray, FloatArray]:
    """Return force and moment of water and windage about the origin, and their largest terms.

    Parameters
    ----------
    at : Waters
    stream : Stream
        Wind; its motion is replaced.
    motion : (4,) array
        Speed, heel, leeway, rudder. [m/s, rad]
    density : float
        Of the air. [kg/m³]

    Returns
    -------
    (6,) array, (4,) array
        Frame: level [N, N m]; largest of drive, side force, heeling and yawing moment.
    """
    speed, heel, leeway, rudder = (float(value) for value in motion)
    sailing = Sailing(speed, heel, leeway, rudder)
    hull = at.hull
    drag = (1.0 + at.added) * hull_drag(hull, speed, heel, at.water).force
    fins = side_force(hull, sailing, at.water)
    track = np.array([np.cos(leeway), np.sin(leeway), 0.0])
    total = np.zeros(6)
    total[:3] = np.array(fins.force) - drag * track
    total[3:] = fins.moment
    righting = righting_moment(hull, abs(heel)) * np.sign(heel)
    total[3] += righting
    total[5] += hull_yaw(hull, sailing, at.water)
    moved = replace(stream, speed=speed, heel=heel, leeway=leeway)
    wind = moved.level(np.maximum(heights(at.pieces, heel), 0.2))
    for entry in windage(at.pieces, wind, heel, density):
        total[:3] += entry.force
        total[3:] += np.cross(entry.point, entry.force)
    scales = np.array([drag, abs(fins.side), abs(righting), abs(fins.moment[2])])
    return total, scales


def _sums(wrench: FloatArray, leeway: float) -> FloatArray:
    """Return sums of drive and side force along and across the track, heeling and yaw moment."""
    along, across = np.cos(leeway), np.sin(leeway)
    return np.array(
        [
            wrench[0] * along + wrench[1] * across,
            wrench[1] * along - wrench[0] * across,
            -wrench[3],
            wrench[5],
        ]
    )


def _sail_wrench(flight: Flight) -> FloatArray:
    nodes = flight.places[: flight.rigging.sail_nodes]
    return sail_wrench(nodes, flight.flow.node_force, flight.stream.heel)


def balance_gaps(at: Waters, flight: Flight, rudder: float) -> tuple[FloatArray, FloatArray]:
    """Return what is out of balance in the four sums, and the largest term of each.

    Parameters
    ----------
    at : Waters
    flight : Flight
    rudder : float
        [rad]

    Returns
    -------
    (4,) array, (4,) array
        [N, N, N m, N m]
    """
    stream = flight.stream
    motion = np.array([stream.speed, stream.heel, stream.leeway, rudder])
    outer, scales = outer_wrench(at, stream, motion, flight.density)
    sails = _sums(_sail_wrench(flight), stream.leeway)
    whole = np.maximum(np.abs(sails), scales)
    floor = np.array([5.0, 5.0, 50.0, 50.0])
    return _sums(outer, stream.leeway) + sails, np.maximum(whole, floor)


def slopes_of(at: Waters, flight: Flight, rudder: float, known: Sensitivity) -> FloatArray:
    """Return how the four sums change with speed, heel, leeway and rudder, sails included.

    Parameters
    ----------
    at : Waters
    flight : Flight
    rudder : float
        [rad]
    known : Sensitivity
        To `SAIL_MOTIONS`, in this order.

    Returns
    -------
    (4, 4) array
        [N and N m, by m/s and rad]
    """
    stream = flight.stream
    motion = np.array([stream.speed, stream.heel, stream.leeway, rudder])
    sails = _sail_wrench(flight)
    out = np.zeros((4, 4))
    for k in range(4):
        probe = np.zeros(4)
        probe[k] = _PROBE[k]
        both = []
        for sign in (1.0, -1.0):
            there = motion + sign * probe
            outer, _ = outer_wrench(at, stream, there, flight.density)
            both.append(_sums(outer + sails, float(there[2])))
        out[:, k] = (both[0] - both[1]) / (2.0 * _PROBE[k])
        if k < 3:
            out[:, k] += _sums(known.wrench[k], stream.leeway)
    return out


@dataclass(frozen=True)
class Course:
    """What is asked of the balance: boat, wind and where every rope stands."""

    plan: SailPlan
    setting: Setting
    stream: Stream
    sheet_zero: float
    mesh: Mesh
    density: float


def balance(  # noqa: PLR0913 - two ways to start
    course: Course,
    at: Waters,
    *,
    near: Balanced | None = None,
    start: Flight | None = None,
    held: frozenset[str] = frozenset(),
    limit: int = 15,
) -> Balanced:
    """Return the boat in balance with wind and water, ropes where the setting has them.

    Parameters
    ----------
    course : Course
        Its stream's speed, heel and leeway are where the search begins.
    at : Waters
    near : Balanced, optional
        A neighbouring state of the same boat and mesh to start from.
    start : Flight, optional
        A flight of this course to start from.
    held : set of str
        Which of speed, heel and leeway are held as they are; their sums are then left open.
    limit : int
        Greatest number of steps. [-]

    Returns
    -------
    Balanced
        `settled` tells whether it balances.
    """
    rudder = near.rudder if near is not None else 0.03
    stream = course.stream
    if near is not None:
        moved = near.flight.stream
        stream = replace(stream, speed=moved.speed, heel=moved.heel, leeway=moved.leeway)
    flight = start or _fly(course, stream, near.flight if near is not None else None)
    for step in range(1, limit + 1):
        known = sensitivity(flight, SAIL_MOTIONS, course.sheet_zero, course.mesh)
        slopes = slopes_of(at, flight, rudder, known)
        gaps, scales = balance_gaps(at, flight, rudder)
        found = Balanced(flight, rudder, gaps, scales, slopes, known, step, held)
        if found.settled or step == limit or not flight.settled:
            break
        here = found.motion
        step_there = np.zeros(4)
        part = slopes[np.ix_(found.sums, found.free)]
        step_there[found.free] = np.linalg.lstsq(part, -gaps[found.sums], rcond=None)[0]
        there = here + _limited(step_there)
        there = np.clip(there, LOW, HIGH)
        stream = replace(
            stream, speed=float(there[0]), heel=float(there[1]), leeway=float(there[2])
        )
        rudder = float(there[3])
        ahead = flight.unknowns + (there - here)[:3] @ known.unknowns
        flight = _fly(course, stream, replace(flight, unknowns=ahead))
    return found


def _limited(step: FloatArray) -> FloatArray:
    over = float(np.max(np.abs(step) / GREATEST_STEP))
    return step / max(over, 1.0)


def _fly(course: Course, stream: Stream, near: Flight | None) -> Flight:
    return fly(
        course.plan, course.setting, stream, course.sheet_zero,
        mesh=course.mesh, density=course.density, near=near,
    )  # fmt: skip
