"""What the sightings tell of the boat itself, in words."""

from __future__ import annotations

import numpy as np

from luffwright.aboard.mark_words import counted
from luffwright.advice.posterior import Boats
from luffwright.app.fix_answer import Unknown
from luffwright.app.fix_sample import Known

TOLD_FROM = 0.4
"""Share of what was believed before by which an unknown has to move to be told."""


def unknowns(known: Known, boats: Boats) -> tuple[Unknown, ...]:
    """Return the unknowns that the sightings have moved or narrowed most, before and after.

    Parameters
    ----------
    known : Known
    boats : Boats

    Returns
    -------
    tuple of Unknown
        Those that moved by a good part of what was believed, at most five.
    """
    middle, spread = boats.middle(), boats.spread()
    rated = []
    for k, axis in enumerate(boats.axes):
        shift = abs(float(middle[k]) - axis.middle) / axis.spread
        rated.append((max(shift, 1.0 - float(spread[k]) / axis.spread), k))
    out = []
    for size, k in sorted(rated, reverse=True)[:5]:
        if size < TOLD_FROM:
            break
        axis = boats.axes[k]
        before = _words(known, axis.name, axis.middle, axis.spread)
        out.append(Unknown(axis.name, before, _words(known, axis.name, middle[k], spread[k])))
    return tuple(out)


def _words(known: Known, name: str, middle: float, spread: float) -> str:
    if name == "wind_angle":
        way = "lower" if middle > 0.0 else "higher"
        return f"{abs(np.degrees(middle)):.1f}° {way} than said, ± {np.degrees(spread):.1f}°"
    if name in known.asked.boat.marks:
        mark = known.asked.boat.marks[name]
        if mark.missing:
            return f"{mark.by_eye(middle) or 'its best place'}, ± {100.0 * spread:.0f} cm"
        return f"{mark.text(float(middle))}, ± {counted(mark, spread)}"
    if name in ("wind", "gradient", "head_camber", "main_camber"):
        return f"{100.0 * middle:.0f} ± {100.0 * spread:.0f} % of what is said"
    if name.endswith("draft"):
        return f"{100.0 * middle:+.1f} ± {100.0 * spread:.1f} % of the chord aft"
    return f"{100.0 * np.expm1(middle):+.0f} ± {100.0 * spread:.0f} %"
