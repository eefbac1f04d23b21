"""Wind on hull, mast and stays against a design book's worked figures."""

from __future__ import annotations

import math

import numpy as np
import pytest

from luffwright.water.windage import (
    HULL_AHEAD,
    MAST_ACROSS,
    WIRE_ACROSS,
    Exposed,
    windage,
)

DESIGN = "Larsson and Eliasson, Principles of Yacht Design"
WHERE = (
    "fig. 9.2: R = 1/2 rho V2 C A with C 0.5 for the hull on beam x freeboard, 1.0 for the mast, "
    "1.2 for stays; air of 1.29 kg/m3; the book's 12 m boat: mast 0.139 m thick, stays of 8 mm "
    "and 10 mm, 76.7 m and 23.9 m long, freeboard 1.39 m, wind 15 + 3.6 m/s"
)
WIND, AIR = 18.6, 1.29


def ahead(piece: Exposed) -> float:
    """Return the drag of one piece in a wind from right ahead."""
    found = windage([piece], np.array([[-WIND, 0.0, 0.0]]), 0.0, AIR)
    return -found[0].force[0]


@pytest.mark.source(work=DESIGN, where=WHERE, tolerance="rel 0.1 %: worked out by hand, 228 N")
def test_the_drag_of_the_books_stays() -> None:
    drag = sum(
        ahead(Exposed(WIRE_ACROSS * thick * long, 0.0, (0.0, 0.0, 8.0), (0.0, 0.0, 1.0)))
        for thick, long in ((0.008, 76.7), (0.010, 23.9))
    )
    assert drag == pytest.approx(228.3, rel=1e-3)


@pytest.mark.source(
    work=DESIGN,
    where=f"{WHERE}; beam 3.7 m and mast of 16.6 m are ours",
    tolerance="rel 0.1 %: worked out by hand, 574 N and 515 N",
)
def test_the_drag_of_a_hull_and_a_mast() -> None:
    hull = Exposed(HULL_AHEAD * 3.7 * 1.39, 0.0, (0.0, 0.0, 0.7))
    mast = Exposed(MAST_ACROSS * 0.139 * 16.6, 0.0, (0.0, 0.0, 9.0), (0.0, 0.0, 1.0))
    assert ahead(hull) == pytest.approx(573.8, rel=1e-3)
    assert ahead(mast) == pytest.approx(514.9, rel=1e-3)


@pytest.mark.source(
    work="Hoerner, Fluid-Dynamic Drag, 1965, cross-flow principle (from memory)",
    where="a cylinder at an angle to the stream: force square to it, with sin2 of the angle",
    tolerance="rel 0.1 %",
)
@pytest.mark.parametrize("slant_deg", [90.0, 60.0, 30.0])
def test_a_slanting_wire_feels_the_wind_across_it(slant_deg: float) -> None:
    slant = math.radians(slant_deg)
    axis = (math.cos(slant), 0.0, math.sin(slant))
    found = windage([Exposed(0.1, 0.1, (0.0, 0.0, 5.0), axis)], np.array([[-WIND, 0.0, 0.0]]), 0.0)
    square = 0.5 * 1.225 * WIND**2 * 0.1 * math.sin(slant) ** 2
    assert -found[0].force[0] == pytest.approx(square * math.sin(slant), rel=1e-3)
