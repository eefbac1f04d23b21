"""The words of marks: what each style says for a position."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, Protocol

from luffwright.aboard.holes import Holes

Style = Literal["holes", "tape", "past", "turns", "mm", "car", "board", "share", "number", "pole"]

FINGER, HAND = 0.02, 0.10
LONG = 0.99
"""Rope from here on is told in whole metres and hands [m]."""


class Marked(Protocol):
    """What the words need to know of a mark."""

    @property
    def control(self) -> str:
        """Its key."""

    @property
    def rope(self) -> str:
        """Its name on deck."""

    @property
    def style(self) -> Style:
        """How it is counted."""

    @property
    def step(self) -> float:
        """The least move [the control's unit]."""

    @property
    def holes(self) -> tuple[Holes, ...]:
        """Its holes on each side, or on both alike."""

    @property
    def missing(self) -> str:
        """What has to be measured before it can be counted."""


def said(mark: Marked, value: float) -> str:
    """Return where a control stands, in deck words."""
    return _SAID[mark.style](mark, value)


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
    fingers = round(abs(length) / FINGER)
    metres, fingers = divmod(5 * round(abs(length) / HAND), 50) if fingers >= 50 else (0, fingers)
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


def _holes_said(mark: Marked, value: float) -> str:
    told = [
        f"{row.side} hole {row.number(value)} from "
        f"{'forward' if row.counted_from == 'front' else 'aft'}".strip()
        for row in mark.holes
    ]
    return ", ".join(told)


def _tape_said(_: Marked, value: float) -> str:
    if round(abs(value) / FINGER) == 0:
        return "on the mark"
    return f"{hands(value)} {'eased from' if value > 0 else 'inside'} the mark"


def _past_said(mark: Marked, value: float) -> str:
    band = mark.control == "outhaul"
    if round(abs(value) * 100) == 0:
        return "at the band" if band else "hand-tight"
    if band:
        return f"{_centimetres(value)} {'eased from' if value > 0 else 'past'} the band"
    return f"{_centimetres(value)} {'past hand-tight' if value > 0 else 'slack'}"


def _turns_said(mark: Marked, value: float) -> str:
    turns = half(max(value, 0.0) / mark.step)
    return "hand-tight" if turns == "0" else f"{turns} turn{'' if turns in '½1' else 's'} on"


def _mm_said(_: Marked, value: float) -> str:
    return f"{value * 1000:.0f} mm on" if round(value * 1000) > 0 else "hand-tight"


def _car_said(_: Marked, value: float) -> str:
    if round(abs(value) * 100) == 0:
        return "centred"
    return f"{_centimetres(value)} to {'leeward' if value > 0 else 'windward'}"


def _board_said(_: Marked, value: float) -> str:
    return f"hole {value:.0f} from the bottom"


def _share_said(_: Marked, value: float) -> str:
    return "full sail" if round(100 * value) == 0 else f"{100 * value:.0f} % rolled"


def _number_said(_: Marked, value: float) -> str:
    return "no reef" if round(value) == 0 else f"reef {value:.0f}"


def _pole_said(_: Marked, value: float) -> str:
    return "stowed" if round(value) == 0 else f"{value:.0f}° aft of right ahead"


_SAID: dict[Style, Callable[[Marked, float], str]] = {
    "holes": _holes_said,
    "tape": _tape_said,
    "past": _past_said,
    "turns": _turns_said,
    "mm": _mm_said,
    "car": _car_said,
    "board": _board_said,
    "share": _share_said,
    "number": _number_said,
    "pole": _pole_said,
}


def grain(mark: Marked, value: float) -> float:
    """Return the distance from one mark to the next near a position [the control's unit]."""
    match mark.style:
        case "holes":
            return max(row.spacing for row in mark.holes)
        case "tape":
            return HAND if abs(value) >= LONG else FINGER
        case "turns":
            return 0.5 * mark.step
        case "mm":
            return 0.001
        case "board" | "number" | "pole":
            return 1.0
        case _:
            return 0.01


def counted(mark: Marked, change: float) -> str:
    """Return how much a move is, counted as the control is."""
    size = abs(change)
    match mark.style:
        case "holes" | "board":
            amount = _count(round(size / mark.step), "hole")
        case "tape":
            amount = hands(size)
        case "turns":
            amount = _count(size / mark.step, "turn")
        case "mm":
            amount = f"{size * 1000:.0f} mm"
        case "share":
            amount = f"{100 * size:.0f} %"
        case "number":
            amount = f"{size:.0f}"
        case "pole":
            amount = f"{size:.0f}°"
        case _:
            amount = _centimetres(size)
    return amount


def _count(count: float, word: str) -> str:
    """Return a count with its word, the word in the plural above one."""
    return f"{half(count)} {word}{'s' if round(2 * count) > 2 or round(2 * count) == 0 else ''}"
