"""Drag of either kind of hull: signs, fins, range."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.air.wind import GRAVITY
from luffwright.water.foil import SEA_WATER
from luffwright.water.hull_drag import hull_drag

BOATS = ["marram", "dunlin", "eider"]


@pytest.mark.parametrize("boat", BOATS)
def test_still_water_holds_nothing_and_going_astern_drags_forward(boat: str) -> None:
    hull = load_boat(boat).hull
    assert hull_drag(hull, 0.0, 0.0, SEA_WATER).force == pytest.approx(0.0, abs=1e-9)
    ahead, astern = (hull_drag(hull, v, 0.0, SEA_WATER).force for v in (1.5, -1.5))
    assert ahead > 0.0
    assert astern == pytest.approx(-ahead)


@pytest.mark.parametrize("boat", ["marram", "dunlin"])
def test_drag_of_one_hull_grows_with_every_step_of_speed(boat: str) -> None:
    hull = load_boat(boat).hull
    found = [hull_drag(hull, float(v), 0.0, SEA_WATER).force for v in np.linspace(0.5, 3.5, 13)]
    assert np.all(np.diff(found) > 0.0)


@pytest.mark.parametrize("boat", BOATS)
def test_twice_the_speed_drags_at_least_three_times_as_much_and_less_is_unsure(boat: str) -> None:
    """Friction alone grows with a power of 1.8 or so (ITTC 1957 line); waves come on top.

    Thin hulls' waves have humps and hollows: a catamaran's drag may fall over a small step.
    """
    hull = load_boat(boat).hull
    for speed in (0.75, 1.25, 1.75):
        slow, fast = (hull_drag(hull, v, 0.0, SEA_WATER) for v in (speed, 2.0 * speed))
        assert fast.force > 3.0 * slow.force
        assert 0.0 < slow.band < slow.force


@pytest.mark.parametrize("boat", BOATS)
def test_drag_is_the_same_on_either_tack(boat: str) -> None:
    hull = load_boat(boat).hull
    port, starboard = (hull_drag(hull, 3.0, heel, SEA_WATER).force for heel in (-0.2, 0.2))
    assert port == pytest.approx(starboard)


@pytest.mark.parametrize("boat", BOATS)
def test_drag_at_hull_speed_is_some_per_cent_of_the_weight(boat: str) -> None:
    """At a Froude number of 0.4 displacement boats drag 1 to 6 % of their weight.

    From memory, common practice in yacht design.
    """
    hull = load_boat(boat).hull
    speed = 0.4 * float(np.sqrt(GRAVITY * hull.length_waterline))
    share = hull_drag(hull, speed, 0.0, SEA_WATER).force / (GRAVITY * hull.displacement)
    assert 0.01 < share < 0.06


def test_denser_water_drags_a_catamaran_in_proportion() -> None:
    hull = load_boat("eider").hull
    heavy = replace(SEA_WATER, density=1.1 * SEA_WATER.density)
    plain = hull_drag(hull, 3.0, 0.0, SEA_WATER).force
    assert hull_drag(hull, 3.0, 0.0, heavy).force == pytest.approx(1.1 * plain, rel=1e-6)
