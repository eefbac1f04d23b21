"""`fly`: set like this, in this wind: what shape, what do the telltales do, what loads."""

from __future__ import annotations

from luffwright.advice.area import RIGGED
from luffwright.advice.poled import poled
from luffwright.app.answer import Flown
from luffwright.app.picture import picture
from luffwright.app.question import MESH, Question, guessed, question
from luffwright.app.report import fly_answer, sail_names
from luffwright.app.request import Request
from luffwright.app.swing import minute_of
from luffwright.sails.flight import Flight
from luffwright.sails.flight import fly as fly_sails
from luffwright.sails.setting import CONTROL_NAMES, Setting
from luffwright.water.equilibrium import SAIL_MOTIONS, Balanced, Course, balance
from luffwright.water.fluid import water_at
from luffwright.water.sums import Waters, waters

STEPS = (0.25, 0.5, 0.75, 1.0)
"""From the first guess to what was asked, where the straight way there flogs."""


def fly(request: Request) -> Flown:
    """Return what the boat does when set as asked.

    Parameters
    ----------
    request : Request

    Returns
    -------
    Flown

    Raises
    ------
    InputError
        Where a field cannot be used, or no boat could sail it.
    """
    asked = question(request)
    flight = flown(asked)
    sailed = sail(asked, flight) if flight.settled and len(asked.held) < len(SAIL_MOTIONS) else None
    if sailed is not None:
        flight = sailed.flight
    return Flown(fly_answer(asked, flight, sailed), picture(asked, flight, sail_names(asked.boat)))


def sail(asked: Question, start: Flight, setting: Setting | None = None) -> Balanced:
    """Return the boat in balance from a flight of the setting asked for.

    Parameters
    ----------
    asked : Question
    start : Flight
    setting : Setting, optional
        In place of the one asked for.

    Returns
    -------
    Balanced
    """
    course = Course(
        asked.boat.plan, setting or asked.setting, start.stream, asked.sheet_zero, MESH,
        asked.density,
    )  # fmt: skip
    return balance(course, waters_of(asked), start=start, held=asked.held)


def waters_of(asked: Question) -> Waters:
    """Return what the boat asked about sails in.

    Parameters
    ----------
    asked : Question

    Returns
    -------
    Waters
    """
    water = water_at(asked.request.water_temp_c + 273.15)
    return waters(asked.boat.plan, asked.boat.hull, water, minute_of(asked))


def flown(asked: Question) -> Flight:
    """Return the flight of the setting asked for.

    Where the moulded sails do not lead there, they are sheeted from a first guess for the course
    in a few steps, as a crew would ease a flogging sail: from the side on which it stands.

    Parameters
    ----------
    asked : Question

    Returns
    -------
    Flight
    """
    flight = _fly(asked, asked.setting, None)
    if flight.settled:
        return flight
    near = _fly(asked, begun(asked), None)
    for share in STEPS if near.settled else ():
        trial = _fly(asked, between(near.setting, asked.setting, share), near)
        if not trial.settled:
            break
        near = trial
    return near if near.settled and near.setting == asked.setting else flight


def _fly(asked: Question, setting: Setting, near: Flight | None) -> Flight:
    return fly_sails(
        asked.boat.plan, setting, asked.stream, asked.sheet_zero,
        mesh=MESH, density=asked.density, near=near, afresh=near is None,
    )  # fmt: skip


def begun(asked: Question) -> Setting:
    """Return a first guess of the setting, with as much sail as is asked for and the pole as it is.

    Parameters
    ----------
    asked : Question

    Returns
    -------
    Setting
    """
    plan, setting = asked.boat.plan, asked.setting
    guess = guessed(plan, asked.stream).changed(**area_of(setting))
    return poled(plan, guess, asked.sheet_zero, setting.pole) if setting.poled else guess


def area_of(setting: Setting) -> dict[str, float]:
    """Return the reefs [-], rolls [-] and pole [°] of a setting: no little steps lead there."""
    given = {name: getattr(setting, name) for name in RIGGED}
    return {name: value for name, value in given.items() if value is not None}


def between(start: Setting, end: Setting, share: float) -> Setting:
    """Return the setting a share of the way from one to another.

    Parameters
    ----------
    start, end : Setting
    share : float
        [-]

    Returns
    -------
    Setting
    """
    if share == 1.0:
        return end
    moved = {
        name: start.value(name) + share * (end.value(name) - start.value(name))
        for name in CONTROL_NAMES
        if getattr(end, name) is not None
    }
    return start.changed(**moved)
