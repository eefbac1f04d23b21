"""The boat in balance: drive, side force, heel and yaw, solved together with the flying sails.

Unknowns are speed, heel, leeway and rudder. The sails' answer to the first three comes from the
flight's own sensitivities, so that one step moves boat and cloth together: the flight is taken on
from where the sensitivities say that the sails will be, never solved anew inside the balance.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from luffwright.air.stream import Stream
from luffwright.arrays import FloatArray
from luffwright.sails.flight import NEAR_STEPS, Flight, FlightSolver, fly, sail_lattice
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
STILL = np.array([3e-4, 2e-4, 2e-4, 2e-4])
"""Where the next step would be smaller, the motion stands: a third of what two solves of one state
may differ by, speed [m/s] and angles [rad]."""
SLOW = 0.4
"""A step that leaves more of what was out of balance than this calls for sensitivities anew [-]."""
LEAP = 4.0
"""How much further from balance a step may lead, as sails that let go or fill again will have it,
and `LEAPS`, how often: beyond the fold she may balance [-]."""
LEAPS = 6
SHORTER = 0.4
"""Share of a step that is tried after it led astray [-]."""
SMALLEST_REACH = 0.05
"""Share of the greatest step below which no way on is looked for [-]."""
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
    blown = windage(at.pieces, wind, heel, density)
    force = np.array([entry.force for entry in blown])
    total[:3] += force.sum(axis=0)
    total[3:] += np.cross(np.array([entry.point for entry in blown]), force).sum(axis=0)
    scales = np.array([drag, abs(fins.side), abs(righting), abs(fins.moment[2])])
    return total, scales


def sail_sums(wrench: FloatArray, leeway: float) -> FloatArray:
    """Return drive and side force along and across the track, heeling and yawing moment.

    Parameters
    ----------
    wrench : (6,) array
        Force and moment about the origin. Frame: level. [N, N m]
    leeway : float
        [rad]

    Returns
    -------
    (4,) array
        [N, N, N m, N m]
    """
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
    sails = sail_sums(_sail_wrench(flight), stream.leeway)
    whole = np.maximum(np.abs(sails), scales)
    floor = np.array([5.0, 5.0, 50.0, 50.0])
    return sail_sums(outer, stream.leeway) + sails, np.maximum(whole, floor)


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
            both.append(sail_sums(outer + sails, float(there[2])))
        out[:, k] = (both[0] - both[1]) / (2.0 * _PROBE[k])
        if k < 3:
            out[:, k] += sail_sums(known.wrench[k], stream.leeway)
    return out


def turn_sums(at: Waters, flight: Flight, rudder: float) -> FloatArray:
    """Return how windage changes the four sums as the true wind draws aft.

    Parameters
    ----------
    at : Waters
    flight : Flight
    rudder : float
        [rad]

    Returns
    -------
    (4,) array
        [N and N m, by rad]
    """
    stream = flight.stream
    motion = np.array([stream.speed, stream.heel, stream.leeway, rudder])
    both = []
    for sign in (1.0, -1.0):
        turned = replace(stream, wind_angle=stream.wind_angle + sign * 1e-5)
        both.append(sail_sums(outer_wrench(at, turned, motion, flight.density)[0], stream.leeway))
    change: FloatArray = (both[0] - both[1]) / 2e-5
    return change


@dataclass(frozen=True)
class Course:
    """What is asked of the balance: boat, wind and where every rope stands."""

    plan: SailPlan
    setting: Setting
    stream: Stream
    sheet_zero: float
    mesh: Mesh
    density: float


@dataclass(frozen=True)
class Guide:
    """How boat and sails answer to the boat's motion, near where they are.

    `known`: sensitivities of the sails to speed, heel and leeway; `slopes` (4, 4): change of the
    four sums by speed, heel, leeway and rudder with the sails' answer in it [N, N m by m/s, rad].
    """

    known: Sensitivity
    slopes: FloatArray

    def after(self, before: Balanced, now: Balanced) -> Guide:
        """Return the guide with its slopes made true along a step from one state to another."""
        step, change = now.motion - before.motion, now.gaps - before.gaps
        size = step / GREATEST_STEP
        along = size / GREATEST_STEP / max(float(size @ size), 1e-12)
        return replace(self, slopes=self.slopes + np.outer(change - self.slopes @ step, along))


@dataclass(frozen=True)
class Balanced:
    """A boat in balance, or as near as she came.

    `rudder` [rad]; `gaps`: what is left of drive, side force [N], heeling and yawing moment [N m],
    and `scales` the largest term of each; `guide` led here, from a state not far away.
    """

    course: Course
    at: Waters
    flight: Flight
    rudder: float
    gaps: FloatArray
    scales: FloatArray
    guide: Guide | None
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
    def off(self) -> float:
        """Return the greatest sum out of balance as a share of its largest term [-]."""
        return float(np.max(np.abs(self.gaps / self.scales)[self.sums]))

    @property
    def settled(self) -> bool:
        """Return whether sails and boat balance within the tolerance [-]."""
        return self.flight.settled and self.off <= TOLERANCE

    @property
    def motion(self) -> FloatArray:
        """Return speed [m/s], heel, leeway and rudder [rad]."""
        stream = self.flight.stream
        return np.array([stream.speed, stream.heel, stream.leeway, self.rudder])

    @cached_property
    def known(self) -> Sensitivity:
        """Return the sails' sensitivities to the boat's motion, here and not nearby."""
        return sensitivity(self.flight, SAIL_MOTIONS, self.course.sheet_zero, self.course.mesh)

    @cached_property
    def slopes(self) -> FloatArray:
        """Return the change (4, 4) of the four sums by speed, heel, leeway and rudder, here."""
        return slopes_of(self.at, self.flight, self.rudder, self.known)

    def guided(self, guide: Guide | None) -> Balanced:
        """Return the state with a guide; without one, its own sensitivities are taken."""
        return replace(self, guide=guide or Guide(self.known, self.slopes))

    def step(self) -> FloatArray:
        """Return the step of the motion [m/s, rad] that the guide promises to balance the boat.

        Where more speed would bring more drive than drag, as on the edge of a stall, Newton leads
        to a balance that no boat keeps: she goes the other way, short of drive she slows down.
        """
        out = np.zeros(4)
        if self.guide is None:
            return out
        slopes, gaps, rest = self.guide.slopes, self.gaps, [k for k in self.free if k > 0]
        out[self.free] = _solved(slopes[np.ix_(self.sums, self.free)], -gaps[self.sums])
        if self.free == rest:
            return out
        sums = [SUM_OF[MOTIONS[k]] for k in rest]
        part = slopes[np.ix_(sums, rest)]
        follow = _solved(part, -slopes[sums, 0])
        if slopes[0, 0] + slopes[0, rest] @ follow > 0.0:
            out[0] = -out[0]
            out[rest] = _solved(part, -gaps[sums]) + follow * out[0]
        return out


def _solved(matrix: FloatArray, right: FloatArray) -> FloatArray:
    return np.asarray(np.linalg.lstsq(matrix, right, rcond=None)[0], dtype=np.float64)


def balance(  # noqa: PLR0913 - two ways to start
    course: Course,
    at: Waters,
    *,
    near: Balanced | None = None,
    start: Flight | None = None,
    held: frozenset[str] = frozenset(),
    afresh: bool = True,
    limit: int = 20,
) -> Balanced:
    """Return the boat in balance with wind and water, ropes where the setting has them.

    Newton with the sensitivities of a state nearby, corrected by what each step did (Broyden), and
    taken anew where a step gains little. A step that leads astray, or after which the sails do not
    settle, is taken back and tried shorter.

    Parameters
    ----------
    course : Course
        Its stream's speed, heel and leeway are where the search begins, and stay where held.
    at : Waters
    near : Balanced, optional
        A neighbouring state of the same boat and mesh to start from.
    start : Flight, optional
        A flight of this course to start from.
    held : set of str
        Which of speed, heel and leeway are held as they are; their sums are then left open.
    afresh : bool
        Whether sails that the neighbour does not lead to are flown from their moulded shape.
    limit : int
        Greatest number of steps. [-]

    Returns
    -------
    Balanced
        `settled` tells whether it balances.
    """
    rudder = near.rudder if near is not None else 0.03
    before = near.flight if near is not None else None
    stream = course.stream if before is None else _as_before(course.stream, before.stream, held)
    flight = start or _fly(course, stream, before, afresh=afresh)
    found = _state(course, at, flight, rudder, held)
    if not flight.settled:
        return found
    found = found.guided(near.guide if near is not None else None)
    return _walked(found, own=near is None, limit=limit)


def _walked(found: Balanced, *, own: bool, limit: int) -> Balanced:
    """Return the best state on the way from one to balance; `own`: its guide was taken there."""
    best, reach, polished, leaps, steps = found, 1.0, False, LEAPS, 0
    while steps < limit and reach > SMALLEST_REACH:
        step = found.step()
        if found.settled and (polished or bool(np.all(np.abs(step) <= STILL))):
            break
        polished, steps = found.settled, steps + 1
        trial = _taken(found, _limited(step, reach))
        gained = trial.off / max(found.off, 1e-12) if trial.flight.settled else np.inf
        if gained < 1.0 or (own and gained < LEAP and leaps > 0 and not found.settled):
            leapt = gained >= 1.0
            # Between two branches of the sails she would leap to and fro: shorter each time.
            leaps, reach = leaps - leapt, 0.5 * reach if leapt else min(2.0 * reach, 1.0)
            own = gained > SLOW and not trial.settled
            guide = None if own or found.guide is None else found.guide.after(found, trial)
            found = trial.guided(guide)
            best = min(best, found, key=lambda state: state.off)
        elif own:
            reach *= SHORTER
        else:
            own, found = True, found.guided(None)
    return replace(best, steps=steps)


def _as_before(stream: Stream, before: Stream, held: frozenset[str]) -> Stream:
    """Return a stream with the motion of a neighbour, but for what is held."""
    free = [name for name in SAIL_MOTIONS if name not in held]
    return replace(stream, **{name: getattr(before, name) for name in free})


def _state(
    course: Course, at: Waters, flight: Flight, rudder: float, held: frozenset[str]
) -> Balanced:
    gaps, scales = balance_gaps(at, flight, rudder)
    return Balanced(course, at, flight, rudder, gaps, scales, None, 0, held)


def _taken(found: Balanced, step: FloatArray) -> Balanced:
    """Return the state after a step of the motion [m/s, rad], the sails taken along with it."""
    here, flight, course = found.motion, found.flight, found.course
    there = np.clip(here + step, LOW, HIGH)
    # What is held stays, even where it lies outside.
    there = np.where(step == 0.0, here, there)
    speed, heel, leeway, rudder = (float(value) for value in there)
    stream = replace(flight.stream, speed=speed, heel=heel, leeway=leeway)
    ahead = flight.unknowns
    if found.guide is not None:
        ahead = ahead + (there - here)[:3] @ found.guide.known.unknowns
    air = sail_lattice(course.plan, course.mesh)
    solver = FlightSolver(flight.rigging, air, stream, flight.density)
    flown = solver.solve(
        ahead, damping=0.0, first=flight.flow.strip.incidence, limit=NEAR_STEPS
    )  # fmt: skip
    flown = replace(flown, setting=flight.setting)
    after = _state(course, found.at, flown, rudder, found.held)
    return replace(after, guide=found.guide)


def _limited(step: FloatArray, reach: float) -> FloatArray:
    over = float(np.max(np.abs(step) / GREATEST_STEP)) / reach
    return step / max(over, 1.0)


def _fly(course: Course, stream: Stream, near: Flight | None, *, afresh: bool) -> Flight:
    return fly(
        course.plan, course.setting, stream, course.sheet_zero,
        mesh=course.mesh, density=course.density, near=near, afresh=afresh or near is None,
    )  # fmt: skip
