"""The one place where the page meets `fix`: looks in, moves out, as plain values."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from importlib import import_module, util
from typing import Any

from pydantic import ValidationError

from luffwright.app.wind_words import with_wind
from luffwright.errors import InputError

_VERB, _REQUEST = "luffwright.app.fix", "luffwright.app.sighting"


def fixed(
    fields: Mapping[str, object], controls: Mapping[str, float], seen: Sequence[Mapping[str, Any]]
) -> dict[str, object]:
    """Return what to do about what was seen, with the contract's keys.

    Raises
    ------
    InputError
        What cannot be used, and that a verb is not part of this version.
    """
    if util.find_spec(_VERB) is None:
        raise InputError("fix", "this version", "cannot read tufts yet", "compare with See")
    given = with_wind(fields) | {"controls": dict(controls), "seen": list(seen), "quick": True}
    try:
        request = import_module(_REQUEST).FixRequest.model_validate(given)
    except ValidationError as fault:
        entry = fault.errors(include_url=False)[0]
        name = ".".join(str(it) for it in entry["loc"])
        raise InputError(name, str(entry["input"])[:40], entry["msg"], "look again") from None
    answer: dict[str, object] = import_module(_VERB).fix(request).as_json()
    return answer
