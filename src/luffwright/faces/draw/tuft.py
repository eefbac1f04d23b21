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


def place_on(section: Sequence[Point], distance: float, side: float = 1.0) -> Place:
    """Return the place on a section at a distance from its luff.

    Parameters
    ----------
    section : sequence of (x, y)
        From luff to leech, boat frame. [m]
    distance : float
        Along the cloth; beyond the leech, straight on. [m]
    side : float
        On which the sail stands: 1 to leeward, −1 on a pole to windward. [-]
    """
    left = distance
    for begin, end in pairwise(section):
        length = hypot(end[0] - begin[0], end[1] - begin[1])
        if left <= length or end == section[-1]:
            break
        left -= length
    aft = ((end[0] - begin[0]) / length, (end[1] - begin[1]) / length)
    at = (begin[0] + left * aft[0], begin[1] + left * aft[1])
    # The cloth's lee: away from the middle when it lies fore and aft, forward when squared out.
    return Place(at, aft, (side * aft[1], -side * aft[0]))


@dataclass(frozen=True)
class Cloth:
    """A section from luff to leech [m], and the side on which the sail stands: 1 to leeward, −1 on
    a pole to windward.
    """

    points: Sequence[Point]
    side: float = 1.0

    def place(self, distance: float) -> Place:
        """Return the place at a distance from the luff [m]."""
        return place_on(self.points, distance, self.side)


def _chord(points: Sequence[Point]) -> Point:
    """Return the way from luff to leech [m]."""
    return (points[-1][0] - points[0][0], points[-1][1] - points[0][1])


def tufts(
    section: Cloth,
    level: LevelReading,
    view: View,
    *,
    sail: str = "",
    lively: bool = False,
) -> list[str]:
    """Return the tufts of one section: inside and outside near the luff, and at the leech.

    Each stands in a group that names it, as `headsail-top-windward`, with its state and the share
    of time [%] in trouble. A `lively` one is drawn in both states, for a page that shows each for
    its share of the time; else only the state that lasts longest is.
    """
    near = min(0.25, 0.15 * level.chord_m)
    end = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(section.points))
    name = f"{sail}-{level.level}"
    drawn = []
    if level.windward is not None:
        ways = _along(section, near, -1.0, view), _lifted(section, near, view)
        drawn.append(_tuft(ways, f"{name}-windward", level.windward, level.windward_lifting_pct,
                           lively=lively))  # fmt: skip
    if level.leeward is not None:
        ways = _along(section, near, 1.0, view), _curled(section, near, view)
        drawn.append(_tuft(ways, f"{name}-leeward", level.leeward, level.leeward_stalled_pct,
                           lively=lively))  # fmt: skip
    if level.leech is not None:
        calm, loud = (_at_leech(section, end, view, calm=it) for it in (True, False))
        ways = calm, loud
        drawn.append(_tuft(ways, f"{name}-leech", level.leech,
                           level.leech_stalled_pct, lively=lively))  # fmt: skip
    return drawn


def _tuft(
    ways: tuple[str, str], name: str, state: str, trouble_pct: float | None, *, lively: bool
) -> str:
    """Return one tuft, streaming or in trouble, or both of it."""
    share = trouble_pct if trouble_pct is not None else 0.0 if state == "streaming" else 100.0
    tenths = min(max(round(share / 10.0), 0), 10)
    told = f'data-tuft="{name}" data-state="{state}" data-share="{share:.0f}"'
    if not lively:
        return f'<g class="tuft" {told}>{ways[state != "streaming"]}</g>'
    kept = "" if state == "streaming" else " bad"
    return (
        f'<g class="tuft live t{tenths}{kept}" {told}><g class="calm">{ways[0]}</g>'
        f'<g class="loud">{ways[1]}</g></g>'
    )


def _along(section: Cloth, near: float, side: float, view: View) -> str:
    # On a short chord a tuft of full length would follow the whole sail.
    longest = 0.45 * hypot(*_chord(section.points))
    length = min(_LENGTH_PX / view.scale, longest)
    steps = [near + share * length for share in (0.0, 0.25, 0.5, 0.75, 1.0)]
    off = side * _OFF_PX / view.scale
    return polyline([view.page(section.place(it).away(0.0, off)) for it in steps], _CALM)


def _lifted(section: Cloth, near: float, view: View) -> str:
    return _bent(section, near, [(0, -4), (9, -5), (10, -12), (6, -23)], view)


def _curled(section: Cloth, near: float, view: View) -> str:
    return _bent(section, near, [(0, 4), (22, 6), (20, 22), (2, 13)], view)


def _bent(section: Cloth, near: float, handles: Sequence[tuple[float, float]], view: View) -> str:
    """Return a bent tuft; handles are along and off the cloth [px]."""
    place = section.place(near)
    points = [place.away(a / view.scale, b / view.scale) for a, b in handles]
    return curve([view.page(point) for point in points], _LOUD)


def _at_leech(section: Cloth, end: float, view: View, *, calm: bool) -> str:
    if calm:
        place = section.place(end)
        tips = [place.at, place.away(_LENGTH_PX / view.scale, 0.0)]
        return polyline([view.page(point) for point in tips], _CALM)
    return _bent(section, end, [(0, 0), (20, 2), (16, 20), (-2, 13)], view)
