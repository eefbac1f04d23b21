"""A request says where controls stand in numbers, in deck marks, or as an answer said it."""

from __future__ import annotations

from pathlib import Path

import pytest

from luffwright.app.batch import asked
from luffwright.errors import InputError

TERN = str(Path(__file__).parents[1] / "data" / "tern.toml")


def stands(boat: str, **controls: object) -> dict[str, float]:
    """Return where the controls of a request stand."""
    return asked({"boat": boat, "controls": controls, "hold": controls}).controls


def test_marks_numbers_and_readings_say_the_same() -> None:
    told = stands("marram", lead="hole 7", halyard=0.06, backstay="hand-tight")
    numbers = stands("marram", lead="0.3", halyard="6 cm past hand-tight", backstay=0)
    reading = {"value": 0.3, "unit": "m", "mark": "hole 7 from forward"}
    assert told == pytest.approx({"lead": 0.3, "halyard": 0.06, "backstay": 0.0})
    assert numbers == pytest.approx(told)
    assert stands("marram", lead=reading)["lead"] == 0.3


@pytest.mark.parametrize(
    ("boat", "name", "words", "said"),
    [
        ("marram", "lead", "hole 70", r"controls.lead = hole 70: .*41 holes"),
        ("marram", "lead", "forward", r"controls.lead = forward: no mark of the genoa car"),
        ("dunlin", "lead", "hole 7", r"Dunlin has no such control; she has sheet, clew_hole"),
        (TERN, "lead", "hole 7", r"the genoa car has no marks yet on this boat; measure its track"),
    ],
)
def test_a_mark_that_the_boat_does_not_have_is_refused(
    boat: str, name: str, words: str, said: str
) -> None:
    with pytest.raises(InputError, match=said):
        stands(boat, **{name: words})


def test_a_boat_without_marks_still_takes_positions() -> None:
    assert stands(TERN, lead=0.4) == {"lead": 0.4}
