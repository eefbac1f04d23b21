"""The sensitivities against flights with the control moved both ways."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.air.stream import Stream
from luffwright.air.wind import wind_profile
from luffwright.sails.flight import Flight, fly
from luffwright.sails.measure import heeling_moment, track_forces
from luffwright.sails.rigging import Mesh
from luffwright.sails.sensitivity import sail_wrench, sensitivity
from luffwright.sails.setting import Setting
from luffwright.sails.sheet_mark import mark_setting

SHEET_ZERO = 3.45
WIND = Stream(wind_profile(6.0), np.radians(48.0), 2.8, np.radians(4.0), np.radians(8.0))
NAMES = ("sheet", "lead", "halyard", "backstay", "mainsheet", "traveller", "outhaul")
STEP = 0.01


@pytest.fixture(scope="module")
def flight() -> Flight:
    boat = load_boat("marram")
    setting = mark_setting(boat.plan).changed(sheet=0.12)
    found = fly(boat.plan, setting, WIND, SHEET_ZERO, mesh=Mesh())
    assert found.settled
    return found


def moved(flight: Flight, name: str, by: float) -> Flight:
    setting: Setting = flight.setting.changed(**{name: flight.setting.value(name) + by})
    there = fly(flight.rigging.plan, setting, WIND, SHEET_ZERO, mesh=Mesh(), near=flight)
    assert there.settled
    return there


def test_sensitivities_foretell_drive_side_force_and_moment(flight: Flight) -> None:
    known = sensitivity(flight, NAMES, SHEET_ZERO, Mesh())
    for k, name in enumerate(NAMES):
        ahead, behind = moved(flight, name, STEP), moved(flight, name, -STEP)
        forces = (track_forces(ahead) - track_forces(behind)).sum(axis=0) / (2 * STEP)
        moment = (heeling_moment(ahead) - heeling_moment(behind)) / (2 * STEP)
        # A tenth of a second difference, and what 2e-4 of force left out of balance makes of it.
        assert known.drive[k] == pytest.approx(forces[0], rel=0.05, abs=15.0), name
        assert known.side[k] == pytest.approx(forces[1], rel=0.05, abs=30.0), name
        assert known.moment[k] == pytest.approx(moment, rel=0.05, abs=300.0), name


def test_a_slack_vang_changes_nothing(flight: Flight) -> None:
    known = sensitivity(flight, ("vang",), SHEET_ZERO, Mesh())
    assert flight.pull("vang") == 0.0
    # Rounding over the probe leaves a hundredth of a newton a metre; the sheet moves hundreds.
    assert abs(known.drive[0]) < 0.1


@pytest.mark.parametrize("name", ["speed", "heel", "leeway", "wind_angle"])
def test_sensitivities_foretell_what_the_boats_motion_does(flight: Flight, name: str) -> None:
    known = sensitivity(flight, (name,), SHEET_ZERO, Mesh())
    step, wrench = 0.01, []
    for sign in (1.0, -1.0):
        stream = replace(WIND, **{name: getattr(WIND, name) + sign * step})
        there = fly(
            flight.rigging.plan, flight.setting, stream, SHEET_ZERO, mesh=Mesh(), near=flight
        )
        assert there.settled
        nodes = there.places[: there.rigging.sail_nodes]
        wrench.append(sail_wrench(nodes, there.flow.node_force, stream.heel))
    change = (wrench[0] - wrench[1]) / (2 * step)
    scale = np.array([30.0, 60.0, 60.0, 600.0, 600.0, 600.0])
    assert np.all(np.abs(known.wrench[0] - change) < 0.05 * np.abs(change) + scale)
