"""Start states of random boats: trimmed as those of the school, at a held speed."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from facts.effect import LostError, UnfitError, answer
from facts.listed import fact
from luffwright.aboard.random_boat import random_boat
from luffwright.aboard.toml_text import toml_text
from luffwright.app.request import Request
from states import FULL, State, trimmed

SEEDS: tuple[int, ...] = tuple(range(60)) if FULL else (4, 7, 21, 37)
"""In the small sweep one of each kind: jib without a backstay, two hulls with a jib on cars, clew
board with a ram on the backstay, masthead genoa with turns on the backstay."""
WINDS = (8.0, 12.0, 18.0) if FULL else (8.0, 15.0)
ANGLE_DEG = {"monohull": 46.0, "catamaran": 50.0}
MOST_AGAINST = 0.05
"""Share of the cases told that may speak against a fact: boats drawn blindly may stand in a corner
where another effect is greater."""
FOLDER = tempfile.TemporaryDirectory()


@cache
def start(seed: int, wind_kn: float) -> State | None:
    """Return a random boat trimmed close-hauled; None where her sails do not settle."""
    table = random_boat(seed)
    path = Path(FOLDER.name) / f"random_{seed}.toml"
    path.write_text(toml_text(table), encoding="utf-8")
    angle = ANGLE_DEG[table["boat"]["kind"]]
    state = trimmed(Request(boat=str(path), wind_kn=wind_kn, angle_deg=angle))
    return state if state.flight.settled else None


def starts(*, needs: str = "") -> Iterator[tuple[str, State]]:
    """Yield the start states that settled, of the boats that have the control."""
    for seed in SEEDS:
        for wind in WINDS:
            state = start(seed, wind)
            if state is not None and (not needs or state.has(needs)):
                yield f"seed {seed} {wind:g} kn", state


@dataclass
class Told:
    """What the cases say to a fact."""

    shown: int = 0
    small: int = 0
    lost: int = 0
    against: list[str] = field(default_factory=list)

    def add(self, case: str, status: str, text: str) -> None:
        """Count a case by what was answered: `text` is its figures."""
        self.shown += status == "holds"
        self.small += status == "too small"
        self.lost += status == "not settled"
        if status == "against":
            self.against.append(f"{case}: {text}")

    @property
    def summary(self) -> str:
        """Return the counts in words."""
        return (
            f"shown {self.shown}, against {len(self.against)}, too small to tell {self.small}, "
            f"not settled after the change {self.lost}; against: {self.against}"
        )


def told(name: str) -> Told:
    """Return what all start states say to a fact of the list."""
    out, asked = Told(), fact(name)
    for case, state in starts():
        try:
            effects = asked.ask(state)
        except UnfitError:
            continue
        except LostError:
            out.lost += 1
            continue
        out.add(case, answer(effects), "; ".join(it.text for it in effects))
    return out


def held(found: Told) -> None:
    """Fail where more than a few boats contradict the fact, or too few show it."""
    count = found.shown + len(found.against)
    assert found.shown >= (15 if FULL else 2), found.summary
    assert len(found.against) <= (MOST_AGAINST * count if FULL else 0), found.summary
