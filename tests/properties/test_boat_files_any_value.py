"""Whatever is typed into a boat file, it is read or refused in a sentence; marks count back."""

from __future__ import annotations

import copy
import tomllib
from importlib import resources
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from luffwright.aboard.convert import hull_of, sail_plan
from luffwright.aboard.fit import refuse_what_does_not_fit
from luffwright.aboard.mark import Mark, half, hands
from luffwright.aboard.refusal import first_fault
from luffwright.aboard.schema import BoatFile
from luffwright.errors import BoatFileError

TABLE = tomllib.loads(
    (resources.files("luffwright.aboard") / "demo" / "marram.toml").read_text(encoding="utf-8")
)


def entries(table: object, place: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """Return the places of all single values in a table."""
    if isinstance(table, dict):
        return [found for key, inner in table.items() for found in entries(inner, (*place, key))]
    if isinstance(table, list):
        return [found for n, inner in enumerate(table) for found in entries(inner, (*place, n))]
    return [place]


def with_value(place: tuple[str | int, ...], value: object) -> dict[str, Any]:
    """Return the table with one value changed."""
    table = copy.deepcopy(TABLE)
    here: Any = table
    for step in place[:-1]:
        here = here[step]
    here[place[-1]] = value
    return table


def value_at(place: tuple[str | int, ...]) -> object:
    """Return the value of the unchanged table."""
    here: Any = TABLE
    for step in place:
        here = here[step]
    return here


def read(table: dict[str, Any]) -> BoatFile:
    """Return the checked file, or refuse as the program does."""
    try:
        file = BoatFile.model_validate(table)
    except ValidationError as fault:
        raise first_fault(fault, BoatFile) from None
    refuse_what_does_not_fit(file)
    sail_plan(file)
    hull_of(file)
    return file


def refusal(table: dict[str, Any]) -> BoatFileError | None:
    """Return what a table is refused with, if it is."""
    try:
        read(table)
    except BoatFileError as found:
        return found
    return None


PLACES = entries(TABLE)
NUMBERS = [
    place
    for place in PLACES
    if isinstance(value_at(place), int | float) and not isinstance(value_at(place), bool)
]
odd = st.one_of(
    st.floats(), st.integers(), st.booleans(), st.text(max_size=8), st.lists(st.floats()),
    st.dictionaries(st.text(max_size=5), st.integers(), max_size=2),
)  # fmt: skip


@given(st.sampled_from(PLACES), odd)
def test_anything_typed_in_is_read_or_refused_in_one_sentence(
    place: tuple[str | int, ...], value: object
) -> None:
    found = refusal(with_value(place, value))
    if found is not None:
        assert all(found.as_json().values())
        said = found.limit + found.remedy
        assert not any(word in said for word in ("Input", "Tuple", "dictionary", "valid"))


@given(st.sampled_from(NUMBERS), st.floats(0.2, 5.0))
def test_any_other_size_of_any_measurement_is_read_or_refused(
    place: tuple[str | int, ...], factor: float
) -> None:
    number = value_at(place)
    assert isinstance(number, int | float)
    table = with_value(place, float(number) * factor)
    if refusal(table) is not None:
        return
    for entry in sail_plan(read(table)).controls:
        assert entry.low < entry.high
        assert entry.low <= entry.rest <= entry.high
        assert entry.step > 0.0


@given(st.sampled_from(NUMBERS), st.sampled_from([float("nan"), float("inf"), -1e6, 1e6]))
def test_a_number_that_cannot_be_measured_is_refused_by_its_name(
    place: tuple[str | int, ...], value: float
) -> None:
    with pytest.raises(BoatFileError) as caught:
        read(with_value(place, value))
    named = [step + 1 if isinstance(step, int) else step for step in place]
    assert caught.value.field == ".".join(str(step) for step in named)


@given(st.sampled_from(PLACES), st.text("abcdefgh_", min_size=1, max_size=6))
def test_a_key_that_is_not_known_is_refused_before_all_else(
    place: tuple[str | int, ...], added: str
) -> None:
    keys = [step for step in place if isinstance(step, str)]
    table = copy.deepcopy(TABLE)
    here: Any = table
    for step in place[: place.index(keys[-1])]:
        here = here[step]
    here[keys[-1] + "_" + added] = here.pop(keys[-1])
    with pytest.raises(BoatFileError) as caught:
        read(table)
    assert caught.value.limit == "unknown entry"
    assert caught.value.field.endswith(keys[-1] + "_" + added)


@given(st.integers(2, 60), st.floats(0.02, 0.2), st.sampled_from(["front", "aft"]), st.data())
def test_each_hole_has_one_number_and_back(
    holes: int, step: float, end: str, data: st.DataObject
) -> None:
    last = (holes - 1) * step
    mark = Mark("lead", "car", "holes", step, "aft", "forward", 0.0, last, end)  # type: ignore[arg-type]
    number = data.draw(st.integers(1, holes))
    place = (number - 1) * step
    assert mark.hole(place) == (number if end == "front" else holes - number + 1)


@given(st.floats(0.0, 5.0))
def test_hands_and_fingers_add_up_to_the_length(length: float) -> None:
    words = hands(length).split()
    kinds = [word.rstrip("s") for word in words[1::2]]
    counts = dict(zip(kinds, map(int, words[::2]), strict=True))
    told = 0.10 * counts.get("hand", 0) + 0.02 * counts.get("finger", 0) + counts.get("m", 0)
    # From 1 m on, to the hand: half a hand off at most.
    assert told == pytest.approx(length, abs=0.0501 if "m" in counts else 0.0101)


@given(st.floats(0.0, 200.0))
def test_a_count_to_the_half_is_at_most_a_quarter_off(value: float) -> None:
    text = half(value)
    told = float(text.replace("½", "") or 0) + (0.5 if "½" in text else 0.0)
    assert told == pytest.approx(value, abs=0.2501)
