"""Battens and headboard put together: what folds over resists, what hangs at rest is unstrained."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.sails.bending_kernel import assemble_bends
from luffwright.sails.rigging import Mesh, rig
from luffwright.sails.sheet_mark import mark_setting

LINE = np.array([[0, 1, 2]])


def bent(degrees: float) -> float:
    """Return the energy of two legs of unit length turned by an angle, of unit stiffness [J]."""
    turned = np.radians(degrees)
    points = np.array([[0, 0, 0], [1, 0, 0], [1 + np.cos(turned), np.sin(turned), 0]])
    rows = np.arange(10), np.arange(9), np.ones(9)
    energy = assemble_bends(points, LINE, np.ones(1), *rows, np.zeros(9), np.zeros((9, 9)))
    return float(energy)


def test_a_batten_that_doubles_back_resists_ever_more() -> None:
    turned = np.array([1.0, 31.0, 61.0, 91.0, 121.0, 151.0, 176.0])
    moment = np.diff([bent(angle) for angle in turned]) / np.diff(np.radians(turned))
    assert (np.diff(moment) > 0.0).all()


def test_a_little_bend_costs_half_its_stiffness_times_its_square() -> None:
    assert bent(2.0) == pytest.approx(0.5 * np.radians(2.0) ** 2, rel=1e-3)


@pytest.mark.parametrize("rake_deg", [0.0, 3.0, 6.0])
@pytest.mark.parametrize("boat", ["marram", "dunlin", "eider"])
def test_a_headboard_hangs_unstrained_on_a_raked_mast(boat: str, rake_deg: float) -> None:
    plan = load_boat(boat).plan
    plan = replace(plan, mast=replace(plan.mast, rake=float(np.radians(rake_deg))))
    rigging = rig(plan, mark_setting(plan), Mesh(), 5.0)
    strut = rigging.ropes.index("mainsail_head_strut")
    low, corner = rigging.ropes.point[rigging.ropes.begin[strut] : rigging.ropes.begin[strut + 1]]
    apart = np.linalg.norm(rigging.moulded_places[low] - rigging.moulded_places[corner])
    assert apart == pytest.approx(rigging.ropes.length[strut], rel=1e-3)


def test_the_luff_slides_on_a_straight_mast_however_it_is_cut() -> None:
    plan = load_boat("marram").plan
    cut = replace(plan.mainsail, luff_curve=-0.01)
    rigging = rig(replace(plan, mainsail=cut), mark_setting(plan), Mesh(), 5.0)
    main = rigging.sails[1]
    luff = rigging.moulded_places[[main.node(row, 0) for row in range(main.rows)]]
    along = np.polyfit(luff[:, 2], luff[:, 0], 1)
    assert np.abs(np.polyval(along, luff[:, 2]) - luff[:, 0]).max() < 1e-9
