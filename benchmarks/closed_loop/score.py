"""What the cases of the closed loop say together."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np

NEAR = 0.015
WORSE = 0.003
BASELINES = ("nothing", "marks", "handbook")
BINS = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)
GAINED_KN = 0.02
DRAWS = 4000


def told(lines: list[dict[str, Any]]) -> str:
    """Return the scores as text."""
    drawn = [it for it in lines if it["drawn"]]
    out = [f"{len(drawn)} cases drawn, {len(lines) - len(drawn)} could not be"]
    for word, group in (
        ("faults that luff tufts can see", [it for it in drawn if not it["hidden"]]),
        ("only faults that luff tufts cannot see", [it for it in drawn if it["hidden"]]),
    ):
        if group:
            out += ["", f"{word}: {len(group)} cases", *_scores(group)]
    made = [move for it in drawn for move in it["made"]]
    return "\n".join([*out, "", *_moves(made)])


def _scores(group: list[dict[str, Any]]) -> list[str]:
    ends = {way: np.array([it[way] for it in group]) for way in (*BASELINES, "fix")}
    lost = {way: 1.0 - it for way, it in ends.items()}
    out = ["way        within 1.5 %   median loss left   median loss removed"]
    for way in (*BASELINES, "fix"):
        removed = 1.0 - lost[way] / lost["nothing"]
        out.append(
            f"{way:10s} {100 * np.mean(lost[way] <= NEAR):10.0f} %"
            f"   {100 * np.median(lost[way]):14.2f} %   {100 * np.median(removed):17.0f} %"
        )
    best = min(BASELINES, key=lambda way: float(np.mean(lost[way])))
    low, high = _more_removed(lost, best)
    out.append(
        f"fix removes {low:+.0f} to {high:+.0f} % more of the loss than {best} "
        "(paired bootstrap, 95 %)"
    )
    return out


def _more_removed(lost: dict[str, np.ndarray], best: str) -> tuple[float, float]:
    """Return the interval of how much more fix removes than the best baseline, in % of that."""
    draw, count = np.random.default_rng(0), len(lost["fix"])
    found = []
    for _ in range(DRAWS):
        k = draw.integers(0, count, count)
        begun = lost["nothing"][k].sum()
        other = begun - lost[best][k].sum()
        found.append(100.0 * ((begun - lost["fix"][k].sum()) / max(other, 1e-9) - 1.0))
    low, high = np.percentile(found, [2.5, 97.5])
    return float(low), float(high)


def _moves(made: list[dict[str, Any]]) -> list[str]:
    if not made:
        return ["no moves"]
    chance = np.array([it["chance"] for it in made])
    came = np.array([it["gained_kn"] >= GAINED_KN for it in made], dtype=float)
    worse = np.mean([it["share"] < -WORSE for it in made])
    out = [
        f"{len(made)} moves, {100 * worse:.1f} % made it worse by more than 0.3 %",
        f"Brier score {np.mean((chance - came) ** 2):.3f}",
        f"always telling the mean would score {np.mean((came.mean() - came) ** 2):.3f}",
        "chance told   moves   came true",
    ]
    for low, high in pairwise(BINS):
        inside = (chance >= low) & ((chance < high) | (high == 1.0))
        if inside.any():
            out.append(
                f"{low:.1f} to {high:.1f}   {inside.sum():6d}   told {chance[inside].mean():.2f}, "
                f"came {came[inside].mean():.2f}"
            )
    return out
