"""The guards of the evidence folders, broken on purpose to see them refuse."""

from __future__ import annotations

from pathlib import Path

import pytest

TESTS = Path(__file__).resolve().parents[1]
INI = """
[pytest]
addopts = -p no:xdist
markers =
    source(work, where, tolerance): printed numbers
    practice(fact): fact of the trade
"""
BARE = "def test_something() -> None: ...\n"
SOURCE = '@pytest.mark.source(work="A table, 1900", where="row 1", tolerance="{}")\n'


def run(
    pytester: pytest.Pytester, monkeypatch: pytest.MonkeyPatch, folder: str, marks: str
) -> tuple[int, str]:
    """Return exit code and what was said, of one test under the guard of a folder."""
    monkeypatch.delenv("PYTEST_XDIST_WORKER", raising=False)
    place = pytester.mkdir(folder)
    guard = (TESTS / folder / "conftest.py").read_text(encoding="utf-8")
    (place / "conftest.py").write_text(guard, encoding="utf-8")
    text = f"import pytest\n\n{marks}{BARE}"
    (place / "test_one.py").write_text(text, encoding="utf-8")
    pytester.makeini(INI)
    result = pytester.runpytest_subprocess(folder)
    return int(result.ret), str(result.stderr) + str(result.stdout)


@pytest.mark.parametrize(
    ("folder", "marks", "said"),
    [
        ("published", "", "lacks work, where, tolerance"),
        ("published", SOURCE.format(" "), "lacks tolerance"),
        ("published", '@pytest.mark.practice(fact="B1")\n', "say where its numbers are printed"),
        ("practice", "", "name the fact of the trade"),
        ("practice", '@pytest.mark.practice(fact="")\n', "name the fact of the trade"),
    ],
)
def test_a_check_without_its_mark_stops_the_run(
    pytester: pytest.Pytester,
    monkeypatch: pytest.MonkeyPatch,
    folder: str,
    marks: str,
    said: str,
) -> None:
    code, text = run(pytester, monkeypatch, folder, marks)
    assert code == pytest.ExitCode.USAGE_ERROR
    assert said in text


@pytest.mark.parametrize(
    ("folder", "marks"),
    [
        ("published", SOURCE.format("rel 1 %")),
        ("practice", '@pytest.mark.practice(fact="B4a")\n'),
    ],
)
def test_a_check_with_its_mark_runs(
    pytester: pytest.Pytester, monkeypatch: pytest.MonkeyPatch, folder: str, marks: str
) -> None:
    code, text = run(pytester, monkeypatch, folder, marks)
    assert code == pytest.ExitCode.OK
    assert "1 passed" in text
