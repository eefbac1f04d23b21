"""How each control of a boat is named, counted and moved, as her file says."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from luffwright.aboard.convert import sail_plan
from luffwright.aboard.holes import Holes
from luffwright.aboard.mark import Mark, Style
from luffwright.aboard.measuring import missing_for
from luffwright.aboard.schema import BoatFile, TrackSide
from luffwright.sails.plan import ControlTravel
from luffwright.sails.sheet_mark import neutral_lead

WORDS: dict[str, tuple[str, Style, str, str]] = {
    "sheet": ("headsail sheet", "tape", "ease", "pull"),
    "lead": ("headsail car", "holes", "aft", "forward"),
    "clew_hole": ("clew board", "board", "up", "down"),
    "lead_out": ("headsail lead", "car", "outboard", "inboard"),
    "halyard": ("headsail halyard", "past", "pull", "ease"),
    "furl": ("furler", "share", "roll", "unroll"),
    "backstay": ("backstay", "turns", "on", "off"),
    "mainsheet": ("mainsheet", "tape", "ease", "pull"),
    "traveller": ("traveller", "car", "down", "up"),
    "vang": ("vang", "past", "pull", "ease"),
    "cunningham": ("cunningham", "past", "pull", "ease"),
    "outhaul": ("outhaul", "past", "ease", "pull"),
    "reef": ("reef", "number", "take", "shake out"),
    "main_furl": ("mainsail furler", "share", "roll", "unroll"),
    "pole": ("headsail pole", "pole", "aft", "forward"),
}
"""Rope, how it is counted, and the verbs for more and less."""


def deck_marks(file: BoatFile, given: frozenset[str]) -> dict[str, Mark]:
    """Return how each control of this boat is named, counted and moved.

    What the sailor has not measured has no mark: `given` are the keys of the file that are.
    """
    plan = sail_plan(file)
    marks = {entry.name: _mark(entry, file, given) for entry in plan.controls}
    found = {"lead": neutral_lead(plan), "traveller": 0.0}
    return {
        name: replace(mark, neutral=found.get(name)) if mark.missing else mark
        for name, mark in marks.items()
    }


def _mark(entry: ControlTravel, file: BoatFile, given: frozenset[str]) -> Mark:
    rope, style, more, less = WORDS[entry.name]
    rope = rope.replace("headsail", "genoa" if file.deck.headsail.passes_shrouds else "jib")
    if entry.name == "backstay" and file.deck.backstay is not None:
        style = "turns" if file.deck.backstay.counted_in == "turns" else "mm"
    return Mark(
        entry.name, rope, style, entry.step, more, less, entry.low, entry.high,
        file.deck.headsail.holes_counted_from,
        _sides(file, entry) if entry.name == "lead" else (),
        missing_for(entry.name, file, given),
    )  # fmt: skip


def _sides(file: BoatFile, entry: ControlTravel) -> tuple[Holes, ...]:
    """Return the holes of each side where the file tells them apart."""
    port, starboard = file.deck.headsail.port, file.deck.headsail.starboard
    if port is None and starboard is None:
        return ()
    return (
        _holes("port", port or TrackSide(), file, entry),
        _holes("starboard", starboard or TrackSide(), file, entry),
    )


def _holes(
    side: Literal["port", "starboard"], own: TrackSide, file: BoatFile, entry: ControlTravel
) -> Holes:
    gear = file.deck.headsail
    spacing = own.hole_spacing_m or gear.hole_spacing_m
    front = 0.0 if own.front_aft_m is None else own.front_aft_m - gear.lead_front_aft_m
    count = own.holes or max(int((entry.high - front) / spacing + 1e-6) + 1, 1)
    return Holes(front, spacing, count, own.holes_counted_from or gear.holes_counted_from, side)
