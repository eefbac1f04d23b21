"""The sail as sewn: which battens a reef or a roll leaves, and where they lie."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.sails.cut import moulded
from luffwright.sails.plan import SailCut
from luffwright.sails.rigging import REEF_SHARE
from luffwright.sails.sailcloth import SailPart, joints, links

ROWS, COLUMNS = 27, 9


def part_of(cut: SailCut, reef: float) -> SailPart:
    shape = moulded(cut, ROWS, COLUMNS, reef_from=REEF_SHARE * reef)
    return SailPart("mainsail", 0, ROWS, COLUMNS, shape, cut)


def batten_rows(part: SailPart) -> list[int]:
    found = {link.ends[0] // COLUMNS for link in links(part) if link.name == "mainsail_batten"}
    return sorted(found)


@pytest.mark.parametrize(("reef", "left"), [(0.0, 4), (1.0, 4), (2.0, 3)])
def test_a_reef_ties_down_the_battens_below_it_and_leaves_the_others_where_they_were(
    reef: float, left: int
) -> None:
    cut = load_boat("marram").plan.mainsail
    part = part_of(cut, reef)
    rows = batten_rows(part)
    assert len(rows) == left
    heights = [float(part.moulded.eta[row]) for row in rows]
    kept = [batten.leech_share for batten in cut.battens][-left:]
    assert np.abs(np.array(heights) - kept).max() <= 0.5 / (ROWS - 1)


def test_a_batten_tied_down_bends_nothing() -> None:
    cut = load_boat("marram").plan.mainsail
    assert len(joints(part_of(cut, 2.0))) < len(joints(part_of(cut, 0.0)))
