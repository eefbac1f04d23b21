"""The slow and simple second opinion on a flight: sails that drift through syrup to their places.

The same forces as in `flight`, no tangent of the air, no correction of one, no mean surface: every
unknown is held back in proportion to its speed, the air's load is that of the step before, and the
cloth, far too stiff to be stepped on, gives way to it within the step. Where the sails come to rest
there is a balance, and a steady one. Where they never do, they flog.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.air.lattice import Flow
from luffwright.arrays import FloatArray
from luffwright.sails.flight import FORCE_TOLERANCE, FlightSolver

SYRUP = 60.0
"""Drag of an unknown over a step of time [N/m per share of a node]: lighter air than some 20 knots
would have to be stepped through no faster."""
THICKER = 2.0
"""How much more it holds back where the cloth does not follow within a step."""
BALANCED = 0.1
"""How well the cloth follows within a step, as a share of what counts as balanced."""


@dataclass(frozen=True)
class Drifted:
    """Where the sails drifted: unknowns [m], flow there, steps made, the greatest unbalanced force
    [N] and what counts as none.
    """

    unknowns: FloatArray
    flow: Flow
    steps: int
    residual: float
    allowed: float

    @property
    def rests(self) -> bool:
        """Return whether the sails came to rest."""
        return self.residual <= self.allowed


def drift(solver: FlightSolver, *, limit: int = 400, syrup: float = SYRUP) -> Drifted:
    r"""Return where the sails drift from their moulded shape.

    .. math:: \mu\,(\mathbf q_{n+1} - \mathbf q_n) = \mathbf F_{air}(\mathbf q_n)
        - \mathbf F_{cloth}(\mathbf q_{n+1})

    Parameters
    ----------
    solver : FlightSolver
        Of the boat and the wind.
    limit : int
        Most steps. [-]
    syrup : float
        Drag over a step, :math:`\mu` of a node. [N/m]

    Returns
    -------
    Drifted

    Notes
    -----
    Rest in syrup is also rest in air, but not the other way: what a Newton solver finds may be
    unsteady here. A step much longer than the air's own stiffness allows swings to and fro.
    """
    unknowns, hold = solver.rigging.start.copy(), syrup
    body = solver.structure(unknowns)
    flow, load = solver.air(body.places, None)
    no_tangent = np.zeros((len(unknowns), len(unknowns)))
    residual, steps = np.inf, 0
    while steps < limit and residual > FORCE_TOLERANCE * solver.scale(flow):
        steps += 1
        goal = BALANCED * FORCE_TOLERANCE * solver.scale(flow)
        there, after, count = solver.settle(unknowns, body, load, no_tangent, hold, goal, 25)
        if count >= 25:
            hold *= THICKER
            continue
        unknowns, body, hold = there, after, max(hold / THICKER, syrup)
        flow, load = solver.air(body.places, flow.strip.incidence)
        residual = float(np.max(np.abs(body.forces - load)))
    return Drifted(unknowns, flow, steps, residual, FORCE_TOLERANCE * solver.scale(flow))
