"""One case of the closed loop: a true boat that differs from its file, mis-set; what it shows."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from scipy.special import ndtri

from luffwright.aboard.random_boat import random_boat
from luffwright.aboard.toml_text import toml_text
from luffwright.advice.doubt import Axis, met_by, with_cloth
from luffwright.advice.posterior import SELDOM
from luffwright.advice.readings import LEECHES, LEVEL_NAMES, NAMES, TUFTS, readings
from luffwright.advice.sample import Centre, sailed
from luffwright.advice.search import best_setting
from luffwright.advice.task import TURN, Reached
from luffwright.app.fix_sample import Known, known
from luffwright.app.request import Request
from luffwright.app.sighting import FixRequest, Leech, SailTufts, Seen, Tufts
from luffwright.units import to_knots

WINDS_KN = (7.0, 15.0)
WRONG = (2, 4)
LOSES = (0.03, 0.15)
SENSOR = np.radians(4.0)
HELM = np.radians(2.0)
CLOTH = {
    "head_camber": 0.15, "head_draft": 0.03, "head_shear": 0.8, "main_camber": 0.15,
    "main_draft": 0.03, "stay": 0.2, "gradient": 0.5, "wind": 0.08,
}  # fmt: skip
"""How far the true boat and wind lie from file and instruments, either way, evenly."""
DRAWS = 25
UNSEEN_BY_TUFTS = frozenset({"backstay", "outhaul", "halyard", "cunningham", "vang", "stay"})
UNREAD = 0.05
"""Share of telltales that are misread, and share not seen: ten per cent together."""
HEEL_READ_DEG = 1.5
LOG_OFF, LOG_READ = 0.05, 0.025
"""By what share of the speed a log is off on one boat, and each look besides: the wind wanders."""


@dataclass(frozen=True)
class Case:
    """A true boat: `truth` of every axis when all marks stand where the file's trim has them."""

    seed: int
    boat: str
    found: Known
    centre: Centre
    truth: np.ndarray
    wrong: dict[str, float]
    best: float

    @property
    def axes(self) -> tuple[Axis, ...]:
        return self.found.plot.axes

    @property
    def moves(self) -> int:
        return len(self.wrong) + 1

    @property
    def hidden(self) -> bool:
        """Whether luff tufts can see none of the faults."""
        return set(self.wrong) <= UNSEEN_BY_TUFTS

    def at(
        self, moved: dict[str, float], shares: tuple[float, ...] = (1.0, 0.97, 1.03, 0.94)
    ) -> State | None:
        """Return the true boat with marks, and the course, so far from where the trim has them.

        Where she is not to be settled just there, what is a hair beside it stands for it.
        """
        shift = np.array([moved.get(it.name, 0.0) for it in self.axes])
        for share in shares:
            boat = sailed(self.found.task, self.centre, self.truth + share * shift)
            if boat.settled:
                task = replace(self.found.task, plan=boat.course.plan)
                swings = dict(zip(LEVEL_NAMES, self.found.plot.swings, strict=True))
                return State(task.made_good(boat), readings(task, boat), swings)
        return None


@dataclass(frozen=True)
class State:
    """What the true boat does: speed made good [m/s], all that can be seen, and how far the
    headsail's incidence swings at each level [rad]."""

    speed: float
    values: np.ndarray
    swings: dict[str, float]

    def _shows(self, name: str) -> int:
        """Return whether a tuft streams, wavers, is gone: 0, 1, 2; the mainsail's never waver."""
        margin = self.values[NAMES.index(name)]
        swing = self.swings[name.split("_")[1]] if name in TUFTS else 0.0
        return 2 if margin <= 0.0 else 0 if margin > -ndtri(SELDOM) * swing else 1

    def seen(self, draw: np.random.Generator, moved: dict[str, float], turned: float) -> Seen:
        """Return what the crew says of it, some of it misread or not looked at.

        Each tuft is watched for ten seconds; one misread is told as the state next to its own.
        """
        told = {}
        for name in (*TUFTS, *LEECHES, "backwind"):
            luck = draw.random()
            at = self._shows(name)
            if luck < UNREAD:
                at = _beside(at, luck) if name in TUFTS else 2 - at
            bad = "lifting" if name.startswith("windward") else "stalled"
            state = ("streaming", "wavering", bad)[at]
            told[name] = "?" if UNREAD <= luck < 2 * UNREAD else state
        tufts = {
            level: Tufts(windward=told[f"windward_{level}"], leeward=told[f"leeward_{level}"])
            for level in ("low", "middle", "top")
        }
        heel = float(np.degrees(self.values[NAMES.index("heel")])) + HEEL_READ_DEG * draw.normal()
        return Seen(
            headsail=SailTufts(**tufts),
            mainsail_leech=Leech(**{level: told[f"leech_{level}"] for level in tufts}),
            mainsail_backwinds={"streaming": False, "stalled": True}.get(told["backwind"]),
            heel_deg=float(np.clip(heel, -10.0, 60.0)), moved=moved, turned_deg=turned,
        )  # fmt: skip


def _beside(at: int, luck: float) -> int:
    """Return the state next to a tuft's own; wavering has two, taken in halves of the luck."""
    return 1 if at != 1 else 0 if 2 * luck < UNREAD else 2


@dataclass(frozen=True)
class Log:
    """A boat's log: by what share of the speed it is `off`, and what each look adds to that."""

    off: float
    draw: np.random.Generator

    def reads(self, state: State) -> float:
        """Return what it shows [kn]."""
        speed = to_knots(float(state.values[NAMES.index("speed")]))
        return max(0.0, speed * (1.0 + self.off + LOG_READ * self.draw.normal()))


def log_of(case: Case, number: int) -> Log:
    """Return the log of a case's boat; its luck is apart from that of the tufts."""
    draw = np.random.default_rng([case.seed, 5, number])
    return Log(LOG_OFF * draw.normal(), draw)


def boat_of(seed: int, folder: Path) -> str:
    """Return the file of a random boat."""
    path = folder / f"random_{seed}.toml"
    if not path.is_file():
        path.write_text(toml_text(random_boat(seed)), encoding="utf-8")
    return str(path)


def wind_of(seed: int) -> float:
    """Return the wind that a boat of a seed sails in, on the file's best course upwind [kn]."""
    draw = np.random.default_rng([seed, 1])
    return round(float(draw.uniform(*WINDS_KN)), 1)


def known_boat(seed: int) -> tuple[Known, str]:
    """Return a random boat as the mechanics know her from her file."""
    folder = Path(tempfile.gettempdir()) / "closed_loop_boats"
    folder.mkdir(exist_ok=True)
    boat = boat_of(seed, folder)
    return known(Request(boat=boat, wind_kn=wind_of(seed), angle_deg="upwind", sea="slight")), boat


def drawn(seed: int, number: int) -> Case | None:
    """Return a case: drawn again until the true boat loses 3 to 15 %; none where she never does."""
    found, boat = known_boat(seed)
    draw = np.random.default_rng([seed, 2, number])
    centre = found.centre()
    truth = _truth(draw, found)
    best = _best(found, centre, truth)
    if best is None:
        return None
    case = Case(seed, boat, found, centre, truth, {}, best)
    for _ in range(DRAWS):
        wrong = _wrong(draw, found)
        trial = replace(case, wrong=wrong)
        state = trial.at(wrong, (1.0, 0.97))
        if state is not None and LOSES[0] <= 1.0 - state.speed / best <= LOSES[1]:
            return trial
    return None


def _truth(draw: np.random.Generator, found: Known) -> np.ndarray:
    out = []
    steps = {it.name: it.step for it in found.task.free}
    for it in found.plot.axes:
        if it.kind == "control":
            off = draw.uniform(-0.5, 0.5) * steps[it.name]
            out.append(found.plot.setting.value(it.name) + off)
        elif it.kind == "course":
            out.append(draw.uniform(-SENSOR, SENSOR) + draw.uniform(-HELM, HELM))
        else:
            out.append(it.middle + CLOTH[it.name] * draw.uniform(-1.0, 1.0))
    return np.array(out)


def _best(found: Known, centre: Centre, truth: np.ndarray) -> float | None:
    """Return the true boat's best speed made good, course and all [m/s]."""
    values = dict(zip((it.name for it in found.plot.axes), map(float, truth), strict=True))
    task = replace(
        found.task, plan=with_cloth(found.task.plan, values),
        stream=met_by(found.task.stream, values),
    )  # fmt: skip
    top = best_setting(
        task, centre.setting, task.stream.wind_angle, turns=task.goal != "speed"
    ).state  # fmt: skip
    return task.aim(Reached(top.flight, top.boat)) if top.settled else None


def _wrong(draw: np.random.Generator, found: Known) -> dict[str, float]:
    """Return how far two to four marks stand from where the trim has them."""
    axes = [it for it in found.plot.axes if it.kind == "control"]
    steps = {it.name: it.step for it in found.task.free}
    count = min(int(draw.integers(WRONG[0], WRONG[1] + 1)), len(axes))
    out = {}
    for k in draw.choice(len(axes), count, replace=False):
        it = axes[int(k)]
        here = found.plot.setting.value(it.name)
        place = draw.uniform(it.low, it.high)
        marks = round((place - here) / steps[it.name])
        if abs(marks) >= 2:
            out[it.name] = marks * steps[it.name]
    return out if len(out) >= WRONG[0] else _wrong(draw, found)


def asked(case: Case) -> FixRequest:
    """Return what the crew asks: wind and angle by the instruments, marks as they read them."""
    wind = wind_of(case.seed)
    marks = {
        it.name: found_at(case, it) for it in case.axes if it.kind == "control"
    }  # fmt: skip
    return FixRequest(
        boat=case.boat, wind_kn=wind, angle_deg="upwind", sea="slight", controls=marks
    )


def found_at(case: Case, axis: Axis) -> float:
    """Return where a mark stands when the case begins."""
    return case.found.plot.setting.value(axis.name) + case.wrong.get(axis.name, 0.0)


def knots(speed: float) -> float:
    return to_knots(speed)


TURNED = TURN.name
