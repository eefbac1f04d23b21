"""Two plates one behind the other in two dimensions, against their closed form."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from luffwright.air.lattice import FREE_AIR, lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.arrays import FloatArray

SMALL = 1e-3
HALF_SPAN = 5e3


def tandem(gap: float, panels: int, rear_chord: float = 1.0) -> FloatArray:
    """Return the circulations of front and rear over that of a plate of chord one alone."""

    def plate(ahead: float, chord: float) -> list[list[float]]:
        aft = ahead + chord * np.linspace(0.0, 1.0, panels + 1)
        return [[-x, 0.0, end] for end in (-HALF_SPAN, HALF_SPAN) for x in aft]

    nodes = np.array(plate(0.0, 1.0) + plate(1.0 + gap, rear_chord))
    sheet = sheet_mesh(2, panels + 1, inset_foot=0.0, inset_head=0.0)
    flow = solve_flow(
        lattice((sheet, sheet), (0.0, 0.0)), nodes,
        lambda at: np.tile([-1.0, SMALL, 0.0], (len(at), 1)), FREE_AIR, 1.0,
        stalling=False, core=(1e-6, 1e-6),
    )  # fmt: skip
    return flow.circulation[panels - 1 :: panels] / (np.pi * SMALL)


def exact_front(gap: float, rear_chord: float = 1.0) -> float:
    r"""Return the front plate's share, :math:`2 \int \sqrt{(b_1-x)(b_2-x)/((x-a_1)(a_2-x))}\,dx`.

    Divided by pi, with the square root at both ends taken out by x = sin² of the variable.
    """
    ahead, end = 1.0 + gap, 1.0 + gap + rear_chord

    def slope(angle: float) -> float:
        x = np.sin(angle) ** 2
        return float(2.0 * np.cos(angle) ** 2 * np.sqrt((end - x) / (ahead - x)))

    return 2.0 / np.pi * quad(slope, 0.0, 0.5 * np.pi)[0]


@pytest.mark.source(
    work="Katz and Plotkin, Low-Speed Aerodynamics, 2nd edition, 2001",
    where="chapter 5: two plates with one vortex each, half a chord apart: 4/3 and 2/3 of the "
    "plate alone (from memory, and by algebra)",
    tolerance="rel 0.05 %: the plates are 10 000 chords long",
)
def test_two_plates_with_one_vortex_each() -> None:
    assert tandem(0.5, 1) == pytest.approx([4 / 3, 2 / 3], rel=5e-4)


@pytest.mark.source(
    work="Thin-section theory of two plates in line (closed form)",
    where="the circulations add up to pi U alpha (c1 + c2) whatever the gap: what the front gains, "
    "the rear loses",
    tolerance="rel 0.05 %: the plates are 10 000 chords long",
)
@pytest.mark.parametrize("rear_chord", [0.6, 1.0, 1.7])
@pytest.mark.parametrize("gap", [0.05, 0.5, 5.0])
def test_what_the_front_gains_the_rear_loses(gap: float, rear_chord: float) -> None:
    assert tandem(gap, 12, rear_chord).sum() == pytest.approx(1.0 + rear_chord, rel=5e-4)


@pytest.mark.source(
    work="Thin-section theory of two plates in line (closed form)",
    where="gamma = 2 U alpha sqrt((b1-x)(b2-x)/((x-a1)(a2-x))), integrated with SciPy; "
    "1.5722 at a gap of 0.05 to 1.0836 at 5",
    tolerance="abs 0.003: 16 panels",
)
@pytest.mark.parametrize("gap", [0.05, 0.1, 0.25, 0.5, 1.0, 2.0, 5.0])
def test_the_split_between_front_and_rear(gap: float) -> None:
    front = exact_front(gap)
    assert tandem(gap, 16) == pytest.approx([front, 2.0 - front], abs=0.003)


@pytest.mark.source(
    work="Thin-section theory of two plates in line (closed form)",
    where="the same with a rear plate of 1.7 chords",
    tolerance="abs 0.003: 16 panels",
)
@pytest.mark.parametrize("gap", [0.1, 0.5])
def test_the_split_with_a_longer_rear_plate(gap: float) -> None:
    front = exact_front(gap, 1.7)
    assert tandem(gap, 16, 1.7) == pytest.approx([front, 2.7 - front], abs=0.003)
