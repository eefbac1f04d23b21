"""From a question to the wander of its flight: sea, hull and helm to the swing by height."""

from __future__ import annotations

import numpy as np

from luffwright.app.question import WAVE_HEIGHT_M, Question
from luffwright.sails.flight import Flight
from luffwright.sails.wander import Wander, left_swing, wander
from luffwright.water.sea import sea_of_height
from luffwright.water.waves_motion import incidence_swing

HEIGHTS = 8
"""Heights between water and masthead at which the swing is found."""
STEERED = {"hand": "by hand", "pilot": "by the pilot", "vane": "by the vane"}
ASSUMED = "how far sea and gusts swing the wind (within a factor of two), steered {by}"


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
    stream = flight.stream
    places = flight.places[: flight.rigging.sail_nodes]
    heights = np.linspace(0.5, float(np.max(places @ stream.up)), HEIGHTS)
    sea = sea_of_height(WAVE_HEIGHT_M[asked.request.sea], stream.profile.speed)
    swing = incidence_swing(heights, stream, sea, asked.boat.hull)
    turn = left_swing(swing.incidence, swing.wave_incidence, asked.request.steered_by)
    return wander(flight, heights, turn, swing.speed)


def assumed(asked: Question) -> str:
    """Return what the shares of the time rest on, in words.

    Parameters
    ----------
    asked : Question

    Returns
    -------
    str
    """
    return ASSUMED.format(by=STEERED[asked.request.steered_by])
