"""One setting for a range of wind: the mean counts, and the strongest wind's limits hold."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

import numpy as np
import pytest

from luffwright.advice.easy import RangeTask, easy, joined, wind_to_change
from luffwright.advice.look_again import LookAgain, change_for
from luffwright.advice.task import NEVER, Limits, Reached, SailingTask
from luffwright.app.request import Request
from luffwright.app.trim_range import with_range
from luffwright.app.trim_work import again_words
from luffwright.arrays import FloatArray
from luffwright.errors import InputError
from luffwright.units import from_knots


@dataclass(frozen=True)
class Told:
    """A state that tells its own speed and heel."""

    aim: float
    heel: float
    settled: bool = True
    flight: None = None
    boat: None = None


class OneWind:
    """A task in one wind that believes its states."""

    def aim(self, state: Told) -> float:
        """Return the speed."""
        return state.aim

    def used(self, state: Told) -> FloatArray:
        """Return the share of the heel's limit."""
        return np.array([state.heel])

    def merit(self, state: Told) -> float:
        """Return the speed, 5 less for each whole limit passed."""
        return state.aim - 5.0 * max(state.heel - 1.0, 0.0)


TASK = RangeTask(tuple(cast("SailingTask", OneWind()) for _ in range(3)))


def over(*states: Told) -> Reached:
    """Return the states as one, from the lightest wind to the strongest."""
    return joined(tuple(cast("Reached", state) for state in states))


def test_the_mean_over_the_range_counts() -> None:
    state = over(Told(3.0, 0.2), Told(5.0, 0.6), Told(5.5, 0.9))
    assert TASK.aim(state) == pytest.approx(4.5)
    assert TASK.merit(state) == pytest.approx(4.5)


def test_limits_are_held_where_the_wind_is_strongest() -> None:
    assert TASK.used(over(Told(3.0, 0.9), Told(5.0, 0.2), Told(5.5, 0.3)))[0] == 0.3
    passed = over(Told(3.0, 0.2), Told(5.0, 0.6), Told(5.5, 1.1))
    assert TASK.merit(passed) == pytest.approx(4.5 - 0.5)


def test_what_does_not_settle_in_one_of_the_winds_is_no_setting_for_the_range() -> None:
    assert TASK.merit(over(Told(3.0, 0.2), Told(5.0, 0.6, settled=False), Told(5, 0.9))) == NEVER


def test_easy_asks_for_less_heel_helm_and_moment_and_never_for_more() -> None:
    limits = Limits(moment=1000.0)
    told = easy(limits)
    assert told.heel < limits.heel
    assert told.rudder < limits.rudder
    assert told.moment == pytest.approx(700.0)
    strict = Limits(heel=0.1, rudder=0.01)
    assert (easy(strict).heel, easy(strict).rudder) == (0.1, 0.01)


def test_on_two_hulls_heel_stays_no_cue() -> None:
    assert np.isinf(easy(Limits(heel=float("inf"))).heel)


def test_the_wind_to_change_is_where_the_first_limit_is_passed() -> None:
    winds = np.array([4.0, 6.0, 8.0])
    # Heel grows by the square, helm straight on: at 8 m/s both are at 0.8.
    used = np.stack([0.8 * (winds / 8.0) ** 2, 0.1 * winds], axis=1)
    found = wind_to_change(winds, used)
    assert found == pytest.approx(min(8.0 / np.sqrt(0.8), 10.0))


def test_no_wind_is_told_where_nothing_presses_and_the_strongest_where_something_does() -> None:
    winds = np.array([4.0, 6.0, 8.0])
    assert wind_to_change(winds, np.full((3, 2), 0.4)) is None
    assert wind_to_change(winds, np.full((3, 2), 1.2)) == 8.0


def test_what_brings_less_than_nothing_is_no_reason_to_look_again() -> None:
    assert change_for(-0.01, 0.01) is None
    # Half a per cent at a fifth more wind: 1 % comes at 28 % more.
    assert change_for(0.005, 0.01) == pytest.approx(0.2 * np.sqrt(2.0))
    assert change_for(1e-4, 0.01) is None


def test_when_to_look_again_is_said_in_knots() -> None:
    assert again_words(LookAgain(None, from_knots(15.0))) == "above 15 kn of wind"
    assert again_words(LookAgain(None, None)) is None


def test_easy_without_a_range_looks_a_fifth_down_and_a_quarter_up_or_to_the_gusts() -> None:
    asked = with_range(Request(boat="marram", wind_kn=12.0, aim="easy"))
    assert asked.range_kn == pytest.approx((9.6, 15.0))
    gusty = with_range(Request(boat="marram", wind_kn=12.0, aim="easy", gust_kn=20.0))
    assert gusty.range_kn == pytest.approx((9.6, 20.0))


def test_a_range_alone_gives_its_middle_as_the_wind() -> None:
    assert with_range(Request(boat="marram", range_kn=(8.0, 14.0))).wind_kn == 11.0


def test_fast_without_a_range_stays_at_one_wind() -> None:
    request = Request(boat="marram", wind_kn=12.0)
    assert with_range(request) == request


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"range_kn": (14.0, 8.0)}, "must rise"),
        ({"range_kn": (8.0, 80.0)}, "at most"),
        ({"range_kn": (8.0, 14.0), "wind_kn": 20.0}, "does not hold the wind of 20 kn"),
        ({"range_kn": (8.0, 14.0), "speed_kn": 5.0}, "range of true wind"),
    ],
)
def test_a_range_that_cannot_be_used_is_refused_with_its_reason(
    fields: dict[str, object], said: str
) -> None:
    request = Request.model_validate({"boat": "marram", **fields})
    with pytest.raises(InputError, match=said):
        with_range(request)
