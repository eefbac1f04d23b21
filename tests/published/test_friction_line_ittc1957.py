"""The towing tanks' friction line against its values."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.water.fluid import Water
from luffwright.water.friction import foil_form_factor, friction, friction_line

LINE = "International Towing Tank Conference, 8th ITTC, Madrid, 1957: correlation line"


@pytest.mark.source(
    work=LINE,
    where="Reynolds numbers 1e5 to 2e7, worked out by hand",
    tolerance="all digits: six decimals",
)
def test_friction_line() -> None:
    reynolds = np.array([1e5, 5e5, 1e6, 2e6, 5e6, 1e7, 2e7])
    by_hand = [0.008333, 0.005482, 0.004688, 0.004054, 0.003397, 0.003000, 0.002669]
    assert friction_line(reynolds) == pytest.approx(by_hand, abs=5.1e-7)


@pytest.mark.source(
    work="Schlichting, Boundary-Layer Theory: Prandtl's and Schlichting's turbulent plate, "
    "0.455 / (log Re)^2.58 (from memory)",
    where="Reynolds numbers 1e6 to 2e7",
    tolerance="rel 5 %: the towing tanks' line is steeper, for the sake of small models",
)
def test_friction_line_lies_by_a_flat_plates() -> None:
    reynolds = np.array([1e6, 2e6, 5e6, 1e7, 2e7])
    assert friction_line(reynolds) == pytest.approx(0.455 / np.log10(reynolds) ** 2.58, rel=0.05)


@pytest.mark.source(
    work="Hoerner, Fluid-Dynamic Drag, 1965, chapter 6 (from memory)",
    where="form factor of foils of 10 and 20 % thickness, by arithmetic: 1.206 and 1.496",
    tolerance="exact",
)
def test_form_factor_of_foils() -> None:
    assert foil_form_factor(0.10) == pytest.approx(1.206)
    assert foil_form_factor(0.20) == pytest.approx(1.496)


@pytest.mark.source(
    work=LINE,
    where="at Reynolds number 1e7 coefficient 0.003000: 10 m2 at 2 m/s in water of 1000 kg/m3",
    tolerance="exact: 60 N",
)
def test_friction_of_a_plate() -> None:
    plate = friction(np.array([2.0]), 10.0, 5.0, Water(1000.0, 1e-6))
    assert plate == pytest.approx([60.0])
