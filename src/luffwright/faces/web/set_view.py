"""The answer of `trim` as the crew reads it: reef call, deck sentences in order, or LEAVE IT."""

from __future__ import annotations

import re
from dataclasses import dataclass

from luffwright.app.answer import LevelReading, TrimAnswer
from luffwright.app.call import LIMIT_WORDS, calls_in
from luffwright.app.caution import POLE, STRONG_KN
from luffwright.app.cost import minutes_won
from luffwright.app.ropes import Rope
from luffwright.app.trim_area import of_the_sail
from luffwright.faces.words import capital, degrees, helm_words, mark_words, minutes

AREA = ("reef", "furl", "main_furl")
LOADED = ("lead", "lead_out", "clew_hole")
"""What stands under the load of the headsail's sheet."""
FORWARD = ("mast", "side deck", "foredeck")
FLOGS = "furl or drop the sail first, for a clew that flogs can break bones"
WORTH_GOING_MIN = 2.0
"""Minutes an hour that a rope has to bring for somebody to go forward in a strong wind: a
judgement."""
SELDOM_PCT = 10.0
"""A tuft in trouble for less of the time than this streams, to the eye [%]."""
_OFTEN = ((90.0, ""), (65.0, "most of the time"), (35.0, "half the time"), (0.0, "now and then"))
_MOVE = re.compile(
    r"(?P<move>.+?)(?: \((?P<start>[^()]*) → (?P<end>[^()]*)\))?(?: with (?P<sheet>[^:]+))?: .*"
)


@dataclass(frozen=True)
class DeckSentence:
    """One thing to do: the rope, what to do with it, from where, how far a hand reaches, what it is
    worth, what is seen when it is right, and what to `mind` there.
    """

    control: str
    rope: str
    words: str
    start: str
    reach: str
    worth: str
    until: str
    with_sheet: str = ""
    mind: str = ""


@dataclass(frozen=True)
class SetView:
    """What the page says: `reef` before all else, then what to be `warned` of, `leave` instead of
    work, `work`, and `rest` that matters little.
    """

    reef: tuple[str, ...]
    warned: tuple[str, ...]
    leave: str
    work: tuple[DeckSentence, ...]
    rest: tuple[DeckSentence, ...]
    limits: tuple[str, ...]
    cautions: tuple[str, ...]
    trouble: str
    speed: str
    made_good: str
    heel: str
    helm: str


def set_view(
    answer: TrimAnswer, ropes: dict[str, Rope], *, changes: bool, made_good: bool
) -> SetView:
    """Return the answer in the order in which it is read.

    Parameters
    ----------
    answer : TrimAnswer
    ropes : dict
        The boat's, by key.
    changes : bool
        Whether the ropes stood somewhere before, so that only changes are told.
    made_good : bool
        Whether the course is free, so that what is made good counts.
    """
    sentences = _sentences(answer, ropes, changes=changes, made_good=made_good)
    boat = answer.boat
    course = [f"{abs(boat.vmg_kn):.1f} kn made good"] if made_good else []
    calls = tuple(it.text for it in calls_in(answer.cautions))
    warned = tuple(
        it.text for it in answer.cautions
        if it.level == "warning" and it.text not in calls and it.text != POLE
    )  # fmt: skip
    limits = [capital(it.text) for it in answer.why if it.control in LIMIT_WORDS or of_the_sail(it)]
    return SetView(
        _reef(answer, sentences), warned, _leave(answer),
        tuple(it for it, counts in sentences if counts),
        tuple(it for it, counts in sentences if not counts),
        tuple(limits),
        tuple(it.text for it in answer.cautions if it.text not in (*warned, *calls)),
        f"This did not settle: {answer.reason}" if answer.status == "failed" else "",
        f"{boat.speed_kn:.1f} kn", "".join(course), degrees(boat.heel_deg), helm_words(boat),
    )  # fmt: skip


def _leave(answer: TrimAnswer) -> str:
    if not answer.leave_it:
        return ""
    if answer.leave_it is True:
        return "All changes together would bring less than 1 %."
    return f"Look again {answer.leave_it}."


def _reef(answer: TrimAnswer, sentences: list[tuple[DeckSentence, bool]]) -> tuple[str, ...]:
    """Return the reef call: what is called, or else how much sail is taken in for this wind."""
    calls = tuple(it.text.removeprefix("Reef: ") for it in calls_in(answer.cautions))
    if calls:
        return tuple(capital(it) for it in calls)
    taken = [it for it, _ in sentences if it.control in AREA]
    # The mark of a reef names it already: "reef 2".
    return tuple(
        f"{it.rope.upper()} {it.words.removeprefix(it.rope).strip()}"
        if it.words.startswith(f"{it.rope} ")
        else f"{it.rope.upper()} {it.words}"
        for it in taken
    )


def _sentences(
    answer: TrimAnswer, ropes: dict[str, Rope], *, changes: bool, made_good: bool
) -> list[tuple[DeckSentence, bool]]:
    """Return the deck sentences in the order of work, each with whether it matters."""
    won = minutes_won(answer, made_good=made_good) if changes else {}
    out = []
    for name in answer.order:
        if name not in ropes or name not in answer.controls:
            continue
        if name in AREA and round(answer.controls[name].value, 2) == 0.0 and not changes:
            continue
        words, start, sheet = _move(answer, name, ropes[name]) if changes else ("", "", "")
        worth = _won(won.get(name)) if changes else _costs(answer, name)
        counts = bool(worth) or name in AREA or (changes and name in won)
        until = _until(answer, name)
        mark = words or mark_words(answer, name)
        out.append((
            DeckSentence(name, ropes[name].rope, mark, start, ropes[name].reach, worth, until,
                         sheet, _mind(name, ropes[name].reach)),
            (counts or name in ("sheet", "mainsheet"))
            and not _stays_in_the_cockpit(answer, ropes[name], won.get(name)),
        ))  # fmt: skip
    return out


def _stays_in_the_cockpit(answer: TrimAnswer, rope: Rope, won: float | None) -> bool:
    """Return whether a rope is left alone in a strong wind, for what it brings is not worth going
    forward for: `won` in an hour, where changes are told [min].
    """
    windy = answer.conditions.wind_kn >= STRONG_KN
    if not windy or rope.reach not in FORWARD or rope.control in AREA:
        return False
    worth = answer.worth.get(rope.control)
    brings = won if won is not None else None if worth is None else worth.minutes_per_hour
    return abs(brings or 0.0) < WORTH_GOING_MIN


def _mind(name: str, reach: str) -> str:
    """Return what can hurt at a rope: its load, and the way there."""
    unload = "unload the sheet first" if name in LOADED else ""
    flogs = FLOGS if name == "clew_hole" else ""
    told = (flogs, unload, "clip on" if reach in FORWARD else "")
    return ", ".join(it for it in told if it)


def _move(answer: TrimAnswer, name: str, rope: Rope) -> tuple[str, str, str]:
    """Return the move of a control, from where to where, and the sheet that goes with it."""
    for entry in answer.why:
        found = _MOVE.fullmatch(entry.text) if entry.control == name else None
        if found and found["move"].startswith(rope.rope.upper()):
            words = found["move"].removeprefix(f"{rope.rope.upper()} ")
            start = f"{found['start']} → {found['end']}" if found["start"] else ""
            return words, start, found["sheet"] or ""
    return "", "", ""


def _won(won: float | None) -> str:
    if won is None or abs(won) < 0.25:
        return ""
    length = minutes(abs(won))
    return f"wins {length}" if won > 0.0 else f"costs {length}, wins with the next"


def _costs(answer: TrimAnswer, name: str) -> str:
    worth = answer.worth.get(name)
    if worth is None or worth.minutes_per_hour is None:
        return ""
    return f"a step off costs {minutes(float(worth.minutes_per_hour))}"


def _until(answer: TrimAnswer, name: str) -> str:
    """Return what is seen when a sheet is right: the tuft that answers first."""
    role = {"sheet": "headsail", "mainsheet": "mainsail"}.get(name)
    levels = next((it.levels for it in answer.sails if it.role == role), ())
    top = next((it for it in levels if it.level == "top"), None)
    if top is None:
        return ""
    return _seen_outside(top) if name == "sheet" else _seen_leech(top)


def _seen_outside(top: LevelReading) -> str:
    for side, share in (
        ("inside tuft lifts", top.windward_lifting_pct), ("outside tuft hangs",
                                                          top.leeward_stalled_pct),
    ):  # fmt: skip
        if (share or 0.0) >= SELDOM_PCT:
            return _sign(f"until the top {side}", share or 0.0)
    return "until both top tufts stream"


def _seen_leech(top: LevelReading) -> str:
    stalled = top.leech_stalled_pct or 0.0
    if stalled < SELDOM_PCT:
        return "until the top leech tuft streams"
    return _sign("until the top leech tuft hangs", stalled)


def _sign(words: str, share_pct: float) -> str:
    """Return a sign with how often it shows; nothing for one that shows all the time, which
    cannot tell when to stop.

    Examples
    --------
    >>> _sign("until the top inside tuft lifts", 50.0), _sign("until it hangs", 100.0)
    ('until the top inside tuft lifts half the time', '')
    """
    often = next(word for least, word in _OFTEN if share_pct >= least)
    return f"{words} {often}" if often else ""
