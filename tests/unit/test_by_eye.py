"""What can be seen of ropes that have no marks: where the boom stands, how deep the foot is."""

from __future__ import annotations

import re

import numpy as np
import pytest

from luffwright.app.by_eye import seen_by_eye
from luffwright.app.question import MESH, question
from luffwright.app.request import Request
from luffwright.sails.flight import Flight, fly
from luffwright.sails.placing import boom_swing


def _flown(angle: float, **controls: float) -> Flight:
    asked = question(Request(boat="marram", wind_kn=10.0, angle_deg=angle, controls=controls))
    flight = fly(
        asked.boat.plan, asked.setting, asked.stream, asked.sheet_zero, mesh=MESH,
        density=asked.density,
    )  # fmt: skip
    assert flight.settled
    return flight


def _number(told: str) -> float:
    found = re.search(r"\d+", told)
    assert found is not None, told
    return float(found[0])


def test_the_boom_stands_where_the_sheet_lets_it_out() -> None:
    """By the triangle of gooseneck, car and block, the boom held down; ropes stretch a degree."""
    flight = _flown(110.0, mainsheet=3.2, vang=0.1)
    told = seen_by_eye(flight, "mainsheet")
    assert told.startswith("boom about ")
    assert told.endswith("° out to leeward")
    swing = np.degrees(boom_swing(flight.rigging.plan, flight.setting))
    assert _number(told) == pytest.approx(swing, abs=3.0)


def test_close_hauled_the_booms_end_is_told_in_centimetres() -> None:
    near, far = (
        seen_by_eye(_flown(42.0, mainsheet=it, traveller=0.0), "mainsheet") for it in (-0.2, 0.2)
    )
    for told in (near, far):
        assert re.fullmatch(r"boom's end about \d+ cm to leeward of the middle", told), told
    assert _number(far) > _number(near) + 5.0


def test_a_foot_that_is_let_out_is_told_deeper() -> None:
    straight, slack = (seen_by_eye(_flown(60.0, outhaul=it), "outhaul") for it in (0.0, 0.2))
    assert _number(slack) > _number(straight)


def test_a_vang_shows_slack_or_by_what_it_holds() -> None:
    assert seen_by_eye(_flown(42.0, vang=-0.2), "vang") == "slack"
    taut = seen_by_eye(_flown(110.0, mainsheet=3.2, vang=0.1), "vang")
    assert re.fullmatch(r"mainsail's top twisted about \d+°", taut)


def test_of_what_shows_in_no_one_thing_nothing_is_told() -> None:
    assert seen_by_eye(_flown(42.0), "halyard") == ""
