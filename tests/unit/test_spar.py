"""The mast as a beam hinged at its foot, against the closed forms of beams."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.arrays import FloatArray
from luffwright.sails.plan import Mast, Spreader
from luffwright.sails.spar import Spar, spar

LENGTH = 12.0


def beam() -> Spar:
    """Return a mast of 12 m with stations each 3 m."""
    spreader = Spreader(6.0, 1.0, 0.0)
    return spar(Mast(0.0, LENGTH, LENGTH, 0.0, 0.15, 1e6, 5e5, (spreader,)))


def deflection(load_at: float) -> FloatArray:
    """Return the stations' deflections under a unit load, foot and top held, unit EI."""
    mast = beam()
    inner = mast.bending[:-1, :-1]
    load = (np.abs(mast.stations[:-1] - load_at) < 1e-9).astype(np.float64)
    assert load.sum() == 1.0
    bent: FloatArray = np.linalg.solve(inner, load).astype(np.float64)
    return bent


def closed_form(load_at: float, at: float) -> float:
    """Return a simply supported beam's deflection under a unit load (any textbook)."""
    if at > load_at:
        load_at, at = LENGTH - load_at, LENGTH - at
    beyond = LENGTH - load_at
    return beyond * at * (LENGTH**2 - beyond**2 - at**2) / (6.0 * LENGTH)


def test_the_stations_are_where_something_holds_and_evenly_between() -> None:
    assert beam().stations == pytest.approx([3.0, 6.0, 9.0, 12.0])


@pytest.mark.parametrize("load_at", [3.0, 6.0, 9.0])
def test_a_mast_held_at_both_ends_bends_as_a_simply_supported_beam(load_at: float) -> None:
    exact = [closed_form(load_at, at) for at in (3.0, 6.0, 9.0)]
    assert deflection(load_at) == pytest.approx(exact, rel=1e-9)


def test_the_middle_of_the_beam_bends_by_its_forty_eighth() -> None:
    assert deflection(6.0)[1] == pytest.approx(LENGTH**3 / 48.0, rel=1e-9)


def test_an_unloaded_top_stands_straight_on_from_the_beam_below() -> None:
    # Held at foot and 9 m, loaded at the top: an overhang of 3 m bends by P c² (L + c) / 3.
    mast = beam()
    free = [0, 1, 3]
    load = np.array([0.0, 0.0, 1.0])
    bent = np.linalg.solve(mast.bending[np.ix_(free, free)], load)
    assert bent[2] == pytest.approx(3.0**2 * (9.0 + 3.0) / 3.0, rel=1e-9)


def test_leaning_the_mast_costs_no_bending() -> None:
    mast = beam()
    assert mast.bending @ mast.stations == pytest.approx(np.zeros(4), abs=1e-9)


def test_the_shape_between_stations_is_the_beam_s_own() -> None:
    mast = beam()
    bent = np.append(deflection(6.0), 0.0)
    assert mast.weights(4.5) @ bent == pytest.approx(closed_form(6.0, 4.5), rel=1e-9)
    assert mast.weights(6.0) == pytest.approx([0, 1, 0, 0], abs=1e-12)
