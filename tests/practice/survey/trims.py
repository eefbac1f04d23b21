"""The answers of `trim` of the school's boats over winds and courses, for a sailor to read."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from luffwright.app.answer import SailReading, TrimAnswer
from luffwright.app.request import Request
from luffwright.app.trim import trim
from luffwright.faces.words import degrees
from survey.facts_run import SCHOOL
from survey.run import ROOT, Row, finished, run, version

WINDS_KN = (4.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 24.0, 28.0)
COURSES: tuple[str | float, ...] = ("upwind", 60.0, 90.0, 120.0, 150.0)
COLUMNS = ("reef", "furl", "lead", "clew_hole", "sheet", "halyard", "backstay", "mainsheet",
           "traveller", "vang", "outhaul", "cunningham")  # fmt: skip
BUSY = 1.0
"""Share of the time from which a tuft in trouble is told [%]."""


def trimmed(job: Row) -> Row:
    """Return the answer of `trim` for a boat, wind and course, as plain values."""
    course = job["course"]
    request = Request(
        boat=str(job["boat"]), wind_kn=float(job["wind_kn"]),
        angle_deg=course if course == "upwind" else float(course),
    )  # fmt: skip
    answer = trim(request).answer
    boat, conditions = answer.boat, answer.conditions
    return {
        "status": answer.status,
        "reason": answer.reason,
        "angle_deg": round(conditions.angle_deg, 1),
        "apparent": [round(conditions.apparent_wind_kn, 1),
                     round(conditions.apparent_angle_deg, 0)],
        "speed_kn": round(boat.speed_kn, 2),
        "vmg_kn": round(boat.vmg_kn, 2),
        "heel_deg": round(boat.heel_deg, 1),
        "leeway_deg": round(boat.leeway_deg, 1),
        "helm_deg": None if boat.rudder_deg is None else round(boat.rudder_deg, 1),
        "marks": {name: it.mark for name, it in answer.controls.items()},
        "values": {name: it.value for name, it in answer.controls.items()},
        "shapes": {it.role: shape(it) for it in answer.sails},
        "tufts": {it.role: tufts(it) for it in answer.sails},
        "sag_pct": {name: it.sag_pct for name, it in answer.stays.items() if it.sag_pct},
        "limits": [it.text for it in answer.why if it.control in LIMITS],
        "cautions": [it.text for it in answer.cautions],
        "worth": worth(answer),
    }  # fmt: skip


LIMITS = ("heel", "helm", "margin", "load", "taut", "table")


def shape(sail: SailReading) -> str:
    """Return depth and twist of a sail, low to top."""
    depth = "/".join(f"{it.camber_pct:.0f}" for it in sail.levels)
    return f"{depth} % deep, twist {sail.levels[-1].twist_deg:.0f}°"


def tufts(sail: SailReading) -> str:
    """Return which share of the time tufts are in trouble, low/middle/top."""
    parts = []
    for word, shares in (
        ("inside lifts", [it.windward_lifting_pct for it in sail.levels]),
        ("outside stalls", [it.leeward_stalled_pct for it in sail.levels]),
        ("leech gone", [it.leech_stalled_pct for it in sail.levels[-1:]]),
    ):
        told = [it for it in shares if it is not None]
        if told and max(told) >= BUSY and (sail.role == "mainsail" or "leech" not in word):
            parts.append(f"{word} {'/'.join(f'{it:.0f}' for it in told)} %")
    return ", ".join(parts) or "stream"


def worth(answer: TrimAnswer) -> dict[str, float]:
    """Return what a step of each control loses at least, minutes an hour."""
    return {k: round(it.minutes_per_hour, 2) for k, it in answer.worth.items()
            if it.minutes_per_hour is not None}  # fmt: skip


def trim_all(winds: tuple[float, ...], path: Path, *, processes: int) -> None:
    """Trim the school's boats in all winds on all courses."""
    jobs = [
        {"boat": boat, "wind_kn": wind, "course": course}
        for wind in winds
        for course in COURSES
        for boat in SCHOOL
    ]
    run(jobs, trimmed, path, version(), processes=processes)


def page(path: Path) -> str:
    """Return the page: a table a boat and course."""
    rows = list(finished(path, version()))
    lines = [HEAD]
    for boat in SCHOOL:
        lines.append(f"\n## {boat.capitalize()}\n")
        for course in COURSES:
            found = [
                it for it in rows if it["job"]["boat"] == boat and it["job"]["course"] == course
            ]
            if found:
                lines += _table(course, sorted(found, key=lambda it: float(it["job"]["wind_kn"])))
    return "\n".join(lines) + "\n"


HEAD = """# What `trim` says

The school's boats, slight sea, steered by hand, as `trim` answers: written by `scripts/survey
trims`, to be read by people who sail. Tufts: share of the time in trouble, low/middle/top.
What a sailor would not nod at is listed in docs/survey.md."""


def _table(course: str | float, rows: list[Row]) -> Iterator[str]:
    title = "Upwind" if course == "upwind" else f"{course:.0f}° to the true wind"
    has = [name for name in COLUMNS if any(name in it["marks"] for it in rows)]
    names = [name.replace("_", " ") for name in has]
    yield f"\n### {title}\n"
    yield "| wind | speed, heel, helm | " + " | ".join(names) + " | headsail | mainsail | |"
    yield "|---" * (len(has) + 5) + "|"
    for it in rows:
        upwind = f" at {it['angle_deg']:.0f}°, made good {it['vmg_kn']:.2f}"
        helm = "" if it["helm_deg"] is None else f", {degrees(it['helm_deg'])}"
        way = f"{it['speed_kn']:.2f} kn{upwind if course == 'upwind' else ''}"
        sails = f"{way}, {degrees(it['heel_deg'])}{helm}"
        marks = " | ".join(it["marks"].get(name, "") for name in has)
        each = " | ".join(
            f"{it['shapes'].get(role, '')}; {it['tufts'].get(role, '')}"
            for role in ("headsail", "mainsail")
        )
        notes = "; ".join([*(["FAILED"] if it["status"] == "failed" else []), *it["limits"]])
        yield f"| {it['job']['wind_kn']:g} | {sails} | {marks} | {each} | {notes} |"


DOC = ROOT / "docs" / "trims.md"
