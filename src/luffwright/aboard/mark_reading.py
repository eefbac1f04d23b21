"""Marks read: which position the deck's words for it mean."""

from __future__ import annotations

import re
from collections.abc import Callable

from luffwright.aboard.holes import End, Holes
from luffwright.aboard.mark_words import FINGER, HAND, Marked, Style
from luffwright.errors import InputError

_NUMBER = r"(?:\d+(?:\.\d+)?½?|½|\.\d+)"
_SIDE = r"(?:(?P<side>port|starboard) )?"
_HOLE = re.compile(_SIDE + r"holes? (?P<n>\d+)(?: from (?P<end>forward|front|aft))?")
_LENGTH = (
    rf"(?:(?P<m>{_NUMBER}) ?m ?)?(?:(?P<hand>{_NUMBER}) ?hands? ?)?"
    rf"(?:(?P<finger>{_NUMBER}) ?fingers? ?)?"
    rf"(?:(?P<cm>{_NUMBER}) ?cm ?)?(?:(?P<mm>{_NUMBER}) ?mm ?)?"
)
_TAPE = re.compile(_LENGTH + r"(?P<way>eased|out|inside|in)(?: from)?(?: the mark)?")
_PAST = re.compile(_LENGTH + r"(?P<way>past|slack|eased)?(?: from)?(?: hand-tight| the band)?")
_TURNS = re.compile(rf"(?P<n>{_NUMBER}) ?turns?(?: on)?")
_MM = re.compile(_LENGTH + r"(?:on)?")
_CAR = re.compile(_LENGTH + r"(?:to )?(?P<way>leeward|windward|down|up)")
_BOARD = re.compile(r"hole (?P<n>\d+)(?: from the bottom)?")
_SHARE = re.compile(rf"(?P<n>{_NUMBER}) ?%(?: rolled)?")
_REEF = re.compile(r"reefs? (?P<n>\d+)")
_POLE = re.compile(rf"(?P<n>{_NUMBER}) ?(?:°|deg(?:rees)?)?(?: aft(?: of right ahead)?)?")
_NOUGHT = {
    "on the mark", "at the mark", "at the band", "hand-tight", "centred", "full sail", "no reef",
    "stowed",
}  # fmt: skip
_METRES = {"m": 1.0, "hand": HAND, "finger": FINGER, "cm": 0.01, "mm": 0.001}

EXAMPLES: dict[Style, str] = {
    "holes": "hole 7",
    "tape": "2 hands 1 finger eased, or on the mark",
    "past": "4 cm past hand-tight, or hand-tight",
    "turns": "6½ turns on, or hand-tight",
    "mm": "30 mm on, or hand-tight",
    "car": "15 cm to leeward, or centred",
    "board": "hole 3",
    "share": "20 % rolled, or full sail",
    "number": "reef 1, or no reef",
    "pole": "70° aft of right ahead, or stowed",
}


def understood(mark: Marked, words: str) -> float:
    """Return where deck words put a control.

    Raises
    ------
    InputError
        Where there is no such mark, with words that would do.
    """
    text = " ".join(words.lower().replace(":", " ").split())
    if mark.missing:
        raise InputError(
            mark.control, words, f"the {mark.rope} has no marks yet on this boat", mark.missing
        )
    if text in _NOUGHT and mark.style not in ("holes", "board"):
        return 0.0
    found = _MEANT[mark.style](mark, text)
    if found is None:
        limit = f"no mark of the {mark.rope}"
        raise InputError(mark.control, words, limit, f"write it like {EXAMPLES[mark.style]}")
    return found


def _value(text: str | None) -> float:
    """Return a number that may end in a half."""
    if not text:
        return 0.0
    return float(text.rstrip("½") or 0.0) + (0.5 if text.endswith("½") else 0.0)


def _length(found: re.Match[str]) -> float | None:
    """Return a length in any of the units one counts rope in; nothing where none is told."""
    told = found.groupdict()
    if not any(told[unit] for unit in _METRES):
        return None
    return sum(_value(told[unit]) * size for unit, size in _METRES.items())


def _signed_length(found: re.Match[str] | None, *less: str) -> float | None:
    length = None if found is None else _length(found)
    if found is None or length is None:
        return None
    return -length if found["way"] in less else length


def _hole_meant(mark: Marked, text: str) -> float | None:
    named = []
    for part in text.split(","):
        found = _HOLE.fullmatch(part.strip())
        if found is None:
            return None
        row, number = _row(mark, found, text), int(found["n"])
        if not 1 <= number <= row.count:
            raise InputError(
                mark.control, text, f"the {row.side or mark.rope}'s row has {row.count} holes",
                f"give a hole from 1 to {row.count}",
            )  # fmt: skip
        place = row.place(number, _end(found["end"]))
        named.append((row, row.number(place), place))
    return named[0][2] if len(named) == 1 else _abreast(mark, text, named)


def _abreast(mark: Marked, text: str, named: list[tuple[Holes, int, float]]) -> float:
    """Return a place that rounds to each of these holes on its own side."""
    reaches = [row.reach(number) for row, number, _ in named]
    low, high = max(it[0] for it in reaches), min(it[1] for it in reaches)
    # Where one track ends before the other, its last hole serves as far as the other's go.
    for place in (0.5 * (low + high), *(it[2] for it in named)):
        if all(row.number(place) == number for row, number, _ in named):
            return place
    raise InputError(
        mark.control, text, "those two holes do not stand abreast", "give the hole of one side"
    )


def _end(word: str | None) -> End | None:
    """Return the end that holes are counted from in these words; nothing where they do not say."""
    if word is None:
        return None
    return "aft" if word == "aft" else "front"


def _row(mark: Marked, found: re.Match[str], text: str) -> Holes:
    """Return the row of holes that is meant."""
    rows: dict[str, Holes] = {row.side: row for row in mark.holes}
    if "" in rows:
        return rows[""]
    if found["side"] is None:
        number = found["n"]
        raise InputError(
            mark.control, text, "port and starboard are counted differently on this boat",
            f"write port hole {number} or starboard hole {number}",
        )  # fmt: skip
    return rows[found["side"]]


def _tape_meant(_: Marked, text: str) -> float | None:
    return _signed_length(_TAPE.fullmatch(text), "inside", "in")


def _past_meant(mark: Marked, text: str) -> float | None:
    less = ("past",) if mark.control == "outhaul" else ("slack", "eased")
    return _signed_length(_PAST.fullmatch(text), *less)


def _turns_meant(mark: Marked, text: str) -> float | None:
    found = _TURNS.fullmatch(text)
    return None if found is None else _value(found["n"]) * mark.step


def _mm_meant(_: Marked, text: str) -> float | None:
    found = _MM.fullmatch(text)
    return None if found is None else _length(found)


def _car_meant(_: Marked, text: str) -> float | None:
    return _signed_length(_CAR.fullmatch(text), "windward", "up")


def _board_meant(_: Marked, text: str) -> float | None:
    found = _BOARD.fullmatch(text)
    return None if found is None else float(found["n"])


def _share_meant(_: Marked, text: str) -> float | None:
    found = _SHARE.fullmatch(text)
    return None if found is None else _value(found["n"]) / 100.0


def _number_meant(_: Marked, text: str) -> float | None:
    found = _REEF.fullmatch(text)
    return None if found is None else float(found["n"])


def _pole_meant(_: Marked, text: str) -> float | None:
    found = _POLE.fullmatch(text)
    return None if found is None else _value(found["n"])


_MEANT: dict[Style, Callable[[Marked, str], float | None]] = {
    "holes": _hole_meant,
    "tape": _tape_meant,
    "past": _past_meant,
    "turns": _turns_meant,
    "mm": _mm_meant,
    "car": _car_meant,
    "board": _board_meant,
    "share": _share_meant,
    "number": _number_meant,
    "pole": _pole_meant,
}
