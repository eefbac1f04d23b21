"""What a page may ask for, checked, and the work that answers it."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, TypeVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from luffwright.app.answer import Trimmed
from luffwright.app.ropes import Rope, ropes
from luffwright.app.wind_words import with_wind
from luffwright.errors import InputError
from luffwright.faces.web import fix_work, work
from luffwright.faces.web.crew import Crew

REMEMBERED = 64
"""Best settings that the server keeps."""

Number = float | None
View = Literal["cuts", "deck", "side", "helm", "boom"]
VIEWS: tuple[View, ...] = ("cuts", "deck", "side", "helm", "boom")
Wish = TypeVar("Wish", bound=BaseModel)


class Case(BaseModel):
    """What a crew knows, as a page sends it: the fields of a request that a page may set."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)

    boat: str = Field(max_length=64)
    wind_kn: Number = None
    angle_deg: float | Literal["upwind", "downwind"] | None = None
    apparent_wind_kn: Number = None
    apparent_angle_deg: Number = None
    beaufort: Number = None
    course: str | None = Field(default=None, max_length=20)
    sea: Literal["flat", "slight", "moderate", "rough"] = "slight"
    gust_kn: Number = None
    tack: Literal["starboard", "port"] | None = None
    steered_by: Literal["hand", "pilot", "vane"] = "hand"
    aim: Literal["fast", "easy"] = "fast"


class Asked(BaseModel):
    """What every wish of a page carries: its name, a number that grows, its case and its ropes."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)

    page: str = Field(pattern=r"^[a-z0-9]{4,32}$")
    number: int = Field(ge=0, le=10**9)
    case: Case
    controls: dict[str, float] = Field(default_factory=dict, max_length=20)


class AskedLook(Asked):
    """A wish to see the boat: `rest` where the hand has let go."""

    rest: bool = True
    lesson: str | None = Field(default=None, max_length=20)
    views: list[View] = Field(default_factory=lambda: list(VIEWS), max_length=5)


class AskedSearch(Asked):
    """A wish for the best setting: `changes` from where the ropes stand."""

    changes: bool = False
    spoil: int | None = Field(default=None, ge=0, le=10**6)


class AskedFix(Asked):
    """Looks at the tufts, the newest last, each with what was moved before it."""

    seen: list[dict[str, Any]] = Field(default_factory=list, min_length=1, max_length=12)


def read(kind: type[Wish], body: bytes) -> Wish:
    """Return a wish from the body of a request.

    Raises
    ------
    InputError
        Where it is none.
    """
    try:
        return kind.model_validate_json(body)
    except ValidationError as fault:
        entry = fault.errors(include_url=False, include_context=False)[0]
        name = ".".join(str(it) for it in entry["loc"]) or "asked"
        value = str(entry.get("input", ""))[:40]
        raise InputError(
            name.removeprefix("case."), value, entry["msg"], "look at it again"
        ) from None


@dataclass
class Desk:
    """Where wishes are turned into work: the boats on the list, and the best settings known."""

    crew: Crew
    boats: Mapping[str, str]
    best: OrderedDict[str, Trimmed] = field(default_factory=OrderedDict)

    def fields(self, case: Case) -> dict[str, Any]:
        """Return the fields of a request; boats go by their name on the list and no other.

        Raises
        ------
        InputError
            For a boat that is not on the list.
        """
        if case.boat not in self.boats:
            raise InputError("boat", case.boat, "not on this list", "choose one of the list")
        given = case.model_dump(exclude_none=True)
        return with_wind(given) | {"boat": self.boats[case.boat]}

    def ropes(self, case: Case) -> dict[str, Rope]:
        """Return what can be moved on the boat of a case."""
        self.fields(case)
        return {it.control: it for it in ropes(self.boats[case.boat])}

    async def look(self, who: str, wish: AskedLook) -> dict[str, object]:
        """Return the boat as she is set, to be shown."""
        fields = self.fields(wish.case)
        looked = work.Look(
            who, fields, wish.controls, wish.rest, tuple(wish.views),
            None if wish.lesson else self.best.get(_key(fields)), wish.lesson,
        )  # fmt: skip
        told: dict[str, object] = await self.crew.look(who, work.look, looked)
        return told | {"rest": wish.rest}

    async def fix(self, wish: AskedFix) -> dict[str, object]:
        """Return what to do first about what was seen."""
        told: dict[str, object] = await self.crew.search(fix_work.fixed, *self._seen(wish))
        return told

    async def surer(self, wish: AskedFix, *, waits: Callable[[], bool]) -> dict[str, object]:
        """Return the same from all states that tell of the boat, unless nobody waits for it."""
        while waits():
            if await self.crew.search(fix_work.flown_on, *self._seen(wish)):
                return await self.fix(wish)
        return {}

    def _seen(self, wish: AskedFix) -> tuple[dict[str, Any], dict[str, float], list[Any]]:
        # A force of the scale is a wind by eye.
        fields = self.fields(wish.case) | {"instruments": wish.case.beaufort is None}
        return fields, dict(wish.controls), wish.seen

    async def search(self, wish: AskedSearch) -> Trimmed:
        """Return the best setting of a case, or the changes to it."""
        fields = self.fields(wish.case)
        controls = dict(wish.controls) if wish.changes else None
        key = _key(fields)
        if controls is None and key in self.best:
            return self.best[key]
        found: Trimmed = await self.crew.search(work.search, fields, controls)
        if found.answer.status != "failed" and not (controls and found.answer.leave_it):
            self.best[key] = found
            self.best.move_to_end(key)
            while len(self.best) > REMEMBERED:
                self.best.popitem(last=False)
        return found


def _key(fields: Mapping[str, object]) -> str:
    """Return by what a best setting is known again: all that was asked, but not for whom."""
    return repr(sorted((name, str(it)) for name, it in fields.items() if it is not None))
