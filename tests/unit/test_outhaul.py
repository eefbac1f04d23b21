"""The outhaul's pull: what the boom pushes, more as it is hauled, and told to the sailor."""

from __future__ import annotations

from typing import Any

import pytest

from luffwright.app.fly import fly as fly_verb
from luffwright.app.question import question
from luffwright.app.request import Request
from luffwright.sails.flight import Flight, fly

ASKED: dict[str, Any] = {
    "boat": "eider",
    "wind_kn": 12.0,
    "angle_deg": 50.0,
    "speed_kn": 6.0,
    "heel_deg": 3.0,
    "leeway_deg": 4.0,
}


def flown(eased: float) -> Flight:
    asked = question(Request(**ASKED, controls={"outhaul": eased}))
    flight = fly(asked.boat.plan, asked.setting, asked.stream, asked.sheet_zero)
    assert flight.settled
    return flight


def test_hauling_out_pulls_harder_and_is_told_for_each_part_of_its_purchase() -> None:
    eased, hauled = flown(0.15), flown(0.0)
    assert hauled.pull("outhaul") > eased.pull("outhaul") > 0.0
    told = fly_verb(Request(**ASKED, controls={"outhaul": 0.0})).answer.loads["outhaul"]
    parts = hauled.rigging.plan.mainsail_gear.outhaul_parts
    assert parts > 1.0
    assert told.load_kn == pytest.approx(hauled.pull("outhaul") / parts / 1000.0, rel=0.01)
