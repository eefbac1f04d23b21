"""Worn cloth: what a usual wind stretched stays, most on the bias and along the leech."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from luffwright.aboard.boat import boat_keys, load_boat
from luffwright.sails import ageing
from luffwright.sails.ageing import Stretch, stretched_cloth, usual_stretch, worn_links
from luffwright.sails.cut import moulded, triangles
from luffwright.sails.fabric import woven
from luffwright.sails.membrane import membrane_forces
from luffwright.sails.plan import SailCut
from luffwright.sails.sailcloth import SailPart, links, sail_cloth

ROWS, COLUMNS = 8, 7
OLD = woven(0.3, 10.0)
FLAT = SailCut("headsail", 12.0, 13.0, 5.0, 0.2, 0, 0, 0, (1e-9,) * 3, (0.4,) * 3, 0.0, OLD)


def part_of(cut: SailCut, *, reef: float = 0.0) -> SailPart:
    return SailPart(cut.role, 0, ROWS, COLUMNS, moulded(cut, ROWS, COLUMNS, reef_from=reef), cut)


@pytest.mark.parametrize("key", boat_keys())
@pytest.mark.parametrize("name", ["headsail", "mainsail"])
def test_a_usual_wind_stretches_worn_cloth_most_on_the_bias_and_more_at_the_leech_than_the_luff(
    key: str, name: str
) -> None:
    cut = getattr(load_boat(key).plan, name)
    found = usual_stretch(part_of(replace(cut, cloth=woven(cut.cloth.mass, 6.0))))
    warp, fill, bias = (np.abs(found.cloth[..., k]).max() for k in range(3))
    assert bias > fill > warp
    along = found.cloth[..., 1].mean(axis=0)
    assert along[-1] > 1.5 * along[0]
    # Working strains of woven sails: a few parts in a thousand along the leech.
    assert 0.001 < found.leech.max() < 0.01


def test_a_sail_twice_as_stiff_and_twice_as_heavy_stretches_as_much() -> None:
    """The pressure goes with the cloth's weight: a loft chooses the one by the other."""
    cut = replace(load_boat("dunlin").plan.headsail, battens=())
    cloth = cut.cloth
    heavier = replace(
        cut,
        cloth=replace(
            cloth, warp=2 * cloth.warp, fill=2 * cloth.fill, shear=2 * cloth.shear,
            mass=2 * cloth.mass,
        ),
        tape_stiffness=2 * cut.tape_stiffness,
    )  # fmt: skip
    one, two = usual_stretch(part_of(cut)), usual_stretch(part_of(heavier))
    # Each is in balance within 2 % of the pressure on a node.
    assert two.cloth == pytest.approx(one.cloth, abs=3e-4)
    assert two.leech == pytest.approx(one.leech, abs=3e-4)


def test_new_cloth_keeps_the_lengths_of_the_loft() -> None:
    part = part_of(replace(FLAT, cloth=woven(0.3, 0.0)))
    cloth, _ = sail_cloth((part,), part.count)
    assert stretched_cloth(cloth, (part,)).shape == pytest.approx(cloth.shape)
    assert worn_links(part) == links(part)


def test_cloth_that_stretched_for_good_lies_slack_at_its_new_lengths(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A flat sail that gave 1 % square to its leech and 2 % along it is free of stress so."""
    field = np.tile([0.01, 0.02, 0.0], (ROWS - 1, COLUMNS - 1, 1)) / OLD.permanent
    even = Stretch(field, np.zeros(ROWS - 1), np.zeros(COLUMNS - 1))
    monkeypatch.setattr(ageing, "usual_stretch", lambda _: even)
    part = part_of(FLAT)
    fresh, _ = sail_cloth((part,), part.count)
    worn = stretched_cloth(fresh, (part,))
    leech = part.moulded.grid[-1, -1] - part.moulded.grid[0, -1]
    leech /= np.linalg.norm(leech)
    along, square = np.outer(leech, leech), np.eye(3) - np.outer(leech, leech)
    nodes = part.moulded.nodes @ (1.02 * along + 1.01 * square).T
    assert np.abs(membrane_forces(worn, nodes).stress).max() < 1e-6 * OLD.warp
    assert np.abs(membrane_forces(fresh, nodes).stress).max() > 5e-3 * OLD.warp
    assert worn.area == pytest.approx(1.02 * 1.01 * fresh.area)


def test_the_leech_tape_is_longer_by_what_stayed_and_the_luff_s_is_not() -> None:
    cut = replace(load_boat("marram").plan.headsail, cloth=OLD)
    part = part_of(cut)
    worn = usual_stretch(part)
    grown = {
        link.ends: after.length / link.length - 1.0
        for link, after in zip(links(part), worn_links(part), strict=True)
    }
    last = COLUMNS - 1
    for j in range(ROWS - 1):
        leech = grown[part.node(j, last), part.node(j + 1, last)]
        assert leech == pytest.approx(OLD.permanent * worn.leech[j])
        assert grown[part.node(j, 0), part.node(j + 1, 0)] == 0.0


def test_a_reef_keeps_the_stretch_of_the_cloth_that_is_left(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    rows = np.arange(ROWS - 1.0)[:, None, None] / 1000.0
    field = rows * np.array([1.0, 1.0, 0.0]) + np.zeros((ROWS - 1, COLUMNS - 1, 3))
    even = Stretch(field, rows[:, 0, 0], np.zeros(COLUMNS - 1))
    monkeypatch.setattr(ageing, "usual_stretch", lambda _: even)
    part = part_of(FLAT, reef=3.0 / 7.0)
    fresh, _ = sail_cloth((part,), part.count)
    grown = stretched_cloth(fresh, (part,)).area / fresh.area
    low, high = grown[: 2 * (COLUMNS - 1)], grown[-2 * (COLUMNS - 1) :]
    assert low == pytest.approx((1.0 + OLD.permanent * 0.003) ** 2)
    assert high == pytest.approx((1.0 + OLD.permanent * 0.006) ** 2)
    assert len(triangles(ROWS, COLUMNS)) == len(grown)
