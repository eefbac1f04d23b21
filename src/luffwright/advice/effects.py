"""What a little of each control does to the shape of the sails, from the sensitivities."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from luffwright.arrays import FloatArray
from luffwright.sails.flight import Flight
from luffwright.sails.measure import sections, side_of

ANGLE, TWIST, CAMBER, DRAFT = 0, 1, 2, 3
QUANTITIES = 4
LOW, MIDDLE, TOP = 0, 1, 2
HEADSAIL, MAINSAIL = 0, 1
FARTHEST = 1e-3
"""How far the point that moves most is moved to see the sections change [m]."""


@dataclass(frozen=True)
class Effects:
    """Change of the sails by one step of each control in `names`.

    `shape` (names, sails, levels, quantities): chord angle and twist [rad], camber and draft
    [shares of the chord] at `low`, `middle` and `top` of headsail and mainsail.
    """

    names: tuple[str, ...]
    shape: FloatArray

    def of(self, name: str) -> FloatArray:
        """Return a control's effect (sails, levels, quantities) by one of its steps [rad, -]."""
        return np.asarray(self.shape[self.names.index(name)])

    def resheeted(self, name: str) -> FloatArray:
        """Return a control's effect with the headsail's angle at `low` held by its sheet."""
        return self.of(name) + self.sheet_with(name) * self.of("sheet")

    def sheet_with(self, name: str) -> float:
        """Return how many steps of headsail sheet hold its angle at `low` through one step of a
        control; none for the sheet itself, or where there is none to move.

        Examples
        --------
        A step of the car that opens the foot by 0.01 where a step of sheet opens it by 0.02:

        >>> shape = np.zeros((2, 2, 3, 4))
        >>> shape[0, 0, 0, 0], shape[1, 0, 0, 0] = 0.02, 0.01
        >>> Effects(("sheet", "lead"), shape).sheet_with("lead")
        -0.5
        """
        if name == "sheet" or "sheet" not in self.names:
            return 0.0
        by_sheet = float(self.of("sheet")[HEADSAIL, LOW, ANGLE])
        if abs(by_sheet) < LEAST_BY_SHEET:
            return 0.0
        return -float(self.of(name)[HEADSAIL, LOW, ANGLE]) / by_sheet


LEAST_BY_SHEET = float(np.radians(0.005))
"""Least angle by one step of sheet with which another rope's effect can be undone [rad]."""


def shape_of(flight: Flight) -> FloatArray:
    """Return chord angle and twist [rad], camber and draft [-] as (sails, levels, quantities).

    The angle is out from the middle line, to whichever side the sail stands.
    """
    return np.array(
        [
            [
                (side_of(flight, part) * it.chord_angle, it.twist, it.camber, it.draft)
                for it in sections(flight, part)
            ]
            for part in flight.rigging.sails
        ]
    )


def effects(
    flight: Flight, names: tuple[str, ...], places: FloatArray, steps: FloatArray
) -> Effects:
    """Return what one step of each control does to the sections.

    Parameters
    ----------
    flight : Flight
    names : tuple of str
    places : (names, points, 3) array
        Change of the points by one unit of each control. Frame: boat. [m by its unit]
    steps : (names,) array
        One step of each. [its unit]

    Returns
    -------
    Effects
        Holds for: little steps, linear in each.
    """
    shape = np.zeros((len(names), len(flight.rigging.sails), 3, QUANTITIES))
    for k, (move, step) in enumerate(zip(places, steps, strict=True)):
        most = float(np.max(np.abs(move)))
        if most == 0.0:
            continue
        part = FARTHEST / most
        ends = [
            shape_of(replace(flight, places=flight.places + sign * part * move))
            for sign in (1.0, -1.0)
        ]
        shape[k] = (ends[0] - ends[1]) / (2.0 * part) * step
    return Effects(names, shape)
