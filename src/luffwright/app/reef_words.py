"""The reef call in the sailor's words, and why a limit holds a setting back."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from luffwright.advice.area import PRESSED
from luffwright.advice.load_limit import allowed_share, load_names, relieved_by_area
from luffwright.app.answer import Why
from luffwright.app.call import CALL
from luffwright.app.question import Question
from luffwright.app.reef import TableCall, canvas_of, table_call
from luffwright.arrays import FloatArray
from luffwright.sails.flight import Flight
from luffwright.sails.setting import Setting
from luffwright.units import to_knots
from luffwright.water.reef_table import Canvas, Row

HEEL_LIMIT_DEG = 25.0
HELM_LIMIT_DEG = 5.0
SLACK = 1.03
"""A limit is passed when it is by more than this: settings stand on marks, not between them [-]."""
NEAR_LOAD = 0.93
"""Share of a load's limit from which it is told: a mark of the backstay is 3 to 7 % of it."""
FRACTIONS = (
    (0.9, "9/10"), (0.8, "4/5"), (0.75, "3/4"), (0.67, "2/3"), (0.5, "half"), (0.4, "2/5"),
    (0.33, "a third"), (0.25, "a quarter"), (0.16, "a sixth"),
)  # fmt: skip


def load_word(name: str, headsail: str = "headsail") -> str:
    """Return the deck's word for what carries a load.

    Examples
    --------
    >>> load_word("cap_shroud_windward"), load_word("sheet", "jib"), load_word("lower_leeward")
    ('windward cap shroud', 'jib sheet', 'leeward lower shroud')
    """
    for side in ("windward", "leeward"):
        if name.endswith(f"_{side}"):
            stay = name.removesuffix(f"_{side}").replace("_", " ")
            return f"{side} {stay if 'shroud' in stay else f'{stay} shroud'}"
    if name in ("sheet", "halyard"):
        return f"{headsail} {name}"
    return name.replace("_", " ")


def limit_why(
    asked: Question, used: FloatArray, flight: Flight, words: tuple[tuple[str, str], ...]
) -> tuple[Why, ...]:
    """Return which limits hold the setting back: the one used most, and each load that does.

    Parameters
    ----------
    asked : Question
    used : (n,) array
        Share of each limit that is used, those of the loads last. [-]
    flight : Flight
    words : tuple
        What each limit before the loads is about, and in words.

    Returns
    -------
    tuple of Why
    """
    first = used[: len(words)]
    out = [Why(*words[int(np.argmax(first))])] if np.any(first > PRESSED) else []
    headsail = headsail_of(asked)
    shares = used[len(words) :]
    by_area = relieved_by_area(flight, asked.boat.plan)
    for name, share, sail in zip(load_names(flight), shares, by_area, strict=True):
        if share > NEAR_LOAD:
            most = 100.0 * allowed_share(name)
            text = f"{load_word(name, headsail)} near its limit: {most * share:.0f} % of what"
            about = "load" if sail else "taut"
            out.append(Why(about, f"load of the {text} breaks it, {most:.0f} % at most"))
    return tuple(out)


def table_why(asked: Question, setting: Setting) -> tuple[Why, ...]:
    """Return why sail is taken in, where the table asks for it."""
    call = table_call(asked, setting)
    full = table_call(asked, setting.changed(**_full(setting)))
    if call is None or full is None or call.called or not full.called:
        return ()
    less = canvas_words(call.line.canvas, headsail_of(asked))
    wind, limit = _more_than(full.wind, full.line.limit)
    text = (
        f"{less} by the table: close-hauled she meets {wind} of apparent wind, and full sail is "
        f"for {limit} ({_whose(full.line)})"
    )
    return (Why("table", text),)


def _full(setting: Setting) -> dict[str, float]:
    names = ("reef", "furl", "main_furl")
    return {name: 0.0 for name in names if getattr(setting, name) is not None}


def canvas_words(canvas: Canvas, headsail: str = "headsail") -> str:
    """Return how much sail that is, in deck words.

    Examples
    --------
    >>> canvas_words(Canvas(2, 0.3), "jib")
    '2 reefs and the jib 30 % rolled (half of its area left)'
    """
    parts = []
    if canvas.reefs:
        parts.append("1 reef" if canvas.reefs == 1 else f"{canvas.reefs} reefs")
    if canvas.rolled > 0.0:
        parts.append(f"the {headsail} {_rolled(canvas.rolled, power=2)}")
    if canvas.main_rolled > 0.0:
        parts.append(f"the mainsail {_rolled(canvas.main_rolled, power=1)}")
    return " and ".join(parts) if parts else "full sail"


def _rolled(share: float, power: int) -> str:
    """Return how far a sail is rolled, as its furler's mark says it, and what area that leaves."""
    return f"{100.0 * share:.0f} % rolled ({_left(share, power)})"


def _roll(sail: str, share: float, power: int) -> str:
    return f"roll {100.0 * share:.0f} % of the {sail} ({_left(share, power)})"


def _left(share: float, power: int) -> str:
    left = (1.0 - share) ** power
    return f"{min(FRACTIONS, key=lambda it: abs(it[0] - left))[1]} of its area left"


def headsail_of(asked: Question) -> str:
    """Return what the headsail is called on board."""
    return "genoa" if asked.boat.plan.headsail_gear.overlaps_shrouds else "jib"


def _order(now: Canvas, then: Canvas, headsail: str) -> str:
    """Return what to do to come from one canvas to another."""
    parts = []
    if then.reefs > now.reefs:
        parts.append(f"take reef {then.reefs}")
    if then.rolled > now.rolled:
        parts.append(
            f"roll {100.0 * then.rolled:.0f} % of the {headsail} ({_left(then.rolled, 2)})"
        )
    if then.main_rolled > now.main_rolled:
        share = then.main_rolled
        parts.append(f"roll {100.0 * share:.0f} % of the mainsail ({_left(share, 1)})")
    return " and ".join(parts)


def _whose(line: Row) -> str:
    if line.by == "maker":
        return "the maker's table"
    return "her righting margin, 7/10 of the wind that lifts a hull"


def _more_than(wind: float, limit: float) -> tuple[str, str]:
    """Return a wind and the limit that it passes, with as many digits as tell them apart."""
    for digits in (0, 1, 2):
        texts = f"{to_knots(wind):.{digits}f} kn", f"{to_knots(limit):.{digits}f} kn"
        if texts[0] != texts[1]:
            break
    return texts


def table_words(asked: Question, call: TableCall) -> str:
    """Return the table's reef call in words."""
    headsail, line = headsail_of(asked), call.line
    wind, limit = _more_than(call.wind, line.limit)
    carried = canvas_words(line.canvas, headsail)
    counted = "gusts counted" if asked.request.gust_kn else "before any gust"
    why = (
        f"Close-hauled she meets {wind} of apparent wind, {counted}; {carried} is for {limit} at "
        f"most ({_whose(line)})."
    )
    if call.felt < 0.9 * call.wind:
        felt = f"{to_knots(call.felt):.0f} kn"
        why += f" On this course it feels like {felt}, but she must be able to round up."
    if call.taken is None:
        least = "no sail that she can set is small enough"
        return f"{CALL}{least}. {why} Storm sails or shelter: the boat's manual comes first."
    return f"{CALL}{_order(line.canvas, call.taken, headsail)} first. {why}"


def next_words(asked: Question, call: TableCall) -> str:
    """Return at which wind the next reef is due, in words."""
    line = call.line
    which = "The next reef is due" if line.canvas != Canvas() else "The first reef comes in"
    text = (
        f"{which} at {to_knots(line.limit):.0f} kn of apparent wind close-hauled, gusts counted, "
        f"about {to_knots(line.true):.0f} kn true ({_whose(line)})."
    )
    two = " On two hulls heel is no sign of it." if asked.boat.hull.kind == "catamaran" else ""
    return text + two


def felt_words(
    asked: Question, setting: Setting, heel_deg: float | None, rudder_deg: float | None,
    loads: Mapping[str, tuple[float, float]],
) -> str:  # fmt: skip
    """Return the reef call of a monohull by heel, helm and load in words; nothing if there is none.

    Parameters
    ----------
    asked : Question
    setting : Setting
    heel_deg, rudder_deg : float, optional
        As balanced or given; weather helm positive. [°]
    loads : mapping
        Of what less sail relieves and carries too much: name on deck; share of its breaking load
        and the most allowed. [%, %]

    Returns
    -------
    str
    """
    if asked.boat.hull.kind != "monohull":
        return ""
    told = []
    if heel_deg is not None and heel_deg > SLACK * HEEL_LIMIT_DEG:
        told.append(f"she heels {heel_deg:.0f}°, more than {HEEL_LIMIT_DEG:.0f}°")
    if rudder_deg is not None and rudder_deg > SLACK * HELM_LIMIT_DEG:
        told.append(f"she carries {rudder_deg:.1f}° of weather helm, more than 5°")
    told += [
        f"the {name} carries {share:.0f} % of what breaks it, more than {most:.0f} %"
        for name, (share, most) in loads.items()
    ]
    if not told:
        return ""
    return f"{CALL}{_less_sail(asked, setting)} first: {'; '.join(told)}."


def _less_sail(asked: Question, setting: Setting) -> str:
    """Return the next way to take in sail: a reef, then the headsail, then another sail."""
    most, now = asked.boat.reefing.most, canvas_of(setting)
    if now.reefs < most.reefs:
        return f"take reef {now.reefs + 1}"
    if now.main_rolled < most.main_rolled - 1e-9:
        return "roll some of the mainsail"
    if now.rolled < most.rolled - 1e-9:
        return f"roll some of the {headsail_of(asked)}"
    return "set smaller sails or bear away"
