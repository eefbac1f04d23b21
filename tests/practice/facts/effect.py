"""What follows from a change: by how much, and the least that can be told."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Protocol, Self, TypeVar

ANGLE, CAMBER, SAG, DRAFT = math.radians(0.25), 0.005, 0.0005, 0.005
SPEED, HELM, SHARE = 0.01, math.radians(0.25), 0.005
LEEWAY = math.radians(0.05)
"""Least effects that count, five times what two solves of one state may differ by: angles [rad],
shares of a chord, a length, a load or the time [-], speed [kn]; of leeway, which two balances
find alike, less [rad]."""
Verdict = bool | None


class UnfitError(Exception):
    """The fact does not apply to this boat or state; the message says why."""


class LostError(Exception):
    """A state that the fact needs did not settle; the message says which."""


@dataclass(frozen=True)
class Effect:
    """One thing that follows from a change; `change` is positive where it goes as the trade says.

    `change` and `least` are in the `unit` told; `told` is a figure that stands beside it, as how
    wide a window is.
    """

    what: str
    change: float
    least: float
    unit: str = ""
    told: str = ""

    @property
    def verdict(self) -> Verdict:
        """Return whether it goes as said; None where it is too small to tell."""
        return None if abs(self.change) < self.least else self.change > 0.0

    @property
    def text(self) -> str:
        """Return the effect with its figure."""
        figure = f"{self.change:+.3g}{self.unit and ' '}{self.unit}"
        return f"{self.what} {self.told or figure}"


def angle(what: str, change: float, least: float = ANGLE) -> Effect:
    """Return an effect on an angle, given in radians."""
    return Effect(what, math.degrees(change), math.degrees(least), "°")


def share(what: str, change: float, least: float = SHARE) -> Effect:
    """Return an effect on a share, told in per cent."""
    return Effect(what, 100.0 * change, 100.0 * least, "%")


def speed(what: str, change: float, least: float = SPEED) -> Effect:
    """Return an effect on a speed in knots."""
    return Effect(what, change, least, "kn")


def within(what: str, value: float, low: float, high: float, unit: str = "") -> Effect:
    """Return whether a value lies between two ends, by how far it does."""
    inside = min(value - low, high - value)
    return Effect(
        what, inside if inside != 0.0 else 1e-12, 0.0, unit, f"{value:.3g} {unit}".strip()
    )


def yes(what: str, answer: bool, told: str = "") -> Effect:
    """Return an effect that is there or not."""
    return Effect(what, 1.0 if answer else -1.0, 0.0, "", told or ("yes" if answer else "no"))


class Settles(Protocol):
    """A state that tells whether it balances."""

    @property
    def settled(self) -> bool:
        """Return whether it balances."""


class Roped(Settles, Protocol):
    """A state whose controls may move."""

    def has(self, control: str) -> bool:
        """Return whether the boat has the control."""

    def room(self, control: str, change: float) -> bool:
        """Return whether a control can move by so much."""

    def resheeted(self, **change: float) -> Self:
        """Return the state after a change, sheet re-set to the same chord angle low down."""


S = TypeVar("S", bound=Settles)
R = TypeVar("R", bound=Roped)
A = TypeVar("A")


def stood(state: S, which: str = "after the change") -> S:
    """Return a state that balances."""
    if not state.settled:
        raise LostError(which)
    return state


def fitted(state: Roped, control: str) -> None:
    """Refuse a boat that lacks a control."""
    if not state.has(control):
        raise UnfitError(f"no {control}")


def answer(effects: list[Effect]) -> str:
    """Return what effects say together: against where one of them goes the other way."""
    told = [it.verdict for it in effects]
    return "against" if False in told else "too small" if None in told else "holds"


def verdicts(
    fact: Callable[[A], list[Effect]], states: Iterable[tuple[str, A]]
) -> dict[str, list[Verdict]]:
    """Return what the states say to a fact; what does not apply or settle is left out."""
    out = {}
    for case, state in states:
        try:
            out[case] = [it.verdict for it in fact(state)]
        except (UnfitError, LostError):
            continue
    return out
