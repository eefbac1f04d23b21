"""Points of the boat as combinations of the unknowns."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.sails.points import PointBuilder


def test_a_fixed_point_stays_and_a_free_one_goes_where_its_unknowns_say() -> None:
    build = PointBuilder()
    build.fixed((1.0, 2.0, 3.0), "tack")
    build.free("clew")
    points = build.build()
    assert points.unknowns == 3
    assert points.names == {"tack": 0, "clew": 1}
    places = points.constant.ravel() + points.matrix() @ np.array([4.0, 5.0, 6.0])
    assert places == pytest.approx([1, 2, 3, 4, 5, 6])


def test_a_mix_lies_on_the_line_between_its_parts_and_is_shifted() -> None:
    build = PointBuilder()
    low, high = build.fixed((0.0, 0.0, 0.0)), build.free()
    build.mix([(low, 0.75), (high, 0.25)], (0.0, 1.0, 0.0))
    points = build.build()
    places = (points.constant.ravel() + points.matrix() @ np.array([4.0, 8.0, 12.0])).reshape(-1, 3)
    assert places[2] == pytest.approx([1.0, 3.0, 3.0])


def test_a_mix_of_mixes_gathers_the_weights_of_the_same_unknown() -> None:
    build = PointBuilder()
    one, other = build.free(), build.free()
    middle = build.mix([(one, 0.5), (other, 0.5)])
    build.mix([(one, 0.5), (middle, 0.5)])
    weights = build.build().matrix().toarray()[9:]
    # Three quarters of the one and a quarter of the other.
    assert np.allclose(weights, np.hstack([0.75 * np.eye(3), 0.25 * np.eye(3)]))


def test_two_points_may_share_an_unknown() -> None:
    build = PointBuilder()
    shared = build.unknown()
    for height in (1.0, 2.0):
        build.add([{shared: height}, {}, {}], (0.0, 0.0, height))
    points = build.build()
    places = points.constant + (points.matrix() @ np.array([0.1])).reshape(-1, 3)
    assert places[:, 0] == pytest.approx([0.1, 0.2])


def test_unknowns_are_found_again_from_their_places() -> None:
    build = PointBuilder()
    ends = [build.free(), build.free()]
    build.mix([(ends[0], 0.3), (ends[1], 0.7)])
    points = build.build()
    unknowns = np.array([1.0, -2.0, 3.0, 0.5, 0.25, 8.0])
    places = points.constant + (points.matrix() @ unknowns).reshape(-1, 3)
    assert points.solve_for(places) == pytest.approx(unknowns, abs=1e-9)
