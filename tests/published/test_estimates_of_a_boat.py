"""What stands in for measurements, held against printed figures."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import numpy as np
import pytest

from luffwright.aboard.usual_deck import SHEET_LOAD
from luffwright.aboard.usual_hull import PARENT_BLOCK
from luffwright.app.plausible import skene_moment
from luffwright.app.strength import LOAD_FORMULA
from luffwright.water.righting_estimate import (
    estimated_lever,
    metacentric_height,
    waterplane_inertia,
)

HULLS = Path(__file__).parent / "data" / "delft_hulls_gerritsma1981.csv"
FOOT, POUND = 0.3048, 0.45359237


def parent(length: float) -> tuple[float, float, float, float]:
    """Return length, beam, draught and volume of the Delft parent hull at a scale."""
    beam = length / 3.17
    return length, beam, beam / 3.99, (length / 4.78) ** 3


@pytest.mark.source(
    work="Gerritsma, Onnink and Versluis, Geometry, resistance and stability of the Delft "
    "Systematic Yacht Hull Series, 1981",
    where="table of the 22 hulls: length over beam, beam over draught, length over cube root of "
    "volume",
    tolerance="rel 3 % of their middle; each hull within 20 %",
)
def test_the_fullness_of_estimated_bodies_is_that_of_the_series() -> None:
    with HULLS.open(encoding="utf-8") as lines:
        rows = list(csv.reader(it for it in lines if not it.startswith("#")))[1:]
    forms = {tuple(map(float, row[:6])) for row in rows}
    assert len(forms) == 22
    blocks = [wide**2 * deep / slender**3 for _, _, _, slender, deep, wide in sorted(forms)]
    assert float(np.median(blocks)) == pytest.approx(PARENT_BLOCK, rel=0.03)
    assert blocks == pytest.approx([PARENT_BLOCK] * len(blocks), rel=0.20)


@pytest.mark.source(
    work="Skene's graph of righting moments, as a rigging textbook cites it",
    where="50 kN m at a waterline of 32 ft and 108 kN m at 40 ft, at 30 degrees of heel",
    tolerance="rel 25 %: boats of one length differ by more",
)
@pytest.mark.parametrize(("feet", "moment"), [(32.0, 50.0), (40.0, 108.0)])
def test_an_estimated_righting_moment_is_that_of_boats_of_her_length(
    feet: float, moment: float
) -> None:
    length, beam, draught, volume = parent(feet * FOOT)
    stiff = metacentric_height(length, beam, draught, volume, 0.1)
    lever = estimated_lever(math.radians(30.0), stiff, length, beam / draught)
    weight = 1.05 * 1026.0 * volume * 9.81 / 1000.0
    assert weight * lever == pytest.approx(moment, rel=0.25)
    assert skene_moment(length) == pytest.approx(moment, rel=1e-6)


@pytest.mark.source(
    work="Genoa sheet load, a deck-hardware maker's loading page",
    where="its example: 200 square feet in 20 knots, 344.8 lb",
    tolerance="rel 0.2 %: four printed digits",
)
def test_the_sheets_load_is_that_of_the_formulas_example() -> None:
    area, wind_kn = 200.0 * FOOT**2, 20.0
    pounds = SHEET_LOAD * area * wind_kn**2 / (POUND * 9.81)
    assert pounds == pytest.approx(344.8, rel=2e-3)
    assert pytest.approx(SHEET_LOAD / 1000.0) == LOAD_FORMULA


@pytest.mark.source(
    work="Second moment of a rectangle and of a parabola's segment (any textbook of statics)",
    where="closed forms; the integral over the waterplane by 20 000 strips",
    tolerance="rel 0.01 %",
)
@pytest.mark.parametrize("fullness", [0.55, 0.69, 0.9])
def test_the_waterplanes_inertia_is_the_integral_over_its_strips(fullness: float) -> None:
    power = fullness / (1.0 - fullness)
    x = (np.arange(20_000) + 0.5) / 10_000 - 1.0
    halves = 0.5 * 3.0 * (1.0 - np.abs(x) ** power)
    strips = float(np.mean(2.0 / 3.0 * halves**3)) * 10.0
    assert waterplane_inertia(10.0, 3.0, fullness) == pytest.approx(strips, rel=1e-4)
    assert waterplane_inertia(10.0, 3.0, 0.99999) == pytest.approx(22.5, rel=1e-3)


@pytest.mark.source(
    work="Metacentre of a floating body (any textbook of naval architecture)",
    where="weight higher: GM less by as much; at small heels the lever is GM times heel",
    tolerance="exact",
)
def test_the_metacentre_follows_beam_and_weight() -> None:
    length, beam, draught, volume = parent(9.0)
    stiff = metacentric_height(length, beam, draught, volume, 0.0)
    assert metacentric_height(length, beam, draught, volume, 0.3) == pytest.approx(stiff - 0.3)
    # Small heels: the lever is GM times the heel.
    lever = estimated_lever(1e-4, stiff, length, beam / draught)
    assert lever == pytest.approx(stiff * 1e-4, rel=1e-2)
    # It is continuous where the form's formula ends, and has nothing left at 120 degrees.
    either = [
        estimated_lever(math.radians(30.0 + it), stiff, length, beam / draught)
        for it in (-1e-6, 1e-6)
    ]  # fmt: skip
    assert either[0] == pytest.approx(either[1], rel=1e-5)
    assert estimated_lever(math.radians(120.0), stiff, length, 4.0) == pytest.approx(0.0, abs=1e-12)
