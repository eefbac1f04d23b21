"""The closed loop: python benchmarks/closed_loop --boats 0 1 2 --cases 4 --out cases.jsonl"""

from __future__ import annotations

import argparse
import json
import sys
import time
from dataclasses import asdict
from pathlib import Path

from case import drawn, log_of
from score import told
from ways import by_fix, by_handbook, marks_of_trim, nothing


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--boats", type=int, nargs="+", required=True, help="seeds of the boats")
    parser.add_argument("--cases", type=int, default=4, help="mis-set cases of each boat")
    parser.add_argument("--first", type=int, default=0, help="number of the first case")
    parser.add_argument("--log", action="store_true", help="the crew of fix reads the log too")
    parser.add_argument("--out", type=Path, help="write, and go on from, one case a line")
    options = parser.parse_args()

    done = []
    if options.out and options.out.is_file():
        done = [json.loads(line) for line in options.out.read_text().splitlines()]
    known = {(it["boat"], it["case"]) for it in done}
    for seed in options.boats:
        for number in range(options.first, options.first + options.cases):
            if (seed, number) in known:
                continue
            began = time.perf_counter()
            try:
                case = drawn(seed, number)
            except Exception as fault:  # noqa: BLE001  # one boat must not end the run
                print(f"boat {seed}: {fault}", file=sys.stderr)
                break
            if case is None:
                line = {"boat": seed, "case": number, "drawn": False}
            else:
                fixed = by_fix(case, number, log_of(case, number) if options.log else None)
                line = {
                    "boat": seed,
                    "case": number,
                    "drawn": True,
                    "wrong": case.wrong,
                    "hidden": case.hidden,
                    "nothing": nothing(case).end,
                    "marks": marks_of_trim(case).end,
                    "handbook": by_handbook(case, number).end,
                    "fix": fixed.end,
                    "made": [asdict(it) for it in fixed.made],
                }
            done.append(line)
            if options.out:
                with options.out.open("a", encoding="utf-8") as file:
                    file.write(json.dumps(line) + "\n")
            print(
                f"boat {seed} case {number}: {time.perf_counter() - began:.0f} s", file=sys.stderr
            )
    print(told(done))


if __name__ == "__main__":
    main()
