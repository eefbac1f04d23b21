"""What a setting costs in time, against the best one found."""

from __future__ import annotations

import re

from luffwright.app.answer import FlyAnswer, TrimAnswer

_GAIN = re.compile(r": (?:(?P<kn>\d+\.\d+) kn (?P<way>faster|slower)|no faster)")


def counted_kn(answer: FlyAnswer, *, made_good: bool) -> float:
    """Return the speed that counts: made good to windward or leeward, or through the water [kn].

    Parameters
    ----------
    answer : FlyAnswer
    made_good : bool
        Whether the course is free, upwind or downwind.
    """
    return abs(answer.boat.vmg_kn) if made_good else answer.boat.speed_kn


def minutes_lost(now_kn: float, best_kn: float) -> float:
    """Return what it takes to sail what an hour at the lesser speed leaves.

    Parameters
    ----------
    now_kn, best_kn : float
        [kn]

    Returns
    -------
    float
        In an hour; below 0 where she is faster than the best known. [min]

    Examples
    --------
    >>> minutes_lost(5.7, 6.0)
    3.0
    """
    return round(60.0 * (best_kn - now_kn) / max(best_kn, 0.1), 9)


def minutes_won(answer: TrimAnswer, *, made_good: bool) -> dict[str, float]:
    """Return what each told change of a control wins in an hour [min], losses below 0.

    Only changes that were walked in order have one, from how the ropes stood before.
    """
    best = counted_kn(answer, made_good=made_good)
    out: dict[str, float] = {}
    for entry in answer.why:
        found = _GAIN.search(entry.text)
        if found and entry.control in answer.order and entry.control not in out:
            gain = float(found["kn"] or 0.0) * (-1.0 if found["way"] == "slower" else 1.0)
            out[entry.control] = 60.0 * gain / max(best, 0.1)
    return out
