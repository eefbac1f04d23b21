"""`fix`: from what the telltales show to the right move, its size, and what is then to be seen."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from luffwright.advice.decision import Deck, Option, cures, options
from luffwright.advice.doubt import believed, scaled
from luffwright.advice.posterior import Boats, Sighting, after
from luffwright.advice.sample import sailed
from luffwright.advice.task import TURN
from luffwright.app.anchor import helm_anchor
from luffwright.app.call import calls_in
from luffwright.app.caution import Seen as SeenByCautions
from luffwright.app.caution import cautions
from luffwright.app.fix_answer import FixAnswer, FixMethod, FixMove
from luffwright.app.fix_sample import Known, known
from luffwright.app.fix_words import (
    Look,
    contradictions,
    only_low_stalls,
    sentence,
    streaming,
    surface_error_deg,
    then_see,
    two_readings,
    until,
    why,
)
from luffwright.app.question import Question, question
from luffwright.app.sighting import FixRequest, Seen
from luffwright.app.unknown_words import unknowns
from luffwright.errors import InputError
from luffwright.sails.setting import CONTROL_UNITS
from luffwright.units import from_knots, to_knots

Progress = Callable[[int, int], None]
"""Told how many states of how many are flown."""
BEAUFORT = 1.625
"""Knots of wind by force to the power of 1.5: the scale's own formula (0.836 m/s)."""
HEEL_DOUBT, HELM_DOUBT = float(np.radians(3.0)), float(np.radians(4.0))
HELMS = {"weather": float(np.radians(5.0)), "neutral": 0.0, "lee": float(np.radians(-4.0))}
SPEED_DOUBT = 0.06
"""Share of the speed by which log and hull may be off."""
CONFIRMED, MOST_FLOWN = 4, 7
HARDLY = (
    "There is hardly any speed in the ropes: what follows of them is to have the tufts stream, not "
    "to gain."
)
LOST = -0.1
"""What sails that do not settle are taken to lose [m/s]."""
TOLD = 5
LEAST_GAIN = float(from_knots(0.01))
"""Expected gain below which nothing is told [m/s]: five times what two solves may differ by."""
LEAST_TOLD = 0.25
"""Share of the best move's gain below which another one is not told."""


@dataclass(frozen=True)
class Inferred:
    """What is known after the sightings: the boats that might be, where marks stood at first, how
    far each control and the course have gone since, what can be moved, and the moves, best first.
    """

    known: Known
    boats: Boats
    sightings: tuple[Sighting, ...]
    marks: dict[str, float]
    given: frozenset[str]
    now: dict[str, float]
    deck: Deck
    options: tuple[Option, ...]

    def cures(self) -> tuple[Option, ...]:
        """Return the moves after which the headsail's tufts most likely all stream."""
        return cures(self.boats, self.known.surfaces, self.deck, self.now)

    @property
    def stands(self) -> dict[str, float]:
        """Return where the marks stand now [each its unit]."""
        return {name: it + self.now.get(name, 0.0) for name, it in self.marks.items()}


def fix(request: FixRequest, progress: Progress | None = None) -> FixAnswer:
    """Return the moves that are expected to bring most after what was seen, best first.

    For a page: build the request with `FixRequest.model_validate(fields)` (or `batch.fix_asked`,
    which reads deck marks too), call `fix(request, progress)`, send `answer.as_json()`. The first
    answer for a boat and condition flies a sample of states, with `quick` a coarse one;
    `progress(done, of)` is called as they come in. It is kept, and later answers take a moment;
    `confirm=False` leaves out flying the best three.

    Parameters
    ----------
    request : FixRequest
    progress : callable, optional

    Returns
    -------
    FixAnswer

    Raises
    ------
    InputError
        Where a field cannot be used, or no boat could sail it.
    """
    request = with_wind(request)
    asked = question(_at_first(request))
    found = known(request, progress, quick=request.quick)
    began = time.perf_counter()
    inferred = infer(request, found)
    flown = confirmed(inferred) if request.confirm else Confirmed(inferred.options, {})
    return _answer(asked, request, inferred, flown, time.perf_counter() - began)


def with_wind(request: FixRequest) -> FixRequest:
    """Return the request with the wind of its Beaufort force, by eye."""
    if request.beaufort is None:
        return request
    if request.wind_kn is not None or request.apparent_wind_kn is not None:
        raise InputError("beaufort", request.beaufort, "wind is given twice", "give one of them")
    wind = BEAUFORT * float(request.beaufort) ** 1.5
    return request.model_copy(update={"wind_kn": wind, "beaufort": None, "instruments": False})


def _at_first(request: FixRequest) -> FixRequest:
    held = {"speed_kn": None, "heel_deg": None, "leeway_deg": None}
    return request.model_copy(update=held)


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
    moves = options(boats, found.surfaces, deck, now)
    return Inferred(found, boats, sightings, marks, frozenset(given), now, deck, moves)


def looks(
    request: FixRequest, found: Known, marks: Mapping[str, float]
) -> tuple[tuple[Sighting, ...], dict[str, float]]:
    """Return the looks of a request, each with how far all has moved until then, and the last of
    that.
    """
    now: dict[str, float] = {}
    out = []
    for seen in request.seen:
        for name, place in seen.moved.items():
            found.asked.boat.travel(name, "seen.moved")
            now[name] = place - marks.get(name, place)
        turned = now.get(TURN.name, 0.0) + float(np.radians(seen.turned_deg))
        now = {name: it for name, it in {**now, TURN.name: turned}.items() if it}
        out.append(Sighting(_tufts(seen), _felt(seen, found.asked), tuple(now.items())))
    return tuple(out), now


def _tufts(seen: Seen) -> tuple[tuple[str, bool], ...]:
    told: list[tuple[str, str]] = []
    for level in ("low", "middle", "top"):
        pair = getattr(seen.headsail, level)
        told += [(f"windward_{level}", pair.windward), (f"leeward_{level}", pair.leeward)]
        told += [(f"leech_{level}", getattr(seen.mainsail_leech, level))]
    tufts = [(name, state == "streaming") for name, state in told if state != "?"]
    if seen.mainsail_backwinds is not None:
        tufts.append(("backwind", not seen.mainsail_backwinds))
    if seen.leech_flutters != "?":
        flutters = ("headsail", "mainsail")
        tufts += [(f"{it[:4]}_flutter", it != seen.leech_flutters) for it in flutters]
    return tuple(tufts)


def _felt(seen: Seen, asked: Question) -> tuple[tuple[str, float, float], ...]:
    felt: list[tuple[str, float, float]] = []
    moved = helm_anchor(asked) or 0.0
    if seen.heel_deg is not None:
        felt.append(("heel", float(np.radians(seen.heel_deg)), HEEL_DOUBT))
    if seen.speed_kn is not None:
        speed = float(from_knots(seen.speed_kn))
        felt.append(("speed", speed, SPEED_DOUBT * max(speed, 1.0)))
    if seen.rudder_deg is not None:
        felt.append(("rudder", float(np.radians(seen.rudder_deg)) - moved, HELM_DOUBT))
    elif seen.helm != "?":
        felt.append(("rudder", HELMS[seen.helm] - moved, HELM_DOUBT))
    return tuple(felt)


@dataclass(frozen=True)
class Confirmed:
    """The moves after the best ones were flown by the mechanics, best first, and what each that was
    flown gained on the likeliest boat, by control [m/s].
    """

    options: tuple[Option, ...]
    flown: dict[str, float]


def confirmed(found: Inferred) -> Confirmed:
    """Return the moves, the best four flown on the likeliest boat.

    What the mechanics gain there beyond the emulator counts for the other boats too; where another
    move then stands first, it is flown as well, up to seven.
    """
    options = {it.control: it for it in found.options}
    flown: dict[str, float] = {}
    if not any(it.gain > 0.0 for it in found.options):
        return Confirmed(found.options, flown)
    centre, task, axes = found.known.centre(), found.known.task, found.boats.axes
    low, high = (np.array([getattr(it, end) for it in axes]) for end in ("low", "high"))
    shift = np.array([found.now.get(it.name, 0.0) for it in axes])
    point = np.clip(found.boats.middle() + shift, low, high)
    before, speed = sailed(task, centre, point), found.known.surfaces["made_good"]
    while before.settled and len(flown) < MOST_FLOWN:
        ranked = sorted(options.values(), key=lambda it: -it.gain)[:CONFIRMED]
        option = next((it for it in ranked if it.control not in flown and it.gain > 0.0), None)
        if option is None or (len(flown) >= CONFIRMED and ranked[0].control in flown):
            break
        there = point + np.array([option.by.get(it.name, 0.0) for it in axes])
        boat = sailed(task, centre, there)
        gain = task.made_good(boat) - task.made_good(before) if boat.settled else LOST
        told = speed(scaled(axes, np.stack([point, there])))
        flown[option.control] = gain
        options[option.control] = option.flown(gain - float(told[1] - told[0]))
    # What the likeliest boat loses by stands behind what she does not.
    order = sorted(options.values(), key=lambda it: (flown.get(it.control, 0.0) < 0.0, -it.gain))
    return Confirmed(tuple(order), flown)


def _answer(
    asked: Question, request: FixRequest, found: Inferred, judged: Confirmed, seconds: float
) -> FixAnswer:
    minded = cautions(asked, _minded(asked, request))
    best, says = worth_telling(judged.options), _says(found)
    if in_trouble(found.sightings) and not any(it.control != TURN.name for it in best):
        best = [*best, *(it for it in found.cures() if it.control not in told_of(best))]
        says += [HARDLY] if best else []
    moves = tuple(_move(found, it, judged.flown) for it in best[:TOLD])
    if calls_in(minded):
        # No gain of speed is told beside a reef that was called and not taken.
        moves = tuple(replace(it, expected_gain_kn=None, flown_gain_kn=None) for it in moves)
    surfaces, known = found.known.surfaces, found.known
    method = FixMethod(
        known.flown, known.from_store, to_knots(surfaces["made_good"].error),
        surface_error_deg(surfaces), seconds, flags_of(known),
    )  # fmt: skip
    return FixAnswer(
        not moves, tuple(says), moves, minded, unknowns(found.known, found.boats), method
    )


def flags_of(known: Known) -> tuple[str, ...]:
    """Return what was assumed, with the course where it was searched."""
    flags = tuple(it for it in known.asked.flags if "angle" not in it)
    if len(flags) == len(known.asked.flags):
        return flags
    course = float(np.degrees(known.plot.course))
    return (*flags, f"course {course:.0f}° off the true wind, where the file's boat sails best")


def in_trouble(sightings: tuple[Sighting, ...]) -> bool:
    """Return whether any telltale that was looked at last was not streaming."""
    return bool(sightings) and not all(streams for _, streams in sightings[-1].tufts)


def _minded(asked: Question, request: FixRequest) -> SeenByCautions:
    last = request.seen[-1] if request.seen else Seen()
    angle = float(np.degrees(asked.stream.wind_angle))
    return SeenByCautions(asked.setting, angle, last.heel_deg, last.rudder_deg)


def worth_telling(options: tuple[Option, ...]) -> list[Option]:
    """Return the moves that are worth telling: what gains far less than the best one is not."""
    good = [it for it in options if it.gain >= LEAST_GAIN]
    return [it for it in good if it.gain >= LEAST_TOLD * good[0].gain][:TOLD]


def told_of(moves: list[Option]) -> set[str]:
    """Return the controls of moves."""
    return {it.control for it in moves}


def _move(found: Inferred, option: Option, flown: Mapping[str, float]) -> FixMove:
    name, known, stands = option.control, found.known, found.stands
    after_it = {
        it: found.now.get(it, 0.0) + option.by.get(it, 0.0) for it in {*found.now, *option.by}
    }
    look = Look(
        streaming(known, found.boats, found.now), streaming(known, found.boats, after_it)
    )  # fmt: skip
    gain = flown.get(name)
    start = float(np.degrees(found.now.get(name, 0.0))) if name == TURN.name else stands[name]
    change = float(np.degrees(option.by[name])) if name == TURN.name else option.by[name]
    return FixMove(
        "course" if name == TURN.name else name, start, start + change,
        "deg" if name == TURN.name else CONTROL_UNITS[name],
        "" if name == TURN.name else known.asked.boat.marks[name].text(start + change),
        stands["sheet"] + option.by["sheet"] if name != "sheet" and "sheet" in option.by else None,
        sentence(known, option, stands, set(found.given)) + until(look), option.chance,
        to_knots(option.gain), None if gain is None else to_knots(gain), then_see(look),
        why(known, option, found.boats, found.now),
    )  # fmt: skip


def _says(found: Inferred) -> list[str]:
    says = list(contradictions(found.sightings))
    if only_low_stalls(found.sightings):
        says += [it for it in [two_readings(found.known, found.boats, found.now)] if it]
    looked = sum(len(it.tufts) + len(it.felt) for it in found.sightings)
    if looked < 3:
        says.append("Little was seen: three sightings narrow this down.")
    return says
