"""Marks both ways: words to place to words are the same; place to words to place is near."""

from __future__ import annotations

import contextlib
import math
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from luffwright.aboard.boat import boat_keys, load_boat
from luffwright.aboard.holes import Holes
from luffwright.aboard.mark import Mark
from luffwright.errors import InputError

BOATS = {name: load_boat(name) for name in boat_keys()}
MARKS = [mark for boat in BOATS.values() for mark in boat.marks.values()]
TERN = load_boat(str(Path(__file__).parents[1] / "data" / "tern.toml"))

shares = st.floats(0.0, 1.0)
marks = st.sampled_from(MARKS)
ends = st.sampled_from(["front", "aft"])


@st.composite
def unlike(draw: st.DrawFn) -> Mark:
    """Return the car of a boat whose two tracks have holes of their own along the same travel."""
    rows = []
    for side in ("port", "starboard"):
        spacing = draw(st.floats(0.02, 0.15))
        front = draw(st.floats(-0.10, 0.10))
        count = math.ceil((2.0 - front) / spacing) + 1
        rows.append(Holes(front, spacing, count, draw(ends), side))  # type: ignore[arg-type]
    return Mark("lead", "car", "holes", 0.05, "aft", "forward", 0.0, 2.0, sides=tuple(rows))


def place(mark: Mark, share: float) -> float:
    """Return a place along a control's travel."""
    value = mark.first + share * (mark.last - mark.first)
    return float(round(value)) if mark.step == 1.0 else value


@given(st.one_of(marks, unlike()), shares)
def test_from_words_to_a_place_and_back_the_words_are_the_same(mark: Mark, share: float) -> None:
    words = mark.text(place(mark, share))
    assert mark.text(mark.position(words)) == words


@given(marks, shares)
def test_from_a_place_to_words_and_back_it_is_within_half_a_step(mark: Mark, share: float) -> None:
    value = place(mark, share)
    there = mark.position(mark.text(value))
    assert abs(there - value) <= 0.5 * mark.grain(value) + 1e-9


@given(unlike(), shares)
def test_two_unlike_tracks_put_the_car_within_half_of_either_ones_holes(
    mark: Mark, share: float
) -> None:
    value = place(mark, share)
    there = mark.position(mark.text(value))
    # Where a track begins behind the travel's end, its car cannot stand further forward.
    out = max(0.0, *(row.front for row in mark.holes))
    for row in mark.holes:
        assert abs(there - value) <= 0.5 * row.spacing + out + 1e-9
        assert row.number(there) == row.number(value)


@given(marks, shares)
def test_rounding_says_exactly_how_far_it_moved(mark: Mark, share: float) -> None:
    value = place(mark, share)
    found = mark.rounded(value)
    assert found.mark == mark.text(value)
    assert found.value - found.off == pytest.approx(value, abs=1e-12)
    # What is on a mark already does not move again.
    assert mark.rounded(found.value).off == pytest.approx(0.0, abs=1e-9)


@given(st.integers(1, 40), ends, ends)
def test_a_hole_named_from_either_end_is_the_same_hole(number: int, own: str, other: str) -> None:
    mark = Mark("lead", "car", "holes", 0.05, "aft", "forward", 0.0, 1.95, own)  # type: ignore[arg-type]
    word = {"front": "forward", "aft": "aft"}
    there = mark.position(f"hole {number} from {word[other]}")
    told = number if own == other else 41 - number
    assert mark.text(there) == f"hole {told} from {word[own]}"


@given(st.sampled_from(list(TERN.marks.values())), shares)
def test_what_is_not_marked_names_no_number_but_the_way_from_a_place_to_be_found(
    mark: Mark, share: float
) -> None:
    if mark.missing:
        value = place(mark, share)
        by_eye, _, said = mark.text(value).rpartition("; ")
        assert said.startswith("not marked on this boat: ")
        assert not any(letter.isdigit() for letter in said)
        numbers = [int(it) for it in re.findall(r"\d+", by_eye)]
        far = [] if mark.neutral is None else [abs(100.0 * (value - mark.neutral))]
        # In whole centimetres, none where it stands in that place.
        assert numbers == ([round(it) for it in far if it >= 0.5])
        assert mark.rounded(value).off == 0.0


@given(marks, st.text(max_size=12))
def test_whatever_is_typed_for_a_mark_is_read_or_refused(mark: Mark, words: str) -> None:
    with contextlib.suppress(InputError):
        assert math.isfinite(mark.position(words))
