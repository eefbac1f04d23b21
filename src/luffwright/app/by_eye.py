"""What can be seen of a control that nothing is counted for on this boat."""

from __future__ import annotations

import numpy as np

from luffwright.sails.flight import Flight
from luffwright.sails.measure import sections

SLACK = 50.0
"""Pull below which a rope looks slack [N]."""
IN_DEGREES = float(np.radians(15.0))
"""Angle of the boom from which it is told in degrees: nearer in its end is told in centimetres."""


def seen_by_eye(flight: Flight, name: str) -> str:
    """Return how it shows where a control stands, in the sailor's words.

    Parameters
    ----------
    flight : Flight
    name : str
        The control's.

    Returns
    -------
    str
        Nothing where it shows in no one thing.
    """
    if name == "mainsheet":
        return _boom(flight)
    low, _, top = sections(flight, flight.rigging.sails[1])
    if name == "outhaul":
        return f"mainsail about {100.0 * low.camber:.0f} % deep low down"
    if name == "vang":
        twisted = f"mainsail's top twisted about {np.degrees(top.twist):.0f}°"
        return "slack" if flight.pull("vang") < SLACK else twisted
    return ""


def _boom(flight: Flight) -> str:
    """Return where the boom's end stands off the boat's middle line."""
    named = flight.rigging.points.names
    tack = flight.rigging.plan.mainsail_gear.tack
    forward, out, _ = flight.places[named["boom_end"]] - np.array([tack[0], 0.0, 0.0])
    if abs(out) < 0.01:
        return "boom's end in the middle"
    angle = float(np.arctan2(abs(out), -forward))
    side = "leeward" if out > 0.0 else "windward"
    if angle >= IN_DEGREES:
        return f"boom about {np.degrees(angle):.0f}° out to {side}"
    return f"boom's end about {100.0 * abs(out):.0f} cm to {side} of the middle"
