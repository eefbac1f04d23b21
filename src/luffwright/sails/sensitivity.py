"""What a little of each control, or of the boat's motion, does to a settled flight.

The flight's unknowns q and a parameter p balance in R(q, p) = 0, so dq/dp = -J⁻¹ ∂R/∂p with the
whole tangent J, the vortices' own shift included: one factorisation serves every parameter. What
J leaves out, how the strips' stall changes with their width, one look at R there puts right.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from scipy.linalg import lu_factor, lu_solve

from luffwright.air.lattice import load_tangent
from luffwright.air.slope import moved_vortices
from luffwright.arrays import FloatArray
from luffwright.frames import to_level
from luffwright.sails.flight import Flight, FlightSolver, Structure, sail_lattice
from luffwright.sails.flutter import fluttering
from luffwright.sails.rigging import Mesh, rig

PROBE = 1e-4
"""How far a parameter is moved to see the forces change [m, rad or m/s]: far below any step on
deck, far above rounding."""
MOTIONS = ("speed", "heel", "leeway", "wind_angle")


@dataclass(frozen=True)
class Sensitivity:
    """Change by one unit of each parameter in `names`: `unknowns` (names, n), `places` (names,
    points, 3) [m], `wrench` (names, 6): force [N] and moment about the origin [N m] of the air on
    the sails, frame: level; `pulls` (names, ropes) of all ropes and stays [N]; `leeway` [rad] tells
    where the track points.
    """

    names: tuple[str, ...]
    unknowns: FloatArray
    places: FloatArray
    wrench: FloatArray
    pulls: FloatArray
    leeway: float

    @property
    def drive(self) -> FloatArray:
        """Return the change of the drive along the track [N]."""
        drive: FloatArray = self.wrench[:, :2] @ [np.cos(self.leeway), np.sin(self.leeway)]
        return drive

    @property
    def side(self) -> FloatArray:
        """Return the change of the force across the track [N]."""
        side: FloatArray = self.wrench[:, :2] @ [-np.sin(self.leeway), np.cos(self.leeway)]
        return side

    @property
    def moment(self) -> FloatArray:
        """Return the change of the heeling moment about the waterline [N m]."""
        return -self.wrench[:, 3]


def sail_wrench(nodes: FloatArray, force: FloatArray, heel: float) -> FloatArray:
    """Return force and moment about the origin of forces on nodes.

    Parameters
    ----------
    nodes : (n, 3) array
        Frame: boat. [m]
    force : (n, 3) array
        Frame: boat. [N]
    heel : float
        [rad]

    Returns
    -------
    (6,) array
        Force, then moment. Frame: level. [N, N m]

    Examples
    --------
    A push of 10 N to leeward 2 m up heels with 20 N m, which turns about the axis that points aft:

    >>> sail_wrench(np.array([[0.0, 0.0, 2.0]]), np.array([[0.0, 10.0, 0.0]]), 0.0)
    array([  0.,  10.,   0., -20.,   0.,   0.])
    """
    there, push = to_level(nodes, heel), to_level(force, heel)
    return np.concatenate([push.sum(axis=0), np.cross(there, push).sum(axis=0)])


def sensitivity(
    flight: Flight, names: tuple[str, ...], sheet_zero: float, mesh: Mesh
) -> Sensitivity:
    """Return how a settled flight answers to a little of each parameter.

    Parameters
    ----------
    flight : Flight
        Settled, on `mesh`.
    names : tuple of str
        Controls that move ropes [1/m], or `speed` [s/m], `heel`, `leeway`, `wind_angle` [1/rad]. A
        reef or a roll changes the sail itself and has no sensitivity.
    sheet_zero : float
        Unstretched headsail sheet from winch to clew at its mark. [m]
    mesh : Mesh

    Returns
    -------
    Sensitivity
    """
    answering = _answering(_Itself(flight), mesh)
    found = [answering.to(name, sheet_zero) for name in names]
    unknowns, places, wrenches, pulls = zip(*found, strict=True) if found else ((), (), (), ())
    return Sensitivity(
        names, np.array(unknowns), np.array(places).reshape(len(names), -1, 3),
        np.array(wrenches).reshape(len(names), 6),
        np.array(pulls).reshape(len(names), -1), flight.stream.leeway,
    )  # fmt: skip


class _Itself:
    """A flight known by its identity, to look up what was made of it."""

    def __init__(self, flight: Flight) -> None:
        self.flight = flight

    def __hash__(self) -> int:
        return id(self.flight)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Itself) and self.flight is other.flight


class _Answering:
    """A settled flight with its factorised tangent: one serves every parameter."""

    def __init__(self, flight: Flight, mesh: Mesh) -> None:
        self.flight, self.mesh = flight, mesh
        self.air = sail_lattice(flight.rigging.plan, mesh)
        self.solver = FlightSolver(flight.rigging, self.air, flight.stream, flight.density)
        self.body = self.solver.structure(flight.unknowns)
        self.count = flight.rigging.sail_nodes
        self.nodes = self.body.places[: self.count]
        moved = moved_vortices(self.air, self.nodes, flight.flow, self.solver.water)
        self.tangent = load_tangent(self.air, flight.flow, moved)
        self.factors = lu_factor(self.body.stiffness - self.solver.on_unknowns(self.tangent))
        self.wrench = sail_wrench(self.nodes, flight.flow.node_force, flight.stream.heel)

    def to(self, name: str, sheet_zero: float) -> tuple[FloatArray, ...]:
        """Return the change of unknowns, places, wrench and pulls by one unit of a parameter."""
        flight, body, count = self.flight, self.body, self.count
        other = _probed(flight, name, sheet_zero, self.mesh)
        still = other.structure(flight.unknowns)
        force = self._air(other, still)
        away = self._step(still, force)
        there = other.structure(flight.unknowns + PROBE * away)
        force = self._air(other, there)
        rest = self._step(there, force)
        there = other.structure(flight.unknowns + PROBE * (away + rest))
        shift = (self.solver.sail_matrix @ rest).ravel()
        force = force + PROBE * (self.tangent @ shift).reshape(-1, 3)
        after = sail_wrench(there.places[:count], force, other.stream.heel)
        return (
            away + rest,
            (there.places - body.places) / PROBE,
            (after - self.wrench) / PROBE,
            (there.pulls - body.pulls) / PROBE,
        )

    def _air(self, other: FlightSolver, there: Structure) -> FloatArray:
        """Return the air's force on the nodes of the probed boat, (n, 3) [N]."""
        flow, nodes = self.flight.flow, there.places[: self.count]
        if other.stream is self.flight.stream and np.array_equal(nodes, self.nodes):
            return flow.node_force
        return other.flow(nodes, flow.strip.incidence).node_force

    def _step(self, there: Structure, force: FloatArray) -> FloatArray:
        """Return the change of the unknowns that takes up what is out of balance, by the probe."""
        load = self.solver.sail_transposed @ (force - self.flight.flow.node_force).ravel()
        out = (there.forces - self.body.forces - load) / PROBE
        return -np.asarray(lu_solve(self.factors, out, check_finite=False))


@lru_cache(maxsize=4)
def _answering(itself: _Itself, mesh: Mesh) -> _Answering:
    return _Answering(itself.flight, mesh)


def _probed(flight: Flight, name: str, sheet_zero: float, mesh: Mesh) -> FlightSolver:
    """Return the boat with one parameter moved by the probe."""
    plan, setting, stream, rigging = (
        flight.rigging.plan, flight.setting, flight.stream, flight.rigging,
    )  # fmt: skip
    if name in MOTIONS:
        stream = replace(stream, **{name: getattr(stream, name) + PROBE})
    else:
        probe = setting.changed(**{name: setting.value(name) + PROBE})
        rigging = fluttering(rig(plan, probe, mesh, sheet_zero), flight.rigging.flutter)
    return FlightSolver(rigging, sail_lattice(plan, mesh), stream, flight.density)
