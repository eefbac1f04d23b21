"""What holds for any cloth in any state: no push, no energy from turning, forces of an energy."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from luffwright.arrays import FloatArray
from luffwright.sails.membrane import (
    RESIDUAL,
    Membrane,
    MembraneState,
    membrane,
    membrane_forces,
    orthotropic,
    strain_ahead,
)

REST = np.array([[0.0, 0.0, 0.0], [0.3, 0.0, 0.0], [0.1, 0.25, 0.0]])
ONE = np.array([[0, 1, 2]])

part = st.floats(-0.01, 0.01)
strains = st.tuples(part, part, part).map(np.array)
shares = st.floats(0.02, 1.0)
laws = st.builds(
    lambda warp, fill, shear, poisson: orthotropic(warp, fill * warp, shear * warp, poisson),
    st.floats(1e4, 1e6),
    shares,
    shares,
    st.floats(0.0, 0.9),
)
angles = st.floats(-np.pi, np.pi)
turns = st.tuples(angles, angles, angles).map(lambda t: Rotation.from_euler("xyz", t))


def triangle(law: FloatArray, turned: float = 0.4) -> Membrane:
    """Return one triangle with its warp turned by an angle."""
    fibre = np.array([[np.cos(turned), np.sin(turned), 0.0]])
    return membrane(REST, ONE, fibre, law[None])


def strained(strain: FloatArray, bent: float = 0.0) -> FloatArray:
    """Return the corners at a strain in the rest's axes, the third one lifted (and so strained)."""
    full = np.array([[strain[0], 0.5 * strain[2]], [0.5 * strain[2], strain[1]]])
    size, axes = np.linalg.eigh(np.eye(2) + 2.0 * full)
    stretch = axes @ np.diag(np.sqrt(size)) @ axes.T
    nodes = REST.copy()
    nodes[:, :2] = REST[:, :2] @ stretch
    nodes[2, 2] += bent
    return nodes


def at_strain(law: FloatArray, strain: FloatArray) -> MembraneState:
    """Return the state whose law is taken at a strain in fibre axes."""
    return membrane_forces(triangle(law, 0.0), REST, guess=strain[None])


def whole_energy(law: FloatArray, strain: FloatArray) -> float:
    """Return the energy per area of cloth that could push as well."""
    return float(0.5 * strain @ law @ strain)


def uniaxial_energy(law: FloatArray, strain: FloatArray) -> float:
    """Return the greatest energy per area of a pull along any one line, by trying them all."""
    low, high = 0.0, np.pi
    best = 0.0
    for _ in range(3):
        angle = np.linspace(low, high, 2001)
        along = np.stack([np.cos(angle) ** 2, np.sin(angle) ** 2, np.cos(angle) * np.sin(angle)])
        pulled = np.maximum(strain @ along, 0.0)
        energy = 0.5 * pulled**2 / np.sum(along * (np.linalg.inv(law) @ along), axis=0)
        at, step = angle[energy.argmax()], angle[1] - angle[0]
        low, high, best = at - 2.0 * step, at + 2.0 * step, float(energy.max())
    return best


@given(laws, strains)
def test_cloth_never_holds_more_energy_than_if_it_could_push(
    law: FloatArray, strain: FloatArray
) -> None:
    found = at_strain(law, strain).energy / triangle(law).area[0]
    limit = whole_energy(law, strain)
    assert -1e-12 <= found <= limit * (1.0 + RESIDUAL) + 1e-12


@given(laws, strains)
def test_wrinkled_cloth_pulls_along_the_line_of_greatest_energy(
    law: FloatArray, strain: FloatArray
) -> None:
    state = at_strain(law, strain)
    assume(state.condition[0] > 0)
    found = state.energy / triangle(law).area[0]
    kept = RESIDUAL * whole_energy(law, strain)
    # The search looks at two thousand lines, then closer about the best of them.
    assert found - kept == pytest.approx(uniaxial_energy(law, strain), rel=1e-6, abs=1e-12)


@given(laws, strains)
def test_cloth_does_not_push(law: FloatArray, strain: FloatArray) -> None:
    stress = at_strain(law, strain).stress[0]
    least = np.linalg.eigvalsh([[stress[0], stress[2]], [stress[2], stress[1]]])[0]
    assert least >= -2.0 * RESIDUAL * np.linalg.norm(law @ strain) - 1e-9


@given(laws, strains)
def test_the_law_never_softens_below_zero(law: FloatArray, strain: FloatArray) -> None:
    # At rest places the tangent is the law's own and what the stress adds by turning.
    cloth, state = triangle(law, 0.0), at_strain(law, strain)
    shape, stress = cloth.shape[0], state.stress[0]
    turning = shape @ np.array([[stress[0], stress[2]], [stress[2], stress[1]]]) @ shape.T
    own = state.tangent[0] - cloth.area[0] * np.kron(turning, np.eye(3))
    values = np.linalg.eigvalsh(0.5 * (own + own.T))
    assert values[0] >= -1e-9 * values[-1]
    assert np.allclose(own, own.T, rtol=0.0, atol=1e-9 * values[-1])


@given(laws, strains, st.floats(0.0, 0.05), turns, st.floats(-5.0, 5.0))
def test_turning_and_shifting_the_cloth_changes_nothing_but_directions(
    law: FloatArray, strain: FloatArray, bent: float, turn: Rotation, shift: float
) -> None:
    cloth, nodes = triangle(law), strained(strain, bent)
    here, there = (membrane_forces(cloth, places) for places in (nodes, turn.apply(nodes) + shift))
    size = float(np.max(np.abs(law))) * cloth.area[0]
    assert there.energy == pytest.approx(here.energy, rel=1e-6, abs=1e-11 * size)
    turned = turn.apply(here.gradient[0])
    assert np.allclose(there.gradient[0], turned, rtol=1e-6, atol=1e-7 * size)


@given(laws, strains, st.floats(0.0, 0.05))
def test_the_forces_on_a_piece_of_cloth_balance(
    law: FloatArray, strain: FloatArray, bent: float
) -> None:
    nodes = strained(strain, bent)
    force = membrane_forces(triangle(law), nodes).gradient[0]
    size = np.max(np.abs(force)) + 1e-9
    assert np.allclose(force.sum(axis=0), 0.0, atol=1e-9 * size)
    assert np.allclose(np.cross(nodes, force).sum(axis=0), 0.0, atol=1e-9 * size)


@given(laws, strains, st.floats(0.0, 0.05), st.integers(0, 8))
def test_the_forces_are_the_slope_of_the_energy(
    law: FloatArray, strain: FloatArray, bent: float, which: int
) -> None:
    cloth, nodes = triangle(law), strained(strain, bent)
    step = np.zeros(9)
    step[which] = 1e-6
    move = step.reshape(3, 3)
    ahead, back = (membrane_forces(cloth, nodes + sign * move).energy for sign in (1.0, -1.0))
    found = membrane_forces(cloth, nodes).gradient[0].ravel()[which]
    # The slope jumps nowhere; its own slope does where cloth starts to wrinkle.
    stiff = float(np.max(law))
    assert found == pytest.approx((ahead - back) / 2e-6, rel=1e-4, abs=4e-6 * stiff)


@given(laws, strains, st.floats(0.0, 0.05), st.integers(0, 8))
def test_the_stiffness_is_the_slope_of_the_forces(
    law: FloatArray, strain: FloatArray, bent: float, which: int
) -> None:
    cloth, nodes = triangle(law), strained(strain, bent)
    step = np.zeros(9)
    step[which] = 1e-7
    states = [membrane_forces(cloth, nodes + s * step.reshape(3, 3)) for s in (1.0, 0.0, -1.0)]
    # At rest, and where wrinkles start, the forces have a kink.
    assume(np.max(np.abs(strain)) > 1e-4)
    assume(states[0].condition[0] == states[1].condition[0] == states[2].condition[0])
    slope = (states[0].gradient - states[2].gradient)[0].ravel() / 2e-7
    column = states[1].tangent[0][:, which]
    assert np.allclose(column, slope, rtol=1e-3, atol=2e-4 * float(np.max(law)))


@given(laws, strains, st.floats(0.5, 4.0))
def test_twice_the_strain_holds_four_times_the_energy(
    law: FloatArray, strain: FloatArray, times: float
) -> None:
    one, other = at_strain(law, strain), at_strain(law, times * strain)
    floor = 1e-12 * float(np.max(law))
    assert other.energy == pytest.approx(times**2 * one.energy, rel=1e-6, abs=floor)


@given(laws, strains, st.floats(0.0, 0.05), st.floats(-1e-4, 1e-4))
def test_a_small_step_strains_as_it_promises(
    law: FloatArray, strain: FloatArray, bent: float, size: float
) -> None:
    cloth, nodes = triangle(law), strained(strain, bent)
    step = size * np.array([[0.3, -1.0, 0.5], [1.0, 0.2, -0.4], [-0.6, 0.8, 1.0]])
    promised = strain_ahead(cloth, nodes, step)
    found = membrane_forces(cloth, nodes + step).strain
    # Green's strain is quadratic: what is left is the step's own square.
    own = float(np.max(np.abs(np.einsum("ai,aj->ij", step, cloth.shape[0])))) ** 2
    assert np.allclose(found, promised, rtol=0.0, atol=2.0 * own + 1e-15)
