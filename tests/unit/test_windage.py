"""Wind on hull and rig: signs, mirror, scale, and the pieces that a boat is made of."""

from __future__ import annotations

import math

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.sails.fabric import wire
from luffwright.water.windage import (
    Exposed,
    diameter_of,
    exposed_pieces,
    heights,
    total,
    windage,
)

BOATS = {key: load_boat(key) for key in ("marram", "dunlin", "eider")}
MARRAM = BOATS["marram"]
PIECES = exposed_pieces(MARRAM.plan, MARRAM.hull)
HEEL = math.radians(20.0)


def everywhere(x: float, y: float) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """Return one wind at every piece."""
    return np.tile([x, y, 0.0], (len(PIECES), 1))


def test_the_thickness_of_a_wire_comes_back_from_its_stiffness() -> None:
    assert diameter_of(wire(0.008)) == pytest.approx(0.008)


def test_wind_from_abeam_pushes_to_leeward_and_the_heeled_mast_down() -> None:
    found = total(windage(PIECES, everywhere(0.0, 10.0), HEEL))
    assert found[1] > 0.0 > found[2]


def test_wind_from_ahead_holds_the_boat_back() -> None:
    found = total(windage(PIECES, everywhere(-10.0, 0.0), HEEL))
    assert found[0] < 0.0
    # The hull's wind from ahead has no side; slanting shrouds undo each other.
    assert abs(found[1]) < 0.02 * abs(found[0])


def test_the_mirror_image_has_the_mirrored_force() -> None:
    here = total(windage(PIECES, everywhere(-6.0, 8.0), HEEL))
    there = total(windage(PIECES, everywhere(-6.0, -8.0), -HEEL))
    assert there == pytest.approx((here[0], -here[1], here[2]))


def test_twice_the_wind_pushes_four_times_as_hard() -> None:
    slow, fast = (total(windage(PIECES, everywhere(-k * 5.0, k * 5.0), HEEL)) for k in (1.0, 2.0))
    assert fast == pytest.approx(tuple(4.0 * value for value in slow), rel=1e-3)


def test_heel_lowers_the_pieces_aloft() -> None:
    assert heights(PIECES, HEEL).max() < heights(PIECES, 0.0).max()


def test_no_wind_no_force() -> None:
    assert total(windage(PIECES, everywhere(0.0, 0.0), HEEL)) == (0.0, 0.0, 0.0)


@pytest.mark.parametrize("key", list(BOATS))
def test_the_pieces_stand_where_the_boat_has_them(key: str) -> None:
    boat = BOATS[key]
    pieces = exposed_pieces(boat.plan, boat.hull)
    for piece in pieces:
        assert 0.0 < piece.point[2] < boat.plan.mast.top
        assert abs(piece.point[1]) < boat.hull.beam / 2.0
        assert -boat.stern_aft < piece.point[0] < boat.hull.bow_x
    off_centre = [piece.point[1] for piece in pieces]
    assert sum(off_centre) == pytest.approx(0.0, abs=1e-9)


def test_windage_upwind_is_a_tenth_or_so_of_the_drive() -> None:
    """Common practice: hull and rig in 10 m/s of apparent wind drag 100 to 300 N on 10 m."""
    angle = math.radians(28.0)
    wind = everywhere(-10.0 * math.cos(angle), 10.0 * math.sin(angle))
    assert 100.0 < -total(windage(PIECES, wind, HEEL))[0] < 300.0


def test_a_rod_along_the_wind_feels_nothing() -> None:
    rod = Exposed(1.0, 1.0, (0.0, 0.0, 5.0), (1.0, 0.0, 0.0))
    found = windage([rod], np.array([[-10.0, 0.0, 0.0]]), 0.0)
    assert found[0].force == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)
