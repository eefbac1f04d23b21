"""Lessons: one effect at a time, each with one thing to move, a question, and what is measured.

What is right is not written here: it is what the mechanics answer to the learner's own move.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from luffwright.app.answer import FlyAnswer, LevelReading
from luffwright.app.ropes import Rope

SPOILED = 3
"""How many ropes are moved away for the learner to put right."""
SPOILABLE = ("sheet", "lead", "mainsheet", "traveller", "backstay", "halyard")
FAR = (0.06, 0.15)
"""How far each is moved, as shares of its travel."""


@dataclass(frozen=True)
class Lesson:
    """One effect: what is said, what is moved, what is asked of it with the answers for a measure
    that grows, falls, or changes less than `least` (in the measure's unit), and the measure.
    """

    key: str
    title: str
    line: str
    text: str
    control: str
    question: str
    choices: tuple[str, str, str]
    measure: str
    unit: str
    least: float
    wind_kn: float = 12.0


def _level(answer: FlyAnswer, role: str, level: str) -> LevelReading:
    sail = next(it for it in answer.sails if it.role == role)
    return next(it for it in sail.levels if it.level == level)


MEASURES: dict[str, Callable[[FlyAnswer], float]] = {
    "sag": lambda it: it.stays["forestay"].sag_pct or 0.0,
    "headsail twist": lambda it: _level(it, "headsail", "top").twist_deg,
    "headsail draft": lambda it: _level(it, "headsail", "middle").draft_pct,
    "headsail drive": lambda it: next(s.drive_n for s in it.sails if s.role == "headsail"),
    "upwash": lambda it: (
        abs(it.conditions.sensor_angle_deg or 0.0) - abs(it.conditions.apparent_angle_deg)
    ),
    "heel": lambda it: it.boat.heel_deg,
}
LESSONS = (
    Lesson(
        "sag", "Sag of the forestay", "What the backstay does to the headsail",
        "The forestay is no rod: the headsail pulls it aft and to leeward, and cloth follows.",
        "backstay", "Take the backstay on. The stay's sag will",
        ("grow", "shrink", "stay"), "sag", "% of the stay", 0.03,
    ),
    Lesson(
        "lead", "The car of the headsail's sheet", "Foot or leech: where the sheet pulls",
        "The sheet pulls the clew down and aft at once; the car shares it out between the two.",
        "lead", "Move the car aft, the sheet as it is. The leech at the top will",
        ("open", "close", "stay"), "headsail twist", "° of twist", 0.2,
    ),
    Lesson(
        "twist", "Twist", "The sail turns open towards its top",
        "A sail turns open as it goes up. The wind meets its top further aft, so it needs some.",
        "sheet", "Ease the sheet. The headsail's twist will",
        ("grow", "shrink", "stay"), "headsail twist", "° of twist", 0.2,
    ),
    Lesson(
        "halyard", "The halyard", "Where the depth of the sail lies",
        "The halyard pulls along the luff; the cloth beside it answers crosswise.",
        "halyard", "Pull the halyard. The depth of the headsail will move",
        ("aft", "forward", "not at all"), "headsail draft", "% of the chord", 0.2,
    ),
    Lesson(
        "wind", "Wind by height, and upwash", "What the masthead reads is not the wind",
        "The wind is stronger higher up, so its angle there is wider: compare the three heights. "
        "Sails bend it too before it reaches them, and the vane at the masthead feels that.",
        "mainsheet", "Ease the mainsheet. What the sails add to the vane's angle will",
        ("grow", "shrink", "stay"), "upwash", "° of upwash", 0.1,
    ),
    Lesson(
        "both", "Two sails together", "One sail steers the wind of the other",
        "The mainsail turns the wind in front of it, and the headsail stands in that wind.",
        "mainsheet", "Ease the mainsheet, the genoa untouched. The genoa will pull her ahead",
        ("more", "less", "the same"), "headsail drive", "N of drive", 10.0,
    ),
    Lesson(
        "traveller", "The traveller", "Angle of the mainsail without its twist",
        "The traveller swings the whole mainsail in or out and leaves its leech about as tight.",
        "traveller", "Let the traveller down. She will heel",
        ("more", "less", "the same"), "heel", "° of heel", 0.2,
    ),
    Lesson(
        "reef", "A reef", "Less sail, and lower",
        "Strong wind: 20 kn. A reef takes sail away where it heels her most. Reef early: at sea "
        "the boat's manual and her crew decide, not a page.",
        "reef", "Take a reef. She will heel",
        ("more", "less", "the same"), "heel", "° of heel", 0.5, 20.0,
    ),
)  # fmt: skip


def lesson_of(key: str) -> Lesson | None:
    """Return the lesson of a key; None where there is none."""
    return next((it for it in LESSONS if it.key == key), None)


def measured(lesson: Lesson, answer: FlyAnswer) -> float:
    """Return what a lesson measures in a state, in the lesson's unit."""
    return float(MEASURES[lesson.measure](answer))


def spoiled(controls: Mapping[str, float], ropes: Sequence[Rope], seed: int) -> dict[str, float]:
    """Return a setting with a few ropes moved well away from where they stand.

    Parameters
    ----------
    controls : mapping
        Where they stand, in the controls' own units.
    ropes : sequence of Rope
    seed : int
        The same seed spoils the same way. [-]
    """
    chance = random.Random(seed)  # noqa: S311  # a game, no secret
    out = dict(controls)
    able = [it for it in ropes if it.control in SPOILABLE and it.control in controls]
    for rope in chance.sample(able, min(SPOILED, len(able))):
        away = chance.uniform(*FAR) * (rope.high - rope.low) * chance.choice((-1.0, 1.0))
        if not rope.low <= out[rope.control] + away <= rope.high:
            away = -away
        steps = round(min(max(out[rope.control] + away, rope.low), rope.high) / rope.step)
        out[rope.control] = min(max(steps * rope.step, rope.low), rope.high)
    return out
