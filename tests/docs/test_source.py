"""What the source promises a reader: docstrings with units, short functions, short modules."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).resolve().parents[2] / "src" / "luffwright"
FILES = sorted(SOURCE.rglob("*.py"))
PHYSICS = [
    path
    for room in ("air", "sails", "water", "advice")
    for path in sorted((SOURCE / room).rglob("*.py"))
    # Compiled code stands behind a plain function that carries the docstring.
    if "kernel" not in path.name
]
NUMBER = re.compile(r"\b(float|FloatArray)\b")
SECTION = re.compile(r"^Parameters\n-+\n(.*?)(?=^\w[\w ]*\n-+$|\Z)", re.MULTILINE | re.DOTALL)
UNIT = re.compile(r"\[[^\]]+\]")

Function = ast.FunctionDef | ast.AsyncFunctionDef


def name_of(path: Path) -> str:
    """Return a file's name as the tests show it."""
    return path.relative_to(SOURCE).as_posix()


def tree_of(path: Path) -> ast.Module:
    """Return a file as syntax."""
    return ast.parse(path.read_text(encoding="utf-8"))


def public(nodes: list[ast.stmt]) -> Iterator[Function]:
    """Yield the functions that other modules may call."""
    for node in nodes:
        if isinstance(node, Function) and not node.name.startswith("_"):
            yield node


def numbers(function: Function) -> list[str]:
    """Return the names of the arguments that are quantities."""
    return [
        argument.arg
        for argument in [*function.args.args, *function.args.kwonlyargs]
        if argument.annotation and NUMBER.search(ast.unparse(argument.annotation))
    ]


def faults_of_docstring(function: Function) -> list[str]:
    """Return what a function's docstring leaves out."""
    text = ast.get_docstring(function) or ""
    if not text:
        return [f"{function.name}: no docstring"]
    asked = numbers(function)
    if not asked:
        return []
    section = SECTION.search(text)
    if not section:
        return [f"{function.name}: no Parameters section"]
    # Two arguments that share one line share its description.
    lines = section[1].splitlines()
    silent = [n for n in asked if not any(re.match(rf"[\w, ]*\b{n}\b", line) for line in lines)]
    faults = [f"{function.name}: {name} is not described" for name in silent]
    if not UNIT.search(section[1]):
        faults.append(f"{function.name}: no unit in brackets")
    return faults


def faults_of_methods(tree: ast.Module) -> list[str]:
    """Return the public methods without a word, or with quantities and no unit."""
    faults = []
    owners = [node for node in tree.body if isinstance(node, ast.ClassDef)]
    for owner in [node for node in owners if not node.name.startswith("_")]:
        for method in public(owner.body):
            text = ast.get_docstring(method) or ""
            if not text or (numbers(method) and not UNIT.search(text)):
                faults.append(f"{owner.name}.{method.name}: no docstring with units")
    return faults


@pytest.mark.parametrize("path", PHYSICS, ids=name_of)
def test_each_public_function_says_what_it_returns_and_in_which_units(path: Path) -> None:
    tree = tree_of(path)
    faults = [fault for node in public(tree.body) for fault in faults_of_docstring(node)]
    assert faults + faults_of_methods(tree) == []


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_each_module_opens_with_a_docstring_and_stays_short(path: Path) -> None:
    assert ast.get_docstring(tree_of(path))
    lines = len(path.read_text(encoding="utf-8").splitlines())
    assert lines <= 500


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_no_function_is_longer_than_a_screen(path: Path) -> None:
    long = [
        f"{node.name}: {length} lines"
        for node in ast.walk(tree_of(path))
        if isinstance(node, Function) and (length := body_length(node)) > 60
    ]
    assert long == []


def body_length(function: Function) -> int:
    """Return the lines of a function's code, its docstring left out."""
    end = function.end_lineno or function.lineno
    first = function.body[0]
    words = 0
    if ast.get_docstring(function) and first.end_lineno:
        words = first.end_lineno - first.lineno + 1
    return end - function.lineno + 1 - words


def function_of(text: str) -> Function:
    """Return the function that a text defines."""
    node = ast.parse(text).body[0]
    assert isinstance(node, Function)
    return node


BARE = "def f(a: float, b: float) -> float:"
ONE_LINE = f'{BARE}\n    """Return a."""'
LISTED = (
    f'{BARE}\n    """Return a.\n\n    Parameters\n    ----------\n    a : float\n'
    '        The thing.{unit}\n{other}    """'
)
OTHER = "    b : float\n        The other.\n"


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        (f"{BARE} ...", ["f: no docstring"]),
        (ONE_LINE, ["f: no Parameters section"]),
        (LISTED.format(unit="", other=OTHER), ["f: no unit in brackets"]),
        (LISTED.format(unit=" [m]", other=""), ["f: b is not described"]),
        (LISTED.format(unit=" [m]", other=OTHER), []),
    ],
)
def test_the_guard_sees_a_docstring_that_falls_short(text: str, fault: list[str]) -> None:
    assert faults_of_docstring(function_of(text)) == fault


def test_the_guard_counts_a_functions_lines_without_its_docstring() -> None:
    text = 'def f() -> None:\n    """Say.\n\n    More.\n    """\n' + "    a = 1\n" * 60
    assert body_length(function_of(text)) == 61
