"""A sample that grows beside other work: answers keep to what was there until it is whole."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from luffwright.app import fix_sample
from luffwright.app.fix_sample import flown_further, known
from luffwright.app.fix_store import FOLDER, kept
from luffwright.app.request import Request

if TYPE_CHECKING:
    from pathlib import Path

    import pytest

ASKED = Request(boat="dunlin", wind_kn=12.0, angle_deg=42.0)


def test_answers_keep_to_the_first_sample_until_the_whole_is_flown(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(FOLDER, str(tmp_path))
    monkeypatch.setattr(fix_sample, "WHOLE", 16)
    first = known(ASKED, wanted=8, processes=1)
    assert first.flown == 8
    assert flown_further(ASKED, 4) == 12
    again = known(ASKED, wanted=8, processes=1)
    assert again.flown == 8
    assert flown_further(ASKED, 4) == 16
    whole = known(ASKED, wanted=8, processes=1)
    assert whole.flown == 16
    # The first states are the same ones, and none was flown twice.
    found = kept(whole.key)
    assert found is not None
    points = found[1].points
    assert len(np.unique(points.round(9), axis=0)) == len(points)
    assert flown_further(ASKED, 4) == 16
    assert [it.name for it in tmp_path.glob("*.npz")] == [f"{whole.key}.npz"]
