"""Many requests, one JSON object a line: answered in order, on all cores, bad lines told apart."""

from __future__ import annotations

import difflib
import json
import math
import multiprocessing
import os
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from typing import TypeVar

from pydantic import ValidationError

from luffwright.aboard.refusal import own_words
from luffwright.app.answer import FlyAnswer
from luffwright.app.fix_answer import FixAnswer
from luffwright.app.marks import with_moves, with_positions
from luffwright.app.request import Request
from luffwright.app.sighting import FixRequest
from luffwright.errors import InputError

VERBS = ("fly", "trim", "fix")
R = TypeVar("R", bound=Request)

_REMEDIES = {
    "_kn": "give knots as a plain number",
    "_deg": "give degrees as a plain number",
    "_c": "give °C as a plain number",
    "_kg": "give kilograms as a plain number",
    "controls": "give the position as a plain number, or as a mark such as hole 7",
    "hold": "give the position as a plain number, or as a mark such as hole 7",
}


def asked(fields: Mapping[str, object]) -> Request:
    """Return the request that these fields make.

    Raises
    ------
    InputError
        With the first field that cannot be used, its value, the limit and the remedy.
    """
    return _validated(fields, Request)


def fix_asked(fields: Mapping[str, object]) -> FixRequest:
    """Return the request for `fix` that these fields make; `seen` is one look or a list of them.

    Raises
    ------
    InputError
        As `asked`.
    """
    seen = fields.get("seen")
    looks = [seen] if isinstance(seen, Mapping) else seen
    if isinstance(looks, list):
        boat = fields.get("boat")
        fields = {**fields, "seen": [with_moves(boat, look) for look in looks]}
    return _validated(fields, FixRequest)


def _validated(fields: Mapping[str, object], model: type[R]) -> R:
    given = with_positions(fields)
    if isinstance(given.get("angle_deg"), str):
        given["angle_deg"] = str(given["angle_deg"]).lower()
    try:
        request = model.model_validate(given)
    except ValidationError as fault:
        raise _first_fault(fault, tuple(model.model_fields)) from None
    for name, value in _numbers(request.model_dump()):
        if not math.isfinite(value):
            raise InputError(name, value, "must be a finite number", _remedy(name))
    return request


def answer_line(line: str) -> str:
    """Return the answer to one line, or its error, as one line of JSON."""
    try:
        return as_text(_answer(line))
    except InputError as refusal:
        return json.dumps({"error": refusal.as_json()}, ensure_ascii=False)
    except (ArithmeticError, LookupError, RuntimeError, ValueError) as fault:
        # One state that breaks down must not take the other lines with it.
        broken = InputError(
            "line", line[:80], f"could not be computed ({fault})", "try a state close by"
        )
        return json.dumps({"error": broken.as_json()}, ensure_ascii=False)


def as_text(answer: FlyAnswer | FixAnswer) -> str:
    """Return an answer as one line of JSON that every reader takes: finite numbers only."""
    return json.dumps(answer.as_json(), allow_nan=False, ensure_ascii=False)


def run_batch(lines: Iterable[str], processes: int | None = None) -> Iterator[str]:
    """Return an iterator over the answers, in the order of the lines; empty lines are passed over.

    Parameters
    ----------
    lines : iterable of str
        One JSON object each: `{"verb": "fly", "boat": "marram", "wind_kn": 12, ...}`.
    processes : int, optional
        How many to work at once; as many as there are cores unless given. [-]
    """
    wanted = [line for line in lines if line.strip()]
    if processes == 1 or len(wanted) < 2:
        yield from map(answer_line, wanted)
        return
    # Started afresh, because compiled code with threads does not survive a fork.
    fresh = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(processes, mp_context=fresh, initializer=work_alone) as pool:
        yield from pool.map(answer_line, wanted)


def work_alone() -> None:
    """Keep a worker to one thread: the others fill the remaining cores."""
    for library in ("NUMBA", "OMP", "OPENBLAS"):
        os.environ[f"{library}_NUM_THREADS"] = "1"


def _answer(line: str) -> FlyAnswer | FixAnswer:
    fields = _object(line)
    verb = fields.pop("verb", None)
    if verb not in VERBS:
        limit = f"must be {' or '.join(VERBS)}"
        raise InputError("verb", "nothing" if verb is None else verb, limit, _near(verb, VERBS))
    if verb == "fix":
        from luffwright.app.fix import fix  # noqa: PLC0415  # as in _work

        return fix(fix_asked(fields))
    return _work()[str(verb)](asked(fields))


@cache
def _work() -> dict[str, Callable[[Request], FlyAnswer]]:
    """Return what answers each verb; the physics is loaded only where something is computed."""
    from luffwright.app.fly import fly  # noqa: PLC0415  # takes a second: compiled kernels
    from luffwright.app.trim import trim  # noqa: PLC0415  # as above

    return {"fly": lambda it: fly(it).answer, "trim": lambda it: trim(it).answer}


def _object(line: str) -> dict[str, object]:
    remedy = 'write one object a line, such as {"verb": "fly", "boat": "marram"}'
    try:
        found = json.loads(line)
    except json.JSONDecodeError as fault:
        raise InputError("line", line.strip()[:80], f"is not JSON ({fault})", remedy) from None
    if not isinstance(found, dict):
        raise InputError("line", line.strip()[:80], "must be a JSON object", remedy)
    return found


def _numbers(fields: Mapping[str, object], above: str = "") -> Iterator[tuple[str, float]]:
    for name, value in fields.items():
        if isinstance(value, float):
            yield above + name, value
        elif isinstance(value, dict):
            yield from _numbers(value, f"{above}{name}.")
        elif isinstance(value, list | tuple):
            for entry in value:
                yield from _numbers(entry, f"{above}{name}.") if isinstance(entry, dict) else ()


def _first_fault(fault: ValidationError, known: tuple[str, ...]) -> InputError:
    """Return the first fault of a request as a refusal in the sailor's words."""
    entry = fault.errors()[0]
    place = [str(step) for step in entry["loc"]]
    name = place[0] if place else "request"
    if entry["type"] == "missing" and len(place) == 1:
        return InputError(name, "nothing", "must be given", "add it")
    if entry["type"] == "extra_forbidden":
        limit, remedy = "unknown entry", _near(name, known)
    elif entry["type"] == "literal_error" and name != "angle_deg":
        names = tuple(re.findall(r"'(\w+)'", entry["msg"]))
        limit, remedy = _limit(name, entry["msg"].replace("'", "")), _near(entry["input"], names)
    else:
        limit, remedy = _limit(name, entry["msg"]), _remedy(place[-1] if place else name)
    if name == "angle_deg":
        remedy = _near(entry["input"], ("upwind", "downwind"), "give degrees as a plain number")
    if name in ("controls", "hold", "seen") and len(place) > 1:
        name = ".".join([name, *place[1:]]) if name == "seen" else f"{name}.{place[1]}"
    return InputError(name, entry["input"], limit, remedy)


def _limit(name: str, message: str) -> str:
    if name == "angle_deg":
        return "must be a number of degrees, upwind or downwind"
    if name == "range_kn":
        return "must be [from, to]"
    if "valid number" in message:
        return "must be a number"
    return own_words(message)


def _remedy(name: str) -> str:
    ends = [text for end, text in _REMEDIES.items() if name.endswith(end) or name.startswith(end)]
    return ends[0] if ends else "give it in that form"


def _near(value: object, options: tuple[str, ...], otherwise: str = "") -> str:
    """Return the closest of the options as a question, or else all of them."""
    close = difflib.get_close_matches(str(value).lower(), options, 1, 0.5)
    if close:
        return f'did you mean "{close[0]}"?'
    return otherwise or f"give one of {', '.join(options)}"
