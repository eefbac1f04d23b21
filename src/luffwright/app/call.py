"""Reef calls in an answer: found again by their words, and no gain told beside one not taken."""

from __future__ import annotations

from dataclasses import replace

from luffwright.app.answer import Caution, TrimAnswer, Worth

CALL = "Reef: "
"""What every reef call begins with."""
UNTOLD = ("worth.loss_down_kn", "worth.loss_up_kn", "worth.minutes_per_hour")
LIMIT_WORDS = ("heel", "helm", "margin", "load", "taut", "table")
"""What a reason is about where it is no control: a limit, `taut` that of a load pulled by hand."""


def calls_in(cautions: tuple[Caution, ...]) -> tuple[Caution, ...]:
    """Return the reef calls among an answer's cautions."""
    return tuple(it for it in cautions if it.level == "warning" and it.text.startswith(CALL))


def unpraised(answer: TrimAnswer) -> TrimAnswer:
    """Return an answer without any gain where a reef is called and not taken.

    Moves are still told, without what they bring: nobody is to weigh speed against a reef.
    """
    if not calls_in(answer.cautions):
        return answer
    worth = {
        name: Worth(entry.step, entry.unit, None, None, None)
        for name, entry in answer.worth.items()
    }
    why = tuple(
        entry if entry.control in LIMIT_WORDS
        else replace(entry, text=entry.text.rsplit(": ", 1)[0])
        for entry in answer.why
    )  # fmt: skip
    untold = tuple(it for it in UNTOLD if it not in answer.method.not_computed)
    method = replace(answer.method, not_computed=(*answer.method.not_computed, *untold))
    return replace(answer, worth=worth, why=why, leave_it=False, method=method)
