"""Where a control stands and how to move it, in words that can be found on deck."""

from __future__ import annotations

import pytest

from luffwright.aboard.boat import load_boat
from luffwright.aboard.mark import Mark, Style, half, hands


def mark(style: Style, control: str = "sheet", step: float = 0.05) -> Mark:
    """Return a mark of a style, travel 0 to 2."""
    return Mark(control, "rope", style, step, "ease", "pull", 0.0, 2.0)


CAR = Mark("lead", "genoa car", "holes", 0.05, "aft", "forward", 0.0, 2.0)
CAR_FROM_AFT = Mark("lead", "genoa car", "holes", 0.05, "aft", "forward", 0.0, 2.0, "aft")


def test_holes_are_counted_from_the_end_that_the_sailor_chose() -> None:
    # 2 m of track with a hole each 5 cm: 41 holes.
    assert CAR.text(0.0) == "hole 1 from forward"
    assert CAR.text(0.30) == "hole 7 from forward"
    assert CAR_FROM_AFT.text(2.0) == "hole 1 from aft"
    assert CAR_FROM_AFT.text(0.0) == "hole 41 from aft"


def test_a_move_says_rope_count_verb_and_from_where_to_where() -> None:
    assert CAR.move(0.30, 0.40) == (
        "GENOA CAR 2 holes aft (hole 7 from forward → hole 9 from forward)"
    )
    assert CAR.move(0.40, 0.35).startswith("GENOA CAR 1 hole forward ")
    # Counted from aft the same move keeps its verb.
    assert CAR_FROM_AFT.move(0.30, 0.40).startswith("GENOA CAR 2 holes aft ")


@pytest.mark.parametrize(
    ("length", "words"),
    [
        (0.0, "0 fingers"),
        (0.02, "1 finger"),
        (0.10, "1 hand"),
        (0.24, "2 hands 2 fingers"),
        (-0.24, "2 hands 2 fingers"),
        (0.099, "1 hand"),
        (0.98, "9 hands 4 fingers"),
        (1.0, "1 m"),
        (5.34, "5 m 3 hands"),
        (5.96, "6 m"),
    ],
)
def test_rope_is_measured_in_hands_and_fingers_and_by_the_metre_when_long(
    length: float, words: str
) -> None:
    assert hands(length) == words


@pytest.mark.parametrize(
    ("value", "text"), [(0.0, "0"), (0.5, "½"), (1.0, "1"), (6.4, "6½"), (6.2, "6")]
)
def test_turns_are_told_to_the_half(value: float, text: str) -> None:
    assert half(value) == text


@pytest.mark.parametrize(
    ("style", "control", "value", "text"),
    [
        ("tape", "sheet", 0.0, "on the mark"),
        ("tape", "sheet", 0.12, "1 hand 1 finger eased from the mark"),
        ("tape", "sheet", -0.04, "2 fingers inside the mark"),
        ("past", "halyard", 0.0, "hand-tight"),
        ("past", "halyard", 0.06, "6 cm past hand-tight"),
        ("past", "vang", -0.20, "20 cm slack"),
        ("past", "outhaul", 0.0, "at the band"),
        ("past", "outhaul", 0.04, "4 cm eased from the band"),
        ("turns", "backstay", 0.325, "6½ turns on"),
        ("turns", "backstay", 0.0, "hand-tight"),
        ("mm", "backstay", 0.030, "30 mm on"),
        ("car", "traveller", 0.0, "centred"),
        ("car", "traveller", 0.15, "15 cm to leeward"),
        ("car", "traveller", -0.15, "15 cm to windward"),
        ("board", "clew_hole", 3.0, "hole 3 from the bottom"),
        ("share", "furl", 0.0, "full sail"),
        ("share", "furl", 0.25, "25 % rolled"),
        ("number", "reef", 0.0, "no reef"),
        ("number", "reef", 2.0, "reef 2"),
    ],
)
def test_each_style_of_mark_has_its_words(
    style: Style, control: str, value: float, text: str
) -> None:
    assert mark(style, control).text(value) == text


@pytest.mark.parametrize(
    ("style", "step", "start", "end", "words"),
    [
        ("tape", 0.02, 0.0, 0.24, "ROPE 2 hands 2 fingers ease"),
        ("past", 0.01, 0.06, 0.02, "ROPE 4 cm pull"),
        ("turns", 0.05, 0.10, 0.20, "ROPE 2 turns ease"),
        ("turns", 0.05, 0.10, 0.15, "ROPE 1 turn ease"),
        ("mm", 0.005, 0.010, 0.030, "ROPE 20 mm ease"),
        ("board", 1.0, 2.0, 3.0, "ROPE 1 hole ease"),
        ("share", 0.05, 0.0, 0.25, "ROPE 25 % ease"),
        ("number", 1.0, 0.0, 1.0, "ROPE 1 ease"),
    ],
)
def test_a_move_counts_as_its_mark_is_counted(
    style: Style, step: float, start: float, end: float, words: str
) -> None:
    assert mark(style, step=step).move(start, end).startswith(words + " (")


def test_the_boats_name_their_own_ropes() -> None:
    assert load_boat("marram").marks["lead"].rope == "genoa car"
    assert load_boat("marram").marks["backstay"].style == "turns"
    traveller = load_boat("marram").marks["traveller"]
    assert (traveller.more, traveller.less) == ("down", "up")
