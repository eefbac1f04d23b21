"""What `trim` says of each control: what it does to the sails, what a step off would lose."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.aboard.mark import Mark
from luffwright.advice.effects import ANGLE, CAMBER, DRAFT, TWIST, Effects
from luffwright.advice.order import Step, Work
from luffwright.advice.worth import Reason, Side, StepWorth
from luffwright.app.answer import Worth
from luffwright.app.question import Question
from luffwright.app.reef_words import headsail_of
from luffwright.sails.setting import CONTROL_UNITS, Setting
from luffwright.units import to_knots

LEVEL_WORDS = ("low down", "half-way up", "at the top")
LEAST = {
    ANGLE: float(np.radians(0.25)), TWIST: float(np.radians(0.25)), CAMBER: 0.005, DRAFT: 0.005,
}  # fmt: skip
"""Least effects that are told: five times what two solves of one state may differ by."""
GREATEST = {
    ANGLE: float(np.radians(20.0)), TWIST: float(np.radians(20.0)), CAMBER: 0.1, DRAFT: 0.2,
}  # fmt: skip
"""Greatest effects of a step that are told: beyond them the sail folds, and slopes tell nothing."""
MOST_EFFECTS = 2
REASONS: dict[Reason, str] = {
    "end": "the end of its travel",
    "unsettled": "the sails do not settle there",
    "limit": "beyond a limit there",
    "small": "too small to tell",
    "": "",
}


@dataclass(frozen=True)
class Effect:
    """One visible effect: how many times the least that is told, and in words."""

    times: float
    text: str


def step_words(mark: Mark, value: float, change: float) -> str:
    """Return a change of a control in deck words, without rope and marks.

    Examples
    --------
    >>> step_words(Mark("lead", "genoa car", "holes", 0.05, "aft", "forward", 0.0, 2.0), 0.3, 0.05)
    '1 hole aft'
    """
    return mark.move(value, value + change).removeprefix(f"{mark.rope.upper()} ").split(" (")[0]


def effect_words(asked: Question, found: Effects, name: str, steps: float) -> str:
    """Return what some steps of a control do to the sails once the headsail is sheeted again.

    Parameters
    ----------
    asked : Question
    found : Effects
    name : str
    steps : float
        How many, with their sign. [-]

    Returns
    -------
    str
        The largest effects first, two at most; nothing where none can be told.
    """
    shape = steps * found.resheeted(name)
    told: list[Effect] = []
    for sail, word in enumerate((headsail_of(asked), "mainsail")):
        for quantity in (ANGLE, TWIST, CAMBER, DRAFT):
            # What turns further up is told as twist.
            levels = shape[sail, : 1 if quantity == ANGLE else 3, quantity]
            level = int(np.argmax(np.abs(levels)))
            change = float(shape[sail, level, quantity])
            times = abs(change) / LEAST[quantity]
            if times >= 1.0 and abs(change) <= GREATEST[quantity]:
                told.append(Effect(times, _words(word, level, quantity, change)))
    told.sort(key=lambda effect: -effect.times)
    return " and ".join(effect.text for effect in told[:MOST_EFFECTS])


def _words(sail: str, level: int, quantity: int, change: float) -> str:
    where, more = LEVEL_WORDS[level], change > 0.0
    if quantity == ANGLE:
        return f"turns the {sail} {np.degrees(abs(change)):.1f}° {'out' if more else 'in'} {where}"
    if quantity == TWIST:
        verb = "opens" if more else "closes"
        return f"{verb} the {sail}'s leech by {np.degrees(abs(change)):.1f}° {where}"
    if quantity == CAMBER:
        verb = "deepens" if more else "flattens"
        return f"{verb} the {sail} by {100.0 * abs(change):.1f} % {where}"
    way = "aft" if more else "forward"
    return f"moves the {sail}'s depth {100.0 * abs(change):.1f} % {way} {where}"


def loss_words(asked: Question, worth: StepWorth, setting: Setting) -> str:
    """Return what a step to either side would lose, in words.

    Parameters
    ----------
    asked : Question
    worth : StepWorth
    setting : Setting
        Where the controls stand.

    Returns
    -------
    str
    """
    mark, value = asked.boat.marks[worth.control], setting.value(worth.control)
    if worth.down.reason == worth.up.reason != "":
        step = step_words(mark, value, worth.step)
        return f"{step} or back, {REASONS[worth.up.reason]}"
    parts = [
        f"{step_words(mark, value, sign * worth.step)} {_side_words(side)}"
        for sign, side in ((-1.0, worth.down), (1.0, worth.up))
        if side.reason != "end"
    ]
    ends = [side for side in (worth.down, worth.up) if side.reason == "end"]
    return ", ".join([*parts, *(f"it stands at {REASONS['end']}" for _ in ends)])


def _side_words(side: Side) -> str:
    if side.loss is None:
        return f"({REASONS[side.reason]})"
    return f"{'loses' if side.loss > 0.0 else 'gains'} {to_knots(abs(side.loss)):.2f} kn"


def worth_told(worth: StepWorth, aim: float) -> Worth:
    """Return a control's worth at the edge.

    Parameters
    ----------
    worth : StepWorth
    aim : float
        The speed that counts at the best setting. [m/s]

    Returns
    -------
    Worth
        Minutes lost in an hour: what it takes to sail what an hour at the greater loss leaves.

    Examples
    --------
    0.1 m/s of 4 m/s for an hour:

    >>> worth_told(StepWorth("halyard", 0.01, Side(0.1), Side(None, "end")), 4.0).minutes_per_hour
    1.5
    """
    most = worth.most
    minutes = None if most is None or aim == 0.0 else round(60.0 * most / abs(aim), 9)
    losses = [None if side.loss is None else to_knots(side.loss) for side in (worth.down, worth.up)]
    return Worth(worth.step, CONTROL_UNITS[worth.control], losses[0], losses[1], minutes)


def move_words(asked: Question, step: Step, here: Setting) -> str:
    """Return a step's order to the crew, with the sheet that goes with it."""
    marks = asked.boat.marks
    name = step.control
    move = marks[name].move(here.value(name), step.to[name]) if name in step.to else ""
    if name == "sheet" or "sheet" not in step.to:
        return move
    sheet = marks["sheet"].move(here.sheet, step.to["sheet"]).split(" (")[0]
    return f"{move} with {sheet}" if move else sheet


def with_sheet(asked: Question, work: Work, change: float, here: Setting) -> str:
    """Return which sheet goes with a change of a control, where any does: ` with the sheet ...`."""
    mark = asked.boat.marks["sheet"]
    eased = work.sheet * change
    if abs(eased) < 0.5 * mark.step:
        return ""
    return f" with the sheet {step_words(mark, here.sheet, eased)}"
