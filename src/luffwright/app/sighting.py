"""What was seen on board, and the request of `fix` that carries it."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, field_validator

from luffwright.app.request import Request

Level = Literal["low", "middle", "top"]
SIGHTINGS_AT_MOST = 20


class Tufts(BaseModel):
    """The pair of tufts at one level, watched for ten seconds; `"?"` = not looked at.

    Streaming: gone for less than a fifth of the time, lifting or stalled: for more than half of it,
    wavering: between.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    windward: Literal["streaming", "wavering", "lifting", "?"] = "?"
    leeward: Literal["streaming", "wavering", "stalled", "?"] = "?"


class SailTufts(BaseModel):
    """The tufts along the luff of a sail."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    low: Tufts = Tufts()
    middle: Tufts = Tufts()
    top: Tufts = Tufts()


class Leech(BaseModel):
    """The telltales along a leech."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    low: Literal["streaming", "stalled", "?"] = "?"
    middle: Literal["streaming", "stalled", "?"] = "?"
    top: Literal["streaming", "stalled", "?"] = "?"


class Seen(BaseModel):
    """One look at the boat: whatever was looked at.

    `moved` tells where controls stand now that were moved since the look before, `turned_deg` by
    how much lower she is steered than then. `mainsail_backwinds`: its luff lifts low down;
    `leech_flutters`: that of the sail named, or of none.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    headsail: SailTufts = SailTufts()
    mainsail_leech: Leech = Leech()
    heel_deg: float | None = Field(default=None, ge=-10.0, le=60.0)
    speed_kn: float | None = Field(default=None, ge=0.0, le=30.0)
    helm: Literal["weather", "neutral", "lee", "?"] = "?"
    rudder_deg: float | None = Field(default=None, ge=-35.0, le=35.0)
    mainsail_backwinds: bool | None = None
    leech_flutters: Literal["headsail", "mainsail", "none", "?"] = "?"
    moved: dict[str, float] = Field(default_factory=dict)
    turned_deg: float = Field(default=0.0, ge=-30.0, le=30.0)


class FixRequest(Request):
    """A question for `fix`: `seen` is one look, or several with the moves between.

    `controls` are the marks as they stood at the first look; those not given may stand anywhere.
    `instruments`: whether wind speed and angle were read from instruments, or by eye; `beaufort`
    stands for a wind by eye; `quick`: whether a first sample will do where no whole one is kept;
    `confirm`: whether the best three moves are flown.
    """

    seen: tuple[Seen, ...] = ()
    instruments: bool = True
    beaufort: int | None = Field(default=None, ge=1, le=8)
    quick: bool = False
    confirm: bool = True

    @field_validator("seen", mode="before")
    @classmethod
    def _as_list(cls, value: Any) -> Any:  # noqa: ANN401  # whatever a file or a page sends
        return [value] if isinstance(value, dict | Seen) else value
