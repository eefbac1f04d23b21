"""What the masthead instruments read: sign, mirror, and nothing where the sails carry nothing."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from luffwright.aboard.boat import Boat, load_boat
from luffwright.air.lattice import Water, solve_flow
from luffwright.air.stream import Stream
from luffwright.air.upwash import induced_velocity
from luffwright.air.wind import WindProfile
from luffwright.app.sensor import sensor_place, sensor_wind
from luffwright.sails.flight import Flight, fly, sail_lattice
from luffwright.sails.rigging import Mesh
from luffwright.sails.sheet_mark import mark_setting

MESH = Mesh(6, 5)
MIRROR = np.array([1.0, -1.0, 1.0])


@pytest.fixture(scope="module")
def boat() -> Boat:
    return load_boat("marram")


@pytest.fixture(scope="module")
def flight(boat: Boat) -> Flight:
    """Return Marram close-hauled on a coarse mesh."""
    air = Stream(WindProfile(6.0, 0.24, 2e-4), np.radians(46.0), 3.0, 0.07, 0.25)
    setting = mark_setting(boat.plan).changed(sheet=0.08, mainsheet=0.05)
    found = fly(boat.plan, setting, air, 3.45, mesh=MESH)
    assert found.settled
    return found


def lifting(flight: Flight, share: float) -> Flight:
    """Return the flight with a share of the circulations."""
    flow = replace(flight.flow, circulation=share * flight.flow.circulation)
    return replace(flight, flow=flow)


def test_sails_that_carry_nothing_leave_the_wind_as_it_is_in_the_masts_frame(
    boat: Boat, flight: Flight
) -> None:
    """Level wind V at angle b, mast heeled by h: tan of the reading is tan b cos h."""
    found = sensor_wind(boat, lifting(flight, 0.0))
    air = flight.stream
    height = sensor_place(boat) @ air.up
    _, angle = air.apparent(np.array([height]))
    assert np.tan(found.angle) == pytest.approx(np.tan(angle[0]) * np.cos(air.heel))


def test_the_more_the_sails_lift_the_freer_the_wind_reads(boat: Boat, flight: Flight) -> None:
    angles = [sensor_wind(boat, lifting(flight, share)).angle for share in (0.0, 0.5, 1.0)]
    widened = np.degrees(np.diff(angles))
    assert np.all(widened > 0.5)
    # Nearly in proportion: the velocities add, the angle is that of their sum.
    assert widened[1] == pytest.approx(widened[0], rel=0.1)


def test_boat_sails_and_wind_mirrored_give_the_mirrored_velocity(
    boat: Boat, flight: Flight
) -> None:
    air = flight.stream
    over_port = replace(air, wind_angle=-air.wind_angle, leeway=-air.leeway, heel=-air.heel)
    mesh, count = sail_lattice(flight.rigging.plan, MESH), flight.rigging.sail_nodes
    nodes = flight.places[:count] * MIRROR
    flow = solve_flow(mesh, nodes, over_port, Water(over_port.up), flight.density)
    points = np.array([sensor_place(boat), [3.0, 1.0, 4.0]])
    one = induced_velocity(mesh, flight.flow, flight.places[:count], Water(air.up), points)
    other = induced_velocity(mesh, flow, nodes, Water(over_port.up), points * MIRROR)
    assert other == pytest.approx(one * MIRROR, rel=1e-5, abs=1e-6)


def test_the_water_lets_none_of_the_sails_flow_through(flight: Flight) -> None:
    """The mirror's condition, exact: on the water no velocity along the level vertical."""
    up = flight.stream.up
    mesh, nodes = (
        sail_lattice(flight.rigging.plan, MESH),
        flight.places[: flight.rigging.sail_nodes],
    )
    flat = np.array([[6.0, 1.0, 0.0], [-3.0, -5.0, 0.0], [0.0, 9.0, 0.0]])
    points = flat - np.outer(flat @ up, up)
    found = induced_velocity(mesh, flight.flow, nodes, Water(up), points)
    assert found @ up == pytest.approx(np.zeros(3), abs=1e-9)
    assert np.all(np.linalg.norm(found, axis=1) > 0.01)
