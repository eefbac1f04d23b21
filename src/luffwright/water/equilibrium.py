"""The boat in balance: drive, side force, heel and yaw, solved together with the flying sails.

Unknowns are speed, heel, leeway and rudder. The sails' answer to the first three comes from the
flight's own sensitivities, so that one step moves boat and cloth together: the flight is taken on
from where the sensitivities say that the sails will be, never solved anew inside the balance.

What balances are the forces on average over the minute's swing of the wind, at the boat's steady
motion: what the swing adds is small and hardly changes on the way, so it is found near the end and
again where she balances, until it stands.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from luffwright.air.stream import Stream
from luffwright.arrays import FloatArray
from luffwright.sails.flight import (
    NEAR_STEPS,
    ONWARD_STEPS,
    Flight,
    FlightSolver,
    fly,
    sail_lattice,
)
from luffwright.sails.plan import SailPlan
from luffwright.sails.rigging import Mesh
from luffwright.sails.sensitivity import Sensitivity, sensitivity
from luffwright.sails.setting import Setting
from luffwright.water.minute import on_average, sway
from luffwright.water.sums import Waters, balance_gaps, slopes_of

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
CLOSE = 0.02
"""Where less is out of balance, what the swing adds is found anew [-]."""
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

    `rudder` [rad]; `more`: what the swing adds to the sails' force and moment [N, N m]; `gaps`:
    what is left of drive, side force [N], heeling and yawing moment [N m], and `scales` the largest
    term of each; `guide` led here, from a state not far away.
    """

    course: Course
    at: Waters
    flight: Flight
    rudder: float
    more: FloatArray
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

    def gained(self, there: Balanced) -> float:
        """Return what is out of balance there as a share of what is here [-], by the larger terms.

        A boat that slows down loses her drag faster than what is out of balance: by her own terms
        there she would seem to be no nearer.
        """
        scales = np.maximum(self.scales, there.scales)
        off = float(np.max(np.abs(there.gaps / scales)[self.sums]))
        return off / max(self.off, 1e-12) if there.flight.settled else np.inf

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

    def sensed(self, names: tuple[str, ...]) -> Sensitivity:
        """Return the sails' sensitivities to parameters, their forces on average over the swing."""
        known = sensitivity(self.flight, names, self.course.sheet_zero, self.course.mesh)
        return on_average(self.at.minute, self.at.hull, self.flight, known)

    def swayed(self) -> Balanced:
        """Return the state with what the swing adds found anew."""
        more = sway(self.at.minute, self.at.hull, self.flight)
        gaps, scales = balance_gaps(self.at, self.flight, self.rudder, more)
        return replace(self, more=more, gaps=gaps, scales=scales)

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
        if self.runs_away:
            out[0] = -out[0]
            part, sums = self._but_for_speed
            out[rest] = _solved(part, -gaps[sums] - slopes[sums, 0] * out[0])
        return out

    @property
    def _but_for_speed(self) -> tuple[FloatArray, list[int]]:
        """Return the guide's slopes of the other sums by the other motions, and those sums."""
        rest = [k for k in self.free if k > 0]
        sums = [SUM_OF[MOTIONS[k]] for k in rest]
        slopes = np.zeros((4, 4)) if self.guide is None else self.guide.slopes
        return slopes[np.ix_(sums, rest)], sums

    @property
    def runs_away(self) -> bool:
        """Return whether more speed would bring more drive than drag, the other sums balanced."""
        if self.guide is None or 0 not in self.free:
            return False
        slopes, rest = self.guide.slopes, [k for k in self.free if k > 0]
        part, sums = self._but_for_speed
        follow = _solved(part, -slopes[sums, 0])
        return bool(slopes[0, 0] + slopes[0, rest] @ follow > 0.0)

    def slides_to(self, there: Balanced) -> bool:
        """Return whether she goes on slowing down or speeding up there, as she does here."""
        return self.runs_away and there.flight.settled and self.gaps[0] * there.gaps[0] > 0.0


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
        A neighbouring state of the same boat to start from, on this mesh or a coarser one.
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
    more = near.more if near is not None else None
    if more is None and flight.settled:
        more = sway(at.minute, at.hull, flight)
    found = _state(course, at, flight, rudder, held, np.zeros(6) if more is None else more)
    if not flight.settled:
        return found
    if near is None or near.course.mesh != course.mesh:
        # What guides on a coarse mesh does not know the nodes of this one.
        return _walked(found.guided(None), own=True, limit=limit)
    return _walked(found.guided(near.guide), own=False, limit=limit)


def _walked(found: Balanced, *, own: bool, limit: int) -> Balanced:
    """Return the best state on the way from one to balance; `own`: its guide was taken there."""
    best, reach, polished, leaps, steps, stale = found, 1.0, False, LEAPS, 0, True
    while steps < limit and reach > SMALLEST_REACH:
        if stale and found.off < CLOSE:
            best, stale = found.swayed(), False
            found = best
        step = found.step()
        if found.settled and (polished or bool(np.all(np.abs(step) <= STILL))):
            best = found = found.swayed()
            step, before = found.step(), step
            if found.settled and bool(np.all(np.abs(step - before) <= STILL)):
                break
        polished, steps = found.settled, steps + 1
        trial = _taken(found, _limited(step, reach))
        gained = found.gained(trial)
        if found.slides_to(trial):
            # No balance lies near: on the way to the next, what is missing may grow first.
            found, own, best = trial.guided(None), True, trial
        elif gained < 1.0 or (own and gained < LEAP and leaps > 0 and not found.settled):
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


def _state(  # noqa: PLR0913 - what is asked, and where the boat is
    course: Course, at: Waters, flight: Flight, rudder: float, held: frozenset[str],
    more: FloatArray,
) -> Balanced:  # fmt: skip
    gaps, scales = balance_gaps(at, flight, rudder, more)
    return Balanced(course, at, flight, rudder, more, gaps, scales, None, 0, held)


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
    if flown.flow.in_lee and not flown.settled:
        # So little wind holds cloth in the lee that it creeps on long after the rest has settled.
        flown = solver.solve(
            flown.unknowns, damping=0.0, first=flown.flow.strip.incidence, limit=ONWARD_STEPS
        )  # fmt: skip
    flown = replace(flown, setting=flight.setting)
    after = _state(course, found.at, flown, rudder, found.held, found.more)
    return replace(after, guide=found.guide)


def _limited(step: FloatArray, reach: float) -> FloatArray:
    over = float(np.max(np.abs(step) / GREATEST_STEP)) / reach
    return step / max(over, 1.0)


def _fly(course: Course, stream: Stream, near: Flight | None, *, afresh: bool) -> Flight:
    return fly(
        course.plan, course.setting, stream, course.sheet_zero,
        mesh=course.mesh, density=course.density, near=near, afresh=afresh or near is None,
    )  # fmt: skip
