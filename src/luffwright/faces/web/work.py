"""What the computing processes do for the page: fly what a hand moves, search, warm up.

A hand keeps the boats that it has flown, one for each open page, to fly the next place from there;
who is not kept is set up again from what the page sends, which is all there is to know.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass

from luffwright.aboard.boat import load_boat
from luffwright.app.answer import Trimmed
from luffwright.app.batch import asked
from luffwright.app.lesson import lesson_of, measured
from luffwright.app.request import Request
from luffwright.app.ropes import ropes_of
from luffwright.app.wind_words import with_wind
from luffwright.faces.web.picture_views import Compared, told_state

KEPT = 24
"""Boats that a process keeps."""


@dataclass(frozen=True)
class Look:
    """One place of the ropes that a page wants to see: `fields` of the request but for the ropes,
    `controls` where these stand, `rest`: the hand has let go; `views` to draw; `best` to compare.
    """

    who: str
    fields: Mapping[str, object]
    controls: Mapping[str, float]
    rest: bool
    views: tuple[str, ...]
    best: Trimmed | None
    lesson: str | None = None


_kept: OrderedDict[str, tuple[str, object]] = OrderedDict()


def request_of(
    fields: Mapping[str, object], controls: Mapping[str, float] | None = None
) -> Request:
    """Return the request that a page's fields make.

    Raises
    ------
    InputError
        With the first field that cannot be used.
    """
    given = with_wind({name: it for name, it in fields.items() if it not in (None, "")})
    return asked(given if controls is None else given | {"controls": dict(controls)})


def look(wanted: Look) -> dict[str, object]:
    """Return the state of a boat as a page has her set, with its drawings.

    Raises
    ------
    InputError
        What cannot be used, and where the sails do not settle.
    """
    from luffwright.app import under_way  # noqa: PLC0415  # compiled kernels: only where flown

    fields = _on_best_course(wanted)
    base = request_of(fields).model_dump_json()
    kept = _kept.pop(wanted.who, None)
    if kept is None or kept[0] != base or not isinstance(kept[1], under_way.UnderWay):
        boat = under_way.cast_off(request_of(fields, wanted.controls))
    elif wanted.rest:
        boat = under_way.set_to(kept[1], wanted.controls)
    else:
        boat = under_way.moved(kept[1], wanted.controls)
    _kept[wanted.who] = (base, boat)
    while len(_kept) > KEPT:
        _kept.popitem(last=False)
    lesson = lesson_of(wanted.lesson or "")
    # A lesson has one thing to move, and no other is named on its drawings.
    ropes = {
        it.control: it
        for it in ropes_of(boat.asked.boat)
        if lesson is None or it.control == lesson.control
    }
    compared = Compared(ropes, wanted.best, isinstance(wanted.fields.get("angle_deg"), str))
    flown = under_way.told(boat)
    told = told_state(flown, compared, wanted.views, settled=boat.settled)
    return told if lesson is None else told | {"measure": round(measured(lesson, flown.answer), 4)}


def _on_best_course(wanted: Look) -> dict[str, object]:
    """Return the fields with the best course where the course is free and the best is known."""
    fields = dict(wanted.fields)
    if isinstance(fields.get("angle_deg"), str) and wanted.best is not None:
        fields["angle_deg"] = wanted.best.answer.conditions.angle_deg
        fields.pop("tack", None)
    return fields


def search(fields: Mapping[str, object], controls: Mapping[str, float] | None) -> Trimmed:
    """Return the best setting; with `controls`, the changes from where they stand.

    Raises
    ------
    InputError
        What cannot be used.
    """
    from luffwright.app.trim import trim  # noqa: PLC0415  # as in look

    return trim(request_of(fields, controls))


def checked_boat(name: str) -> tuple[str, str, str]:
    """Return name, kind and note of a boat, read as the boats of the list are.

    Raises
    ------
    InputError, BoatFileError
        Where her file cannot be used.
    """
    boat = load_boat(name)
    return boat.name, boat.kind, boat.note


def set_up() -> None:
    """Load what computes, and compile or fetch its kernels, before anybody asks."""
    from luffwright.app import under_way  # noqa: PLC0415  # as in look
    from luffwright.app.trim import trim  # noqa: F401, PLC0415  # loaded, not used

    boat = under_way.cast_off(Request(boat="marram", wind_kn=12.0, angle_deg="upwind"))
    lead = boat.flight.setting.value("lead")
    under_way.let_go(under_way.moved(boat, {"lead": lead + 0.05}))
    under_way.told(boat)


def ready() -> bool:
    """Return True: a process that answers is ready."""
    return True
