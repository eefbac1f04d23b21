"""A mainsail that rolls into the mast: its control, its area, its battens, what is refused."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from luffwright.aboard.boat import Boat, load_boat
from luffwright.aboard.completed import completed
from luffwright.aboard.convert import sail_plan
from luffwright.aboard.fit import refuse_what_does_not_fit
from luffwright.app.fly import fly as fly_verb
from luffwright.app.request import Request
from luffwright.errors import BoatFileError
from luffwright.sails.cut import moulded, sail_area, triangles
from luffwright.sails.placing import place_mainsail
from luffwright.sails.plan import SailCut, UprightBatten
from luffwright.sails.rigging import Mesh, rig
from luffwright.sails.sailcloth import SailPart, upright_chain

PLOVER = Path(__file__).parents[1] / "data" / "plover.toml"
ROWS, COLUMNS = 11, 9
UPRIGHT = UprightBatten(0.5, 0.0, 1.0, 8.0)


@pytest.fixture(scope="module")
def plover() -> Boat:
    return load_boat(str(PLOVER))


def part_of(cut: SailCut, share: float = 0.0) -> SailPart:
    shape = moulded(cut, ROWS, COLUMNS, rolled_share=share)
    return SailPart("mainsail", 0, ROWS, COLUMNS, shape, cut)


def test_she_has_a_mainsail_furler_and_no_slab_reefs(plover: Boat) -> None:
    names = {entry.name for entry in plover.plan.controls}
    assert "main_furl" in names
    assert "reef" not in names
    assert plover.marks["main_furl"].text(0.3) == "30 % rolled"


def test_a_boat_with_slab_reefs_has_no_mainsail_furler() -> None:
    assert "main_furl" not in {entry.name for entry in load_boat("marram").plan.controls}


def test_a_mainsail_without_battens_is_taken_to_have_a_hollow_leech() -> None:
    table = tomllib.loads(PLOVER.read_text(encoding="utf-8"))
    del table["sails"]["mainsail"]["roach_m"]
    main = completed(table).file.sails.mainsail
    assert main.battens == ()
    assert main.roach_m < 0.0


@pytest.mark.parametrize("share", [0.2, 0.4])
def test_rolled_in_by_a_share_the_foot_is_shorter_by_it_and_the_area_by_its_square(
    plover: Boat, share: float
) -> None:
    flat = replace(plover.plan.mainsail, camber=(1e-9,) * 3, leech_curve=0.0, head_width=0.02)
    whole, left = (moulded(flat, 17, 9, rolled_share=part) for part in (0.0, share))
    faces = triangles(17, 9)
    area = sail_area(left.nodes, faces) / sail_area(whole.nodes, faces)
    # The head keeps its 2 cm.
    assert area == pytest.approx((1.0 - share) ** 2, rel=0.008)
    foot = np.linalg.norm(left.grid[0, -1] - left.grid[0, 0])
    assert foot == pytest.approx((1.0 - share) * flat.foot, rel=2e-3)


def test_the_clew_comes_in_along_the_boom_square_to_the_mast(plover: Boat) -> None:
    setting = plover.resting()
    clews = [
        place_mainsail(plover.plan, moulded(plover.plan.mainsail, 9, 7, rolled_share=s), setting)[6]
        for s in (0.0, 0.3)
    ]
    came = clews[1] - clews[0]
    mast = np.array([-np.tan(plover.plan.mast.rake), 0.0, 1.0])
    assert came @ mast / np.linalg.norm(mast) == pytest.approx(0.0, abs=0.02)
    assert np.linalg.norm(came) == pytest.approx(0.3 * plover.plan.mainsail.foot, rel=0.02)


def test_an_upright_batten_stands_parallel_to_the_luff_and_ends_at_the_leech(plover: Boat) -> None:
    cut = replace(plover.plan.mainsail, uprights=(UPRIGHT,), twist=0.0, camber=(1e-9,) * 3)
    part = part_of(cut)
    chain = upright_chain(part, UPRIGHT)
    places = np.array(
        [sum(share * part.moulded.nodes[node] for node, share in mix.items()) for mix in chain]
    )
    assert np.ptp(places[:, 0]) < 0.02
    # Half-way along the foot it meets the leech about half-way up.
    assert len(chain) == pytest.approx(ROWS / 2, abs=1)


def test_an_upright_batten_comes_nearer_to_the_luff_and_is_rolled_up_at_last(plover: Boat) -> None:
    cut = replace(plover.plan.mainsail, uprights=(UPRIGHT,))
    nearer = part_of(cut, 0.3)
    mix = upright_chain(nearer, UPRIGHT)[0]
    place = sum(share * nearer.moulded.nodes[node] for node, share in mix.items())
    assert place[0] == pytest.approx(0.2 * cut.foot, rel=0.05)
    assert upright_chain(part_of(cut, 0.55), UPRIGHT) == []


def test_upright_battens_push(plover: Boat) -> None:
    plan = replace(plover.plan, mainsail=replace(plover.plan.mainsail, uprights=(UPRIGHT,)))
    ropes = rig(plan, plover.resting(), Mesh(6, 6), 4.0).ropes
    pieces = [k for k, name in enumerate(ropes.names) if name == "mainsail_batten"]
    assert pieces
    assert all(ropes.both[k] for k in pieces)


def give(table: dict[str, Any], name: str, value: object) -> None:
    here = table
    *tables, last = name.split(".")
    for key in tables:
        here = here.setdefault(key, {})
    here[last] = value


@pytest.mark.parametrize(
    ("key", "value", "field"),
    [
        ("sails.mainsail.roach_m", 0.2, "sails.mainsail.roach_m"),
        (
            "sails.mainsail.battens", [{"leech_pct": 40, "chord_pct": 40, "bending_nm2": 5}],
            "sails.mainsail.battens",
        ),
        ("deck.mainsail.reefs", 2, "deck.mainsail.reefs"),
        (
            "sails.mainsail.upright_battens",
            [{"foot_pct": 60, "from_pct": 50, "to_pct": 20, "bending_nm2": 5}],
            "sails.mainsail.upright_battens.1.from_pct",
        ),
    ],
)  # fmt: skip
def test_what_cannot_roll_into_a_mast_is_refused(key: str, value: object, field: str) -> None:
    table = tomllib.loads(PLOVER.read_text(encoding="utf-8"))
    give(table, key, value)
    with pytest.raises(BoatFileError) as caught:
        refuse_what_does_not_fit(completed(table).file)
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("key", "value", "read"),
    [
        (
            "sails.mainsail.upright_battens",
            [{"foot_pct": 60, "from_pct": 0, "to_pct": 35, "bending_nm2": 5}],
            lambda plan: plan.mainsail.uprights == (UprightBatten(0.6, 0.0, 0.35, 5.0),),
        ),
        (
            "sails.headsail.luff_pad_mm", 0.5,
            lambda plan: plan.headsail.luff_pad == pytest.approx(0.0005),
        ),
    ],
)  # fmt: skip
def test_battens_and_pad_reach_the_sails(
    key: str, value: object, read: Callable[[Any], bool]
) -> None:
    table = tomllib.loads(PLOVER.read_text(encoding="utf-8"))
    give(table, key, value)
    assert read(sail_plan(completed(table).file))


def test_she_flies_with_part_of_her_mainsail_in_the_mast_and_less_in_the_mainsheet() -> None:
    answers = []
    for share in (0.0, 0.3):
        request = Request(
            boat=str(PLOVER), wind_kn=20.0, angle_deg=50.0, controls={"main_furl": share},
            speed_kn=6.0, heel_deg=15.0, leeway_deg=4.0,
        )  # fmt: skip
        answers.append(fly_verb(request).answer)
    assert all(answer.status != "failed" for answer in answers)
    full, part = answers
    assert part.controls["main_furl"].mark == "30 % rolled"
    assert "reef" not in part.controls
    pulls = [answer.loads["mainsheet"].load_kn for answer in (full, part)]
    assert pulls[0] is not None
    assert pulls[1] is not None
    assert pulls[1] < 0.8 * pulls[0]
