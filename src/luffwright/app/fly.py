"""`fly`: set like this, in this wind: what shape, what do the telltales do, what loads."""

from __future__ import annotations

from luffwright.app.answer import Flown
from luffwright.app.picture import picture
from luffwright.app.question import MESH, question
from luffwright.app.report import fly_answer, sail_names
from luffwright.app.request import Request
from luffwright.sails.flight import fly as fly_sails


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
    flight = fly_sails(
        asked.boat.plan, asked.setting, asked.stream, asked.sheet_zero,
        mesh=MESH, density=asked.density,
    )  # fmt: skip
    return Flown(fly_answer(asked, flight), picture(asked, flight, sail_names(asked.boat)))
