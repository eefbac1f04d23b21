"""Samples kept between calls: one file for each boat and condition, in the user's cache folder."""

from __future__ import annotations

import hashlib
import json
import os
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any
from zipfile import BadZipFile

import numpy as np

from luffwright.advice.doubt import Axis, Kind
from luffwright.advice.effects import Effects
from luffwright.advice.emulator import Slants, Smooth
from luffwright.advice.readings import NAMES
from luffwright.advice.sample import Plot, Sample
from luffwright.app.request import Request
from luffwright.sails.setting import CONTROL_NAMES, Setting

LATER = ("emulator.py", "posterior.py", "decision.py", "lasting.py")
"""What comes after a sample and does not change it."""
FOLDER = "LUFFWRIGHT_STORE"
"""Names another folder for the samples."""


def folder() -> Path:
    """Return where samples are kept."""
    named = os.environ.get(FOLDER)
    if named:
        return Path(named)
    usual = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    return (Path(usual) if usual else Path.home() / ".cache") / "luffwright"


@cache
def _program() -> str:
    """Return a mark of the program itself: other physics, other samples."""
    found = hashlib.sha256()
    for path in sorted(Path(__file__).parents[1].rglob("*.py")):
        physics = path.parent.name in ("air", "sails", "water", "advice", "aboard")
        if physics and path.name not in LATER:
            found.update(path.read_bytes())
    return found.hexdigest()


def key_of(request: Request, boat: object) -> str:
    """Return the name of the sample of a boat in a condition."""
    fields = json.dumps(request.model_dump(mode="json", exclude={"boat"}), sort_keys=True)
    text = f"{_program()} {boat!r} {fields}"
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def kept(key: str) -> tuple[Plot, Sample, tuple[Smooth, ...]] | None:
    """Return a sample that is kept, if there is one that can be read."""
    try:
        with np.load(folder() / f"{key}.npz", allow_pickle=False) as file:
            return _read({name: file[name] for name in file.files})
    except (OSError, ValueError, KeyError, BadZipFile):
        return None


def _read(file: dict[str, Any]) -> tuple[Plot, Sample, tuple[Smooth, ...]]:
    names = json.loads(str(file["names"]))
    axes = tuple(
        _axis(name, kind, *map(float, row))
        for (name, kind), row in zip(names["axes"], file["axes"], strict=True)
    )
    row = zip(CONTROL_NAMES, file["setting"], strict=True)
    setting = Setting(**{name: float(it) for name, it in row if not np.isnan(it)})
    done = Effects(tuple(names["done"]), file["done"])
    plot = Plot(setting, float(file["course"]), done, axes, tuple(map(float, file["swings"])))
    smooth = tuple(Smooth(*map(float, row)) for row in file["smooth"])
    if file["values"].shape[1] != len(NAMES):
        raise ValueError(names)
    slants = Slants(file["slant_state"], file["slant_axis"], file["slant_rise"])
    return plot, Sample(file["points"], file["values"], int(file["tried"]), slants), smooth


def _axis(  # noqa: PLR0913
    name: str, kind: Kind, low: float, high: float, middle: float, spread: float, rides: float,
    origin: float,
) -> Axis:  # fmt: skip
    return Axis(name, kind, low, high, middle, spread, rides, origin)


def keep(key: str, plot: Plot, sample: Sample, smooth: tuple[Smooth, ...]) -> None:
    """Keep a sample; a folder that cannot be written to is passed over."""
    names = {"axes": [(it.name, it.kind) for it in plot.axes], "done": plot.done.names}
    placed = [getattr(plot.setting, name) for name in CONTROL_NAMES]
    try:
        folder().mkdir(parents=True, exist_ok=True)
        there = folder() / f"{key}.{os.getpid()}.part.npz"
        np.savez(
            there, points=sample.points, values=sample.values, tried=sample.tried,
            slant_state=sample.slants.state, slant_axis=sample.slants.axis,
            slant_rise=sample.slants.rise,
            course=plot.course, swings=plot.swings,
            names=json.dumps(names), done=plot.done.shape,
            axes=[_ends(it) for it in plot.axes],
            setting=[np.nan if it is None else it for it in placed],
            smooth=[(it.length, it.bump, it.rough) for it in smooth],
        )  # fmt: skip
        there.replace(folder() / f"{key}.npz")
    except OSError:
        return


def forget(key: str) -> None:
    """Keep a sample no longer."""
    with suppress(OSError):
        (folder() / f"{key}.npz").unlink(missing_ok=True)


def _ends(axis: Axis) -> tuple[float, ...]:
    """Return what of an axis belongs to the sample."""
    return (axis.low, axis.high, axis.middle, axis.spread, axis.rides, axis.origin)
