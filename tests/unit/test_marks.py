"""Where a control stands and how to move it, in words that can be found on deck."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from luffwright.aboard.boat import load_boat
from luffwright.aboard.holes import Holes
from luffwright.aboard.mark import Mark, Rounded, Style, half, hands, rounding_cost
from luffwright.errors import InputError

TERN = str(Path(__file__).parents[1] / "data" / "tern.toml")


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


# Port has a hole more at the bow and is counted from aft; starboard is as drawn.
UNLIKE = Mark(
    "lead", "genoa car", "holes", 0.05, "aft", "forward", 0.0, 1.0,
    sides=(
        Holes(-0.02, 0.05, 21, "aft", "port"),
        Holes(0.0, 0.04, 26, "front", "starboard"),
    ),
)  # fmt: skip


def test_unlike_tracks_are_told_side_by_side() -> None:
    # 0.28 m: port's 7th hole from the bow (0.28), the 15th of 21 from aft; starboard's 8th.
    assert UNLIKE.text(0.28) == "port hole 15 from aft, starboard hole 8 from forward"


def test_a_hole_of_unlike_tracks_needs_its_side() -> None:
    assert UNLIKE.position("port hole 15") == pytest.approx(0.28)
    assert UNLIKE.position("port hole 7 from forward") == pytest.approx(0.28)
    assert UNLIKE.position("starboard hole 8") == pytest.approx(0.28)
    with pytest.raises(InputError, match="write port hole 8 or starboard hole 8"):
        UNLIKE.position("hole 8")


def test_holes_that_do_not_stand_abreast_are_refused() -> None:
    with pytest.raises(InputError, match="do not stand abreast"):
        UNLIKE.position("port hole 15, starboard hole 20")


@pytest.mark.parametrize(
    ("style", "control", "words", "value"),
    [
        ("holes", "lead", "hole 7", 0.30),
        ("holes", "lead", "hole:7", 0.30),
        ("holes", "lead", "Hole 7 from forward", 0.30),
        ("holes", "lead", "hole 1 from aft", 2.0),
        ("holes", "lead", "port hole 7", 0.30),
        ("tape", "sheet", "on the mark", 0.0),
        ("tape", "sheet", "1 hand 1 finger eased", 0.12),
        ("tape", "sheet", "12 cm eased from the mark", 0.12),
        ("tape", "sheet", "2 fingers inside the mark", -0.04),
        ("tape", "sheet", "2 m 3 hands eased from the mark", 2.3),
        ("past", "halyard", "hand-tight", 0.0),
        ("past", "halyard", "6 cm past hand-tight", 0.06),
        ("past", "halyard", "6cm", 0.06),
        ("past", "vang", "20 cm slack", -0.20),
        ("past", "outhaul", "at the band", 0.0),
        ("past", "outhaul", "4 cm eased from the band", 0.04),
        ("past", "outhaul", "1 cm past the band", -0.01),
        ("turns", "backstay", "6½ turns on", 0.325),
        ("turns", "backstay", "6.5 turns", 0.325),
        ("turns", "backstay", "½ turn on", 0.025),
        ("turns", "backstay", "hand-tight", 0.0),
        ("mm", "backstay", "30 mm on", 0.030),
        ("mm", "backstay", "30mm", 0.030),
        ("car", "traveller", "centred", 0.0),
        ("car", "traveller", "15 cm to leeward", 0.15),
        ("car", "traveller", "15 cm down", 0.15),
        ("car", "traveller", "15 cm up", -0.15),
        ("board", "clew_hole", "hole 3 from the bottom", 3.0),
        ("share", "furl", "full sail", 0.0),
        ("share", "furl", "25 % rolled", 0.25),
        ("share", "furl", "25%", 0.25),
        ("number", "reef", "no reef", 0.0),
        ("number", "reef", "reef 2", 2.0),
        ("holes", "lead", "7", None),
        ("holes", "lead", "hole", None),
        ("holes", "lead", "on the mark", None),
        ("tape", "sheet", "eased", None),
        ("tape", "sheet", "1 hand", None),
        ("past", "halyard", "tight", None),
        ("car", "traveller", "15 cm", None),
        ("mm", "backstay", "on", None),
        ("number", "reef", "two", None),
    ],
)
def test_deck_words_are_read_and_what_is_none_is_refused_with_an_example(
    style: Style, control: str, words: str, value: float | None
) -> None:
    if value is not None:
        assert mark(style, control).position(words) == pytest.approx(value)
        return
    with pytest.raises(InputError, match="no mark of the rope; write it like"):
        mark(style, control).position(words)


def test_a_hole_beyond_the_row_is_refused_with_its_last() -> None:
    with pytest.raises(InputError, match="has 41 holes; give a hole from 1 to 41"):
        CAR.position("hole 42")


def test_rounding_tells_how_far_off_the_mark_is_and_what_that_costs() -> None:
    # 33 cm along holes each 5 cm: the 8th, at 35 cm, is 2 cm off.
    found = CAR.rounded(0.33)
    assert found.mark == "hole 8 from forward"
    assert found.value == pytest.approx(0.35)
    assert found.off_cm == pytest.approx(2.0)
    # At 1.5 knots for a metre.
    assert rounding_cost(found, 1.5) == pytest.approx(0.03)
    assert rounding_cost(found, -1.5) == pytest.approx(0.03)
    assert rounding_cost(Rounded("hole 8 from forward", 0.35, 0.0), 1.5) == 0.0


def test_a_boat_of_twelve_measurements_has_no_holes_to_name() -> None:
    marks = load_boat(TERN).marks
    # By eye from neutral, 50 cm behind the track's front as she was estimated.
    car = replace(marks["lead"], neutral=0.5)
    assert car.text(0.3) == (
        "by eye: about 20 cm forward of neutral; not marked on this boat: measure its track and "
        "holes"
    )
    assert car.text(0.5) == (
        "by eye: neutral; not marked on this boat: measure its track and holes"
    )
    assert car.text(0.3, "as seen").startswith("by eye: as seen; not marked on this boat: ")
    assert marks["mainsheet"].text(0.3) == "not marked on this boat: count its parts"
    assert marks["mainsheet"].move(0.3, 0.2) == "MAINSHEET pull by eye"
    assert not any(
        "hole" in it.text(it.last) for name, it in marks.items() if name != "lead"
    )  # fmt: skip
    with pytest.raises(InputError, match="no marks yet on this boat; measure its track"):
        marks["lead"].position("hole 7")
    # What every boat can find needs no measuring.
    assert marks["halyard"].text(0.04) == "4 cm past hand-tight"
    assert marks["sheet"].text(0.0) == "on the mark"


def test_a_car_without_marks_is_moved_from_a_place_that_can_be_found() -> None:
    marks = load_boat(TERN).marks
    neutral = marks["lead"].neutral
    assert neutral is not None
    moved = marks["lead"].move(neutral, neutral + 0.2)
    assert moved == "GENOA CAR 20 cm aft by eye (to about 20 cm aft of neutral)"
    assert marks["lead"].move(neutral, neutral - 0.1) == (
        "GENOA CAR 10 cm forward by eye (to about 10 cm forward of neutral)"
    )
    assert marks["lead"].move(neutral - 0.3, neutral) == "GENOA CAR 30 cm aft by eye (to neutral)"
    traveller = marks["traveller"].move(0.3, -0.15)
    assert traveller == ("TRAVELLER 45 cm up by eye (to about 15 cm to windward of the centre)")
    # What is marked needs no such place.
    assert load_boat("marram").marks["lead"].neutral is None


MORE = """
[deck.headsail]
lead_front_aft_m = 0.7
lead_front_out_m = 0.95
lead_aft_aft_m = 2.3
hole_spacing_m = 0.08
holes_counted_from = "aft"

[deck.headsail.port]
front_aft_m = 0.78
holes = 20

[deck.mainsail]
sheet_parts = 3
traveller_reach_m = 0.6
outhaul_parts = 2
vang_parts = 4
vang_along_boom_m = 0.9
"""


def test_six_more_measurements_and_three_counts_give_every_mark(tmp_path: Path) -> None:
    path = tmp_path / "tern.toml"
    path.write_text(Path(TERN).read_text(encoding="utf-8") + MORE, encoding="utf-8")
    marks = load_boat(str(path)).marks
    assert [it.control for it in marks.values() if it.missing] == []
    # Starboard: 1.6 m of track, 21 holes; port begins 8 cm further aft.
    assert marks["lead"].text(0.08) == "port hole 20 from aft, starboard hole 20 from aft"
    assert marks["lead"].text(0.0) == "port hole 20 from aft, starboard hole 21 from aft"
