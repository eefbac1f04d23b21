"""A sample that grows beside other work: answers keep to what was there until it is whole."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from luffwright.advice.sample import points_of
from luffwright.advice.task import SEARCHED_ON
from luffwright.app import fix_sample
from luffwright.app.fix_sample import flown_further, known
from luffwright.app.fix_store import FOLDER, kept
from luffwright.app.question import MESH
from luffwright.app.request import Request

if TYPE_CHECKING:
    from pathlib import Path

ASKED = Request(boat="dunlin", wind_kn=12.0, angle_deg=42.0)


@pytest.fixture(autouse=True)
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a store of the test's own, where sixteen states are a whole sample."""
    monkeypatch.setenv(FOLDER, str(tmp_path))
    monkeypatch.setattr(fix_sample, "WHOLE", 16)
    return tmp_path


def test_answers_keep_to_the_first_sample_until_the_whole_is_flown(store: Path) -> None:
    first = known(ASKED, wanted=8, processes=1)
    assert first.flown == 8
    assert first.task.mesh == SEARCHED_ON
    assert [flown_further(ASKED, 6) for _ in range(2)] == [6, 12]
    again = known(ASKED, wanted=8, processes=1)
    assert (again.flown, again.key, again.from_store) == (8, first.key, True)
    assert flown_further(ASKED, 6) == 16
    whole = known(ASKED, wanted=8, processes=1)
    assert whole.flown == 16
    assert whole.task.mesh == MESH
    # All states of the whole sample are flown, none twice, and what led up to it is gone.
    found = kept(whole.key)
    assert found is not None
    points = found[1].points
    ours = points_of(found[0].axes, 16)
    assert len(np.unique(points.round(9), axis=0)) == len(points) > 12
    assert all(np.any(np.all(np.isclose(ours, it, atol=1e-9), axis=1)) for it in points)
    assert flown_further(ASKED, 6) == 16
    assert [it.name for it in store.glob("*.npz")] == [f"{whole.key}.npz"]


def test_a_first_sample_is_never_taken_for_the_whole_one(store: Path) -> None:
    first = known(ASKED, wanted=8, processes=1)
    assert flown_further(ASKED, 6) == 6
    whole = known(ASKED, wanted=16, processes=1)
    assert (whole.flown, whole.from_store, whole.first) == (16, False, False)
    assert whole.task.mesh == MESH
    # What was flown behind the first answer is gone on from: its middle is the same.
    alone = known(ASKED.model_copy(update={"refine": True}), wanted=16, processes=1)
    assert alone.plot.axes == whole.plot.axes
    assert first.plot.setting != whole.plot.setting
    assert [it.name for it in store.glob("*.npz")] == [f"{whole.key}.npz"]


def test_nothing_is_flown_on_where_no_first_answer_was_given(store: Path) -> None:
    assert flown_further(ASKED, 6) == 16
    assert not list(store.iterdir())
