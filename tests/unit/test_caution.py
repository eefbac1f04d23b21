"""What to mind: the reef call before all else, and every caution where it belongs."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from luffwright.aboard.boat import load_boat
from luffwright.app import question as module
from luffwright.app.answer import Caution
from luffwright.app.call import CALL, calls_in
from luffwright.app.caution import NOTES, Seen, cautions
from luffwright.app.question import Question, question
from luffwright.app.reef import canvas_of, reefed, table_call, winds_met
from luffwright.app.reef_words import load_word
from luffwright.app.request import Request
from luffwright.errors import InputError, UnsailableError
from luffwright.sails.sheet_mark import mark_setting, sheet_path
from luffwright.units import to_knots
from luffwright.water.reef_table import Canvas

MARRAM = Path(load_boat.__code__.co_filename).parent / "demo" / "marram.toml"
MAKER = '\n[reefing]\nwind = "true"\nsteps = [{ up_to_kn = 15, reefs = 0 }, '
MAKER += "{ up_to_kn = 22, reefs = 1 }, { up_to_kn = 28, reefs = 2, headsail_area_pct = 60 }]\n"


@cache
def asks(**fields: object) -> Question:
    """Return what is asked, the sheet marked by geometry alone."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "sheet_zero", lambda plan, *_: sheet_path(plan, mark_setting(plan)))
        return question(Request.model_validate(fields))


def seen(asked: Question, **more: object) -> Seen:
    """Return a state that gives no cause for any caution, but for what is said."""
    rest = Seen(asked.setting, abs(asked.stream.wind_angle) * 57.29578, 10.0, 2.0, {})
    return replace(rest, **more)  # type: ignore[arg-type]


def told(asked: Question, level: str = "warning", /, **more: object) -> list[str]:
    return [it.text for it in cautions(asked, seen(asked, **more)) if it.level == level]


CALM = asks(boat="marram", wind_kn=10.0, angle_deg=46.0)
EIDER = asks(boat="eider", wind_kn=10.0, angle_deg=50.0)


def test_a_quiet_state_has_notes_only() -> None:
    assert told(CALM) == []
    assert told(CALM, "note") == list(NOTES)


def test_what_the_settings_are_whose_word_counts_and_how_a_car_is_moved_is_always_said() -> None:
    text = " ".join(told(EIDER, "note"))
    for words in ("Starting settings", "lower of her manual", "rigger", "Unload a sheet before"):
        assert words in text


@pytest.mark.parametrize(
    ("share", "warned"), [(24.9, False), (25.5, False), (26.0, True), (60.0, True)]
)
def test_a_rope_that_carries_over_a_quarter_of_its_strength_is_named(
    share: float, warned: bool
) -> None:
    two = told(EIDER, loads={"main_halyard": share})
    assert (f"The main halyard carries {share:.0f} %" in " ".join(two)) is warned


@pytest.mark.parametrize(
    ("share", "warned"), [(26.0, False), (33.9, False), (35.0, True), (60.0, True)]
)
def test_a_stay_that_carries_over_a_third_of_its_strength_under_sail_calls_a_reef(
    share: float, warned: bool
) -> None:
    one = told(CALM, loads={"cap_shroud_windward": share})
    assert bool(one) is warned
    assert all("windward cap shroud" in text and text.startswith(CALL) for text in one)


def test_a_stay_that_carries_more_than_is_right_at_rest_is_named_with_what_it_asks_for() -> None:
    assert told(CALM, "note", loads={"forestay": 24.0}) == list(NOTES)
    [taut, *_] = told(CALM, "note", loads={"forestay": 27.0, "mainsheet": 20.0})
    assert taut.startswith("Of what breaks them carry the forestay 27 %, under sail")
    for words in ("sound wire", "at rest a quarter", "rigger", "Ease the backstay in the harbour"):
        assert words in taut
    other = " ".join(told(EIDER, "note", loads={"forestay": 27.0}))
    assert "the forestay 27 %, under sail" in other
    assert "backstay" not in other


def test_what_a_backstay_pulls_taut_is_eased_there_before_sail_is_taken_in() -> None:
    loads = {"forestay": 38.0, "backstay": 47.0}
    [taut] = told(CALM, loads=loads)
    assert taut.startswith("Of what breaks them carry the backstay 47 % and the forestay 38 %")
    assert "ease the backstay" in taut
    [slack] = told(CALM, loads=loads, setting=CALM.setting.changed(backstay=0.0))
    assert slack.startswith(f"{CALL}take reef 1 first")
    # One thing comes first: where a reef is called, the reef.
    heeled = told(CALM, loads=loads, heel_deg=40.0)
    assert heeled[0].startswith(CALL)
    assert "reef, and ease the backstay" in heeled[1]
    assert not any("before anything else" in it for it in heeled)


@pytest.mark.parametrize(
    ("state", "words"),
    [
        ({"heel_deg": 28.0}, "she heels 28°, more than 25°"),
        ({"rudder_deg": 7.0}, "7.0° of weather helm, more than 5°"),
        ({"loads": {"mainsheet": 31.0}}, "the mainsheet carries 31 % of what breaks it"),
    ],
)
def test_one_hull_is_called_by_heel_helm_and_load(state: dict[str, object], words: str) -> None:
    [text] = told(CALM, **state)
    assert text.startswith(f"{CALL}take reef 1 first: ")
    assert words in text


def test_lee_helm_and_a_heel_that_is_only_guessed_call_no_reef() -> None:
    assert told(CALM, rudder_deg=-8.0) == []
    assert told(CALM, heel_deg=None, rudder_deg=None) == []


def test_one_hull_with_all_reefs_in_rolls_and_then_changes_sails() -> None:
    two = CALM.setting.changed(reef=2.0)
    assert "roll some of the genoa" in told(CALM, heel_deg=30.0, setting=two)[0]
    least = two.changed(furl=0.6)
    assert "smaller sails" in told(CALM, heel_deg=30.0, setting=least)[0]


def test_two_hulls_are_called_by_the_wind_and_told_which_reef() -> None:
    [text] = told(asks(boat="eider", wind_kn=17.0, angle_deg=50.0), heel_deg=0.1)
    assert text.startswith(f"{CALL}take reef 1 first. Close-hauled she meets 24 kn")
    assert "full sail is for 21 kn at most (the maker's table)" in text


def test_the_gust_counts_and_not_the_mean() -> None:
    steady = asks(boat="eider", wind_kn=13.0, angle_deg=50.0)
    gusts = asks(boat="eider", wind_kn=13.0, angle_deg=50.0, gust_kn=18.0)
    assert told(steady) == []
    [text] = told(gusts)
    assert "gusts counted" in text


def test_off_the_wind_she_is_reefed_for_rounding_up() -> None:
    away = asks(boat="eider", wind_kn=18.0, angle_deg=140.0)
    wind, felt = winds_met(away)
    assert felt < 0.6 * wind
    [text] = told(away)
    assert f"feels like {to_knots(felt):.0f} kn, but she must be able to round up" in text


def test_an_apparent_wind_upwind_is_taken_as_it_is_read() -> None:
    read = asks(boat="eider", apparent_wind_kn=20.5, apparent_angle_deg=35.0)
    assert to_knots(winds_met(read)[0]) == pytest.approx(20.5, abs=0.1)
    assert told(read) == []
    more = asks(boat="eider", apparent_wind_kn=21.6, apparent_angle_deg=35.0)
    assert told(more)[0].startswith(CALL)


def test_a_rough_sea_takes_the_reef_a_tenth_earlier() -> None:
    fields = {"boat": "eider", "wind_kn": 13.6, "angle_deg": 50.0}
    assert told(asks(**fields)) == []
    assert told(asks(**fields, sea="rough"))[0].startswith(f"{CALL}take reef 1")


def test_more_wind_than_the_least_sail_holds_is_a_matter_for_storm_sails() -> None:
    text, gale = told(asks(boat="eider", wind_kn=40.0, angle_deg=50.0))
    assert gale.startswith("Gale")
    assert text.startswith(f"{CALL}no sail that she can set is small enough")
    assert "manual" in text


def test_the_next_reef_is_told_before_it_is_due_and_heel_is_disowned_on_two_hulls() -> None:
    text = told(EIDER, "note")[0]
    assert text.startswith("The first reef comes in at 21 kn of apparent wind")
    assert "heel is no sign" in text
    assert not any("reef comes in" in it for it in told(CALM, "note"))


def test_with_a_reef_in_the_next_one_is_told_as_such() -> None:
    asked = question(Request(boat="eider", wind_kn=12.0, angle_deg=50.0, controls={"reef": 1.0}))
    assert told(asked, "note")[0].startswith("The next reef is due at")


def test_a_makers_table_is_obeyed_on_one_hull_too(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(MARRAM.read_text(encoding="utf-8") + MAKER, encoding="utf-8")
    fields = {"boat": str(path), "angle_deg": 46.0}
    assert told(asks(**fields, wind_kn=14.5)) == []
    [text] = told(asks(**fields, wind_kn=17.0))
    assert "(the maker's table)" in text
    assert canvas_of(reefed(asks(**fields, wind_kn=17.0))) == Canvas(1)
    # Both speak where both have cause.
    assert len(told(asks(**fields, wind_kn=17.0), heel_deg=30.0)) == 2


def test_reefs_follow_the_table_both_ways_on_two_hulls_and_what_is_held_stays() -> None:
    light = asks(boat="eider", wind_kn=8.0, angle_deg=50.0)
    light = replace(light, setting=light.setting.changed(reef=2.0))
    assert canvas_of(reefed(light)) == Canvas(0)
    windy = asks(boat="eider", wind_kn=17.0, angle_deg=50.0)
    assert canvas_of(reefed(windy)) == Canvas(1)
    held = replace(windy, request=windy.request.model_copy(update={"hold": {"reef": 0.0}}))
    assert canvas_of(reefed(held)).reefs == 0
    call = table_call(held, reefed(held))
    assert call is not None
    assert call.called


def test_deep_angles_have_the_preventer_the_mainsheets_zone_and_the_boom() -> None:
    [text] = told(CALM, angle_deg=155.0)
    for words in ("preventer", "mainsheet", "under the boom", "gybe"):
        assert words in text
    assert told(CALM, angle_deg=120.0) == []
    assert "preventer" in told(asks(boat="marram", wind_kn=10.0, angle_deg="downwind"))[0]


@pytest.mark.parametrize(("gust", "warned"), [(13.9, False), (14.1, True)])
def test_gusts_of_more_than_1_4_times_the_mean_are_warned_of(gust: float, warned: bool) -> None:
    found = told(asks(boat="marram", wind_kn=10.0, angle_deg=46.0, gust_kn=gust))
    assert (
        any(text.startswith("Gusty: 14 kn on a mean of 10, 2.0 times") for text in found) is warned
    )


def test_with_a_reef_in_it_is_told_which_lines_stand_for_outhaul_and_cunningham() -> None:
    asked = asks(boat="marram", wind_kn=12.0, angle_deg=60.0)
    full, reefed = (
        cautions(asked, Seen(asked.setting.changed(reef=it), 60.0)) for it in (0.0, 1.0)
    )
    assert not any("reef line" in it.text for it in full)
    [note] = [it for it in reefed if "reef line" in it.text]
    assert note.level == "note"


@pytest.mark.parametrize(("boat", "has"), [("dunlin", True), ("marram", False)])
def test_a_clew_board_is_changed_with_the_sail_down(boat: str, has: bool) -> None:
    notes = told(asks(boat=boat, wind_kn=10.0, angle_deg=46.0), "note")
    assert any("furl or drop the sail" in text for text in notes) is has


def test_a_strong_wind_is_warned_of_though_a_reef_is_called() -> None:
    windy = asks(boat="marram", wind_kn=25.0, angle_deg=46.0)
    assert told(windy)[0].startswith("Strong wind")
    first, second = told(windy, heel_deg=35.0)
    assert first.startswith(CALL)
    assert second.startswith("Strong wind")


@pytest.mark.parametrize("wind_kn", [34.0, 45.0, 55.0])
def test_in_a_gale_no_trim_is_made_out_to_be_what_counts(wind_kn: float) -> None:
    """Beaufort 8 is 34 to 40 knots."""
    for heel_deg in (None, 35.0):
        found = told(asks(boat="marram", wind_kn=wind_kn, angle_deg=46.0), heel_deg=heel_deg)
        [gale] = [text for text in found if text.startswith("Gale")]
        for words in ("manual", "clipped on", "shelter"):
            assert words in gale
        assert not any(text.startswith("Strong wind") for text in found)


@pytest.mark.parametrize(
    ("gust_kn", "heel_deg", "called"),
    [(18.0, 20.0, True), (18.0, 8.0, False), (14.0, 20.0, False), (45.0, 25.0, True)],
)
def test_a_monohull_is_reefed_for_gusts_that_press_her_too_much(
    gust_kn: float, heel_deg: float, called: bool
) -> None:
    """Half as strong again presses 2.25 times as hard: 20° of heel become 45°, 8° become 18°."""
    asked = asks(boat="marram", wind_kn=12.0, angle_deg=46.0, gust_kn=gust_kn)
    found = told(asked, heel_deg=heel_deg)
    assert any(text.startswith(f"{CALL}reef for the gusts first") for text in found) is called
    if called:
        assert f"ask for the trim in {gust_kn:.0f} kn" in found[0]


def test_the_reef_call_comes_before_every_other_caution() -> None:
    windy = asks(boat="eider", wind_kn=16.0, angle_deg=160.0, gust_kn=26.0)
    found = cautions(windy, seen(windy, loads={"mainsheet": 40.0}))
    assert found[0].text.startswith(CALL)
    assert [it.level for it in found] == sorted((it.level for it in found), reverse=True)
    assert calls_in(found) == found[:1]
    assert calls_in((Caution("note", f"{CALL}not a warning"),)) == ()


@pytest.mark.parametrize(
    ("gust", "kind", "words"),
    [(8.0, InputError, "at least the wind's 10 kn"), (70.0, UnsailableError, "60 kn"),
     (float("nan"), InputError, "must be")],
)  # fmt: skip
def test_gusts_that_are_none_are_refused(gust: float, kind: type[InputError], words: str) -> None:
    with pytest.raises(kind, match=words):
        asks(boat="marram", wind_kn=10.0, angle_deg=46.0, gust_kn=gust)


def test_loads_have_the_decks_names() -> None:
    assert load_word("sheet", "genoa") == "genoa sheet"
    assert load_word("main_halyard") == "main halyard"


@pytest.mark.parametrize("boat", ["marram", "eider"])
def test_every_caution_is_a_sentence_without_signs(boat: str) -> None:
    windy = asks(boat=boat, wind_kn=24.0, angle_deg=160.0, gust_kn=36.0)
    for text in told(windy, heel_deg=30.0, loads={"mainsheet": 40.0}) + told(windy, "note"):
        assert text.endswith(".")
        assert not any(word in text for word in (" -", "nan", "inf"))
