"""The one place where the page meets `fix`: looks in, moves out, as plain values."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from luffwright.app.batch import fix_asked
from luffwright.app.sighting import FixRequest
from luffwright.app.wind_words import with_wind

PORTION = 24
"""States flown at a time beside what the page asks for, which waits for them: some seconds."""


def _asked(
    fields: Mapping[str, object], controls: Mapping[str, float], seen: Sequence[Mapping[str, Any]]
) -> FixRequest:
    given = with_wind(fields) | {"controls": dict(controls), "seen": list(seen), "quick": True}
    return fix_asked(given)


def fixed(
    fields: Mapping[str, object], controls: Mapping[str, float], seen: Sequence[Mapping[str, Any]]
) -> dict[str, object]:
    """Return what to do about what was seen: the contract's keys, and whether more states of the
    boat are to be flown for a surer answer, `flies_on`.

    Raises
    ------
    InputError
        What cannot be used.
    """
    from luffwright.app.fix import fix  # noqa: PLC0415  # compiled kernels: only where asked
    from luffwright.app.fix_sample import WHOLE  # noqa: PLC0415

    answer = fix(_asked(fields, controls, seen))
    return answer.as_json() | {"flies_on": answer.method.flown < WHOLE}


def flown_on(
    fields: Mapping[str, object], controls: Mapping[str, float], seen: Sequence[Mapping[str, Any]]
) -> bool:
    """Return whether all states of the boat in this condition are flown, after a few more were.

    Raises
    ------
    InputError
        What cannot be used.
    """
    from luffwright.app.fix import further  # noqa: PLC0415  # as in fixed

    return further(_asked(fields, controls, seen), PORTION)
