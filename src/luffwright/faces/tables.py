"""Tables a sailor can read at 80 columns: what to set first, how it was reached last."""

from __future__ import annotations

from collections.abc import Iterable

from rich import box
from rich.console import RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from luffwright.aboard.mark_places import HANDS
from luffwright.app.answer import (
    Caution,
    FlyAnswer,
    SailReading,
)
from luffwright.app.call import calls_in
from luffwright.faces.words import (
    FOLDED,
    LEAST_KN,
    LEVELS,
    apparent_words,
    capital,
    degrees,
    depth_words,
    headsail_word,
    helm_words,
    inside_words,
    leech_words,
    mark_words,
    missing_words,
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


def fly_tables(answer: FlyAnswer) -> Parts:
    """Return the answer of `fly`, in the order in which one reads it on deck."""
    calls = reef_calls(answer)
    return [*calls, heading(answer), *trouble(answer), _set_table(answer), *reading(answer)]


def reef_calls(answer: FlyAnswer) -> Parts:
    """Return the reef calls: they stand before any speed."""
    return [
        Padding(Text.assemble(_level(call), " ", (call.text, "bold")), (1, 0, 0, 1))
        for call in calls_in(answer.cautions)
    ]


def boats_table(lines: Iterable[tuple[str, str, str, str]]) -> RenderableType:
    """Return the boats that come along: key, name, kind, note."""
    table = table_of("ask for", "boat", "kind", "what she is")
    for line in lines:
        table.add_row(*(Text(entry) for entry in line))
    return table


def heading(answer: FlyAnswer) -> Text:
    """Return the state in two lines: the wind, and what the boat does in it."""
    conditions, boat = answer.conditions, answer.boat
    band = boat.bands.get("speed_kn")
    about = f" (± {band:.1f})" if band else ""
    text = Text(f"\n{capital(side(conditions.angle_deg))} tack", "bold")
    text.append(f": true wind {wind_words(conditions)}, waves {conditions.wave_height_m:.1f} m\n")
    text.append(f"Apparent wind {apparent_words(conditions)}\n")
    held = "Held at" if answer.method.hull.endswith("held") else "Speed"
    text.append(f"{held} {boat.speed_kn:.1f} kn{about}, made good {_made_good(boat.vmg_kn)}, ")
    text.append(f"heel {degrees(boat.heel_deg)}, leeway {degrees(boat.leeway_deg)}")
    # That it is not computed stands at the end of all.
    text.append("\n" if boat.rudder_deg is None else f",\nhelm {helm_words(boat)}\n")
    return text


def _made_good(vmg_kn: float) -> str:
    return f"{abs(vmg_kn):.1f} kn {'downwind' if vmg_kn < 0 else 'to windward'}"


def trouble(answer: FlyAnswer) -> Parts:
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


MARKS = f"{HANDS} Where each mark belongs: luffwright check BOAT."


def _set_table(answer: FlyAnswer) -> Table:
    headsail = headsail_word(answer.sails)
    table = table_of("set", "where it stands")
    for name in answer.controls:
        table.add_row(rope(name, headsail), Text(mark_words(answer, name)))
    return table


def reading(answer: FlyAnswer) -> Parts:
    """Return what is seen, felt and carried, the cautions, and how it was reached.

    Of a state that did not settle, nothing is seen nor carried.
    """
    if answer.status == "failed":
        return [*_cautions(answer.cautions), *_method(answer)]
    headsail = headsail_word(answer.sails)
    parts: Parts = [_sail_table(sail, headsail) for sail in answer.sails]
    parts.append(small(f"{shares_key(answer.sails)}Depth and where it is deepest: of the chord."))
    parts.append(small(MARKS))
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
    table = table_of(*heads, *shape, right=right)
    for level in sorted(sail.levels, key=lambda level: LEVELS.index(level.level)):
        states = [inside_words(level), outside_words(level)]
        states += [leech_words(level)] if leech else []
        table.add_row(
            level.level,
            *(_state(words) for words in states),
            depth_words(level.camber_pct),
            f"{level.draft_pct:.0f} %" if level.camber_pct <= FOLDED else "–",
            f"{level.twist_deg:.0f}°",
        )
    return table


def _state(words: str) -> Text:
    return Text(words or "–", "bold" if words.startswith(("lifts", "stalls")) else "")


def _loads(answer: FlyAnswer, headsail: str) -> Table:
    table = table_of("ropes", "load", "of its break", right=(1, 2))
    for name, load in answer.loads.items():
        share = "–"
        if load.breaking_pct is not None and load.load_kn >= LEAST_KN:
            share = f"{load.breaking_pct:.0f} %" if load.breaking_pct >= 1.0 else "under 1 %"
        table.add_row(rope(name, headsail), _load(load.load_kn), share)
    return table


def _stays(answer: FlyAnswer) -> Parts:
    """Return the stays as one goes round the mast: forestay, backstay, pairs of shrouds."""
    stays = dict(answer.stays)
    if not stays:
        return []
    table = table_of("stays", "load", "", right=(1,))
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
    table = table_of("mind", "")
    # Warnings first: they may be all that is read.
    for caution in sorted(cautions, key=lambda entry: entry.level != "warning"):
        table.add_row(_level(caution), Text(caution.text))
    return [table]


def _method(answer: FlyAnswer) -> Parts:
    """Return how it was reached; the methods by name are for `--json`."""
    method = answer.method
    how = f"How: cloth, ropes and air of all sails computed together; {method.hull}."
    parts: Parts = [small(f"{how} --json names the methods.")]
    if method.flags:
        parts.append(small(f"Assumed: {'; '.join(method.flags)}."))
    if method.not_computed:
        parts.append(small(f"Not computed: {', '.join(missing_words(method.not_computed))}."))
    return parts


def _level(caution: Caution) -> Text:
    return Text("WARNING", "bold reverse") if caution.level == "warning" else Text("note")


def rope(name: str, headsail: str) -> Text:
    """Return a rope by its name on deck, in capitals."""
    return Text(rope_word(name, headsail).upper(), "bold")


def _strong(line: str) -> RenderableType:
    return Padding(Text(line, "bold"), (0, 0, 1, 1))


def plain(line: str) -> RenderableType:
    """Return a line as it is."""
    return Padding(Text(line), (0, 0, 1, 1))


def small(line: str) -> RenderableType:
    """Return a line of small print."""
    return Padding(Text(line, "dim"), (0, 0, 0, 1))


def table_of(*heads: str, right: tuple[int, ...] = ()) -> Table:
    """Return an empty table; `right` numbers the columns set to the right."""
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, padding=(0, 1, 0, 0), highlight=False)
    for place, head in enumerate(heads):
        table.add_column(Text(head), justify="right" if place in right else "left")
    return table
