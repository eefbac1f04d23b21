"""The blanks of a boat file while they are filled: each estimate says how it was come by."""

from __future__ import annotations

import copy
from dataclasses import dataclass
from typing import Any

from luffwright.aboard.measuring import TWELVE

GEOMETRY = "geometry of what is given"
PRACTICE = "common practice, from memory"
DELFT = "parent hull of the Delft series, Gerritsma and others 1981"
SOUTHAMPTON = "catamaran series of Molland and others, Southampton 1994 (from memory)"
MAST_MAKER = "a mast maker's advice for setting up rigs"
LOAD_FORMULA = "a deck-hardware maker's formula for sheet loads"
STABILITY = "Delft stability formula 1992 (from memory), centre of weight assumed"

NEEDED_WORDS = {
    "boat.name": "what she is called", "boat.kind": "monohull or catamaran",
    "rig.type": "masthead or fractional",
}  # fmt: skip
"""Words that nothing can stand in for, and what they may be."""
NEEDED = tuple(it.key for it in TWELVE)
"""The twelve measurements that nothing can stand in for."""

Value = Any
"""What a file may hold under a key: a number, text, true or false, a list."""


@dataclass(frozen=True)
class Estimate:
    """A value that nobody gave: its key, how it was come by in one line, and by whose authority."""

    key: str
    how: str
    source: str


class Page:
    """A boat file's table with its blanks; what is filled in is noted."""

    def __init__(self, table: dict[str, Value]) -> None:
        self.table = copy.deepcopy(table)
        self.given = given_keys(table)
        self.estimates: list[Estimate] = []

    def has(self, key: str) -> bool:
        """Return whether a key, or anything in the table of that name, is filled."""
        return self._at(key) is not None

    def number(self, key: str) -> float:
        """Return the number that a filled key holds."""
        return float(self._at(key))

    def word(self, key: str) -> str:
        """Return the text that a filled key holds."""
        return str(self._at(key))

    def fill(self, key: str, value: Value, how: str, source: str = PRACTICE) -> None:
        """Fill a key if it is blank."""
        if self.has(key):
            return
        here = self.table
        *tables, last = key.split(".")
        for name in tables:
            here = here.setdefault(name, {})
        here[last] = _rounded(value)
        self.estimates.append(Estimate(key, how, source))

    def _at(self, key: str) -> Value:
        here: Value = self.table
        for name in key.split("."):
            if not isinstance(here, dict) or name not in here:
                return None
            here = here[name]
        return here


def _rounded(value: Value) -> Value:
    """Return a number with as many digits as one would measure."""
    if isinstance(value, list | tuple):
        return [_rounded(it) for it in value]
    if isinstance(value, dict):
        return {name: _rounded(it) for name, it in value.items()}
    if not isinstance(value, float):
        return value
    return round(value, 2) if abs(value) < 100.0 else float(round(value))


def given_keys(table: dict[str, Value], above: str = "") -> frozenset[str]:
    """Return the keys that a file fills itself: `rig.i_m`, `stays.shrouds`."""
    found: set[str] = set()
    for name, value in table.items():
        if isinstance(value, dict):
            found |= given_keys(value, f"{above}{name}.")
        else:
            found.add(above + name)
    return frozenset(found)
