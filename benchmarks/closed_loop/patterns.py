"""Pure patterns on random boats: python benchmarks/closed_loop/patterns.py 0 1 2 3"""

from __future__ import annotations

import sys

from case import TURNED, known_boat, wind_of

from luffwright.app.fix import fix
from luffwright.app.fix_answer import FixMove
from luffwright.app.sighting import FixRequest, SailTufts, Seen, Tufts

LEVELS = ("low", "middle", "top")
PATTERNS: dict[str, tuple[str, tuple[str, ...], dict[str, float]]] = {
    "T2 all outside stalled": ("leeward", LEVELS, {"sheet": 1.0}),
    "T3 all inside lifting": ("windward", LEVELS, {"sheet": -1.0}),
    "T4 upper inside lifting": ("windward", ("top",), {"lead": -1.0, "sheet": -1.0}),
    "T6 middle inside lifting": ("windward", ("middle",), {TURNED: 1.0}),
    "T6 middle outside stalled": ("leeward", ("middle",), {TURNED: -1.0}),
    "T7 lower inside lifting": ("windward", ("low",), {"lead": 1.0}),
    "T8 upper outside stalled": ("leeward", ("top",), {"lead": 1.0}),
}
"""Which side shows trouble where, and the sense in which practice moves what cures it."""
TOLD_AS = {"course": TURNED}
"""Names that differ in the answer."""


def seen(side: str, levels: tuple[str, ...]) -> Seen:
    def pair(level: str) -> Tufts:
        gone = level in levels
        return Tufts(
            windward="lifting" if gone and side == "windward" else "streaming",
            leeward="stalled" if gone and side == "leeward" else "streaming",
        )

    return Seen(headsail=SailTufts(low=pair("low"), middle=pair("middle"), top=pair("top")))


def told_of(seed: int, pattern: str) -> str:
    """Return how practice's cure stands in the answer: first, told, against, or not told."""
    side, levels, cures = PATTERNS[pattern]
    found, boat = known_boat(seed)
    names = {it.name for it in found.plot.axes}
    cures = {name: sense for name, sense in cures.items() if name in names}
    if not cures:
        return "has none"
    # T6 is about a boat whose ropes stand right.
    marks = {it.name: it.middle for it in found.plot.axes if it.kind == "control"}
    answer = fix(
        FixRequest(
            boat=boat,
            wind_kn=wind_of(seed),
            angle_deg="upwind",
            sea="slight",
            seen=(seen(side, levels),),
            controls=marks if pattern.startswith("T6") else {},
        )
    )
    return place(answer.moves, cures)


def place(moves: tuple[FixMove, ...], cures: dict[str, float]) -> str:
    """Return where the first move stands that does what practice says."""
    along = [
        (it.to - it.start) * cures.get(TOLD_AS.get(it.control, it.control), 0.0) for it in moves
    ]
    right = [k for k, it in enumerate(along) if it > 0.0]
    if right:
        return "first" if right[0] == 0 else "told"
    return "against" if any(it < 0.0 for it in along) else "not told"


def main() -> None:
    seeds = [int(text) for text in sys.argv[1:]]
    for pattern in PATTERNS:
        found = [told_of(seed, pattern) for seed in seeds]
        counts = {word: found.count(word) for word in dict.fromkeys(found)}
        print(f"{pattern:28s}", ", ".join(f"{word} {count}" for word, count in counts.items()))
        odd = [f"{seed} {it}" for seed, it in zip(seeds, found, strict=True) if it != "first"]
        print(f"{'':28s} {', '.join(odd)}", flush=True)


if __name__ == "__main__":
    main()
