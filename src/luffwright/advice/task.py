"""What the search is for: most drive at a held motion, or the best speed of the balanced boat."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal, Protocol

import numpy as np

from luffwright.advice.load_limit import (
    load_shares,
    load_slopes,
    relieved_by_area,
)
from luffwright.air.stream import Stream
from luffwright.arrays import FloatArray
from luffwright.sails.flight import Flight, fly
from luffwright.sails.measure import folds, heeling_moment
from luffwright.sails.plan import ControlTravel, SailPlan
from luffwright.sails.rigging import Mesh
from luffwright.sails.sensitivity import sail_wrench, sensitivity
from luffwright.sails.setting import Setting
from luffwright.water.equilibrium import HIGH, LOW, Balanced, Course, Guide, balance
from luffwright.water.hull import Hull
from luffwright.water.minute import Minute, on_average, sway
from luffwright.water.sums import Waters, sail_sums, turn_sums

OVERLOAD_PRICE = 1.0
"""What is paid for a limit that is passed: shares of the aim for a share of the limit."""
FORGIVEN = 0.005
"""How far a limit may be passed without a price [its share]: less than two solves of one state may
differ by, a twentieth of a degree of heel or helm."""
NEVER = -1e9
TURN = ControlTravel("wind_angle", float(np.radians(30)), float(np.pi), float(np.radians(0.5)), 0.8)


@dataclass(frozen=True)
class Reached:
    """A state that the search has come to; `boat` where her motion is solved and not held, else
    `more`: what the minute's swing adds to the sails' force and moment [N, N m].
    """

    flight: Flight
    boat: Balanced | None = None
    more: FloatArray | None = None

    @property
    def settled(self) -> bool:
        """Return whether sails and boat balance, no sail folded over [-]."""
        settled = self.flight.settled if self.boat is None else self.boat.settled
        return settled and not folds(self.flight)

    def value(self, name: str) -> float:
        """Return where a control stands [its unit], or the true wind's angle [rad]."""
        if name == TURN.name:
            return self.flight.stream.wind_angle
        return self.flight.setting.value(name)


@dataclass(frozen=True)
class Slopes:
    """Change of the aim and of each limit's use by one unit of each parameter; `height`: the aim
    itself; `used`: share of each limit that is used; `price` of passing one by its whole;
    `unknowns` (names, n) [m] and `motion` (names, 4) [m/s, rad]: how sails and boat answer, and
    `places` (names, points, 3) [m]: where their points go while the boat's motion stays; `guide`:
    how boat and sails answer to the boat's motion, where she is free.
    """

    height: float
    aim: FloatArray
    limits: FloatArray
    used: FloatArray
    price: float
    unknowns: FloatArray
    motion: FloatArray
    places: FloatArray
    guide: Guide | None = None

    def ahead(self, state: Reached, by: FloatArray) -> Reached:
        """Return where the slopes say that sails and boat will be after moves [each in its unit]:
        no balance, but a place to solve one from.
        """
        flight, boat = state.flight, state.boat
        unknowns = flight.unknowns + by @ self.unknowns
        if boat is None:
            return Reached(replace(flight, unknowns=unknowns))
        motion = np.clip(boat.motion + by @ self.motion, LOW, HIGH)
        speed, heel, leeway, rudder = (float(value) for value in motion)
        stream = replace(flight.stream, speed=speed, heel=heel, leeway=leeway)
        flight = replace(flight, unknowns=unknowns, stream=stream)
        return Reached(flight, replace(boat, flight=flight, rudder=rudder, guide=self.guide))


class Task(Protocol):
    """What the search asks of its task."""

    @property
    def plan(self) -> SailPlan:
        """The boat's sails and what holds them [m, N]."""

    @property
    def free(self) -> tuple[ControlTravel, ...]:
        """The controls that may move [each in its unit]."""

    @property
    def limit(self) -> int:
        """The greatest number of tries [-]."""

    def sail(
        self, setting: Setting, angle: float, near: Reached | None, *, afresh: bool = False
    ) -> Reached:
        """Return the state at a setting and an angle to the true wind [rad]."""

    def aim(self, state: Reached) -> float:
        """Return what is sought [N or m/s], whatever limits are passed."""

    def merit(self, state: Reached) -> float:
        """Return what is sought [N or m/s], less the price of limits passed."""

    def used(self, state: Reached) -> FloatArray:
        """Return the shares of the limits that are used [-]."""

    def relieved(self, state: Reached) -> FloatArray:
        """Return the same of the limits that less sail relieves; 0 for the others [-]."""

    def slopes(self, state: Reached, names: tuple[str, ...]) -> Slopes:
        """Return what a little of each parameter does [by m or rad]."""

    def shorter(self, limit: int) -> Task:
        """Return the same task with fewer tries [-]."""

    def coarser(self) -> Task | None:
        """Return the same task on the mesh for a first search; None where its own is no finer."""


SEARCHED_ON = Mesh(6, 5)
"""Mesh for a first search: its best trim lies within marks of the best on the default mesh, for a
third of the work a try; on a smoother hill than the fine one's there are fewer tops to end on."""


def searched_coarser(mesh: Mesh) -> bool:
    """Return whether a search on a mesh begins on a coarser one [-].

    Parameters
    ----------
    mesh : Mesh

    Returns
    -------
    bool
    """
    return mesh.strips > SEARCHED_ON.strips and mesh.panels > SEARCHED_ON.panels


@dataclass(frozen=True)
class HeldTask:
    """Most drive at a held speed, heel and leeway, pressed to a heeling moment at most, both on
    average over the minute's swing of the wind.

    `lever` [m] is the depth of the keel's force below the water; `moment_limit` [N m]; without
    `minute` a steady wind.
    """

    plan: SailPlan
    stream: Stream
    sheet_zero: float
    mesh: Mesh
    density: float
    free: tuple[ControlTravel, ...]
    moment_limit: float
    lever: float
    limit: int = 20
    load: float = float("inf")
    """Times what `load_limit.allowed_share` lets every rope and stay carry [-]."""
    hull: Hull | None = None
    minute: Minute | None = None

    def shorter(self, limit: int) -> HeldTask:
        """Return the same task with fewer tries [-]."""
        return replace(self, limit=limit)

    def coarser(self) -> HeldTask | None:
        """Return the same task on the mesh for a first search; None where its own is no finer."""
        return replace(self, mesh=SEARCHED_ON) if searched_coarser(self.mesh) else None

    def sail(
        self, setting: Setting, angle: float, near: Reached | None, *, afresh: bool = False
    ) -> Reached:
        """Return the flight of a setting at an angle [rad]; what a neighbour does not lead to is
        left alone unless `afresh`.
        """
        flight = fly(
            self.plan, setting, replace(self.stream, wind_angle=angle), self.sheet_zero,
            mesh=self.mesh, density=self.density, afresh=afresh or near is None,
            near=None if near is None else near.flight,
        )  # fmt: skip
        if self.hull is None or not flight.settled:
            return Reached(flight)
        return Reached(flight, more=sway(self.minute, self.hull, flight))

    def sums(self, state: Reached) -> FloatArray:
        """Return drive, side force [N], heeling and yawing moment [N m] of the sails."""
        flight = state.flight
        nodes = flight.places[: flight.rigging.sail_nodes]
        wrench = sail_wrench(nodes, flight.flow.node_force, flight.stream.heel)
        wrench = wrench if state.more is None else wrench + state.more
        return sail_sums(wrench, flight.stream.leeway)

    def moment(self, state: Reached) -> float:
        """Return the heeling moment about the keel's force [N m]."""
        _, side, heeling, _ = self.sums(state)
        return float(heeling + self.lever * side)

    def used(self, state: Reached) -> FloatArray:
        """Return the shares of the limits of heeling moment and loads that are used [-]."""
        pressed = self.moment(state) / self.moment_limit
        return np.append(pressed, load_shares(state.flight, self.load))

    def relieved(self, state: Reached) -> FloatArray:
        """Return the same of the limits that less sail relieves; 0 for the others [-]."""
        mask = np.append(1.0, relieved_by_area(state.flight, self.plan))
        return np.asarray(mask * self.used(state))

    def aim(self, state: Reached) -> float:
        """Return the drive [N]."""
        return float(self.sums(state)[0])

    def merit(self, state: Reached) -> float:
        """Return the drive less the price of being pressed over the limit [N]."""
        return _priced(self.aim(state), self.used(state)) if state.settled else NEVER

    def slopes(self, state: Reached, names: tuple[str, ...]) -> Slopes:
        """Return what a little of each parameter does to drive [N] and heeling moment."""
        known = sensitivity(state.flight, names, self.sheet_zero, self.mesh)
        if self.hull is not None:
            known = on_average(self.minute, self.hull, state.flight, known)
        moment = (known.moment + self.lever * known.side) / self.moment_limit
        limits = np.vstack([moment, load_slopes(state.flight, known.pulls, self.load)])
        drive = self.aim(state)
        return Slopes(
            drive, known.drive, limits, self.used(state), _price(drive), known.unknowns,
            np.zeros((len(names), 4)), known.places,
        )  # fmt: skip


Goal = Literal["speed", "upwind", "downwind"]


@dataclass(frozen=True)
class Limits:
    """What the boat is not pressed beyond: heel, rudder either way [rad]; heeling moment [N m];
    `load` of every rope and stay, times what `load_limit.allowed_share` lets it carry [-]. `seen`:
    how far the rudder seen on board lay from the computed one [rad].
    """

    heel: float = float(np.radians(25.0))
    rudder: float = float(np.radians(5.0))
    moment: float = float("inf")
    load: float = 1.0
    seen: float = 0.0


@dataclass(frozen=True)
class SailingTask:
    """The best speed of the boat in balance: through the water on a course, or made good."""

    plan: SailPlan
    stream: Stream
    sheet_zero: float
    mesh: Mesh
    density: float
    free: tuple[ControlTravel, ...]
    at: Waters
    goal: Goal
    limits: Limits = field(default_factory=Limits)
    held: frozenset[str] = frozenset()
    limit: int = 20

    def shorter(self, limit: int) -> SailingTask:
        """Return the same task with fewer tries [-]."""
        return replace(self, limit=limit)

    def coarser(self) -> SailingTask | None:
        """Return the same task on the mesh for a first search; None where its own is no finer."""
        return replace(self, mesh=SEARCHED_ON) if searched_coarser(self.mesh) else None

    def sail(
        self, setting: Setting, angle: float, near: Reached | None, *, afresh: bool = False
    ) -> Reached:
        """Return the boat in balance at a setting and an angle [rad]; what a neighbour does not
        lead to is left alone unless `afresh`.
        """
        stream = replace(self.stream, wind_angle=angle)
        course = Course(self.plan, setting, stream, self.sheet_zero, self.mesh, self.density)
        if near is not None and near.boat is not None:
            boat = balance(course, self.at, near=near.boat, held=self.held, afresh=afresh)
            return Reached(boat.flight, boat)
        boat = balance(course, self.at, held=self.held)
        return Reached(boat.flight, boat)

    def made_good(self, boat: Balanced) -> float:
        """Return the speed that counts [m/s]."""
        stream = boat.flight.stream
        along = np.cos(stream.wind_angle + stream.leeway)
        return stream.speed * {"speed": 1.0, "upwind": along, "downwind": -along}[self.goal]

    def used(self, state: Reached) -> FloatArray:
        """Return the shares of the limits of heel, rudder, heeling moment and loads in use [-]."""
        boat = _boat(state)
        turned = (boat.rudder + self.limits.seen) / self.limits.rudder
        heeled = boat.flight.stream.heel / self.limits.heel
        pressed = heeling_moment(boat.flight) / self.limits.moment
        loads = load_shares(boat.flight, self.limits.load)
        return np.array([heeled, turned, -turned, pressed, *loads])

    def relieved(self, state: Reached) -> FloatArray:
        """Return the same of the limits that less sail relieves; 0 for the others [-]."""
        mask = np.append(np.ones(4), relieved_by_area(state.flight, self.plan))
        return np.asarray(mask * self.used(state))

    def aim(self, state: Reached) -> float:
        """Return the speed that counts [m/s]."""
        return self.made_good(_boat(state))

    def merit(self, state: Reached) -> float:
        """Return the speed that counts less the price of limits passed [m/s]."""
        return _priced(self.aim(state), self.used(state)) if state.settled else NEVER

    def slopes(self, state: Reached, names: tuple[str, ...]) -> Slopes:
        """Return what a little of each parameter does to the speed [m/s] and to the limits."""
        boat = _boat(state)
        flight, stream = boat.flight, boat.flight.stream
        known = boat.sensed(names)
        sums = np.array([sail_sums(row, stream.leeway) for row in known.wrench])
        turning = np.array([name == TURN.name for name in names], dtype=np.float64)
        sums = sums + np.outer(turning, turn_sums(self.at, flight, boat.rudder))
        motion = np.zeros((4, len(names)))
        part = boat.slopes[np.ix_(boat.sums, boat.free)]
        motion[boat.free] = -np.linalg.solve(part, sums.T[boat.sums])
        speed, heel, leeway, rudder = motion
        moment = known.moment + boat.known.moment @ motion[:3]
        limits = np.array(
            [
                heel / self.limits.heel,
                rudder / self.limits.rudder,
                -rudder / self.limits.rudder,
                moment / self.limits.moment,
                *load_slopes(
                    flight, known.pulls + motion[:3].T @ boat.known.pulls, self.limits.load
                ),
            ]
        )
        height = self.made_good(boat)
        return Slopes(
            height, self._aim_slope(boat, speed, leeway + turning), limits, self.used(state),
            _price(height), known.unknowns + motion[:3].T @ boat.known.unknowns, motion.T,
            known.places, Guide(boat.known, boat.slopes),
        )  # fmt: skip

    def _aim_slope(self, boat: Balanced, speed: FloatArray, turn: FloatArray) -> FloatArray:
        if self.goal == "speed":
            return speed
        stream = boat.flight.stream
        angle = stream.wind_angle + stream.leeway
        change: FloatArray = np.cos(angle) * speed - stream.speed * np.sin(angle) * turn
        return change if self.goal == "upwind" else -change


def _boat(state: Reached) -> Balanced:
    if state.boat is None:
        msg = "a state of this task carries its boat"
        raise TypeError(msg)
    return state.boat


def _price(aim: float) -> float:
    return OVERLOAD_PRICE * max(abs(aim), 1e-3)


def _priced(aim: float, used: FloatArray) -> float:
    return aim - _price(aim) * float(np.sum(np.maximum(used - 1.0 - FORGIVEN, 0.0)))
