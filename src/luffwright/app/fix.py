"""`fix`: from what the telltales show to the right move, its size, and what is then to be seen."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

import numpy as np

from luffwright.advice.decision import NOTHING, WORTH_IT, Option, put_back
from luffwright.advice.posterior import Sighting
from luffwright.advice.task import TURN
from luffwright.app.call import calls_in
from luffwright.app.caution import Seen as SeenByCautions
from luffwright.app.caution import cautions
from luffwright.app.fix_again import (
    TOLD,
    any_gone,
    cures_of,
    doubt_words,
    doubted,
    if_seen_right,
    look_words,
    moves_of,
    order,
    seen_again,
    taken_back,
    unanswered,
)
from luffwright.app.fix_answer import FixAnswer, FixMethod, FixMove
from luffwright.app.fix_flown import Confirmed, at_likeliest, confirmed, with_sight
from luffwright.app.fix_infer import Inferred, infer
from luffwright.app.fix_sample import FIRST, WHOLE, Known, flown_further, known
from luffwright.app.fix_words import (
    Look,
    contradictions,
    course_words,
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
from luffwright.units import to_knots

Progress = Callable[[int, int], None]
"""Told how many states of how many are flown."""
NOT_NOW = (
    "{} would bring more at once, but only makes up for ropes that are off their marks: it would "
    "have to be taken back."
)
BEAUFORT = 1.625
"""Knots of wind by force to the power of 1.5: the scale's own formula (0.836 m/s)."""
HARDLY = (
    "There is hardly any speed in the ropes: what follows of them is to have the tufts stream, not "
    "to gain."
)
NOT_FOR_THEM = (
    "What brings speed does nothing for the tufts that were seen gone: what follows last is to "
    "have them stream, not to gain."
)
CURES_TOLD = 3
"""Moves that have the tufts stream, for which room is kept beside what brings speed."""
COSTS_NOTHING = (
    "What you saw fits her best trim: no rope and no course is expected to gain 0.01 kn "
    "within her limits. Leave it so, and look again when the wind has changed."
)
REEF_FIRST = (
    "Reef first, then look and ask again: under too much sail what telltales show is no ground for "
    "trim."
)
READ_THE_LOG = (
    "Tufts that all stream hardly tell a course that is 3° off. The log does, read at each look "
    "and after each move."
)
PUT_BACK = (
    "Nothing that was seen asks for a move. What stands off the place where her file has it best "
    "costs nothing to put back there."
)


def fix(request: FixRequest, progress: Progress | None = None) -> FixAnswer:
    """Return the moves that are expected to bring most after what was seen, best first.

    The last of `answers`, or with `confirm=False` the first: `method.confirmed` tells which.

    For a page: build the request with `FixRequest.model_validate(fields)` (or `batch.fix_asked`,
    which reads deck marks too), call `fix(request, progress)`, send `answer.as_json()`. The first
    answer for a boat and condition flies a sample of states, with `quick` fewer on a coarse mesh;
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
    *_, last = answers(request, progress)
    return last


def answers(request: FixRequest, progress: Progress | None = None) -> Iterator[FixAnswer]:
    """Yield a first answer at once, and unless `confirm=False` one with the best moves flown.

    Parameters
    ----------
    request : FixRequest
    progress : callable, optional

    Yields
    ------
    FixAnswer
        The first is not confirmed yet: the order of its moves may change.

    Raises
    ------
    InputError
        As in `fix`.
    """
    request = with_wind(request)
    asked = question(_at_first(request))
    found = known(request, progress, wanted=FIRST if request.quick else WHOLE)
    began = time.perf_counter()
    inferred = infer(request, found)
    first = Confirmed(inferred.options, {}, sure=False)
    yield _answer(asked, request, inferred, first, began)
    if request.confirm:
        likely = at_likeliest(inferred)
        yield _answer(asked, request, likely, confirmed(likely), began)


def further(request: FixRequest, more: int) -> bool:
    """Return whether all states are flown by which the next answer is as good as it can be.

    Parameters
    ----------
    request : FixRequest
        That was answered, perhaps from a first sample.
    more : int
        States to fly now, in this process alone. [-]

    Returns
    -------
    bool

    Raises
    ------
    InputError
        As in `fix`.
    """
    return flown_further(with_wind(request), more) >= WHOLE


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


def _answer(
    asked: Question, request: FixRequest, found: Inferred, judged: Confirmed, began: float,
) -> FixAnswer:  # fmt: skip
    minded = cautions(asked, _minded(asked, request))
    trouble = in_trouble(found.sightings)
    best, judged = with_sight(found, judged)
    says = _says(found)
    called = bool(calls_in(minded))
    if not called and (later := taken_back(judged.kept(gone=any_gone(found)), best)) is not None:
        says.append(NOT_NOW.format(order(found, later)))
    moves = [_move(found, it, judged.flown) for it in best]
    if trouble:
        more, told = _in_trouble(found, best)
        moves, says = beside(moves, more), [*says, *told]
    if not best and (back := back_to_marks(found, fly=judged.sure)).options:
        names = {it.control for it in moves}
        put = [_move(found, it, back.flown) for it in back.options if it.control not in names]
        moves, says = [*moves, *put][:TOLD], [*says, PUT_BACK]
        says = [it for it in says if it != COSTS_NOTHING]
    leave = not trouble and not called and all(it.gain < WORTH_IT for it in best)
    if leave and found.deck.turns and not _log_read(request):
        says.append(READ_THE_LOG)
    if called:
        # No move is weighed against a reef, and none that pulls is told to a boat that is pressed.
        moves, says = [], [REEF_FIRST]
    surfaces, known = found.known.surfaces, found.known
    method = FixMethod(
        known.flown, known.from_store, to_knots(surfaces["made_good"].error),
        surface_error_deg(surfaces), time.perf_counter() - began, flags_of(known), judged.sure,
        known.first,
    )  # fmt: skip
    return FixAnswer(
        leave, tuple(says), tuple(moves), minded,
        unknowns(found.known, found.boats), method,
    )  # fmt: skip


def _log_read(request: FixRequest) -> bool:
    """Return whether any look tells the speed."""
    return any(it.speed_kn is not None for it in request.seen)


def beside(moves: list[FixMove], cure: list[FixMove]) -> list[FixMove]:
    """Return what brings speed and after it what has the tufts stream: room is kept for both."""
    room = TOLD - min(len(cure), CURES_TOLD)
    return [*moves[:room], *cure][:TOLD]


def back_to_marks(found: Inferred, *, fly: bool) -> Confirmed:
    """Return the moves of what was told to stand off its best place back to it, for where nothing
    else is worth telling; flown, those that turn out to cost something are left out.
    """
    moves = put_back(found.boats, found.known.surfaces, found.deck, found.now)
    touched = {*found.given, *found.now}
    moves = tuple(it for it in moves if it.control in touched)
    if not fly:
        return Confirmed(moves, {}, sure=False)
    judged = confirmed(found, moves, -NOTHING)
    free = (
        it for it in judged.options
        if min(it.gain, judged.flown.get(it.control, 0.0)) > -NOTHING
    )  # fmt: skip
    return Confirmed(tuple(free), judged.flown)


def _in_trouble(found: Inferred, best: list[Option]) -> tuple[list[FixMove], list[str]]:
    """Return what more is told where a telltale does not stream: what cures it, what it would mean
    if it shows again, and which look decides.
    """
    odd, ropes = doubted(found), any(it.control != TURN.name for it in best)
    says: list[str] = []
    cure: list[Option] = []
    if not ropes or unanswered(found, best):
        cure = [it for it in cures_of(found, odd) if it.control not in told_of(best)]
        cure = cure[:CURES_TOLD] if ropes else cure
        says += [NOT_FOR_THEM if ropes else HARDLY] if cure else []
    if odd:
        again = seen_again(found)
        then = [*cure, *best] if doubted(again) else [*moves_of(again)]
        says.append(doubt_words(found, again, then[0] if then else None))
    elif not best and not cure and not list(contradictions(found.sightings)):
        says.append(COSTS_NOTHING)
    says += [it for it in [look_words(found, found.options)] if it]
    moves = [_move(found, it, {}) for it in cure]
    if odd:
        # On most boats that fit they stream already: what is sought holds if they were seen right.
        moves = [replace(it, then_see=if_seen_right(odd)) for it in moves]
    return moves, says


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
    if found.keeps is not None:
        says.append(course_words(found.keeps.closer))
    looked = sum(len(it.tufts) + len(it.wavering) + len(it.felt) for it in found.sightings)
    if looked < 3:
        says.append("Little was seen: three sightings narrow this down.")
    return says
