"""Every fact of the trade with the state it is asked of, and in which winds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

from facts import area, lead, luff, pair, sea, sheet, size, stay, tuft, wind
from facts.effect import Effect

Start = Literal["sails", "upwind", "blown", "overpowered", "reach", "light", "hard_in", "cuts"]
"""What a fact is asked of. `sails`: the headsail and mainsail as trimmed to windward, at that
motion; `upwind`: the boat at her best to windward; `blown`: in the trim of a lighter wind caught in
a strong one; `overpowered`: so caught until she heels 25°; `reach`: trimmed on a beam reach with
lead and backstay as to windward; `light`: her bests in light winds; `hard_in`: the sheet at its
mark; `cuts`: her sails with the headsail's draft cut further and further aft."""


@dataclass(frozen=True)
class Fact:
    """A fact: its name, whether it has to come out or is only reported, what it says, the state it
    is asked of, the winds [kn] in which it is, all of them where none are named, and the control
    without which that state need not be solved.
    """

    name: str
    kind: Literal["must", "report"]
    says: str
    start: Start
    ask: Callable[[Any], list[Effect]]
    winds: tuple[float, ...] = ()
    needs: str = ""


Ask = Callable[[Any], list[Effect]]


def must(name: str, says: str, start: Start, ask: Ask, *winds: float, needs: str = "") -> Fact:
    """Return a fact that has to come out."""
    return Fact(name, "must", says, start, ask, winds, needs)


def report(name: str, says: str, start: Start, ask: Ask, *winds: float, needs: str = "") -> Fact:
    """Return a fact on which practitioners disagree, or that hangs on geometry."""
    return Fact(name, "report", says, start, ask, winds, needs)


FACTS: tuple[Fact, ...] = (
    must("B1", "backstay on: the forestay sags less", "sails", stay.taken_up),
    must("B1a", "backstay on: the headsail is flatter", "sails", stay.taken_up_flattens),
    report("B1b", "backstay on: less drag at the same lift", "sails", stay.taken_up_drag),
    must("B2", "backstay off: the reverse", "sails", stay.eased_off),
    must("B3", "more wind: more sag, a deeper headsail", "sails", stay.blown_up),
    must("B3a", "more wind: the draft moves aft", "sails", stay.blown_up_draft),
    must("B4", "8 kn trim in 18 kn: more backstay pays", "blown", stay.pays_in_a_blow, 8.0,
         needs="backstay"),
    must("B4b", "on a reach: less backstay pays", "reach", stay.pays_eased, 12.0,
         needs="backstay"),
    report("B4a", "the headsail is deepest in 6 to 10 kn", "light", stay.deepest_in, 8.0),
    must("B5", "no backstay: none is told", "upwind", stay.none_offered, 12.0),
    must("B5a", "no backstay: the mainsheet pulls on the forestay", "sails",
         stay.held_by_mainsheet),
    must("B6", "backstay on, fractional: mast bends, mainsail flatter and open", "upwind",
         stay.bends_the_mast),
    report("B6a", "backstay on, fractional: sag falls too", "upwind", stay.bends_into_sag),
    must("L1", "lead forward, re-sheeted: deeper foot, closed top", "sails", lead.forward),
    must("L2", "lead aft, re-sheeted: flatter foot, open top", "sails", lead.aft),
    must("L3", "12 kn: the sheet points to 30 to 50 % of the luff", "upwind", lead.points_to, 12.0),
    must("L4a", "overpowered: the lead forward loses", "overpowered", lead.loses_forward, 8.0,
         12.0, needs="lead"),
    report("L4b", "rougher sea: the lead aft pays more", "upwind", lead.aft_in_a_sea),
    must("L5", "headsail rolled: the lead has to go forward", "upwind", lead.rolled),
    must("L6", "clew board: line and twist move as by a car", "upwind", lead.by_holes),
    must("L6a", "car: where the sheet points lower the leech opens", "upwind", lead.by_car),
    report("L7", "on a reach: the lead forward pays", "reach", lead.forward_on_a_reach, 12.0,
           needs="lead"),
    report("L7a", "on a reach: the lead outboard pays", "reach", lead.outboard_on_a_reach, 12.0),
    must("S1", "sheet pulled: less twist", "sails", sheet.pulled),
    must("S1a", "sheet pulled: less drive for the side force", "sails", sheet.pulled_costs_drive),
    must("S1b", "sheet pulled: the best course is closer", "upwind", sheet.pulled_points_higher),
    must("S2", "sheet eased: more twist", "sails", sheet.eased),
    must("S2a", "sheet eased: the best course is lower", "upwind", sheet.eased_points_lower),
    must("H1", "halyard pulled: draft forward, rounder entry", "sails", luff.hoisted),
    must("H1a", "halyard pulled: straighter leech", "sails", luff.hoisted_leech),
    must("H2", "halyard eased: draft aft", "sails", luff.lowered),
    must("H3", "8 kn trim in 18 kn: more halyard pays", "blown", luff.pays_in_a_blow, 8.0),
    must("D1", "the flying draft follows the cut", "cuts", luff.follows_the_cut, 12.0),
    must("W1", "up the mast stronger and further aft", "sails", wind.on_all_courses),
    must("W2", "chords stand further out with height", "sails", wind.stands_further_out_aloft),
    must("W3", "broad reach, light air: several times the twist", "upwind",
         wind.twists_more_off_the_wind, 8.0),
    must("T1", "best trim: both sides stream most of the time", "upwind", tuft.streams_at_best),
    must("T2", "all leeward stalled: easing cures", "sails", tuft.eased_cures_stall),
    must("T3", "all windward lifting: pulling cures", "sails", tuft.pulled_cures_lifting),
    must("T4", "only the upper windward lifts: lead forward cures", "sails", tuft.upper_lifts),
    report("T5", "only the lower leeward stalled: lead aft cures", "sails", tuft.lower_stalls),
    must("T6", "steered 4° low: the middle stalls to leeward", "sails", tuft.steered_low),
    must("T6a", "steered 4° high: the middle lifts to windward", "sails", tuft.steered_high),
    must("T7", "only the lower windward lifts: lead aft cures", "sails", tuft.lower_lifts),
    must("T8", "only the upper leeward stalled: lead aft cures", "sails", tuft.upper_stalls),
    report("G1", "the groove is 2 to 6° wide", "sails", tuft.groove_width),
    must("G1a", "the groove is wider with a rounder entry", "sails", tuft.groove_by_entry),
    must("M1", "mainsheet pulled: less twist, leech gone longer", "upwind", sheet.main_pulled),
    must("M2", "traveller down: opens as a whole, less heel or helm", "upwind",
         sheet.traveller_down),
    must("M3", "outhaul pulled: flatter foot", "sails", sheet.outhaul_pulled),
    must("M4", "cunningham pulled: draft forward", "sails", luff.cunningham),
    must("M5", "not overpowered: top leech gone 5 to 60 % of the time", "upwind", size.leech, 8.0,
         12.0),
    report("M5b", "not overpowered: boom near the centreline", "upwind", size.boom, 8.0, 12.0),
    must("J1", "together the headsail gains, the mainsail loses", "sails", pair.gain_and_loss),
    must("J1a", "together 0.85 to 1.0 of the two alone", "sails", pair.total),
    must("R1", "overpowered: a tenth less mainsail costs no way", "overpowered",
         area.overpowered_reefed, 8.0, 12.0),
    must("R1a", "overpowered: a smaller headsail costs no way", "overpowered",
         area.overpowered_rolled, 8.0, 12.0),
    must("R2", "two hulls: reefed by wind, never by heel", "upwind", area.by_table, 12.0),
    must("R3", "a reef: less heel, sheet load and helm", "upwind", area.reef),
    must("R3a", "a rolled headsail: less heel and leeway", "upwind", area.roll),
    must("R3b", "only the headsail rolled: more weather helm", "upwind", area.roll_helm),
    must("R3c", "a reef: less leeway", "upwind", area.reef_leeway),
    must("R3d", "a rolled headsail spares its sheet", "upwind", area.roll_sheet),
    must("R3e", "a rolled headsail spares its halyard", "upwind", area.roll_halyard),
    report("V1", "rougher sea: pointing pays less", "upwind", sea.lower, 8.0),
    report("V1a", "rougher sea: a more twisted mainsail pays more", "upwind", sea.more_twisted,
           8.0),
    report("V1b", "rougher sea: a fuller mainsail pays more", "upwind", sea.fuller, 8.0),
    must("Y1", "held up by the mainsheet: eased, stay and headsail go", "upwind",
         stay.lets_go_with_the_mainsheet),
    must("N1", "depth, sag and leeway have real sizes", "upwind", size.headsail),
    must("N1a", "tops twist 5 to 20°", "upwind", size.tops),
    must("N1b", "the mainsail is 8 to 16 % deep", "upwind", size.mainsail),
    must("N2", "a genoa sheet's load is near the rule", "hard_in", size.sheet_load),
)  # fmt: skip


def fact(name: str) -> Fact:
    """Return a fact by its name."""
    return next(it for it in FACTS if it.name == name)
