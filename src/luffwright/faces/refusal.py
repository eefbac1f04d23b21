"""Refusals at the command line: one sentence on stderr, the exit code, never a traceback."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import cast

import typer

from luffwright.errors import LuffwrightError

REFUSED, NOT_SETTLED, BROKEN_OFF = 2, 3, 130

# What the command line itself refuses (an unknown option, a missing argument) has this base, which
# goes by no public name.
_USAGE = cast("type[Exception]", typer.BadParameter.__mro__[2])


def spoken(run: Callable[[], int | None]) -> int:
    """Return the exit code of `run`, and say its refusal in one sentence if it refuses."""
    try:
        return run() or 0
    except LuffwrightError as refusal:
        return say(str(refusal), refusal.exit_code)
    except _USAGE as refusal:
        return say(cast("typer.BadParameter", refusal).format_message(), REFUSED)
    except (typer.Abort, KeyboardInterrupt):
        return say("broken off", BROKEN_OFF)


def say(sentence: str, code: int) -> int:
    """Return the exit code after the sentence is on stderr."""
    print(" ".join(sentence.split()) if sentence.count("\n") < 3 else sentence, file=sys.stderr)
    return code
