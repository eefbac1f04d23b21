"""The README's commands exist, and its table of trust is current."""

from __future__ import annotations

import importlib
import importlib.util
import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
VERBS = sorted(set(re.findall(r"^\| `luffwright (\w+)", README, re.MULTILINE)))


def test_the_readme_is_short() -> None:
    # The table of trust is made, and grows with the checks: it is not for reading through.
    before, begin, rest = README.partition("<!-- trust -->")
    _, end, after = rest.partition("<!-- end of trust -->")
    assert begin
    assert end
    assert len((before + after).splitlines()) <= 150


def test_continuous_integration_runs_the_readmes_test_command(tmp_path: Path) -> None:
    shown = re.search(r"<!-- test command -->\n\n {4}(.+)\n\n<!-- end -->", README)
    assert shown
    # The script is run on a README whose command only tells that it was called.
    (tmp_path / ".ci").mkdir()
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    (tmp_path / ".ci" / "run").write_text(script, encoding="utf-8")
    told = README.replace(shown[1], f"echo 'called: {shown[1]}'")
    (tmp_path / "README.md").write_text(told, encoding="utf-8")
    done = subprocess.run(
        ["bash", ".ci/run"], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    assert done.stdout == f"called: {shown[1]}\n"


def test_the_commands_call_scripts_that_are_there_and_can_run() -> None:
    for script in set(re.findall(r"scripts/[\w.]+", README)):
        assert (ROOT / script).is_file(), script
        assert script.endswith(".py") or os.access(ROOT / script, os.X_OK), script


def test_every_install_command_uses_the_pins() -> None:
    installs = [line for line in README.splitlines() if "pip install" in line]
    assert installs
    assert all("-c constraints.txt" in line for line in installs)


def test_the_readme_names_the_pythons_that_the_package_takes() -> None:
    low, high = re.findall(r"3\.(\d+)", PROJECT["requires-python"])
    assert f"Python 3.{low} to 3.{int(high) - 1}" in README


@pytest.mark.parametrize("verb", VERBS)
def test_each_command_of_the_readme_exists(verb: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "argv", ["luffwright", verb, "--help"])
    module, _, name = PROJECT["scripts"]["luffwright"].partition(":")
    with pytest.raises(SystemExit) as left:
        getattr(importlib.import_module(module), name)()
    assert left.value.code in (0, None)


def trust() -> ModuleType:
    """Return the script that makes the table."""
    spec = importlib.util.spec_from_file_location("trust", ROOT / "scripts" / "trust.py")
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    # Its records look up their own module.
    sys.modules["trust"] = module
    spec.loader.exec_module(module)
    return module


def test_the_table_of_trust_is_current() -> None:
    script = trust()
    made = script.current(README, script.table(script.all_checks()))
    assert made == README, "run python scripts/trust.py --write"


def test_the_table_of_trust_reads_marks_in_all_their_forms(tmp_path: Path) -> None:
    path = tmp_path / "test_forms.py"
    path.write_text(
        "from luffwright.air.wind import wind_at\n"
        'WORK = "A book, " "1900"\n'
        'MARK = pytest.mark.source(work=WORK, where="p. 1", tolerance="1 %")\n'
        '@pytest.mark.source(work=f"{WORK}, 2nd ed.", where="p. 2", tolerance="2 %")\n'
        "def test_direct(): ...\n"
        "@MARK\n"
        "def test_named(): ...\n"
        "class TestGroup:\n"
        '    @pytest.mark.practice(fact="W1")\n'
        "    def test_practice(self): ...\n"
        "def test_unmarked(): ...\n",
        encoding="utf-8",
    )
    found = [
        (check.room, check.kind, check.part("work") or check.part("fact"))
        for check in trust().checks_in(path)
    ]
    assert sorted(found) == [
        ("air", "practice", "W1"),
        ("air", "source", "A book, 1900"),
        ("air", "source", "A book, 1900, 2nd ed."),
    ]


LACKING = """
NOT_YET = pytest.mark.xfail(reason="no bubble")
CASES = [pytest.param(1, marks=NOT_YET), 2]

@NOT_YET
@pytest.mark.source(work="A book", where="p. 1", tolerance="1 %")
def test_not_yet(): ...

@pytest.mark.source(work="A book", where="p. 1", tolerance="2 %")
def test_met(): ...

@pytest.mark.parametrize("case", CASES)
@pytest.mark.source(work="A book", where="p. 1", tolerance="3 %")
def test_some_cases(case): ...

@pytest.mark.practice(fact="B1")
def test_a_fact(): ...

@pytest.mark.xfail(strict=True, reason="too stiff")
@pytest.mark.practice(fact="B2")
def test_a_fact_not_yet(): ...

@pytest.mark.practice(fact="B3")
def test_a_fact_on_some_boats():
    pytest.xfail("too small to tell")
"""


def test_the_table_of_trust_tells_what_is_not_met_yet(tmp_path: Path) -> None:
    path = tmp_path / "test_lacking.py"
    path.write_text(LACKING, encoding="utf-8")
    script = trust()
    made = script.table(list(script.checks_in(path)))
    assert "| A book | 3 | not met yet: 1 %; 2 %; not met yet in part: 3 % |" in made
    assert made.endswith("no printed source): B1; not met yet in part: B3; not met yet: B2.")
