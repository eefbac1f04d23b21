"""Length, speed of meeting and energy of waves against closed forms and printed tables."""

from __future__ import annotations

import math

import numpy as np
import pytest

from luffwright.water.sea import Sea, encounter_frequency, spectrum, wave_number

AIRY = "Airy, Tides and waves, Encyclopaedia Metropolitana, 1845: linear waves, closed form"


@pytest.mark.source(
    work="Shore Protection Manual, Coastal Engineering Research Center, 1984, table C-1 (from "
    "memory)",
    where="depth over deep-water length 0.01, 0.05, 0.1, 0.2, 0.3: depth over length 0.04032, "
    "0.09416, 0.1410, 0.2251, 0.3121",
    tolerance="rel 0.1 %: four printed digits",
)
@pytest.mark.parametrize(
    ("deep", "printed"),
    [(0.01, 0.04032), (0.05, 0.09416), (0.1, 0.1410), (0.2, 0.2251), (0.3, 0.3121)],
)
def test_length_over_shallow_water(deep: float, printed: float) -> None:
    frequency = 1.3
    depth = deep * 2.0 * math.pi * 9.81 / frequency**2
    found = depth * wave_number(frequency, depth) / (2.0 * math.pi)
    assert found == pytest.approx(printed, rel=1e-3)


@pytest.mark.source(
    work=AIRY,
    where="ω² = g k tanh(k d), put back",
    tolerance="rel 1e-9",
)
@pytest.mark.parametrize("depth", [0.5, 2.0, 8.0, 30.0, math.inf])
@pytest.mark.parametrize("period", [1.0, 3.0, 6.0, 12.0])
def test_dispersion(depth: float, period: float) -> None:
    frequency = 2.0 * math.pi / period
    k = wave_number(frequency, depth)
    assert 9.81 * k * math.tanh(k * depth) == pytest.approx(frequency**2, rel=1e-9)


@pytest.mark.source(
    work=AIRY,
    where="deep water, waves of 4 s met at 3 m/s from astern, quarter, abeam, bow and ahead (0, "
    "45, 90, 135, 180° between courses of boat and waves), worked out by hand",
    tolerance="abs 0.001 rad/s: three decimals",
)
@pytest.mark.parametrize(
    ("between_deg", "printed"),
    [(0, 0.816), (45, 1.037), (90, 1.571), (135, 2.104), (180, 2.325)],
)
def test_frequency_of_encounter(between_deg: float, printed: float) -> None:
    found = encounter_frequency(2.0 * math.pi / 4.0, 3.0, math.radians(180.0 - between_deg))
    assert found == pytest.approx(printed, abs=1e-3)


@pytest.mark.source(
    work="ITTC 1978, two-parameter spectrum (from memory)",
    where="S = A ω⁻⁵ exp(-B ω⁻⁴) with A = 487 H² / T⁴ and B = 1949 / T⁴, T the peak period",
    tolerance="rel 0.5 %: three digits in the exponent too",
)
def test_the_two_parameter_spectrum() -> None:
    frequency = np.array([0.6, 0.8, 1.0, 1.5, 3.0])
    printed = 487.0 * 4.0 / 6.0**4 * frequency**-5 * np.exp(-1949.0 / 6.0**4 * frequency**-4)
    assert spectrum(Sea(2.0, 6.0), frequency) == pytest.approx(printed, rel=5e-3)


@pytest.mark.source(
    work="Longuet-Higgins, On the statistical distribution of the heights of sea waves, J. Marine "
    "Research 11, 1952 (from memory)",
    where="significant height is four times the deviation of the surface",
    tolerance="rel 0.1 %: sum over frequency",
)
@pytest.mark.parametrize(("height", "period"), [(0.1, 1.0), (1.2, 4.0), (2.5, 9.0)])
def test_significant_height_is_four_deviations(height: float, period: float) -> None:
    sea = Sea(height, period)
    frequency = sea.peak * np.linspace(0.2, 60.0, 60_000)
    variance = np.trapezoid(spectrum(sea, frequency), frequency)
    assert 4.0 * np.sqrt(variance) == pytest.approx(height, rel=1e-3)
