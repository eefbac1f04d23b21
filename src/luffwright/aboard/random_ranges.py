"""Ranges of a random boat's numbers, and draws from them that are the same on every machine."""

from __future__ import annotations

import tomllib
import zlib
from dataclasses import dataclass
from functools import cache
from importlib import resources

import numpy as np

Word = str | int


@dataclass(frozen=True)
class Range:
    """Between which ends a number is drawn, or from which words; `source`: whose word that is."""

    source: str
    low: float = 0.0
    high: float = 0.0
    of: tuple[Word, ...] = ()


@cache
def ranges() -> dict[str, Range]:
    """Return the ranges by name: `genoa.width_of_foretriangle`."""
    text = (resources.files("luffwright.aboard") / "random_ranges.toml").read_text("utf-8")
    table = tomllib.loads(text)
    sources = table.pop("sources")
    return {
        f"{group}.{name}": Range(
            sources[it["source"]], it.get("low", 0.0), it.get("high", 0.0), tuple(it.get("of", ()))
        )
        for group, part in table.items()
        for name, it in part.items()
    }


@dataclass(frozen=True)
class Draw:
    """What a seed draws. Each range has a stream of its own: no draw depends on another's order.

    Parameters
    ----------
    seed : int
        0 or more.

    Examples
    --------
    >>> Draw(1).number("genoa.width_of_foretriangle") == Draw(1).number(
    ...     "genoa.width_of_foretriangle"
    ... )
    True
    >>> 1.20 <= Draw(1).number("genoa.width_of_foretriangle") <= 1.45
    True
    """

    seed: int

    def number(self, name: str) -> float:
        """Return a number of a range, each as likely."""
        found = ranges()[name]
        return found.low + self._share(name) * (found.high - found.low)

    def word(self, name: str) -> str:
        """Return a word of a list."""
        return str(self._entry(name))

    def count(self, name: str) -> int:
        """Return a whole number of a list."""
        return int(self._entry(name))

    def _entry(self, name: str) -> Word:
        words = ranges()[name].of
        return words[int(self._share(name) * len(words))]

    def _share(self, name: str) -> float:
        """Return a number from 0 to below 1.

        Raw bits of a named generator: NumPy promises these never to change, other than its ways
        of making numbers from them.
        """
        bits = np.random.PCG64(np.random.SeedSequence([self.seed, zlib.crc32(name.encode())]))
        return float(int(bits.random_raw()) >> 11) * 2.0**-53
