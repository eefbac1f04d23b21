"""What a little of each control, or of the boat's motion, does to a settled flight.

The flight's unknowns q and a parameter p balance in R(q, p) = 0, so dq/dp = -J⁻¹ ∂R/∂p with the
tangent J, the vortices' own shift included: one factorisation serves every parameter. What J leaves
out, how the strips' stall changes with their width and the wind with height, is put right by how
the loads answer to the shift found: known exactly for a shift, though not for every node.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from scipy.linalg import lu_factor, lu_solve

from luffwright.air.lattice import Water, load_tangent
from luffwright.air.shift import STEP, Scene, load_shifts
from luffwright.air.slope import moved_vortices
from luffwright.air.stream import Stream
from luffwright.arrays import FloatArray
from luffwright.frames import cross, to_level
from luffwright.sails.assembly_kernel import SLACK, linear_stretch
from luffwright.sails.flight import Flight, FlightSolver, sail_lattice
from luffwright.sails.flutter import fluttering
from luffwright.sails.rigging import Mesh, rig
from luffwright.sails.ropes import Ropes

PROBE = 1e-6
"""How far a rope is let out, or a point moved, to see the forces change [m]: a lightly loaded rope
must not fall slack by it."""
LOOKS = 2
"""How often what the tangent leaves out is put right."""
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
    return np.concatenate([push.sum(axis=0), cross(there, push).sum(axis=0)])


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
    return _answering(_Itself(flight), mesh).to(names, sheet_zero)


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

    def to(self, names: tuple[str, ...], sheet_zero: float) -> Sensitivity:
        """Return the change of unknowns, places, wrench and pulls by one unit of each parameter."""
        flight, count = self.flight, len(names)
        if not names:
            return Sensitivity(
                names, np.zeros((0, len(flight.unknowns))), np.zeros((0, *flight.places.shape)),
                np.zeros((0, 6)), np.zeros((0, len(flight.pulls))), flight.stream.leeway,
            )  # fmt: skip
        probes = [self._probe(name, sheet_zero) for name in names]
        places = np.array([probe.places for probe in probes])
        forces = np.array([probe.forces for probe in probes])
        load = self._air(probes, places)
        away = self._step(forces, load)
        for _ in range(LOOKS):
            load = self._air(probes, places + self._moved(away))
            rest = self._step(forces + away @ self.body.stiffness.T, load)
            away += rest
        by_rest = self._moved(rest)[:, : self.count].reshape(count, -1) @ self.tangent.T
        load += by_rest.reshape(load.shape)
        places += self._moved(away)
        wrench = [self._wrench(*them) for them in zip(probes, places, load, strict=True)]
        pulls = [self._pulls(*them) for them in zip(probes, places, strict=True)]
        return Sensitivity(
            names, away, places, np.array(wrench), np.array(pulls), flight.stream.leeway
        )

    def _probe(self, name: str, sheet_zero: float) -> _Probe:
        """Return what one unit of a parameter does to forces and places, the unknowns held."""
        flight, rigging, stream = self.flight, self.flight.rigging, self.flight.stream
        if name in MOTIONS:
            stream = stream_off(stream, name)
            other = FlightSolver(rigging, self.air, stream, flight.density)
            forces = (self.solver.weight - other.weight) / STEP
            return _Probe(stream, rigging.ropes, STEP, forces, np.zeros_like(flight.places))
        setting = flight.setting
        setting = setting.changed(**{name: setting.value(name) + PROBE})
        rigging = fluttering(rig(rigging.plan, setting, self.mesh, sheet_zero), rigging.flutter)
        other = FlightSolver(rigging, self.air, stream, flight.density)
        still, body = other.structure(flight.unknowns), self.body
        forces, places = still.forces - body.forces, still.places - body.places
        return _Probe(stream, rigging.ropes, PROBE, forces / PROBE, places / PROBE)

    def _moved(self, unknowns: FloatArray) -> FloatArray:
        """Return how points move with unknowns, both (names, ...) by one unit [m]."""
        return np.asarray((self.solver.matrix @ unknowns.T).T).reshape(len(unknowns), -1, 3)

    def _air(self, probes: list[_Probe], places: FloatArray) -> FloatArray:
        """Return how the air's load by node, (names, n, 3), answers to shifts of the points [N]."""
        load = np.zeros((len(probes), self.count, 3))
        shifts, still = places[:, : self.count], self.flight.stream
        seen = [k for k, it in enumerate(probes) if it.stream is not still or np.any(shifts[k])]
        if seen:
            there = tuple(_scene(self.nodes + STEP * shifts[k], probes[k].stream) for k in seen)
            flows = (self.flight.flow,)
            load[seen] = load_shifts(self.air, flows, _scene(self.nodes, still), there)[0]
        return load

    def _step(self, forces: FloatArray, load: FloatArray) -> FloatArray:
        """Return the change of the unknowns that takes up what is out of balance."""
        by_air = (self.flight.rigging.from_sails @ load.reshape(len(load), -1).T).T
        return -np.asarray(lu_solve(self.factors, (forces - by_air).T, check_finite=False)).T

    def _wrench(self, probe: _Probe, places: FloatArray, load: FloatArray) -> FloatArray:
        """Return the change of the air's force and moment, level frame [N, N m]."""
        nodes = self.nodes + STEP * places[: self.count]
        force = self.flight.flow.node_force + STEP * load
        return (sail_wrench(nodes, force, probe.stream.heel) - self.wrench) / STEP

    def _pulls(self, probe: _Probe, places: FloatArray) -> FloatArray:
        """Return the change of all pulls as points move and ropes are let out [N]."""
        ropes, body = probe.ropes, self.body
        stretch = np.zeros(len(ropes.names))
        linear_stretch(
            body.places, probe.size * places,
            ropes.begin, ropes.point, ropes.length, ropes.knot, stretch,
        )  # fmt: skip
        slack = (body.stretch < 0.0) & (ropes.both == 0)
        pulls = np.where(slack, SLACK, 1.0) * ropes.spring * stretch
        return np.asarray((pulls - body.pulls) / probe.size)


@dataclass(frozen=True)
class _Probe:
    """A boat with one parameter moved by `size`: its wind, and its ropes; by one unit, the change
    of the `forces` on the unknowns [N] and of the `places` of the points [m], the unknowns held.
    """

    stream: Stream
    ropes: Ropes
    size: float
    forces: FloatArray
    places: FloatArray


def stream_off(stream: Stream, name: str) -> Stream:
    """Return a stream with one of the motions a `STEP` of the air's shifts away.

    Parameters
    ----------
    stream : Stream
    name : str
        One of `MOTIONS`.

    Returns
    -------
    Stream
    """
    return replace(stream, **{name: getattr(stream, name) + STEP})


def _scene(nodes: FloatArray, stream: Stream) -> Scene:
    return Scene(nodes, (stream,), stream, Water(stream.up))


@lru_cache(maxsize=4)
def _answering(itself: _Itself, mesh: Mesh) -> _Answering:
    return _Answering(itself.flight, mesh)
