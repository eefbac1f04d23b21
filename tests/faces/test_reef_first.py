"""The reef call stands before any speed, and no gain is told beside a reef that is not taken."""

from __future__ import annotations

import io
import json
import re
from dataclasses import replace

import pytest
from rich.console import Console, RenderableType

from luffwright.app.answer import Caution, FlyAnswer, TrimAnswer, Why
from luffwright.app.batch import as_text
from luffwright.app.call import unpraised
from luffwright.app.request import Request
from luffwright.app.trim import trim
from luffwright.faces.tables import fly_tables
from luffwright.faces.trim_tables import trim_tables

REEF = Caution("warning", "Reef: take reef 1 first. She meets too much wind.")


def printed(parts: list[RenderableType]) -> str:
    out = io.StringIO()
    Console(file=out, width=100).print(*parts, sep="\n")
    return out.getvalue()


def calling(answer: TrimAnswer) -> TrimAnswer:
    """Return an answer in which a reef is called, with gains in its reasons."""
    why = (
        Why("heel", "heel at its limit of 25°"),
        Why("lead", "GENOA CAR 2 holes aft (hole 7 → hole 9): 0.12 kn faster, 0.4° less heel"),
        Why("sheet", "GENOA SHEET 1 hand pull: drive +1.2 %, heeling moment -0.4 %"),
    )
    return replace(answer, cautions=(REEF, *answer.cautions), why=why)


def test_fly_prints_the_reef_call_before_the_speed_and_once(flown: FlyAnswer) -> None:
    text = printed(fly_tables(replace(flown, cautions=(*flown.cautions, REEF))))
    assert text.index("Reef: take reef 1 first") < text.index("Held at 6.1 kn")
    assert text.strip().startswith("WARNING")
    assert text.count("take reef 1") == 1
    assert "Unload the sheet" in text


def test_a_state_that_did_not_settle_has_its_reef_call_first_too(flown: FlyAnswer) -> None:
    failed = replace(flown, status="failed", cautions=(REEF,))
    assert printed(fly_tables(failed)).strip().startswith("WARNING")


def test_trim_prints_the_reef_call_before_all_else(trimmed: TrimAnswer) -> None:
    text = printed(trim_tables(unpraised(calling(replace(trimmed, leave_it=True)))))
    assert text.strip().startswith("WARNING")
    assert "LEAVE IT" not in text


def test_no_gain_is_told_beside_a_reef_that_is_not_taken(trimmed: TrimAnswer) -> None:
    asked = calling(trimmed)
    assert "0.12 kn faster" in printed(trim_tables(asked))
    quiet = unpraised(asked)
    text = printed(trim_tables(quiet))
    for word in ("faster", "min an hour", "% more"):
        assert word not in text
    assert "GENOA CAR 2 holes aft" in text
    assert "Heel at its limit of 25°" in text
    assert all(
        (it.loss_down_kn, it.loss_up_kn, it.minutes_per_hour) == (None, None, None)
        for it in quiet.worth.values()
    )
    assert {name for name in quiet.method.not_computed if name.startswith("worth.")} == {
        "worth.loss_down_kn", "worth.loss_up_kn", "worth.minutes_per_hour",
    }  # fmt: skip


def test_where_no_reef_is_called_nothing_is_kept_back(trimmed: TrimAnswer) -> None:
    assert unpraised(trimmed) is trimmed


def test_in_json_the_cautions_come_before_any_speed(flown: FlyAnswer) -> None:
    text = as_text(replace(flown, cautions=(REEF,)))
    assert text.index("Reef: take reef 1") < text.index("_kn")
    assert list(json.loads(text))[:3] == ["status", "reason", "cautions"]


@pytest.fixture(scope="module")
def held() -> TrimAnswer:
    """Return `trim` of a catamaran whose crew holds full sail in a wind for a reef."""
    rest = {"reef": 0.0, "furl": 0.0, "halyard": 0.02, "outhaul": 0.0, "cunningham": 0.0}
    request = Request(boat="eider", wind_kn=16.0, angle_deg=60.0, hold=rest | {"traveller": 0.0})
    return trim(request).answer


def test_two_hulls_that_hold_full_sail_are_called_and_promised_nothing(held: TrimAnswer) -> None:
    assert held.cautions[0].text.startswith("Reef: take reef 1")
    text = printed(trim_tables(held))
    assert text.index("Reef: ") < text.index("kn")
    assert not re.search(r"faster|min an hour|LEAVE IT", text)


def test_two_hulls_take_the_tables_reef_and_say_why() -> None:
    rest = {"halyard": 0.02, "outhaul": 0.0, "cunningham": 0.0, "traveller": 0.0, "lead": 0.5}
    request = Request(boat="eider", wind_kn=16.0, angle_deg=60.0, hold=rest)
    found = trim(request).answer
    assert found.controls["reef"].value >= 1.0
    assert not any(it.text.startswith("Reef: ") for it in found.cautions)
    assert found.order[0] == "reef"
    [why] = [it.text for it in found.why if it.control == "table"]
    assert "by the table" in why
    assert "heel at its limit" not in " ".join(it.text for it in found.why)
