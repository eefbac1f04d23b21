"""Waves of Wigley's hull, alone and beside a second: Michell's integral worked out apart."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from luffwright.water.thin_ship import slender_form, wave_coefficients, wave_resistance, wigley_form
from luffwright.water.thin_ship_table import thin_ship_table

DATA = Path(__file__).parent / "data"
MICHELL = "Michell, The wave-resistance of a ship, Philosophical Magazine 45, 1898"
HULL = wigley_form(1.0, 0.1, 0.0625)
AREA = 0.14879
SINGLE = np.loadtxt(DATA / "wigley_thin_ship.csv", delimiter=",", skiprows=7).tolist()
PAIR = np.loadtxt(DATA / "wigley_catamaran.csv", delimiter=",", skiprows=6).tolist()
TABLE = thin_ship_table(HULL, 0.0)


@pytest.mark.source(
    work=MICHELL,
    where="the integral for Wigley's hull, worked out in plain NumPy without sight of this "
    "program; 19 Froude numbers",
    tolerance="abs 0.001 in 1000 Cw: last printed digit",
)
@pytest.mark.parametrize(("froude", "printed"), SINGLE)
def test_wave_resistance_of_wigleys_hull(froude: float, printed: float) -> None:
    one, _ = wave_coefficients(HULL, 0.0, froude)
    assert 1000.0 * one / AREA == pytest.approx(printed, abs=1e-3)


@pytest.mark.source(
    work=MICHELL,
    where="the same values, read from the curve over speed",
    tolerance="abs 0.002 in 1000 Cw: last printed digit and the curve",
)
@pytest.mark.parametrize(("froude", "printed"), SINGLE)
def test_the_curve_of_wigleys_hull(froude: float, printed: float) -> None:
    speed = froude * np.sqrt(9.81)
    found = TABLE.drag(speed, 1000.0).resistance / (500.0 * speed**2 * AREA)
    assert 1000.0 * found == pytest.approx(printed, abs=2e-3)


@pytest.mark.source(
    work=MICHELL,
    where="two of Wigley's hulls with the factor 4 cos² of the phase between them, worked out in "
    "plain NumPy without sight of this program; 36 values",
    tolerance="abs 0.01: two printed digits",
)
@pytest.mark.parametrize("row", PAIR)
def test_interference_of_two_of_wigleys_hulls(row: list[float]) -> None:
    for spacing, printed in zip((0.2, 0.3, 0.4, 0.5), row[1:], strict=True):
        found = wave_resistance(HULL, spacing, row[0] * np.sqrt(9.81)).interference
        assert found == pytest.approx(printed, abs=0.01)


@pytest.mark.source(
    work=MICHELL,
    where="interference of Wigley's hulls, sense: worst at Froude numbers 0.4 to 0.5 (+16 to "
    "+67 %), gone above 0.7",
    tolerance="peak of each spacing within 0.38 to 0.52; ratio 0.9 to 1.06 above 0.7",
)
@pytest.mark.parametrize("spacing", [0.2, 0.3, 0.4, 0.5])
def test_interference_is_worst_about_hull_speed_and_gone_when_fast(spacing: float) -> None:
    froude = np.linspace(0.38, 1.0, 63)
    ratio = np.array([wave_coefficients(HULL, spacing, float(at))[1] for at in froude])
    assert 0.38 <= froude[ratio.argmax()] <= 0.52
    assert 1.15 < ratio.max() < 1.75
    assert np.all((ratio[froude > 0.7] > 0.9) & (ratio[froude > 0.7] < 1.06))


@pytest.mark.source(
    work="Wigley, A comparison of experiment and calculated wave-profiles and wave-resistances for "
    "a form having parabolic waterlines, Proc. Royal Society A 144, 1934 (from memory)",
    where="the parabolic hull L/B 10, L/T 16: wetted area 0.14879 L², volume 4/9 of the box",
    tolerance="rel 0.01 %: five printed digits; volume exact",
)
def test_area_and_volume_of_wigleys_hull() -> None:
    assert HULL.wetted == pytest.approx(AREA, rel=1e-4)
    assert HULL.volume == pytest.approx(4.0 / 9.0 * 0.1 * 0.0625, rel=1e-9)


@pytest.mark.source(
    work="Molland, Wellicome and Couser, Resistance experiments on a systematic series of high "
    "speed displacement catamaran forms, Ship Science Report 71, Southampton, 1994 (from memory)",
    where="demihulls of CB 0.397, CP 0.693: length over beam, beam over draught, length over cube "
    "root of volume of models 3b, 4a, 5b and 6c",
    tolerance="rel 1.5 %: two digits from memory",
)
@pytest.mark.parametrize(
    ("slender", "length_beam", "beam_draught"),
    [(6.3, 7.0, 2.0), (7.4, 10.4, 1.5), (8.5, 11.0, 2.0), (9.5, 11.7, 2.5)],
)
def test_slenderness_of_the_round_bilge_series(
    slender: float, length_beam: float, beam_draught: float
) -> None:
    beam = 1.0 / length_beam
    form = slender_form(1.0, beam, beam / beam_draught, 0.397, 0.693)
    assert form.volume ** (-1.0 / 3.0) == pytest.approx(slender, rel=0.015)
