"""What the page of `fix` says first: leave it, look again, reef, or what to move."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from rich.console import Console

from luffwright.app.answer import Caution
from luffwright.app.fix_answer import FixAnswer, FixMove
from luffwright.faces.fix_tables import fix_tables

SMALL = FixMove(
    "sheet", 0.0, 0.02, "m", "1 finger eased", None, "GENOA SHEET 1 finger ease", 0.3, 0.012, None,
    "the tufts as they are", "",
)  # fmt: skip
REEF = Caution("warning", "Reef: take reef 1 first. She meets too much wind.")
LEFT = FixAnswer(nothing_wrong=True, says=(), moves=(), cautions=(), unknowns=())
TROUBLED = replace(LEFT, nothing_wrong=False)


def text_of(answer: FixAnswer) -> str:
    """Return the page as text."""
    out = io.StringIO()
    Console(file=out, width=100).print(*fix_tables(answer), sep="\n")
    return " ".join(out.getvalue().split())


def test_what_hardly_brings_anything_comes_after_leave_it() -> None:
    text = text_of(replace(LEFT, moves=(SMALL,)))
    assert text.startswith("LEAVE IT.")
    assert text.index("With hands to spare:") < text.index("GENOA SHEET 1 finger ease")


@pytest.mark.parametrize(
    ("answer", "first"),
    [
        (LEFT, "LEAVE IT."),
        (TROUBLED, "LOOK AGAIN"),
        (replace(TROUBLED, moves=(SMALL,)), "1 GENOA SHEET 1 finger ease."),
        (replace(TROUBLED, cautions=(REEF,)), "Reef: take reef 1 first."),
    ],
)
def test_the_page_begins_with_what_to_do(answer: FixAnswer, first: str) -> None:
    text = text_of(answer)
    assert text.startswith(first)
    heads = ("LEAVE IT.", "LOOK AGAIN", "With hands to spare")
    assert not any(it in text for it in heads if it != first)
