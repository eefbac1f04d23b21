"""From a checked boat file to the records that the physics takes."""

from __future__ import annotations

import math
from dataclasses import replace

from luffwright.aboard.schema import (
    BoatFile,
    FoilTable,
    HeadsailTable,
    MainsailTable,
    ShroudTable,
)
from luffwright.sails.fabric import rope, wire, woven
from luffwright.sails.plan import (
    Batten,
    ControlTravel,
    HeadsailGear,
    MainsailGear,
    Mast,
    SailCut,
    SailPlan,
    Spreader,
    Stay,
    UprightBatten,
)
from luffwright.units import KNOT
from luffwright.water.foil import Foil
from luffwright.water.foil_estimate import estimated_keel, estimated_rudder
from luffwright.water.hull import Hull


def _triple(values: tuple[float, float, float]) -> tuple[float, float, float]:
    return values[0] / 100.0, values[1] / 100.0, values[2] / 100.0


def _battens(table: HeadsailTable | MainsailTable) -> tuple[Batten, ...]:
    return tuple(
        Batten(b.leech_pct / 100.0, b.chord_pct / 100.0, b.bending_nm2) for b in table.battens
    )


def headsail_foot(table: HeadsailTable) -> float:
    """Return the straight foot from luff, leech and luff perpendicular [m]."""
    drop = math.sqrt(table.leech_m**2 - (table.luff_perpendicular_m - table.head_width_m) ** 2)
    return math.hypot(table.luff_perpendicular_m, table.luff_m - drop)


def headsail_cut(table: HeadsailTable) -> SailCut:
    """Return the headsail's cut."""
    return SailCut(
        "headsail", table.luff_m, table.leech_m, headsail_foot(table), table.head_width_m,
        table.luff_hollow_pct / 100.0, -table.leech_hollow_m, table.foot_round_m,
        _triple(table.camber_pct), _triple(table.draft_pct), math.radians(table.twist_deg),
        woven(table.cloth_g_per_m2 / 1000.0, table.age_years), _battens(table),
        luff_pad=table.luff_pad_mm / 1000.0, luff_thickness=table.luff_thickness_mm / 1000.0,
    )  # fmt: skip


def mainsail_cut(table: MainsailTable) -> SailCut:
    """Return the mainsail's cut."""
    return SailCut(
        "mainsail", table.luff_m, table.leech_m, table.foot_m, table.head_width_m,
        -table.luff_round_pct / 100.0, table.roach_m, table.foot_round_m,
        _triple(table.camber_pct), _triple(table.draft_pct), math.radians(table.twist_deg),
        woven(table.cloth_g_per_m2 / 1000.0, table.age_years), _battens(table),
        uprights=tuple(
            UprightBatten(b.foot_pct / 100.0, b.from_pct / 100.0, b.to_pct / 100.0, b.bending_nm2)
            for b in table.upright_battens
        ),
        luff_thickness=table.luff_thickness_mm / 1000.0,
    )  # fmt: skip


def _mast(file: BoatFile) -> Mast:
    rig, deck = file.rig, file.rig.deck_above_water_m
    return Mast(
        foot=deck,
        top=deck + rig.mast_top_m,
        hounds=deck + rig.i_m,
        rake=math.radians(rig.rake_deg),
        depth=rig.mast_depth_mm / 1000.0,
        stiffness_fore_aft=rig.bending_fore_aft_knm2 * 1000.0,
        stiffness_sideways=rig.bending_sideways_knm2 * 1000.0,
        spreaders=tuple(
            Spreader(deck + s.height_m, s.length_m, math.radians(s.sweep_deg))
            for s in rig.spreaders
        ),
    )


def _shroud(table: ShroudTable, deck: float) -> Stay:
    return Stay(
        table.name, (-table.aft_m, table.out_m, deck), deck + table.height_m,
        wire(table.wire_mm / 1000.0), table.dock_kn * 1000.0, table.over_spreaders,
    )  # fmt: skip


def _headsail_gear(file: BoatFile) -> HeadsailGear:
    deck, gear = file.rig.deck_above_water_m, file.deck.headsail
    height = deck + gear.lead_above_deck_m
    front = (-gear.lead_front_aft_m, gear.lead_front_out_m, height)
    aft = front
    if gear.lead_aft_aft_m is not None:
        out = gear.lead_front_out_m if gear.lead_aft_out_m is None else gear.lead_aft_out_m
        aft = (-gear.lead_aft_aft_m, out, height)
    return HeadsailGear(
        (gear.tack_forward_m, 0.0, deck + gear.tack_above_deck_m), front, aft, 0.0,
        (-gear.winch_aft_m, gear.winch_out_m, height + 0.1),
        rope(gear.sheet_mm / 1000.0, gear.sheet_fibre),
        rope(gear.halyard_mm / 1000.0, gear.halyard_fibre), file.rig.i_m + 4.0,
        gear.clew_board_holes, gear.clew_board_pitch_m, gear.passes_shrouds,
        gear.pole_m, deck + (gear.pole_above_deck_m or 0.0),
    )  # fmt: skip


def _mainsail_gear(file: BoatFile) -> MainsailGear:
    deck, gear = file.rig.deck_above_water_m, file.deck.mainsail
    depth = file.rig.mast_depth_mm / 1000.0
    sheet = rope(gear.sheet_mm / 1000.0, "polyester")
    vang_at = gear.vang_along_boom_m or 1.0
    return MainsailGear(
        tack=(-depth, 0.0, deck + file.rig.boom_above_deck_m),
        boom_length=gear.boom_length_m,
        boom_mass=gear.boom_kg,
        sheet_at=gear.sheet_along_boom_m,
        traveller=(-gear.traveller_aft_m, 0.0, deck + gear.traveller_above_deck_m),
        traveller_reach=gear.traveller_reach_m,
        sheet=sheet,
        sheet_parts=gear.sheet_parts,
        vang_at=vang_at,
        vang_foot=(-depth - 0.02, 0.0, deck + 0.12),
        vang=sheet,
        vang_parts=gear.vang_parts,
        vang_lift=gear.vang_lift_n,
        halyard=rope(gear.halyard_mm / 1000.0, gear.halyard_fibre),
        halyard_length=file.rig.mast_top_m + 4.0,
        outhaul=rope(0.008, "dyneema"),
        outhaul_parts=gear.outhaul_parts,
        cunningham_parts=gear.cunningham_parts or 1,
        has_vang=gear.vang_along_boom_m is not None,
        has_cunningham=gear.cunningham_parts is not None,
    )


LUFF_STRETCH = 0.008
"""How far a halyard is pulled past hand-tight, a share of the luff: beyond a hundredth woven cloth
takes a set (common practice, from memory)."""


POLE_FARTHEST, POLE_STEP = 110.0, 5.0
"""How far aft of right ahead a pole is let, beyond which it comes upon the shrouds, and how finely
a crew sets it by eye [°]: judgements of our own."""


def _controls(file: BoatFile, gear: HeadsailGear) -> tuple[ControlTravel, ...]:
    head, main = file.deck.headsail, file.deck.mainsail
    track = math.dist(gear.track_front, gear.track_aft)
    found = [ControlTravel("sheet", -0.4, 5.0, 0.02, 0.1)]
    if track > 0.0:
        found.append(ControlTravel("lead", 0.0, track, head.hole_spacing_m, 0.5 * track))
    if head.clew_board_holes > 1:
        holes = float(head.clew_board_holes)
        found.append(ControlTravel("clew_hole", 1.0, holes, 1.0, float(round((holes + 1) / 2))))
    stretch = round(LUFF_STRETCH * file.sails.headsail.luff_m, 2)
    found.append(ControlTravel("halyard", 0.0, stretch, 0.01, 0.02))
    found.append(ControlTravel("furl", 0.0, 0.6, 0.05, 0.0))
    if file.deck.backstay is not None:
        mark = file.deck.backstay
        step = mark.mm_per_turn / 1000.0 if mark.counted_in == "turns" else 0.005
        travel = mark.travel_mm / 1000.0
        found.append(ControlTravel("backstay", 0.0, travel, step, 0.3 * travel))
    parts = float(main.sheet_parts)
    reach = round(0.9 * main.sheet_along_boom_m, 1)  # lets the boom out to the shrouds
    found.append(ControlTravel("mainsheet", -0.40 * parts, reach * parts, 0.02, 0.0))
    if main.traveller_reach_m > 0.0:
        reach = main.traveller_reach_m
        found.append(ControlTravel("traveller", -reach, reach, 0.05, 0.0))
    if main.vang_along_boom_m is not None:
        found.append(ControlTravel("vang", -1.0, 0.10 * main.vang_parts, 0.02, -0.2))
    if main.cunningham_parts is not None:
        found.append(ControlTravel("cunningham", 0.0, 0.08 * main.cunningham_parts, 0.02, 0.0))
    found.append(ControlTravel("outhaul", 0.0, 0.12 * main.outhaul_parts, 0.02, 0.04))
    if main.furl == "in_mast":
        found.append(ControlTravel("main_furl", 0.0, 0.6, 0.05, 0.0))
    elif main.reefs:
        found.append(ControlTravel("reef", 0.0, float(main.reefs), 1.0, 0.0))
    if head.pole_m is not None:
        found.append(ControlTravel("pole", 0.0, POLE_FARTHEST, POLE_STEP, 0.0))
    return tuple(found)


def sail_plan(file: BoatFile) -> SailPlan:
    """Return rig, sails and ropes for the physics."""
    rig, deck = file.rig, file.rig.deck_above_water_m
    stays, gear = file.stays, _headsail_gear(file)
    hounds = deck + rig.i_m
    backstay = None
    if stays.backstay_wire_mm is not None and stays.backstay_aft_m is not None:
        backstay = Stay(
            "backstay", (-stays.backstay_aft_m, 0.0, deck), deck + rig.mast_top_m,
            wire(stays.backstay_wire_mm / 1000.0), stays.backstay_dock_kn * 1000.0,
        )  # fmt: skip
    return SailPlan(
        _mast(file),
        Stay(
            "forestay", (file.deck.headsail.tack_forward_m + 0.03, 0.0, deck), hounds,
            wire(stays.forestay_wire_mm / 1000.0), stays.forestay_dock_kn * 1000.0,
        ),
        tuple(_shroud(table, deck) for table in stays.shrouds),
        backstay,
        headsail_cut(file.sails.headsail),
        gear,
        mainsail_cut(file.sails.mainsail),
        _mainsail_gear(file),
        deck,
        _controls(file, gear),
    )  # fmt: skip


def _foil(table: FoilTable, usual: Foil) -> Foil:
    """Return the fin that the file describes; what it leaves out is as usual for the hull."""
    chord = usual.root_chord if table.root_chord_m is None else table.root_chord_m
    front = table.root_front_aft_m
    return Foil(
        usual.span if table.span_m is None else table.span_m,
        chord,
        usual.tip_chord if table.tip_chord_m is None else table.tip_chord_m,
        usual.sweep if table.sweep_deg is None else math.radians(table.sweep_deg),
        usual.thickness if table.thickness_pct is None else table.thickness_pct / 100.0,
        usual.x_position if front is None else -front - 0.25 * chord,
        usual.depth if table.root_depth_m is None else table.root_depth_m,
        table.count or usual.count,
    )


def hull_of(file: BoatFile) -> Hull:
    """Return the hull's figures, keel and rudder with it."""
    table, rudder = file.hull, file.rudder
    bare = Hull(
        file.boat.kind, table.length_overall_m, table.length_waterline_m, table.beam_m,
        table.beam_waterline_m, table.draught_body_m, table.draught_m, table.displacement_kg,
        table.hull_spacing_m, table.bow_forward_m,
        tuple(math.radians(value) for value in table.righting_heel_deg), table.righting_lever_m,
    )  # fmt: skip
    seen, wind, angle = (
        rudder.observed_deg, rudder.observed_wind_kn, rudder.observed_angle_deg,
    )  # fmt: skip
    return replace(
        bare,
        keel=_foil(file.keel, estimated_keel(bare)),
        rudder=_foil(rudder, estimated_rudder(bare)),
        observed_rudder=None if seen is None else math.radians(seen),
        observed_wind=None if wind is None else wind * KNOT,
        observed_angle=None if angle is None else math.radians(angle),
        observed_reefs=rudder.observed_reefs or 0,
        centre_height=table.centre_above_water_m,
    )
