"""The hull figures that sailing needs, as one frozen record."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from luffwright.water.foil import Foil


@dataclass(frozen=True)
class Hull:
    """One boat's hull, ready to sail.

    `kind` tells one hull from two; lengths and breadths [m], `displacement` [kg]; `hull_spacing`
    is the distance between the centrelines of two hulls [m], 0 for one hull;
    `righting_heel` [rad] and `righting_lever` GZ [m] tabulate the stability curve. `keel` and
    `rudder` where they are known; `observed_rudder`, positive with weather helm [rad], as the crew
    saw it in a true wind of `observed_wind` [m/s] at `observed_angle` [rad], close-hauled where
    that is None, with `observed_reefs` tied in; `centre_height` of the boat's weight above the
    water [m], where it is known.
    """

    kind: Literal["monohull", "catamaran"]
    length_overall: float
    length_waterline: float
    beam: float
    beam_waterline: float
    draught_body: float
    draught: float
    displacement: float
    hull_spacing: float
    bow_x: float
    righting_heel: tuple[float, ...]
    righting_lever: tuple[float, ...]
    keel: Foil | None = None
    rudder: Foil | None = None
    observed_rudder: float | None = None
    observed_wind: float | None = None
    observed_angle: float | None = None
    observed_reefs: int = 0
    centre_height: float | None = None
