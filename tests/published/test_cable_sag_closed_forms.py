"""Sag of a loaded stay, as the program's ropes give it, against the closed forms.

Two ropes of the program: links between points of the wire itself (a hanging wire), and a chain that
runs freely through points held to their places along the span, as the luff's hanks are (pull alike
everywhere: the wire lies on an arc of a circle when the load presses evenly).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from luffwright.arrays import FloatArray, IntArray
from luffwright.sails.assembly_kernel import assemble_ropes, linear_stretch
from luffwright.sails.points import PointBuilder, Points

LINKS = 40
STIFF = 1e10
"""Of each rope, so that none stretches to speak of."""
TABLE = [
    # sag / span, parabola T / (w L), catenary H / (w L), length excess of the catenary
    (0.005, 25.000, 25.001, 6.67e-5),
    (0.010, 12.500, 12.502, 2.666e-4),
    (0.015, 8.333, 8.336, 5.997e-4),
    (0.020, 6.250, 6.253, 1.066e-3),
    (0.030, 4.167, 4.172, 2.396e-3),
]


def _span(*, slide: bool) -> Points:
    """Return points along a span of 1 that may sink, and `slide` along it."""
    build = PointBuilder()
    build.fixed((0.0, 0.0, 0.0))
    for place in np.linspace(0.0, 1.0, LINKS + 1)[1:-1]:
        down = build.unknown()
        along = {build.unknown(): 1.0} if slide else {}
        build.add([along, {}, {down: 1.0}], (0.0 if slide else place, 0.0, 0.0))
    build.fixed((1.0, 0.0, 0.0))
    return build.build()


@dataclass(frozen=True)
class Wire:
    """Ropes through points: where each begins in the chain of point numbers, and its length."""

    points: Points
    begin: IntArray
    chain: IntArray
    length: FloatArray


def _settled(wire: Wire, start: FloatArray, weight: float, pull: float) -> tuple[FloatArray, float]:
    """Return places and the first rope's pull in balance with a weight on each point.

    Newton on places and stretches together, from a guessed pull.
    """
    points = wire.points
    matrix = points.matrix()
    unknowns = points.solve_for(start)
    load = matrix.T @ np.tile([0.0, 0.0, -weight], len(start))
    count = len(wire.length)
    stiff, both = np.full(count, STIFF), np.ones(count, dtype=np.int64)
    guess, whole, pulls = np.full(count, pull / STIFF), np.zeros(count), np.zeros(count)
    none = np.zeros(count)
    for _ in range(30):
        now = points.constant + (matrix @ unknowns).reshape(-1, 3)
        force, stiffness = np.zeros(points.unknowns), np.zeros((points.unknowns,) * 2)
        assemble_ropes(
            now, wire.begin, wire.chain, wire.length, none, stiff, both, guess, True, 1.0,
            points.first, points.column, points.weight, force, stiffness, pulls, whole,
        )  # fmt: skip
        step = np.linalg.solve(stiffness, load - force)
        moved = (matrix @ step).reshape(-1, 3)
        linear_stretch(now, moved, wire.begin, wire.chain, wire.length, none, guess)
        unknowns = unknowns + step
        if np.max(np.abs(step)) < 1e-12:
            break
    assert np.max(np.abs(step)) < 1e-9
    return now, float(pulls[0])


def _parabola(excess: float) -> tuple[FloatArray, float]:
    """Return the points of the parabola of a length, and its pull."""
    depth = float(np.sqrt(3.0 / 8.0 * excess))
    share = np.linspace(0.0, 1.0, LINKS + 1)
    shape = np.stack([share, 0.0 * share, -4.0 * depth * share * (1.0 - share)], axis=1)
    return shape, 1.0 / (8.0 * depth)


def hanging(excess: float) -> tuple[float, float]:
    """Return sag and level pull of a wire of links, longer than its span of 1 by `excess`."""
    start, pull = _parabola(excess)
    link = (1.0 + excess) / LINKS
    ends = np.repeat(np.arange(LINKS + 1), 2)[1:-1]
    wire = Wire(_span(slide=True), 2 * np.arange(LINKS + 1), ends, np.full(LINKS, link))
    places, pull = _settled(wire, start, link, pull)
    first = places[1] - places[0]
    return float(-places[:, 2].min()), float(pull * first[0] / np.linalg.norm(first))


def pressed(excess: float) -> tuple[float, float]:
    """Return sag and pull of a wire that runs freely through points, load 1 a length of span."""
    start, pull = _parabola(excess)
    whole = np.array([1.0 + excess])
    wire = Wire(_span(slide=False), np.array([0, LINKS + 1]), np.arange(LINKS + 1), whole)
    places, pull = _settled(wire, start, 1.0 / LINKS, pull)
    return float(-places[:, 2].min()), pull


@pytest.mark.source(
    work="Closed forms of the parabola and the catenary (any textbook of statics)",
    where="sag and level pull of a wire of given length, sags of 0.5 to 3 % of the span",
    tolerance="rel 0.2 %: 40 links",
)
@pytest.mark.parametrize(("sag", "parabola", "catenary", "excess"), TABLE)
def test_a_hanging_wire_sags_and_pulls_as_the_catenary(
    sag: float, parabola: float, catenary: float, excess: float
) -> None:
    found, pull = hanging(excess)
    assert found == pytest.approx(sag, rel=2e-3)
    assert pull == pytest.approx(catenary, rel=2e-3)


@pytest.mark.source(
    work="Closed forms of the parabola and the catenary (any textbook of statics)",
    where="f = w L² / (8 T), sags of 0.5 to 3 %; on a circle T = w R, R = (L²/4 + f²) / (2 f)",
    tolerance="rel 0.4 % on the parabola, 0.2 % on the circle: 40 links",
)
@pytest.mark.parametrize(("sag", "parabola", "catenary", "excess"), TABLE)
def test_a_stay_that_runs_through_its_hanks_sags_as_the_parabola(
    sag: float, parabola: float, catenary: float, excess: float
) -> None:
    found, pull = pressed(excess)
    assert pull * found == pytest.approx(parabola * sag, rel=4e-3)
    assert pull == pytest.approx((0.25 + found**2) / (2.0 * found), rel=2e-3)


@pytest.mark.source(
    work="Closed forms of the parabola and the catenary (any textbook of statics)",
    where="length excess 8/3 (f/L)²",
    tolerance="rel 0.3 % on the sag: the parabola's own error at 3 %, and 40 links",
)
@pytest.mark.parametrize(("sag", "parabola", "catenary", "excess"), TABLE)
def test_the_sag_follows_from_the_length_to_spare(
    sag: float, parabola: float, catenary: float, excess: float
) -> None:
    spare = 8.0 / 3.0 * sag**2
    assert hanging(spare)[0] == pytest.approx(sag, rel=3e-3)
    assert pressed(spare)[0] == pytest.approx(sag, rel=3e-3)
