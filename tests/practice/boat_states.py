"""Start states and changes for the facts of the whole boat: speed, heel, leeway and helm solved.

A start state is what the search finds best to windward in flat water, angle and area and all,
within the usual limits. A change moves ropes by so much and balances the boat again from where she
was: lines that are not named keep their lengths.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache, cached_property
from pathlib import Path

import numpy as np

from luffwright.advice.area import PRESSED
from luffwright.advice.first_guess import resheeted
from luffwright.advice.search import best_setting
from luffwright.advice.task import Reached, SailingTask
from luffwright.app.question import Question, question
from luffwright.app.reef import reefed
from luffwright.app.request import Request
from luffwright.app.swing import wandering
from luffwright.app.trim import task_of
from luffwright.sails.flight import Flight
from luffwright.sails.measure import Section, leech_gap, sections, stay_sag
from luffwright.sails.plan import ControlTravel
from luffwright.sails.setting import Setting
from luffwright.units import to_knots
from luffwright.water.equilibrium import Balanced, balance
from states import CLEAR, FULL, State

TERN = str(Path(__file__).parents[1] / "data" / "tern.toml")
"""A masthead sloop of twelve measurements, for the full sweep."""
BOATS = ("marram", "dunlin", "eider", TERN) if FULL else ("marram", "dunlin", "eider")
WINDS = (8.0, 10.0, 12.0, 15.0, 18.0) if FULL else (8.0, 12.0, 18.0)


@dataclass(frozen=True, eq=False)
class Sailed:
    """A boat that sails in balance, and what was asked of her; alike is only itself."""

    asked: Question
    task: SailingTask
    boat: Balanced

    @property
    def flight(self) -> Flight:
        """Return the sails' flight."""
        return self.boat.flight

    @property
    def settled(self) -> bool:
        """Return whether sails and boat balance."""
        return self.boat.settled

    @property
    def setting(self) -> Setting:
        """Return where every rope stands."""
        return self.boat.course.setting

    @property
    def made_good(self) -> float:
        """Return the speed made good to windward [kn]."""
        stream = self.flight.stream
        return to_knots(stream.speed) * float(np.cos(stream.wind_angle + stream.leeway))

    @property
    def speed(self) -> float:
        """Return the speed through the water [kn]."""
        return to_knots(self.flight.stream.speed)

    @property
    def heel(self) -> float:
        """Return the heel [rad]."""
        return self.flight.stream.heel

    @property
    def leeway(self) -> float:
        """Return the leeway [rad]."""
        return self.flight.stream.leeway

    @property
    def helm(self) -> float:
        """Return the rudder's angle, weather helm positive [rad]."""
        return self.boat.rudder

    @property
    def sag(self) -> float:
        """Return the forestay's sag, a share of its length."""
        return stay_sag(self.flight)

    @cached_property
    def levels(self) -> tuple[tuple[Section, ...], ...]:
        """Return the sections of headsail and mainsail, from low to top."""
        return tuple(sections(self.flight, part) for part in self.flight.rigging.sails)

    def section(self, sail: int, level: str) -> Section:
        """Return a section: sail 0 is the headsail, 1 the mainsail."""
        return next(entry for entry in self.levels[sail] if entry.level == level)

    @property
    def sails(self) -> State:
        """Return her sails alone, at the motion that she has."""
        pressed = bool(np.any(self.task.used(Reached(self.flight, self.boat)) > PRESSED))
        return State(self.asked.boat, self.task.plan, self.asked.sheet_zero, self.flight, pressed)

    @property
    def leech_stalled(self) -> float:
        """Return the share of time in which the mainsail's top leech telltale is gone."""
        return wandering(self.asked, self.flight).tufts[1][-1].leech_stalled

    def has(self, control: str) -> bool:
        """Return whether the boat has the control."""
        return any(entry.name == control for entry in self.task.plan.controls)

    def travel(self, control: str) -> ControlTravel:
        """Return how far a control goes."""
        return next(entry for entry in self.task.plan.controls if entry.name == control)

    def two_marks(self, control: str) -> float:
        """Return two deck marks or a tenth of the control's range, whichever is more.

        Of a mainsheet two hands are taken: a tenth of what lets the boom out square is no trim.
        """
        travel = self.travel(control)
        if control == "mainsheet":
            return 0.30
        return max(2.0 * travel.step, 0.1 * (travel.high - travel.low))

    def room(self, control: str, change: float) -> bool:
        """Return whether a control can move by so much."""
        travel, there = self.travel(control), self.setting.value(control) + change
        return travel.low - 1e-9 <= there <= travel.high + 1e-9

    def to(self, position: dict[str, float], *, turn: float = 0.0, afresh: bool = False) -> Sailed:
        """Return the boat with controls at a position, and bearing away by an angle [rad]."""
        stream = self.flight.stream
        course = replace(
            self.boat.course,
            setting=self.setting.changed(**position),
            stream=replace(stream, wind_angle=stream.wind_angle + turn),
        )
        return replace(self, boat=balance(course, self.boat.at, near=self.boat, afresh=afresh))

    def by(self, *, turn: float = 0.0, **change: float) -> Sailed:
        """Return the boat after a change of controls, and bearing away by an angle [rad]."""
        return self.to({k: self.setting.value(k) + v for k, v in change.items()}, turn=turn)

    def resheeted(self, **change: float) -> Sailed:
        """Return the boat after a change, sheet re-set to the same chord angle low down."""
        target = self.section(0, "low").chord_angle
        now = self.by(**change)
        eased, off = 0.0, now.section(0, "low").chord_angle - target
        before = (-0.03 if off < 0.0 else 0.03, 0.0)
        trial = now.by(sheet=before[0])
        before = (before[0], trial.section(0, "low").chord_angle - target)
        for _ in range(5):
            if not now.settled or abs(off) < np.radians(0.05) or off == before[1]:
                break
            step = -off * (eased - before[0]) / (off - before[1])
            before, eased = (eased, off), eased + float(np.clip(step, -0.2, 0.2))
            now = now.by(sheet=eased - before[0])
            off = now.section(0, "low").chord_angle - target
        return now

    def in_wind(self, wind_kn: float) -> Sailed:
        """Return the boat in another wind, ropes and heading as they are."""
        return self._among({"wind_kn": wind_kn})

    def in_sea(self, sea: str) -> Sailed:
        """Return the boat in another sea, ropes and heading as they are."""
        return self._among({"sea": sea})

    def _among(self, conditions: dict[str, object]) -> Sailed:
        asked = question(self.asked.request.model_copy(update=conditions))
        task = task_of(asked)
        assert isinstance(task, SailingTask)
        stream = replace(self.flight.stream, profile=asked.stream.profile)
        course = replace(self.boat.course, stream=stream)
        return Sailed(asked, task, balance(course, task.at, near=self.boat))

    def reefed(self, share: float) -> Sailed:
        """Return the boat with a share of a reef more taken in."""
        return self.to({"reef": self.setting.value("reef") + share}, afresh=True)

    def rolled(self, tenths: int) -> Sailed:
        """Return the boat with so much more of her headsail rolled, its sheet longer to suit."""
        return _rolled(self, tenths)

    def clear(self) -> Sailed | None:
        """Return the boat with her headsail's leech clear of the spreader; None where it is not."""
        now = self.by(sheet=0.06) if leech_gap(self.flight) < CLEAR else self
        return now if now.settled and leech_gap(now.flight) > 0.5 * CLEAR else None


@cache
def _rolled(state: Sailed, tenths: int) -> Sailed:
    before = _rolled(state, tenths - 1) if tenths > 1 else state
    if not before.settled:
        return before
    setting = before.setting
    there = resheeted(before.task.plan, setting, setting.value("furl") + 0.1)
    return before.to({"furl": there.value("furl"), "sheet": there.sheet}, afresh=True)


@cache
def best(boat: str, wind_kn: float) -> Sailed:
    """Return a boat at her best to windward in flat water."""
    return searched(Request(boat=boat, wind_kn=wind_kn, angle_deg="upwind", sea="flat"))


def searched(request: Request) -> Sailed:
    """Return what the search finds best: made good to windward, or speed on a course."""
    asked = question(request)
    task = task_of(asked)
    assert isinstance(task, SailingTask)
    turns = task.goal != "speed"
    found = best_setting(task, reefed(asked), asked.stream.wind_angle, turns=turns)
    assert found.state.boat is not None
    return Sailed(asked, task, found.state.boat)


@cache
def reach(state: Sailed) -> Sailed:
    """Return a boat trimmed on a beam reach in the same wind, lead and backstay left as they were
    to windward.
    """
    kept = {name: state.setting.value(name) for name in ("lead", "backstay") if state.has(name)}
    update = {"angle_deg": 90.0, "hold": kept}
    return searched(state.asked.request.model_copy(update=update))


def bests(*, needs: str = "", winds: tuple[float, ...] = WINDS) -> Iterator[tuple[str, Sailed]]:
    """Yield the best states that settled, of the boats that have the control."""
    for boat in BOATS:
        for wind in winds:
            state = best(boat, wind)
            if state.settled and (not needs or state.has(needs)):
                yield f"{state.asked.boat.name} {wind:g} kn", state


def blown(
    up_to: tuple[float, ...], *, needs: str = "", kind: str = ""
) -> Iterator[tuple[str, Sailed]]:
    """Yield boats trimmed for less wind and caught in more of it, ropes untouched."""
    for case, state in bests(needs=needs, winds=WINDS[:3] if FULL else WINDS[:2]):
        hull = state.asked.boat.hull.kind
        for wind in up_to if kind in ("", hull) else ():
            there = state.in_wind(wind)
            if there.settled:
                yield f"{case}, now {wind:g}", there
