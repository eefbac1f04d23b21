"""Many requests: answers in order, bad lines told apart, the rest go on."""

from __future__ import annotations

import json
import sys
from dataclasses import replace
from types import ModuleType, SimpleNamespace

import pytest

from luffwright.app import batch
from luffwright.app.answer import FlyAnswer
from luffwright.app.batch import answer_line, asked, run_batch
from luffwright.app.request import Request
from luffwright.errors import InputError


def invent(monkeypatch: pytest.MonkeyPatch, answer: FlyAnswer) -> list[Request]:
    """Let `fly` and `trim` give an invented answer; return the list of what they were asked."""
    seen: list[Request] = []

    def work(request: Request) -> SimpleNamespace:
        seen.append(request)
        if request.boat == "wreck":
            raise ArithmeticError("division by zero")
        return SimpleNamespace(answer=answer, picture=None)

    for verb in batch.VERBS:
        module = ModuleType(f"luffwright.app.{verb}")
        setattr(module, verb, work)
        monkeypatch.setitem(sys.modules, module.__name__, module)
    batch._work.cache_clear()
    return seen


@pytest.fixture(autouse=True)
def forget() -> None:
    """Let no invented verb outlive its test."""
    batch._work.cache_clear()


GOOD = '{"verb": "fly", "boat": "marram", "wind_kn": 12, "angle_deg": "upwind"}'


def test_answers_keep_the_order_of_the_lines_and_bad_ones_stop_nothing(
    monkeypatch: pytest.MonkeyPatch, flown: FlyAnswer
) -> None:
    invent(monkeypatch, flown)
    lines = [GOOD, "rubbish", "", GOOD.replace("12", '"ten"'), GOOD.replace("fly", "trim")]
    answers = [json.loads(text) for text in run_batch(lines, processes=1)]
    assert ["error" in entry for entry in answers] == [False, True, True, False]
    assert answers[0]["conditions"]["wind_kn"] == 12.0


def test_a_state_that_breaks_down_does_not_take_the_others_with_it(
    monkeypatch: pytest.MonkeyPatch, flown: FlyAnswer
) -> None:
    invent(monkeypatch, flown)
    lines = [GOOD.replace("marram", "wreck"), GOOD]
    answers = [json.loads(text) for text in run_batch(lines, processes=1)]
    assert "division by zero" in answers[0]["error"]["limit"]
    assert answers[1]["status"] == "converged"


def test_several_processes_keep_the_order_too() -> None:
    lines = [f'{{"verb": "fly", "boat": "marram", "wind_kn": "x{n}"}}' for n in range(5)]
    answers = [json.loads(text) for text in run_batch(lines, processes=2)]
    assert [entry["error"]["value"] for entry in answers] == [f"x{n}" for n in range(5)]


def test_an_answer_that_is_not_a_finite_number_is_an_error_and_never_printed(
    monkeypatch: pytest.MonkeyPatch, flown: FlyAnswer
) -> None:
    invent(monkeypatch, replace(flown, boat=replace(flown.boat, vmg_kn=float("nan"))))
    assert set(json.loads(answer_line(GOOD))) == {"error"}


@pytest.mark.parametrize(
    ("line", "field", "value", "part"),
    [
        ("[1]", "line", "[1]", "must be a JSON object"),
        ('{"boat": "marram"}', "verb", "nothing", "must be fly or trim"),
        ('{"verb": "fli", "boat": "marram"}', "verb", "fli", 'did you mean "fly"?'),
        ('{"verb": "fly"}', "boat", "nothing", "must be given"),
        ('{"verb": "fly", "boat": "m", "wind": 3}', "wind", "3", 'did you mean "wind_kn"?'),
        ('{"verb": "fly", "boat": "m", "wind_kn": []}', "wind_kn", "[]", "must be a number"),
        ('{"verb": "fly", "boat": "m", "sea": "rogh"}', "sea", "rogh", 'did you mean "rough"?'),
        ('{"verb": "fly", "boat": "m", "tack": 1}', "tack", "1", "must be starboard or port"),
        (
            '{"verb": "fly", "boat": "marram", "controls": {"lead": "40 cm"}}',
            "controls.lead", "40 cm", "write it like hole 7",
        ),
        ('{"verb": "fly", "boat": "m", "wind_kn": NaN}', "wind_kn", "nan", "finite"),
        ('{"verb": "fly", "boat": "m", "range_kn": [8]}', "range_kn", "", "must be [from, to]"),
    ],
)  # fmt: skip
def test_a_bad_line_is_told_with_field_value_limit_and_remedy(
    line: str, field: str, value: str, part: str
) -> None:
    told = json.loads(answer_line(line))
    assert set(told) == {"error"}
    error = told["error"]
    assert set(error) == {"field", "value", "limit", "remedy"}
    assert error["field"] == field
    assert value in error["value"]
    assert part in f"{error['limit']}; {error['remedy']}"


def test_an_angle_may_be_a_number_or_a_word_in_any_case() -> None:
    assert asked({"boat": "m", "angle_deg": "-45.5"}).angle_deg == -45.5
    assert asked({"boat": "m", "angle_deg": "Upwind"}).angle_deg == "upwind"
    with pytest.raises(InputError, match='did you mean "downwind"'):
        asked({"boat": "m", "angle_deg": "downwnd"})
