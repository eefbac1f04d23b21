"""What one would see and feel on a boat in balance, as continuous margins.

A tuft streams while its margin is positive. Near nought it streams half of the time.
"""

from __future__ import annotations

import numpy as np

from luffwright.advice.task import Reached, SailingTask
from luffwright.air.tufts import LUFF_LIFTS
from luffwright.arrays import FloatArray
from luffwright.sails.flight import Flight
from luffwright.sails.measure import LEVELS, Section, sail_grid, sections, strip_values
from luffwright.sails.sailcloth import SailPart
from luffwright.sails.wander import leech_limit
from luffwright.water.equilibrium import Balanced

LEVEL_NAMES = tuple(level for level, _ in LEVELS)
TUFTS = tuple(f"{side}_{level}" for side in ("windward", "leeward") for level in LEVEL_NAMES)
LEECHES = tuple(f"leech_{level}" for level in LEVEL_NAMES)
NAMES = (
    "made_good", "speed", "heel", "rudder", "used", *TUFTS, *LEECHES, "backwind",
    "head_flutter", "main_flutter", "foot_camber",
)  # fmt: skip
"""Speed that counts and speed through the water [m/s], heel and rudder [rad], the greatest share of
a limit in use [-], margins of the headsail's tufts, of the mainsail's leech telltales and of its
luff low down [rad], least stretch of each leech's upper half [-], the headsail's depth low down."""
PLAIN_MARGIN = 0.12
"""Beyond this a margin tells nothing more: the tuft streams, or is gone, all of the time [rad]."""
PLAIN_SLACK = 0.01


def readings(task: SailingTask, boat: Balanced) -> FloatArray:
    """Return what is seen and felt on a boat in balance, in the order of `NAMES`.

    Parameters
    ----------
    task : SailingTask
    boat : Balanced

    Returns
    -------
    (names,) array
        [as there]
    """
    flight = boat.flight
    head, main = (sections(flight, part) for part in flight.rigging.sails)
    stream = flight.stream
    windward = [it.incidence - LUFF_LIFTS for it in head]
    leeward = [it.stalls_above - it.incidence for it in head]
    used = task.used(Reached(flight, boat))
    out = [
        task.made_good(boat), stream.speed, stream.heel, boat.rudder, float(np.max(used)),
        *(_plain(it, PLAIN_MARGIN) for it in (*windward, *leeward)),
        *(_plain(it, PLAIN_MARGIN) for it in _leeches(flight, main)),
        _plain(main[0].incidence, PLAIN_MARGIN),
        *(_plain(_taut(flight, part), PLAIN_SLACK) for part in flight.rigging.sails),
        head[0].camber,
    ]  # fmt: skip
    return np.array(out)


def _plain(value: float, most: float) -> float:
    return float(np.clip(value, -most, most))


def _leeches(flight: Flight, main: tuple[Section, ...]) -> list[float]:
    """Return by how much the mainsail's leech telltales stream at each level [rad]."""
    part, strip = flight.rigging.sails[1], flight.flow.strip
    out = []
    for it in main:
        height = np.array([it.height])
        camber, holds = (
            float(strip_values(flight, part, values, height)[0])
            for values in (strip.camber, strip.geometry.holds)
        )
        out.append(leech_limit(camber, holds) - it.incidence)
    return out


def _taut(flight: Flight, part: SailPart) -> float:
    """Return the least stretch of the leech's upper half [-]: slack, it flutters."""
    leech = sail_grid(flight, part)[:, -1]
    rest = np.linalg.norm(np.diff(part.moulded.grid[:, -1], axis=0), axis=1)
    stretch = np.linalg.norm(np.diff(leech, axis=0), axis=1) / rest - 1.0
    return float(np.min(stretch[len(stretch) // 2 :]))
