"""Measurements of one boat that must fit each other, or the file is refused."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from typing import NoReturn

from luffwright.aboard.convert import hull_of, sail_plan
from luffwright.aboard.reefing import refuse_reefing
from luffwright.aboard.schema import BoatFile
from luffwright.errors import BoatFileError
from luffwright.sails.placing import clew_at

LUFF_OF_STAY = 0.985
"""The longest luff as a share of the stay: the rest is for the furler's drum and swivel."""
SLACK_M = 0.05
"""How far two measurements of the same length may differ."""
FOIL_SLACK_M = 0.1
"""How far keel or rudder may reach below the draught: boats float deeper than they were drawn."""
CLEW_ABOVE_LEAD_M = 0.3
"""A clew that stands lower leaves the leech without pull."""
HARD_IN = 0.25
"""Angle of the headsail's foot to the middle line, sheeted hard [rad]."""


def refuse_what_does_not_fit(file: BoatFile) -> None:
    """Refuse a file whose measurements contradict each other.

    Raises
    ------
    BoatFileError
        With the field, its value, the limit and the remedy.
    """
    _fit_rig(file)
    _fit_heights(file)
    _fit_headsail(file)
    _fit_sides(file)
    _fit_mainsail(file)
    _fit_in_mast(file)
    _fit_clew(file)
    _fit_hull(file)
    _fit_foils(file)
    refuse_reefing(file)


def _refuse(field: str, value: float | str, limit: str, remedy: str) -> NoReturn:
    shown = round(value, 3) if isinstance(value, float) else value
    raise BoatFileError(field, shown, limit, remedy)


def _stay(file: BoatFile) -> float:
    return float((file.deck.headsail.tack_forward_m**2 + file.rig.i_m**2) ** 0.5)


def _fit_rig(file: BoatFile) -> None:
    rig, stays = file.rig, file.stays
    if rig.boom_above_deck_m + rig.p_m > rig.mast_top_m + SLACK_M:
        _refuse("rig.p_m", rig.p_m, "boom height and P reach above the mast's top",
                "measure mast_top_m again")  # fmt: skip
    if rig.i_m > rig.mast_top_m + SLACK_M:
        _refuse("rig.i_m", rig.i_m, f"at most mast_top_m = {rig.mast_top_m}", "measure both again")
    if (stays.backstay_wire_mm is None) != (stays.backstay_aft_m is None):
        lacking = "backstay_wire_mm" if stays.backstay_wire_mm is None else "backstay_aft_m"
        _refuse(f"stays.{lacking}", "nothing", "a backstay needs its wire and its place",
                "add it, or take the other out")  # fmt: skip
    if file.deck.backstay is not None and stays.backstay_wire_mm is None:
        _refuse("deck.backstay", "given", "there is no backstay to adjust",
                "add stays.backstay_wire_mm and backstay_aft_m, or take it out")  # fmt: skip
    name, count = Counter(shroud.name for shroud in stays.shrouds).most_common(1)[0]
    if count > 1:
        _refuse("stays.shrouds.name", name, f"used {count} times", "give each pair its own name")


def _fit_heights(file: BoatFile) -> None:
    top = file.rig.mast_top_m
    shrouds = [shroud.height_m for shroud in file.stays.shrouds]
    spreaders = [spreader.height_m for spreader in file.rig.spreaders]
    for name, heights in (("stays.shrouds", shrouds), ("rig.spreaders", spreaders)):
        for place, height in enumerate(heights, start=1):
            if height > top + SLACK_M:
                _refuse(f"{name}.{place}.height_m", height, f"at most mast_top_m = {top}",
                        "measure it above the deck again")  # fmt: skip


def _fit_headsail(file: BoatFile) -> None:
    head, longest = file.sails.headsail, LUFF_OF_STAY * _stay(file)
    if head.luff_m > longest:
        _refuse("sails.headsail.luff_m", head.luff_m, f"at most {longest:.2f} fits the stay",
                "measure luff and i_m again")  # fmt: skip
    if head.luff_perpendicular_m >= head.leech_m:
        _refuse("sails.headsail.luff_perpendicular_m", head.luff_perpendicular_m,
                "must be shorter than the leech", "measure both again")  # fmt: skip
    gear = file.deck.headsail
    if (gear.pole_m is None) != (gear.pole_above_deck_m is None):
        lacking = "pole_m" if gear.pole_m is None else "pole_above_deck_m"
        _refuse(f"deck.headsail.{lacking}", "nothing", "a pole needs its length and the height of "
                "its fitting on the mast", "add it, or take the other out")  # fmt: skip
    if gear.lead_aft_aft_m is not None and gear.lead_aft_aft_m < gear.lead_front_aft_m:
        _refuse("deck.headsail.lead_aft_aft_m", gear.lead_aft_aft_m,
                f"at least lead_front_aft_m = {gear.lead_front_aft_m}",
                "measure both ends of the track from the mast")  # fmt: skip


def _fit_sides(file: BoatFile) -> None:
    gear = file.deck.headsail
    for name, side in (("port", gear.port), ("starboard", gear.starboard)):
        if side is None:
            continue
        if gear.lead_aft_aft_m is None:
            _refuse(f"deck.headsail.{name}", "given", "there is no track to count holes on",
                    "add deck.headsail.lead_aft_aft_m, or take it out")  # fmt: skip
        front = gear.lead_front_aft_m if side.front_aft_m is None else side.front_aft_m
        if front >= gear.lead_aft_aft_m:
            _refuse(f"deck.headsail.{name}.front_aft_m", front,
                    f"must be less than lead_aft_aft_m = {gear.lead_aft_aft_m}",
                    "measure both ends of that track from the mast")  # fmt: skip


def _fit_mainsail(file: BoatFile) -> None:
    main, rig = file.sails.mainsail, file.rig
    if main.luff_m > rig.p_m + SLACK_M:
        _refuse("sails.mainsail.luff_m", main.luff_m, f"at most p_m = {rig.p_m}", "measure again")
    if main.foot_m > rig.e_m + SLACK_M:
        _refuse("sails.mainsail.foot_m", main.foot_m, f"at most e_m = {rig.e_m}", "measure again")
    if not abs(main.luff_m - main.foot_m) < main.leech_m < main.luff_m + main.foot_m:
        _refuse("sails.mainsail.leech_m", main.leech_m, "the three sides make no triangle",
                "measure luff, leech and foot again")  # fmt: skip


def _fit_in_mast(file: BoatFile) -> None:
    main, deck = file.sails.mainsail, file.deck.mainsail
    for place, batten in enumerate(main.upright_battens, start=1):
        if batten.from_pct >= batten.to_pct:
            field = f"sails.mainsail.upright_battens.{place}.from_pct"
            limit = f"must be below to_pct = {batten.to_pct:g}"
            _refuse(field, batten.from_pct, limit, "measure its ends again")
    if deck.furl != "in_mast":
        return
    if main.battens:
        _refuse("sails.mainsail.battens", "given", "lie across a sail that rolls into the mast",
                "give upright_battens, or take them out")  # fmt: skip
    if deck.reefs:
        _refuse("deck.mainsail.reefs", deck.reefs, "a mainsail in the mast has no slab reefs",
                "write 0, or leave it out")  # fmt: skip
    if main.roach_m > 0.0 and not main.upright_battens:
        _refuse("sails.mainsail.roach_m", main.roach_m, "nothing holds a roach without battens",
                "measure the hollow of the leech and give it as a negative number")  # fmt: skip


def _fit_clew(file: BoatFile) -> None:
    plan = sail_plan(file)
    clew = clew_at(plan, plan.headsail, HARD_IN)
    above = float(clew[2]) - plan.headsail_gear.track_front[2]
    if above < CLEW_ABOVE_LEAD_M:
        _refuse("sails.headsail.leech_m", file.sails.headsail.leech_m,
                f"the clew stands {above:.2f} m above the lead; {CLEW_ABOVE_LEAD_M:.2f} is the "
                "least", "measure leech and luff again, or lower the lead")  # fmt: skip


def _fit_hull(file: BoatFile) -> None:
    hull = file.hull
    heel, lever = hull.righting_heel_deg, hull.righting_lever_m
    if len(heel) != len(lever):
        _refuse("hull.righting_lever_m", f"{len(lever)} values",
                f"must be {len(heel)}, one for each of righting_heel_deg",
                "read the curve again")  # fmt: skip
    if any(after <= before for before, after in pairwise(heel)):
        _refuse("hull.righting_heel_deg", ", ".join(f"{value:g}" for value in heel),
                "must grow from one to the next", "put them in order")  # fmt: skip
    if file.boat.kind == "catamaran" and hull.hull_spacing_m <= 0.0:
        _refuse("hull.hull_spacing_m", hull.hull_spacing_m, "a catamaran has more than 0",
                "measure from centreline to centreline of the hulls")  # fmt: skip


def _fit_foils(file: BoatFile) -> None:
    hull, foils = file.hull, hull_of(file)
    if hull.draught_body_m >= hull.draught_m:
        _refuse("hull.draught_body_m", hull.draught_body_m,
                f"must be less than draught_m = {hull.draught_m}",
                "measure the hull without keel for the one, with it for the other")  # fmt: skip
    for name, foil in (("keel", foils.keel), ("rudder", foils.rudder)):
        if foil is not None and foil.depth + foil.span > hull.draught_m + FOIL_SLACK_M:
            _refuse(f"{name}.span_m", foil.span,
                    f"with the root {foil.depth:.2f} m deep it reaches below "
                    f"draught_m = {hull.draught_m}", "measure depth and span again")  # fmt: skip
