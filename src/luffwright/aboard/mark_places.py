"""Where each mark belongs on deck: what a control is counted from, in the sailor's words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from luffwright.aboard.mark import Mark

HANDS = "A hand is 10 cm of rope, a finger 2 cm."
SLACK_OUT = "hand-tight: the slack taken up by hand, with no wind in the sail"
ZEROS = {
    "sheet": "a tape mark where the sheet comes on the winch when she sails close-hauled in 12 kn, "
    "lead neutral, and the leech just meets spreader or shroud; a sail that reaches neither: when "
    "it stands 12° further out at the top than at the foot",
    "lead": "holes counted along the track as the file says",
    "clew_hole": "holes of the board counted from the lowest",
    "lead_out": "counted outboard from where it stands as a rule",
    "halyard": SLACK_OUT,
    "furl": "share of the luff perpendicular that is rolled away",
    "backstay": "hand-tight: as it stands at the dock, sails down, with the pull that the file has "
    "for it there; tackle or screw is counted on from that",
    "mainsheet": "a tape mark at the cleat when the boom stands on the centreline over a car in "
    "the middle, the leech hand-tight; inside it the rope is shorter, which pulls the boom down",
    "traveller": "counted from its car on the centreline",
    "vang": "hand-tight: the slack taken up by hand, with the mainsheet on its mark",
    "cunningham": SLACK_OUT,
    "outhaul": "a band on the boom where the clew stands when the foot is pulled straight",
    "main_furl": "share of the foot that is rolled away",
    "pole": "degrees aft of right ahead, seen from the mast; the beam is 90",
}
"""Zero of each control as `Setting` has it; what is counted in whole reefs needs none."""
FOUND = {
    "lead": "no marks yet; by eye it is neutral where the sheet, drawn on through the clew, meets "
    "the luff at two fifths of its length from the tack",
    "traveller": "no marks yet; by eye from its car on the centreline",
}
"""The place of a control without marks that can be found all the same."""


@dataclass(frozen=True)
class MarkPlace:
    """Where the mark of a control belongs: the `rope` by its name on deck, and its `zero`."""

    control: str
    rope: str
    zero: str


def mark_places(marks: Iterable[Mark]) -> tuple[MarkPlace, ...]:
    """Return where the marks belong that answers count from.

    Parameters
    ----------
    marks : iterable of Mark
        Of a boat.

    Returns
    -------
    tuple of MarkPlace
        Of what is not marked on this boat those that can be found by eye; none for reefs.

    Examples
    --------
    >>> vang = Mark("vang", "vang", "past", 0.02, "pull", "ease", -0.2, 0.2)
    >>> [it.zero.split(":")[0] for it in mark_places([vang])]
    ['hand-tight']
    """
    told = (
        MarkPlace(it.control, it.rope, (FOUND if it.missing else ZEROS).get(it.control, ""))
        for it in marks
    )
    return tuple(it for it in told if it.zero)
