"""From a validation fault to one sentence: field, value, limit, remedy."""

from __future__ import annotations

import difflib
from typing import Any

from pydantic import BaseModel, ValidationError

from luffwright.errors import BoatFileError


def _known_keys(model: type[BaseModel], place: tuple[Any, ...]) -> list[str]:
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


def first_fault(fault: ValidationError, model: type[BaseModel]) -> BoatFileError:
    """Return the first fault as a refusal in the sailor's words."""
    entry = fault.errors()[0]
    place = tuple(entry["loc"])
    field = ".".join(str(step) for step in place)
    value: object = entry.get("input")
    if entry["type"] == "extra_forbidden":
        near = difflib.get_close_matches(str(place[-1]), _known_keys(model, place[:-1]), 1, 0.4)
        remedy = f'did you mean "{near[0]}"?' if near else "take it out"
        return BoatFileError(field, value, "unknown entry", remedy)
    if entry["type"] == "missing":
        return BoatFileError(field, "nothing", "must be given", "add it, with its unit in the key")
    limit = entry["msg"].replace("Input should be", "must be")
    return BoatFileError(field, value, limit, "measure again, in the unit that the key names")
