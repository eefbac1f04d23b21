"""The sums that balance a boat: drive, side force, heeling and yawing moment of sails and water.

The sails' part is their average over the minute's swing of the wind.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from luffwright.air.stream import Stream
from luffwright.arrays import FloatArray
from luffwright.frames import cross
from luffwright.sails.flight import Flight
from luffwright.sails.plan import SailPlan
from luffwright.sails.sensitivity import Sensitivity, sail_wrench
from luffwright.water.estimate import righting_moment
from luffwright.water.fluid import Water
from luffwright.water.hull import Hull
from luffwright.water.hull_drag import hull_drag
from luffwright.water.minute import Minute, sway
from luffwright.water.side_force import Sailing, side_force
from luffwright.water.waves import added_resistance
from luffwright.water.windage import Exposed, exposed_pieces, heights, windage
from luffwright.water.yaw import hull_yaw

_PROBE = np.array([1e-4, 1e-5, 1e-5, 1e-5])


@dataclass(frozen=True)
class Waters:
    """What the boat sails in and with, besides her sails: hull, water, pieces in the wind, and the
    minute's waves and gusts; without `minute` flat water and a steady wind.
    """

    hull: Hull
    water: Water
    pieces: tuple[Exposed, ...]
    minute: Minute | None = None


def waters(plan: SailPlan, hull: Hull, water: Water, minute: Minute | None = None) -> Waters:
    """Return what the boat sails in and with.

    Parameters
    ----------
    plan : SailPlan
    hull : Hull
    water : Water
    minute : Minute, optional
        None = flat water and a steady wind.

    Returns
    -------
    Waters
    """
    return Waters(hull, water, tuple(exposed_pieces(plan, hull)), minute)


def outer_wrench(
    at: Waters, stream: Stream, motion: FloatArray, density: float
) -> tuple[FloatArray, FloatArray]:
    """Return force and moment of water and windage about the origin, and their largest terms.

    Parameters
    ----------
    at : Waters
    stream : Stream
        Wind; its motion is replaced.
    motion : (4,) array
        Speed, heel, leeway, rudder. [m/s, rad]
    density : float
        Of the air. [kg/m³]

    Returns
    -------
    (6,) array, (4,) array
        Frame: level [N, N m]; largest of drive, side force, heeling and yawing moment.
    """
    speed, heel, leeway, rudder = (float(value) for value in motion)
    sailing = Sailing(speed, heel, leeway, rudder)
    hull = at.hull
    drag = hull_drag(hull, speed, heel, at.water).force
    if at.minute is not None:
        drag += added_resistance(at.minute.sea, hull, stream.wind_angle).resistance
    fins = side_force(hull, sailing, at.water)
    track = np.array([np.cos(leeway), np.sin(leeway), 0.0])
    total = np.zeros(6)
    total[:3] = np.array(fins.force) - drag * track
    total[3:] = fins.moment
    righting = righting_moment(hull, abs(heel)) * np.sign(heel)
    total[3] += righting
    total[5] += hull_yaw(hull, sailing, at.water)
    moved = replace(stream, speed=speed, heel=heel, leeway=leeway)
    wind = moved.level(np.maximum(heights(at.pieces, heel), 0.2))
    blown = windage(at.pieces, wind, heel, density)
    force = np.array([entry.force for entry in blown])
    total[:3] += force.sum(axis=0)
    total[3:] += cross(np.array([entry.point for entry in blown]), force).sum(axis=0)
    scales = np.array([drag, abs(fins.side), abs(righting), abs(fins.moment[2])])
    return total, scales


def sail_sums(wrench: FloatArray, leeway: float) -> FloatArray:
    """Return drive and side force along and across the track, heeling and yawing moment.

    Parameters
    ----------
    wrench : (6,) array
        Force and moment about the origin. Frame: level. [N, N m]
    leeway : float
        [rad]

    Returns
    -------
    (4,) array
        [N, N, N m, N m]
    """
    along, across = np.cos(leeway), np.sin(leeway)
    return np.array(
        [
            wrench[0] * along + wrench[1] * across,
            wrench[1] * along - wrench[0] * across,
            -wrench[3],
            wrench[5],
        ]
    )


def _sail_wrench(flight: Flight) -> FloatArray:
    nodes = flight.places[: flight.rigging.sail_nodes]
    return sail_wrench(nodes, flight.flow.node_force, flight.stream.heel)


def balance_gaps(
    at: Waters, flight: Flight, rudder: float, more: FloatArray | None = None
) -> tuple[FloatArray, FloatArray]:
    """Return what is out of balance in the four sums, and the largest term of each.

    Parameters
    ----------
    at : Waters
    flight : Flight
    rudder : float
        [rad]
    more : (6,) array, optional
        What the swing adds to the sails' force and moment; it is found here if not given. [N, N m]

    Returns
    -------
    (4,) array, (4,) array
        [N, N, N m, N m]
    """
    stream = flight.stream
    motion = np.array([stream.speed, stream.heel, stream.leeway, rudder])
    outer, scales = outer_wrench(at, stream, motion, flight.density)
    more = sway(at.minute, at.hull, flight) if more is None else more
    sails = sail_sums(_sail_wrench(flight) + more, stream.leeway)
    whole = np.maximum(np.abs(sails), scales)
    floor = np.array([5.0, 5.0, 50.0, 50.0])
    return sail_sums(outer, stream.leeway) + sails, np.maximum(whole, floor)


def slopes_of(at: Waters, flight: Flight, rudder: float, known: Sensitivity) -> FloatArray:
    """Return how the four sums change with speed, heel, leeway and rudder, sails included.

    Parameters
    ----------
    at : Waters
    flight : Flight
    rudder : float
        [rad]
    known : Sensitivity
        To `SAIL_MOTIONS`, in this order.

    Returns
    -------
    (4, 4) array
        [N and N m, by m/s and rad]
    """
    stream = flight.stream
    motion = np.array([stream.speed, stream.heel, stream.leeway, rudder])
    sails = _sail_wrench(flight)
    out = np.zeros((4, 4))
    for k in range(4):
        probe = np.zeros(4)
        probe[k] = _PROBE[k]
        both = []
        for sign in (1.0, -1.0):
            there = motion + sign * probe
            outer, _ = outer_wrench(at, stream, there, flight.density)
            both.append(sail_sums(outer + sails, float(there[2])))
        out[:, k] = (both[0] - both[1]) / (2.0 * _PROBE[k])
        if k < 3:
            out[:, k] += sail_sums(known.wrench[k], stream.leeway)
    return out


def turn_sums(at: Waters, flight: Flight, rudder: float) -> FloatArray:
    """Return how windage changes the four sums as the true wind draws aft.

    Parameters
    ----------
    at : Waters
    flight : Flight
    rudder : float
        [rad]

    Returns
    -------
    (4,) array
        [N and N m, by rad]
    """
    stream = flight.stream
    motion = np.array([stream.speed, stream.heel, stream.leeway, rudder])
    both = []
    for sign in (1.0, -1.0):
        turned = replace(stream, wind_angle=stream.wind_angle + sign * 1e-5)
        both.append(sail_sums(outer_wrench(at, turned, motion, flight.density)[0], stream.leeway))
    change: FloatArray = (both[0] - both[1]) / 2e-5
    return change
