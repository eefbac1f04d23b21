"""What a little of each control does: sensitivities of a settled flight to the ropes' positions.

The flight's unknowns q and a control p balance in R(q, p) = 0, so dq/dp = -J⁻¹ ∂R/∂p with the
tangent J of the last Newton step: one factorisation serves every control.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg import lu_factor, lu_solve

from luffwright.air.lattice import load_tangent
from luffwright.arrays import FloatArray
from luffwright.frames import to_level
from luffwright.sails.flight import Flight, FlightSolver, sail_lattice
from luffwright.sails.rigging import Mesh, rig

PROBE = 1e-4
"""How far a control is moved to see the forces change [m]: far below any step on deck, far above
rounding."""


@dataclass(frozen=True)
class Sensitivity:
    """Change by one unit of each control in `names`: `unknowns` (names, n), `places` (names,
    points, 3) [m], drive and side force along the track [N], heeling moment [N m].
    """

    names: tuple[str, ...]
    unknowns: FloatArray
    places: FloatArray
    drive: FloatArray
    side: FloatArray
    moment: FloatArray


ROUNDS = 3
"""How often the answer is put right: the tangent holds the influence of one filament on another and
leaves out that a pushed batten wants to fold, which leaves a fifth; each round leaves a fifth of
what was left."""
NUDGE = 1e-4
"""Greatest move of a node when the air is asked again [m]."""


def sensitivity(
    flight: Flight, names: tuple[str, ...], sheet_zero: float, mesh: Mesh
) -> Sensitivity:
    """Return how a settled flight answers to a little of each control.

    Parameters
    ----------
    flight : Flight
        Settled, on `mesh`.
    names : tuple of str
        Controls that move ropes; a reef or a roll changes the sail itself and has no sensitivity.
    sheet_zero : float
        Unstretched headsail sheet from winch to clew at its mark. [m]
    mesh : Mesh

    Returns
    -------
    Sensitivity
    """
    plan, setting, stream = flight.rigging.plan, flight.setting, flight.stream
    air = sail_lattice(plan, mesh)
    solver = FlightSolver(flight.rigging, air, stream, flight.density)
    tangent = load_tangent(air, flight.flow)
    body = solver.structure(flight.unknowns)
    factors = lu_factor(body.stiffness - solver.on_unknowns(tangent))
    count = flight.rigging.sail_nodes
    unknowns, places, changes = [], [], []
    for name in names:
        probe = setting.changed(**{name: setting.value(name) + PROBE})
        other = FlightSolver(rig(plan, probe, mesh, sheet_zero), air, stream, flight.density)
        shift = (other.structure(flight.unknowns).places - body.places).ravel() / PROBE
        away = np.zeros_like(flight.unknowns)
        change = tangent @ shift[: 3 * count]
        for _ in range(ROUNDS + 1):
            there = other.structure(flight.unknowns + PROBE * away)
            held = (there.forces - body.forces) / PROBE
            away = away - lu_solve(factors, held - solver.sail_transposed @ change)
            move = (shift + solver.matrix @ away).reshape(-1, 3)
            change = _air_change(solver, flight, move[:count])
        unknowns.append(away)
        places.append(move)
        changes.append(change)
    return _sensitivity(flight, names, np.array(unknowns), np.array(places), np.array(changes))


def _air_change(solver: FlightSolver, flight: Flight, move: FloatArray) -> FloatArray:
    """Return the change of the air's force on the nodes [N], per unit of a move, node-major."""
    nodes = flight.places[: len(move)]
    share = NUDGE / max(float(np.max(np.abs(move))), 1e-12)
    flow = solver.flow(nodes + share * move, flight.flow.strip.incidence)
    return (flow.node_force - flight.flow.node_force).ravel() / share


def _sensitivity(
    flight: Flight,
    names: tuple[str, ...],
    unknowns: FloatArray,
    places: FloatArray,
    changes: FloatArray,
) -> Sensitivity:
    count, leeway = flight.rigging.sail_nodes, flight.stream.leeway
    there, force = flight.places[:count], flight.flow.node_force
    places = places.reshape(len(names), -1, 3)
    move, change = places[:, :count], changes.reshape(len(names), count, 3)
    total = to_level(change.sum(axis=1), flight.stream.heel)
    moment = np.sum(
        there[:, 2] * change[..., 1] + move[..., 2] * force[:, 1]
        - there[:, 1] * change[..., 2] - move[..., 1] * force[:, 2],
        axis=1,
    )  # fmt: skip
    drive = total[:, 0] * np.cos(leeway) + total[:, 1] * np.sin(leeway)
    side = total[:, 1] * np.cos(leeway) - total[:, 0] * np.sin(leeway)
    return Sensitivity(names, unknowns, places, drive, side, moment)
