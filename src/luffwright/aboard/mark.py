"""Marks one can find on deck: from a rope's position to words and back, and the way there.

The words of a mark are the same both ways: `Mark.position` reads whatever `Mark.text` says, and
shorter forms of it. What no mark is known for is said so, never made up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from luffwright.aboard.holes import Holes
from luffwright.aboard.mark_reading import understood
from luffwright.aboard.mark_words import Style, counted, grain, half, hands, said

__all__ = ["Holes", "Mark", "Rounded", "Style", "half", "hands", "rounding_cost"]

BY_EYE = "by eye"
UNMARKED = "not marked on this boat"


@dataclass(frozen=True)
class Rounded:
    """A position brought to the nearest mark that there is.

    `mark` in deck words, `value` where that mark is and `off` how far from what was wanted [the
    control's unit].
    """

    mark: str
    value: float
    off: float

    @property
    def off_cm(self) -> float:
        """Return how far the mark is from what was wanted [cm], for controls counted in metres."""
        return 100.0 * abs(self.off)

    def words(self, slope: float | None = None) -> str:
        """Return the mark, how far it is off, and where a slope is known [kn in the control's
        unit] what that costs.

        Examples
        --------
        >>> Rounded("hole 8 from forward", 0.35, 0.02).words(1.5)
        'hole 8 from forward, 2 cm off, which costs 0.03 kn'
        """
        if self.off_cm < 0.5:
            return self.mark
        cost = "" if slope is None else f", which costs {rounding_cost(self, slope):.2f} kn"
        return f"{self.mark}, {self.off_cm:.0f} cm off{cost}"


def rounding_cost(rounded: Rounded, slope: float) -> float:
    """Return what the rounding loses.

    Parameters
    ----------
    rounded : Rounded
    slope : float
        What a unit of the control is worth there. [kn in the control's unit]

    Returns
    -------
    float
        Never below 0. [kn]

    Examples
    --------
    2 cm beside the best place where a metre is worth half a knot:

    >>> rounding_cost(Rounded("hole 7 from forward", 0.30, 0.02), 0.5)
    0.01
    """
    return abs(slope * rounded.off)


@dataclass(frozen=True)
class Mark:
    """How one control is named, counted and moved.

    `more` and `less` are the verbs for a growing and a falling position; `step` is the least move
    [in the control's unit]; `first` and `last` end the travel. `sides` are the holes of the port
    and the starboard track where they differ; `missing` is what has to be measured before anything
    can be counted: then there is no mark. `neutral` is a place that every crew can find without.
    """

    control: str
    rope: str
    style: Style
    step: float
    more: str
    less: str
    first: float = 0.0
    last: float = 0.0
    counted_from: Literal["front", "aft"] = "front"
    sides: tuple[Holes, ...] = ()
    missing: str = ""
    neutral: float | None = None

    @property
    def holes(self) -> tuple[Holes, ...]:
        """Return the holes of each side, or of both where they are alike."""
        count = round((self.last - self.first) / self.step) + 1
        return self.sides or (Holes(self.first, self.step, count, self.counted_from),)

    def hole(self, value: float) -> int:
        """Return the hole's number on the first side, counted from the end the sailor chose."""
        return self.holes[0].number(value)

    def text(self, value: float, seen: str = "") -> str:
        """Return where the control stands, in deck words.

        Where it has no mark: as it can be told by eye, from a place that every crew finds or from
        what is `seen` of it, and what has to be measured for a mark.
        """
        if not self.missing:
            return said(self, value)
        shown = seen or self.by_eye(value)
        return (f"{BY_EYE}: {shown}; " if shown else "") + self.unmarked

    @property
    def unmarked(self) -> str:
        """Return that it has no mark and what has to be measured for one; nothing where it has."""
        return f"{UNMARKED}: {self.missing}" if self.missing else ""

    def position(self, words: str) -> float:
        """Return where deck words put the control; the opposite of `text`.

        Raises
        ------
        InputError
            Where there is no such mark, with words that would do.
        """
        return understood(self, words)

    def rounded(self, value: float) -> Rounded:
        """Return the nearest mark to a position, and how far off it is."""
        if self.missing:
            return Rounded(self.text(value), value, 0.0)
        there = self.position(self.text(value))
        return Rounded(self.text(value), there, there - value)

    def grain(self, value: float) -> float:
        """Return the distance from one mark to the next near a position [the control's unit]."""
        return math.nan if self.missing else grain(self, value)

    def move(self, start: float, end: float) -> str:
        """Return the order to the crew: rope, count, verb, and from where to where."""
        rope, verb = self.rope.upper(), self.more if end > start else self.less
        if self.missing and self.neutral is None:
            return f"{rope} {verb} {BY_EYE}"
        if self.missing:
            far = 100.0 * abs(end - start)
            return f"{rope} {far:.0f} cm {verb} {BY_EYE} (to {self.by_eye(end)})"
        count = counted(self, end - start)
        return f"{rope} {count} {verb} ({self.text(start)} → {self.text(end)})"

    def by_eye(self, value: float) -> str:
        """Return where the control stands off the place that can be found, if there is one."""
        if self.neutral is None:
            return ""
        off = value - self.neutral
        more, less, place = _FOUND[self.control]
        if abs(off) < 0.005:
            return place
        return f"about {100 * abs(off):.0f} cm {more if off > 0.0 else less} {place}"


_FOUND = {
    "lead": ("aft of", "forward of", "neutral"),
    "traveller": ("to leeward of", "to windward of", "the centre"),
}
"""Which way a control stands off the place that can be found without marks, and its name."""
