"""Jobs worked on all cores, each written down when it is done, so that a run can be taken up."""

from __future__ import annotations

import hashlib
import json
import multiprocessing
import os
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[3]
ROOMS = ("air", "sails", "water", "advice", "aboard", "app")
Row = dict[str, Any]
Job = dict[str, Any]


def version(*more: Path) -> str:
    """Return a short name of the physics as it stands, and of `more` folders that matter: finished
    work of another one is not kept.
    """
    told = hashlib.sha256()
    for folder in (*(ROOT / "src" / "luffwright" / room for room in ROOMS), *more):
        for path in sorted(folder.rglob("*.py")):
            told.update(path.read_bytes())
    return told.hexdigest()[:10]


def finished(path: Path, now: str) -> Iterator[Row]:
    """Yield the lines of a file that are of a version; a torn one is left out."""
    for line in path.read_text(encoding="utf-8").splitlines() if path.exists() else ():
        try:
            row = json.loads(line)
        except json.JSONDecodeError:
            continue
        if row.get("version") == now:
            yield row


def run(
    jobs: Iterable[Job], work: Callable[[Job], Row], path: Path, now: str, *, processes: int = 0
) -> None:
    """Do the jobs that the file lacks in this version, each a line as soon as it is done."""
    path.parent.mkdir(parents=True, exist_ok=True)
    done = {json.dumps(row["job"]) for row in finished(path, now)}
    left = [job for job in jobs if json.dumps(job) not in done]
    count = processes or os.cpu_count() or 1
    # Started afresh, because compiled code with threads does not survive a fork.
    fresh = multiprocessing.get_context("spawn")
    with path.open("a", encoding="utf-8") as out, fresh.Pool(count, _alone) as pool:
        for number, row in enumerate(pool.imap_unordered(_Worker(work), left), start=1):
            out.write(json.dumps(row | {"version": now}, ensure_ascii=False) + "\n")
            out.flush()
            words = " ".join(str(it) for it in row["job"].values())
            sys.stderr.write(f"{number}/{len(left)} {words}: {row['seconds']:.0f} s\n")


class _Worker:
    """A job's work with its process time."""

    def __init__(self, work: Callable[[Job], Row]) -> None:
        self.work = work

    def __call__(self, job: Job) -> Row:
        began = time.process_time()
        row = self.work(job)
        return {"job": job} | row | {"seconds": round(time.process_time() - began, 2)}


def _alone() -> None:
    """Keep a worker to one thread: the others fill the remaining cores."""
    for library in ("NUMBA", "OMP", "OPENBLAS"):
        os.environ[f"{library}_NUM_THREADS"] = "1"
