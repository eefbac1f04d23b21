"""What a boat carries above her deck, as the physics sees it: spars, stays, ropes and sails.

All lengths in metres, angles in radians, forces in newtons. Boat frame: x forward, y to port,
z up along the mast plane, origin on the waterline below the mast's front face. The wind comes
from starboard, so leeward is +y and every "leeward side" point has y > 0.

These records hold no marks, holes or turns: those are words of the deck and live in `aboard`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Point = tuple[float, float, float]
Role = Literal["headsail", "mainsail"]


@dataclass(frozen=True)
class Line:
    """A wire or rope: axial stiffness EA [N] and breaking load [N]."""

    stiffness: float
    breaking: float


@dataclass(frozen=True)
class Spreader:
    """One pair of spreaders: height of root [m], length [m], sweep aft [rad]."""

    height: float
    length: float
    sweep: float


@dataclass(frozen=True)
class Mast:
    """The mast: heights above the waterline [m], rake aft [rad], bending stiffness EI [N m²]."""

    foot: float
    top: float
    hounds: float
    rake: float
    depth: float
    stiffness_fore_aft: float
    stiffness_sideways: float
    spreaders: tuple[Spreader, ...]


@dataclass(frozen=True)
class Stay:
    """A stay or a pair of shrouds.

    `lower` is the chainplate (for shrouds: the leeward one; the other is its mirror image),
    `height` the place on the mast [m above waterline], `dock_tension` the pull with sails down
    and the backstay hand-tight [N]; `over_spreaders` says that the wire runs over the tips.
    """

    name: str
    lower: Point
    height: float
    line: Line
    dock_tension: float
    over_spreaders: bool = False


@dataclass(frozen=True)
class Cloth:
    """Membrane stiffness per width: `warp` across the sail (luff to leech), `fill` along the
    leech, `shear` on the bias [N/m], Poisson's ratio, mass [kg/m²]. Of worn cloth: `permanent`, the
    share of its usual stretch that has stayed.
    """

    warp: float
    fill: float
    shear: float
    poisson: float
    mass: float
    permanent: float = 0.0


@dataclass(frozen=True)
class Batten:
    """A batten at a share of the leech from the clew, length as a share of the chord there,
    bending stiffness EI [N m²].
    """

    leech_share: float
    chord_share: float
    stiffness: float


@dataclass(frozen=True)
class UprightBatten:
    """A batten parallel to the luff, where it crosses the foot as a share of the foot's width, from
    `low` to `high` as shares of the luff's height; bending stiffness EI [N m²].
    """

    foot_share: float
    low: float
    high: float
    stiffness: float


@dataclass(frozen=True)
class SailCut:
    """A sail as the loft made it.

    `luff`, `leech`, `foot` are the straight lines between the corners [m]. `luff_curve` is the
    offset of the cut luff from its straight line at half height, as a share of the luff: positive
    = hollow (cut for a sagging stay), negative = round (cut for a bending mast). `leech_curve` [m]
    at half height: positive = roach, negative = hollow. `foot_curve` [m]: round below the
    straight line. `camber` and `draft` are shares of the chord moulded in at 1/4, 1/2 and 3/4 of
    the luff, `twist` the moulded twist of the head section against the foot [rad], `luff_pad` the
    greatest thickness, pressed, of foam or rope sewn along the luff, which fills the roll [m],
    `luff_thickness` across what the wind meets first, foil or mast [m].
    """

    role: Role
    luff: float
    leech: float
    foot: float
    head_width: float
    luff_curve: float
    leech_curve: float
    foot_curve: float
    camber: tuple[float, float, float]
    draft: tuple[float, float, float]
    twist: float
    cloth: Cloth
    battens: tuple[Batten, ...] = ()
    tape_stiffness: float = 60_000.0
    luff_pad: float = 0.0
    uprights: tuple[UprightBatten, ...] = ()
    luff_thickness: float = 0.020


@dataclass(frozen=True)
class HeadsailGear:
    """Where a headsail is held.

    `tack` on the stay; `track_front` and `track_aft`: the sheave of the lead car at the ends of its
    travel (leeward side; equal ends = no car to move, as on a self-tacking jib's stop); `winch`:
    where the sheet leaves the lead for; `board_holes` and `board_pitch`: the clew board's holes
    (1 = none) and their distance along the leech [m]; `stop`: what the leech meets when hard in:
    a spreader tip or shroud, or nothing; `pole`: length of the pole that holds the clew out to
    windward on a run, and the height of its fitting on the mast, `pole_height` (none: no pole).
    """

    tack: Point
    track_front: Point
    track_aft: Point
    outboard_reach: float
    winch: Point
    sheet: Line
    halyard: Line
    halyard_length: float
    board_holes: int = 1
    board_pitch: float = 0.0
    overlaps_shrouds: bool = True
    pole: float | None = None
    pole_height: float = 0.0


@dataclass(frozen=True)
class MainsailGear:
    """Where a mainsail is held.

    `tack`: gooseneck end of the boom; distances along the boom from there [m]; `traveller`: its
    middle, `traveller_reach` [m] to each side; parts of purchase turn rope pulled into distance.
    """

    tack: Point
    boom_length: float
    boom_mass: float
    sheet_at: float
    traveller: Point
    traveller_reach: float
    sheet: Line
    sheet_parts: float
    vang_at: float
    vang_foot: Point
    vang: Line
    vang_parts: float
    vang_lift: float
    halyard: Line
    halyard_length: float
    outhaul: Line
    outhaul_parts: float
    cunningham_parts: float
    has_vang: bool = True
    has_cunningham: bool = True


@dataclass(frozen=True)
class ControlTravel:
    """One control that the boat has: from `low` to `high` in the control's own unit; `step` is
    the least amount by which the crew can set it (a hole, half a turn, a hand of rope).
    """

    name: str
    low: float
    high: float
    step: float
    rest: float


@dataclass(frozen=True)
class SailPlan:
    """Everything that flies and everything that holds it."""

    mast: Mast
    forestay: Stay
    shrouds: tuple[Stay, ...]
    backstay: Stay | None
    headsail: SailCut
    headsail_gear: HeadsailGear
    mainsail: SailCut
    mainsail_gear: MainsailGear
    deck_height: float
    controls: tuple[ControlTravel, ...] = field(default=())
