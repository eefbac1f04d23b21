"""The first guess hangs the moulded sails on stay and mast without bending them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.spatial.distance import pdist

from luffwright.aboard.boat import boat_keys, load_boat
from luffwright.sails.cut import clew_place, moulded
from luffwright.sails.placing import headsail_axis, lead_place, place_headsail, place_mainsail
from luffwright.sails.sheet_mark import NEUTRAL_SHARE, mark_setting, neutral_lead, rolled_up


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


@pytest.mark.parametrize("key", boat_keys())
def test_a_rolled_headsail_s_clew_comes_forward_and_up_square_to_the_stay(key: str) -> None:
    boat = load_boat(key)
    cut, setting = boat.plan.headsail, boat.resting()
    whole, part = (
        place_headsail(boat.plan, moulded(cut, 9, 9, rolled_share=s), setting)[8] for s in (0, 0.25)
    )
    came = part - whole
    _, stay = headsail_axis(boat.plan)
    assert came[0] > 0.0
    assert came[2] > 0.0
    assert came @ stay == pytest.approx(0.0, abs=0.03)
    # A quarter of the luff perpendicular; where it is cut deep, a little more of the chord.
    assert np.linalg.norm(came) == pytest.approx(0.25 * clew_place(cut)[0], rel=0.06)


def test_the_neutral_lead_of_a_rolled_headsail_is_where_its_sheet_points_to_two_fifths() -> None:
    """By hand for a flat sail: clew, tack and head of the rolled triangle, seen from abeam."""
    plan = load_boat("marram").plan
    cut = replace(
        plan.headsail, camber=(1e-9,) * 3, luff_curve=0.0, leech_curve=0.0, foot_curve=0.0,
        head_width=0.001, twist=0.0,
    )  # fmt: skip
    plan = replace(plan, headsail=cut)
    share = 0.1
    tack, stay = headsail_axis(plan)
    u, v = clew_place(cut)
    place = neutral_lead(plan, share)
    assert place is not None
    aft = np.array([-1.0, 0.0, 0.0]) + stay[0] * stay
    aft /= np.linalg.norm(aft)
    # It hangs out at the angle of its track: from abeam its chord is shorter by the cosine.
    gear = plan.headsail_gear
    middle = 0.5 * (np.array(gear.track_front) + np.array(gear.track_aft))
    angle = np.arctan2(middle[1] + 0.1, tack[0] - middle[0])
    clew = tack + v * stay + (1.0 - share) * u * np.cos(angle) * aft
    aim = tack + (share * v + NEUTRAL_SHARE * (1.0 - share) * cut.luff) * stay
    down = (clew[2] - gear.track_front[2]) / (aim[2] - clew[2])
    x = clew[0] - down * (aim[0] - clew[0])
    assert gear.track_front[0] - place == pytest.approx(x, abs=0.01)


def test_rolling_up_and_out_again_leaves_lead_and_sheet_as_they_were() -> None:
    plan = load_boat("marram").plan
    start = mark_setting(plan)
    there = rolled_up(plan, start, 0.15)
    assert there.value("lead") < start.value("lead")
    assert there.sheet > start.sheet + 0.5
    back = rolled_up(plan, there, 0.0)
    assert back.value("lead") == pytest.approx(start.value("lead"))
    assert back.sheet == pytest.approx(start.sheet, abs=1e-9)
