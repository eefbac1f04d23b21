"""Print where the time of one flight goes, from nothing and from a neighbour.

`python benchmarks/where_time_goes.py [BOAT]`; own time by function, the slowest first.
"""

from __future__ import annotations

import cProfile
import pstats
import sys
from collections.abc import Callable
from pathlib import Path

# The package first: it sees to the threads of NumPy's libraries.
from luffwright.app.question import MESH, question
from luffwright.app.request import Request
from luffwright.sails.flight import Flight, fly

SHOWN = 14
STEP = 0.04


def name_of(place: tuple[str, int, str]) -> str:
    """Return a function as it is shown: its file within the program, and its name."""
    file, _, function = place
    if file == "~":
        return function.strip("<>")
    parts = Path(file).parts
    inside = parts[parts.index("luffwright") + 1 :] if "luffwright" in parts else parts[-2:]
    return f"{'/'.join(inside)}: {function}"


def show(title: str, work: Callable[[], Flight]) -> Flight:
    """Return what the work returns, after its own times are printed."""
    watch = cProfile.Profile()
    flight = watch.runcall(work)
    stats = pstats.Stats(watch)
    # (calls, calls without recursion, own time, time with what it calls, callers) by function
    rows = sorted(stats.stats.items(), key=lambda row: -row[1][2])  # type: ignore[attr-defined]
    whole = sum(entry[2] for _, entry in rows)
    state = "settled" if flight.settled else "not settled"
    print(f"\n{title}: {1e3 * whole:.0f} ms under the profiler, {flight.steps} steps, {state}\n")
    print("|  own ms | share | calls | with its calls ms | function |\n|---:|---:|---:|---:|---|")
    for place, (calls, _, own, total, _) in rows[:SHOWN]:
        print(
            f"| {1e3 * own:.1f} | {own / whole:.0%} | {calls} | {1e3 * total:.1f} "
            f"| {name_of(place)} |"
        )
    return flight


def main(boat: str) -> None:
    """Fly one boat close-hauled in 12 knots."""
    asked = question(Request(boat=boat, wind_kn=12.0, angle_deg=48.0))
    eased = asked.setting.changed(sheet=asked.setting.sheet + STEP)

    def flown(near: Flight | None) -> Flight:
        setting = asked.setting if near is None else eased
        return fly(
            asked.boat.plan, setting, asked.stream, asked.sheet_zero,
            mesh=MESH, density=asked.density, near=near,
        )  # fmt: skip

    flown(flown(None))  # compiled before anything is timed
    cold = show(f"{asked.boat.name}, from nothing", lambda: flown(None))
    show(f"{asked.boat.name}, sheet eased by {100 * STEP:.0f} cm", lambda: flown(cold))


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else "marram")
