"""Loads as limits of the search: no rope and no stay beyond its share of what breaks it.

A rope may carry a quarter. Riggers tension wire to a fifth or a quarter at the berth, but that is a
rule for a rig at rest: under sail the wind's own pull comes on top, wires are chosen for two to
four times their load, and only beyond half of what breaks it wire comes to harm. Held at a quarter
under sail, a backstay would have to be eased just when the stay needs it.
"""

from __future__ import annotations

import numpy as np

from luffwright.arrays import FloatArray, IntArray
from luffwright.sails.flight import Flight
from luffwright.sails.plan import SailPlan

OF_A_ROPE = 0.25
"""Working load of a rope over its breaking load [-] (a yacht magazine's test of ropes; trade lists
say 20 to 25 %)."""
OF_A_STAY = 1.0 / 3.0
"""Load of a stay under sail over its breaking load [-]: the middle of the factor of 2 to 4 by which
wire is chosen (a rigging supplier's articles on standing rigging), well below the half from which a
chandler's technical note warns of lasting harm."""
AT_REST = 0.25
"""The most that a stay may carry at the berth, over its breaking load [-] (a mast maker's "Hints
and advice": a fifth, and never above a quarter)."""
STAYS, SIDES = ("forestay", "backstay"), ("_leeward", "_windward")
"""What is a stay by its name, or by the side of a shroud that ends it; all else counts as rope."""
TAUT_BY_HAND = STAYS
"""What an adjustable backstay pulls taut: the crew eases it there, less sail is no help."""


def allowed_share(name: str) -> float:
    """Return the share of its breaking load that a rope or a stay may carry under sail.

    Parameters
    ----------
    name : str
        As in the rigging.

    Returns
    -------
    float
        [-]

    Examples
    --------
    >>> allowed_share("mainsheet"), round(allowed_share("backstay"), 2)
    (0.25, 0.33)
    >>> round(allowed_share("cap_shroud_windward"), 2)
    0.33
    """
    return OF_A_STAY if name in STAYS or name.endswith(SIDES) else OF_A_ROPE


def _carrying(flight: Flight) -> IntArray:
    return np.flatnonzero(flight.rigging.ropes.breaking > 0.0)


def load_names(flight: Flight) -> tuple[str, ...]:
    """Return the names of the ropes and stays whose breaking load is known."""
    return tuple(flight.rigging.ropes.names[k] for k in _carrying(flight))


def _allowed(flight: Flight, times: float) -> FloatArray:
    """Return what each rope and stay may carry [N]."""
    shares = np.array([allowed_share(name) for name in load_names(flight)])
    return np.asarray(times * shares * flight.rigging.ropes.breaking[_carrying(flight)])


def load_shares(flight: Flight, times: float = 1.0) -> FloatArray:
    """Return which share of its allowed load each rope and stay carries, as `load_names` has them.

    Parameters
    ----------
    flight : Flight
    times : float
        What `allowed_share` is multiplied by; infinite for no limit. [-]

    Returns
    -------
    (n,) array
        [-]
    """
    at, ropes = _carrying(flight), flight.rigging.ropes
    pulls = np.maximum(ropes.sense[at] * flight.pulls[at], 0.0)
    return np.asarray(pulls / _allowed(flight, times), dtype=np.float64)


def load_slopes(flight: Flight, pulls: FloatArray, times: float = 1.0) -> FloatArray:
    """Return how the shares of `load_shares` change.

    Parameters
    ----------
    flight : Flight
    pulls : (m, ropes) array
        Change of every rope's pull by one unit of each of m parameters. [N/m, N/rad]
    times : float
        As in `load_shares`. [-]

    Returns
    -------
    (n, m) array
        [1/m, 1/rad]
    """
    at, ropes = _carrying(flight), flight.rigging.ropes
    carried = ropes.sense[at] * pulls[:, at] / _allowed(flight, times)
    return np.asarray(carried.T, dtype=np.float64)


def relieved_by_area(flight: Flight, plan: SailPlan) -> FloatArray:
    """Return 1 for each load that less sail relieves, 0 for what the backstay pulls taut [-].

    Parameters
    ----------
    flight : Flight
    plan : SailPlan

    Returns
    -------
    (n,) array
    """
    taut = any(entry.name == "backstay" for entry in plan.controls)
    return np.array([not (taut and name in TAUT_BY_HAND) for name in load_names(flight)], float)
