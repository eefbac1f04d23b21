"""The two sails together against each alone."""

from __future__ import annotations

import numpy as np

from facts.effect import Effect, UnfitError, share, within
from luffwright.air.lattice import lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.app.question import MESH
from luffwright.sails.flight import FlightSolver, foot_closure, sail_lattice
from states import State


def attached(state: State) -> tuple[list[float], list[float]]:
    """Return the forces of the two sails [N] together and each alone, at the flying shape.

    In attached flow: alone, the mainsail of a boat that carries a headsail would stand at twice its
    incidence and stall, which is true but not what the fact is about.
    """
    flight, closure = state.flight, foot_closure(state.plan)
    solver = FlightSolver(
        flight.rigging, sail_lattice(state.plan, MESH), flight.stream, flight.density
    )
    single, nodes = [], flight.places[: flight.rigging.sail_nodes]
    whole = solve_flow(
        solver.lattice, nodes, flight.stream, solver.water, flight.density, stalling=False
    )
    both = [
        float(np.linalg.norm(whole.node_force[part.first : part.first + part.count].sum(axis=0)))
        for part in flight.rigging.sails
    ]
    for part, close in zip(flight.rigging.sails, closure, strict=True):
        mesh = sheet_mesh(part.rows, part.columns, inset_foot=0.25 * (1.0 - close))
        flow = solve_flow(
            lattice((mesh,), (close,)), nodes[part.first : part.first + part.count],
            flight.stream, solver.water, flight.density, stalling=False,
        )  # fmt: skip
        single.append(float(np.linalg.norm(flow.node_force.sum(axis=0))))
    return both, single


def _compared(state: State) -> tuple[list[float], list[float]]:
    if state.pressed:
        raise UnfitError("pressed to spill: a luffing sail has no attached flow to compare")
    return attached(state)


def gain_and_loss(state: State) -> list[Effect]:
    """J1: beside each other the headsail gains and the mainsail loses."""
    both, single = _compared(state)
    return [
        share("headsail gains", both[0] / single[0] - 1.0, 0.0),
        share("mainsail loses", 1.0 - both[1] / single[1], 0.0),
    ]


def total(state: State) -> list[Effect]:
    """J1: together they pull 0.85 to 1.0 of the two alone."""
    both, single = _compared(state)
    return [within("sum of the two alone", sum(both) / sum(single), 0.85, 1.0)]
