"""What sailors agree on about running: common practice, no published source.

The lee of a mainsail before the wind is a model of its own, whose constants are estimates; judged
is which way it goes and about where, not by how much.
"""

from __future__ import annotations

from functools import cache

import pytest

from luffwright.app.answer import FlyAnswer, TrimAnswer
from luffwright.app.fly import fly
from luffwright.app.request import Request
from luffwright.app.trim import trim

pytestmark = pytest.mark.xdist_group("running")

BOATS = ("marram", "dunlin", "eider")


@cache
def sailed(boat: str, angle: float, pole: float = 0.0) -> FlyAnswer:
    """Return a boat in 12 knots, sheeted by a first guess for the course."""
    controls = {"pole": pole} if pole else {}
    answer = fly(Request(boat=boat, wind_kn=12.0, angle_deg=angle, controls=controls)).answer
    assert answer.status != "failed", answer.reason
    return answer


def pull(answer: FlyAnswer) -> float:
    """Return the headsail's drive by the square of the apparent wind and its area [any]."""
    head = answer.sails[0]
    return head.drive_n / (head.area_m2 * answer.conditions.apparent_wind_kn**2)


def share(answer: FlyAnswer) -> float:
    """Return the headsail's drive as a share of both sails'."""
    return answer.sails[0].drive_n / sum(sail.drive_n for sail in answer.sails)


@pytest.mark.practice(fact="P1")
@pytest.mark.parametrize("boat", BOATS)
def test_dead_downwind_the_headsail_behind_the_mainsail_pulls_little(boat: str) -> None:
    """Less than half of what it pulls on a broad reach in as much wind."""
    reach, run = sailed(boat, 130.0), sailed(boat, 178.0)
    assert pull(run) < 0.5 * pull(reach)
    assert share(run) < 0.5 * share(reach)


@pytest.mark.practice(fact="P1a")
@pytest.mark.parametrize("boat", BOATS)
def test_the_further_she_bears_away_the_more_the_headsail_goes_to_sleep(boat: str) -> None:
    told = [share(sailed(boat, angle)) for angle in (140.0, 150.0, 165.0, 178.0)]
    assert told == sorted(told, reverse=True)


@pytest.mark.practice(fact="P2")
def test_dead_downwind_poling_the_headsail_out_to_windward_pays() -> None:
    """By a tenth of the speed at least, for a big headsail in a moderate wind."""
    behind, out = sailed("marram", 178.0), sailed("marram", 178.0, 80.0)
    assert out.boat.speed_kn > 1.10 * behind.boat.speed_kn
    assert out.sails[0].drive_n > out.sails[1].drive_n


@pytest.mark.practice(fact="P2a")
def test_wing_and_wing_she_carries_less_weather_helm_than_with_both_sails_to_leeward() -> None:
    """The headsail to windward turns her the other way than the mainsail does."""
    behind, out = sailed("marram", 178.0), sailed("marram", 178.0, 80.0)
    assert behind.boat.rudder_deg is not None
    assert out.boat.rudder_deg is not None
    assert abs(out.boat.rudder_deg) < abs(behind.boat.rudder_deg)


@pytest.mark.practice(fact="P3")
def test_on_a_broad_reach_a_headsail_held_out_to_windward_is_aback() -> None:
    assert sailed("marram", 130.0, 60.0).sails[0].drive_n < 0.0


@cache
def best(angle: float, *, stowed: bool) -> TrimAnswer:
    """Return Marram's best in 12 knots; with the pole held stowed, or as `trim` likes it."""
    hold = {"pole": 0.0} if stowed else {}
    found = trim(Request(boat="marram", wind_kn=12.0, angle_deg=angle, hold=hold)).answer
    assert found.status != "failed", found.reason
    return found


@pytest.mark.slow
@pytest.mark.practice(fact="P3a")
def test_by_a_hundred_and_forty_degrees_she_does_not_need_her_pole() -> None:
    assert best(140.0, stowed=False).controls["pole"].mark == "stowed"


@pytest.mark.slow
@pytest.mark.practice(fact="P2b")
def test_nearly_dead_downwind_trim_poles_the_headsail_out() -> None:
    out = best(175.0, stowed=False)
    assert out.order[0] == "pole"
    assert out.boat.speed_kn > 1.05 * best(175.0, stowed=True).boat.speed_kn
    assert any("foreguy" in it.text for it in out.cautions)
