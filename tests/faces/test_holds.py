"""Where the ropes of the school's boats are taken hold of on the drawings of the page."""

from __future__ import annotations

from math import hypot

import pytest

from luffwright.app.fly import fly
from luffwright.app.request import Request
from luffwright.app.ropes import ropes
from luffwright.faces.draw import deck_plan, side_plan
from luffwright.faces.draw.grip import ROOM_PX, Grip

RIGGED_ONCE = {"pole"}
"""What is set up for a course, and not played: it has no knot to drag."""


def holds(boat: str, angle: float) -> tuple[list[Grip], list[Grip]]:
    """Return the knots on the deck and at the mast."""
    flown = fly(Request(boat=boat, wind_kn=12.0, angle_deg=angle, speed_kn=5.0))
    assert flown.picture is not None
    told, side = {it.control: it for it in ropes(boat)}, 1.0 if angle > 0.0 else -1.0
    _, deck = deck_plan.deck_plan(flown.answer, flown.picture, told, -side)
    _, mast = side_plan.side_plan(flown.answer, flown.picture, told, side)
    return deck, mast


@pytest.mark.parametrize("angle", [45.0, -45.0])
@pytest.mark.parametrize("boat", ["marram", "dunlin", "eider"])
def test_every_rope_has_a_hold_of_its_own(boat: str, angle: float) -> None:
    deck, mast = holds(boat, angle)
    held = {it.control for it in (*deck, *mast)}
    assert held == {it.control for it in ropes(boat)} - RIGGED_ONCE
    for knots in (deck, mast):
        for k, one in enumerate(knots):
            for other in knots[:k]:
                gap = hypot(one.at[0] - other.at[0], one.at[1] - other.at[1])
                assert gap > 0.9 * ROOM_PX, (one.control, other.control)


def test_a_higher_hole_of_the_clew_board_is_reached_upwards() -> None:
    _, mast = holds("dunlin", 45.0)
    board = next(it for it in mast if it.control == "clew_hole")
    # Down the page is positive.
    assert board.unit[1] < 0.0
    assert board.unit[0] == 0.0
