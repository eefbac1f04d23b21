"""The typed request: what a person asks, checked field by field before anything is computed."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field


class Request(BaseModel):
    """One question for `fly`, `trim` or `fix`. Keys end in their unit; unknown keys are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=False)

    boat: str
    wind_kn: float | None = None
    angle_deg: float | Literal["upwind", "downwind"] | None = None
    apparent_wind_kn: float | None = None
    apparent_angle_deg: float | None = None
    sea: Literal["flat", "slight", "moderate", "rough"] = "slight"
    gust_kn: float | None = None
    air_temp_c: float = 15.0
    water_temp_c: float = 15.0
    tack: Literal["starboard", "port"] | None = None
    load_kg: float = 0.0
    steered_by: Literal["hand", "pilot", "vane"] = "hand"
    aim: Literal["fast", "easy"] = "fast"
    speed_kn: float | None = None
    heel_deg: float | None = None
    leeway_deg: float | None = None
    controls: dict[str, float] = Field(default_factory=dict)
    untouched_from: dict[str, object] | None = None
    hold: dict[str, float] = Field(default_factory=dict)
    refine: bool = False
    range_kn: tuple[float, float] | None = None
