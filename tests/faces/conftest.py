"""An invented state of an invented boat, so that faces are tested without computing one."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin
from typing import Literal

import pytest

from luffwright.app.answer import (
    BoatPicture,
    BoatState,
    Caution,
    Conditions,
    ControlReading,
    FlyAnswer,
    LevelReading,
    LevelWind,
    LoadReading,
    Method,
    SailPicture,
    SailReading,
    Search,
    SectionPicture,
    StayReading,
    TrimAnswer,
    Why,
    Worth,
)

Role = Literal["headsail", "mainsail"]
Place = tuple[float, float, float]
LEVELS: tuple[Literal["low", "middle", "top"], ...] = ("low", "middle", "top")
SHARES = (0.25, 0.5, 0.75)
WINDS = ((15.2, 26.0), (16.1, 27.4), (16.8, 28.5))


def arc(luff: Place, chord: float, angle_deg: float, camber_pct: float) -> list[Place]:
    """Return an arc of a given depth on a chord, at the height of its luff."""
    aft, out = -cos(radians(angle_deg)), sin(radians(angle_deg))
    points = []
    for step in range(25):
        share = (step / 24) ** 1.3
        depth = 4.0 * camber_pct / 100.0 * share * (1.0 - share)
        points.append(
            (
                luff[0] + chord * (share * aft + depth * out),
                luff[1] + chord * (share * out - depth * aft),
                luff[2],
            )
        )
    return points


def along(begin: Place, end: Place, share: float, sag: float = 0.0) -> Place:
    """Return a point between two others, pulled to leeward and aft by a sag [m]."""
    x, y, z = (a + share * (b - a) for a, b in zip(begin, end, strict=True))
    pull = 4.0 * sag * share * (1.0 - share)
    return (x - 0.4 * pull, y + 0.9 * pull, z)


def sail_picture(role: Role) -> SailPicture:
    """Return an invented genoa or mainsail."""
    if role == "headsail":
        tack, head, foot_chord, angle, sag, name = (
            (4.1, 0.0, 1.35), (-0.3, 0.0, 14.1), 5.7, 9.0, 0.16, "genoa"
        )  # fmt: skip
    else:
        tack, head, foot_chord, angle, sag, name = (
            (-0.2, 0.0, 2.25), (-0.55, 0.0, 14.0), 3.3, 2.0, 0.0, "mainsail"
        )  # fmt: skip
    luff = [along(tack, head, 0.05 * step, sag) for step in range(21)]
    leech, cut = [], []
    for step, place in enumerate(luff):
        share = 0.05 * step
        section = arc(place, foot_chord * (1.0 - 0.98 * share), angle + 13.0 * share, 11.0)
        leech.append(section[-1])
        if share in SHARES or round(share, 2) in SHARES:
            cut.append(section)
    sections = tuple(
        SectionPicture(
            level,
            round(section[0][2], 2),
            tuple(point[0] for point in section),
            tuple(point[1] for point in section),
            *wind,
        )
        for level, section, wind in zip(LEVELS, cut, WINDS, strict=True)
    )
    foot = arc(luff[0], foot_chord, angle, 6.0)
    return SailPicture(name, role, sections, tuple(luff), tuple(leech), tuple(foot))


def level_reading(
    role: Role, step: int, windward_pct: float, leeward_pct: float, leech_pct: float
) -> LevelReading:
    """Return an invented reading of one level, its tufts in trouble for these shares of time."""
    main = role == "mainsail"
    return LevelReading(
        level=LEVELS[step],
        height_m=4.5 + 3.2 * step,
        chord_m=(3.3 if main else 5.7) * (1.0 - SHARES[step]),
        chord_angle_deg=5.0 + 3.0 * step,
        twist_deg=3.0 + 3.5 * step,
        camber_pct=10.0 + step,
        draft_pct=42.0 if main else 36.0,
        entry_deg=22.0,
        exit_deg=11.0,
        a0=0.05,
        lift_coefficient=1.2,
        separation_pct=95.0,
        windward="lifting" if windward_pct > 50.0 else "streaming",
        leeward="stalled" if leeward_pct > 50.0 else "streaming",
        windward_lifting_pct=windward_pct,
        leeward_stalled_pct=leeward_pct,
        leech=("stalled" if leech_pct > 50.0 else "streaming") if main else None,
        leech_stalled_pct=leech_pct if main else None,
    )


def sail_reading(role: Role, shares: tuple[tuple[float, float, float], ...]) -> SailReading:
    """Return an invented sail."""
    levels = tuple(level_reading(role, step, *share) for step, share in enumerate(shares))
    name = "genoa" if role == "headsail" else "mainsail"
    return SailReading(name, role, "converged", "", 38.0, 900.0, 2600.0, levels)


CONTROLS = {
    "sheet": ControlReading(0.06, "m", "3 fingers eased from the mark"),
    "lead": ControlReading(0.3, "m", "hole 7 from forward"),
    "halyard": ControlReading(0.04, "m", "4 cm past hand-tight"),
    "backstay": ControlReading(0.03, "m", "6 turns on"),
    "mainsheet": ControlReading(0.1, "m", "1 hand eased from the mark"),
    "traveller": ControlReading(-0.1, "m", "10 cm to windward"),
    "outhaul": ControlReading(0.02, "m", "2 cm eased from the band"),
}


@pytest.fixture
def flown() -> FlyAnswer:
    """Return an invented answer of `fly`: the genoa's top lifts inside, the mainsail's low leech
    stalls.
    """
    return FlyAnswer(
        status="converged",
        reason="settled in 7 passes",
        conditions=Conditions(
            12.0, 44.0, 16.0, 27.0, None, None, 0.5,
            tuple(LevelWind(4.5 + 3.2 * n, 11.5 + n, *wind) for n, wind in enumerate(WINDS)),
        ),
        boat=BoatState(6.1, 4.4, 18.0, 4.2, None, {}, {"speed_kn": 0.6}),
        controls=dict(CONTROLS),
        sails=(
            sail_reading("headsail", ((2.0, 60.0, 0.0), (12.0, 8.0, 0.0), (71.0, 0.0, 0.0))),
            sail_reading("mainsail", ((0.0, 0.0, 5.0), (0.0, 0.0, 22.0), (8.0, 0.0, 58.0))),
        ),
        stays={"forestay": StayReading(14.2, 1.2), "backstay": StayReading(8.4)},
        loads={"sheet": LoadReading(3.1, 11.0), "halyard": LoadReading(6.2, None)},
        cautions=(
            Caution("note", "Loads are estimates [the maker's figures stand above them]."),
            Caution("warning", "Unload the sheet before you move its car."),
        ),
        method=Method("two sails, 10 by 8", "thin sections", "held", ("hull: outside",), ("helm",)),
    )  # fmt: skip


@pytest.fixture
def trimmed(flown: FlyAnswer) -> TrimAnswer:
    """Return an invented answer of `trim`."""
    state = {name: getattr(flown, name) for name in flown.__dataclass_fields__}
    return TrimAnswer(
        **state,
        worth={
            "lead": Worth(0.05, "m", 0.02, 0.04, 0.4),
            "backstay": Worth(0.005, "m", 0.05, 0.03, 1.6),
        },
        order=("backstay", "lead", "sheet"),
        leave_it=False,
        why=(Why("lead", "one hole further aft opens the top by 3°"),),
        search=Search(214, 9.4, from_table=False),
    )


@pytest.fixture
def picture() -> BoatPicture:
    """Return an invented boat's lines."""
    genoa, main = sail_picture("headsail"), sail_picture("mainsail")
    stay = tuple(along((4.15, 0.0, 1.2), (-0.3, 0.0, 14.5), 0.05 * n, 0.16) for n in range(21))
    clew = genoa.leech_m[0]
    meet = genoa.luff_m[8]
    lead = tuple(clew[n] + 0.2 * (clew[n] - meet[n]) for n in range(3))
    return BoatPicture(
        sails=(genoa, main),
        mast_m=((0.0, 0.0, 1.1), (-0.4, 0.0, 14.6)),
        boom_m=((-0.2, 0.0, 2.2), (-3.65, 0.1, 2.15)),
        stay_line_m=stay,
        sheet_line_m=((lead[0], lead[1], lead[2]), clew, meet),
        luff_meet_share=0.4,
        deck_height_m=1.15,
        bow_x_m=4.7,
        stern_x_m=-5.9,
        beam_m=3.35,
    )


@pytest.fixture
def mirrored(flown: FlyAnswer) -> FlyAnswer:
    """Return the same state with the wind from port."""
    seen = flown.conditions
    turned = replace(seen, angle_deg=-seen.angle_deg, apparent_angle_deg=-seen.apparent_angle_deg)
    return replace(flown, conditions=turned)
