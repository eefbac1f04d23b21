"""How a stay made of links settles to the catenary as its links grow shorter."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq

from luffwright.sails.assembly_kernel import assemble_ropes, linear_stretch
from luffwright.sails.points import PointBuilder

LENGTH_EXCESS = 0.01


def link_pull(links: int) -> float:
    """Return the level pull of a hanging chain of stiff links, span 1 and weight 1 a length."""
    build = PointBuilder()
    inner = [build.unknown(2) for _ in range(links - 1)]
    build.fixed((0.0, 0.0, 0.0))
    for at in inner:
        build.add([{at: 1.0}, {}, {at + 1: 1.0}], (0.0, 0.0, 0.0))
    build.fixed((1.0, 0.0, 0.0))
    points = build.build()
    length = np.full(links, (1.0 + LENGTH_EXCESS) / links)
    share = np.linspace(0.0, 1.0, links + 1)[1:-1]
    depth = np.sqrt(3.0 / 8.0 * LENGTH_EXCESS)
    unknowns = np.stack([share, -4.0 * depth * share * (1.0 - share)], axis=1).ravel()
    begin, point = 2 * np.arange(links + 1), np.repeat(np.arange(links + 1), 2)[1:-1]
    matrix = points.matrix()
    load = np.zeros(points.unknowns)
    load[1::2] = -length[0]
    spring, pushes = np.full(links, 1e10), np.ones(links, dtype=np.int64)
    stretch, pull, whole = np.full(links, 1e-10 / (8.0 * depth)), np.zeros(links), np.zeros(links)
    none = np.zeros(links)
    for _ in range(30):
        places = points.constant + (matrix @ unknowns).reshape(-1, 3)
        force, stiffness = np.zeros(points.unknowns), np.zeros((points.unknowns,) * 2)
        assemble_ropes(
            places, begin, point, length, none, spring, pushes, stretch, True, 1.0,
            points.first, points.column, points.weight, force, stiffness, pull, whole,
        )  # fmt: skip
        step = np.linalg.solve(stiffness, load - force)
        linear_stretch(places, (matrix @ step).reshape(-1, 3), begin, point, length, none, stretch)
        unknowns = unknowns + step
        if np.max(np.abs(step)) < 1e-12:
            break
    assert np.max(np.abs(step)) < 1e-9
    first = places[1] - places[0]
    return float(pull[0] * first[0] / np.linalg.norm(first))


def catenary_pull() -> float:
    """Return the level pull of an inextensible catenary: 2 H sinh(1 / 2 H) is its length."""
    return float(brentq(lambda h: 2 * h * np.sinh(0.5 / h) - 1.0 - LENGTH_EXCESS, 0.5, 5.0))


def test_a_chain_of_links_settles_to_the_catenary_with_the_square_of_the_link() -> None:
    errors = [abs(link_pull(links) - catenary_pull()) for links in (6, 12, 24)]
    orders = np.log2(np.divide(errors[:-1], errors[1:]))
    assert np.min(orders) > 1.8
    assert errors[-1] / catenary_pull() == pytest.approx(0.0, abs=2e-3)
