"""`boats`: which boats come along."""

from __future__ import annotations

from dataclasses import dataclass

from luffwright.aboard.boat import boat_keys, load_boat


@dataclass(frozen=True)
class BoatLine:
    """One boat in the list: key to ask for it, name, kind, and a line about it."""

    key: str
    name: str
    kind: str
    note: str


def boats() -> tuple[BoatLine, ...]:
    """Return the demo boats."""
    found = (load_boat(key) for key in boat_keys())
    return tuple(BoatLine(boat.key, boat.name, boat.kind, boat.note) for boat in found)
