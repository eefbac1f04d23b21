"""The minute's waves and gusts in the balance: what balances, what they cost, who steers."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Literal

import numpy as np
import pytest

from luffwright.app.fly import flown, sail
from luffwright.app.question import MESH, Question, question
from luffwright.app.request import Request
from luffwright.app.swing import minute_of, wandering
from luffwright.sails.flight import fly
from luffwright.units import to_knots
from luffwright.water.equilibrium import TOLERANCE, Balanced, balance
from luffwright.water.minute import onset
from luffwright.water.sums import outer_wrench, sail_sums
from luffwright.water.waves import added_resistance

SeaWord = Literal["flat", "slight", "moderate", "rough"]
Helm = Literal["hand", "pilot", "vane"]


@cache
def asked(sea: SeaWord = "slight", helm: Helm = "hand", angle: float = 46.0) -> Question:
    return question(
        Request(boat="marram", wind_kn=12.0, angle_deg=angle, sea=sea, steered_by=helm)
    )  # fmt: skip


@cache
def balanced(sea: SeaWord = "slight", helm: Helm = "hand", angle: float = 46.0) -> Balanced:
    here = asked(sea, helm, angle)
    found = sail(here, flown(here))
    assert found.settled
    return found


@pytest.mark.parametrize("sea", ["slight", "rough"])
def test_what_balances_is_the_average_of_the_sails_forces(sea: SeaWord) -> None:
    angle = 54.0  # at 50° the flow is straight enough in the angle for the swing to average out
    found = balanced(sea, angle=angle)
    flight, leeway = found.flight, found.flight.stream.leeway
    outer, _ = outer_wrench(found.at, flight.stream, found.motion, flight.density)
    mean = wandering(asked(sea, angle=angle), flight).track_forces(leeway).sum(axis=0)
    left = sail_sums(outer, leeway)[:2] + mean
    assert np.all(np.abs(left) < 1.01 * TOLERANCE * found.scales[:2])
    still = np.abs(found.more[:2]) > 2.0 * TOLERANCE * found.scales[:2]
    assert np.any(still)  # the still flight's forces would not balance her


def test_the_waves_cost_the_speed_that_their_resistance_costs() -> None:
    """The loss to first order: the sums' slopes, all four motions following, against Newton's."""
    calm, at_sea = balanced("flat"), balanced("slight")
    drag = [
        added_resistance(minute_of(asked(sea)).sea, calm.at.hull, np.radians(46.0)).resistance
        for sea in ("flat", "slight")
    ]
    right = np.array([drag[1] - drag[0], 0.0, 0.0, 0.0]) - sail_sums(
        at_sea.more - calm.more, calm.flight.stream.leeway
    )
    foretold = np.linalg.solve(calm.slopes, right)
    loss = at_sea.motion[0] - calm.motion[0]
    assert to_knots(loss) < -0.02
    assert loss == pytest.approx(foretold[0], rel=0.25)


@pytest.mark.parametrize("angle", [46.0, 60.0])
def test_rougher_seas_cost_more_and_waves_from_astern_nothing(angle: float) -> None:
    seas: list[SeaWord] = ["flat", "slight", "moderate"]
    speeds = [balanced(sea, angle=angle).motion[0] for sea in seas]
    assert np.all(np.diff(speeds) < 0.0)
    boat = asked().boat
    sea = minute_of(asked("rough")).sea
    assert added_resistance(sea, boat.hull, np.pi).resistance == 0.0


def test_the_helm_reaches_the_balance() -> None:
    """A pilot leaves more of the gusts' swing: other forces on average, and another speed."""
    hand, pilot = balanced(), balanced(helm="pilot")
    plan, hull = hand.course.plan, hand.at.hull
    turns = [
        onset(minute_of(asked(helm=helm)), hull, plan, hand.flight.stream).turn
        for helm in ("hand", "vane", "pilot")
    ]
    assert np.all(turns[0] < turns[1])
    assert np.all(turns[1] < turns[2])
    apart = np.abs(sail_sums(pilot.more - hand.more, 0.0)) / hand.scales
    assert np.max(apart) > TOLERANCE


def test_a_steady_wind_on_flat_water_adds_nothing() -> None:
    there = balanced()
    found = balance(there.course, replace(there.at, minute=None), near=there)
    assert found.settled
    assert not np.any(found.more)
    assert found.motion[0] > there.motion[0]


@pytest.mark.parametrize("name", ["sheet", "mainsheet", "traveller"])
def test_sensitivities_on_average_foretell_the_average_of_flights_anew(name: str) -> None:
    found = balanced("moderate")
    course, flight = found.course, found.flight
    known = found.sensed((name,)).wrench[0]
    forces = []
    step = 0.01
    for side in (-step, step):
        setting = flight.setting.changed(**{name: flight.setting.value(name) + side})
        there = fly(
            course.plan, setting, flight.stream, course.sheet_zero,
            mesh=MESH, density=course.density, near=flight,
        )  # fmt: skip
        assert there.settled
        forces.append(wandering(asked("moderate"), there).forces.sum(axis=0))
    change = (forces[1] - forces[0]) / (2.0 * step)
    whole = np.linalg.norm(wandering(asked("moderate"), flight).forces.sum(axis=0))
    # What 5e-4 of force left out of balance makes of a difference over this step.
    noise = 5e-4 * whole / step
    assert np.all(np.abs(known[:3] - change) < 0.05 * np.abs(change).max() + noise)
