"""Deck marks in a request: `hole 7`, `2 hands eased`, or what an earlier answer said of a control,
wherever a position is asked for.
"""

from __future__ import annotations

from collections.abc import Mapping

from luffwright.aboard.boat import Boat, load_boat
from luffwright.errors import InputError

PLACES = ("controls", "hold")
"""The fields of a request that say where controls stand."""


def with_positions(fields: Mapping[str, object]) -> dict[str, object]:
    """Return a request's fields with its deck marks as positions.

    Plain numbers, and texts of them, stay as they are; of a reading `{value, unit, mark}`, as
    answers carry it, the value is taken.

    Raises
    ------
    InputError
        For a mark that the boat does not have, with words that would do.
    """
    given = dict(fields)
    for place in PLACES:
        entries = given.get(place)
        if isinstance(entries, Mapping):
            given[place] = {
                str(name): _position(given, place, str(name), value)
                for name, value in entries.items()
            }
    return given


def with_moves(boat: object, look: object) -> object:
    """Return one look of `fix` with the deck marks of what was `moved` as positions.

    Raises
    ------
    InputError
        As `with_positions`.
    """
    if not isinstance(look, Mapping) or not isinstance(look.get("moved"), Mapping):
        return look
    fields = {"boat": boat}
    moved = {
        str(name): _position(fields, "seen.moved", str(name), value)
        for name, value in look["moved"].items()
    }
    return {**look, "moved": moved}


def _position(fields: Mapping[str, object], place: str, name: str, value: object) -> object:
    if isinstance(value, Mapping) and "value" in value:
        return value["value"]
    if not isinstance(value, str) or _is_number(value) or not isinstance(fields.get("boat"), str):
        return value
    boat = load_boat(str(fields["boat"]))
    boat.travel(name, place)
    return _read(boat, place, name, value)


def _read(boat: Boat, place: str, name: str, words: str) -> float:
    try:
        return boat.marks[name].position(words)
    except InputError as refusal:
        raise InputError(f"{place}.{name}", words, refusal.limit, refusal.remedy) from None


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True
