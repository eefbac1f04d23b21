"""The flight: cloth, ropes, mast and air in one balance, solved by Newton.

One residual: the forces of cloth, tapes, ropes, mast, contact, weight and air on every unknown. The
circulations and the strips' separation are solved exactly inside it at every step, and their
answer to a change of shape is in the tangent. Pseudo-time damping, which fades as the residual
falls, brings the boat there from a rough start, as the cloth's own inertia would.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from luffwright.air.lattice import Flow, Lattice, Water, blunt, lattice, load_tangent, solve_flow
from luffwright.air.lattice_mesh import FOOT, sheet_mesh
from luffwright.air.shade import shade_of
from luffwright.air.stream import Stream
from luffwright.arrays import FloatArray
from luffwright.sails.assembly_kernel import (
    assemble_cloth,
    assemble_contact,
    assemble_loads,
    assemble_ropes,
    linear_stretch,
)
from luffwright.sails.bending_kernel import assemble_bends
from luffwright.sails.flutter import flutter_of, fluttering
from luffwright.sails.membrane import MembraneState, membrane_forces, strain_ahead
from luffwright.sails.nesting import finer, finer_strips
from luffwright.sails.newton import Secants, solve_dense, to_and_fro
from luffwright.sails.plan import SailPlan
from luffwright.sails.rigging import CONTACT_STIFFNESS, GRAVITY, Mesh, Rigging, rig
from luffwright.sails.setting import Setting

AIR_DENSITY = 1.225
ROUGH = 2.0
"""Loosest balance within a step [N]."""
LOOSE = 0.3
"""How far the balance within a step is taken, as a share of what is out of balance before it."""
FORCE_TOLERANCE = 5e-4
"""Greatest unbalanced force on an unknown, as a share of the whole air force over the root of the
number of unknowns: shapes from two starts then agree within the promised 0.05° and 0.1 %."""
BEGUN = 0.1
"""The same where a flight that begins with blunt luffs goes on with its own."""
FIRST_MESH = Mesh(4, 4)
"""Sails that begin from nothing hang on this mesh first."""
FIRST_BEGUN = 0.05
"""The same where they go on with a finer mesh."""
ONWARD_STEPS = 25
"""A coarse mesh, or a neighbour, that leads to a balance does so in fewer steps."""
SOFT = 0.1
"""Share of the tolerance where strips give way: little force holds them, so that less of it already
moves them by the promised amounts. `SOFT_STEPS` more are made for it beyond the usual tolerance."""
SOFT_STEPS = 6
STRIDE = 0.1
"""Longest move of a point within one step [m]: a longer one folds the cloth."""
TOO_FAR = 0.1
"""A step cut to less than this share of itself leads nowhere."""
LOST = 2
"""As many such steps one after the other and the balance is given up, for one held back more."""
HELD_BACK = 2.5
"""Least damping of an unknown [N/m per share of a node], before it is raised fourfold for another
try."""
NEAR = 3000.0
"""Out of balance by less than this [N], battens that push are followed exactly. Without, the last
steps would each halve the error; far away, cloth taken for a strut would throw them off."""
NEAR_STEPS = 12
"""A neighbour that leads there does so in fewer steps."""
FLUTTER = (0.25, 0.12, 0.08, 0.05, 0.03)
"""Shares of the foot over which the wind can bend cloth that will not settle without: the first is
easily flown from the moulded sails, each next one from the last, and from the least to none."""
FLUTTER_STEPS = 20
"""A smaller share is reached in fewer steps, or it is not."""


@dataclass(frozen=True)
class Flight:
    """A state of the boat: unknowns, points, air, pulls of ropes, and how well it is settled.

    `residual` is the greatest unbalanced force [N], `scale` the force that it is judged by.
    """

    rigging: Rigging
    setting: Setting
    stream: Stream
    density: float
    unknowns: FloatArray
    places: FloatArray
    flow: Flow
    pulls: FloatArray
    presses: FloatArray
    cloth: MembraneState
    residual: float
    scale: float
    steps: int

    @property
    def flutters(self) -> bool:
        """Return whether only the mean surface of cloth that flutters has settled."""
        return bool(self.rigging.flutter)

    @property
    def settled(self) -> bool:
        """Return whether the forces balance within the tolerance [-]."""
        return bool(self.residual <= 1.0001 * FORCE_TOLERANCE * self.scale)

    def pull(self, name: str) -> float:
        """Return the pull of a stay or rope [N]."""
        ropes = self.rigging.ropes
        rope = ropes.index(name)
        return max(float(ropes.sense[rope] * self.pulls[rope]), 0.0)


@dataclass(frozen=True)
class Structure:
    """Forces of everything but the air on the unknowns [N], their stiffness, and what made them."""

    forces: FloatArray
    stiffness: FloatArray
    places: FloatArray
    pulls: FloatArray
    presses: FloatArray
    cloth: MembraneState
    stretch: FloatArray

    def guess(self) -> Guess:
        """Return the strains [-] and stretches [m] as they are."""
        return Guess(self.cloth.strain, self.stretch)


@dataclass(frozen=True)
class Guess:
    """Strains of the cloth and stretches of the ropes, taken as unknowns of their own."""

    strain: FloatArray
    stretch: FloatArray


def foot_closure(plan: SailPlan) -> tuple[float, float]:
    """Return how far the deck closes the foot of headsail and mainsail: 1 at no gap, 0 at one of
    `FOOT` of the luff, a blend of our own between the two limits that theory knows.

    Parameters
    ----------
    plan : SailPlan
        Heights and luffs. [m]

    Returns
    -------
    (float, float)
    """
    gaps = (
        (plan.headsail_gear.tack[2] - plan.deck_height) / plan.headsail.luff,
        (plan.mainsail_gear.tack[2] - plan.deck_height) / plan.mainsail.luff,
    )
    low, high = (float(np.clip(1.0 - gap / FOOT, 0.0, 1.0)) for gap in gaps)
    return low, high


@lru_cache(maxsize=32)
def sail_lattice(plan: SailPlan, mesh: Mesh) -> Lattice:
    """Return the lattice of both sails."""
    closure = foot_closure(plan)
    sheets = tuple(
        sheet_mesh(mesh.strips + 1, mesh.panels + 1, inset_foot=0.25 * (1.0 - close))
        for close in closure
    )
    noses = (0.5 * plan.headsail.luff_thickness, 0.5 * plan.mainsail.luff_thickness)
    return lattice(sheets, closure, noses, (shade_of(sheets, by=1, on=0),))


class FlightSolver:
    """Newton on one boat put together: keeps the sparse map and lattice, no state of a solve."""

    def __init__(self, rigging: Rigging, air: Lattice, stream: Stream, density: float) -> None:
        self.rigging, self.lattice, self.stream, self.density = rigging, air, stream, density
        self.matrix = rigging.points.matrix()
        weight = rigging.mass[:, None] * GRAVITY * -stream.up + rigging.lift
        self.weight = rigging.points.transposed @ weight.ravel()
        self.water = Water(stream.up)

    def structure(
        self, unknowns: FloatArray, guess: Guess | None = None, *, exact: bool = True
    ) -> Structure:
        """Return the forces of cloth, ropes, mast and contact on the unknowns [N] at places [m]."""
        rigging, points = self.rigging, self.rigging.points
        places = points.constant + (self.matrix @ unknowns).reshape(-1, 3)
        gradient = rigging.mast_stiffness @ unknowns
        stiffness = rigging.mast_stiffness.copy()
        cloth = membrane_forces(
            rigging.cloth, places, guess=None if guess is None else guess.strain
        )
        assemble_cloth(
            rigging.cloth.triangles, cloth.gradient, cloth.tangent,
            points.first, points.column, points.weight, gradient, stiffness,
        )  # fmt: skip
        ropes = rigging.ropes
        pulls, stretch = np.zeros(len(ropes.names)), np.zeros(len(ropes.names))
        assemble_ropes(
            places, ropes.begin, ropes.point, ropes.length, ropes.knot, ropes.spring, ropes.both,
            stretch if guess is None else guess.stretch, guess is not None, float(exact),
            points.first, points.column, points.weight, gradient, stiffness, pulls, stretch,
        )  # fmt: skip
        assemble_bends(
            places, rigging.bends.joint, rigging.bends.stiff,
            points.first, points.column, points.weight, gradient, stiffness,
        )  # fmt: skip
        presses = np.zeros(len(rigging.blockers))
        part = rigging.sails[0]
        assemble_contact(
            places, part.first, part.rows, part.columns, rigging.blockers, CONTACT_STIFFNESS,
            points.first, points.column, points.weight, gradient, stiffness, presses,
        )  # fmt: skip
        return Structure(gradient - self.weight, stiffness, places, pulls, presses, cloth, stretch)

    def air(self, places: FloatArray, first: FloatArray | None) -> tuple[Flow, FloatArray]:
        """Return the flow at the points' places [m] and its force on the unknowns [N]."""
        flow = self.flow(places[: self.rigging.sail_nodes], first)
        return flow, self.rigging.from_sails @ flow.node_force.ravel()

    def flow(self, nodes: FloatArray, first: FloatArray | None) -> Flow:
        """Return the flow around sails with their nodes there [m]."""
        return solve_flow(self.lattice, nodes, self.stream, self.water, self.density, first=first)

    def air_tangent(self, flow: Flow) -> FloatArray:
        """Return how the air loads on the unknowns change with the unknowns [N/m]."""
        return self.on_unknowns(load_tangent(self.lattice, flow))

    def on_unknowns(self, tangent: FloatArray) -> FloatArray:
        """Return a tangent of forces on the sails' nodes as one on the unknowns [N/m]."""
        points = self.rigging.points
        out = np.zeros((points.unknowns, points.unknowns))
        assemble_loads(tangent, points.first, points.column, points.weight, out)
        return -out

    def afresh(self, near: float = FORCE_TOLERANCE) -> Flight:
        """Return the flight reached from the moulded sails, to the share `near` of its scale [-].

        They stand full at first and would be stalled to the leech behind a thin luff, slack and
        hardly loaded, which no step leads out of: their luffs are blunt on the way.
        """
        thin = self.lattice
        self.lattice = blunt(thin)
        begun = self.solve(self.rigging.start, near=BEGUN)
        self.lattice = thin
        flight = self.solve(
            begun.unknowns, damping=0.0, first=begun.flow.strip.incidence, near=near
        )
        return replace(flight, steps=begun.steps + flight.steps)

    def onward(self, coarse: Flight) -> Flight:
        """Return the flight reached from one on a coarser mesh."""
        begun = finer(coarse.rigging, coarse.places, coarse.unknowns, self.rigging)
        strips = self.rigging.sails[0].rows - 1
        first = finer_strips(coarse.flow.strip.incidence, strips)
        return self.solve(begun, damping=0.0, first=first, limit=ONWARD_STEPS)

    def from_coarse(self, plan: SailPlan, setting: Setting, sheet_zero: float) -> Flight:
        """Return the flight of a setting that begins from nothing on few strips.

        `sheet_zero` is the sheet's length at its mark [m].
        """
        first = rig(plan, setting, FIRST_MESH, sheet_zero)
        air = sail_lattice(plan, FIRST_MESH)
        coarse = FlightSolver(first, air, self.stream, self.density)
        return self.onward(coarse.afresh(FIRST_BEGUN))

    def scale(self, flow: Flow) -> float:
        """Return the force by which the residual is judged [N]."""
        force = float(np.linalg.norm(flow.node_force, axis=1).sum())
        return max(force, 20.0) / np.sqrt(self.rigging.sail_nodes)

    def tolerance(self, flow: Flow, near: float = FORCE_TOLERANCE) -> float:
        """Return the residual [N] at which the search for the share `near` of the scale ends."""
        return near * self.scale(flow) * (SOFT if flow.strip.yields else 1.0)

    def ahead(self, now: Structure, step: FloatArray) -> Guess:
        """Return the strains [-] and stretches [m] that a step of the points [m] promises."""
        ropes = self.rigging.ropes
        stretch = np.zeros(len(ropes.names))
        linear_stretch(
            now.places, step, ropes.begin, ropes.point, ropes.length, ropes.knot, stretch
        )
        return Guess(strain_ahead(self.rigging.cloth, now.places, step), stretch)

    def settle(  # noqa: PLR0913
        self, start: FloatArray, body: Structure, load: FloatArray, tangent: FloatArray, mu: float,
        goal: float, limit: int = 15,
    ) -> tuple[FloatArray, Structure, int]:  # fmt: skip
        """Return the structure in balance with air loads [N] that follow the shape linearly.

        Newton on places, strains and stretches together: cloth and wire are so stiff that a
        sideways step of a centimetre would otherwise look like a load of tons. `mu` holds every
        unknown back towards `start`, where the structure is `body`.
        """
        hold = mu * self.rigging.points.inertia
        held = tangent.copy()
        held[np.diag_indices_from(held)] -= hold
        unknowns = start.copy()
        now, guess = body, body.guess()
        count, lost = 0, 0
        sizes: list[float] = []
        true: Structure | None = body
        while True:
            away = unknowns - start
            follow = load + tangent @ away - hold * away
            size = float(np.max(np.abs(now.forces - follow)))
            sizes.append(size)
            # The forces of strains taken as unknowns are the true ones once they agree.
            if count >= limit or size <= goal:
                true = true or self.structure(unknowns)
                if count >= limit or float(np.max(np.abs(true.forces - follow))) <= goal:
                    return unknowns, true, count
            count, true = count + 1, None
            step = solve_dense(now.stiffness - held, follow - now.forces)
            shift = (self.matrix @ step).reshape(-1, 3)
            share = min(1.0, STRIDE / max(float(np.max(np.abs(shift))), 1e-12))
            if to_and_fro(sizes):
                share *= 0.5
            lost = lost + 1 if share < TOO_FAR else 0
            if lost > LOST:
                return start, body, limit
            new = self.ahead(now, shift)
            guess = Guess(
                guess.strain + share * (new.strain - guess.strain),
                guess.stretch + share * (new.stretch - guess.stretch),
            )
            unknowns = unknowns + share * step
            now = self.structure(unknowns, guess, exact=size < NEAR)

    def solve(
        self, start: FloatArray, *, limit: int = 40, damping: float = 100.0,
        first: FloatArray | None = None, near: float = FORCE_TOLERANCE,
    ) -> Flight:  # fmt: skip
        """Return the flight reached from `start` [m], settled or the best of `limit` steps.

        It ends where the unbalanced force is the share `near` of its scale [-].
        """
        unknowns, mu = start.copy(), damping
        body = self.structure(unknowns, exact=False)
        flow, load = self.air(body.places, first)
        size = float(np.max(np.abs(body.forces - load)))
        best = (size, unknowns, body, flow)
        steps, inner = 0, 25
        seen = Secants()
        while steps < limit and size > self.tolerance(flow, near):
            if size <= near * self.scale(flow):
                limit = min(limit, steps + SOFT_STEPS)
            steps += 1
            fine = 0.3 * self.tolerance(flow, FORCE_TOLERANCE)
            goal = max(min(LOOSE * size, ROUGH), fine)
            tangent = seen.correct(self.air_tangent(flow))
            trial, body_new, count = self.settle(unknowns, body, load, tangent, mu, goal, inner)
            if count >= inner:
                mu = 4.0 * max(mu, HELD_BACK)
                if steps < limit - 1:
                    continue
            flow_new, load_new = self.air(body_new.places, flow.strip.incidence)
            new = float(np.max(np.abs(body_new.forces - load_new)))
            change = load_new - load
            missed = change - tangent @ (trial - unknowns)
            seen = seen.after(trial - unknowns, change)
            wrong = float(np.linalg.norm(missed)) / max(float(np.linalg.norm(change)), 1e-9)
            mu = min(mu * (0.2 if wrong < 0.3 else 0.6 if wrong < 0.6 else 2.5), 1e4)
            mu = 0.0 if mu < 1.0 else mu
            unknowns, body, flow, load, size = trial, body_new, flow_new, load_new, new
            if size < best[0]:
                best = (size, unknowns, body, flow)
        size, unknowns, body, flow = best
        return Flight(
            self.rigging, Setting(), self.stream, self.density, unknowns, body.places, flow,
            body.pulls, body.presses, body.cloth, size, self.scale(flow), steps,
        )  # fmt: skip


def fly(  # noqa: PLR0913
    plan: SailPlan,
    setting: Setting,
    stream: Stream,
    sheet_zero: float,
    *,
    mesh: Mesh | None = None,
    density: float = AIR_DENSITY,
    near: Flight | None = None,
    afresh: bool = True,
) -> Flight:
    """Return the boat's sails in balance with the wind, ropes where the setting has them.

    Parameters
    ----------
    plan : SailPlan
    setting : Setting
        Positions of all controls. [m]
    stream : Stream
        Wind and motion.
    sheet_zero : float
        Unstretched headsail sheet from winch to clew at its mark. [m]
    mesh : Mesh, optional
        Strips and panels a sail.
    density : float
        Of the air. [kg/m³]
    near : Flight, optional
        A neighbouring state of the same boat to start from, on this mesh or a coarser one.
    afresh : bool
        Whether to begin again from the moulded sails where the neighbour does not lead there.

    Returns
    -------
    Flight
        `settled` tells whether it balances; it is the best state found in any case.
    """
    size = mesh or Mesh()
    rigging = rig(plan, setting, size, sheet_zero)
    air = sail_lattice(plan, size)

    def solver(bends: tuple[float, ...] = ()) -> FlightSolver:
        return FlightSolver(fluttering(rigging, bends), air, stream, density)

    if near is not None:
        same = len(near.unknowns) == rigging.points.unknowns
        limit = ONWARD_STEPS if afresh else NEAR_STEPS
        flight = _from_near(solver, near, limit) if same else solver().onward(near)
        if flight.settled or not afresh:
            return replace(flight, setting=setting)
    if size.strips > FIRST_MESH.strips:
        flight = solver().from_coarse(plan, setting, sheet_zero)
        if flight.settled:
            return replace(flight, setting=setting)
    flight = solver().afresh()
    if not flight.settled:
        flight = _mean_surface(flight, solver)
    return replace(flight, setting=setting)


Solver = Callable[[tuple[float, ...]], FlightSolver]
"""Makes the solver of a boat whose cloth has the bending stiffnesses given [N m]."""


def _from_near(solver: Solver, near: Flight, limit: int) -> Flight:
    """Return the flight reached from a neighbour; from one that flutters, fluttering at first."""
    best = near
    for bends in dict.fromkeys((near.rigging.flutter, ())):
        flight = solver(bends).solve(
            best.unknowns, damping=0.0, first=best.flow.strip.incidence, limit=limit
        )
        best = flight if flight.settled or best is near else best
    return best


def _mean_surface(failed: Flight, solver: Solver) -> Flight:
    """Return the flight of the mean surface with the least bending stiffness that settles.

    Cloth that folds is led to its balance from the shape that it has when it cannot fold so
    sharply. Often it settles in the end without any stiffness; where it does not, it flutters.
    """
    rigging, best, steps = failed.rigging, failed, failed.steps
    for share in FLUTTER:
        bends = flutter_of(rigging, failed.stream, failed.density, share)
        trial = _after(solver(bends), best)
        steps += trial.steps
        if trial.settled:
            best = trial
        elif best.settled:
            break
    if not best.settled:
        return failed
    trial = _after(solver(()), best)
    best = trial if trial.settled else best
    return replace(best, steps=steps + trial.steps)


def _after(solver: FlightSolver, best: Flight) -> Flight:
    if not best.settled:
        return solver.afresh()
    return solver.solve(
        best.unknowns, damping=0.0, first=best.flow.strip.incidence, limit=FLUTTER_STEPS
    )
