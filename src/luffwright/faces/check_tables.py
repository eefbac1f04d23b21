"""What `check` tells, at 80 columns: what to measure next stands last, where one goes on from."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from rich import box
from rich.console import RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from luffwright.aboard.mark_places import HANDS
from luffwright.app.answer import Caution
from luffwright.app.check import Checked, Next, band, number
from luffwright.app.check_values import Value
from luffwright.app.leads import Lead
from luffwright.app.plausible import Ratio
from luffwright.app.strength import Righting, Strength
from luffwright.faces.words import capital, rope_word, shroud_word

Parts = list[RenderableType]
NAMES = {
    "camber_pct": "depth",
    "draft_pct": "deepest at",
    "dock_kn": "pull at the dock",
    "forestay_dock_kn": "forestay's pull at the dock",
    "backstay_dock_kn": "backstay's pull at the dock",
    "bending_nm2": "stiffness",
    "bending_fore_aft_knm2": "stiffness fore and aft",
    "bending_sideways_knm2": "stiffness sideways",
    "lead_front_aft_m": "track's front end behind the mast",
    "lead_front_out_m": "track's front end from the middle line",
    "lead_aft_aft_m": "track's aft end behind the mast",
    "lead_aft_out_m": "track's aft end from the middle line",
    "righting_heel_deg": "heels of the curve",
    "righting_lever_m": "righting levers",
}
"""Keys that one says in other words."""
ENDS = ("_g_per_m2", "_knm2", "_nm2", "_kn", "_kg", "_deg", "_pct", "_mm", "_years", "_m", "_n")


def check_tables(checked: Checked) -> Parts:
    """Return what is known of a boat, from the surest to what is to be done."""
    return [
        _heading(checked),
        *_given(checked.values),
        *_estimated(checked.values),
        *_ratios(checked.ratios),
        *_righting(checked.righting),
        *_lead(checked.lead),
        _strength_table(checked),
        _small(
            f"In 20 kn over the deck the headsail's sheet carries about "
            f"{checked.sheet_load_kn:.1f} kN (a deck-hardware maker's formula)."
        ),
        *_places(checked),
        *_findings(checked.findings),
        *_next(checked),
    ]


def _heading(checked: Checked) -> Text:
    used = [it for it in checked.values if not isinstance(it.value, bool | str)]
    given = sum(it.given for it in used)
    kind = "two hulls" if checked.kind == "catamaran" else "one hull"
    text = Text(f"\n{checked.boat}", "bold")
    text.append(f": {kind}, {checked.sail_area_m2:.0f} m² of sail; the file can be used.\n")
    text.append(f"{given} measurements are given, {len(used) - given} are estimated.\n")
    return text


def name_of(key: str) -> str:
    """Return a key as one says it, without the table it stands in and without its unit.

    Examples
    --------
    >>> name_of("sails.headsail.luff_perpendicular_m"), name_of("stays.shrouds.2.wire_mm")
    ('luff perpendicular', 'wire')
    >>> name_of("hull, prismatic coefficient")
    'prismatic coefficient'
    """
    last = key.rsplit(", ", maxsplit=1)[-1].rsplit(".", maxsplit=1)[-1]
    if last in NAMES:
        return NAMES[last]
    for end in ENDS:
        last = last.removesuffix(end)
    words = last.replace("_", " ")
    return words.upper() if len(words) == 1 else words


def told(value: Value) -> str:
    """Return a value with its unit, as the file has it."""
    match value.value:
        case bool():
            return "yes" if value.value else "no"
        case tuple():
            text = ", ".join(f"{it:g}" for it in value.value)
        case float() | int():
            text = f"{value.value:g}"
        case _:
            text = str(value.value).replace("_", " ")
    unit = "year" if value.unit == "years" and value.value == 1 else value.unit
    return f"{text}{'' if unit in ('', '°') else ' '}{unit}"


def group_of(key: str) -> str:
    """Return the table of the file that a key stands in, as one says it.

    Examples
    --------
    >>> group_of("deck.headsail.sheet_mm"), group_of("stays.shrouds.2.wire_mm")
    ('deck, headsail', 'stays, shrouds')
    """
    parts = key.split(", ", maxsplit=1)[0].split(".")
    tables = parts[: max(len(parts) - 1, 1)]
    return ", ".join(it for it in tables if not it.isdigit())


def _grouped(values: Iterable[Value]) -> dict[str, list[Value]]:
    groups: dict[str, list[Value]] = {}
    for it in values:
        groups.setdefault(group_of(it.key), []).append(it)
    return groups


def listed(values: Sequence[Value]) -> str:
    """Return values in a line, those of a list (shrouds, battens) in a line for each."""
    lines: dict[str, list[str]] = {}
    for it in values:
        item = ".".join(part for part in it.key.split(".") if part.isdigit())
        said = told(it) if name_of(it.key) == "name" else f"{name_of(it.key)} {told(it)}"
        lines.setdefault(item, []).append(said)
    return "\n".join(", ".join(line) if item else "; ".join(line) for item, line in lines.items())


def _given(values: tuple[Value, ...]) -> Parts:
    """Return what the sailor gave, a line for each table of the file."""
    table = _table("given", "")
    for group, inside in _grouped(it for it in values if it.given).items():
        table.add_row(Text(group, "bold"), Text(listed(inside)))
    return [table]


def _estimated(values: tuple[Value, ...]) -> Parts:
    """Return what was estimated, how and on whose word; what shares a reason stands together."""
    lacking = [it for it in values if not it.given]
    if not lacking:
        return []
    sources = list(dict.fromkeys(it.source for it in lacking))
    table = _table("estimated", "how", "by")
    table.columns[0].ratio, table.columns[1].ratio = 5, 4
    for group, inside in _grouped(lacking).items():
        table.add_row(Text(group, "bold"))
        for (how, source), some in groupby(inside, key=lambda it: (it.how, it.source)):
            by = str(sources.index(source) + 1)
            table.add_row(Padding(Text(listed(list(some))), (0, 0, 0, 2)), Text(how), by)
    keys = "; ".join(f"{place}: {source}" for place, source in enumerate(sources, start=1))
    return [table, _small(f"{keys}.")]


def _ratios(ratios: tuple[Ratio, ...]) -> Parts:
    """Return the proportions, each beside what is usual and who says so."""
    table = _table("does it fit?", "hers", "usual", "", "by", right=(1,))
    sources = list(dict.fromkeys(it.source for it in ratios))
    for it in ratios:
        state = Text("inside") if it.inside else Text("OUTSIDE", "bold")
        place = chr(ord("a") + sources.index(it.source))
        table.add_row(Text(capital(it.name)), Text(number(it)), Text(band(it)), state, place)
    keys = "; ".join(f"{chr(ord('a') + n)}: {it}" for n, it in enumerate(sources))
    return [table, _small(f"{keys}.")]


def _righting(righting: Righting) -> Parts:
    table = _table("what stands her up", "righting moment", right=(1,))
    for it in righting.moments:
        table.add_row(f"at {it.heel_deg:.0f}° of heel", _moment(it.moment_knm))
    most = righting.greatest
    table.add_row(f"the greatest, at {most.heel_deg:.0f}°", _moment(most.moment_knm))
    parts: Parts = [table, _small(f"From {_from(righting.basis)}.")]
    if righting.lift_wind_kn is not None and righting.working_wind_kn is not None:
        parts.append(
            _plain(
                f"All sail set, {righting.lift_wind_kn:.0f} kn over the deck would lift the "
                f"windward hull; carry it to {righting.working_wind_kn:.0f} kn in the gusts at the "
                "most, and the maker's reefing table stands above that."
            )
        )
    return parts


def _moment(moment_knm: float) -> str:
    return f"{moment_knm:.{2 if moment_knm < 1.0 else 1}f} kN m"


def _from(basis: str) -> str:
    return basis.removeprefix("from ")


def _lead(lead: Lead) -> Parts:
    """Return where the headsail's lead is neutral, or where the holes of its board aim."""
    if len(lead.holes) > 1:
        aims = ", ".join(
            f"hole {place} at {100.0 * share:.0f} %"
            for place, share in enumerate(lead.holes, start=1)
        )
        text = (
            "Where the sheet's line meets the luff, from the tack up, for each hole of the clew "
            f"board counted from the bottom: {aims}. 40 % is neutral."
        )
    elif not lead.mark:
        text = f"The lead is fixed; its sheet's line meets the luff at {100 * lead.share:.0f} %."
    else:
        away = f"{long(lead.aft_of_mast_m)} behind the mast's front"
        text = (
            "Neutral lead, where the sheet's line through the clew meets the luff at 40 % from the "
            f"tack: {away}; {lead.mark}."
        )
    if lead.assumed:
        names = ", ".join(name_of(key) for key in lead.assumed)
        text += f" Rests on estimates: {names}."
    return [_plain(text)]


def _places(checked: Checked) -> Parts:
    """Return where the marks belong that answers count from."""
    if not checked.mark_places:
        return []
    table = _table("mark", f"what it is counted from. {HANDS}")
    for it in checked.mark_places:
        table.add_row(Text(it.rope.upper(), "bold"), Text(it.zero))
    return [table]


def long(length: float) -> str:
    """Return a length as a tape shows it.

    Parameters
    ----------
    length : float
        [m]

    Examples
    --------
    >>> long(1.447), long(0.3)
    ('1 m 45 cm', '30 cm')
    """
    metres, rest = divmod(round(100.0 * abs(length)), 100)
    return " ".join([*([f"{metres} m"] if metres else []), *([f"{rest} cm"] if rest else [])])


def _strength_table(checked: Checked) -> Table:
    headsail = _headsail(checked.values)
    table = _table("wires and ropes", "", "breaks at", "a quarter", "", right=(1, 2, 3))
    for it in checked.strengths:
        table.add_row(
            Text(_line_word(it, headsail).upper(), "bold"), f"{it.diameter_mm:g} mm",
            f"{it.breaking_kn:.0f} kN", f"{it.quarter_kn:.1f} kN",
            "" if it.given else "size estimated",
        )  # fmt: skip
    return table


def _headsail(values: tuple[Value, ...]) -> str:
    passes = next(it for it in values if it.key == "deck.headsail.passes_shrouds")
    return "genoa" if passes.value else "jib"


def _line_word(it: Strength, headsail: str) -> str:
    ropes = ("sheet", "halyard", "mainsheet", "main_halyard", "forestay", "backstay")
    return rope_word(it.name, headsail) if it.name in ropes else shroud_word(it.name)


def _findings(findings: tuple[Caution, ...]) -> Parts:
    if not findings:
        return []
    table = _table("mind", "")
    for it in sorted(findings, key=lambda entry: entry.level != "warning"):
        level = Text("WARNING", "bold reverse") if it.level == "warning" else Text("note")
        table.add_row(level, Text(it.text))
    return [table]


def _next(checked: Checked) -> Parts:
    """Return what to measure next and how: what gives marks first."""
    if not checked.measure_next:
        return [_plain("Nothing is left to measure: every control has its marks.")]
    headsail = _headsail(checked.values)
    marks = [it for it in checked.measure_next if it.control]
    shape = [it for it in checked.measure_next if not it.control]
    parts: Parts = []
    if marks:
        ropes = dict.fromkeys(rope_word(it.control, headsail) for it in marks)
        parts.append(
            _plain(
                f"Not marked yet: {', '.join(ropes)}. Until these are measured, answers say so "
                "instead of naming holes and hands of rope."
            )
        )
        parts.append(_measures("measure next, for marks", marks))
    if shape:
        parts.append(_measures("then, for shape and speed", shape))
    return parts


def _measures(title: str, measures: Sequence[Next]) -> Table:
    table = _table("", title, "how")
    for place, it in enumerate(measures, start=1):
        what = Text(capital(it.what))
        table_name, key = it.key.rsplit(".", maxsplit=1)
        what.append(f"\n{key} in [{table_name}]", "dim")
        table.add_row(str(place), what, Text(it.how))
    return table


def _small(line: str) -> RenderableType:
    return Padding(Text(line, "dim"), (0, 0, 0, 1))


def _plain(line: str) -> RenderableType:
    return Padding(Text(line), (1, 0, 0, 1))


def _table(*heads: str, right: tuple[int, ...] = ()) -> Table:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, padding=(0, 1, 0, 0), highlight=False)
    for place, head in enumerate(heads):
        table.add_column(Text(head), justify="right" if place in right else "left")
    return table
