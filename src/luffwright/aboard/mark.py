"""Marks one can find on deck: from a rope's position to words, and what to do to get there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Style = Literal["holes", "tape", "past", "turns", "mm", "car", "board", "share", "number"]


@dataclass(frozen=True)
class Mark:
    """How one control is named, counted and moved.

    `more` and `less` are the verbs for a growing and a falling position; `step` is the least move
    [in the control's unit]; `first` and `last` end the travel.
    """

    control: str
    rope: str
    style: Style
    step: float
    more: str
    less: str
    first: float = 0.0
    last: float = 0.0
    counted_from: Literal["front", "aft"] = "front"

    def hole(self, value: float) -> int:
        """Return the hole's number, counted from the end the sailor chose."""
        front = round((value - self.first) / self.step) + 1
        total = round((self.last - self.first) / self.step) + 1
        return front if self.counted_from == "front" else total - front + 1

    def text(self, value: float) -> str:
        """Return where the control stands, in deck words."""
        return _TEXT[self.style](self, value)

    def move(self, start: float, end: float) -> str:
        """Return the order to the crew: rope, count, verb, and from where to where."""
        verb = self.more if end > start else self.less
        count = _amount(self, end - start)
        return f"{self.rope.upper()} {count} {verb} ({self.text(start)} → {self.text(end)})"


def hands(length: float) -> str:
    """Return a length of rope in hands of 10 cm and fingers of 2 cm, from 1 m on in whole metres
    and hands.

    Examples
    --------
    >>> hands(0.24)
    '2 hands 2 fingers'
    >>> hands(5.34)
    '5 m 3 hands'
    """
    fingers = round(abs(length) / 0.02)
    metres, fingers = divmod(5 * round(abs(length) / 0.1), 50) if fingers >= 50 else (0, fingers)
    whole, rest = divmod(fingers, 5)
    parts = [f"{metres} m"] if metres else []
    parts += [f"{whole} hand{'s' if whole > 1 else ''}"] if whole else []
    parts += [f"{rest} finger{'s' if rest > 1 else ''}"] if rest else []
    return " ".join(parts) or "0 fingers"


def half(value: float) -> str:
    """Return a number to the nearest half.

    Examples
    --------
    >>> half(6.4)
    '6½'
    """
    doubled = round(2 * value)
    whole = f"{doubled // 2}" if doubled >= 2 or doubled == 0 else ""
    return whole + ("½" if doubled % 2 else "")


def _centimetres(value: float) -> str:
    return f"{abs(value) * 100:.0f} cm"


def _holes_text(mark: Mark, value: float) -> str:
    return f"hole {mark.hole(value)} from {'forward' if mark.counted_from == 'front' else 'aft'}"


def _tape_text(_: Mark, value: float) -> str:
    if abs(value) < 0.01:
        return "on the mark"
    return f"{hands(value)} {'eased from' if value > 0 else 'inside'} the mark"


def _past_text(mark: Mark, value: float) -> str:
    if abs(value) < 0.005:
        return "at the band" if mark.control == "outhaul" else "hand-tight"
    if mark.control == "outhaul":
        return f"{_centimetres(value)} eased from the band"
    return f"{_centimetres(value)} {'past hand-tight' if value > 0 else 'slack'}"


def _turns_text(mark: Mark, value: float) -> str:
    return f"{half(value / mark.step)} turns on" if value > 1e-6 else "hand-tight"


def _mm_text(_: Mark, value: float) -> str:
    return f"{value * 1000:.0f} mm on" if value > 1e-6 else "hand-tight"


def _car_text(_: Mark, value: float) -> str:
    if abs(value) < 0.02:
        return "centred"
    return f"{_centimetres(value)} to {'leeward' if value > 0 else 'windward'}"


def _board_text(_: Mark, value: float) -> str:
    return f"hole {value:.0f} from the bottom"


def _share_text(_: Mark, value: float) -> str:
    return "full sail" if value < 0.01 else f"{100 * value:.0f} % rolled"


def _number_text(_: Mark, value: float) -> str:
    return "no reef" if value < 0.5 else f"reef {value:.0f}"


_TEXT = {
    "holes": _holes_text,
    "tape": _tape_text,
    "past": _past_text,
    "turns": _turns_text,
    "mm": _mm_text,
    "car": _car_text,
    "board": _board_text,
    "share": _share_text,
    "number": _number_text,
}


def _counted(count: float, word: str) -> str:
    """Return a count with its word, the word in the plural above one."""
    return f"{half(count)} {word}{'s' if round(2 * count) > 2 or round(2 * count) == 0 else ''}"


def _amount(mark: Mark, change: float) -> str:
    size = abs(change)
    match mark.style:
        case "holes" | "board":
            amount = _counted(round(size / mark.step), "hole")
        case "tape":
            amount = hands(size)
        case "turns":
            amount = _counted(size / mark.step, "turn")
        case "mm":
            amount = f"{size * 1000:.0f} mm"
        case "share":
            amount = f"{100 * size:.0f} %"
        case "number":
            amount = f"{size:.0f}"
        case _:
            amount = _centimetres(size)
    return amount
