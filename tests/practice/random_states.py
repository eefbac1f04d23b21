"""Start states of random boats: trimmed as those of the school, at a held speed."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import numpy as np
from states import FULL, State, Verdict, trimmed

from luffwright.aboard.random_boat import random_boat
from luffwright.aboard.toml_text import toml_text
from luffwright.app.request import Request
from luffwright.sails.measure import leech_gap

SEEDS: tuple[int, ...] = tuple(range(60)) if FULL else (4, 7, 21, 37)
"""In the small sweep one of each kind: jib without a backstay, two hulls with a jib on cars, clew
board with a ram on the backstay, masthead genoa with turns on the backstay."""
WINDS = (8.0, 12.0, 18.0) if FULL else (8.0, 15.0)
ANGLE_DEG = {"monohull": 46.0, "catamaran": 50.0}
MOST_AGAINST = 0.05
"""Share of the cases told that may speak against a fact: boats drawn blindly may stand in a corner
where another effect is greater."""
CLEAR = 0.05
"""A leech nearer to the spreader is held by it and not by the lead [m]."""
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

    def add(self, case: str, parts: list[Verdict] | None) -> None:
        """Count a case: None where the sails did not settle after the change."""
        if parts is None:
            self.lost += 1
        elif False in parts:
            self.against.append(case)
        elif None in parts:
            self.small += 1
        else:
            self.shown += 1

    @property
    def summary(self) -> str:
        """Return the counts in words."""
        return (
            f"shown {self.shown}, against {len(self.against)}, too small to tell {self.small}, "
            f"not settled after the change {self.lost}; against: {self.against}"
        )


def told(
    verdicts: Callable[[State], list[Verdict] | None], *, needs: str = "", resheeted: bool = False
) -> Told:
    """Return what all start states say; `resheeted`: only with the leech clear of the spreader."""
    out = Told()
    for case, state in starts(needs=needs):
        clear = opened(state) if resheeted else state
        if clear is not None:
            out.add(case, verdicts(clear))
    return out


def opened(state: State) -> State | None:
    """Return the state with its leech clear of the spreader; None where it is not."""
    now = state.fly(sheet=0.06) if leech_gap(state.flight) < CLEAR else state
    return now if now.flight.settled and leech_gap(now.flight) > 0.5 * CLEAR else None


def held(found: Told) -> None:
    """Fail where more than a few boats contradict the fact, or too few show it."""
    count = found.shown + len(found.against)
    assert found.shown >= (15 if FULL else 2), found.summary
    assert len(found.against) <= (MOST_AGAINST * count if FULL else 0), found.summary


def middle_camber(before: State, after: State) -> float:
    """Return the change of the headsail's camber half-way up, a share of the chord."""
    return after.section(0, "middle").camber - before.section(0, "middle").camber


def low_camber(before: State, after: State, sail: int = 0) -> float:
    """Return the change of a sail's camber low down, a share of the chord."""
    return after.section(sail, "low").camber - before.section(sail, "low").camber


def twist(before: State, after: State) -> float:
    """Return the change of the headsail's twist at the top [rad]."""
    return after.section(0, "top").twist - before.section(0, "top").twist


def settled(*states: State) -> bool:
    """Return whether all the sails of all states settled."""
    return all(state.flight.settled for state in states)


def rising(values: np.ndarray) -> bool:
    """Return whether each value is more than the one before."""
    return bool(np.all(np.diff(values) > 0.0))
