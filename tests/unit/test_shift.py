"""Loads' answer to a shift against flows solved anew a little to either side."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from luffwright.air.lattice import Flow, Lattice, Water, lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.air.shift import STEP, Scene, load_shifts
from luffwright.air.stream import Stream
from luffwright.air.wind import wind_profile
from luffwright.arrays import FloatArray

ROWS, COLUMNS, ASIDE = 7, 5, 2e-4
MESH: Lattice = lattice((sheet_mesh(ROWS, COLUMNS), sheet_mesh(ROWS, COLUMNS)), (0.0, 1.0))


def two_sails(turn: float) -> FloatArray:
    """Return two bellied, twisted sails behind one another, turned by an angle [rad]."""
    aft, up = np.meshgrid(np.linspace(0.0, 1.0, COLUMNS), np.linspace(0.0, 1.0, ROWS))
    sails = []
    for front, foot in ((0.0, 0.6), (-2.6, 1.2)):
        chord, angle = 2.5 * (1.0 - 0.6 * up), turn + 0.25 * up
        ahead, aside = -aft * chord, 0.4 * aft * (1.0 - aft) * chord
        x = front + ahead * np.cos(angle) + aside * np.sin(angle)
        y = aside * np.cos(angle) - ahead * np.sin(angle)
        sails.append(np.stack([x, y, foot + 9.0 * up], axis=-1).reshape(-1, 3))
    return np.vstack(sails)


def bend_of(nodes: FloatArray) -> FloatArray:
    """Return a shift that bends, twists and stretches the sails, by one unit."""
    x, _, z = nodes.T
    return np.stack([0.05 * np.sin(z), 0.2 * z - 0.1 * x * np.cos(z), 0.03 * x * z], axis=1)


def solved(nodes: FloatArray, stream: Stream, first: FloatArray | None = None) -> Flow:
    return solve_flow(MESH, nodes, stream, Water(stream.up), 1.2, first=first)


def scene(nodes: FloatArray, stream: Stream) -> Scene:
    return Scene(nodes, (stream,), stream, Water(stream.up))


def moved(stream: Stream, name: str, by: float) -> Stream:
    return stream if name == "shape" else replace(stream, **{name: getattr(stream, name) + by})


@pytest.mark.parametrize("name", ["shape", "speed", "heel", "leeway", "wind_angle"])
@pytest.mark.parametrize("degrees", [35.0, 75.0, 150.0])
def test_loads_answer_to_a_shift_as_flows_solved_on_both_sides_of_it_do(
    name: str, degrees: float
) -> None:
    """Attached, stalled, and met from the leech; shape and wind change together."""
    stream = Stream(wind_profile(7.0), np.radians(degrees), 2.5, 0.06, 0.2)
    nodes = two_sails(0.2)
    flow, bend = solved(nodes, stream), bend_of(nodes)
    there = scene(nodes + STEP * bend, moved(stream, name, STEP))
    told = load_shifts(MESH, (flow,), scene(nodes, stream), (there,))[0, 0]
    ends = [
        solved(nodes + by * bend, moved(stream, name, by), flow.strip.incidence).node_force
        for by in (-ASIDE, ASIDE)
    ]
    seen = (ends[1] - ends[0]) / (2.0 * ASIDE)
    assert flow.strip.gap < 1e-8
    assert np.abs(told - seen).max() < 5e-3 * np.abs(seen).max()


def test_nothing_changes_where_nothing_shifts() -> None:
    stream = Stream(wind_profile(7.0), 0.6, 2.5, 0.06, 0.2)
    here = scene(two_sails(0.2), stream)
    assert not load_shifts(MESH, (solved(here.nodes, stream),), here, (here,)).any()
