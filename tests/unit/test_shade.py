"""The lee of a sail before the wind: who stands in it, how deep, and where its edges are."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.air.lattice import Flow, Lattice, Water, lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.air.shade import LEFT, cast, reaching, shade_of
from luffwright.air.shift import STEP, Scene, load_shifts
from luffwright.arrays import FloatArray
from luffwright.frames import mirror

ROWS, COLUMNS = 7, 6
AFT = np.array([6.0, 0.0, 0.0])
HEIGHT = np.linspace(1.0, 13.0, ROWS)


def edges(width: float = 4.0, trim: float = 90.0) -> tuple[FloatArray, FloatArray]:
    """Return luff and leech of a rectangular sail, its chord at an angle to the middle line."""
    angle = np.radians(trim)
    luff = np.stack([0.0 * HEIGHT, 0.0 * HEIGHT, HEIGHT], axis=1)
    return luff, luff + width * np.array([-np.cos(angle), np.sin(angle), 0.0])


def felt(points: list[tuple[float, float, float]] | FloatArray, width: float = 4.0) -> FloatArray:
    """Return what reaches points behind a squared-off sail in wind from right aft."""
    at = np.array(points)
    wind = np.tile(AFT, (len(at), 1))
    return reaching(at, wind, *edges(width), np.ones(ROWS - 1))


def test_far_to_the_side_above_and_ahead_all_of_the_wind_arrives() -> None:
    free = [(3.0, -4.0, 6.0), (3.0, 9.0, 6.0), (3.0, 2.0, 17.0), (-2.0, 2.0, 6.0)]
    assert felt(free).tolist() == [1.0, 1.0, 1.0, 1.0]


def test_right_behind_the_middle_a_fifth_of_the_wind_arrives() -> None:
    assert felt([(3.0, 2.0, 7.0)]) == pytest.approx([LEFT])


def test_straight_behind_an_edge_half_of_the_loss_is_felt_at_any_distance() -> None:
    assert felt([(2.0, 0.0, 7.0), (4.0, 4.0, 7.0)]) == pytest.approx(2 * [0.5 * (1.0 + LEFT)])


def test_an_edge_is_wider_by_a_third_of_what_is_further_behind() -> None:
    """Where the loss has just begun and where it is whole, at two distances behind the luff."""

    def width(behind: float) -> float:
        across = np.linspace(-8.0, 8.0, 3201)
        wind = felt([(behind, float(y), 7.0) for y in across], width=40.0)
        mixed = across[(wind > LEFT + 1e-9) & (wind < 1.0 - 1e-9)]
        return float(mixed[-1] - mixed[0])

    # Free shear layer and swing of the wind together, to either side.
    assert (width(6.0) - width(3.0)) / 6.0 == pytest.approx(0.32, abs=0.01)


def test_strips_join_without_a_seam() -> None:
    """A sail in six strips shades as the same sail in one piece."""
    luff, leech = edges()
    rng = np.random.default_rng(3)
    at = rng.uniform((0.0, -3.0, -1.0), (6.0, 7.0, 15.0), (200, 3))
    wind = np.tile(AFT, (200, 1))
    many = reaching(at, wind, luff, leech, np.ones(ROWS - 1))
    one = reaching(at, wind, luff[[0, -1]], leech[[0, -1]], np.ones(1))
    assert many == pytest.approx(one, abs=1e-12)


def test_the_shade_has_no_jump() -> None:
    """Along lines through luff, leech, head and on ahead: never steeper than its narrowest edge."""
    step = 1e-3
    for start, along in (
        ((1.5, -4.0, 6.0), (0.0, 1.0, 0.0)), ((2.0, 1.0, 8.0), (0.0, 0.0, 1.0)),
        ((-1.0, 2.0, 6.0), (1.0, 0.0, 0.0)),
    ):  # fmt: skip
        line = np.array(start) + step * np.arange(9000)[:, None] * np.array(along)
        wind = felt(line)
        assert np.ptp(wind) > 0.5
        assert np.abs(np.diff(wind)).max() < step * 1.5 / (2.0 * 0.3)


def onset_at(degrees: float, side: float = 1.0) -> FloatArray:
    angle = np.radians(degrees)
    return 6.0 * np.array([-np.cos(angle), side * np.sin(angle), 0.0])


@pytest.mark.parametrize("trim", [5.0, 30.0, 80.0])
@pytest.mark.parametrize("degrees", [20.0, 60.0, 90.0])
def test_wind_from_forward_of_the_beam_casts_no_shade(degrees: float, trim: float) -> None:
    wind = onset_at(degrees)[None, :]
    assert cast(*edges(trim=trim), lambda _: wind).tolist() == [0.0] * (ROWS - 1)


@pytest.mark.parametrize("degrees", [120.0, 150.0])
def test_a_sail_that_streams_casts_no_shade(degrees: float) -> None:
    """Its chord at twelve degrees to the wind, from ahead or from its leech."""
    wind = onset_at(degrees)[None, :]
    assert cast(*edges(trim=degrees - 12.0), lambda _: wind).tolist() == [0.0] * (ROWS - 1)


def sail(tack: FloatArray, clew: FloatArray, head: FloatArray) -> FloatArray:
    """Return nodes of a triangular sail with some belly ahead of its plane."""
    up = np.linspace(0.0, 1.0, ROWS)[:, None, None]
    aft = np.linspace(0.0, 1.0, COLUMNS)[None, :, None]
    peak = head + np.array([0.0, 0.2, 0.0])
    luff, leech = (1.0 - up) * tack + up * head, (1.0 - up) * clew + up * peak
    chord = np.linalg.norm(leech - luff, axis=2, keepdims=True)
    bulge = 0.4 * chord * aft * (1.0 - aft) * np.array([0.6, 0.8, 0.0])
    return ((1.0 - aft) * luff + aft * leech + bulge).reshape(-1, 3)


def two_sails() -> FloatArray:
    """Return a headsail sheeted out and a mainsail squared off."""
    jib = sail(np.array([4.0, 0, 1.2]), np.array([1.2, 2.4, 1.7]), np.array([0.2, 0.0, 12.0]))
    main = sail(np.array([0.0, 0, 2.0]), np.array([-0.7, 4.0, 2.0]), np.array([-0.3, 0.0, 13.0]))
    return np.vstack([jib, main])


SHEETS = (sheet_mesh(ROWS, COLUMNS), sheet_mesh(ROWS, COLUMNS))
SHADED: Lattice = lattice(SHEETS, (0.0, 0.0), (), (shade_of(SHEETS, by=1, on=0),))
PLAIN: Lattice = lattice(SHEETS, (0.0, 0.0))
WATER = Water(np.array([0.0, 0.0, 1.0]))


def solved(mesh: Lattice, nodes: FloatArray, degrees: float, side: float = 1.0) -> Flow:
    wind = onset_at(degrees, side)
    return solve_flow(mesh, nodes, lambda at: np.tile(wind, (len(at), 1)), WATER, 1.225)


def pull(flow: Flow, sail_number: int) -> float:
    """Return the drive of a sail [N]."""
    half = len(flow.node_force) // 2
    return float(flow.node_force[sail_number * half : (sail_number + 1) * half, 0].sum())


def test_on_a_run_the_headsail_loses_most_of_its_pull_and_the_mainsail_none() -> None:
    nodes = two_sails()
    alone, behind = solved(PLAIN, nodes, 175.0), solved(SHADED, nodes, 175.0)
    assert pull(behind, 0) < 0.5 * pull(alone, 0)
    assert pull(behind, 1) == pytest.approx(pull(alone, 1), rel=0.03)


def test_to_windward_nothing_changes_to_the_last_digit() -> None:
    nodes = two_sails()
    alone, behind = solved(PLAIN, nodes, 60.0), solved(SHADED, nodes, 60.0)
    assert not behind.in_lee
    assert np.array_equal(alone.node_force, behind.node_force)


def test_mirrored_sails_stand_in_a_mirrored_lee() -> None:
    nodes = two_sails()
    here, there = solved(SHADED, nodes, 160.0), solved(SHADED, mirror(nodes), 160.0, -1.0)
    assert here.reached.min() < 0.5
    assert there.reached == pytest.approx(here.reached, abs=1e-9)
    assert there.node_force == pytest.approx(mirror(here.node_force), abs=1e-6)


def test_loads_in_the_lee_answer_to_a_shift_as_flows_solved_on_both_sides_of_it_do() -> None:
    """The mainsail alone swings, and its shadow with it."""
    nodes, degrees, aside = two_sails(), 165.0, 2e-4
    swing = np.zeros_like(nodes)
    half = len(nodes) // 2
    swing[half:] = np.stack([nodes[half:, 1], -nodes[half:, 0], 0.0 * nodes[half:, 2]], axis=1)
    flow, wind = solved(SHADED, nodes, degrees), onset_at(degrees)

    def scene(at: FloatArray) -> Scene:
        def onset(points: FloatArray) -> FloatArray:
            return np.tile(wind, (len(points), 1))

        return Scene(at, (onset,), onset, WATER)

    told = load_shifts(SHADED, (flow,), scene(nodes), (scene(nodes + STEP * swing),))[0, 0]
    ends = [solved(SHADED, nodes + by * swing, degrees).node_force for by in (-aside, aside)]
    seen = (ends[1] - ends[0]) / (2.0 * aside)
    assert np.abs(seen[:half]).max() > 1.0
    assert np.abs(told - seen).max() < 5e-3 * np.abs(seen).max()
