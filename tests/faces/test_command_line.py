"""The command line: what it prints, how it refuses, with which code it leaves."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import dataclass, replace
from pathlib import Path
from types import ModuleType, SimpleNamespace
from typing import Literal

import pytest

import luffwright
from luffwright.app.answer import BoatPicture, FlyAnswer, TrimAnswer
from luffwright.app.request import Request
from luffwright.errors import InputError
from luffwright.faces.cli import main

Said = tuple[int, str, str]


@dataclass(frozen=True)
class FakeLine:
    """A boat in the list."""

    key: str
    name: str
    kind: str
    note: str


class Crew:
    """Runs the command line with invented verbs and keeps what they were asked."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        self.patch, self.capsys = monkeypatch, capsys
        self.asked: list[Request] = []
        monkeypatch.setenv("COLUMNS", "80")

    def invent(self, verb: str, found: object) -> None:
        """Let a verb give what is invented, or raise it."""

        def work(request: Request) -> object:
            self.asked.append(request)
            if isinstance(found, Exception):
                raise found
            return found

        module = ModuleType(f"luffwright.app.{verb}")
        setattr(module, verb, work if verb != "boats" else lambda: found)
        self.patch.setitem(sys.modules, module.__name__, module)

    def run(self, *words: str) -> Said:
        """Return exit code, what was printed, and what went to stderr."""
        self.patch.setattr(sys, "argv", ["luffwright", *words])
        with pytest.raises(SystemExit) as left:
            main()
        out, err = self.capsys.readouterr()
        assert isinstance(left.value.code, int)
        return left.value.code, out, err


@pytest.fixture
def crew(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    flown: FlyAnswer,
    trimmed: TrimAnswer,
    picture: BoatPicture,
) -> Crew:
    """Return a command line whose verbs answer what is invented."""
    crew = Crew(monkeypatch, capsys)
    crew.invent("fly", SimpleNamespace(answer=flown, picture=picture))
    crew.invent("trim", SimpleNamespace(answer=trimmed, picture=picture))
    return crew


STATE = ("marram", "--wind", "12", "--angle", "upwind")


def test_an_answer_leaves_with_0_and_nothing_on_stderr(crew: Crew) -> None:
    code, out, err = crew.run("fly", *STATE)
    assert (code, err) == (0, "")
    assert "GENOA CAR" in out


def test_every_option_reaches_the_request_under_its_name(crew: Crew) -> None:
    crew.run(
        "trim", "marram", "--wind", "12", "--angle", "-45", "--sea", "rough", "--gust", "18",
        "--apparent-wind", "16", "--apparent-angle", "-30", "--speed", "6", "--heel", "20",
        "--leeway", "4", "--set", "lead=0.4", "--set", "backstay=0.02", "--hold", "traveller=-0.1",
        "--tack", "port",
    )  # fmt: skip
    assert crew.asked == [
        Request(
            boat="marram", wind_kn=12, angle_deg=-45.0, sea="rough", gust_kn=18,
            apparent_wind_kn=16, apparent_angle_deg=-30, speed_kn=6, heel_deg=20, leeway_deg=4,
            controls={"lead": 0.4, "backstay": 0.02}, hold={"traveller": -0.1}, tack="port",
        )
    ]  # fmt: skip


def test_a_mark_on_deck_is_as_good_as_a_position(crew: Crew) -> None:
    crew.run(
        "fly", *STATE, "--set", "lead=hole:7", "--set", "backstay=6½ turns", "--hold",
        "traveller=10 cm up", "--hold", "sheet=on the mark",
    )  # fmt: skip
    asked = crew.asked[0]
    assert asked.controls == pytest.approx({"lead": 0.30, "backstay": 0.0325})
    assert asked.hold == pytest.approx({"traveller": -0.10, "sheet": 0.0})


@pytest.mark.parametrize("verb", ["fly", "trim"])
def test_json_is_exactly_the_answer(crew: Crew, flown: FlyAnswer, verb: str) -> None:
    code, out, _ = crew.run(verb, *STATE, "--json")
    found = json.loads(out, parse_constant=pytest.fail)
    assert code == 0
    # Through JSON, tuples are lists.
    expected = json.loads(json.dumps(flown.as_json()))
    assert {key: found[key] for key in expected} == expected
    extra = {"worth", "order", "leave_it", "why", "search"} if verb == "trim" else set()
    assert set(found) - set(expected) == extra


def test_the_drawing_is_written_where_it_is_wanted(crew: Crew, tmp_path: Path) -> None:
    code, _, _ = crew.run("fly", *STATE, "--svg", str(tmp_path / "sails.svg"))
    assert code == 0
    assert (tmp_path / "sails.svg").read_text(encoding="utf-8").startswith("<svg")


def test_sails_that_did_not_settle_are_not_drawn(
    crew: Crew, flown: FlyAnswer, picture: BoatPicture, tmp_path: Path
) -> None:
    failed = replace(flown, status="failed", reason="they flog")
    crew.invent("fly", SimpleNamespace(answer=failed, picture=picture))
    code, _, err = crew.run("fly", *STATE, "--svg", str(tmp_path / "sails.svg"))
    assert code == 3
    assert "Nothing is drawn" in err
    assert not (tmp_path / "sails.svg").exists()


def test_a_folder_that_is_not_there_is_refused_in_words(crew: Crew, tmp_path: Path) -> None:
    code, _, err = crew.run("fly", *STATE, "--svg", str(tmp_path / "none" / "sails.svg"))
    assert code == 2
    assert "cannot be written" in err


def test_what_did_not_settle_leaves_with_3_and_says_so(crew: Crew, flown: FlyAnswer) -> None:
    failed = replace(flown, status="failed", reason="forces differ by 4 %")
    crew.invent("fly", SimpleNamespace(answer=failed, picture=None))
    code, out, err = crew.run("fly", *STATE, "--json")
    assert code == 3
    assert json.loads(out)["status"] == "failed"
    assert "forces differ by 4 %" in err


@pytest.mark.parametrize("status", ["luffing", "stalled"])
def test_a_luffing_or_stalled_sail_is_an_answer(
    crew: Crew, flown: FlyAnswer, status: Literal["luffing", "stalled"]
) -> None:
    odd = SimpleNamespace(answer=replace(flown, status=status, reason="top of the genoa"))
    odd.picture = None
    crew.invent("fly", odd)
    code, out, _ = crew.run("fly", *STATE)
    assert code == 0
    assert f"{status.capitalize()}: top of the genoa" in out


def test_a_refusal_of_the_verb_is_one_sentence(crew: Crew) -> None:
    crew.invent("fly", InputError("wind_kn", 90, "must be at most 60", "give a wind one sails in"))
    code, out, err = crew.run("fly", *STATE)
    assert (code, out) == (2, "")
    assert err == "wind_kn = 90: must be at most 60; give a wind one sails in\n"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("fly",), "BOAT"),
        (("fly", "marram", "--wnd", "12"), "--wind"),
        (("fly", "marram", "--wind"), "--wind"),
        (("sail", "marram"), "sail"),
        (("fly", "marram", "--wind", "ten"), "wind_kn = ten: must be a number"),
        (("fly", "marram", "--wind", "12m/s"), "give knots"),
        (("fly", "marram", "--angle", "45deg"), "degrees as a plain number"),
        (("fly", "marram", "--angle", "upwnd"), 'did you mean "upwind"?'),
        (("fly", "marram", "--sea", "stormy"), "must be flat, slight, moderate or rough"),
        (("fly", "marram", "--tack", "left"), "starboard or port"),
        (("fly", "marram", "--heel", "inf"), "finite"),
        (("trim", "marram", "--set", "lead"), "must be NAME=VALUE"),
        (("trim", "marram", "--set", "=3"), "must be NAME=VALUE"),
        (("trim", "marram", "--hold", "lead=4cm"), "hold.lead = 4cm: no mark of the genoa car"),
        (("batch", "no-such-file.jsonl"), "cannot be read"),
    ],
)
def test_a_bad_command_is_refused_with_2_and_one_sentence(
    crew: Crew, words: tuple[str, ...], said: str
) -> None:
    code, out, err = crew.run(*words)
    assert (code, out) == (2, "")
    assert said in err
    assert err.count("\n") == 1


def test_no_traceback_reaches_a_shell() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "luffwright.faces.cli", "fly", "marram", "--wind", "ten"],
        capture_output=True, text=True, check=False,
        env=os.environ | {"PYTHONPATH": str(Path(luffwright.__file__).parents[1])},
    )  # fmt: skip
    assert done.returncode == 2
    assert "Traceback" not in done.stderr


def test_boats_are_told_as_a_table_and_as_json(crew: Crew) -> None:
    boat = FakeLine("marram", "Marram", "monohull", "sloop")
    crew.invent("boats", (boat,))
    assert "marram" in crew.run("boats")[1]
    assert json.loads(crew.run("boats", "--json")[1])[0]["key"] == "marram"


def test_a_boat_is_checked_in_tables_and_as_json(crew: Crew) -> None:
    code, out, err = crew.run("check", "marram")
    assert (code, err) == (0, "")
    assert "does it fit?" in out
    told = json.loads(crew.run("check", "marram", "--json")[1], parse_constant=pytest.fail)
    assert told["boat"] == "Marram"
    assert told["findings"][0]["level"] == "note"
    assert told["righting"]["moments"][0]["heel_deg"] == 1.0


def test_a_batch_tells_its_progress_on_stderr_and_its_answers_on_stdout(
    crew: Crew, tmp_path: Path
) -> None:
    path = tmp_path / "requests.jsonl"
    path.write_text('{"verb": "fly"}\n', encoding="utf-8")
    code, out, err = crew.run("batch", str(path))
    assert code == 0
    assert json.loads(out)["error"]["field"] == "boat"
    assert err == "1 of 1\n"
