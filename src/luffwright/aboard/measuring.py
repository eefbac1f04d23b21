"""What to measure on a boat, and how one does it with a tape: in the sailor's words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from luffwright.aboard.schema import BoatFile


@dataclass(frozen=True)
class Measure:
    """One measurement: its key in the boat file, what it is called, how it is taken."""

    key: str
    what: str
    how: str


TWELVE = (
    Measure(
        "hull.length_overall_m", "length overall",
        "from the papers, or along the quay from stem to stern",
    ),
    Measure(
        "hull.length_waterline_m", "length of the waterline",
        "from the papers, or the length overall less both overhangs by a plumb line",
    ),
    Measure("hull.beam_m", "greatest beam", "from the papers, or across the deck at the widest"),
    Measure("hull.draught_m", "draught", "from the papers, or from waterline to keel ashore"),
    Measure(
        "hull.displacement_kg", "weight as she sails",
        "from the papers with gear and crew added, or from the crane's scale",
    ),
    Measure(
        "rig.i_m", "forestay above the deck (I)",
        "hoist a tape on the headsail's halyard and read at the deck beside the mast",
    ),
    Measure(
        "rig.j_m", "mast to forestay (J)",
        "along the deck from the mast's front face to the forestay's fitting",
    ),
    Measure(
        "rig.p_m", "mainsail's hoist (P)",
        "hoist a tape on the main halyard and read at the boom's top",
    ),
    Measure(
        "rig.e_m", "mainsail's foot (E)",
        "along the boom from the mast's aft face to the band or the clew pulled out",
    ),
    Measure(
        "sails.headsail.luff_m", "headsail's luff", "from head to tack, the sail laid out straight",
    ),
    Measure(
        "sails.headsail.luff_perpendicular_m", "headsail's width (luff perpendicular)",
        "from the clew square to the luff, the shortest way",
    ),
    Measure(
        "sails.headsail.leech_m", "headsail's leech",
        "from head to clew, the sail laid out straight",
    ),
)  # fmt: skip
"""What nothing can stand in for, and how to come by it."""

TRACK = (
    Measure(
        "deck.headsail.lead_front_aft_m", "front end of the car's track, from the mast",
        "Push the car to the front end. Hook the tape on the mast's front face and read along the "
        "middle line to abreast of the car's sheave; ahead of the mast is minus.",
    ),
    Measure(
        "deck.headsail.lead_front_out_m", "front end of the car's track, from the middle line",
        "There, measure from sheave to sheave across the deck and take half.",
    ),
    Measure(
        "deck.headsail.lead_aft_aft_m", "aft end of the car's track, from the mast",
        "Push the car to the aft end and measure as at the front. No track, no car: leave it out "
        "and give the fixed lead as the front end.",
    ),
    Measure(
        "deck.headsail.hole_spacing_m", "distance from hole to hole",
        "Measure over ten gaps of the track and divide by ten. Say with holes_counted_from which "
        "end you count from. If port and starboard differ, give front_aft_m, holes, "
        "hole_spacing_m or holes_counted_from in [deck.headsail.port] or "
        "[deck.headsail.starboard].",
    ),
)  # fmt: skip
TRAVELLER = (
    Measure(
        "deck.mainsail.traveller_reach_m", "how far the traveller's car runs from the centre",
        "Push the car to its stop and measure from the middle of the track. No traveller: give 0.",
    ),
)  # fmt: skip
MAINSHEET = (
    Measure(
        "deck.mainsail.sheet_parts", "parts of the mainsheet",
        "Count the ropes that run between boom and deck.",
    ),
)  # fmt: skip
VANG = (
    Measure(
        "deck.mainsail.vang_parts", "parts of the vang",
        "Count the ropes that run between its two blocks; one tackle on another: multiply. Add "
        "vang_along_boom_m, from the mast's aft face to its fitting on the boom.",
    ),
)  # fmt: skip
OUTHAUL = (
    Measure(
        "deck.mainsail.outhaul_parts", "purchase of the outhaul",
        "Pull 10 cm of rope and see how far the clew comes: 5 cm is 2, 10 cm is 1.",
    ),
)  # fmt: skip
BACKSTAY = (
    Measure(
        "deck.backstay.mm_per_turn", "how far one turn takes the backstay in",
        "Put tape on the screw, turn ten times, measure in mm and divide by ten.",
    ),
)  # fmt: skip

CONTROLS: dict[str, tuple[str, tuple[Measure, ...]]] = {
    "lead": ("measure its track and holes", TRACK),
    "mainsheet": ("count its parts", MAINSHEET),
    "traveller": ("measure how far its car runs", TRAVELLER),
    "vang": ("count its parts", VANG),
    "outhaul": ("find its purchase", OUTHAUL),
    "backstay": ("measure what a turn takes in", BACKSTAY),
}
"""What has to be known before a control can be counted, in short and in full."""

BETTER = (
    Measure(
        "hull.righting_lever_m", "righting levers",
        "Ask the builder or the class for the stability curve (GZ in metres for degrees of heel). "
        "It decides heel and reefing more than anything else.",
    ),
    Measure(
        "hull.beam_waterline_m", "beam at the waterline",
        "Ashore, hang a plumb line at the boot top abreast of the mast on each side and measure "
        "from line to line.",
    ),
    Measure(
        "hull.draught_body_m", "draught of the hull without keel",
        "Ashore, measure from the waterline straight down to where the keel begins.",
    ),
    Measure(
        "hull.hull_spacing_m", "distance between the hulls' middle lines",
        "Measure from stem to stem of the two hulls.",
    ),
    Measure(
        "rig.deck_above_water_m", "deck above the water, at the mast",
        "Let the tape down from the deck's edge abreast of the mast.",
    ),
    Measure(
        "rig.boom_above_deck_m", "boom above the deck, at the mast",
        "Stand the tape on the deck at the mast and read at the boom's top.",
    ),
    Measure(
        "sails.mainsail.luff_m", "mainsail: luff, leech and foot",
        "Lay the sail out or use its certificate: straight lines from corner to corner.",
    ),
    Measure(
        "sails.mainsail.roach_m", "mainsail: roach",
        "Stretch a line from head to clew and measure from it to the leech, half-way up.",
    ),
    Measure(
        "sails.headsail.camber_pct", "depth of the sails",
        "Photograph each sail from below the foot in a light breeze: depth over chord at a "
        "quarter, half and three quarters of the height; take off 2 per cent.",
    ),
    Measure(
        "deck.headsail.tack_above_deck_m", "headsail's tack above the deck",
        "Measure from the deck to the sail's tack.",
    ),
    Measure(
        "stays.forestay_wire_mm", "wires",
        "Measure forestay and shrouds with a gauge across the strands. Never choose a wire by "
        "this program: ask a rigger.",
    ),
    Measure(
        "deck.headsail.sheet_mm", "ropes",
        "Wind ten turns of the sheet side by side on a stick, measure, divide by ten.",
    ),
)  # fmt: skip
"""What makes shape and speed better, the most useful first."""


def _asked(control: str, file: BoatFile, given: frozenset[str]) -> list[Measure]:
    """Return what is not known yet of a control that a boat has."""
    if control == "backstay" and (not file.deck.backstay or file.deck.backstay.counted_in == "mm"):
        return []
    return [it for it in CONTROLS[control][1] if it.key not in given]


def missing_for(control: str, file: BoatFile, given: frozenset[str]) -> str:
    """Return in a few words what to do before a control can be counted; nothing if all is known."""
    if control not in CONTROLS:
        return ""
    return CONTROLS[control][0] if _asked(control, file, given) else ""


def for_marks(
    controls: tuple[str, ...], file: BoatFile, given: frozenset[str]
) -> tuple[tuple[str, Measure], ...]:
    """Return which measurements would give marks to which of a boat's controls."""
    return tuple(
        (name, it) for name in controls if name in CONTROLS for it in _asked(name, file, given)
    )


def for_shape(file: BoatFile, given: frozenset[str]) -> tuple[Measure, ...]:
    """Return which measurements would make shape and speed better, the most useful first."""
    fits: dict[str, Callable[[], bool]] = {
        "hull.hull_spacing_m": lambda: file.boat.kind == "catamaran",
    }
    return tuple(
        it for it in BETTER if it.key not in given and fits.get(it.key, lambda: True)()
    )  # fmt: skip
