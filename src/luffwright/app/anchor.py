"""The helm once seen on board, as an anchor of the computed one."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from luffwright.app.question import MESH, Question, question
from luffwright.app.request import Request
from luffwright.app.swing import minute_of
from luffwright.sails.flight import fly as fly_sails
from luffwright.units import to_degrees, to_knots
from luffwright.water.equilibrium import Course, balance
from luffwright.water.fluid import water_at
from luffwright.water.hull import Hull
from luffwright.water.reef_table import CLOSE_HAULED
from luffwright.water.sums import waters
from luffwright.water.yaw import anchor_of


def helm_anchor(asked: Question) -> float | None:
    """Return how far the rudder that was seen lay from the computed one [rad].

    Parameters
    ----------
    asked : Question
        Its boat file may have one rudder angle that was seen, with the wind of that day.

    Returns
    -------
    float or None
        To be added to every computed rudder angle of this boat; None where nothing was seen, or
        where she cannot be balanced in that wind.

    Notes
    -----
    Her sails are taken as sheeted by a first guess for that course, not searched for: the helm that
    is told stays within 2°, and the difference between two trims is not touched at all.
    """
    return _anchor(asked.request.boat, asked.boat.hull)


@lru_cache(maxsize=8)
def _anchor(boat: str, hull: Hull) -> float | None:
    seen, wind = hull.observed_rudder, hull.observed_wind
    if seen is None or wind is None:
        return None
    angle = CLOSE_HAULED[hull.kind] if hull.observed_angle is None else hull.observed_angle
    reefs = {"reef": float(hull.observed_reefs)} if hull.observed_reefs else {}
    day = Request(
        boat=boat, wind_kn=to_knots(wind), angle_deg=to_degrees(angle), controls=reefs
    )  # fmt: skip
    asked = question(day)
    plan, setting, stream = asked.boat.plan, asked.setting, asked.stream
    flight = fly_sails(
        plan, setting, stream, asked.sheet_zero, mesh=MESH, density=asked.density, afresh=True
    )
    if not flight.settled:
        return None
    at = waters(plan, asked.boat.hull, water_at(day.water_temp_c + 273.15), minute_of(asked))
    course = Course(plan, setting, stream, asked.sheet_zero, MESH, asked.density)
    found = balance(course, at, start=flight)
    return anchor_of(seen, found.rudder) if found.settled else None


def anchored(asked: Question) -> str:
    """Return what the helm rests on, in words; nothing where no helm was seen.

    Parameters
    ----------
    asked : Question

    Returns
    -------
    str
    """
    hull = asked.boat.hull
    if hull.observed_rudder is None:
        return ""
    moved = helm_anchor(asked)
    if moved is None:
        return "the helm that was seen is not used: she does not balance in the wind of that day"
    way = "weather" if moved > 0.0 else "lee"
    return f"helm moved by {abs(float(np.degrees(moved))):.0f}° to {way}, to meet the one seen"
