"""The one place where the page meets `fix`: looks in, moves out, as plain values."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from luffwright.app.batch import fix_asked
from luffwright.app.wind_words import with_wind


def fixed(
    fields: Mapping[str, object], controls: Mapping[str, float], seen: Sequence[Mapping[str, Any]]
) -> dict[str, object]:
    """Return what to do about what was seen, with the contract's keys.

    Raises
    ------
    InputError
        What cannot be used.
    """
    from luffwright.app.fix import fix  # noqa: PLC0415  # compiled kernels: only where asked

    given = with_wind(fields) | {"controls": dict(controls), "seen": list(seen), "quick": True}
    return fix(fix_asked(given)).as_json()
