"""Units of the deck against the definitions in SciPy's table of constants, a general library."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from luffwright import units

Convert = Callable[[float], float]
PAIRS: list[tuple[Convert, Convert, float]] = [
    (units.from_knots, units.to_knots, constants.knot),
    (units.from_degrees, units.to_degrees, constants.degree),
    (units.from_kilonewtons, units.to_kilonewtons, constants.kilo),
    (units.from_bar, units.to_bar, constants.bar),
]


@pytest.mark.parametrize(("into", "back", "size"), PAIRS)
def test_a_unit_has_the_size_it_is_defined_with(into: Convert, back: Convert, size: float) -> None:
    assert into(1.0) == pytest.approx(size, rel=1e-15)
    assert back(size) == pytest.approx(1.0, rel=1e-15)


@given(st.floats(-1e6, 1e6))
def test_there_and_back_gives_the_same_value(value: float) -> None:
    for into, back, _ in PAIRS:
        assert back(into(value)) == pytest.approx(value, rel=1e-14, abs=1e-300)
