"""What a sample says that half the range of a control brings, against flying a little of it."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.advice.readings import NAMES
from luffwright.advice.sample import Centre, centre_of, flown, on_course
from luffwright.advice.task import SailingTask
from luffwright.app.fix_sample import sailing
from luffwright.app.request import Request

MADE_GOOD = NAMES.index("made_good")
STEP = 0.06
"""How far either way is flown [half ranges]."""


@pytest.fixture(scope="module")
def middle() -> tuple[SailingTask, Centre]:
    """Return a boat's task and the middle of her sample."""
    asked, task = sailing(Request(boat="marram", wind_kn=12.0, angle_deg=42.0))
    centre = centre_of(task, asked.setting, turns=False)
    return on_course(task, centre.plot), centre


@pytest.mark.parametrize("name", ["sheet", "lead", "mainsheet", "wind_angle"])
def test_a_slope_is_what_a_little_either_way_brings(
    middle: tuple[SailingTask, Centre], name: str
) -> None:
    task, centre = middle
    axis = next(k for k, it in enumerate(centre.axes) if it.name == name)
    half = 0.5 * (centre.axes[axis].high - centre.axes[axis].low)
    # Away from the middle, where nothing is at its best and slopes are steep.
    here = np.array([it.middle for it in centre.axes])
    sheet = next(k for k, it in enumerate(centre.axes) if it.name == "sheet")
    here[sheet] += 0.5 * (centre.axes[sheet].high - here[sheet])
    by = half * np.eye(len(here))[axis]
    by[sheet] += centre.axes[axis].rides * half
    found = flown(task, centre, np.array([here, here + STEP * by, here - STEP * by]))
    assert len(found.points) == 3
    [rise] = found.slants.rise[(found.slants.state == 0) & (found.slants.axis == axis)]
    speeds = found.values[:, MADE_GOOD]
    # Two solves of one state may differ by 0.001 m/s.
    assert rise == pytest.approx((speeds[1] - speeds[2]) / (2.0 * STEP), rel=0.15, abs=0.01)


def test_slopes_are_taken_near_the_middle_only(middle: tuple[SailingTask, Centre]) -> None:
    task, centre = middle
    here = np.array([it.middle for it in centre.axes])
    ends = np.array(
        [0.5 * (it.high + it.middle) if it.kind == "control" else it.middle for it in centre.axes]
    )
    found = flown(task, centre, np.array([ends, here]))
    moved = [it.kind in ("control", "course") for it in centre.axes]
    assert set(found.slants.state) == {len(found.points) - 1}
    assert sorted(found.slants.axis) == list(np.flatnonzero(moved))
