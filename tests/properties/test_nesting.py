"""Sails led from a coarse mesh to a fine one hang there as they hung before."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.sails.nesting import finer, finer_strips
from luffwright.sails.rigging import Mesh, Rigging, rig
from luffwright.sails.sheet_mark import mark_setting

COARSE, FINE = Mesh(4, 4), Mesh(9, 7)
SHEET = 3.5


def rigged(name: str, mesh: Mesh) -> Rigging:
    plan = load_boat(name).plan
    return rig(plan, mark_setting(plan), mesh, SHEET)


def hung(boat: Rigging, unknowns: np.ndarray) -> np.ndarray:
    """Return the places of all points [m]."""
    return boat.points.constant + (boat.points.matrix() @ unknowns).reshape(-1, 3)


def free_of(boat: Rigging, sail: int) -> np.ndarray:
    """Return the numbers of a sail's nodes that nothing holds: neither luff, foot nor head."""
    part = boat.sails[sail]
    grid = part.first + np.arange(part.count).reshape(part.rows, part.columns)
    return grid[1:-1, 1:].ravel()


@pytest.mark.parametrize("name", ["marram", "dunlin", "eider"])
def test_the_same_mesh_changes_nothing(name: str) -> None:
    boat = rigged(name, FINE)
    generator = np.random.default_rng(7)
    unknowns = boat.start + generator.normal(0.0, 0.05, boat.points.unknowns)
    again = finer(boat, hung(boat, unknowns), unknowns, boat)
    assert again == pytest.approx(unknowns, abs=1e-9)


@pytest.mark.parametrize("name", ["marram", "dunlin", "eider"])
@pytest.mark.parametrize("sail", [0, 1])
def test_a_sail_that_only_shifts_shifts_alike_on_the_fine_mesh(name: str, sail: int) -> None:
    few, many = rigged(name, COARSE), rigged(name, FINE)
    shift = np.array([0.2, -0.1, 0.05])
    places = few.moulded_places.copy()
    part = few.sails[sail]
    places[part.first : part.first + part.count] += shift
    fine = hung(many, finer(few, places, few.start, many))
    moved = (fine - many.moulded_places)[free_of(many, sail)]
    assert moved == pytest.approx(np.broadcast_to(shift, moved.shape), abs=1e-9)


def test_strips_keep_what_grows_evenly_from_foot_to_head() -> None:
    at = (np.arange(9) + 0.5) / 9
    told = finer_strips(np.concatenate([(np.arange(4) + 0.5) / 4, np.full(4, 3.0)]), 9)
    inner = (at > 0.125) & (at < 0.875)
    assert told[:9][inner] == pytest.approx(at[inner])
    assert told[9:] == pytest.approx(np.full(9, 3.0))
