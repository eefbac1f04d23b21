"""`trim` end to end: what it says each control is worth is what `fly` then finds."""

from __future__ import annotations

import pytest

from luffwright.app.answer import TrimAnswer
from luffwright.app.fly import fly
from luffwright.app.request import Request
from luffwright.app.trim import trim

REPEATABLE_KN = 0.002
BOATS = ("marram", "eider")


@pytest.fixture(scope="module", params=BOATS)
def told(request: pytest.FixtureRequest) -> tuple[str, TrimAnswer]:
    """Return what is told of a boat beating in 12 knots."""
    boat = str(request.param)
    return boat, trim(Request(boat=boat, wind_kn=12.0, angle_deg="upwind")).answer


def _made_good(boat: str, answer: TrimAnswer, **moved: float) -> float | None:
    """Return what `fly` finds at the answer's setting and course, some controls moved by."""
    controls = {name: it.value + moved.get(name, 0.0) for name, it in answer.controls.items()}
    angle = answer.conditions.angle_deg
    found = fly(Request(boat=boat, wind_kn=12.0, angle_deg=angle, controls=controls)).answer
    return None if found.status == "failed" else found.boat.vmg_kn


def test_a_loss_that_is_told_is_the_loss_that_fly_finds_from_nothing() -> None:
    answer = trim(Request(boat="marram", wind_kn=12.0, angle_deg="upwind")).answer
    best = _made_good("marram", answer)
    assert best == pytest.approx(answer.boat.vmg_kn, abs=2.0 * REPEATABLE_KN)
    seen = 0
    for name in ("sheet", "lead", "mainsheet", "traveller"):
        worth = answer.worth[name]
        for sign, loss in ((-1.0, worth.loss_down_kn), (1.0, worth.loss_up_kn)):
            if loss is None:
                continue
            there = _made_good("marram", answer, **{name: sign * worth.step})
            assert best is not None
            assert there is not None
            assert best - there == pytest.approx(loss, abs=2.0 * REPEATABLE_KN), (name, sign)
            seen += 1
    assert seen >= 3


def test_losses_are_told_only_where_they_are_five_times_the_repeatability(
    told: tuple[str, TrimAnswer],
) -> None:
    _, answer = told
    losses = [
        it
        for worth in answer.worth.values()
        for it in (worth.loss_down_kn, worth.loss_up_kn)
        if it is not None
    ]
    assert losses
    assert min(abs(it) for it in losses) >= 5.0 * REPEATABLE_KN * 0.999


def test_minutes_follow_from_the_greater_loss(told: tuple[str, TrimAnswer]) -> None:
    _, answer = told
    for worth in answer.worth.values():
        losses = [it for it in (worth.loss_down_kn, worth.loss_up_kn) if it is not None and it > 0]
        if losses:
            share = max(losses) / abs(answer.boat.vmg_kn)
            assert worth.minutes_per_hour == pytest.approx(60.0 * share, rel=1e-3)
        else:
            assert worth.minutes_per_hour is None


def test_each_control_that_has_no_loss_says_why(told: tuple[str, TrimAnswer]) -> None:
    _, answer = told
    said = {entry.control: entry.text for entry in answer.why}
    for name, worth in answer.worth.items():
        if name in ("reef", "furl", "main_furl"):
            continue
        if worth.loss_down_kn is None or worth.loss_up_kn is None:
            assert any(
                word in said[name]
                for word in ("too small", "end of its travel", "settle", "a limit there")
            )


def test_the_area_is_told_first_and_the_sheet_before_what_it_goes_with(
    told: tuple[str, TrimAnswer],
) -> None:
    _, answer = told
    assert answer.order[:2] == ("reef", "furl")
    assert answer.order[2] == "sheet"
    # A pole is no part of the work close-hauled: it stays stowed.
    assert set(answer.order) == set(answer.controls) - {"pole"}
    assert len(set(answer.order)) == len(answer.order)


def test_a_boat_without_backstay_is_told_nothing_of_one(told: tuple[str, TrimAnswer]) -> None:
    boat, answer = told
    text = " ".join(entry.text for entry in answer.why)
    assert ("backstay" in answer.worth) == (boat == "marram")
    assert boat == "marram" or "backstay" not in text.lower()


def test_a_boat_that_stands_at_her_best_is_left_alone_and_told_when_to_look_again() -> None:
    best = trim(Request(boat="marram", wind_kn=12.0, angle_deg=60.0)).answer
    controls = {name: it.value for name, it in best.controls.items()}
    again = trim(Request(boat="marram", wind_kn=12.0, angle_deg=60.0, controls=controls)).answer
    assert again.leave_it is True or "kn of wind" in str(again.leave_it)
    assert again.order == ()
    assert {name: it.value for name, it in again.controls.items()} == pytest.approx(controls)


def test_a_boat_out_of_trim_is_told_what_each_change_brings_with_its_sheet() -> None:
    now = {"sheet": 0.4, "mainsheet": 0.6, "lead": 0.3}
    answer = trim(Request(boat="marram", wind_kn=12.0, angle_deg=50.0, controls=now)).answer
    assert answer.leave_it is False
    moves = {it.control: it.text for it in answer.why if "→" in it.text}
    assert set(moves) == set(answer.order)
    assert {"sheet", "mainsheet"} <= set(moves)
    assert all("faster" in it or "slower" in it or "settle" in it for it in moves.values())


def test_sail_taken_in_to_spare_the_mainsail_is_told_as_that() -> None:
    answer = trim(Request(boat="dunlin", wind_kn=24.0, angle_deg="upwind")).answer
    assert answer.controls["reef"].value >= 1.0
    assert any(it.control == "reef" and "flogs" in it.text for it in answer.why)


@pytest.mark.slow
def test_an_easy_setting_heels_and_steers_less_and_says_when_to_change() -> None:
    asked = {"boat": "marram", "angle_deg": 60.0, "range_kn": (10.0, 14.0)}
    easy = trim(Request.model_validate({**asked, "aim": "easy"})).answer
    fast = trim(Request.model_validate(asked)).answer
    controls = {name: it.value for name, it in easy.controls.items()}
    windy = fly(Request(boat="marram", wind_kn=14.0, angle_deg=60.0, controls=controls)).answer
    assert windy.boat.heel_deg <= 20.0 * 1.01
    assert windy.boat.rudder_deg is not None
    assert abs(windy.boat.rudder_deg) <= 3.0 * 1.03
    assert easy.boat.speed_kn <= fast.boat.speed_kn + REPEATABLE_KN
    assert any(it.control == "range" and "14 kn" in it.text for it in easy.why)
