"""The easy facts of the trade on boats drawn blindly: common practice, no published source.

Of the school's three boats a fact may hold by chance. These are drawn from frozen ranges; a fact
holds if at most one in twenty of the cases told speaks against it.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from random_states import (
    held,
    low_camber,
    middle_camber,
    rising,
    settled,
    starts,
    told,
    twist,
)
from states import ANGLE, CAMBER, SAG, State, Verdict, sense

pytestmark = pytest.mark.xdist_group("random boats")

HALF_RANGE = 5.0
"""Tenths of the backstay's range: one tenth is too little to tell."""
HEIGHTS = np.array([2.0, 5.0, 10.0, 15.0])


def backstay_on(state: State) -> list[Verdict] | None:
    there = state.fly(backstay=HALF_RANGE * state.two_marks("backstay"))
    return [sense(state.sag - there.sag, SAG)] if settled(there) else None


def backstay_on_resheeted(state: State) -> list[Verdict] | None:
    there = state.resheeted(backstay=HALF_RANGE * state.two_marks("backstay"))
    return [sense(-middle_camber(state, there), CAMBER)] if settled(there) else None


def more_wind(state: State) -> list[Verdict] | None:
    there = state.stronger(0.3)
    if not settled(there) or there.section(0, "middle").windward_lifts:
        return None
    return [sense(there.sag - state.sag, SAG), sense(middle_camber(state, there), CAMBER)]


def lead_moved(state: State, marks: float) -> list[Verdict] | None:
    there = state.resheeted(lead=marks * state.two_marks("lead"))
    if not settled(there):
        return None
    aft = np.sign(marks)
    return [sense(-aft * low_camber(state, there), CAMBER), sense(aft * twist(state, there), ANGLE)]


def sheet_moved(state: State, eased: float) -> list[Verdict] | None:
    there = state.fly(sheet=eased)
    return [sense(np.sign(eased) * twist(state, there), ANGLE)] if settled(there) else None


def outhaul_pulled(state: State) -> list[Verdict] | None:
    eased = state if state.flight.setting.value("outhaul") > 0.05 else state.fly(outhaul=0.08)
    pulled = eased.fly(outhaul=-0.05)
    return [sense(-low_camber(eased, pulled, 1), CAMBER)] if settled(eased, pulled) else None


@pytest.mark.practice(fact="B1")
def test_more_backstay_straightens_the_forestay_of_any_boat() -> None:
    held(told(backstay_on, needs="backstay"))


@pytest.mark.practice(fact="B1a")
def test_more_backstay_flattens_the_headsail_of_any_boat() -> None:
    held(told(backstay_on_resheeted, needs="backstay"))


@pytest.mark.practice(fact="B3")
def test_more_wind_sags_any_forestay_and_deepens_the_headsail() -> None:
    held(told(more_wind))


@pytest.mark.practice(fact="L1")
def test_lead_forward_deepens_any_foot_and_closes_the_top() -> None:
    held(told(lambda state: lead_moved(state, -1.0), needs="lead", resheeted=True))


@pytest.mark.practice(fact="L2")
def test_lead_aft_flattens_any_foot_and_opens_the_top() -> None:
    held(told(lambda state: lead_moved(state, 1.0), needs="lead", resheeted=True))


@pytest.mark.practice(fact="S1")
def test_sheet_pulled_closes_the_leech_of_any_headsail() -> None:
    held(told(lambda state: sheet_moved(state, -0.06)))


@pytest.mark.practice(fact="S2")
def test_sheet_eased_opens_the_leech_of_any_headsail() -> None:
    held(told(lambda state: sheet_moved(state, 0.06)))


@pytest.mark.practice(fact="M3")
def test_outhaul_pulled_flattens_any_mainsail_low_down() -> None:
    held(told(outhaul_pulled, needs="outhaul"))


@pytest.mark.practice(fact="W1")
@pytest.mark.parametrize("angle_deg", [46.0, 60.0, 90.0, 110.0])
def test_the_wind_grows_with_height_and_comes_from_further_aft_on_any_boat(
    angle_deg: float,
) -> None:
    count = 0
    for _, state in starts():
        stream = replace(state.flight.stream, wind_angle=np.radians(angle_deg))
        if stream.profile.speed <= stream.speed * abs(np.cos(stream.wind_angle)):
            continue
        speed, angle = stream.apparent(HEIGHTS)
        assert rising(speed)
        assert rising(angle)
        count += 1
    assert count >= 2
