"""Loads as limits of the search: no rope and no stay beyond its share of what breaks it."""

from __future__ import annotations

import numpy as np

from luffwright.arrays import FloatArray, IntArray
from luffwright.sails.flight import Flight
from luffwright.sails.plan import SailPlan

GREATEST_SHARE = 0.25
"""Working load of ropes, and the most that riggers tension wire to, over the breaking load [-]."""
TAUT_BY_HAND = ("forestay", "backstay")
"""What an adjustable backstay pulls taut: the crew eases it there, less sail is no help."""


def _carrying(flight: Flight) -> IntArray:
    return np.flatnonzero(flight.rigging.ropes.breaking > 0.0)


def load_names(flight: Flight) -> tuple[str, ...]:
    """Return the names of the ropes and stays whose breaking load is known."""
    return tuple(flight.rigging.ropes.names[k] for k in _carrying(flight))


def load_shares(flight: Flight, greatest: float = GREATEST_SHARE) -> FloatArray:
    """Return which share of its allowed load each rope and stay carries, as `load_names` has them.

    Parameters
    ----------
    flight : Flight
    greatest : float
        Allowed share of the breaking load; infinite for no limit. [-]

    Returns
    -------
    (n,) array
        [-]
    """
    at, ropes = _carrying(flight), flight.rigging.ropes
    pulls = np.maximum(ropes.sense[at] * flight.pulls[at], 0.0)
    return np.asarray(pulls / (greatest * ropes.breaking[at]), dtype=np.float64)


def load_slopes(
    flight: Flight, pulls: FloatArray, greatest: float = GREATEST_SHARE
) -> FloatArray:  # fmt: skip
    """Return how the shares of `load_shares` change.

    Parameters
    ----------
    flight : Flight
    pulls : (m, ropes) array
        Change of every rope's pull by one unit of each of m parameters. [N/m, N/rad]
    greatest : float
        Allowed share of the breaking load. [-]

    Returns
    -------
    (n, m) array
        [1/m, 1/rad]
    """
    at, ropes = _carrying(flight), flight.rigging.ropes
    allowed = greatest * ropes.breaking[at]
    return np.asarray((ropes.sense[at] * pulls[:, at] / allowed).T, dtype=np.float64)


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
