"""A flight that begins at another one, and when the air about that one serves."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from luffwright.app.question import MESH, Question, question
from luffwright.app.request import Request
from luffwright.sails.flight import Flight, FlightSolver, fly, sail_lattice
from luffwright.sails.rigging import rig


@lru_cache
def asked() -> Question:
    return question(Request(boat="marram", wind_kn=12.0, angle_deg=48.0))


@lru_cache
def flown() -> Flight:
    it = asked()
    return fly(it.boat.plan, it.setting, it.stream, it.sheet_zero, mesh=MESH, density=it.density)


def solver(faster: float = 0.0, density: float | None = None) -> FlightSolver:
    it, plan = asked(), asked().boat.plan
    setting = it.setting.changed(sheet=it.setting.sheet + 0.04)
    stream = replace(it.stream, speed=it.stream.speed + faster)
    rigging = rig(plan, setting, MESH, it.sheet_zero)
    return FlightSolver(rigging, sail_lattice(plan, MESH), stream, density or it.density)


def test_the_air_of_a_flight_serves_where_only_a_rope_has_moved() -> None:
    met = flown()
    assert solver().meets(met, met.places)
    flow, load = solver().air(met.places, None, met)
    anew, load_anew = solver().air(met.places, None)
    assert flow is met.flow
    np.testing.assert_allclose(load, load_anew, atol=1e-3 * np.abs(load_anew).max())
    np.testing.assert_allclose(flow.strip.incidence, anew.strip.incidence, atol=1e-4)


def test_it_does_not_in_another_wind_at_another_place_or_in_thinner_air() -> None:
    met = flown()
    assert not solver(faster=0.01).meets(met, met.places)
    assert not solver(density=1.0).meets(met, met.places)
    assert not solver().meets(met, met.places + 1e-6)
