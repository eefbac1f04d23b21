"""All facts asked of boats in winds: one line a boat and wind."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from facts.listed import FACTS
from luffwright.app.picture import picture
from luffwright.app.report import fly_answer, sail_names
from luffwright.faces.draw.sheet import sheet
from survey.case import Case
from survey.run import ROOT, run, version

WINDS_KN = (12.0, 8.0, 18.0)
"""The middle one first: a run cut short says most by it."""
SCHOOL = ("marram", "dunlin", "eider")
Row = dict[str, Any]


def stamp() -> str:
    """Return the version of the physics and of what is asked of it."""
    return version(ROOT / "tests" / "practice" / "facts")


def asked(job: Row) -> Row:
    """Return what all facts say of a boat in a wind."""
    case = Case(str(job["boat"]), float(job["wind_kn"]))
    try:
        begun = begin(case)
    except (ArithmeticError, AssertionError, LookupError, RuntimeError, ValueError) as fault:
        return {"start": {"settled": False, "why": f"{type(fault).__name__}: {fault}"[:200]}}
    answers = [case.ask(fact) for fact in FACTS] if begun["settled"] else []
    against = any(it["status"] == "against" for it in answers)
    return {"start": begun, "answers": answers, "drawing": drawn(case) if against else ""}


def begin(case: Case) -> Row:
    """Return how the boat sails at her best to windward."""
    state = case.upwind
    stream, setting = state.flight.stream, state.setting
    return {
        "settled": state.settled,
        "note": state.asked.boat.note,
        "kind": state.asked.boat.hull.kind,
        "speed_kn": round(state.speed, 2),
        "angle_deg": round(float(np.degrees(stream.wind_angle)), 1),
        "heel_deg": round(float(np.degrees(state.heel)), 1),
        "helm_deg": round(float(np.degrees(state.helm)), 1),
        "controls": {it.name: round(setting.value(it.name), 3) for it in state.task.plan.controls},
    }


def drawn(case: Case) -> str:
    """Return the drawing of the boat at her best to windward."""
    state = case.upwind
    answer = fly_answer(state.asked, state.flight, state.boat)
    return sheet(answer, picture(state.asked, state.flight, sail_names(state.asked.boat)))


def survey(seeds: range, winds: tuple[float, ...], path: Path, *, processes: int) -> None:
    """Ask all facts of the school's boats and of the random boats of some seeds."""
    boats = [*SCHOOL, *(f"random {seed}" for seed in seeds)]
    jobs = [{"boat": boat, "wind_kn": wind} for wind in winds for boat in boats]
    run(jobs, asked, path, stamp(), processes=processes)
