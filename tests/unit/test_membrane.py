"""Cloth pulls where it is stretched, in the direction of its threads, and never pushes."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.arrays import FloatArray
from luffwright.sails.cut import triangles
from luffwright.sails.membrane import (
    Membrane,
    MembraneState,
    membrane,
    membrane_forces,
    orthotropic,
)

SQUARE = np.array([[0.0, 0, 0], [1, 0, 0], [0, 1, 0], [1, 1, 0]])
FACES = triangles(2, 2)
LAW = orthotropic(3e5, 4e5, 6e4, 0.2)


def square(law: FloatArray = LAW, warp: tuple[float, float, float] = (1.0, 0.0, 0.0)) -> Membrane:
    """Return a square metre of cloth."""
    return membrane(SQUARE, FACES, np.tile(warp, (2, 1)), np.tile(law, (2, 1, 1)))


def pulled(cloth: Membrane, along: float, across: float, slope: float = 0.0) -> MembraneState:
    """Return the state when the square's sides are stretched and its top pushed sideways."""
    turn = np.array([[1.0 + along, slope, 0.0], [0.0, 1.0 + across, 0.0], [0.0, 0.0, 1.0]])
    return membrane_forces(cloth, SQUARE @ turn.T)


def test_cloth_at_rest_holds_no_energy_and_no_force() -> None:
    state = membrane_forces(square(), SQUARE)
    assert state.energy == pytest.approx(0.0, abs=1e-20)
    assert np.allclose(state.gradient, 0.0)


def test_cloth_held_sideways_pulls_with_modulus_times_strain() -> None:
    # 1 mm on 1 m across both: biaxial pull of C · (0.001, 0.001, 0).
    state = pulled(square(), 1e-3, 1e-3)
    assert list(state.condition) == [0, 0]
    assert state.stress[0] == pytest.approx(LAW @ [1.0005e-3, 1.0005e-3, 0.0], rel=1e-3)


def test_cloth_free_to_contract_pulls_with_its_own_modulus() -> None:
    # Warp 300 kN/m stretched by 0.1 %, the fill free to contract by Poisson's part: 300 N/m.
    state = pulled(square(), 1e-3, -0.2 * 4.0 / 3.0 * 1e-3)
    assert state.stress[0, 0] == pytest.approx(300.0, rel=3e-3)
    assert abs(state.stress[0, 1]) < 1.0


def test_cloth_pushed_together_one_way_wrinkles_and_still_pulls_the_other() -> None:
    state = pulled(square(), 1e-3, -0.05)
    assert list(state.condition) == [1, 1]
    assert state.stress[0, 0] == pytest.approx(300.0, rel=1e-2)


def test_cloth_pushed_together_both_ways_hangs_slack() -> None:
    state = pulled(square(), -0.01, -0.02)
    assert list(state.condition) == [2, 2]
    # What is kept for the solver's sake is a ten-thousandth.
    assert np.max(np.abs(state.stress)) < 2e-4 * np.max(np.abs(LAW @ [0.01, 0.02, 0.0]))


def test_sheared_cloth_carries_a_tension_field_on_the_diagonal() -> None:
    # Isotropic sheet of modulus 2e5: half the shear strain along the diagonal, none across.
    law = orthotropic(2e5, 2e5, 1e5, 0.0)
    state = pulled(square(law), 0.0, 0.0, slope=2e-3)
    assert list(state.condition) == [1, 1]
    # Uniaxial 2e5 · 1e-3 = 200 N/m at 45°: a half of it in each component.
    assert state.stress[0] == pytest.approx([100.0, 100.0, 100.0], rel=5e-3)


def test_turning_the_warp_turns_the_stiffness() -> None:
    along, turned = square(), square(warp=(0.0, 1.0, 0.0))
    ahead = pulled(along, 1e-3, 0.0)
    across = pulled(turned, 0.0, 1e-3)
    assert across.energy == pytest.approx(ahead.energy, rel=1e-9)
    assert pulled(turned, 1e-3, 0.0).energy > 1.2 * ahead.energy


def test_the_warp_lies_in_the_cloth_however_it_is_given() -> None:
    # A direction that stands off the cloth counts by its part in it.
    tilted = square(warp=(1.0, 0.0, 5.0))
    assert tilted.shape == pytest.approx(square().shape)


def test_a_moulded_surface_is_at_rest_in_its_own_shape() -> None:
    bent = SQUARE.copy()
    bent[3, 2] = 0.2
    cloth = membrane(bent, FACES, np.tile([1.0, 0, 0], (2, 1)), np.tile(LAW, (2, 1, 1)))
    assert membrane_forces(cloth, bent).energy == pytest.approx(0.0, abs=1e-20)
    # Two triangles of which one stands up: 1/2 + 1/2 √(1 + 2 · 0.2²).
    assert cloth.area.sum() == pytest.approx(0.5 + 0.5 * np.sqrt(1.0 + 2.0 * 0.04))
