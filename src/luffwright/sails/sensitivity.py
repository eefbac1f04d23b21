"""What a little of each control, or of the boat's motion, does to a settled flight.

The flight's unknowns q and a parameter p balance in R(q, p) = 0, so dq/dp = -J⁻¹ ∂R/∂p with the
tangent J of the last Newton step: one factorisation serves every parameter.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.linalg import lu_factor, lu_solve

from luffwright.air.lattice import load_tangent
from luffwright.arrays import FloatArray
from luffwright.frames import to_level
from luffwright.sails.flight import Flight, FlightSolver, sail_lattice
from luffwright.sails.rigging import Mesh, rig

PROBE = 1e-4
"""How far a parameter is moved to see the forces change [m, rad or m/s]: far below any step on
deck, far above rounding."""
ROUNDS = 3
"""How often the answer is put right: the tangent holds the influence of one filament on another and
leaves out that a pushed batten wants to fold, which leaves a fifth; each round leaves a fifth of
what was left."""
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
    air = sail_lattice(flight.rigging.plan, mesh)
    solver = FlightSolver(flight.rigging, air, flight.stream, flight.density)
    body = solver.structure(flight.unknowns)
    factors = lu_factor(body.stiffness - solver.on_unknowns(load_tangent(air, flight.flow)))
    count = flight.rigging.sail_nodes
    before = sail_wrench(flight.places[:count], flight.flow.node_force, flight.stream.heel)
    unknowns, places, wrenches, pulls = [], [], [], []
    for name in names:
        other = _probed(flight, name, sheet_zero, mesh)
        away = np.zeros_like(flight.unknowns)
        for _ in range(ROUNDS + 1):
            there = other.structure(flight.unknowns + PROBE * away)
            force = other.flow(there.places[:count], flight.flow.strip.incidence).node_force
            load = solver.sail_transposed @ (force - flight.flow.node_force).ravel()
            away = away - lu_solve(factors, (there.forces - body.forces - load) / PROBE)
        there = other.structure(flight.unknowns + PROBE * away)
        force = other.flow(there.places[:count], flight.flow.strip.incidence).node_force
        after = sail_wrench(there.places[:count], force, other.stream.heel)
        unknowns.append(away)
        places.append((there.places - body.places) / PROBE)
        wrenches.append((after - before) / PROBE)
        pulls.append((there.pulls - body.pulls) / PROBE)
    return Sensitivity(
        names, np.array(unknowns), np.array(places).reshape(len(names), -1, 3),
        np.array(wrenches).reshape(len(names), 6),
        np.array(pulls).reshape(len(names), -1), flight.stream.leeway,
    )  # fmt: skip


def _probed(flight: Flight, name: str, sheet_zero: float, mesh: Mesh) -> FlightSolver:
    """Return the boat with one parameter moved by the probe."""
    plan, setting, stream, rigging = (
        flight.rigging.plan, flight.setting, flight.stream, flight.rigging,
    )  # fmt: skip
    if name in MOTIONS:
        stream = replace(stream, **{name: getattr(stream, name) + PROBE})
    else:
        probe = setting.changed(**{name: setting.value(name) + PROBE})
        rigging = rig(plan, probe, mesh, sheet_zero)
    return FlightSolver(rigging, sail_lattice(plan, mesh), stream, flight.density)
