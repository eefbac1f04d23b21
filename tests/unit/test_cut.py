"""The sail as the loft made it: corners, sides, moulded depth, what is rolled or reefed away."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from luffwright.arrays import FloatArray
from luffwright.sails.cut import (
    Moulded,
    camber_line,
    clew_place,
    moulded,
    rolled,
    sail_area,
    triangles,
)
from luffwright.sails.plan import Cloth, SailCut

CLOTH = Cloth(3e5, 4e5, 6e4, 0.2, 0.3)
FLAT = SailCut("headsail", 12.0, 13.0, 5.0, 0.0, 0.0, 0.0, 0.0, (1e-9,) * 3, (0.4,) * 3, 0.0, CLOTH)
DEEP = replace(FLAT, camber=(0.08, 0.12, 0.10), draft=(0.40, 0.40, 0.40))


def area_of(shape: Moulded) -> float:
    """Return a moulded sail's area."""
    return sail_area(shape.nodes, triangles(shape.rows, shape.columns))


def section_depth(grid: FloatArray, row: int) -> float:
    """Return a section's greatest depth from its chord, as a share of the chord."""
    section = grid[row]
    chord = section[-1] - section[0]
    length = float(np.linalg.norm(chord))
    away = np.linalg.norm(np.cross(section - section[0], chord / length), axis=1)
    return float(away.max()) / length


def test_the_clew_lies_at_the_lengths_of_leech_and_foot() -> None:
    cut = replace(FLAT, luff=11.0, leech=10.0, foot=6.0, head_width=0.3)
    u, v = clew_place(cut)
    assert np.hypot(u, v) == pytest.approx(6.0)
    assert np.hypot(u - 0.3, v - 11.0) == pytest.approx(10.0)
    assert u > 0.0


def test_a_flat_sails_area_is_that_of_its_triangle() -> None:
    # Sides 5, 12, 13: a right angle, 30 m².
    assert area_of(moulded(FLAT, 9, 7)) == pytest.approx(30.0, rel=1e-6)


def test_the_corners_stand_where_the_sides_put_them() -> None:
    grid = moulded(FLAT, 9, 7).grid
    assert grid[0, 0] == pytest.approx([0, 0, 0])
    assert grid[-1, 0] == pytest.approx([0, 12, 0])
    assert grid[0, -1] == pytest.approx([5, 0, 0])


def test_the_moulded_depth_is_what_was_asked_for_at_the_three_heights() -> None:
    # Thirteen rows put nodes at 1/4, 1/2 and 3/4; eleven columns put one at 40 %.
    grid = moulded(DEEP, 13, 11).grid
    assert [section_depth(grid, row) for row in (3, 6, 9)] == pytest.approx([0.08, 0.12, 0.10])


@pytest.mark.parametrize(
    ("place", "depth"), [(0.1, 0.875), (0.2, 1.5), (0.4, 2.0), (0.6, 1.7778), (0.8, 1.1111)]
)
def test_the_camber_line_is_the_four_digit_mean_line(place: float, depth: float) -> None:
    # Ordinates of mean line 24 in per cent: m = 0.02, p = 0.4 in NACA Report 460's formula.
    found = camber_line(np.array(place), np.array(0.02), np.array(0.4))
    assert 100.0 * float(found) == pytest.approx(depth, abs=5e-5)


def test_the_head_is_turned_by_the_moulded_twist() -> None:
    cut = replace(FLAT, head_width=1.0, twist=np.radians(12.0))
    grid = moulded(cut, 9, 7).grid
    head = grid[-1, -1] - grid[-1, 0]
    foot = grid[0, -1] - grid[0, 0]
    assert np.degrees(np.arctan2(head[2], head[0])) == pytest.approx(12.0)
    assert np.degrees(np.arctan2(foot[2], foot[0])) == pytest.approx(0.0)


def test_roach_and_hollow_add_and_take_off_at_half_height() -> None:
    plain, roach = (moulded(replace(FLAT, leech_curve=c), 9, 7).grid for c in (0.0, 0.3))
    assert np.linalg.norm(roach[4, -1] - plain[4, -1]) == pytest.approx(0.3)
    hollow = area_of(moulded(replace(FLAT, leech_curve=-0.3), 9, 7))
    assert hollow < 30.0 < area_of(moulded(replace(FLAT, leech_curve=0.3), 9, 7))


def test_a_luff_hollow_moves_the_cut_luff_aft_at_half_height() -> None:
    luff = moulded(replace(FLAT, luff_curve=0.01), 9, 7).grid[:, 0]
    assert luff[4, 0] == pytest.approx(0.12)
    assert luff[[0, -1], 0] == pytest.approx([0, 0])


def test_rolling_a_share_away_leaves_a_similar_sail_on_the_same_stay() -> None:
    cut = replace(FLAT, luff=11.0, leech=10.0, foot=6.0)
    smaller, height = rolled(cut, 0.3)
    assert (smaller.luff, smaller.leech, smaller.foot) == pytest.approx((7.7, 7.0, 4.2))
    whole, left = area_of(moulded(cut, 9, 7)), area_of(moulded(cut, 9, 7, rolled_share=0.3))
    assert left / whole == pytest.approx(0.7**2)
    # The clew rolls in square to the luff: it keeps its height.
    assert height + clew_place(smaller)[1] == pytest.approx(clew_place(cut)[1])


def test_the_clew_rolls_in_square_to_the_luff() -> None:
    cut = replace(FLAT, luff=11.0, leech=10.0, foot=6.0)
    u, v = clew_place(cut)
    left = moulded(cut, 9, 7, rolled_share=0.3)
    assert left.tack_height == pytest.approx(0.3 * v, abs=1e-3)
    assert left.grid[0, -1] == pytest.approx([0.7 * u, 0.7 * v, 0.0], abs=1e-3)
    assert left.grid[-1, 0, 1] == pytest.approx(0.7 * 11.0, abs=2e-3)


def test_what_is_left_of_a_round_section_and_what_is_on_the_roll_are_all_its_cloth() -> None:
    """A parabola of chord c and depth k c: the roll takes the same arc at every height."""
    depth, share = 0.10, 0.3
    cut = replace(FLAT, camber=(depth,) * 3, draft=(0.5,) * 3)
    left = moulded(cut, 11, 41, rolled_share=share)

    def arc(chord: float, upto: float) -> float:
        return quad(lambda s: chord * np.hypot(1.0, 4.0 * depth * (1.0 - 2.0 * s)), 0.0, upto)[0]

    for row in (0, 3, 6):
        chord = 5.0 * (1.0 - float(left.eta[row]))
        start = brentq(lambda s, c=chord: arc(c, s) - share * 5.0, 0.0, 1.0)
        assert left.away[row] == pytest.approx(start, abs=2e-3)
        steps = np.linalg.norm(np.diff(left.grid[row], axis=0), axis=1).sum()
        assert steps == pytest.approx(arc(chord, 1.0) - share * 5.0, rel=2e-3)


def test_a_rolled_sail_with_depth_has_cloth_to_spare_in_the_middle_and_a_flat_one_has_none() -> (
    None
):
    """At rest its new luff stands off the stay, most near the middle.

    Where 1.5 m are rolled away the whole sections are 0.41 m deep at the foot (chord 5 m, 29 % of
    it gone), 0.32 m half-way up what is left (chord 3.25 m, 45 % gone) and not at all at the head:
    0.32 - 0.41 / 2 = 0.12 m off the straight line.
    """
    off = []
    for depth in (1e-9, 0.10):
        cut = replace(FLAT, camber=(depth,) * 3, draft=(0.5,) * 3)
        luff = moulded(cut, 11, 9, rolled_share=0.3).grid[:, 0]
        along = luff[-1] / np.linalg.norm(luff[-1])
        off.append(np.linalg.norm(luff - np.outer(luff @ along, along), axis=1))
    assert off[0].max() < 1e-6
    assert off[1][5] == pytest.approx(0.12, abs=0.015)


def test_the_roll_s_new_head_is_as_wide_as_the_old_one() -> None:
    cut = replace(DEEP, head_width=0.15)
    left = moulded(cut, 9, 7, rolled_share=0.25)
    assert np.linalg.norm(left.grid[-1, -1] - left.grid[-1, 0]) == pytest.approx(0.15, rel=0.05)


def test_a_rolled_sail_starts_with_its_luff_straight_and_its_rows_unbent() -> None:
    left = moulded(DEEP, 9, 7, rolled_share=0.3)
    hung = left.hung.reshape(9, 7, 3)
    assert hung[:, 0, [0, 2]] == pytest.approx(np.zeros((9, 2)))
    lengths = [np.linalg.norm(np.diff(grid, axis=1), axis=2) for grid in (hung, left.grid)]
    assert lengths[0] == pytest.approx(lengths[1])


def test_a_reef_s_tack_and_clew_are_its_cringles() -> None:
    cut = replace(FLAT, leech_curve=0.3, foot_curve=0.2)
    whole, reefed = moulded(cut, 9, 7), moulded(cut, 9, 7, reef_from=0.25)
    assert reefed.grid[0, 0] == pytest.approx([0.0, 0.0, 0.0])
    # The clew's cringle: on the leech with its roach, a quarter of the way up.
    assert reefed.grid[0, -1] == pytest.approx(whole.grid[2, -1] - whole.grid[2, 0])
    assert reefed.grid[-1, 0, 1] == pytest.approx(0.75 * 12.0)


def test_a_reef_leaves_the_cloth_above_it() -> None:
    reefed = moulded(FLAT, 9, 7, reef_from=0.2)
    assert reefed.grid[0, 0, 1] == pytest.approx(0.0)
    # A triangle's part above a fifth of its height.
    assert area_of(reefed) == pytest.approx(30.0 * 0.8**2, rel=1e-6)


def test_two_triangles_a_quad_cover_the_grid_once_and_face_one_way() -> None:
    across, up = np.meshgrid(np.arange(4.0), np.arange(3.0))
    nodes = np.stack([across.ravel(), up.ravel(), 0.0 * up.ravel()], axis=1)
    faces = triangles(3, 4)
    assert len(faces) == 12
    assert sail_area(nodes, faces) == pytest.approx(6.0)
    corner = nodes[faces]
    facing = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])[:, 2]
    assert np.all(facing > 0.0)


def test_the_warp_runs_square_to_the_leech() -> None:
    shape = moulded(FLAT, 5, 5)
    leech = shape.grid[-1, -1] - shape.grid[0, -1]
    assert np.allclose(shape.fibre @ leech, 0.0, atol=1e-12)
