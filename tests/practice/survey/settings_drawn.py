"""Settings drawn blindly, from hard in to flogging: all are answered; of some a second opinion.

The opinion is that of sails that drift through syrup from their moulded shape, with no tangent of
the air and no mean surface: where they come to rest there is a steady balance, to be found.
"""

from __future__ import annotations

import json
import math
import random
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from luffwright.aboard.boat import load_boat
from luffwright.app.fly import flown
from luffwright.app.question import MESH, Question, guessed, question
from luffwright.app.report import fly_answer
from luffwright.app.request import Request
from luffwright.errors import InputError
from luffwright.sails.damped import drift
from luffwright.sails.flight import Flight, FlightSolver, sail_lattice
from luffwright.sails.rigging import rig
from survey.asking import BOATS, numbers
from survey.case import boat_file
from survey.facts_run import SCHOOL
from survey.run import ROOT, Row, finished, run, version

ANGLE_DEG, WIND_KN = (30.0, 180.0), (3.0, 35.0)
JUDGED_EVERY = 10
"""Of so many states one is judged by its drift: 300 of 3,000."""
DRIFT_STEPS = 150
APART = 0.01
"""Of the mainsail's luff: farther apart than this a drift rests in another balance. It stops where
forces balance, in soft cloth some way before it is there."""
REDUCED = ("reef", "furl", "main_furl")
COUNTED = ("reef", "clew_hole")
MISSED = "rests, not found"


def drawn(seed: int) -> Row:
    """Return the request of a seed: boat, wind, motion held, and where in its travel each control
    stands: half of them anywhere, half within a fifth of the travel from a first guess.
    """
    draw = random.Random(1_000_000 + seed)  # noqa: S311  # no secret: the same on every machine
    boat = draw.choice(SCHOOL) if draw.random() < 0.5 else f"random {draw.randrange(BOATS)}"
    request: Row = {
        "boat": boat,
        "wind_kn": round(draw.uniform(*WIND_KN), 1),
        "angle_deg": round(draw.uniform(*ANGLE_DEG), 1),
        "speed_kn": round(draw.uniform(1.0, 7.0), 1),
        "heel_deg": round(draw.uniform(0.0, 25.0), 1),
        "leeway_deg": round(draw.uniform(1.0, 6.0), 1),
    }
    plan = load_boat(boat_file(boat)).plan
    guess = guessed(plan, question(Request(**request | {"boat": boat_file(boat)})).stream)
    controls: dict[str, float] = {}
    for control in plan.controls:
        anywhere, place, reduced = draw.random() < 0.5, draw.random(), draw.random() < 0.3
        near = getattr(guess, control.name, None)
        if control.name == "pole" or (control.name in REDUCED and not reduced):
            continue
        low, high = control.low, control.high
        if near is not None and not anywhere:
            fifth = 0.2 * (high - low)
            low, high = max(low, near - fifth), min(high, near + fifth)
        value = low + place * (high - low)
        controls[control.name] = round(value) if control.name in COUNTED else round(value, 3)
    return request | {"controls": controls}


def opinion(solver: FlightSolver, flight: Flight, luff: float) -> str:
    """Return what the drift says of a flight: does not rest, rests there, or elsewhere.

    `solver` has the same ropes, cloth and wind, `luff` is the mainsail's [m]. Where cloth rests,
    the mean surface of one that flutters is no answer.
    """
    drifted = drift(solver, limit=DRIFT_STEPS)
    if not drifted.rests:
        return "does not rest"
    if not flight.settled or flight.flutters:
        return MISSED
    cloth = slice(0, solver.rigging.sail_nodes)
    there = solver.structure(drifted.unknowns).places[cloth]
    apart = float(abs(flight.places[cloth] - there).max())
    return "rests there" if apart < APART * luff else "rests elsewhere"


def judged(asked: Question, flight: Flight) -> str:
    """Return what the drift says of the flight of a question."""
    plan = asked.boat.plan
    rigging = rig(plan, asked.setting, MESH, asked.sheet_zero)
    air = sail_lattice(plan, MESH)
    solver = FlightSolver(rigging, air, asked.stream, asked.density)
    return opinion(solver, flight, plan.mainsail.luff)


def answered(job: Row) -> Row:
    """Return the status of the answer to a seed's state, and what the drift says of it."""
    seed = int(job["seed"])
    fields = drawn(seed)
    told: Row = {"request": fields}
    try:
        asked = question(Request(**fields | {"boat": boat_file(fields["boat"])}))
        flight = flown(asked)
        answer = fly_answer(asked, flight, None)
        whole = all(map(math.isfinite, numbers(answer.as_json()))) and bool(answer.reason)
        told |= {
            "status": answer.status if whole else "not finite",
            "reason": answer.reason[:200],
        }
        if seed % JUDGED_EVERY == 0:
            told["drift"] = judged(asked, flight)
    except InputError as refusal:
        return told | {"status": "refused", "reason": str(refusal)[:200]}
    except Exception as fault:  # noqa: BLE001  # whatever is raised is what is looked for
        return told | {"status": "raised", "reason": f"{type(fault).__name__}: {fault}"[:300]}
    return told


def fly_many(first: int, count: int, path: Path, *, processes: int) -> None:
    """Fly the states of so many seeds."""
    run([{"seed": seed} for seed in range(first, first + count)], answered, path, version(),
        processes=processes)  # fmt: skip


def _counts(title: str, found: Iterable[str]) -> list[str]:
    count = Counter(found)
    lines = [f"| {word} | {many} |" for word, many in count.most_common()]
    return [f"| {title} | states |", "|---|---:|", *lines, ""]


def page(path: Path) -> str:
    """Return the page: what was answered so far, and what the drift says of it."""
    rows = list(finished(path, version()))
    lines = [HEAD, "", *_counts("answer", (row["status"] for row in rows))]
    told = [row for row in rows if "drift" in row]
    lines += _counts("drift", (row["drift"] for row in told))
    rests = [row for row in told if row["drift"].startswith("rests")]
    found = [row for row in rests if row["drift"] != MISSED]
    if rests:
        lines.append(f"Of {len(rests)} that rest {len(found)} are found "
                     f"({100 * len(found) / len(rests):.1f} %).")  # fmt: skip
    seconds = sum(row["seconds"] for row in rows) / max(len(rows), 1)
    lines += [f"Mean process time {seconds:.1f} s, the drift of every tenth counted.", ""]
    odd = [row for row in rows if row["status"] in {"raised", "not finite"}]
    odd += [row for row in rests if row["drift"] != "rests there"]
    lines += ["Raised, not finite, or resting elsewhere:", ""]
    lines += [
        f"- seed {it['job']['seed']}: {it['status']}, {it.get('drift', 'not judged')}: "
        f"{it['reason']} `{json.dumps(it['request'])}`"
        for it in odd
    ]
    return "\n".join(lines) + "\n"


HEAD = """# Settings drawn blindly

Boats, winds from 3 to 35 kn, courses from 30 to 180° and every control anywhere in its travel or
near a first guess, speed, heel and leeway held, as `scripts/survey settings` has drawn them: each
has to be answered with a status. *Failed* is an answer too. Every tenth is judged by sails that
drift through syrup: where they rest there is a steady balance, and it has to be found."""
DOC = ROOT / "docs" / "settings.md"
