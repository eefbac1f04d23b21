"""A boat in a wind: the states that the facts are asked of, each solved once, when asked for."""

from __future__ import annotations

import math
import tempfile
import time
from dataclasses import replace
from functools import cached_property
from pathlib import Path
from typing import Any

import boat_states
from boat_states import Sailed, best
from facts import area
from facts.effect import LostError, UnfitError, answer, fitted, stood
from facts.listed import Fact, Start
from facts.luff import CUTS, cut_at
from luffwright.aboard.random_boat import random_boat
from luffwright.aboard.toml_text import toml_text
from luffwright.app.question import MESH, question
from luffwright.app.request import Request
from luffwright.sails.flight import fly
from states import State

STRONG_KN = 18.0
BLOWN_KN = (16.0, 18.0, 20.0, 24.0)
LIGHT_KN = (4.0, 6.0, 8.0, 12.0)
"""Winds in which the headsail's depth at the best trim is compared."""
HARD_IN_DEG = {"monohull": 46.0, "catamaran": 50.0}
RANDOM = "random "
FOLDER = tempfile.TemporaryDirectory()
Row = dict[str, Any]


def boat_file(boat: str) -> str:
    """Return what a request names a boat by: the file of a random one, written when asked for."""
    if not boat.startswith(RANDOM):
        return boat
    path = Path(FOLDER.name) / f"{boat.replace(' ', '_')}.toml"
    if not path.exists():
        path.write_text(toml_text(random_boat(int(boat.removeprefix(RANDOM)))), encoding="utf-8")
    return str(path)


class Case:
    """A boat, `random 7` or one of the school, in a wind [kn]."""

    def __init__(self, boat: str, wind_kn: float) -> None:
        self.boat, self.wind_kn = boat, wind_kn

    @cached_property
    def upwind(self) -> Sailed:
        """Return the boat at her best to windward."""
        return best(boat_file(self.boat), self.wind_kn)

    @cached_property
    def sails(self) -> State:
        """Return her sails alone, at that motion."""
        return self.upwind.sails

    @cached_property
    def blown(self) -> Sailed:
        """Return her in that trim in a strong wind."""
        return self.upwind.in_wind(STRONG_KN)

    @cached_property
    def overpowered(self) -> Sailed:
        """Return her in that trim in the least wind in which she heels 25°."""
        if self.upwind.asked.boat.hull.kind != "monohull":
            raise UnfitError("two hulls")
        for wind in BLOWN_KN:
            there = self.upwind.in_wind(wind)
            if there.settled and there.heel >= area.OVERPOWERED:
                return there
        raise UnfitError("never heels 25°")

    @cached_property
    def reach(self) -> Sailed:
        """Return her on a beam reach, lead and backstay as to windward."""
        return boat_states.reach(self.upwind)

    @cached_property
    def light(self) -> dict[float, Sailed]:
        """Return her at her best in light winds."""
        return {wind: best(boat_file(self.boat), wind) for wind in LIGHT_KN}

    @cached_property
    def hard_in(self) -> State:
        """Return her sails with the headsail's sheet at its mark."""
        asked, start = self.upwind.asked, self.sails
        angle = HARD_IN_DEG[asked.boat.hull.kind]
        request = Request(
            boat=asked.request.boat, wind_kn=self.wind_kn, angle_deg=angle, controls={"sheet": 0.0}
        )
        hard = question(request)
        flight = fly(hard.boat.plan, hard.setting, hard.stream, hard.sheet_zero, mesh=MESH)
        return replace(start, flight=flight)

    @cached_property
    def cuts(self) -> tuple[State, ...]:
        """Return her sails re-sheeted with the headsail's draft cut further aft and aft."""
        return tuple(self.sails.sewn(cut_at(it)) for it in CUTS)

    def start(self, name: Start) -> object:
        """Return a state that a fact is asked of, settled."""
        found = getattr(self, name)
        return stood(found, name) if isinstance(found, Sailed | State) else found

    def ask(self, fact: Fact) -> Row:
        """Return what a fact's answer is, as plain values."""
        row: Row = {"fact": fact.name}
        if fact.winds and self.wind_kn not in fact.winds:
            return row | {"status": "not asked"}
        began = time.process_time()
        try:
            if fact.needs:
                fitted(self.upwind, fact.needs)
            effects = fact.ask(self.start(fact.start))
        except UnfitError as why:
            return row | {"status": "not applicable", "why": str(why)}
        except LostError as where:
            return row | {"status": "not settled", "why": str(where)}
        except (ArithmeticError, AssertionError, LookupError, RuntimeError, ValueError) as fault:
            return row | {"status": "broke", "why": f"{type(fault).__name__}: {fault}"[:200]}
        finite = all(math.isfinite(it.change) for it in effects)
        status = answer(effects) if finite else "broke"
        return row | {
            "status": status,
            "effects": [
                {"what": it.what, "change": it.change, "least": it.least, "unit": it.unit,
                 "text": it.text}
                for it in effects
            ],
            "seconds": round(time.process_time() - began, 2),
        }  # fmt: skip
