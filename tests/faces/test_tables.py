"""The tables: deck words, at most 80 columns, what to set first."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from rich.console import Console, RenderableType

from luffwright.app.answer import (
    FlyAnswer,
    LoadReading,
    StayReading,
    TrimAnswer,
    Why,
    Worth,
)
from luffwright.faces.tables import boats_table, fly_tables
from luffwright.faces.trim_tables import trim_tables

# Words of the method that mean nothing on deck.
FOREIGN = re.compile(r"vortex|lattice|membrane|residual|\ba0\b|camber|None|nan", re.IGNORECASE)


def shown(*parts: RenderableType) -> str:
    """Return what stands on a screen of 80 columns."""
    console = Console(width=80, color_system=None)
    with console.capture() as capture:
        console.print(*parts, sep="\n")
    return capture.get()


def test_marks_come_before_anything_that_is_only_looked_at(flown: FlyAnswer) -> None:
    text = shown(*fly_tables(flown))
    order = ["GENOA CAR", "inside tuft", "FORESTAY", "WARNING", "How:"]
    places = [text.index(word) for word in order]
    assert places == sorted(places)
    assert "hole 7 from forward" in text


def test_positions_are_told_as_marks_and_never_in_metres_with_decimals(
    flown: FlyAnswer, trimmed: TrimAnswer
) -> None:
    for text in (shown(*fly_tables(flown)), shown(*trim_tables(trimmed))):
        # Waves are the one length in metres.
        assert re.findall(r"\d+\.\d+ m\b", text) == ["0.5 m"]
        assert not re.search(r"[-−+]\d|[a-z]_[a-z]", text)
        assert not FOREIGN.search(text)


def test_no_line_is_broken_or_longer_than_the_screen(flown: FlyAnswer, trimmed: TrimAnswer) -> None:
    for text in (shown(*fly_tables(flown)), shown(*trim_tables(trimmed))):
        assert max(len(line) for line in text.splitlines()) <= 80
        assert "streams 80 %" in text


def test_tufts_are_told_from_the_top_down_with_their_share_of_the_time(flown: FlyAnswer) -> None:
    rows = [line.split() for line in shown(*fly_tables(flown)).splitlines()]
    genoa = [row for row in rows if row and row[0] in ("top", "middle", "low")][:3]
    assert [row[0] for row in genoa] == ["top", "middle", "low"]
    assert genoa[0][1:4] == ["lifts", "70", "%"]
    # What lifts for 12 % of the time streams for the rest of it.
    assert genoa[1][1:4] == ["streams", "90", "%"]


def test_the_order_of_work_stands_first_and_tells_what_each_is_worth(trimmed: TrimAnswer) -> None:
    lines = shown(*trim_tables(trimmed)).splitlines()
    work = [line.split() for line in lines if re.match(r" *[123] ", line)][:3]
    assert [row[1] for row in work] == ["BACKSTAY", "GENOA", "GENOA"]
    assert "1½ min an hour" in " ".join(work[0])
    assert "not computed" in " ".join(work[2])


def test_a_worth_that_is_not_computed_is_not_told_as_small(trimmed: TrimAnswer) -> None:
    bare = {name: Worth(it.step, it.unit, None, None, None) for name, it in trimmed.worth.items()}
    text = shown(*trim_tables(replace(trimmed, worth=bare)))
    assert "costs" not in text
    assert "min an hour" not in text


def test_a_step_is_numbered_as_in_the_order_and_its_gains_are_told_without_signs(
    trimmed: TrimAnswer,
) -> None:
    move = "GENOA CAR 2 holes aft (hole 5 from forward → hole 7 from forward)"
    told = ("drive +1.2 %, heeling moment -0.4 %", "drive -0.0 %, heeling moment +0.0 %")
    why = (Why("lead", f"{move}: {told[0]}"), Why("sheet", f"GENOA SHEET 1 hand ease: {told[1]}"))
    text = shown(*trim_tables(replace(trimmed, why=why)))
    assert re.search(r" 2  GENOA CAR 2 holes aft +1.2 % more +0.4 % less", text)
    assert re.search(r" 3  GENOA SHEET 1 hand ease +the same +the same", text)
    assert "→" not in text


def test_a_reason_without_figures_keeps_its_words_and_names_its_rope_once(
    trimmed: TrimAnswer,
) -> None:
    lost = "GENOA CAR 1 hole aft (5 → 6): the sails do not settle on the way"
    why = (Why("lead", lost), Why("sheet", "closes it"))
    text = shown(*trim_tables(replace(trimmed, why=why)))
    assert " 2  GENOA CAR 1 hole aft: the sails do not settle on the way" in text
    assert " 3  GENOA SHEET: closes it" in text


def test_what_limits_the_boat_stands_above_what_each_step_brings(trimmed: TrimAnswer) -> None:
    limit = Why("heel", "heeling moment at its limit: what she bears at 20° heel")
    text = shown(*trim_tables(replace(trimmed, why=(limit, *trimmed.why))))
    assert "Heeling moment at its limit: what she bears at 20° heel." in text
    assert "HEEL:" not in text
    assert text.index("Heeling moment at its limit") < text.index("opens the top")


def test_stalled_tufts_at_the_best_setting_are_a_note_and_no_alarm(trimmed: TrimAnswer) -> None:
    odd = replace(trimmed, status="stalled", reason="genoa stalled to leeward low down")
    text = " ".join(shown(*trim_tables(odd)).split())
    assert "Stalled" not in text
    # The fixture's genoa stalls outside low down and lifts inside at the top.
    assert (
        "At the most drive outside tufts stall (genoa low), inside tufts lift (genoa top)" in text
    )
    assert "Speed and heel are held" in text
    assert text.index("set, in this order") < text.index("At the most drive")


def test_stays_are_told_forestay_first_and_shrouds_in_pairs(flown: FlyAnswer) -> None:
    stays = {
        "aft_lower_leeward": StayReading(2.5), "aft_lower_windward": StayReading(4.4),
        "cap_shroud_leeward": StayReading(0.01), "cap_shroud_windward": StayReading(7.9),
        "backstay": StayReading(12.2), "forestay": StayReading(13.1, 1.2),
    }  # fmt: skip
    text = shown(*fly_tables(replace(flown, stays=stays)))
    lines = [" ".join(line.split()) for line in text.splitlines()]
    told = [
        "FORESTAY 13.1 kN sag 1.2 % of its length",
        "BACKSTAY 12.2 kN",
        "AFT LOWER SHROUD 4.4 kN to windward, 2.5 kN to leeward",
        "CAP SHROUD 7.9 kN to windward, slack to leeward",
    ]
    first = lines.index(told[0])
    assert lines[first : first + 4] == told


@pytest.mark.parametrize("of_trim", [False, True])
def test_of_a_state_that_did_not_settle_no_tuft_load_or_order_is_told(
    flown: FlyAnswer, trimmed: TrimAnswer, of_trim: bool
) -> None:
    lost = replace(trimmed if of_trim else flown, status="failed", reason="the sails flog")
    text = shown(*(trim_tables(lost) if isinstance(lost, TrimAnswer) else fly_tables(lost)))
    assert "NOT SETTLED: the sails flog" in text
    assert not re.search("tuft|kN|in this order", text)
    assert "WARNING" in text


def test_what_is_not_computed_is_named_in_deck_words(flown: FlyAnswer) -> None:
    missing = ("boat.rudder_deg", "sails.levels.leech_stalled_pct")
    method = replace(flown.method, not_computed=missing)
    text = " ".join(shown(*fly_tables(replace(flown, method=method))).split())
    assert "Not computed: the helm, for which share of the time a tuft" in text


def test_a_rope_that_carries_nothing_is_slack(flown: FlyAnswer) -> None:
    text = shown(*fly_tables(replace(flown, loads={"vang": LoadReading(0.01, 0.2)})))
    assert re.search(r"VANG +slack +–", text)


@pytest.mark.parametrize(
    ("advice", "said"), [(True, "LEAVE IT."), ("at 15 kn true", "Look again: at 15 kn true")]
)
def test_leaving_it_alone_is_said_before_anything(
    trimmed: TrimAnswer, advice: bool | str, said: str
) -> None:
    text = shown(*trim_tables(replace(trimmed, leave_it=advice)))
    assert said in text.strip().splitlines()[0]


def test_more_drive_passes_a_heel_but_no_load_that_the_crew_itself_pulls(
    trimmed: TrimAnswer,
) -> None:
    heel = Why("heel", "heel at its limit of 25°")
    taut = Why("taut", "load of the backstay near its limit: 32 % of what breaks it")
    more = "More drive would press her beyond that."
    assert more in " ".join(shown(*trim_tables(replace(trimmed, why=(heel,)))).split())
    assert more not in " ".join(shown(*trim_tables(replace(trimmed, why=(taut,)))).split())


def test_what_did_not_settle_is_said_before_any_control(flown: FlyAnswer) -> None:
    text = shown(*fly_tables(replace(flown, status="failed", reason="the residual stays")))
    assert text.index("NOT SETTLED: the residual stays") < text.index("GENOA SHEET")


def test_one_sail_in_trouble_is_told_once(flown: FlyAnswer) -> None:
    genoa = replace(flown.sails[0], status="luffing", reason="luffs at the top")
    main = replace(flown.sails[1], status="stalled", reason="stalled low down")
    odd = replace(flown, status="luffing", reason="genoa luffs at the top", sails=(genoa, main))
    text = shown(*fly_tables(odd))
    assert text.count("luffs at the top") == 1
    assert "Luffing: genoa luffs at the top" in text
    assert "Mainsail: stalled low down" in text


def test_a_jib_is_not_called_a_genoa(flown: FlyAnswer) -> None:
    jib = replace(flown.sails[0], name="jib")
    text = shown(*fly_tables(replace(flown, sails=(jib, flown.sails[1]))))
    assert "JIB CAR" in text
    assert "genoa" not in text.lower()


def test_warnings_stand_above_notes_and_their_brackets_stay(flown: FlyAnswer) -> None:
    text = shown(*fly_tables(flown))
    assert text.index("WARNING") < text.index("note ")
    assert "[the maker's figures stand above them]" in text


def test_boats_are_listed_with_the_word_to_ask_for() -> None:
    text = shown(boats_table([("marram", "Marram", "monohull", "sloop [old]")]))
    assert "marram" in text
    assert "sloop [old]" in text
