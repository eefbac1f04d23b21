"""The boat file: what a sailor measures and types in, checked key by key.

Every key ends in its unit. Heights are above the deck unless the key says water; `aft` and `out`
are distances from the mast's front face and from the centreline.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationInfo, field_validator
from pydantic_core import PydanticCustomError

Share = Annotated[float, Field(ge=1, lt=30)]
Draft = Annotated[float, Field(ge=25, le=60)]
Heel = Annotated[float, Field(ge=0, le=180)]
Lever = Annotated[float, Field(gt=-5, lt=10)]
Share3 = tuple[Share, Share, Share]
Draft3 = tuple[Draft, Draft, Draft]
Fibre = Literal["polyester", "dyneema"]


class Table(BaseModel):
    """A table of the file: unknown keys are refused, and numbers that are none."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)

    @field_validator("*", mode="before")
    @classmethod
    def _no_number_in_disguise(cls, value: object, info: ValidationInfo) -> object:
        """Refuse text or true and false for a number, and anything else for true and false."""
        kind = cls.model_fields[info.field_name or ""].annotation
        meant = {kind, *getattr(kind, "__args__", ())}
        if isinstance(value, bool | str) and meant & {int, float}:
            raise PydanticCustomError("float_type", "must be a number")
        if bool in meant and not isinstance(value, bool):
            raise PydanticCustomError("bool_type", "must be true or false")
        return value


class BoatTable(Table):
    name: str
    school: str = ""
    kind: Literal["monohull", "catamaran"]
    note: str = ""


class SpreaderTable(Table):
    height_m: float = Field(gt=0.5, lt=40)
    length_m: float = Field(gt=0.1, lt=4)
    sweep_deg: float = Field(ge=0, le=45)


class RigTable(Table):
    type: Literal["masthead", "fractional"]
    i_m: float = Field(gt=3, lt=40, description="forestay's height above the deck at the mast")
    j_m: float = Field(gt=1, lt=12)
    p_m: float = Field(gt=3, lt=40)
    e_m: float = Field(gt=1, lt=12)
    mast_top_m: float = Field(gt=4, lt=45)
    deck_above_water_m: float = Field(gt=0.2, lt=4)
    boom_above_deck_m: float = Field(gt=0.2, lt=4)
    rake_deg: float = Field(ge=0, le=12)
    mast_depth_mm: float = Field(gt=40, lt=500)
    bending_fore_aft_knm2: float = Field(gt=5, lt=20000)
    bending_sideways_knm2: float = Field(gt=5, lt=20000)
    sensor_above_water_m: float = Field(gt=2, lt=50)
    spreaders: tuple[SpreaderTable, ...] = Field(min_length=1)


class ShroudTable(Table):
    name: str
    wire_mm: float = Field(ge=3, le=25)
    height_m: float = Field(gt=1, lt=45)
    aft_m: float = Field(ge=-3, le=4)
    out_m: float = Field(gt=0.2, lt=6)
    dock_kn: float = Field(gt=0, lt=100)
    over_spreaders: bool = False


class StayTable(Table):
    forestay_wire_mm: float = Field(ge=3, le=25)
    forestay_dock_kn: float = Field(gt=0, lt=100)
    backstay_wire_mm: float | None = Field(default=None, ge=3, le=25)
    backstay_aft_m: float | None = Field(default=None, gt=1, lt=20)
    backstay_dock_kn: float = Field(default=2.0, gt=0, lt=100)
    shrouds: tuple[ShroudTable, ...] = Field(min_length=1)


class BattenTable(Table):
    leech_pct: float = Field(gt=0, lt=100)
    chord_pct: float = Field(gt=5, le=100)
    bending_nm2: float = Field(gt=0, lt=5000)


class UprightBattenTable(Table):
    """A batten that stands parallel to the mast, so that it rolls up with the sail."""

    foot_pct: float = Field(gt=5, lt=100)
    """Where it crosses the foot, from the luff."""
    from_pct: float = Field(default=0.0, ge=0, lt=100)
    to_pct: float = Field(default=100.0, gt=0, le=100)
    """Its ends, as shares of the luff's height; it goes no further than the leech."""
    bending_nm2: float = Field(gt=0, lt=5000)


class SailTable(Table):
    luff_m: float = Field(gt=2, lt=40)
    leech_m: float = Field(gt=2, lt=42)
    head_width_m: float = Field(default=0.12, gt=0.03, lt=5)
    camber_pct: Share3
    draft_pct: Draft3
    twist_deg: float = Field(ge=-5, le=30)
    foot_round_m: float = Field(default=0.0, ge=0, lt=1)
    cloth_g_per_m2: float = Field(gt=40, lt=800)
    age_years: float = Field(ge=0, lt=40)
    luff_thickness_mm: float = Field(ge=1, lt=400)
    """Across what the wind meets first: a headsail's wire or foil, the mast of a mainsail."""
    battens: tuple[BattenTable, ...] = ()


class HeadsailTable(SailTable):
    luff_perpendicular_m: float = Field(gt=1, lt=15)
    luff_hollow_pct: float = Field(default=0.4, ge=-2, le=3)
    leech_hollow_m: float = Field(default=0.0, ge=0, lt=1.5)
    luff_pad_mm: float = Field(default=0.0, ge=0, le=5)
    """Foam or rope along the luff, where it is thickest, squeezed between finger and thumb."""


class MainsailTable(SailTable):
    foot_m: float = Field(gt=1, lt=12)
    luff_round_pct: float = Field(default=0.4, ge=-2, le=3)
    roach_m: float = Field(default=0.0, ge=-1, lt=3)
    """Outside the line from head to clew; a hollow leech negative."""
    upright_battens: tuple[UprightBattenTable, ...] = ()


class TrackSide(Table):
    """The holes of one side's track, where port and starboard are not alike."""

    front_aft_m: float | None = Field(default=None, gt=-6, lt=14)
    hole_spacing_m: float | None = Field(default=None, gt=0.01, lt=0.5)
    holes: int | None = Field(default=None, ge=2, le=200)
    holes_counted_from: Literal["front", "aft"] | None = None


class HeadsailDeck(Table):
    tack_forward_m: float = Field(gt=1, lt=14)
    tack_above_deck_m: float = Field(ge=0, lt=2)
    lead_front_aft_m: float = Field(gt=-6, lt=14)
    lead_front_out_m: float = Field(ge=0, lt=5)
    lead_aft_aft_m: float | None = Field(default=None, gt=-6, lt=14)
    lead_aft_out_m: float | None = Field(default=None, ge=0, lt=5)
    lead_above_deck_m: float = Field(ge=-0.5, lt=2)
    hole_spacing_m: float = Field(default=0.05, gt=0.01, lt=0.5)
    holes_counted_from: Literal["front", "aft"] = "front"
    port: TrackSide | None = None
    starboard: TrackSide | None = None
    winch_aft_m: float = Field(gt=-2, lt=14)
    winch_out_m: float = Field(ge=0, lt=5)
    sheet_mm: float = Field(ge=6, le=24)
    sheet_fibre: Fibre = "polyester"
    halyard_mm: float = Field(ge=5, le=20)
    halyard_fibre: Fibre = "polyester"
    clew_board_holes: int = Field(default=1, ge=1, le=20)
    clew_board_pitch_m: float = Field(default=0.0, ge=0, lt=0.3)
    passes_shrouds: bool
    pole_m: float | None = Field(default=None, gt=0.5, lt=12)
    """Of a pole that holds the headsail's clew out to windward on a run, from mast to end."""
    pole_above_deck_m: float | None = Field(default=None, gt=0.2, lt=6)
    """Of the pole's fitting on the mast."""


class MainsailDeck(Table):
    boom_length_m: float = Field(gt=1, lt=14)
    boom_kg: float = Field(gt=1, lt=300)
    sheet_along_boom_m: float = Field(gt=0.5, lt=14)
    sheet_parts: int = Field(ge=1, le=12)
    sheet_mm: float = Field(ge=5, le=20)
    traveller_aft_m: float = Field(gt=0, lt=14)
    traveller_above_deck_m: float = Field(ge=-0.6, lt=3)
    traveller_reach_m: float = Field(ge=0, lt=4)
    vang_along_boom_m: float | None = Field(default=None, gt=0.2, lt=6)
    vang_parts: int = Field(default=4, ge=1, le=24)
    vang_lift_n: float = Field(default=100.0, ge=0, le=3000)
    halyard_mm: float = Field(ge=5, le=20)
    halyard_fibre: Fibre = "polyester"
    outhaul_parts: int = Field(default=2, ge=1, le=12)
    cunningham_parts: int | None = Field(default=None, ge=1, le=12)
    furl: Literal["slab", "in_mast"] = "slab"
    """How the mainsail is made smaller: tied down in slabs, or rolled into the mast."""
    reefs: int = Field(default=2, ge=0, le=4)


class BackstayMark(Table):
    counted_in: Literal["turns", "mm"]
    mm_per_turn: float = Field(default=5.0, gt=0.2, lt=50)
    travel_mm: float = Field(gt=5, lt=600)


class DeckTable(Table):
    headsail: HeadsailDeck
    mainsail: MainsailDeck
    backstay: BackstayMark | None = None


class HullTable(Table):
    length_overall_m: float = Field(gt=4, lt=40)
    length_waterline_m: float = Field(gt=3, lt=40)
    beam_m: float = Field(gt=1, lt=20)
    beam_waterline_m: float = Field(gt=0.3, lt=10)
    draught_body_m: float = Field(gt=0.1, lt=4)
    draught_m: float = Field(gt=0.2, lt=6)
    displacement_kg: float = Field(gt=300, lt=100000)
    hull_spacing_m: float = Field(default=0.0, ge=0, lt=15)
    stern_aft_m: float = Field(gt=1, lt=25)
    bow_forward_m: float = Field(gt=1, lt=25)
    righting_heel_deg: tuple[Heel, ...] = Field(min_length=2)
    righting_lever_m: tuple[Lever, ...] = Field(min_length=2)
    centre_above_water_m: float | None = Field(default=None, ge=-2, le=3)
    """Of the whole boat's weight; below the water negative."""


class FoilTable(Table):
    """One fin: root at the hull, its front edge behind the mast, sweep of the quarter chord."""

    span_m: float | None = Field(default=None, gt=0.1, lt=6)
    root_chord_m: float | None = Field(default=None, gt=0.1, lt=10)
    tip_chord_m: float | None = Field(default=None, gt=0.05, lt=10)
    sweep_deg: float | None = Field(default=None, ge=-20, le=60)
    thickness_pct: float | None = Field(default=None, ge=1, le=30)
    root_front_aft_m: float | None = Field(default=None, gt=-15, lt=30)
    root_depth_m: float | None = Field(default=None, ge=0, lt=4)
    count: int | None = Field(default=None, ge=1, le=2)


class KeelTable(FoilTable):
    """The keel below the hull; for a catamaran, one of its stub keels or boards."""


class RudderTable(FoilTable):
    """A rudder's blade, and its angle as once seen, plus with weather helm, with the true wind, its
    angle and the reefs of that day: sails trimmed, close-hauled and full sail unless given.
    """

    observed_deg: float | None = Field(default=None, ge=-20, le=20)
    observed_wind_kn: float | None = Field(default=None, gt=2, lt=40)
    observed_angle_deg: float | None = Field(default=None, ge=28, le=180)
    observed_reefs: int | None = Field(default=None, ge=0, le=4)


class ReefingStep(Table):
    """One line of a maker's reefing table: up to which wind this much sail may be carried."""

    up_to_kn: float = Field(gt=3, lt=80)
    reefs: int = Field(ge=0, le=4)
    headsail_area_pct: float = Field(default=100.0, ge=20, le=100)


class ReefingTable(Table):
    """The maker's reefing table, from the lightest wind on: of the gusts, in the calm sea.

    `wind` as the table means it: `apparent` as the masthead reads it close-hauled, or `true`.
    """

    wind: Literal["apparent", "true"]
    steps: tuple[ReefingStep, ...] = Field(min_length=1)


class SailsTable(Table):
    headsail: HeadsailTable
    mainsail: MainsailTable


class BoatFile(Table):
    """A whole boat file."""

    boat: BoatTable
    rig: RigTable
    stays: StayTable
    sails: SailsTable
    deck: DeckTable
    hull: HullTable
    keel: KeelTable = Field(default_factory=KeelTable)
    rudder: RudderTable = Field(default_factory=RudderTable)
    reefing: ReefingTable | None = None
