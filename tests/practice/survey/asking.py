"""Requests drawn blindly: any verb, boat, course, wind and sea; every one has to be answered."""

from __future__ import annotations

import json
import math
import random
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from luffwright.app.answer import FlyAnswer
from luffwright.app.batch import asked as read
from luffwright.app.fly import fly
from luffwright.app.trim import trim
from luffwright.errors import InputError
from survey.case import boat_file
from survey.facts_run import SCHOOL
from survey.run import ROOT, Row, finished, run, version

BOATS = 40
"""Random boats that are asked of."""
WIND_KN, ANGLE_DEG = (3.0, 35.0), (35.0, 180.0)
WIND_BANDS, ANGLE_BANDS = (3, 8, 14, 20, 27, 36), (35, 60, 80, 110, 140, 165, 181)
SEAS = ("flat", "slight", "moderate", "rough")
VERBS: dict[str, Callable[..., Any]] = {"fly": fly, "trim": trim}


def drawn(seed: int) -> Row:
    """Return the request of a seed."""
    draw = random.Random(seed)  # noqa: S311  # no secret: the same request on every machine
    random_boat = f"random {draw.randrange(BOATS)}"
    boat = draw.choice(SCHOOL) if draw.random() < 0.5 else random_boat
    angle: float | str = round(draw.uniform(*ANGLE_DEG), 1) * draw.choice((1.0, -1.0))
    if draw.random() < 0.1:
        angle = draw.choice(("upwind", "downwind"))
    request: Row = {
        "verb": draw.choice(("fly", "trim")),
        "boat": boat,
        "wind_kn": round(draw.uniform(*WIND_KN), 1),
        "angle_deg": angle,
        "sea": draw.choice(SEAS),
        "steered_by": draw.choice(("hand", "pilot", "vane")),
    }
    if draw.random() < 0.2:
        request["speed_kn"] = round(draw.uniform(2.0, 8.0), 1)
    if draw.random() < 0.2:
        request["gust_kn"] = round(request["wind_kn"] * draw.uniform(1.05, 1.5), 1)
    if request["verb"] == "trim" and draw.random() < 0.15:
        request["aim"] = "easy"
    return request


def numbers(value: object) -> Iterator[float]:
    """Yield all numbers of an answer."""
    match value:
        case float():
            yield value
        case dict():
            for inner in value.values():
                yield from numbers(inner)
        case list() | tuple():
            for inner in value:
                yield from numbers(inner)


def answered(job: Row) -> Row:
    """Return the status of the answer to a seed's request, or what is wrong with it."""
    fields = drawn(int(job["seed"]))
    verb = str(fields.pop("verb"))
    told = {"verb": verb, "request": dict(fields)}
    fields["boat"] = boat_file(fields["boat"])
    try:
        answer: FlyAnswer = VERBS[verb](read(fields)).answer
    except InputError as refusal:
        return told | {"status": "refused", "reason": str(refusal)[:200]}
    except Exception as fault:  # noqa: BLE001  # whatever is raised is what is looked for
        return told | {"status": "raised", "reason": f"{type(fault).__name__}: {fault}"[:300]}
    whole = all(map(math.isfinite, numbers(answer.as_json())))
    status = answer.status if whole and answer.reason else "not finite"
    found = {"kind": kind_of(fields["boat"]), "speed_kn": round(answer.boat.speed_kn, 2)}
    return told | found | {"status": status, "reason": answer.reason[:200]}


def kind_of(boat: str) -> str:
    """Return whether a boat has one hull or two."""
    from luffwright.aboard.boat import load_boat  # noqa: PLC0415  # only for the counts

    return "two hulls" if load_boat(boat).kind == "catamaran" else "one hull"


def ask_many(first: int, count: int, path: Path, *, processes: int) -> None:
    """Answer the requests of so many seeds."""
    run([{"seed": seed} for seed in range(first, first + count)], answered, path, version(),
        processes=processes)  # fmt: skip


def _band(value: float, ends: tuple[int, ...]) -> str:
    place = sum(value >= end for end in ends) - 1
    return f"{ends[place]} to {ends[place + 1] - (1 if place == len(ends) - 2 else 0)}"


def groups(row: Row) -> Iterator[tuple[str, str]]:
    """Yield the groups that a request belongs to."""
    request = row["request"]
    angle = request["angle_deg"]
    yield "all", "all"
    yield "verb", row["verb"]
    yield "boats", "random" if request["boat"].startswith("random") else "the school's"
    yield "hulls", row.get("kind", "refused or raised")
    word = angle if isinstance(angle, str) else f"{_band(abs(angle), ANGLE_BANDS)}°"
    yield "true wind angle", word
    yield "wind", f"{_band(request['wind_kn'], WIND_BANDS)} kn"
    yield "sea", request["sea"]
    yield "speed", "held" if "speed_kn" in request else "solved"


STATUSES = ("converged", "luffing", "stalled", "failed", "refused", "raised", "not finite")


def table(rows: list[Row]) -> str:
    """Return the counts by status, of all and by group, with the mean process time."""
    counts: dict[tuple[str, str], Counter[str]] = {}
    seconds: dict[tuple[str, str], list[float]] = {}
    for row in rows:
        for group in groups(row):
            counts.setdefault(group, Counter())[row["status"]] += 1
            seconds.setdefault(group, []).append(row["seconds"])
    lines = [f"| | | asked | {' | '.join(STATUSES)} | mean [s] |", "|---" * 11 + "|"]
    for group in sorted(counts, key=lambda it: (it[0] != "all", it[0], _order(it[1]))):
        found, times = counts[group], seconds[group]
        told = " | ".join(str(found[status] or "") for status in STATUSES)
        mean = sum(times) / len(times)
        lines.append(f"| {group[0]} | {group[1]} | {found.total()} | {told} | {mean:.1f} |")
    return "\n".join(lines)


def _order(word: str) -> tuple[float, str]:
    first = word.split(maxsplit=1)[0]
    return (float(first), "") if first.isdecimal() else (1e9, word)


def page(path: Path) -> str:
    """Return the page: the requests answered so far, and those that did not come out."""
    rows = list(finished(path, version()))
    bad = [row for row in rows if row["status"] in {"raised", "not finite", "refused"}]
    lines = [HEAD, "", table(rows), "", "Raised, refused or not finite:", ""]
    lines += [f"- seed {it['job']['seed']}: {it['status']}: {it['reason']}" for it in bad]
    lines += ["", "Failed, the first twenty:", ""]
    failed = [row for row in rows if row["status"] == "failed"]
    for it in failed[:20]:
        asked = json.dumps({"verb": it["verb"], **it["request"]})
        lines.append(f"- seed {it['job']['seed']}: {it['reason']} `{asked}`")
    return "\n".join(lines) + "\n"


HEAD = """# Requests drawn blindly

Any verb, boat, course from 35 to 180°, wind from 3 to 35 kn and sea, as `scripts/survey requests`
has drawn them: each has to be answered with a status, or refused in a sentence; none may raise, and
no answer may hold what is not a number. *Failed* is an answer too: it says what did not settle.
Times are process times of one core."""
DOC = ROOT / "docs" / "requests.md"
