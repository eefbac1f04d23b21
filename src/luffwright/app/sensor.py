"""What the wind instruments at the masthead read: heeled with the mast, in the sails' upwash."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from luffwright.aboard.boat import Boat
from luffwright.air.lattice import Water
from luffwright.air.upwash import induced_velocity
from luffwright.arrays import FloatArray
from luffwright.sails.flight import Flight, sail_lattice
from luffwright.sails.rigging import Mesh

AHEAD = 0.6
"""How far in front of the mast's front face the instruments stand on their arm: our own default
[m]. Their height is the boat's."""


@dataclass(frozen=True)
class SensorWind:
    """Wind as vane and cups read it: speed [m/s], angle from the bow to starboard [rad]."""

    speed: float
    angle: float


def sensor_place(boat: Boat) -> FloatArray:
    """Return where the instruments stand, boat frame [m].

    Parameters
    ----------
    boat : Boat

    Returns
    -------
    (3,) array
    """
    mast, height = boat.plan.mast, boat.sensor_height
    return np.array([AHEAD - math.tan(mast.rake) * (height - mast.foot), 0.0, height])


def sensor_wind(boat: Boat, flight: Flight) -> SensorWind:
    r"""Return what the instruments read: wind past the boat and the sails' upwash together.

    .. math:: V = \sqrt{v_x^2 + v_y^2},\quad \beta = \operatorname{atan2}(v_y, -v_x)

    in the boat's frame: vane and cups turn square to the heeled mast and do not feel what blows
    along it.

    Parameters
    ----------
    boat : Boat
    flight : Flight

    Returns
    -------
    SensorWind

    Notes
    -----
    The reading of instruments without faults. Heel alone narrows the angle, upwash widens it, by 2
    to 4 degrees upwind; half a metre forward or aft is worth 0.3 degrees of that.
    """
    point = sensor_place(boat)[None, :]
    part = flight.rigging.sails[0]
    mesh = Mesh(part.rows - 1, part.columns - 1)
    nodes = flight.places[: flight.rigging.sail_nodes]
    added = induced_velocity(
        sail_lattice(flight.rigging.plan, mesh), flight.flow, nodes, Water(flight.stream.up), point
    )
    wind = (flight.stream(point) + added)[0]
    return SensorWind(float(np.hypot(wind[0], wind[1])), float(np.arctan2(wind[1], -wind[0])))
