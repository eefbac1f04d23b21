"""Tufts on a section seen from above: along the cloth, lifted off it, or curled back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

from luffwright.app.answer import LevelReading
from luffwright.faces.draw.ink import INK, TROUBLE, Pen, Point, curve, polyline
from luffwright.faces.draw.view import View

_CALM = Pen(INK, 2.0)
_LOUD = Pen(TROUBLE, 3.0)
_LENGTH_PX, _OFF_PX = 22.0, 5.0


@dataclass(frozen=True)
class Place:
    """A point of a section with the direction aft along the cloth and the one to leeward [-]."""

    at: Point
    aft: Point
    lee: Point

    def away(self, along: float, off: float) -> Point:
        """Return the point `along` the cloth and `off` it to leeward [m]."""
        return (
            self.at[0] + along * self.aft[0] + off * self.lee[0],
            self.at[1] + along * self.aft[1] + off * self.lee[1],
        )


def place_on(section: Sequence[Point], distance: float) -> Place:
    """Return the place on a section at a distance from its luff.

    Parameters
    ----------
    section : sequence of (x, y)
        From luff to leech, boat frame. [m]
    distance : float
        Along the cloth; beyond the leech, straight on. [m]
    """
    left = distance
    for begin, end in pairwise(section):
        length = hypot(end[0] - begin[0], end[1] - begin[1])
        if left <= length or end == section[-1]:
            break
        left -= length
    aft = ((end[0] - begin[0]) / length, (end[1] - begin[1]) / length)
    at = (begin[0] + left * aft[0], begin[1] + left * aft[1])
    # The leeward side: to y when the sail lies fore and aft, forward when it is squared out.
    return Place(at, aft, (aft[1], -aft[0]))


def tufts(section: Sequence[Point], level: LevelReading, view: View) -> list[str]:
    """Return the tufts of one section: inside and outside near the luff, and at the leech."""
    drawn = []
    near = min(0.25, 0.15 * level.chord_m)
    if level.windward is not None:
        calm = level.windward == "streaming"
        drawn.append(_along(section, near, -1.0, view) if calm else _lifted(section, near, view))
    if level.leeward is not None:
        calm = level.leeward == "streaming"
        drawn.append(_along(section, near, 1.0, view) if calm else _curled(section, near, view))
    if level.leech is not None:
        drawn.append(_at_leech(section, view, calm=level.leech == "streaming"))
    return drawn


def _along(section: Sequence[Point], near: float, side: float, view: View) -> str:
    # On a short chord a tuft of full length would follow the whole sail.
    longest = 0.45 * hypot(section[-1][0] - section[0][0], section[-1][1] - section[0][1])
    length = min(_LENGTH_PX / view.scale, longest)
    steps = [near + share * length for share in (0.0, 0.25, 0.5, 0.75, 1.0)]
    off = side * _OFF_PX / view.scale
    return polyline([view.page(place_on(section, it).away(0.0, off)) for it in steps], _CALM)


def _lifted(section: Sequence[Point], near: float, view: View) -> str:
    return _bent(section, near, [(0, -4), (9, -5), (10, -12), (6, -23)], view)


def _curled(section: Sequence[Point], near: float, view: View) -> str:
    return _bent(section, near, [(0, 4), (22, 6), (20, 22), (2, 13)], view)


def _bent(
    section: Sequence[Point], near: float, handles: Sequence[tuple[float, float]], view: View
) -> str:
    """Return a bent tuft; handles are along and off the cloth [px]."""
    place = place_on(section, near)
    points = [place.away(a / view.scale, b / view.scale) for a, b in handles]
    return curve([view.page(point) for point in points], _LOUD)


def _at_leech(section: Sequence[Point], view: View, *, calm: bool) -> str:
    end = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(section))
    if calm:
        place = place_on(section, end)
        tips = [place.at, place.away(_LENGTH_PX / view.scale, 0.0)]
        return polyline([view.page(point) for point in tips], _CALM)
    return _bent(section, end, [(0, 0), (20, 2), (16, 20), (-2, 13)], view)
