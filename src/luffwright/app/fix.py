"""`fix`: from what the telltales show to the right move, its size, and what is then to be seen."""

from __future__ import annotations

from collections.abc import Callable

from luffwright.app.fix_answer import FixAnswer
from luffwright.app.sighting import FixRequest

Progress = Callable[[int, int], None]
"""Told how many states of how many are flown."""


def fix(request: FixRequest, progress: Progress | None = None) -> FixAnswer:
    """Return the moves that are expected to bring most after what was seen, best first.

    For a page: build the request with `FixRequest.model_validate(fields)` (or `batch.asked`, which
    reads deck marks too), call `fix(request, progress)`, send `answer.as_json()`. The first answer
    for a boat and condition flies a sample of states, a quarter of a minute for a coarse one;
    `progress(done, of)` is called as they come in. It is kept, and later answers take a moment.

    Parameters
    ----------
    request : FixRequest
    progress : callable, optional

    Returns
    -------
    FixAnswer

    Raises
    ------
    InputError
        Where a field cannot be used, or no boat could sail it.
    """
    raise NotImplementedError
