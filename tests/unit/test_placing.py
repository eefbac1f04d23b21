"""The first guess hangs the moulded sails on stay and mast without bending them."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial.distance import pdist

from luffwright.aboard.boat import boat_keys, load_boat
from luffwright.sails.cut import moulded
from luffwright.sails.placing import lead_place, place_headsail, place_mainsail


@pytest.mark.parametrize("key", boat_keys())
def test_a_headsail_hangs_on_its_stay_to_leeward_unbent(key: str) -> None:
    boat = load_boat(key)
    shape = moulded(boat.plan.headsail, 6, 5)
    nodes = place_headsail(boat.plan, shape, boat.resting())
    assert pdist(nodes) == pytest.approx(pdist(shape.nodes))
    assert nodes[0] == pytest.approx(boat.plan.headsail_gear.tack)
    assert nodes.reshape(6, 5, 3)[0, -1, 1] > 0.0


@pytest.mark.parametrize("key", boat_keys())
def test_a_mainsail_hangs_on_the_raked_mast_to_leeward_unbent(key: str) -> None:
    boat = load_boat(key)
    shape = moulded(boat.plan.mainsail, 6, 5)
    nodes = place_mainsail(boat.plan, shape, boat.resting())
    assert pdist(nodes) == pytest.approx(pdist(shape.nodes))
    assert nodes.reshape(6, 5, 3)[0, -1, 1] > 0.0
    straight = nodes.reshape(6, 5, 3)[-1, 0] - nodes[0]
    # Cut round or hollow shows between the ends only.
    assert np.arctan2(-straight[0], straight[2]) == pytest.approx(boat.plan.mast.rake, abs=1e-6)


def test_easing_the_mainsheet_swings_the_boom_out() -> None:
    boat = load_boat("marram")
    shape = moulded(boat.plan.mainsail, 6, 5)
    hard, eased = (
        place_mainsail(boat.plan, shape, boat.resting().changed(mainsheet=sheet))[4, 1]
        for sheet in (0.0, 2.0)
    )
    assert eased > hard + 0.5


def test_a_rolled_headsail_starts_higher_on_its_stay() -> None:
    boat = load_boat("marram")
    whole, part = (
        place_headsail(boat.plan, moulded(boat.plan.headsail, 6, 5, rolled_share=s), boat.resting())
        for s in (0.0, 0.3)
    )
    assert part[0, 2] > whole[0, 2]
    stay = whole[-5] - whole[0]
    assert np.linalg.norm(np.cross(part[0] - whole[0], stay)) == pytest.approx(0.0, abs=1e-9)


def test_easing_the_headsail_s_sheet_swings_its_clew_out_until_the_sheet_is_taut() -> None:
    boat = load_boat("marram")
    shape = moulded(boat.plan.headsail, 6, 5)
    hard, eased = (
        place_headsail(boat.plan, shape, boat.resting().changed(sheet=sheet))[4]
        for sheet in (0.0, 1.5)
    )
    assert eased[1] > hard[1] + 0.5
    lead = lead_place(boat.plan, boat.resting())
    longer = np.linalg.norm(eased - lead) - np.linalg.norm(hard - lead)
    assert longer == pytest.approx(1.5, abs=0.01)
