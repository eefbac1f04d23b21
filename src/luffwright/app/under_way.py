"""A boat under way whose ropes are moved by hand: shape at once, speed and heel by sensitivity,
in balance when the hand lets go.

While a rope moves, the sails are flown anew at the boat's last motion, and the four sums that this
puts out of balance are turned into speed, heel, leeway and helm by the slopes known from her last
balance: one Newton step a picture. Letting go balances her.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from luffwright.app.answer import BoatState, Flown
from luffwright.app.fly import flown, sail, waters_of
from luffwright.app.picture import picture
from luffwright.app.question import MESH, Question, question, with_controls
from luffwright.app.report import fly_answer, sail_names
from luffwright.app.request import Request
from luffwright.arrays import FloatArray
from luffwright.errors import UnsailableError
from luffwright.sails.flight import Flight
from luffwright.sails.flight import fly as fly_sails
from luffwright.units import to_knots
from luffwright.water.equilibrium import GREATEST_STEP, Balanced, Course, balance
from luffwright.water.sums import balance_gaps

FOLLOWED = 2.0
"""How many of the balance's greatest steps speed and heel follow a hand before she is balanced."""


@dataclass(frozen=True)
class UnderWay:
    """A boat in balance, `sailed`, and her sails as the hand has them now, `flight`.

    `motion`: speed [m/s], heel, leeway and rudder [rad] as they follow the hand; in balance they
    are her own.
    """

    asked: Question
    sailed: Balanced
    flight: Flight
    motion: FloatArray

    @property
    def settled(self) -> bool:
        """Return whether sails and boat are in balance as the ropes stand."""
        return self.sailed.settled and self.flight is self.sailed.flight


def cast_off(request: Request) -> UnderWay:
    """Return a boat under way in balance, set as asked.

    Raises
    ------
    InputError
        Where a field cannot be used, or no boat could sail it.
    UnsailableError
        Where the sails do not settle: there is nothing to move from.
    """
    asked = question(request)
    flight = flown(asked)
    if not flight.settled:
        raise UnsailableError(
            "controls", "as set", "the sails do not settle like this",
            "sheet in, ease or bear away a little",
        )  # fmt: skip
    sailed = sail(asked, flight)
    return UnderWay(asked, sailed, sailed.flight, sailed.motion)


def moved(boat: UnderWay, controls: Mapping[str, float]) -> UnderWay:
    """Return the boat with some ropes moved: sails flown anew, speed and heel by sensitivity.

    Parameters
    ----------
    boat : UnderWay
    controls : mapping
        Positions of the ropes that move, in the controls' own units; the others stay.

    Returns
    -------
    UnderWay
        As she was where the sails do not settle at the new place.

    Raises
    ------
    InputError
        For a control that she does not have, or a place beyond its travel.
    """
    asked = _set(boat.asked, boat.flight, controls)
    flight = fly_sails(
        asked.boat.plan, asked.setting, boat.flight.stream, asked.sheet_zero, mesh=MESH,
        density=asked.density, near=boat.flight, afresh=False,
    )  # fmt: skip
    if not flight.settled:
        return boat
    return UnderWay(asked, boat.sailed, flight, _followed(boat.sailed, flight))


def _set(asked: Question, flight: Flight, controls: Mapping[str, float]) -> Question:
    setting = with_controls(asked.boat, flight.setting, dict(controls), "controls")
    return replace(asked, setting=setting)


def _followed(sailed: Balanced, flight: Flight) -> FloatArray:
    """Return the motion that would balance what the hand has put out of balance."""
    base = sailed.guided(sailed.guide)
    gaps, scales = balance_gaps(base.at, flight, base.rudder, base.more)
    step = replace(base, flight=flight, gaps=gaps, scales=scales).step()
    over = float(np.max(np.abs(step) / GREATEST_STEP)) / FOLLOWED
    here = np.array([flight.stream.speed, flight.stream.heel, flight.stream.leeway, base.rudder])
    motion: FloatArray = here + step / max(over, 1.0)
    motion[0] = max(motion[0], 0.0)
    return motion


def let_go(boat: UnderWay) -> UnderWay:
    """Return the boat in balance with her ropes where the hand has left them.

    Where no balance is found near, it is sought from the beginning; `settled` tells whether it was.
    """
    if boat.settled:
        return boat
    asked = boat.asked
    course = Course(
        asked.boat.plan, boat.flight.setting, boat.flight.stream, asked.sheet_zero, MESH,
        asked.density,
    )  # fmt: skip
    found = balance(
        course, waters_of(asked), near=boat.sailed, start=boat.flight, held=asked.held
    )  # fmt: skip
    if not found.settled:
        found = sail(asked, boat.flight, boat.flight.setting)
    return UnderWay(asked, found, found.flight, found.motion)


def set_to(boat: UnderWay, controls: Mapping[str, float]) -> UnderWay:
    """Return the boat in balance with ropes moved, by way of a fresh start where need be.

    Raises
    ------
    InputError
        For a control that she does not have, or a place beyond its travel.
    UnsailableError
        Where the sails do not settle there.
    """
    asked = _set(boat.asked, boat.flight, controls)
    if asked.setting == boat.flight.setting:
        return let_go(boat)
    near = moved(boat, controls)
    if near is not boat:
        return let_go(near)
    return _afresh(asked)


def _afresh(asked: Question) -> UnderWay:
    flight = flown(asked)
    if not flight.settled:
        raise UnsailableError(
            "controls", "as set", "the sails flog or stall by turns here",
            "sheet in, ease or bear away a little",
        )  # fmt: skip
    sailed = sail(asked, flight)
    return UnderWay(asked, sailed, sailed.flight, sailed.motion)


def told(boat: UnderWay) -> Flown:
    """Return the answer of `fly` for the boat as she is, with what there is to draw.

    While a hand moves a rope, speed, heel, leeway and helm are those that follow it.
    """
    answer = fly_answer(boat.asked, boat.flight, boat.sailed)
    drawn = picture(boat.asked, boat.flight, sail_names(boat.asked.boat))
    if not boat.settled:
        answer = replace(answer, boat=_following(answer.boat, boat))
    return Flown(answer, drawn)


def _following(state: BoatState, boat: UnderWay) -> BoatState:
    speed, heel, leeway, rudder = (float(value) for value in boat.motion)
    made_good = np.cos(abs(boat.flight.stream.wind_angle) + leeway)
    seen = None if state.rudder_deg is None else (
        state.rudder_deg + float(np.degrees(rudder - boat.sailed.rudder))
    )  # fmt: skip
    return replace(
        state, speed_kn=to_knots(speed), vmg_kn=to_knots(speed) * float(made_good),
        heel_deg=float(np.degrees(heel)), leeway_deg=float(np.degrees(leeway)), rudder_deg=seen,
    )  # fmt: skip
