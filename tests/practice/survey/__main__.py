"""`scripts/survey facts|write|requests|settings|trims`: ask, and write down what came out."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from survey import asking, settings_drawn, trims, written
from survey.facts_run import WINDS_KN, survey
from survey.run import ROOT

FOLDER = ROOT / ".survey"


def options(words: list[str]) -> argparse.Namespace:
    """Return what is asked for."""
    parser = argparse.ArgumentParser(prog="scripts/survey", description=__doc__)
    parser.add_argument("what", choices=("facts", "write", "requests", "settings", "trims"))
    parser.add_argument("--first", type=int, default=0, help="first seed")
    parser.add_argument("--count", type=int, default=10, help="seeds: random boats, or requests")
    parser.add_argument("--winds", type=float, nargs="+", help="knots")
    parser.add_argument("--processes", type=int, default=0, help="as many as cores, unless given")
    parser.add_argument("--file", type=Path, help="finished cases, a line each")
    return parser.parse_args(words)


def main(words: list[str]) -> int:
    """Do what is asked; return the exit code."""
    asked = options(words)
    name = "facts" if asked.what == "write" else asked.what
    path = asked.file or FOLDER / f"{name}.jsonl"
    if asked.what == "facts":
        seeds = range(asked.first, asked.first + asked.count)
        survey(seeds, tuple(asked.winds or WINDS_KN), path, processes=asked.processes)
    if asked.what in {"facts", "write"}:
        written.write(path)
    if asked.what == "requests":
        asking.ask_many(asked.first, asked.count, path, processes=asked.processes)
        asking.DOC.write_text(asking.page(path), encoding="utf-8")
    if asked.what == "settings":
        settings_drawn.fly_many(asked.first, asked.count, path, processes=asked.processes)
        settings_drawn.DOC.write_text(settings_drawn.page(path), encoding="utf-8")
    if asked.what == "trims":
        trims.trim_all(tuple(asked.winds or trims.WINDS_KN), path, processes=asked.processes)
        trims.DOC.write_text(trims.page(path), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
