"""The likeliest boat, flown: what the surfaces then say of ropes there, against flying a little."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from luffwright.advice.doubt import scaled
from luffwright.advice.sample import sailed
from luffwright.app.fix_flown import at_likeliest
from luffwright.app.fix_infer import Inferred, infer
from luffwright.app.fix_sample import known
from luffwright.app.fix_store import FOLDER
from luffwright.app.sighting import FixRequest, SailTufts, Seen, Tufts

if TYPE_CHECKING:
    from collections.abc import Iterator

    from luffwright.arrays import FloatArray

STALLED = Tufts(windward="streaming", leeward="stalled")
ASKED = FixRequest(
    boat="marram", wind_kn=12.0, angle_deg=42.0,
    controls={"sheet": -0.1, "lead": 0.8, "mainsheet": 0.5},
    seen=(Seen(headsail=SailTufts(low=STALLED, middle=STALLED)),),
)  # fmt: skip


@pytest.fixture(scope="module")
def likely(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Inferred, Inferred]]:
    """Return what a few states tell of a boat far from her best trim, and that with her flown."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(FOLDER, str(tmp_path_factory.mktemp("samples")))
        found = infer(ASKED, known(ASKED, wanted=48, processes=1))
        yield found, at_likeliest(found)


def speeds(found: Inferred, points: FloatArray) -> FloatArray:
    """Return what the surfaces say that she makes good at points [m/s]."""
    return found.plain.surfaces["made_good"](scaled(found.boats.axes, points))


def test_a_little_of_each_rope_brings_what_it_brings_in_flight(
    likely: tuple[Inferred, Inferred],
) -> None:
    before, after = likely
    task, centre = before.plain.task, before.plain.centre()
    here = after.at
    assert here is not None
    offs: dict[str, list[float]] = {"before": [], "after": []}
    begun = task.made_good(sailed(task, centre, here))
    # Two solves of one state may differ by 0.001 m/s.
    assert float(speeds(after, here[None])[0]) == pytest.approx(begun, abs=1e-3)
    for k, it in enumerate(before.boats.axes):
        if it.kind not in ("control", "course"):
            continue
        for sign in (-1.0, 1.0):
            there = here + sign * 0.01 * (it.high - it.low) * np.eye(len(here))[k]
            gain = task.made_good(sailed(task, centre, there)) - begun
            for name, found in (("before", before), ("after", after)):
                told = speeds(found, np.array([here, there]))
                offs[name].append(float(told[1] - told[0]) - gain)
    rms = {name: float(np.sqrt(np.mean(np.square(it)))) for name, it in offs.items()}
    assert rms["after"] < 0.5 * rms["before"]


def test_far_from_her_nothing_has_changed(likely: tuple[Inferred, Inferred]) -> None:
    before, after = likely
    far = np.array([
        it.high if here < it.middle else it.low
        for here, it in zip(before.likeliest(), before.boats.axes, strict=True)
    ])  # fmt: skip
    assert speeds(after, far[None]) == pytest.approx(speeds(before, far[None]), abs=1e-3)


def test_the_boats_that_might_be_are_the_same_ones(likely: tuple[Inferred, Inferred]) -> None:
    before, after = likely
    assert after.boats is before.boats
    assert after.options != before.options
