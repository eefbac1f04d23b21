"""Bubbles and section flow: what must hold whatever the numbers."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.air.bubble import bubble_drag, bubbles, reaches
from luffwright.air.nose import beyond_nose
from luffwright.air.section_flow import section_flow
from luffwright.air.stall import LEECH_SEPARATED, separation


def test_deeper_camber_keeps_the_bubble_short() -> None:
    loads = np.linspace(0.0, 0.8, 9)
    assert np.all(np.diff(reaches(np.full(9, 0.15), loads, np.zeros(9))) > 0.0)


def test_a_tuft_further_aft_is_reached_later() -> None:
    places = np.linspace(0.02, 0.5, 25)
    assert np.all(np.diff(reaches(places, np.full(25, 0.4), np.zeros(25))) > 0.0)


def test_the_table_gives_the_bubble_itself_back() -> None:
    there = bubbles(np.array([0.05, 0.15, 0.33]), 0.37)
    again = reaches(there.length, np.full(3, 0.37), np.zeros(3))
    assert again == pytest.approx(there.incidence, rel=2e-3)
    assert bubble_drag(there.incidence, np.full(3, 0.37)) == pytest.approx(there.drag, rel=0.02)


def test_a_nose_that_holds_more_leaves_less_to_the_bubble() -> None:
    left = beyond_nose(np.full(4, 0.10), np.array([0.0, 0.03, 0.06, 0.09]))
    assert np.all(np.diff(left) < 0.0)
    assert left[0] == pytest.approx(0.10)


@pytest.mark.parametrize("camber", [0.2, 0.4, 0.6])
@pytest.mark.parametrize("reynolds", [3e5, 1e6, 3e6])
def test_ahead_of_the_opening_bubble_the_layer_reaches_the_leech(
    camber: float, reynolds: float
) -> None:
    """Under attached pressures; the fitted law has left by up to 0.28 of the chord."""
    for incidence in (0.0, 0.03, 0.05, 0.08):
        flow = section_flow(incidence, camber, reynolds)
        law = float(separation(np.array(incidence), np.array(camber)))
        assert flow.separates > max(LEECH_SEPARATED, law - 0.02)
        assert flow.separates - law < 0.30


def test_once_the_bubble_is_open_the_section_is_stalled_from_the_luff() -> None:
    flow = section_flow(0.15, 0.4, 1e6)
    assert (flow.bubble, flow.separates) == (1.0, 0.0)


def test_skin_friction_falls_with_the_reynolds_number() -> None:
    skins = [section_flow(0.02, 0.3, reynolds, 0.04).skin for reynolds in (3e5, 1e6, 3e6)]
    assert skins[0] > skins[1] > skins[2] > 0.002
    assert skins[0] < 0.015
