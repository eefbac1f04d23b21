"""From a flight to the answer of the contract: edge units, deck marks, cautions, method."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from luffwright.aboard.boat import Boat
from luffwright.app.anchor import anchored, helm_anchor
from luffwright.app.answer import (
    BoatState,
    Conditions,
    ControlReading,
    FlyAnswer,
    LevelReading,
    LevelWind,
    LoadReading,
    Method,
    SailReading,
    Status,
    StayReading,
)
from luffwright.app.by_eye import seen_by_eye
from luffwright.app.caution import Seen, cautions, seen_of
from luffwright.app.question import MESH, Question
from luffwright.app.sensor import sensor_wind
from luffwright.app.swing import assumed, minute_of, wandering, waves_cost
from luffwright.arrays import FloatArray
from luffwright.sails.cut import sail_area, triangles
from luffwright.sails.flight import Flight
from luffwright.sails.measure import Section, sections, slack_at, stay_sag, track_forces
from luffwright.sails.sailcloth import SailPart
from luffwright.sails.setting import CONTROL_UNITS
from luffwright.sails.wander import TuftShares, Wander
from luffwright.units import to_knots
from luffwright.water.equilibrium import Balanced
from luffwright.water.fluid import water_at
from luffwright.water.hull_drag import hull_drag
from luffwright.water.waves import added_resistance
from luffwright.water.yaw import ANCHORED_BAND, HELM_BAND

WORDS = {"low": "low down", "middle": "half-way up", "top": "at the top"}
LATTICE = (
    "both sails as one vortex lattice, {strips} strips by {panels} panels each, "
    "mirrored in the level water"
)
SECTIONS = (
    "thin sections in free-streamline flow, separation by incidence and camber of each strip, "
    "fitted to measured polars"
)
TOLD_LEE = 0.9
"""Share of the wind's speed below which it is told that the headsail stands in a lee: a fifth less
pull [-]."""
LEE = (
    "the mainsail's lee is a shadow with mixing edges and a fifth of the wind inside: estimates of "
    "our own"
)
LIGHT_KN = 8.0
"""True wind below which no boat is overpowered [kn]."""
PRESSED = "she may be overpowered or lie in irons; reduce sail, ease or bear away and ask again"
IN_LIGHT_AIR = (
    "her ropes may stand for another wind, or she lies in irons; begin anew without them, ease or "
    "bear away and ask again"
)
MEAN = ": it flutters, told is the mean of its places"
UNSETTLED = (
    "conditions.sensor_wind_kn", "conditions.sensor_angle_deg",
    "sails.levels.windward_lifting_pct", "sails.levels.leeward_stalled_pct",
    "sails.levels.leech_stalled_pct",
)  # fmt: skip
"""What a flight out of balance has no answer to: sails that flog do not swing about one shape."""


@dataclass(frozen=True)
class Sailing:
    """What a sail does as a whole: its status and in which words."""

    status: Status
    reason: str


def _sailing(found: tuple[Section, ...], *, settled: bool) -> Sailing:
    lifting = [WORDS[section.level] for section in found if section.windward_lifts]
    stalled = [WORDS[section.level] for section in found if section.leeward_stalls]
    if not settled:
        return Sailing("failed", "did not settle")
    if len(lifting) >= 2:
        return Sailing("luffing", "luffs " + ", ".join(lifting))
    if len(stalled) >= 2:
        return Sailing("stalled", "stalled to leeward " + ", ".join(stalled))
    return Sailing("converged", "")


def _level(section: Section, role: str, shares: TuftShares | None) -> LevelReading:
    lifts: bool = section.windward_lifts
    leech = role == "mainsail"
    return LevelReading(
        section.level, section.height, section.chord, float(np.degrees(section.chord_angle)),
        float(np.degrees(section.twist)), 100.0 * section.camber, 100.0 * section.draft,
        float(np.degrees(section.entry)), float(np.degrees(section.exit)), section.incidence,
        section.lift, 100.0 * section.separated,
        "lifting" if lifts else "streaming",
        "stalled" if section.leeward_stalls else "streaming",
        100.0 * shares.windward_lifting if shares else None,
        100.0 * shares.leeward_stalled if shares else None,
        ("stalled" if section.leech_stalls else "streaming") if leech else None,
        100.0 * shares.leech_stalled if shares and leech else None,
    )  # fmt: skip


def _set_area(part: SailPart) -> float:
    return sail_area(part.moulded.nodes, triangles(part.rows, part.columns, 0))


def sail_names(boat: Boat) -> tuple[str, str]:
    """Return what the two sails are called on board.

    Parameters
    ----------
    boat : Boat

    Returns
    -------
    (str, str)
    """
    return "genoa" if boat.plan.headsail_gear.overlaps_shrouds else "jib", "mainsail"


def _sails(asked: Question, flight: Flight, swung: Wander | None) -> tuple[SailReading, ...]:
    forces = track_forces(flight) if swung is None else swung.track_forces(flight.stream.leeway)
    out = []
    for k, part in enumerate(flight.rigging.sails):
        found = sections(flight, part)
        shares = swung.tufts[k] if swung else (None,) * len(found)
        state = _sailing(found, settled=flight.settled)
        if flight.settled and flight.flutters and state.status != "luffing":
            state = Sailing("luffing", where) if (where := slack_at(flight, part)) else state
        out.append(
            SailReading(
                sail_names(asked.boat)[k], part.role, state.status, state.reason,
                _set_area(part), float(forces[k, 0]), float(forces[k, 1]),
                tuple(
                    _level(section, part.role, share)
                    for section, share in zip(found, shares, strict=True)
                ),
            )
        )  # fmt: skip
    return tuple(out)


def _conditions(asked: Question, flight: Flight) -> Conditions:
    sign = -1.0 if asked.port else 1.0
    stream, boat = asked.stream, asked.boat
    speed, angle = stream.apparent(np.array([boat.sensor_height]))
    read = sensor_wind(boat, flight) if flight.settled else None
    levels = []
    for section in sections(flight, flight.rigging.sails[1]):
        height = np.array([max(float(section.points.mean(axis=0) @ stream.up), 0.5)])
        here, off = stream.apparent(height)
        true = float(np.linalg.norm(_true_at(asked, height)))
        levels.append(
            LevelWind(
                float(height[0]), to_knots(true), to_knots(float(here[0])),
                sign * float(np.degrees(off[0])),
            )
        )  # fmt: skip
    ten = float(np.linalg.norm(_true_at(asked, np.array([10.0]))))
    return Conditions(
        to_knots(ten), sign * float(np.degrees(stream.wind_angle)), to_knots(float(speed[0])),
        sign * float(np.degrees(angle[0])), to_knots(read.speed) if read else None,
        sign * float(np.degrees(read.angle)) if read else None, minute_of(asked).sea.height,
        tuple(levels),
    )  # fmt: skip


def _true_at(asked: Question, height: FloatArray) -> FloatArray:
    stream = asked.stream
    moved = stream.level(height)[0]
    ahead = stream.speed * np.array([np.cos(stream.leeway), np.sin(stream.leeway), 0.0])
    return np.asarray(moved + ahead)


def _boat_state(asked: Question, flight: Flight, sailed: Balanced | None) -> BoatState:
    stream = flight.stream
    speed = to_knots(stream.speed)
    residuals = {"force_pct": 100.0 * flight.residual / flight.scale}
    bands: dict[str, float] = {}
    rudder = None
    if sailed is not None:
        share = 100.0 * np.abs(sailed.gaps) / sailed.scales
        names = ("drive_pct", "side_pct", "heeling_pct", "yaw_pct")
        residuals |= {names[k]: float(share[k]) for k in sailed.sums}
        moved = helm_anchor(asked)
        rudder = float(np.degrees(sailed.rudder + (moved or 0.0)))
        bands = {"rudder_deg": float(np.degrees(HELM_BAND if moved is None else ANCHORED_BAND))}
        if "speed" not in sailed.held:
            bands["speed_kn"] = to_knots(_speed_band(asked, sailed))
    return BoatState(
        speed, speed * float(np.cos(stream.wind_angle + stream.leeway)),
        float(np.degrees(stream.heel)), float(np.degrees(stream.leeway)), rudder,
        residuals, bands,
    )  # fmt: skip


def _speed_band(asked: Question, sailed: Balanced) -> float:
    """Return how far the speed may be off for what hull and waves may hold her back [m/s]."""
    stream, hull = sailed.flight.stream, asked.boat.hull
    water = water_at(asked.request.water_temp_c + 273.15)
    drag = hull_drag(hull, stream.speed, stream.heel, water)
    waves = added_resistance(minute_of(asked).sea, hull, stream.wind_angle)
    # Independent of each other; the waves' band is wider upwards, and told that wide.
    band = float(np.hypot(drag.band, waves.high - waves.resistance))
    # Where she balances its guide knows the slopes; anew they cost as much as the balance.
    slopes = sailed.slopes if sailed.guide is None else sailed.guide.slopes
    return band / max(-float(slopes[0, 0]), 1.0)


def controls_of(boat: Boat, flight: Flight) -> dict[str, ControlReading]:
    """Return where every control that the boat has stands, with its mark on deck.

    Parameters
    ----------
    boat : Boat
    flight : Flight

    Returns
    -------
    dict
    """
    out = {}
    for entry in boat.plan.controls:
        value = flight.setting.value(entry.name)
        mark = boat.marks[entry.name]
        seen = seen_by_eye(flight, entry.name) if mark.missing else ""
        out[entry.name] = ControlReading(
            value, CONTROL_UNITS[entry.name], mark.text(value, seen)
        )  # fmt: skip
    return out


def _loads(asked: Question, flight: Flight) -> dict[str, LoadReading]:
    gear = asked.boat.plan.mainsail_gear
    parts = {
        "mainsheet": gear.sheet_parts,
        "vang": gear.vang_parts,
        "outhaul": gear.outhaul_parts,
    }
    ropes = flight.rigging.ropes
    out: dict[str, LoadReading] = {}
    for name in ("sheet", "halyard", "main_halyard", "mainsheet", "vang", "outhaul"):
        if name not in ropes.names:
            continue
        pull = flight.pull(name)
        breaking = float(ropes.breaking[ropes.index(name)])
        share = 100.0 * pull / breaking if breaking > 0.0 else None
        out[name] = LoadReading(pull / max(parts.get(name, 1.0), 1.0) / 1000.0, share)
    return out


def _stays(flight: Flight) -> dict[str, StayReading]:
    out = {"forestay": StayReading(flight.pull("forestay") / 1000.0, 100.0 * stay_sag(flight))}
    for name in flight.rigging.ropes.names:
        if name == "backstay" or name.endswith(("_leeward", "_windward")):
            out[name] = StayReading(flight.pull(name) / 1000.0)
    return out


def _seen(asked: Question, flight: Flight, sailed: Balanced | None) -> Seen:
    """Return what the cautions look at: heel where it is balanced or given, helm where balanced."""
    heel = float(np.degrees(flight.stream.heel))
    if sailed is not None and sailed.settled:
        rudder = float(np.degrees(sailed.rudder + (helm_anchor(asked) or 0.0)))
        return seen_of(flight, heel, rudder)
    return seen_of(flight, heel if "heel" in asked.held else None)


def lee_of(flight: Flight) -> float:
    """Return the share of the wind's speed that the mainsail leaves the headsail [-].

    Parameters
    ----------
    flight : Flight

    Returns
    -------
    float
        On average over the headsail; 1 = it stands free.
    """
    panels = flight.flow.reached[: len(flight.flow.reached) // len(flight.rigging.sails)]
    return float(panels.mean())


def _in_lee(sails: tuple[SailReading, ...], flight: Flight) -> str:
    """Return what is to be told of a headsail in the mainsail's lee, else nothing."""
    left = lee_of(flight)
    if left > TOLD_LEE:
        return ""
    return f"; the mainsail leaves the {sails[0].name} {100.0 * left:.0f} % of the wind's speed"


def _overall(
    sails: tuple[SailReading, ...], flight: Flight, sailed: Balanced | None
) -> tuple[Status, str]:
    if not flight.settled and lee_of(flight) < TOLD_LEE:
        return "failed", (
            f"forces still {100.0 * flight.residual / flight.scale:.2g} % out of balance after "
            f"{flight.steps} steps: the {sails[0].name} hangs in the mainsail's lee and finds no "
            "place to rest; bring the wind further onto the side, or roll it away, and ask again"
        )
    if not flight.settled:
        share = 100.0 * flight.residual / flight.scale
        return "failed", (
            f"forces still {share:.2g} % out of balance after {flight.steps} steps: the sails "
            "flog or stall by turns; sheet in, ease or change course a little and ask again"
        )
    if sailed is not None and not sailed.settled:
        share = 100.0 * float(np.max(np.abs(sailed.gaps / sailed.scales)[sailed.sums]))
        pressed = to_knots(sailed.flight.stream.profile.speed) >= LIGHT_KN
        return "failed", (
            f"the boat is still {share:.2g} % out of balance after {sailed.steps} steps: "
            + (PRESSED if pressed else IN_LIGHT_AIR)
        )
    for status in ("luffing", "stalled"):
        told = [f"{it.name} {it.reason}" for it in sails if it.status == status]
        if told:
            return status, "; ".join(told) + _in_lee(sails, flight) + (
                MEAN if flight.flutters else ""
            )
    return "converged", "every rope, cloth and the air in balance" + _in_lee(sails, flight)


def _hull_method(asked: Question, sailed: Balanced | None) -> tuple[str, tuple[str, ...]]:
    """Return how the hull was reckoned with, and what was assumed."""
    stream = asked.stream
    if sailed is None:
        values = {
            "speed": f"{to_knots(stream.speed):.1f} kn",
            "heel": f"{np.degrees(stream.heel):.0f}°",
            "leeway": f"{np.degrees(stream.leeway):.0f}°",
        }
        assumed = tuple(
            f"{name} {text} is a first estimate"
            for name, text in values.items()
            if name not in asked.held
        )
        return "speed, heel and leeway held", (*asked.flags, *assumed)
    water = water_at(asked.request.water_temp_c + 273.15)
    drag = hull_drag(asked.boat.hull, stream.speed, stream.heel, water)
    kind = (
        "published resistance of a systematic series"
        if asked.boat.hull.kind == "monohull"
        else "two thin hulls' waves and friction"
    )
    held = ", ".join(sorted(asked.held))
    text = f"{kind}, keel and rudder, windage, waves" + (f"; {held} held" if held else "")
    waves = waves_cost(asked)
    return text, (*asked.flags, *drag.flags, *((waves,) if waves else ()))


def fly_answer(asked: Question, flight: Flight, sailed: Balanced | None = None) -> FlyAnswer:
    """Return the answer of the contract to a flight.

    Parameters
    ----------
    asked : Question
    flight : Flight
    sailed : Balanced, optional
        The boat in balance that the flight belongs to; without it, her motion was held.

    Returns
    -------
    FlyAnswer
    """
    minded = cautions(asked, _seen(asked, flight, sailed))
    asked = replace(asked, stream=flight.stream)
    swung = wandering(asked, flight) if flight.settled else None
    sails = _sails(asked, flight, swung)
    status, reason = _overall(sails, flight, sailed)
    lattice = LATTICE.format(strips=MESH.strips, panels=MESH.panels)
    hull, flags = _hull_method(asked, sailed)
    boat_held = () if sailed else ("boat.rudder_deg", "boat.bands")
    missing = (*boat_held, *(() if swung else UNSETTLED))
    flags = (*flags, assumed(asked)) if swung else flags
    flags = (*flags, LEE) if lee_of(flight) < TOLD_LEE else flags
    flags = (*flags, said) if sailed and (said := anchored(asked)) else flags
    return FlyAnswer(
        status, reason, _conditions(asked, flight), _boat_state(asked, flight, sailed),
        controls_of(asked.boat, flight), sails, _stays(flight),
        _loads(asked, flight), minded, Method(lattice, SECTIONS, hull, flags, missing),
    )  # fmt: skip
