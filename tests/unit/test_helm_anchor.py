"""The helm once seen on board moves every helm of that boat, and no difference."""

from __future__ import annotations

import math
from importlib import resources
from pathlib import Path

import pytest

from luffwright.advice.task import SailingTask
from luffwright.app.anchor import anchored, helm_anchor
from luffwright.app.fly import fly
from luffwright.app.question import question
from luffwright.app.request import Request
from luffwright.app.trim import task_of

DUNLIN = (resources.files("luffwright.aboard") / "demo" / "dunlin.toml").read_text(encoding="utf-8")


def boat(folder: Path, **seen: float) -> str:
    """Return the file of a Dunlin on which a helm was seen."""
    lines = "".join(f"{name} = {value}\n" for name, value in seen.items())
    path = folder / "mine.toml"
    path.write_text(DUNLIN.replace("[rudder]\n", f"[rudder]\n{lines}"), encoding="utf-8")
    return str(path)


def rudder(name: str, wind: float = 12.0, angle: float = 45.0) -> tuple[float, float]:
    """Return rudder angle and its band [°]."""
    found = fly(Request(boat=name, wind_kn=wind, angle_deg=angle)).answer
    assert found.boat.rudder_deg is not None
    return found.boat.rudder_deg, found.boat.bands["rudder_deg"]


def test_in_the_conditions_of_that_day_the_helm_is_the_one_seen(tmp_path: Path) -> None:
    mine = boat(tmp_path, observed_deg=4, observed_wind_kn=12)
    told, band = rudder(mine)
    assert told == pytest.approx(4.0, abs=0.05)
    assert band == pytest.approx(2.0)
    free, wide = rudder("dunlin")
    assert wide == pytest.approx(4.0)
    other, there = rudder(mine, 9.0)[0], rudder("dunlin", 9.0)[0]
    assert other - told == pytest.approx(there - free, abs=0.05)


def test_the_search_limits_the_helm_that_the_crew_would_see(tmp_path: Path) -> None:
    asked = question(Request(boat=boat(tmp_path, observed_deg=4, observed_wind_kn=12),
                             wind_kn=12.0, angle_deg=45.0))  # fmt: skip
    moved = helm_anchor(asked)
    assert moved is not None
    task = task_of(asked)
    assert isinstance(task, SailingTask)
    assert task.limits.seen == moved
    state = task.sail(asked.setting, asked.stream.wind_angle, None)
    assert state.boat is not None
    assert task.used(state)[1] == pytest.approx((state.boat.rudder + moved) / math.radians(5.0))
    assert "to meet the one seen" in anchored(asked)


def test_where_no_helm_was_seen_nothing_is_moved() -> None:
    asked = question(Request(boat="dunlin", wind_kn=12.0, angle_deg=45.0))
    assert helm_anchor(asked) is None
    assert anchored(asked) == ""
