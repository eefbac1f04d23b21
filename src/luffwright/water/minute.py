"""What wind and sea do in a minute about a boat's steady motion, and what the sails make of it.

The boat keeps her speed and her sails keep their shape; the wind that they meet swings.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.air.stream import Stream
from luffwright.arrays import FloatArray
from luffwright.sails.flight import Flight
from luffwright.sails.plan import SailPlan
from luffwright.sails.sensitivity import Sensitivity, sail_wrench
from luffwright.sails.wander import Helm, Onset, left_swing, mean_changes, mean_load
from luffwright.water.hull import Hull
from luffwright.water.sea import Sea
from luffwright.water.waves_motion import incidence_swing

HEIGHTS = 8
"""Heights between water and masthead at which the swing is found."""
LOWEST = 0.5
"""The lowest of them [m]."""


@dataclass(frozen=True)
class Minute:
    """The sea that a boat meets, from the wind's direction, and who steers her through it."""

    sea: Sea
    helm: Helm


def onset(minute: Minute, hull: Hull, plan: SailPlan, stream: Stream) -> Onset:
    """Return the wind past the boat and how far it swings at each height once it is steered for.

    Parameters
    ----------
    minute : Minute
    hull : Hull
    plan : SailPlan
        It tells how high the sails reach.
    stream : Stream

    Returns
    -------
    Onset
    """
    top = plan.mainsail_gear.tack[2] + plan.mainsail.luff
    heights = np.linspace(LOWEST, top, HEIGHTS)
    swing = incidence_swing(heights, stream, minute.sea, hull)
    turn = left_swing(swing.incidence, swing.wave_incidence, minute.helm)
    return Onset(stream, heights, turn, swing.speed)


def sway(minute: Minute | None, hull: Hull, flight: Flight) -> FloatArray:
    """Return what the swing adds to force and moment of the sails on average.

    Parameters
    ----------
    minute : Minute or None
        None = no swing.
    hull : Hull
    flight : Flight

    Returns
    -------
    (6,) array
        About the origin. Frame: level. [N, N m]
    """
    if minute is None:
        return np.zeros(6)
    swung = onset(minute, hull, flight.rigging.plan, flight.stream)
    more = mean_load(flight, swung) - flight.flow.node_force
    return sail_wrench(flight.places[: flight.rigging.sail_nodes], more, flight.stream.heel)


def on_average(
    minute: Minute | None, hull: Hull, flight: Flight, known: Sensitivity
) -> Sensitivity:
    """Return sensitivities of a flight as those of its average over the swing.

    Parameters
    ----------
    minute : Minute or None
        None = no swing.
    hull : Hull
    flight : Flight
    known : Sensitivity
        Of the flight itself.

    Returns
    -------
    Sensitivity
    """
    if minute is None:
        return known
    plan = flight.rigging.plan
    return mean_changes(flight, lambda stream: onset(minute, hull, plan, stream), known)
