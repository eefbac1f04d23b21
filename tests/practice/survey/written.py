"""The survey's page: what each fact came to on how many boats, and its worst cases, drawn."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from facts.listed import FACTS, Fact
from survey.facts_run import SCHOOL, stamp
from survey.run import ROOT, finished

PAGE = ROOT / "docs" / "survey.md"
PICTURES = ROOT / "docs" / "pictures" / "survey"
BEGIN, END = "<!-- survey -->", "<!-- end of survey -->"
MOST_PICTURES, MOST_BYTES = 10, 60_000
ENOUGH = 15
"""Cases of random boats that a fact needs to be called shown."""
MOST_AGAINST = 0.05
Row = dict[str, Any]


@dataclass(frozen=True)
class Case:
    """What one boat in one wind says to one fact."""

    boat: str
    wind_kn: float
    answer: Row
    row: Row

    @property
    def name(self) -> str:
        """Return the case in words."""
        return f"{self.boat} {self.wind_kn:g} kn"

    @property
    def text(self) -> str:
        """Return the figures."""
        return "; ".join(str(it["text"]) for it in self.answer.get("effects", ()))

    @property
    def worst(self) -> float:
        """Return how far it goes the wrong way, in least effects that count."""
        return min((it["change"] / (it["least"] or 1.0) for it in self.answer["effects"]),
                   default=0.0)  # fmt: skip


def cases(rows: list[Row], fact: Fact) -> list[Case]:
    """Return what all boats say to a fact."""
    return [
        Case(row["job"]["boat"], row["job"]["wind_kn"], answer, row)
        for row in rows
        for answer in row.get("answers", ())
        if answer["fact"] == fact.name
    ]


@dataclass(frozen=True)
class Counted:
    """A fact's counts over the random boats, and the case that speaks most against it."""

    fact: Fact
    told: Counter[str]
    worst: Case | None

    @property
    def count(self) -> int:
        """Return how many cases tell yes or no."""
        return self.told["holds"] + self.told["against"]

    @property
    def word(self) -> str:
        """Return what is to be said of the fact."""
        if self.fact.kind == "report":
            return "reported"
        if not self.count:
            return "not told"
        few = self.told["against"] <= MOST_AGAINST * self.count
        if not few:
            return "**does not hold**"
        return "shown" if self.told["holds"] >= ENOUGH else "holds, too few cases"


def counted(fact: Fact, found: list[Case]) -> Counted:
    """Return a fact's counts."""
    against = [it for it in found if it.answer["status"] == "against"]
    worst = min(against, key=lambda it: it.worst, default=None)
    return Counted(fact, Counter(it.answer["status"] for it in found), worst)


def _random(found: list[Case]) -> list[Case]:
    return [it for it in found if it.boat not in SCHOOL]


def overview(all_counts: list[Counted]) -> Iterator[str]:
    """Yield the table of all facts."""
    yield "| fact | says | | holds | against | too small | not settled | n/a | worst case |"
    yield "|---" * 9 + "|"
    for it in all_counts:
        told = it.told
        share = f"{told['holds']} ({100 * told['holds'] / it.count:.0f} %)" if it.count else "0"
        worst = f"{it.worst.name}: {it.worst.text}" if it.worst else ""
        lost = told["not settled"] + told["broke"]
        cells = (it.fact.name, it.fact.says, it.word, share, told["against"], told["too small"],
                 lost, told["not applicable"], worst)  # fmt: skip
        yield "| " + " | ".join(str(cell) for cell in cells) + " |"


def reports(rows: list[Row]) -> Iterator[str]:
    """Yield what the facts that are only reported come to, boat by boat."""
    for fact in FACTS:
        if fact.kind == "report":
            yield f"\n### {fact.name}: {fact.says}\n"
            told = [it for it in cases(rows, fact) if it.answer["status"] != "not asked"]
            settled = [it for it in told if "effects" in it.answer]
            ways = Counter(_words(it.answer["status"]) for it in settled)
            yield ", ".join(f"{word} in {count}" for word, count in ways.most_common()) + ".\n"
            for it in sorted(settled, key=lambda it: (it.boat not in SCHOOL, it.boat, it.wind_kn)):
                yield f"- {it.name}: {_words(it.answer['status'])}: {it.text}"


def _words(status: str) -> str:
    return {"holds": "yes", "against": "no", "too small": "too small to tell"}.get(status, status)


def school(rows: list[Row]) -> Iterator[str]:
    """Yield what speaks against a fact that has to come out, on the school's boats."""
    for fact in FACTS:
        for it in cases(rows, fact) if fact.kind == "must" else ():
            if it.boat in SCHOOL and it.answer["status"] == "against":
                yield f"- {fact.name} ({fact.says}): {it.name}: {it.text}"


def boats(rows: list[Row]) -> Iterator[str]:
    """Yield the boats asked, and how they sail at their best to windward."""
    yield "| boat | | wind | speed | to the true wind | heel | helm | reef, roll |"
    yield "|---" * 8 + "|"
    for row in sorted(rows, key=lambda it: (it["job"]["boat"], it["job"]["wind_kn"])):
        job, start = row["job"], row["start"]
        if "speed_kn" not in start:
            yield f"| {job['boat']} | {start.get('why', '')} | {job['wind_kn']:g} kn" + " | " * 6
            continue
        less = [start["controls"].get(name, 0.0) for name in ("reef", "furl")]
        state = "" if start["settled"] else " NOT SETTLED"
        yield (
            f"| {job['boat']} | {start['note']} | {job['wind_kn']:g} kn{state} "
            f"| {start['speed_kn']} kn | {start['angle_deg']}° | {start['heel_deg']}° "
            f"| {start['helm_deg']}° | {less[0]:g}, {less[1]:g} |"
        )


def pictures(all_counts: list[Counted]) -> Iterator[str]:
    """Draw the worst cases of the facts that do not hold, and yield where they are."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    for old in PICTURES.glob("*.svg"):
        old.unlink()
    named: dict[str, list[str]] = {}
    for it in all_counts:
        drawing = it.worst.row.get("drawing", "") if it.worst else ""
        if not drawing or it.fact.kind != "must" or len(drawing) > MOST_BYTES:
            continue
        assert it.worst is not None
        name = f"{it.worst.name.replace(' ', '_')}.svg"
        if name not in named and len(named) >= MOST_PICTURES:
            continue
        (PICTURES / name).write_text(drawing, encoding="utf-8")
        named.setdefault(name, []).append(it.fact.name)
    for name, names in named.items():
        yield f"- [{name.removesuffix('.svg').replace('_', ' ')}](pictures/survey/{name}): " + (
            ", ".join(names)
        )


def page(rows: list[Row]) -> str:
    """Return what stands between the marks of the page."""
    drawn = [row for row in rows if row["job"]["boat"] not in SCHOOL]
    counts = [counted(fact, _random(cases(rows, fact))) for fact in FACTS]
    seeds = len({row["job"]["boat"] for row in drawn})
    settled = sum(bool(row["start"].get("settled")) for row in drawn)
    title = (
        f"{seeds} random boats, {len(drawn)} cases of a boat in a wind, of which {settled} settle "
        f"at the best trim; version {stamp()}, {sum(it['seconds'] for it in rows) / 60:.0f} "
        "minutes of one core."
    )
    lines = [
        title,
        "",
        *overview(counts),
        "",
        "Worst cases of what does not come out, drawn at the best trim, before the change:",
        "",
        *pictures(counts),
        "",
        "## The school's boats: what speaks against a fact",
        "",
        *school(rows),
        "",
        "## What the reported facts come to",
        *reports(rows),
        "",
        "## The boats asked",
        "",
        *boats(rows),
    ]
    return "\n".join(lines)


def write(path: Path) -> None:
    """Bring the page up to date; what is written by hand around the marks stays."""
    rows = list(finished(path, stamp()))
    before, _, rest = PAGE.read_text(encoding="utf-8").partition(BEGIN)
    after = rest.partition(END)[2]
    PAGE.write_text(f"{before}{BEGIN}\n{page(rows)}\n{END}{after}", encoding="utf-8")
