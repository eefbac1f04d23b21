"""The typed answers of the verbs: exactly the keys of the contract, ready for JSON.

Numbers here are at the edge: degrees, knots, kilonewtons, per cent, as the key's ending says.
`None` is "not computed"; `Method.not_computed` names each such entry.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from typing import Literal

Windward = Literal["streaming", "lifting"]
Flow = Literal["streaming", "stalled"]
Status = Literal["converged", "luffing", "stalled", "failed"]


_DIGITS = 9
"""More than any difference that is told; fewer than the noise of adding 0.1 and 0.2."""


_FIRST = ("status", "reason", "cautions")


def _told(entry: dict[str, object]) -> dict[str, object]:
    """Return an entry with the contract's keys only, its numbers rounded."""
    # A sail's own reason is part of the whole one; what is no forestay has no sag.
    untold = {"reason"} if "levels" in entry else {"sag_pct"} if _no_sag(entry) else set()
    return {name: plain(value) for name, value in entry.items() if name not in untold}


def _no_sag(entry: dict[str, object]) -> bool:
    return "sag_pct" in entry and entry["sag_pct"] is None


def plain(value: object) -> object:
    """Return a value as JSON takes it: numbers rounded below any difference that is told."""
    match value:
        case float():
            return float(f"{value:.{_DIGITS}g}")
        case dict():
            return _told(value)
        case list() | tuple():
            return [plain(it) for it in value]
        case _:
            return value


@dataclass(frozen=True)
class LevelWind:
    height_m: float
    wind_kn: float
    apparent_wind_kn: float
    apparent_angle_deg: float


@dataclass(frozen=True)
class Conditions:
    wind_kn: float
    angle_deg: float
    apparent_wind_kn: float
    apparent_angle_deg: float
    sensor_wind_kn: float | None
    sensor_angle_deg: float | None
    wave_height_m: float
    by_level: tuple[LevelWind, ...]


@dataclass(frozen=True)
class BoatState:
    speed_kn: float
    vmg_kn: float
    heel_deg: float
    leeway_deg: float
    rudder_deg: float | None
    residuals: dict[str, float]
    bands: dict[str, float]


@dataclass(frozen=True)
class ControlReading:
    value: float
    unit: str
    mark: str


@dataclass(frozen=True)
class LevelReading:
    level: Literal["low", "middle", "top"]
    height_m: float
    chord_m: float
    chord_angle_deg: float
    twist_deg: float
    camber_pct: float
    draft_pct: float
    entry_deg: float
    exit_deg: float
    a0: float
    lift_coefficient: float
    separation_pct: float
    windward: Windward | None
    leeward: Flow | None
    windward_lifting_pct: float | None
    leeward_stalled_pct: float | None
    leech: Flow | None
    leech_stalled_pct: float | None


@dataclass(frozen=True)
class SailReading:
    name: str
    role: Literal["headsail", "mainsail"]
    status: Status
    reason: str
    area_m2: float
    drive_n: float
    side_n: float
    levels: tuple[LevelReading, ...]


@dataclass(frozen=True)
class StayReading:
    load_kn: float
    sag_pct: float | None = None


@dataclass(frozen=True)
class LoadReading:
    load_kn: float
    breaking_pct: float | None


@dataclass(frozen=True)
class Caution:
    level: Literal["note", "warning"]
    text: str


@dataclass(frozen=True)
class Method:
    lattice: str
    sections: str
    hull: str
    flags: tuple[str, ...]
    not_computed: tuple[str, ...]


@dataclass(frozen=True)
class FlyAnswer:
    """What the boat does when set like this, in this wind."""

    status: Status
    reason: str
    conditions: Conditions
    boat: BoatState
    controls: dict[str, ControlReading]
    sails: tuple[SailReading, ...]
    stays: dict[str, StayReading]
    loads: dict[str, LoadReading]
    cautions: tuple[Caution, ...]
    method: Method

    def as_json(self) -> dict[str, object]:
        """Return plain values for `json.dumps`: the contract's keys, no noise in the digits.

        The cautions come before any speed: a reef call is among them.
        """
        told = _told(asdict(self))
        return {name: told[name] for name in dict.fromkeys((*_FIRST, *told))}


@dataclass(frozen=True)
class Worth:
    """What one step of a control either way would lose."""

    step: float
    unit: str
    loss_down_kn: float | None
    loss_up_kn: float | None
    minutes_per_hour: float | None


@dataclass(frozen=True)
class Why:
    control: str
    text: str


@dataclass(frozen=True)
class Search:
    evaluations: int
    seconds: float
    from_table: bool


@dataclass(frozen=True)
class TrimAnswer(FlyAnswer):
    """The best setting found, what each control is worth, and in which order to work."""

    worth: dict[str, Worth] = field(default_factory=dict)
    order: tuple[str, ...] = ()
    leave_it: bool | str = False
    why: tuple[Why, ...] = ()
    search: Search = field(default_factory=lambda: Search(0, 0.0, from_table=False))


@dataclass(frozen=True)
class SectionPicture:
    """One section cut parallel to the deck, for drawing: points from luff to leech [m], boat
    frame x forward and y to leeward, and the apparent wind that meets it.
    """

    level: Literal["low", "middle", "top"]
    height_m: float
    x_m: tuple[float, ...]
    y_m: tuple[float, ...]
    apparent_wind_kn: float
    apparent_angle_deg: float


@dataclass(frozen=True)
class SailPicture:
    name: str
    role: Literal["headsail", "mainsail"]
    sections: tuple[SectionPicture, ...]
    luff_m: tuple[tuple[float, float, float], ...]
    leech_m: tuple[tuple[float, float, float], ...]
    foot_m: tuple[tuple[float, float, float], ...]
    to_windward: bool = False


@dataclass(frozen=True)
class BoatPicture:
    """Geometry for the drawings, in metres, boat frame (x forward, y to leeward, z up).

    `stay_line_m`: the loaded forestay from deck to mast, `sheet_line_m`: lead, clew and where the
    sheet's line through the clew meets the luff; `luff_meet_share`: that place as a share of the
    luff from the tack; `mast_m`: foot to top; `hull_spacing_m`: between the centrelines of two
    hulls, 0 for one; `ropes_m`: mainsheet, vang and backstay, as far as she has them;
    `lead_track_m` and `traveller_track_m`: the ends of the tracks; `winch_m`: of the sheet;
    `pole_m`: mast to end where the headsail is poled out: then the pole's end leads the sheet.
    """

    sails: tuple[SailPicture, ...]
    mast_m: tuple[tuple[float, float, float], ...]
    boom_m: tuple[tuple[float, float, float], ...]
    stay_line_m: tuple[tuple[float, float, float], ...]
    sheet_line_m: tuple[tuple[float, float, float], ...]
    luff_meet_share: float | None
    deck_height_m: float
    bow_x_m: float
    stern_x_m: float
    beam_m: float
    hull_spacing_m: float = 0.0
    ropes_m: dict[str, tuple[tuple[float, float, float], ...]] = field(default_factory=dict)
    lead_track_m: tuple[tuple[float, float, float], ...] = ()
    traveller_track_m: tuple[tuple[float, float, float], ...] = ()
    winch_m: tuple[float, float, float] | None = None
    pole_m: tuple[tuple[float, float, float], ...] = ()


@dataclass(frozen=True)
class Flown:
    """An answer of `fly` with what there is to draw."""

    answer: FlyAnswer
    picture: BoatPicture | None


@dataclass(frozen=True)
class Trimmed:
    """An answer of `trim` with what there is to draw."""

    answer: TrimAnswer
    picture: BoatPicture | None
