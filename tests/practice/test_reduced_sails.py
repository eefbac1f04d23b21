"""What sailors say of rolled and reefed sails at a held speed: common practice, no source.

The whole boat in balance, her heel and helm, are asked elsewhere; here the sails alone.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from facts.effect import CAMBER, Verdict
from luffwright.app.question import MESH, Question, question
from luffwright.app.request import Request
from luffwright.sails.flight import Flight, fly
from luffwright.sails.measure import sections, sheet_meets_luff
from luffwright.sails.plan import SailPlan
from luffwright.sails.setting import Setting
from luffwright.sails.sheet_mark import neutral_lead, rolled_up
from states import held, sense

DATA = Path(__file__).parents[1] / "data"
TERN, PLOVER = str(DATA / "tern.toml"), str(DATA / "plover.toml")
BOATS = ("marram", "dunlin", "eider", TERN)
WINDS = (14.0, 18.0, 22.0)
SHARE = 0.005
ROLLED, PAD = 0.3, 0.0005
"""Share of the luff perpendicular rolled away, and a thin luff pad, pressed [m]."""


@cache
def asked(boat: str, wind_kn: float) -> Question:
    return question(
        Request(
            boat=boat, wind_kn=wind_kn, angle_deg=50.0, speed_kn=6.0, heel_deg=12.0, leeway_deg=4.0
        )
    )


def flown(boat: str, wind_kn: float, setting: Setting, plan: SailPlan | None = None) -> Flight:
    case = asked(boat, wind_kn)
    return fly(plan or case.boat.plan, setting, case.stream, case.sheet_zero, mesh=MESH)


@cache
def whole(boat: str, wind_kn: float) -> Flight:
    return flown(boat, wind_kn, asked(boat, wind_kn).setting)


@cache
def rolled(boat: str, wind_kn: float, pad: float = 0.0) -> Flight:
    """Return the boat with her headsail rolled, lead and sheet re-set by geometry."""
    plan = asked(boat, wind_kn).boat.plan
    there = rolled_up(plan, whole(boat, wind_kn).setting, ROLLED)
    padded = replace(plan, headsail=replace(plan.headsail, luff_pad=pad))
    return flown(boat, wind_kn, there, padded)


def pairs() -> list[tuple[str, Flight, Flight]]:
    found = [
        (f"{boat[-10:]} {wind:g} kn", whole(boat, wind), rolled(boat, wind))
        for boat in BOATS
        for wind in WINDS
    ]
    return [it for it in found if it[1].settled and it[2].settled]


def falls(before: Flight, after: Flight, rope: str) -> Verdict:
    return sense(1.0 - after.pull(rope) / before.pull(rope), SHARE)


@pytest.mark.practice(fact="L5a")
@pytest.mark.parametrize("boat", ["marram", "eider", TERN])
def test_rolled_up_the_neutral_lead_goes_forward_step_by_step(boat: str) -> None:
    plan = asked(boat, 14.0).boat.plan
    places = [neutral_lead(plan, share) for share in (0.0, 0.1, 0.2, 0.3)]
    inside = [place for place in places if place is not None and place > 0.0]
    assert len(inside) >= 2
    assert inside == sorted(inside, reverse=True)
    assert inside[0] - inside[1] > 0.05


@pytest.mark.practice(fact="L5b")
def test_with_its_lead_left_behind_a_rolled_headsail_s_sheet_points_lower_than_re_set() -> None:
    verdicts: dict[str, list[Verdict]] = {}
    for case, before, after in pairs():
        if after.setting.lead is None or before.setting.lead is None:
            continue
        back = after.setting.changed(lead=before.setting.lead)
        left = fly(
            after.rigging.plan, back, after.stream,
            _zero(case), mesh=MESH, near=after,
        )  # fmt: skip
        if left.settled:
            verdicts[case] = [sense(sheet_meets_luff(after) - sheet_meets_luff(left), SHARE)]
    held(verdicts)


def _zero(case: str) -> float:
    boat = next(name for name in BOATS if case.startswith(name[-10:]))
    return asked(boat, WINDS[0]).sheet_zero


@pytest.mark.practice(fact="R3h")
def test_a_rolled_headsail_pulls_less_on_sheet_halyard_and_stay() -> None:
    held(
        {
            case: [falls(before, after, rope) for rope in ("sheet", "halyard", "forestay")]
            for case, before, after in pairs()
        }
    )


@pytest.mark.practice(fact="R3i")
def test_a_reefed_mainsail_pulls_less_on_sheet_and_halyard() -> None:
    verdicts: dict[str, list[Verdict]] = {}
    for boat in BOATS:
        for wind in WINDS:
            before = whole(boat, wind)
            after = flown(boat, wind, before.setting.changed(reef=1.0))
            if before.settled and after.settled:
                told = [falls(before, after, rope) for rope in ("mainsheet", "main_halyard")]
                verdicts[f"{boat[-10:]} {wind:g} kn"] = told
    held(verdicts)


@pytest.mark.practice(fact="R3f")
def test_a_mainsail_rolled_into_the_mast_pulls_less_on_its_sheet_the_more_is_rolled() -> None:
    verdicts: dict[str, list[Verdict]] = {}
    for wind in WINDS:
        before = whole(PLOVER, wind)
        for share in (0.15, 0.3):
            after = flown(PLOVER, wind, before.setting.changed(main_furl=share))
            if not (before.settled and after.settled):
                continue
            verdicts[f"plover {wind:g} kn {share:g}"] = [falls(before, after, "mainsheet")]
            before = after
    held(verdicts)


@pytest.mark.practice(fact="R3g")
def test_a_padded_luff_takes_the_bag_out_of_a_rolled_headsail() -> None:
    verdicts: dict[str, list[Verdict]] = {}
    for boat in BOATS:
        for wind in WINDS:
            plain, padded = rolled(boat, wind), rolled(boat, wind, PAD)
            if plain.settled and padded.settled:
                was, now = (sections(it, it.rigging.sails[0])[1].camber for it in (plain, padded))
                verdicts[f"{boat[-10:]} {wind:g} kn"] = [sense(was - now, CAMBER)]
    held(verdicts)
