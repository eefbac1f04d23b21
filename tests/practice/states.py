"""Start states and changes for the facts of the trade: one boat, one wind, one rope moved.

A start state is the answer of the search for the best setting at a held speed and heel, reefed
where she is pressed, cut short after a few steps: sails trimmed about as well as a good crew would.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from facts.effect import Verdict
from luffwright.aboard.boat import Boat
from luffwright.advice.poled import free_with
from luffwright.advice.search import best_setting
from luffwright.advice.task import HeldTask
from luffwright.air.stream import Stream
from luffwright.air.wind import wind_profile
from luffwright.app.question import MESH, question
from luffwright.app.request import Request
from luffwright.app.trim import KEEL_CENTRE, moment_limit
from luffwright.sails.flight import Flight, fly
from luffwright.sails.measure import Section, leech_gap, sections, stay_sag, track_forces
from luffwright.sails.plan import ControlTravel, SailPlan
from luffwright.sails.setting import Setting

BOATS = ("marram", "dunlin", "eider")
FULL = os.environ.get("LUFFWRIGHT_SWEEP") == "full"
ALL_WINDS = (8.0, 10.0, 12.0, 15.0, 18.0)
WINDS = ALL_WINDS if FULL else (8.0, 12.0, 18.0)
ANGLES = (46.0, 60.0, 80.0) if FULL else (46.0,)
CLEAR, TOUCHING = 0.05, 0.01
"""A leech nearer to the spreader is held by it and not by the lead; one that lies on it [m]."""


@dataclass(frozen=True)
class State:
    """A settled state of a boat in a wind."""

    boat: Boat
    plan: SailPlan
    sheet_zero: float
    flight: Flight
    pressed: bool = False

    @property
    def settled(self) -> bool:
        """Return whether the sails balance."""
        return self.flight.settled

    @property
    def setting(self) -> Setting:
        """Return where every rope stands."""
        return self.flight.setting

    def section(self, sail: int, level: str) -> Section:
        """Return a section: sail 0 is the headsail, 1 the mainsail."""
        found = sections(self.flight, self.flight.rigging.sails[sail])
        return next(entry for entry in found if entry.level == level)

    def all(self, sail: int) -> tuple[Section, ...]:
        """Return a sail's sections."""
        return sections(self.flight, self.flight.rigging.sails[sail])

    @property
    def sag(self) -> float:
        """Return the forestay's sag, a share of its length."""
        return stay_sag(self.flight)

    def force(self, sail: int) -> tuple[float, float]:
        """Return drive and side force of a sail [N]."""
        drive, side = track_forces(self.flight)[sail]
        return float(drive), float(side)

    def has(self, control: str) -> bool:
        """Return whether the boat has the control."""
        return any(entry.name == control for entry in self.plan.controls)

    def travel(self, control: str) -> ControlTravel:
        """Return how far a control goes."""
        return next(entry for entry in self.plan.controls if entry.name == control)

    def two_marks(self, control: str) -> float:
        """Return two deck marks or a tenth of the control's range, whichever is more."""
        travel = self.travel(control)
        return max(2.0 * travel.step, 0.1 * (travel.high - travel.low))

    def room(self, control: str, change: float) -> bool:
        """Return whether a control can move by so much."""
        travel, there = self.travel(control), self.setting.value(control) + change
        return travel.low - 1e-9 <= there <= travel.high + 1e-9

    def fly(self, **change: float) -> State:
        """Return the state after a change of controls (by, not to)."""
        setting = self.flight.setting
        there = setting.changed(**{k: setting.value(k) + v for k, v in change.items()})
        return self._flown(there, self.flight.stream)

    def blown(self, stream: Stream) -> State:
        """Return the state in another wind, ropes untouched."""
        return self._flown(self.flight.setting, stream)

    def steered(self, turn: float) -> State:
        """Return the state steered off its course by an angle [rad], lower is positive."""
        stream = self.flight.stream
        return self.blown(replace(stream, wind_angle=stream.wind_angle + turn))

    def _flown(self, setting: Setting, stream: Stream) -> State:
        flight = fly(self.plan, setting, stream, self.sheet_zero, mesh=MESH, near=self.flight)
        return replace(self, flight=flight)

    def stronger(self, share: float) -> State:
        """Return the state in more of the same wind, ropes untouched."""
        stream = self.flight.stream
        return self.blown(replace(stream, profile=wind_profile(stream.profile.speed * (1 + share))))

    def resheeted(self, **change: float) -> State:
        """Return the state after a change, sheet re-set to the same chord angle low down."""
        return self.sheeted_to(self.section(0, "low").chord_angle, **change)

    def sewn(self, change: Callable[[SailPlan], SailPlan]) -> State:
        """Return the state with sails of another cut, re-sheeted."""
        target = self.section(0, "low").chord_angle
        return replace(self, plan=change(self.plan)).sheeted_to(target)

    def sheeted_to(self, target: float, **change: float) -> State:
        """Return the state after a change, sheet set to a chord angle low down [rad]."""
        now = self.fly(**change)
        eased, off = [0.0, 0.0], [now.section(0, "low").chord_angle - target, 0.0]
        eased[1] = -0.03 if off[0] > 0.0 else 0.03
        for _ in range(6):
            now = self.fly(sheet=eased[1], **change)
            off[1] = now.section(0, "low").chord_angle - target
            if not now.flight.settled or abs(off[1]) < np.radians(0.05) or off[1] == off[0]:
                break
            step = -off[1] * (eased[1] - eased[0]) / (off[1] - off[0])
            eased, off = [eased[1], eased[1] + float(np.clip(step, -0.2, 0.2))], [off[1], 0.0]
        return now

    def clear(self, **move: float) -> tuple[State, State] | None:
        """Return the state and the same re-sheeted after a move, eased until the leech is clear in
        both; None where it never is.

        A leech that lies against the spreader is held by it, not by the lead.
        """
        state = self
        for _ in range(3):
            there = state.resheeted(**move) if leech_gap(state.flight) > 0.5 * CLEAR else None
            if there is not None and leech_gap(there.flight) > TOUCHING:
                return state, there
            state = state.fly(sheet=0.06)
            if not state.settled:
                return None
        return None


def trimmed(request: Request, change: Callable[[SailPlan], SailPlan] | None = None) -> State:
    """Return the state that the search for the best setting reaches in a few steps."""
    asked = question(request)
    plan = change(asked.boat.plan) if change else asked.boat.plan
    lever = KEEL_CENTRE * asked.boat.hull.draught
    task = HeldTask(
        plan, asked.stream, asked.sheet_zero, MESH, asked.density,
        free_with(plan.controls, asked.setting), moment_limit(asked)[0], lever, limit=6,
    )  # fmt: skip
    found = best_setting(task, asked.setting, asked.stream.wind_angle)
    return State(asked.boat, plan, asked.sheet_zero, found.flight, found.pressed)


@cache
def start(boat_name: str, wind_kn: float, angle_deg: float) -> State:
    """Return a boat's start state on a course."""
    return trimmed(Request(boat=boat_name, wind_kn=wind_kn, angle_deg=angle_deg))


def starts(
    *, needs: str = "", up_to: float = 90.0, winds: tuple[float, ...] = WINDS
) -> Iterator[tuple[str, State]]:
    """Yield the start states that settled, of the boats that have the control, up to an angle."""
    for boat in BOATS:
        for wind in winds:
            for angle in (it for it in ANGLES if it <= up_to):
                state = start(boat, wind, angle)
                if state.flight.settled and (not needs or state.has(needs)):
                    yield f"{boat} {wind:g} kn {angle:g}°", state


def sense(change: float, least: float) -> Verdict:
    """Return whether a change is up; None where it is too small to tell."""
    return None if abs(change) < least else change > 0.0


def held(verdicts: dict[str, list[Verdict]]) -> None:
    """Fail where the mechanics contradict the fact, or where too few cases show it."""
    told = {case: parts for case, parts in verdicts.items() if None not in parts}
    against = [case for case, parts in told.items() if not all(parts)]
    least = 15 if FULL else 3
    shown = len(told) - len(against)
    summary = f"shown {shown}, against {len(against)}, too small {len(verdicts) - len(told)}"
    assert not against, f"{summary}: {against}"
    assert shown >= min(least, len(verdicts)) > 0, summary
