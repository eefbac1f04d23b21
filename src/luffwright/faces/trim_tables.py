"""What `trim` says on a screen: the work in its order, what each step is worth, and why."""

from __future__ import annotations

from rich.padding import Padding
from rich.text import Text

from luffwright.app.answer import TrimAnswer, Why, Worth
from luffwright.app.call import LIMIT_WORDS, calls_in
from luffwright.faces.tables import (
    Parts,
    heading,
    plain,
    reading,
    reef_calls,
    rope,
    small,
    table_of,
    trouble,
)
from luffwright.faces.words import (
    at_best,
    capital,
    gains,
    headsail_word,
    mark_words,
    minutes,
    move_alone,
    rope_word,
)

BEYOND = " More drive would press her beyond that."
SMALL = "too small to tell"
PLAIN_TRUTHS = ("table", "range", "taut")
"""What reasons may be about, besides a control, that no more drive would pass."""


def trim_tables(answer: TrimAnswer) -> Parts:
    """Return the answer of `trim`: the order of work, then what should be seen."""
    if answer.status == "failed":
        return [*reef_calls(answer), heading(answer), *trouble(answer), *reading(answer)]
    parts: Parts = [*reef_calls(answer), *_leave(answer), heading(answer)]
    parts += [*_work_table(answer), *_rest_table(answer), *_why(answer)]
    parts += [*_chosen(answer), *reading(answer)]
    search = answer.search
    source = "from a stored table" if search.from_table else f"{search.seconds:.0f} s"
    return [*parts, small(f"Searched {search.evaluations} settings ({source}).")]


def _leave(answer: TrimAnswer) -> Parts:
    """Return that nothing is to be done, where that is so."""
    if answer.leave_it is True:
        line = "LEAVE IT. All changes together would bring less than 1 %."
    elif answer.leave_it:
        line = f"LEAVE IT. Look again: {answer.leave_it}"
    else:
        return []
    parts: Parts = [Padding(Text(line, "bold"), (1, 0, 0, 1))]
    if answer.leave_it is not True:
        parts.append(plain("As they stand, all changes together would bring less than 1 %."))
    return parts


def _work_table(answer: TrimAnswer) -> Parts:
    """Return the controls in the order in which to work, each with its worth where known."""
    if not answer.order:
        return []
    headsail = headsail_word(answer.sails)
    costs = {name: _cost(answer.worth.get(name)) for name in answer.order}
    known = any(costs.values())
    small_ones = {entry.control for entry in answer.why if SMALL in entry.text}
    table = table_of("", "set, in this order", "to", *(["a step off costs"] if known else []))
    for count, name in enumerate(answer.order, start=1):
        missing = "–" if name in answer.worth else "not computed"
        unknown = SMALL if name in small_ones else missing
        cost = [costs[name] or unknown] if known else []
        mark = Text(mark_words(answer, name))
        table.add_row(str(count), rope(name, headsail), mark, *cost)
    return [table]


def _rest_table(answer: TrimAnswer) -> Parts:
    """Return the controls that the order leaves out."""
    rest = [name for name in answer.controls if name not in answer.order]
    if not rest:
        return []
    headsail = headsail_word(answer.sails)
    table = table_of("leave", "where it stands")
    for name in rest:
        table.add_row(rope(name, headsail), Text(mark_words(answer, name)))
    return [table]


def _cost(worth: Worth | None) -> str:
    """Return what a step off costs; nothing where it is not computed."""
    if worth is None:
        return ""
    if worth.minutes_per_hour is not None:
        return minutes(worth.minutes_per_hour)
    losses = [loss for loss in (worth.loss_down_kn, worth.loss_up_kn) if loss is not None]
    return f"{max(losses):.2f} kn" if losses else ""


def _why(answer: TrimAnswer) -> Parts:
    """Return what limits the boat, then what each step of the work brings."""
    headsail = headsail_word(answer.sails)
    places = {name: str(count) for count, name in enumerate(answer.order, start=1)}
    limits: Parts = [
        plain(f"{capital(entry.text)}.{'' if entry.control in PLAIN_TRUTHS else BEYOND}")
        for entry in answer.why
        if entry.control in (*LIMIT_WORDS, "range")
    ]
    told = [entry for entry in answer.why if entry.control not in (*LIMIT_WORDS, "range")]
    steps = [(entry, gains(entry.text)) for entry in told]
    table = table_of("", "what each step brings", "drive", "heeling", right=(2, 3))
    for entry, step in steps:
        if step:
            table.add_row(places.get(entry.control, ""), *(Text(cell) for cell in step))
    others = table_of("", "why")
    for entry, step in steps:
        if not step:
            others.add_row(places.get(entry.control, ""), Text(_reason(entry, headsail)))
    return [*limits, *(it for it in (table, others) if it.row_count)]


def _reason(entry: Why, headsail: str) -> str:
    """Return a reason that begins with its rope, which a move does by itself."""
    rope, text = rope_word(entry.control, headsail).upper(), move_alone(entry.text)
    return text if text.startswith(rope) else f"{rope}: {text}"


def _chosen(answer: TrimAnswer) -> Parts:
    """Return what tufts in trouble mean where the search has put the sails."""
    if answer.status not in ("stalled", "luffing") or calls_in(answer.cautions):
        return []
    if not answer.method.hull.endswith("held"):
        return [plain(at_best(answer.sails).replace("the most drive", "the best speed"))]
    return [
        plain(
            f"{at_best(answer.sails)} Speed and heel are held for this: whether she would sail "
            "faster with them streaming shows only when her balance is computed, and it is not yet."
        )
    ]
