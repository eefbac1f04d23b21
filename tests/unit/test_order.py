"""The order of work follows from what each control does, and each step carries its sheet."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.advice.effects import ANGLE, CAMBER, HEADSAIL, LOW, MAINSAIL, TOP, TWIST, Effects
from luffwright.advice.order import Work, order_of_work, steps_between
from luffwright.sails.plan import ControlTravel
from luffwright.sails.setting import Setting

DEGREE = float(np.radians(1.0))


def effects_of(**told: dict[tuple[int, int, int], float]) -> Effects:
    """Return effects by control: where (sail, level, quantity) and how much."""
    shape = np.zeros((len(told), 2, 3, 4))
    for row, places in zip(shape, told.values(), strict=True):
        for place, amount in places.items():
            row[place] = amount
    return Effects(tuple(told), shape)


def travels(*names: str) -> tuple[ControlTravel, ...]:
    """Return travels of 20 steps."""
    return tuple(ControlTravel(name, 0.0, 1.0, 0.05, 0.0) for name in names)


def test_area_comes_first_then_angle_twist_and_depth_whatever_the_names() -> None:
    found = effects_of(
        outhaul={(MAINSAIL, TOP, TWIST): DEGREE},
        vang={(MAINSAIL, LOW, CAMBER): 0.02},
        mainsheet={(MAINSAIL, LOW, ANGLE): DEGREE},
        sheet={(HEADSAIL, LOW, ANGLE): DEGREE, (HEADSAIL, TOP, TWIST): 3 * DEGREE},
    )
    work = order_of_work(found, travels("outhaul", "vang", "mainsheet", "sheet", "furl", "reef"))
    assert [it.control for it in work] == [
        "reef", "furl", "sheet", "mainsheet", "outhaul", "vang",
    ]  # fmt: skip
    assert [it.stage for it in work] == ["area", "area", "angle", "angle", "twist", "depth"]


def test_a_control_is_judged_after_its_sheet_has_put_the_angle_right() -> None:
    # By itself the car turns the foot most; sheeted again it changes depth alone.
    found = effects_of(
        sheet={(HEADSAIL, LOW, ANGLE): DEGREE, (HEADSAIL, TOP, TWIST): 0.5 * DEGREE},
        lead={
            (HEADSAIL, LOW, ANGLE): 2 * DEGREE,
            (HEADSAIL, TOP, TWIST): DEGREE,
            (HEADSAIL, LOW, CAMBER): 0.004,
        },
    )
    lead = order_of_work(found, travels("sheet", "lead"))[1]
    assert lead.stage == "depth"
    # Two steps of sheet a step of car, and both have the same step: two metres a metre.
    assert lead.sheet == pytest.approx(-2.0)
    assert found.resheeted("lead")[HEADSAIL, LOW, ANGLE] == pytest.approx(0.0)


def test_of_two_of_a_kind_the_one_that_disturbs_the_angle_more_comes_first() -> None:
    camber = (HEADSAIL, LOW, CAMBER)
    found = effects_of(
        sheet={(HEADSAIL, LOW, ANGLE): DEGREE},
        halyard={(HEADSAIL, LOW, ANGLE): 0.1 * DEGREE, camber: 0.02},
        lead={(HEADSAIL, LOW, ANGLE): -0.4 * DEGREE, camber: 0.01},
    )
    work = order_of_work(found, travels("sheet", "halyard", "lead"))
    assert [it.control for it in work] == ["sheet", "lead", "halyard"]


def test_what_can_hardly_be_seen_is_the_last_touch() -> None:
    found = effects_of(
        sheet={(HEADSAIL, LOW, ANGLE): DEGREE},
        cunningham={(MAINSAIL, LOW, ANGLE): 0.01 * DEGREE},
        outhaul={(MAINSAIL, LOW, CAMBER): 0.01},
    )
    work = order_of_work(found, travels("cunningham", "sheet", "outhaul"))
    assert {it.control: it.stage for it in work}["cunningham"] == "depth"


WORK = (
    Work("reef", "area", 0.0, 0.0),
    Work("furl", "area", 0.0, 0.0),
    Work("sheet", "angle", 0.0, DEGREE),
    Work("lead", "twist", -0.8, DEGREE),
    Work("halyard", "depth", 1.2, DEGREE),
    Work("outhaul", "depth", 0.0, 0.0),
)


def test_the_sheet_goes_with_each_step_and_ends_where_it_is_to_stand() -> None:
    plan = load_boat("marram").plan
    start = replace(Setting(), sheet=0.10, lead=0.5, halyard=0.02)
    end = replace(start, sheet=0.04, lead=0.8, halyard=0.10)
    steps = steps_between(plan, WORK, start, end)
    assert [it.control for it in steps] == ["sheet", "lead", "halyard"]
    now = start
    for step in steps:
        now = now.changed(**step.to)
    assert now == end
    # 30 cm of car carry 24 cm in, 8 cm of halyard 10 cm out again: first 0.04 + 0.24 - 0.10.
    assert steps[0].to["sheet"] == pytest.approx(0.18)
    assert steps[1].to["sheet"] == pytest.approx(-0.06)


def test_what_moves_less_than_half_a_mark_is_left_out() -> None:
    plan = load_boat("marram").plan
    start = replace(Setting(), sheet=0.10, lead=0.5, outhaul=0.04)
    end = start.changed(outhaul=0.045, lead=0.52)
    assert steps_between(plan, WORK, start, end) == ()


def test_a_rolled_headsail_takes_its_sheet_with_it_before_all_else() -> None:
    plan = load_boat("marram").plan
    start = replace(Setting(), sheet=0.10, lead=0.5, furl=0.0)
    end = start.changed(furl=0.3, sheet=0.5)
    steps = steps_between(plan, WORK, start, end)
    assert steps[0].control == "furl"
    # Rolled in, the clew stands further forward: the rope must be longer.
    assert steps[0].to["sheet"] > start.sheet + 0.2
    assert steps[-1].to.get("sheet", steps[0].to["sheet"]) == pytest.approx(end.sheet)
