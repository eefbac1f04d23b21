"""What the sightings of a request tell of a boat, and the moves that follow."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from luffwright.advice.decision import WORTH_IT, Deck, Option, options
from luffwright.advice.doubt import BY_SENSOR, OFF_COURSE, believed, scaled, unscaled
from luffwright.advice.lasting import lasting
from luffwright.advice.posterior import Boats, Felt, Sighting, after
from luffwright.advice.readings import LEVEL_NAMES
from luffwright.advice.sample import Sample
from luffwright.advice.task import TURN
from luffwright.app.anchor import helm_anchor
from luffwright.app.fix_sample import Known, searched
from luffwright.app.question import Question
from luffwright.app.sighting import FixRequest, Seen
from luffwright.arrays import FloatArray
from luffwright.units import from_knots

HEEL_DOUBT = (float(np.radians(2.2)), float(np.radians(2.0)))
HELM_DOUBT = (float(np.radians(3.5)), float(np.radians(2.0)))
"""How far heel and rudder may be off in all looks alike, and in each besides [rad]: judgements. The
wind of another minute, 5 % more or less, heels her 2° and changes her speed by 2.5 %."""
HELMS = {"weather": float(np.radians(5.0)), "neutral": 0.0, "lee": float(np.radians(-4.0))}
SPEED_DOUBT = (0.055, 0.025)
"""Share of the speed by which log and hull may be off in all looks alike, and each besides."""


@dataclass(frozen=True)
class Kept:
    """A course that the crew keeps: by how much `closer` to the wind she makes better speed good
    [rad], and the `price` of keeping it: what she makes good more by sailing lower [m/s by rad].
    """

    closer: float
    price: float


@dataclass(frozen=True)
class Inferred:
    """What is known after the sightings: the boats that might be, where marks stood at first, how
    far each control and the course have gone since, what can be moved, and the moves, best first;
    `keeps`: what the course that was asked for costs, where another one is better, and `plain` what
    is known with no price on it; `at`: where the likeliest boat was flown [each its unit].
    """

    plain: Known
    known: Known
    boats: Boats
    sightings: tuple[Sighting, ...]
    marks: dict[str, float]
    given: frozenset[str]
    now: dict[str, float]
    deck: Deck
    options: tuple[Option, ...]
    keeps: Kept | None = None
    at: FloatArray | None = None

    def with_more(self, more: Sample) -> Inferred:
        """Return what follows from the same sightings once more states are flown.

        The boats stay as they weigh: what they show was told well enough to know them by it, what
        a rope brings them was not.
        """
        plain = self.plain.with_more(more)
        known = priced(plain, self.keeps)
        moves = moves_to_last(self.boats, known, self.deck, self.now)
        return replace(self, plain=plain, known=known, options=moves, at=more.points[-1])

    def likeliest(self) -> FloatArray:
        """Return the likeliest boat as she stands now [each its unit]: where her marks are, though
        that be beyond what was flown.
        """
        axes, travel = self.boats.axes, {it.name: it for it in self.known.task.free}
        shift = np.array([self.now.get(it.name, 0.0) for it in axes])
        ends = [(it if it.kind != "control" else travel[it.name]) for it in axes]
        low, high = (np.array([getattr(it, end) for it in ends]) for end in ("low", "high"))
        return np.asarray(np.clip(self.boats.middle() + shift, low, high))

    def within(self, point: FloatArray) -> FloatArray:
        """Return the nearest place within what was flown [each its unit]."""
        axes = self.boats.axes
        return unscaled(axes, np.clip(scaled(axes, point), -1.0, 1.0))

    @property
    def stands(self) -> dict[str, float]:
        """Return where the marks stand now [each its unit]."""
        return {name: it + self.now.get(name, 0.0) for name, it in self.marks.items()}


def infer(request: FixRequest, found: Known) -> Inferred:
    """Return what the sightings of a request tell, and the moves that follow.

    Parameters
    ----------
    request : FixRequest
    found : Known

    Returns
    -------
    Inferred
    """
    keeps = None if searched(request) else better_course(found)
    plain, found = found, priced(found, keeps)
    names = {it.name for it in found.plot.axes if it.kind == "control"}
    given = {**request.controls, **request.hold}
    given = {name: it for name, it in given.items() if name in names}
    steps = {it.name: it.step for it in found.task.free}
    axes = believed(found.plot.axes, steps, given, instruments=request.instruments)
    marks = {it.name: given.get(it.name, it.middle) for it in axes if it.kind == "control"}
    sightings, now = looks(request, found, marks)
    boats = after(axes, found.surfaces, sightings)
    deck = Deck(
        tuple(it for it in found.task.free if it.name not in request.hold),
        {name: it + now.get(name, 0.0) for name, it in marks.items()}, found.plot.done,
        turns=found.task.goal != "speed",
        best={name: found.plot.setting.value(name) for name in names},
    )  # fmt: skip
    moves = moves_to_last(boats, found, deck, now)
    return Inferred(
        plain, found, boats, sightings, marks, frozenset(given), now, deck, moves, keeps
    )


def moves_to_last(
    boats: Boats, found: Known, deck: Deck, now: Mapping[str, float]
) -> tuple[Option, ...]:
    """Return the best move of each control, best first by what it is worth now and in the end."""
    moves = options(boats, found.surfaces, deck, now)
    return lasting(boats, found.surfaces, deck, now, moves)


def better_course(found: Known) -> Kept | None:
    """Return what keeping the course that was asked for costs her, where she beats better on
    another one.

    Parameters
    ----------
    found : Known

    Returns
    -------
    Kept or None
        None where the better course lies within what sensor and helm may be off, or brings less
        than what counts: then she is steered by her tufts.
    """
    if found.task.goal == "speed":
        return None
    lower = np.linspace(-1.0, 1.0, 65) * OFF_COURSE
    speed = _speed_by_course(found, lower)
    best, near = int(np.argmax(speed)), BY_SENSOR["course"]
    gain = speed[best] - speed[len(lower) // 2]
    if abs(lower[best]) <= near or gain < WORTH_IT:
        return None
    less, more = _speed_by_course(found, np.array([-near, near]))
    return Kept(-float(lower[best]), float(more - less) / (2.0 * near))


def _speed_by_course(found: Known, lower: FloatArray) -> FloatArray:
    """Return what the file's boat makes good when she is sailed so much lower [m/s]."""
    axes = found.plot.axes
    points = np.tile([it.middle for it in axes], (len(lower), 1))
    points[:, _turn(found)] = lower
    return found.surfaces["made_good"](scaled(axes, points))


def _turn(found: Known) -> int:
    return next(k for k, it in enumerate(found.plot.axes) if it.name == TURN.name)


def priced(found: Known, kept: Kept | None) -> Known:
    """Return what is known of a boat whose crew keeps a course: its price is taken off her speed
    made good, so that on the file's boat the course that was asked for is the best one.
    """
    if kept is None:
        return found
    place = _turn(found)
    tilt = -kept.price * 0.5 * (found.plot.axes[place].high - found.plot.axes[place].low)
    surfaces = {**found.surfaces, "made_good": found.surfaces["made_good"].tilted(place, tilt)}
    return replace(found, surfaces=surfaces)


def looks(
    request: FixRequest, found: Known, marks: Mapping[str, float]
) -> tuple[tuple[Sighting, ...], dict[str, float]]:
    """Return the looks of a request, each with how far all has moved until then, and the last of
    that.
    """
    now: dict[str, float] = {}
    out = []
    swing = tuple(
        (f"{side}_{level}", it)
        for side in ("windward", "leeward")
        for level, it in zip(LEVEL_NAMES, found.plot.swings, strict=True)
    )
    for seen in request.seen:
        for name, place in seen.moved.items():
            found.asked.boat.travel(name, "seen.moved")
            now[name] = place - marks.get(name, place)
        turned = now.get(TURN.name, 0.0) + float(np.radians(seen.turned_deg))
        now = {name: it for name, it in {**now, TURN.name: turned}.items() if it}
        out.append(
            Sighting(
                _tufts(seen), _felt(seen, found.asked), tuple(now.items()), _wavering(seen), swing
            )
        )
    return tuple(out), now


def _tufts(seen: Seen) -> tuple[tuple[str, bool], ...]:
    told: list[tuple[str, str]] = []
    for level in ("low", "middle", "top"):
        pair = getattr(seen.headsail, level)
        told += [(f"windward_{level}", pair.windward), (f"leeward_{level}", pair.leeward)]
        told += [(f"leech_{level}", getattr(seen.mainsail_leech, level))]
    tufts = [(name, state == "streaming") for name, state in told if state not in ("?", "wavering")]
    if seen.mainsail_backwinds is not None:
        tufts.append(("backwind", not seen.mainsail_backwinds))
    if seen.leech_flutters != "?":
        flutters = ("headsail", "mainsail")
        tufts += [(f"{it[:4]}_flutter", it != seen.leech_flutters) for it in flutters]
    return tuple(tufts)


def _wavering(seen: Seen) -> tuple[str, ...]:
    """Return the luff tufts that go now and then."""
    return tuple(
        f"{side}_{level}"
        for level in LEVEL_NAMES
        for side in ("windward", "leeward")
        if getattr(getattr(seen.headsail, level), side) == "wavering"
    )


def _felt(seen: Seen, asked: Question) -> tuple[Felt, ...]:
    felt: list[Felt] = []
    moved = helm_anchor(asked) or 0.0
    if seen.heel_deg is not None:
        felt.append(Felt("heel", float(np.radians(seen.heel_deg)), *HEEL_DOUBT))
    if seen.speed_kn is not None:
        speed = float(from_knots(seen.speed_kn))
        felt.append(Felt("speed", speed, *(it * max(speed, 1.0) for it in SPEED_DOUBT)))
    if seen.rudder_deg is not None:
        felt.append(Felt("rudder", float(np.radians(seen.rudder_deg)) - moved, *HELM_DOUBT))
    elif seen.helm != "?":
        felt.append(Felt("rudder", HELMS[seen.helm] - moved, *HELM_DOUBT))
    return tuple(felt)
