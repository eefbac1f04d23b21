"""Why a move is told: how far a rope stands off its best place, where the move leads back there."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.advice.decision import Option
from luffwright.app.fix_words import off_best

BEST = 0.30
"""Where the file's boat has her car best [m]."""


def reason(stands: float, by: float) -> str | None:
    """Return the reason for moving Marram's car by so much from where it most likely stands [m]."""
    known: Any = SimpleNamespace(
        plot=SimpleNamespace(setting=SimpleNamespace(value=lambda _: BEST)),
        asked=SimpleNamespace(boat=load_boat("marram")),
    )
    boats: Any = SimpleNamespace(axes=(SimpleNamespace(name="lead"),), middle=lambda: [stands])
    return off_best(known, boats, Option("lead", {"lead": by}, np.zeros(1), 0.01), {})


@pytest.mark.parametrize(
    ("stands", "by", "too_much"),
    [(0.40, -0.10, "2 holes aft"), (0.20, 0.10, "2 holes forward")],
)
def test_a_rope_that_goes_back_is_said_to_stand_off(
    stands: float, by: float, too_much: str
) -> None:
    assert f"({too_much} too much)" in str(reason(stands, by))


@pytest.mark.parametrize(("stands", "by"), [(0.40, 0.10), (0.20, -0.10), (0.32, -0.05)])
def test_a_rope_that_goes_further_away_or_stands_there_is_not(stands: float, by: float) -> None:
    assert reason(stands, by) is None
