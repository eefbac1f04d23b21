"""Start states and changes for the facts of the trade: one boat, one wind, one rope moved."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from luffwright.aboard.boat import Boat, load_boat
from luffwright.air.stream import Stream
from luffwright.air.wind import wind_profile
from luffwright.app.question import MESH, question
from luffwright.app.request import Request
from luffwright.sails.flight import Flight, fly
from luffwright.sails.measure import Section, sections
from luffwright.units import from_knots

BOATS = ("marram", "dunlin", "eider")
WINDS = (8.0, 12.0, 18.0)
ANGLES = (46.0, 56.0)
ANGLE_DEG, CAMBER, SAG, DRAFT, FORCE = 0.25, 0.005, 0.0005, 0.005, 0.01
"""Least effects that count: five times what two solves of one state may differ by; sag and force
in the same spirit."""


@dataclass(frozen=True)
class State:
    """A settled state of a boat in a wind."""

    boat: Boat
    sheet_zero: float
    flight: Flight

    def section(self, sail: int, level: str) -> Section:
        """Return a section: sail 0 is the headsail, 1 the mainsail."""
        found = sections(self.flight, self.flight.rigging.sails[sail])
        return next(entry for entry in found if entry.level == level)

    def fly(self, stream: Stream | None = None, **change: float) -> State:
        """Return the state after a change of controls (by, not to) or of the wind."""
        setting = self.flight.setting
        there = setting.changed(**{k: setting.value(k) + v for k, v in change.items()})
        flight = fly(
            self.boat.plan, there, stream or self.flight.stream, self.sheet_zero,
            mesh=MESH, near=self.flight,
        )  # fmt: skip
        return replace(self, flight=flight)

    def stronger(self, share: float) -> State:
        """Return the state in more of the same wind, ropes untouched."""
        stream = self.flight.stream
        return self.fly(replace(stream, profile=wind_profile(stream.profile.speed * (1 + share))))

    def resheeted(self, **change: float) -> State:
        """Return the state after a change, sheet re-set to the same chord angle low down."""
        target = self.section(0, "low").chord_angle
        eased = [0.0, 0.0]
        now = self.fly(**change)
        off = [now.section(0, "low").chord_angle - target, 0.0]
        eased[1] = -0.05 if off[0] > 0.0 else 0.05
        for _ in range(6):
            now = self.fly(sheet=eased[1], **change)
            off[1] = now.section(0, "low").chord_angle - target
            if abs(off[1]) < np.radians(0.05) or off[1] == off[0]:
                break
            step = -off[1] * (eased[1] - eased[0]) / (off[1] - off[0])
            eased, off = [eased[1], eased[1] + float(np.clip(step, -0.2, 0.2))], [off[1], 0.0]
        return now


@cache
def start(boat_name: str, wind_kn: float, angle_deg: float) -> State:
    """Return a boat's state on a course, sheets at a first guess: most of it, not the best trim."""
    asked = question(Request(boat=boat_name, wind_kn=wind_kn, angle_deg=angle_deg))
    flight = fly(asked.boat.plan, asked.setting, asked.stream, asked.sheet_zero, mesh=MESH)
    return State(asked.boat, asked.sheet_zero, flight)


def at(boat_name: str, wind_kn: float) -> tuple[Boat, float]:
    """Return a boat and a wind in m/s."""
    return load_boat(boat_name), from_knots(wind_kn)
