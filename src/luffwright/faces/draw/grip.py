"""Where a hand takes hold of a rope on a drawing, and which way it moves there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from luffwright.app.answer import FlyAnswer
from luffwright.app.ropes import Rope
from luffwright.faces.draw.ink import Point

REACH_PX = 110.0
"""How far a whole travel is on the page, where it is not drawn to scale."""


@dataclass(frozen=True)
class Grip:
    """A place to take hold [px], and how far the page moves for one unit of the control [px]."""

    control: str
    at: Point
    unit: Point

    def as_json(self, rope: Rope, value: float, mark: str) -> dict[str, object]:
        """Return what the page needs to make a handle of it."""
        return {
            "control": self.control, "rope": rope.rope, "x": round(self.at[0], 1),
            "y": round(self.at[1], 1), "ux": round(self.unit[0], 2), "uy": round(self.unit[1], 2),
            "low": rope.low, "high": rope.high, "step": rope.step, "value": value, "mark": mark,
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
