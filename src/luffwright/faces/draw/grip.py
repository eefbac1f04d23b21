"""Where a hand takes hold of a rope on a drawing, and which way it moves there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from luffwright.app.answer import FlyAnswer
from luffwright.app.ropes import Rope
from luffwright.faces.draw.ink import INK, Anchor, Hand, Point, label

REACH_PX = 110.0
"""How far a whole travel is on the page, where it is not drawn to scale."""


ROOM_PX = 56.0
"""How far two knots keep apart, so that a wet thumb meets the one it wants [px]."""
_EDGE_PX = 29.0
_KNOT_PX = 24.0
_NOTE = Hand(13, INK, bold=True)
_LETTER_PX = 8.0
Box = tuple[float, float, float, float]
"""Left, upper, right and lower edge on the page [px]."""


@dataclass(frozen=True)
class Grip:
    """A place to take hold [px], and how far the page moves for one unit of the control [px].

    `to`: the place on the boat that it moves, where the hand is led away from it.
    """

    control: str
    at: Point
    unit: Point
    to: Point | None = None

    def as_json(self, rope: Rope, value: float, mark: str) -> dict[str, object]:
        """Return what the page needs to make a handle of it."""
        return {
            "control": self.control, "rope": rope.rope, "x": round(self.at[0], 1),
            "y": round(self.at[1], 1), "ux": round(self.unit[0], 2), "uy": round(self.unit[1], 2),
            "low": rope.low, "high": rope.high, "step": rope.step, "value": value, "mark": mark,
            "less": rope.less, "more": rope.more,
        }  # fmt: skip


def stretched(rope: Rope, way: Point, reach: float = REACH_PX) -> Point:
    """Return how far the page moves by one unit, a whole travel being `reach` long.

    Parameters
    ----------
    rope : Rope
    way : (x, y)
        Where more of the control leads on the page, of length one. [-]
    reach : float
        [px]
    """
    gain = reach / max(rope.high - rope.low, 1e-6)
    return (gain * way[0], gain * way[1])


def apart(grips: Sequence[Grip], page: Point) -> list[Grip]:
    """Return the holds moved aside where two would be under one thumb or off the page.

    Parameters
    ----------
    grips : sequence of Grip
    page : (x, y)
        Its size. [px]

    Examples
    --------
    Two at one place end well apart:

    >>> here = (100.0, 100.0)
    >>> one, two = apart([Grip("a", here, (1, 0)), Grip("b", here, (1, 0))], (390.0, 430.0))
    >>> round(((one.at[0] - two.at[0]) ** 2 + (one.at[1] - two.at[1]) ** 2) ** 0.5) >= ROOM_PX
    True
    """
    places = [_inside(it.at, page) for it in grips]
    for _ in range(60):
        pairs = [(i, j) for i in range(len(places)) for j in range(i)]
        near = [(i, j) for i, j in pairs if _far(places[i], places[j]) < ROOM_PX]
        if not near:
            break
        for i, j in near:
            places[i], places[j] = (
                _inside(it, page) for it in _pushed(places[i], places[j])
            )  # fmt: skip
    return [replace(it, at=at) for it, at in zip(grips, places, strict=True)]


def _far(a: Point, b: Point) -> float:
    return float(((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5)


def _pushed(a: Point, b: Point) -> tuple[Point, Point]:
    """Return two places pushed away from each other, down and up where they are one."""
    size = _far(a, b)
    way = (0.0, 1.0) if size < 1.0 else ((a[0] - b[0]) / size, (a[1] - b[1]) / size)
    push = 0.5 * (ROOM_PX - size) + 0.5
    # A little across as well: between an edge and a neighbour there is no other way out.
    away = (push * way[0] - 0.2 * push * way[1], push * way[1] + 0.2 * push * way[0])
    return (a[0] + away[0], a[1] + away[1]), (b[0] - away[0], b[1] - away[1])


def _inside(at: Point, page: Point) -> Point:
    return (
        min(max(at[0], _EDGE_PX), page[0] - _EDGE_PX),
        min(max(at[1], _EDGE_PX), page[1] - _EDGE_PX),
    )


def names(
    grips: Sequence[Grip], words: Mapping[str, str], page: Point, taken: Sequence[Box] = ()
) -> list[str]:
    """Return the names beside the holds, each where it meets no knot, name or edge.

    Parameters
    ----------
    grips : sequence of Grip
    words : mapping
        What each control is called.
    page : (x, y)
        Its size. [px]
    taken : sequence of boxes
        What else stands on the page. [px]
    """
    knots = [_around(it.at, _KNOT_PX) for it in grips]
    # What leads from a hold to what it moves, as a row of small boxes.
    knots += [_around(at, 4.0) for it in grips for at in _led(it)]
    used, parts = list(taken), []
    for grip in grips:
        text = words[grip.control]
        ways = _beside(grip, text)
        box, at, anchor = min(ways, key=lambda way: _trouble(way[0], [*knots, *used], page))
        used.append(box)
        parts.append(label(at, text, _NOTE, anchor))
    return parts


def _beside(grip: Grip, text: str) -> list[tuple[Box, Point, Anchor]]:
    """Return where a name may stand, the best first: clear of the way that the knot moves."""
    x, y = grip.at
    wide = _LETTER_PX * len(text)
    sides: list[tuple[Box, Point, Anchor]] = [
        ((x + 26.0, y - 10.0, x + 26.0 + wide, y + 8.0), (x + 27.0, y + 5.0), "start"),
        ((x - 26.0 - wide, y - 10.0, x - 26.0, y + 8.0), (x - 27.0, y + 5.0), "end"),
    ]
    ends: list[tuple[Box, Point, Anchor]] = [
        ((x - wide / 2, y + up - 13.0, x + wide / 2, y + up + 4.0), (x, y + up), "middle")
        for up in (-29.0, 39.0)
    ]
    return [*sides, *ends] if abs(grip.unit[1]) > abs(grip.unit[0]) else [*ends, *sides]


def _led(grip: Grip) -> list[Point]:
    if grip.to is None:
        return []
    (x, y), (to_x, to_y) = grip.at, grip.to
    return [(x + 0.1 * part * (to_x - x), y + 0.1 * part * (to_y - y)) for part in range(4, 11)]


def _around(at: Point, reach: float) -> Box:
    return (at[0] - reach, at[1] - reach, at[0] + reach, at[1] + reach)


def _trouble(box: Box, others: Sequence[Box], page: Point) -> float:
    """Return how much of a box lies over others or off the page [px²]."""
    on_page = _shared(box, (0.0, 0.0, *page))
    whole = (box[2] - box[0]) * (box[3] - box[1])
    return 3.0 * (whole - on_page) + sum(_shared(box, it) for it in others)


def _shared(a: Box, b: Box) -> float:
    wide = min(a[2], b[2]) - max(a[0], b[0])
    high = min(a[3], b[3]) - max(a[1], b[1])
    return max(wide, 0.0) * max(high, 0.0)


def told_grips(
    grips: Sequence[Grip], ropes: Mapping[str, Rope], answer: FlyAnswer
) -> list[dict[str, object]]:
    """Return the handles of a drawing, with where each control stands."""
    out = []
    for grip in grips:
        reading = answer.controls.get(grip.control)
        if reading is not None and grip.control in ropes:
            out.append(grip.as_json(ropes[grip.control], reading.value, reading.mark))
    return out
