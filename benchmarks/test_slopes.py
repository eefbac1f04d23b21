"""The slopes of a flight: told along each shift, against flows solved anew for each."""

from __future__ import annotations

from collections.abc import Callable

from luffwright.air.lattice import Water, solve_flow
from luffwright.air.shift import STEP, Scene, load_shifts
from luffwright.app.question import MESH, question
from luffwright.app.request import Request
from luffwright.sails.flight import fly, sail_lattice
from luffwright.sails.sensitivity import sensitivity

SHIFTED = ("sheet", "mainsheet", "traveller", "backstay", "halyard", "outhaul", "lead", "heel")


def test_slopes_of_the_loads_take_less_than_half_of_flows_solved_anew(
    least_time: Callable[[Callable[[], object], int], float],
) -> None:
    asked = question(Request(boat="marram", wind_kn=12.0, angle_deg=48.0))
    plan, stream = asked.boat.plan, asked.stream
    flight = fly(plan, asked.setting, stream, asked.sheet_zero, mesh=MESH, density=asked.density)
    known = sensitivity(flight, SHIFTED, asked.sheet_zero, MESH)
    mesh, nodes = sail_lattice(plan, MESH), flight.places[: flight.rigging.sail_nodes]
    water = Water(stream.up)
    places = [nodes + STEP * move[: len(nodes)] for move in known.places]
    scenes = tuple(Scene(there, (stream,), stream, water) for there in (nodes, *places))

    def anew() -> None:
        for there in places:
            first = flight.flow.strip.incidence
            solve_flow(mesh, there, stream, water, flight.density, first=first)

    # By turns, so that whatever else the machine does falls on both.
    turns = [
        (
            least_time(lambda: load_shifts(mesh, (flight.flow,), scenes[0], scenes[1:]), 4),
            least_time(anew, 4),
        )
        for _ in range(4)
    ]
    told, solved = (min(times) for times in zip(*turns, strict=True))
    print(f"\n{len(SHIFTED)} slopes told in {1e3 * told:.1f} ms, flows solved anew "
          f"{1e3 * solved:.1f} ms: ratio {told / solved:.2f}")  # fmt: skip
    assert told < 0.5 * solved
