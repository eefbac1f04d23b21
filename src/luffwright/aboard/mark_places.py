"""Where each mark belongs on deck: what a control is counted from, in the sailor's words."""

from __future__ import annotations

from collections.abc import Iterable

from luffwright.aboard.mark import Mark

HANDS = "A hand is 10 cm of rope, a finger 2 cm."
HAND_TIGHT = "hand-tight: the slack taken up by hand, with no wind in the sail"
TURNS = "hand-tight: slack just gone at the dock; tackle or screw is counted on from there"
CENTRED = "counted from its car on the centreline"
PLACES = {
    "sheet": "a tape mark where the sheet comes on the winch when she sails close-hauled in 12 kn, "
    "lead neutral, and the leech just meets spreader or shroud; a sail that reaches neither: when "
    "it stands 12° further out at the top than at the foot",
    "lead": "holes counted along the track as the file says",
    "clew_hole": "holes of the board counted from the lowest",
    "lead_out": "counted outboard from where it stands as a rule",
    "halyard": HAND_TIGHT,
    "furl": "share of the luff perpendicular that is rolled away",
    "backstay": TURNS,
    "mainsheet": "a tape mark at the cleat when the boom stands on the centreline under a car in "
    "the middle; inside it the rope is shorter, which pulls the boom down",
    "traveller": CENTRED,
    "vang": HAND_TIGHT,
    "cunningham": HAND_TIGHT,
    "outhaul": "a band on the boom where the clew stands when the foot is pulled straight",
    "main_furl": "share of the foot that is rolled away",
    "pole": "degrees aft of right ahead, seen from the mast; the beam is 90",
}
"""Zero of each control; what is counted in whole reefs needs none."""


def mark_places(marks: Iterable[Mark]) -> dict[str, tuple[str, str]]:
    """Return of each control that has a mark its rope and where that belongs, in words.

    Parameters
    ----------
    marks : iterable of Mark
        Of a boat.

    Returns
    -------
    dict
        By control; none for what is not marked on this boat, nor for reefs.

    Examples
    --------
    >>> vang = Mark("vang", "vang", "past", 0.02, "pull", "ease", -0.2, 0.2)
    >>> mark_places([vang])["vang"][1].split(":")[0]
    'hand-tight'
    """
    return {
        it.control: (it.rope, PLACES[it.control])
        for it in marks if it.control in PLACES and not it.missing
    }  # fmt: skip
