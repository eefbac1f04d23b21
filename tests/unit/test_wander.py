"""Sails on average over a swinging wind: the swing itself, shares of the time, what is left out."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from statistics import NormalDist

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.air.lattice import Water, solve_flow
from luffwright.air.stall import LEECH_SEPARATED, separation
from luffwright.air.stream import Stream
from luffwright.air.wind import WindProfile
from luffwright.sails.flight import Flight, fly, sail_lattice
from luffwright.sails.measure import sail_forces, sections
from luffwright.sails.rigging import Mesh
from luffwright.sails.sensitivity import sail_wrench, sensitivity
from luffwright.sails.sheet_mark import mark_setting
from luffwright.sails.wander import (
    ACROSS,
    GUSTS_LEFT,
    Onset,
    Wander,
    leech_limit,
    left_swing,
    mean_changes,
    mean_load,
    share_beyond,
    wander,
)

HEIGHTS = np.linspace(0.5, 18.0, 8)
STILL = 0.0 * HEIGHTS
SHEET_ZERO = 3.41
"""Invented rope length near the boat's mark: here any length will do."""


@pytest.fixture(scope="module")
def flight() -> Flight:
    """Return Marram close-hauled on a coarse mesh."""
    plan = load_boat("marram").plan
    air = Stream(WindProfile(6.0, 0.24, 2e-4), np.radians(46.0), 3.0, 0.07, 0.25)
    setting = mark_setting(plan).changed(sheet=0.08, mainsheet=0.05)
    found = fly(plan, setting, air, SHEET_ZERO, mesh=Mesh(6, 5))
    assert found.settled
    return found


def swung(flight: Flight, turn_deg: float, rush: float = 0.0) -> Wander:
    """Return the average over a swing of the angle and speed alike at all heights."""
    even = np.ones_like(HEIGHTS)
    return wander(flight, HEIGHTS, math.radians(turn_deg) * even, rush * even)


def shares(found: Wander) -> np.ndarray:
    """Return (sail, level, tuft) shares of the time [-]."""
    return np.array(
        [
            [(it.windward_lifting, it.leeward_stalled, it.leech_stalled) for it in sail]
            for sail in found.tufts
        ]
    )


def states(flight: Flight) -> np.ndarray:
    """Return (sail, level, tuft) whether the still flight has each tuft in trouble."""
    return np.array(
        [
            [
                (it.windward_lifts, it.leeward_stalls, it.leech_stalls)
                for it in sections(flight, sail)
            ]
            for sail in flight.rigging.sails
        ]
    )


def test_without_a_swing_all_is_the_flights_own(flight: Flight) -> None:
    found = wander(flight, HEIGHTS, STILL, STILL)
    assert found.forces == pytest.approx(sail_forces(flight), rel=1e-12)
    assert shares(found) == pytest.approx(states(flight).astype(float))


def test_a_tuft_is_in_trouble_half_of_the_time_where_the_still_flight_says_so(
    flight: Flight,
) -> None:
    assert np.array_equal(shares(swung(flight, 3.0)) > 0.5, states(flight))


def test_more_swing_brings_every_share_nearer_to_one_half(flight: Flight) -> None:
    off = [np.abs(shares(swung(flight, turn)) - 0.5) for turn in (1.0, 2.0, 4.0, 8.0)]
    for less, more in pairwise(off):
        assert np.all(more <= less + 1e-12)
    assert np.max(off[0] - off[-1]) > 0.1


def test_a_swing_that_grows_with_height_is_felt_most_at_the_top(flight: Flight) -> None:
    even = swung(flight, 2.0)
    growing = wander(flight, HEIGHTS, np.radians(2.0) * HEIGHTS / HEIGHTS.mean(), STILL)
    nearer = np.abs(shares(even) - 0.5) - np.abs(shares(growing) - 0.5)
    top, low = nearer[:, 2], nearer[:, 0]
    assert np.max(top) > 0.01
    assert np.all(low <= 1e-9)


def test_a_pilot_leaves_more_of_the_gusts_than_a_hand_and_nobody_steers_out_waves() -> None:
    whole, waves = np.array([0.10]), np.array([0.06])
    hand, vane, pilot = (left_swing(whole, waves, helm) for helm in ("hand", "vane", "pilot"))
    assert waves < hand < vane < pilot < whole
    assert left_swing(waves, waves, "hand") == pytest.approx(waves)
    assert all(0.0 < share < 1.0 for share in GUSTS_LEFT.values())


def test_the_worse_she_is_steered_the_wider_the_tufts_swing(flight: Flight) -> None:
    whole, waves = np.full_like(HEIGHTS, 0.08), np.full_like(HEIGHTS, 0.02)
    off = [
        np.abs(shares(wander(flight, HEIGHTS, left_swing(whole, waves, helm), STILL)) - 0.5)
        for helm in ("hand", "vane", "pilot")
    ]
    assert np.all(off[1] <= off[0] + 1e-12)
    assert np.all(off[2] <= off[1] + 1e-12)
    assert off[2].sum() < off[0].sum() - 0.05


def test_speeds_swing_costs_no_more_than_the_flow_solved_at_either_end_says(
    flight: Flight,
) -> None:
    """Against the lattice solved anew: exact in proportion, near where it grows up the mast."""
    fine = np.linspace(0.3, 20.0, 400)
    speed, _ = flight.stream.apparent(fine)
    nodes = flight.places[: flight.rigging.sail_nodes]
    mesh, water = sail_lattice(flight.rigging.plan, Mesh(6, 5)), Water(flight.stream.up)
    still = flight.flow.node_force
    for ratio, within in ((0.2 + 0.0 * fine, 2e-5), (0.05 + 0.25 * fine / 20.0, 2e-3)):
        onset = Onset(flight.stream, fine, 0.0 * fine, ratio * speed)
        ends = [
            solve_flow(mesh, nodes, onset.swung(0.0, side), water, flight.density).node_force
            for side in (-1.0, 1.0)
        ]
        solved = 0.5 * (ends[0] + ends[1]) - still
        found = mean_load(flight, onset) - still
        off = np.linalg.norm((found - solved).sum(axis=0)) / np.linalg.norm(still.sum(axis=0))
        assert np.linalg.norm(solved.sum(axis=0)) > 0.005 * np.linalg.norm(still.sum(axis=0))
        assert off < within


@pytest.mark.parametrize("name", ["sheet", "mainsheet", "speed", "heel", "wind_angle"])
def test_changes_of_the_average_foretell_the_average_of_a_changed_flight(
    flight: Flight, name: str
) -> None:
    """Against the average of shapes held as foretold, moved a thousand times as far."""
    turn, rush = np.radians(4.0) * np.ones(8), np.full(8, 0.5)

    def onset_of(stream: Stream) -> Onset:
        return Onset(stream, HEIGHTS, turn, rush)

    known = sensitivity(flight, (name,), SHEET_ZERO, Mesh(6, 5))
    found = mean_changes(flight, onset_of, known)
    wrenches = []
    for step in (-5e-3, 5e-3):
        stream = flight.stream
        if name not in {"sheet", "mainsheet"}:
            stream = replace(stream, **{name: getattr(stream, name) + step})
        places = flight.places + step * known.places[0]
        nodes = places[: flight.rigging.sail_nodes]
        mesh = sail_lattice(flight.rigging.plan, Mesh(6, 5))
        flow = solve_flow(mesh, nodes, stream, Water(stream.up), flight.density)
        there = replace(flight, stream=stream, places=places, flow=flow)
        wrenches.append(sail_wrench(nodes, mean_load(there, onset_of(stream)), stream.heel))
    change = (wrenches[1] - wrenches[0]) / 1e-2
    assert found.wrench[0] == pytest.approx(change, rel=0.02, abs=0.02 * np.abs(change).max())
    assert found.wrench[0] != pytest.approx(known.wrench[0], rel=1e-3)


def test_the_swung_wind_is_the_mean_and_a_velocity_square_to_it(flight: Flight) -> None:
    air = replace(flight.stream, heel=0.0)
    points = np.array([[0.0, 0.0, 2.0], [0.0, 0.0, 9.0]])
    turn = 0.01 * HEIGHTS
    off = Onset(air, HEIGHTS, turn, STILL).swung(1.0, 0.0)(points)
    before, angle = air.apparent(points[:, 2])
    assert np.arctan2(off[:, 1], -off[:, 0]) - angle == pytest.approx([0.02, 0.09])
    assert np.hypot(off[:, 0], off[:, 1]) == pytest.approx(before / np.cos([0.02, 0.09]))
    slow = Onset(air, HEIGHTS, turn, 0.1 * HEIGHTS).swung(0.0, -1.0)(points)
    assert np.hypot(slow[:, 0], slow[:, 1]) == pytest.approx(before - [0.2, 0.9])
    assert np.arctan2(slow[:, 1], -slow[:, 0]) == pytest.approx(angle)


def test_the_places_have_the_moments_of_a_normal_variable() -> None:
    """Moments of the normal distribution: 1, 0, 1, 0, 3, 0."""
    place, weight = ACROSS
    at = np.array([-place, 0.0, place])
    with_weight = np.array([weight, 1.0 - 2.0 * weight, weight])
    found = [float(with_weight @ at**k) for k in range(6)]
    assert found == pytest.approx([1, 0, 1, 0, 3, 0])


def test_a_share_is_the_normal_distributions() -> None:
    """Against the standard library's normal distribution."""
    got = share_beyond(np.array([0.05, 0.05]), np.array([0.02, 0.0]), np.array([0.03, 0.06]))
    assert got == pytest.approx([1.0 - NormalDist(0.05, 0.02).cdf(0.03), 0.0])


@pytest.mark.parametrize("camber", [0.1, 0.3, 0.45])
def test_beyond_the_leechs_limit_its_tuft_no_longer_streams(camber: float) -> None:
    limit = leech_limit(camber)
    around = np.array([limit - 0.004, limit + 0.004])
    inside, outside = separation(around, np.full(2, camber))
    assert outside < LEECH_SEPARATED < inside


def test_a_belly_too_deep_for_its_leech_has_it_stalled_from_the_start() -> None:
    assert leech_limit(0.7) < 0.03
