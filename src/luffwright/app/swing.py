"""From a question to the minute's waves and gusts, and to the wander of its flight."""

from __future__ import annotations

from luffwright.app.question import Question
from luffwright.sails.flight import Flight
from luffwright.sails.wander import Wander, wander
from luffwright.water.minute import Minute, onset
from luffwright.water.sea import named_sea
from luffwright.water.waves import added_resistance

STEERED = {"hand": "by hand", "pilot": "by the pilot", "vane": "by the vane"}
ASSUMED = "how far sea and gusts swing the wind (within a factor of two), steered {by}"
LEAST_ADDED = 0.5
"""Added resistance that is not worth a word [N]."""


def minute_of(asked: Question) -> Minute:
    """Return the sea asked for, and who steers.

    Parameters
    ----------
    asked : Question

    Returns
    -------
    Minute
    """
    sea = named_sea(asked.request.sea, asked.stream.profile.speed)
    return Minute(sea, asked.request.steered_by)


def wandering(asked: Question, flight: Flight) -> Wander:
    """Return what the sails do on average in the sea asked for.

    Parameters
    ----------
    asked : Question
    flight : Flight

    Returns
    -------
    Wander
    """
    swung = onset(minute_of(asked), asked.boat.hull, asked.boat.plan, flight.stream)
    return wander(flight, swung.heights, swung.turn, swung.rush)


def assumed(asked: Question) -> str:
    """Return what the averages rest on, in words.

    Parameters
    ----------
    asked : Question

    Returns
    -------
    str
    """
    return ASSUMED.format(by=STEERED[asked.request.steered_by])


def waves_cost(asked: Question) -> str:
    """Return what the waves add to the resistance, with its band, in words; empty if nothing.

    Parameters
    ----------
    asked : Question

    Returns
    -------
    str
    """
    sea = minute_of(asked).sea
    found = added_resistance(sea, asked.boat.hull, asked.stream.wind_angle)
    if found.resistance < LEAST_ADDED:
        return ""
    return (
        f"waves of {sea.height:g} m add {found.resistance:.0f} N of resistance "
        f"({found.low:.0f} to {found.high:.0f}): an estimate of our own"
    )
