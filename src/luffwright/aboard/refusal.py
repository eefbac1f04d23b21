"""From a validation fault to one sentence: field, value, limit, remedy."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from pydantic import BaseModel, ValidationError

from luffwright.errors import BoatFileError

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

_WORDS: Mapping[str, tuple[str, str]] = {
    "bool_parsing": ("must be true or false", "write true or false without quotes"),
    "bool_type": ("must be true or false", "write true or false without quotes"),
    "finite_number": ("must be a finite number", "measure again"),
    "float_parsing": ("must be a number", "write the number alone, with a point"),
    "float_type": ("must be a number", "write the number alone, with a point"),
    "int_from_float": ("must be a whole number", "count again"),
    "int_parsing": ("must be a whole number", "write the number alone"),
    "int_type": ("must be a whole number", "write the number alone"),
    "literal_error": ("", "choose one of these"),
    "model_type": ("must be a table of entries", "write it as a table, as the demo boats have it"),
    "string_type": ("must be text", "put it in quotes"),
    "tuple_type": ("must be a list", "write the values in square brackets"),
}
"""What a fault's kind means to a sailor and what to do; no limit = the checker's own words do."""

_SHORTER = (
    ("Input should be", "must be"),
    ("greater than or equal to", "at least"),
    ("less than or equal to", "at most"),
    ("greater than", "more than"),
)


def _known_keys(model: type[BaseModel], place: Sequence[int | str]) -> list[str]:
    """Return the keys that the table at `place` has."""
    here: Any = model
    for step in place:
        if isinstance(step, int):
            continue
        entry = here.model_fields.get(step)
        if entry is None:
            return []
        kind = entry.annotation
        for inner in [kind, *getattr(kind, "__args__", ())]:
            if isinstance(inner, type) and issubclass(inner, BaseModel):
                here = inner
                break
    return list(here.model_fields)


def _field(place: Sequence[int | str]) -> str:
    """Return a place in the file as a sailor counts: the first of a list is 1."""
    return ".".join(str(step + 1) if isinstance(step, int) else step for step in place)


def own_words(message: str) -> str:
    """Return the checker's message as one says it.

    Examples
    --------
    >>> own_words("Input should be less than or equal to 60")
    'must be at most 60'
    """
    for long, short in _SHORTER:
        message = message.replace(long, short)
    return message


def _shown(value: object) -> object:
    """Return a value as the file has it: text in quotes, a table by its name."""
    match value:
        case bool():
            return str(value).lower()
        case str():
            return f'"{value}"'
        case dict():
            return "a table"
        case _:
            return value


def _unknown(entry: ErrorDetails, model: type[BaseModel]) -> BoatFileError:
    place = entry["loc"]
    wanted, known = str(place[-1]).lower(), _known_keys(model, place[:-1])
    near = difflib.get_close_matches(wanted, known, 1, 0.4)
    remedy = f'did you mean "{near[0]}"?' if near else "take it out"
    return BoatFileError(_field(place), _shown(entry["input"]), "unknown entry", remedy)


def _absent(entry: ErrorDetails) -> BoatFileError:
    place = entry["loc"]
    if isinstance(place[-1], int):
        limit = f"has {place[-1]} values, number {place[-1] + 1} must be given"
        return BoatFileError(_field(place[:-1]), "too short a list", limit, "add it")
    return BoatFileError(_field(place), "nothing", "must be given", "add it")


def first_fault(fault: ValidationError, model: type[BaseModel]) -> BoatFileError:
    """Return the fault to mend first, as a refusal in the sailor's words.

    A key that is not known comes first: what it was meant to be is then missing as well.
    """
    faults = fault.errors()
    unknown = [entry for entry in faults if entry["type"] == "extra_forbidden"]
    if unknown:
        return _unknown(unknown[0], model)
    # What is lacking may be estimated; what is there and wrong must be mended.
    entry = next((it for it in faults if it["type"] != "missing"), faults[0])
    if entry["type"] == "missing":
        return _absent(entry)
    value = _shown(entry["input"])
    if entry["type"] in {"too_long", "too_short"}:
        limits = entry["ctx"]
        wanted = limits.get("max_length", limits.get("min_length"))
        word = "at most" if entry["type"] == "too_long" else "at least"
        limit, remedy = f"must have {word} {wanted} values", "count the values in the brackets"
        return BoatFileError(_field(entry["loc"]), value, limit, remedy)
    own = own_words(entry["msg"])
    limit, remedy = _WORDS.get(entry["type"], ("", "measure again, in the unit that the key names"))
    return BoatFileError(_field(entry["loc"]), value, limit or own, remedy)
