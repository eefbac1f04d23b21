"""`fix` from the command line to its answer: a coarse sample, flown once."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator

import pytest

from luffwright.app.batch import fix_asked
from luffwright.app.fix import with_wind
from luffwright.app.fix_store import FOLDER
from luffwright.errors import InputError
from luffwright.faces.cli import main

ASKED = (
    "fix", "marram", "--wind", "12", "--angle", "42", "--quick", "--top", "?/stalled",
    "--middle", "lifting/stalled", "--low", "streaming/stalled",
)  # fmt: skip
Run = Callable[..., int]


@pytest.fixture(scope="module")
def run(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Run]:
    """Return a way to run the command line, its samples kept apart from the user's."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(FOLDER, str(tmp_path_factory.mktemp("samples")))

        def leave(*arguments: str) -> int:
            patch.setattr(sys, "argv", ["luffwright", *arguments])
            with pytest.raises(SystemExit) as left:
                main()
            return int(left.value.code or 0)

        yield leave


def test_fix_answers_on_a_page_and_as_json_from_one_sample(
    run: Run, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(*ASKED) == 0
    page = capsys.readouterr().out
    assert "at once (middle)" in " ".join(page.split())
    assert "Unload a sheet before its car is moved" in " ".join(page.split())
    later = "sheet=0.2 top=streaming/streaming middle=streaming/streaming low=?/streaming"
    assert run(*ASKED, "--then", later, "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert list(told)[:2] == ["cautions", "nothing_wrong"]
    assert told["method"]["from_store"] is True
    assert not any("at once" in text for text in told["says"])
    for move in told["moves"]:
        assert {"control", "from", "to", "mark", "sentence", "chance", "then_see", "why"} <= set(
            move
        )
        assert 0.0 <= move["chance"] <= 1.0


def test_beside_a_reef_that_is_called_no_move_is_told(
    run: Run, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(*ASKED, "--heel", "32", "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert any(it["text"].startswith("Reef: ") for it in told["cautions"])
    assert told["moves"] == []
    assert told["nothing_wrong"] is False
    assert [it for it in told["says"] if "Reef first" in it] == told["says"]


def test_tufts_that_are_no_pair_are_refused(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("fix", "marram", "--wind", "12", "--angle", "42", "--top", "lifting") == 2
    assert "--top = lifting: must be two words" in capsys.readouterr().err


def test_a_word_that_no_tuft_shows_is_refused_by_its_place() -> None:
    seen = {"headsail": {"top": {"windward": "flapping"}}}
    with pytest.raises(InputError, match=r"seen\.0\.headsail\.top\.windward = flapping"):
        fix_asked({"boat": "marram", "wind_kn": 12, "seen": seen})


def test_deck_marks_of_what_was_moved_are_read() -> None:
    request = fix_asked({"boat": "marram", "seen": [{}, {"moved": {"lead": "hole 9"}}]})
    assert request.seen[1].moved["lead"] == pytest.approx(0.4)


def test_a_beaufort_force_is_a_wind_by_eye() -> None:
    request = with_wind(fix_asked({"boat": "marram", "beaufort": 4, "angle_deg": "upwind"}))
    # Met Office table: force 4 is 11 to 16 knots.
    assert 11.0 <= (request.wind_kn or 0.0) <= 16.0
    assert not request.instruments
