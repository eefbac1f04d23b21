"""Write the README's table of trust from the marks on the checks.

`python scripts/trust.py` says whether the table is current; `--write` brings it up to date.
"""

from __future__ import annotations

import ast
import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
README = ROOT / "README.md"
BEGIN, END = "<!-- trust -->", "<!-- end of trust -->"
KINDS = ("source", "practice")
NOT_MET, IN_PART = "not met yet", "not met yet in part"
ROOMS = ("faces", "app", "aboard", "advice", "water", "sails", "air", "ground")


@dataclass(frozen=True)
class Check:
    """One test function under a mark: the room it looks at, what the mark says, and what it lacks:
    nothing, or `NOT_MET`, or `IN_PART` where only some of its cases are expected to fail.
    """

    room: str
    kind: str
    said: tuple[tuple[str, str], ...]
    lacks: str = ""

    def part(self, name: str) -> str:
        """Return one part of the mark."""
        return dict(self.said).get(name, "")


def _room(tree: ast.Module) -> str:
    """Return the uppermost room that a test imports from."""
    names = [
        (node.module or "").split(".")
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("luffwright")
    ]
    found = {parts[1] for parts in names if len(parts) > 1}
    return next((room for room in ROOMS if room in found), "ground")


def _text(node: ast.expr, names: dict[str, ast.expr]) -> str:
    """Return the text of an argument, following the module's own constants."""
    if isinstance(node, ast.Name) and node.id in names:
        return _text(names[node.id], names)
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
        return _text(node.left, names) + _text(node.right, names)
    if isinstance(node, ast.JoinedStr):
        return "".join(_text(part, names) for part in node.values)
    if isinstance(node, ast.FormattedValue):
        return _text(node.value, names)
    return str(ast.literal_eval(node))


def _marks(nodes: list[ast.expr], names: dict[str, ast.expr]) -> Iterator[ast.Call]:
    """Yield the marks among decorators, also those given a name or gathered in a list."""
    for node in nodes:
        if isinstance(node, ast.Name) and node.id in names:
            yield from _marks([names[node.id]], names)
        elif isinstance(node, ast.List | ast.Tuple):
            yield from _marks(node.elts, names)
        elif (
            isinstance(node, ast.Call)
            and isinstance(node.func, ast.Attribute)
            and node.func.attr in KINDS
        ):
            yield node


def _parts(node: ast.AST, names: dict[str, ast.expr]) -> Iterator[ast.AST]:
    """Yield what a node is made of, following the module's own constants, each once."""
    left, seen = [node], set[str]()
    while left:
        for part in ast.walk(left.pop()):
            yield part
            if isinstance(part, ast.Name) and part.id in names and part.id not in seen:
                seen.add(part.id)
                left.append(names[part.id])


def _told(attribute: str, node: ast.AST, names: dict[str, ast.expr]) -> bool:
    """Return whether a node speaks of an attribute, as `pytest.mark.xfail` or `pytest.xfail`."""
    found = _parts(node, names)
    return any(isinstance(part, ast.Attribute) and part.attr == attribute for part in found)


def _lacks(test: ast.FunctionDef, whole: list[ast.expr], names: dict[str, ast.expr]) -> str:
    """Return what a check lacks: all of it expected to fail, or single cases, or nothing."""
    failing = [mark for mark in [*test.decorator_list, *whole] if _told("xfail", mark, names)]
    if any(not _told("parametrize", mark, names) for mark in failing):
        return NOT_MET
    inside = any(_told("xfail", line, {}) for line in test.body)
    return IN_PART if failing or inside else ""


def checks_in(path: Path) -> Iterator[Check]:
    """Yield the marked checks of one test file."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    names = {
        target.id: node.value
        for node in tree.body
        if isinstance(node, ast.Assign)
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    whole = [names["pytestmark"]] if "pytestmark" in names else []
    room = _room(tree)
    for node in ast.walk(tree):
        if not (isinstance(node, ast.FunctionDef) and node.name.startswith("test_")):
            continue
        # The nearest mark counts, as it does for pytest.
        for mark in [*_marks(node.decorator_list, names), *_marks(whole, names)][:1]:
            said = {key.arg: _text(key.value, names) for key in mark.keywords if key.arg}
            kind = mark.func.attr if isinstance(mark.func, ast.Attribute) else ""
            yield Check(room, kind, tuple(said.items()), _lacks(node, whole, names))


def all_checks() -> list[Check]:
    """Return the marked checks of every test file."""
    files = sorted((ROOT / "tests").rglob("test_*.py"))
    return [check for path in files for check in checks_in(path)]


def _cell(text: str) -> str:
    return " ".join(text.split()).replace("|", "\\|")


def _within(check: Check) -> str:
    """Return the tolerance that a check holds, or that is asked of it and not met yet."""
    said = _cell(check.part("tolerance"))
    return f"{check.lacks}: {said}" if check.lacks else said


def _facts(checks: list[Check]) -> str:
    """Return the trade's facts, those that do not come out yet apart at the end."""
    lacking: dict[str, set[str]] = defaultdict(set)
    for check in checks:
        if check.kind == "practice":
            lacking[check.part("fact")].add(check.lacks)
    groups: dict[str, list[str]] = {"": [], IN_PART: [], NOT_MET: []}
    for fact, lacks in sorted(lacking.items()):
        groups[lacks.pop() if len(lacks) == 1 else IN_PART].append(fact)
    named = [f"{lack}: {', '.join(facts)}" for lack, facts in groups.items() if lack and facts]
    return "; ".join([", ".join(groups[""]) or "none yet", *named])


def table(checks: list[Check]) -> str:
    """Return the table of printed works by room, and the line of the trade's facts."""
    rows: dict[tuple[str, str], list[str]] = defaultdict(list)
    for check in checks:
        if check.kind == "source":
            rows[check.room, _cell(check.part("work"))].append(_within(check))
    lines = ["| room | printed work | checks | holds within |", "|---|---|---|---|"]
    for (room, work), found in sorted(rows.items(), key=lambda row: (ROOMS.index(row[0][0]), row)):
        lines.append(f"| {room} | {work} | {len(found)} | {'; '.join(dict.fromkeys(found))} |")
    shown = _facts(checks)
    lines += ["", f"Facts of the trade checked (common practice, no printed source): {shown}."]
    return "\n".join(lines)


def current(text: str, made: str) -> str:
    """Return the README's text with the table between its marks."""
    before, _, rest = text.partition(BEGIN)
    _, _, after = rest.partition(END)
    return f"{before}{BEGIN}\n{made}\n{END}{after}"


def main(arguments: list[str]) -> int:
    """Compare, or with `--write` replace; return the exit code."""
    text = README.read_text(encoding="utf-8")
    made = current(text, table(all_checks()))
    if made == text:
        return 0
    if "--write" in arguments:
        README.write_text(made, encoding="utf-8")
        return 0
    print("README.md: the table of trust is out of date; run python scripts/trust.py --write")
    return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
