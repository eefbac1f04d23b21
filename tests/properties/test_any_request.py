"""Requests drawn blindly are all answered with a status: nothing raises, nothing is not a number.

`scripts/survey requests --count 1000` asks as many as there is time for.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from survey.asking import STATUSES, answered, drawn, table

ANSWERED = {"converged", "luffing", "stalled", "failed"}
FAILED = 0.25
"""Share of them that may fail to settle: off the wind, first guesses flog."""


@pytest.mark.xdist_group("any request")
def test_any_request_is_answered_with_a_status(sweep_size: Callable[[int, int], int]) -> None:
    count = sweep_size(6, 1000)
    rows = [{"job": {"seed": seed}, "seconds": 0.0} | answered({"seed": seed})
            for seed in range(count)]  # fmt: skip
    unanswered = [row for row in rows if row["status"] not in ANSWERED]
    assert not unanswered, unanswered
    failed = [row for row in rows if row["status"] == "failed"]
    assert len(failed) <= max(FAILED * count, 2), failed


def test_requests_reach_every_verb_course_wind_and_kind_of_boat() -> None:
    asked = [drawn(seed) for seed in range(300)]
    assert asked == [drawn(seed) for seed in range(300)]
    assert {it["verb"] for it in asked} == {"fly", "trim"}
    angles = [abs(it["angle_deg"]) for it in asked if isinstance(it["angle_deg"], float)]
    assert min(angles) < 40.0
    assert max(angles) > 175.0
    assert {"upwind", "downwind"} <= {it["angle_deg"] for it in asked}
    winds = [it["wind_kn"] for it in asked]
    assert min(winds) < 4.0
    assert max(winds) > 34.0
    assert {"marram", "dunlin", "eider"} < {it["boat"] for it in asked}


def test_the_counts_add_up() -> None:
    rows = [
        {"verb": "fly", "request": drawn(seed), "status": status, "seconds": 1.0}
        for seed, status in enumerate(STATUSES)
    ]
    first = table(rows).splitlines()[2]
    assert first.split("|")[3].strip() == str(len(STATUSES))
    assert first.count(" 1 ") == len(STATUSES)
