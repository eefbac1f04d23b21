"""Tables a sailor can read at 80 columns: what to set first, how it was reached last."""

from __future__ import annotations

from collections.abc import Iterable

from rich import box
from rich.console import RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from luffwright.app.answer import (
    Caution,
    FlyAnswer,
    SailReading,
    TrimAnswer,
    Why,
    Worth,
)
from luffwright.app.call import LIMIT_WORDS, calls_in
from luffwright.faces.words import (
    LEVELS,
    apparent_words,
    at_best,
    capital,
    gains,
    headsail_word,
    helm_words,
    inside_words,
    leech_words,
    minutes,
    missing_words,
    move_alone,
    outside_words,
    rope_word,
    sail_word,
    shares_key,
    shroud_word,
    side,
    status_words,
    wind_words,
)

Parts = list[RenderableType]
LEAST_KN = 0.05
"""What carries less is told as slack."""
BEYOND = " More drive would press her beyond that."


def fly_tables(answer: FlyAnswer) -> Parts:
    """Return the answer of `fly`, in the order in which one reads it on deck."""
    calls = _reef_calls(answer)
    return [*calls, _heading(answer), *_trouble(answer), _set_table(answer), *_reading(answer)]


def trim_tables(answer: TrimAnswer) -> Parts:
    """Return the answer of `trim`: the order of work, then what should be seen."""
    if answer.status == "failed":
        return [*_reef_calls(answer), _heading(answer), *_trouble(answer), *_reading(answer)]
    parts: Parts = [*_reef_calls(answer), *_leave(answer), _heading(answer)]
    parts += [*_work_table(answer), *_rest_table(answer), *_why(answer)]
    parts += [*_chosen(answer), *_reading(answer)]
    search = answer.search
    source = "from a stored table" if search.from_table else f"{search.seconds:.0f} s"
    return [*parts, _small(f"Searched {search.evaluations} settings ({source}).")]


def _reef_calls(answer: FlyAnswer) -> Parts:
    """Return the reef calls: they stand before any speed."""
    return [
        Padding(Text.assemble(_level(call), " ", (call.text, "bold")), (1, 0, 0, 1))
        for call in calls_in(answer.cautions)
    ]


def _leave(answer: TrimAnswer) -> Parts:
    """Return that nothing is to be done, where that is so."""
    if answer.leave_it is True:
        line = "LEAVE IT. All changes together would bring less than 1 % more drive."
    elif answer.leave_it:
        line = f"LEAVE IT. Look again: {answer.leave_it}"
    else:
        return []
    return [Padding(Text(line, "bold"), (1, 0, 0, 1))]


def boats_table(lines: Iterable[tuple[str, str, str, str]]) -> RenderableType:
    """Return the boats that come along: key, name, kind, note."""
    table = _table("ask for", "boat", "kind", "what she is")
    for line in lines:
        table.add_row(*(Text(entry) for entry in line))
    return table


def _heading(answer: FlyAnswer) -> Text:
    """Return the state in two lines: the wind, and what the boat does in it."""
    conditions, boat = answer.conditions, answer.boat
    band = boat.bands.get("speed_kn")
    about = f" (± {band:.1f})" if band else ""
    text = Text(f"\n{capital(side(conditions.angle_deg))} tack", "bold")
    text.append(f": true wind {wind_words(conditions)}, waves {conditions.wave_height_m:.1f} m\n")
    text.append(f"Apparent wind {apparent_words(conditions)}\n")
    held = "Held at" if answer.method.hull.endswith("held") else "Speed"
    text.append(f"{held} {boat.speed_kn:.1f} kn{about}, made good {_made_good(boat.vmg_kn)}, ")
    text.append(f"heel {boat.heel_deg:.0f}°, leeway {boat.leeway_deg:.0f}°")
    # That it is not computed stands at the end of all.
    text.append("\n" if boat.rudder_deg is None else f",\nhelm {helm_words(boat)}\n")
    return text


def _made_good(vmg_kn: float) -> str:
    return f"{abs(vmg_kn):.1f} kn {'downwind' if vmg_kn < 0 else 'to windward'}"


def _trouble(answer: FlyAnswer) -> Parts:
    """Return what keeps the sails from flying as they should, if anything does."""
    if answer.status == "failed":
        return [_strong(f"{status_words(answer.status).upper()}: {answer.reason}")]
    headsail = headsail_word(answer.sails)
    lines = []
    if answer.status != "converged":
        lines.append(f"{status_words(answer.status)}: {answer.reason}")
    lines += [
        f"{capital(sail_word(sail, headsail))}: {sail.reason}"
        for sail in answer.sails
        if sail.status != "converged" and sail.reason not in answer.reason
    ]
    return [_strong(line) for line in lines]


def _set_table(answer: FlyAnswer) -> Table:
    headsail = headsail_word(answer.sails)
    table = _table("set", "where it stands")
    for name, control in answer.controls.items():
        table.add_row(_rope(name, headsail), Text(control.mark))
    return table


def _work_table(answer: TrimAnswer) -> Parts:
    """Return the controls in the order in which to work, each with its worth where known."""
    if not answer.order:
        return []
    headsail = headsail_word(answer.sails)
    costs = {name: _cost(answer.worth.get(name)) for name in answer.order}
    known = any(costs.values())
    table = _table("", "set, in this order", "to", *(["one step off costs"] if known else []))
    for count, name in enumerate(answer.order, start=1):
        cost = [costs[name] or "not computed"] if known else []
        mark = Text(answer.controls[name].mark)
        table.add_row(str(count), _rope(name, headsail), mark, *cost)
    return [table]


def _rest_table(answer: TrimAnswer) -> Parts:
    """Return the controls that the order leaves out."""
    rest = [name for name in answer.controls if name not in answer.order]
    if not rest:
        return []
    headsail = headsail_word(answer.sails)
    table = _table("leave", "where it stands")
    for name in rest:
        table.add_row(_rope(name, headsail), Text(answer.controls[name].mark))
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
        _plain(f"{capital(entry.text)}.{'' if entry.control == 'table' else BEYOND}")
        for entry in answer.why
        if entry.control in LIMIT_WORDS
    ]
    told = [entry for entry in answer.why if entry.control not in LIMIT_WORDS]
    steps = [(entry, gains(entry.text)) for entry in told]
    table = _table("", "what each step brings", "drive", "heeling", right=(2, 3))
    for entry, step in steps:
        if step:
            table.add_row(places.get(entry.control, ""), *(Text(cell) for cell in step))
    others = _table("", "why")
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
        return [_plain(at_best(answer.sails).replace("the most drive", "the best speed"))]
    return [
        _plain(
            f"{at_best(answer.sails)} Speed and heel are held for this: whether she would sail "
            "faster with them streaming shows only when her balance is computed, and it is not yet."
        )
    ]


def _reading(answer: FlyAnswer) -> Parts:
    """Return what is seen, felt and carried, the cautions, and how it was reached.

    Of a state that did not settle, nothing is seen nor carried.
    """
    if answer.status == "failed":
        return [*_cautions(answer.cautions), *_method(answer)]
    headsail = headsail_word(answer.sails)
    parts: Parts = [_sail_table(sail, headsail) for sail in answer.sails]
    parts.append(_small(f"{shares_key(answer.sails)}Depth and where it is deepest: of the chord."))
    parts += [_loads(answer, headsail), *_stays(answer)]
    return [*parts, *_cautions(answer.cautions), *_method(answer)]


def _sail_table(sail: SailReading, headsail: str) -> Table:
    """Return a sail from the top down: what the tufts do, and the shape."""
    leech = any(level.leech is not None for level in sail.levels)
    name = capital(sail_word(sail, headsail))
    heads = [name, "inside tuft\n(windward)", "outside tuft\n(leeward)"]
    heads += ["leech\ntuft"] if leech else []
    shape = ["depth", "deepest\nat", "twist"]
    right = tuple(range(len(heads), len(heads) + len(shape)))
    table = _table(*heads, *shape, right=right)
    for level in sorted(sail.levels, key=lambda level: LEVELS.index(level.level)):
        states = [inside_words(level), outside_words(level)]
        states += [leech_words(level)] if leech else []
        table.add_row(
            level.level,
            *(_state(words) for words in states),
            f"{level.camber_pct:.0f} %",
            f"{level.draft_pct:.0f} %",
            f"{level.twist_deg:.0f}°",
        )
    return table


def _state(words: str) -> Text:
    return Text(words or "–", "bold" if words.startswith(("lifts", "stalls")) else "")


def _loads(answer: FlyAnswer, headsail: str) -> Table:
    table = _table("ropes", "load", "of its break", right=(1, 2))
    for name, load in answer.loads.items():
        share = "–"
        if load.breaking_pct is not None and load.load_kn >= LEAST_KN:
            share = f"{load.breaking_pct:.0f} %" if load.breaking_pct >= 1.0 else "under 1 %"
        table.add_row(_rope(name, headsail), _load(load.load_kn), share)
    return table


def _stays(answer: FlyAnswer) -> Parts:
    """Return the stays as one goes round the mast: forestay, backstay, pairs of shrouds."""
    stays = dict(answer.stays)
    if not stays:
        return []
    table = _table("stays", "load", "", right=(1,))
    for name in ("forestay", "backstay"):
        if name in stays:
            stay = stays.pop(name)
            sag = "" if stay.sag_pct is None else f"sag {stay.sag_pct:.1f} % of its length"
            table.add_row(Text(name.upper(), "bold"), _load(stay.load_kn), sag)
    pairs = [name.removesuffix("_windward") for name in stays if name.endswith("_windward")]
    for name in pairs:
        windward, leeward = (stays.pop(f"{name}_{it}", None) for it in ("windward", "leeward"))
        lee = f"to windward, {_load(leeward.load_kn)} to leeward" if leeward else "to windward"
        load = _load(windward.load_kn) if windward else ""
        table.add_row(Text(shroud_word(name).upper(), "bold"), load, lee)
    for name, stay in stays.items():
        table.add_row(Text(name.replace("_", " ").upper(), "bold"), _load(stay.load_kn), "")
    return [table]


def _load(load_kn: float) -> str:
    return f"{load_kn:.1f} kN" if load_kn >= LEAST_KN else "slack"


def _cautions(cautions: tuple[Caution, ...]) -> Parts:
    # Reef calls stand at the top.
    cautions = tuple(it for it in cautions if it not in calls_in(cautions))
    if not cautions:
        return []
    table = _table("mind", "")
    # Warnings first: they may be all that is read.
    for caution in sorted(cautions, key=lambda entry: entry.level != "warning"):
        table.add_row(_level(caution), Text(caution.text))
    return [table]


def _method(answer: FlyAnswer) -> Parts:
    """Return how it was reached; the methods by name are for `--json`."""
    method = answer.method
    how = f"How: cloth, ropes and air of all sails computed together; {method.hull}."
    parts: Parts = [_small(f"{how} --json names the methods.")]
    if method.flags:
        parts.append(_small(f"Assumed: {'; '.join(method.flags)}."))
    if method.not_computed:
        parts.append(_small(f"Not computed: {', '.join(missing_words(method.not_computed))}."))
    return parts


def _level(caution: Caution) -> Text:
    return Text("WARNING", "bold reverse") if caution.level == "warning" else Text("note")


def _rope(name: str, headsail: str) -> Text:
    return Text(rope_word(name, headsail).upper(), "bold")


def _strong(line: str) -> RenderableType:
    return Padding(Text(line, "bold"), (0, 0, 1, 1))


def _plain(line: str) -> RenderableType:
    return Padding(Text(line), (0, 0, 1, 1))


def _small(line: str) -> RenderableType:
    return Padding(Text(line, "dim"), (0, 0, 0, 1))


def _table(*heads: str, right: tuple[int, ...] = ()) -> Table:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, padding=(0, 1, 0, 0), highlight=False)
    for place, head in enumerate(heads):
        table.add_column(Text(head), justify="right" if place in right else "left")
    return table
