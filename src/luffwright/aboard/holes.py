"""A row of holes on deck: from a place on the track to a hole's number and back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

End = Literal["front", "aft"]


@dataclass(frozen=True)
class Holes:
    """A row of holes: the one nearest the bow at `front`, `spacing` apart [m], `count` of them,
    counted from one end; on one `side` or on both alike.
    """

    front: float
    spacing: float
    count: int
    counted_from: End = "front"
    side: Literal["port", "starboard", ""] = ""

    def number(self, value: float, end: End | None = None) -> int:
        """Return the number of the hole nearest to a place [m]."""
        near = min(max(round((value - self.front) / self.spacing), 0), self.count - 1)
        return near + 1 if (end or self.counted_from) == "front" else self.count - near

    def place(self, number: int, end: End | None = None) -> float:
        """Return where a hole is [m]."""
        near = number - 1 if (end or self.counted_from) == "front" else self.count - number
        return self.front + near * self.spacing

    def reach(self, number: int) -> tuple[float, float]:
        """Return from where to where this hole is the nearest of its row [m]."""
        place = self.place(number)
        return place - 0.5 * self.spacing, place + 0.5 * self.spacing
