"""How fast the sums of thin-ship theory close in on their limit."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.water.thin_ship import slender_form, wave_coefficients, wigley_form


@pytest.mark.parametrize("froude", [0.15, 0.3, 0.45, 0.9])
def test_twice_the_directions_and_a_longer_tail_change_nothing_that_is_told(froude: float) -> None:
    hull = wigley_form(1.0, 0.1, 0.0625)
    plain = wave_coefficients(hull, 0.4, froude)
    fine = wave_coefficients(hull, 0.4, froude, steps=6000, end=6.0)
    # The tail falls as exp(-4u): 1e-7 of its beginning is left at u = 4, more of a small integral.
    assert plain == pytest.approx(fine, rel=5e-4)


def test_the_tail_left_out_falls_as_theory_says() -> None:
    """A wall-sided waterline's integrand falls as cosh(u) to the power -4 (Watson's lemma)."""
    hull = wigley_form(1.0, 0.1, 0.0625)
    ends = (2.5, 3.0, 3.5)
    limit = wave_coefficients(hull, 0.0, 0.8, steps=8000, end=7.0)[0]
    left = [limit - wave_coefficients(hull, 0.0, 0.8, int(800 * end), end)[0] for end in ends]
    assert np.diff(np.log(left)) / 0.5 == pytest.approx([-4.0, -4.0], abs=0.5)


@pytest.mark.parametrize("froude", [0.25, 0.45])
def test_wigleys_parabola_is_exact_on_any_table(froude: float) -> None:
    coarse = wave_coefficients(wigley_form(1.0, 0.1, 0.0625, 3, 3), 0.3, froude)
    fine = wave_coefficients(wigley_form(1.0, 0.1, 0.0625, 81, 41), 0.3, froude)
    assert coarse == pytest.approx(fine, rel=1e-9)


def test_a_fuller_hull_closes_in_at_third_order_with_the_tables_steps() -> None:
    """Parabolas through three points leave an error of third order or better in the integral."""
    tables = [(11, 7), (21, 13), (41, 25), (161, 97)]
    found = [
        wave_coefficients(slender_form(1.0, 0.1, 0.05, 0.49, 0.70, *table), 0.0, 0.35)[0]
        for table in tables
    ]
    errors = np.abs(np.array(found[:3]) - found[3])
    assert np.all(np.log2(errors[:-1] / errors[1:]) > 2.5)
    assert errors[2] < 1e-4 * found[3]


def test_a_quadrature_of_another_kind_finds_the_same() -> None:
    """Gauss and Legendre's points over the hull and a plain sum over the angle of the waves."""
    froude, beam, draught = 0.35, 0.11, 0.055
    nodes, weights = np.polynomial.legendre.leggauss(120)
    x, along = 0.5 * nodes, 0.5 * weights
    deep, down = np.polynomial.legendre.leggauss(40)
    z, dz = 0.5 * draught * (deep + 1.0), 0.5 * draught * down
    n, m = 0.7 / 0.3, 0.65 / 0.35
    slope = -beam * n * np.sign(x) * np.abs(2.0 * x) ** (n - 1.0)
    shape = 1.0 - (z / draught) ** m
    theta = (np.arange(3000) + 0.5) * (0.5 * np.pi / 3000)
    k0, sec = froude**-2, 1.0 / np.cos(theta)
    wave = np.exp(1j * k0 * np.outer(sec, x)) @ (along * slope)
    fade = np.exp(-k0 * np.outer(sec**2, z)) @ (dz * shape)
    total = np.sum(np.abs(wave * fade) ** 2 * sec**3) * (0.5 * np.pi / 3000)
    apart = 4.0 * k0**2 / np.pi * total * 2.0
    form = slender_form(1.0, beam, draught, 0.7 * 0.65, 0.7)
    assert wave_coefficients(form, 0.0, froude)[0] == pytest.approx(apart, rel=1e-4)
