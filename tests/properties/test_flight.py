"""What must hold of every flight: scaling, one answer from two starts, always an answer."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from luffwright.aboard.boat import Boat, load_boat
from luffwright.air.stream import Stream
from luffwright.air.wind import WindProfile, wind_profile
from luffwright.sails import sailcloth
from luffwright.sails.flight import Flight, fly
from luffwright.sails.measure import sections
from luffwright.sails.plan import Line, SailCut, SailPlan, Stay
from luffwright.sails.rigging import Mesh
from luffwright.sails.setting import Setting
from luffwright.sails.sheet_mark import mark_setting

COARSE = Mesh(5, 5)
SHEET_ZERO = {"marram": 3.45, "dunlin": 3.98, "eider": 4.04}
"""Invented rope lengths near the boats' marks: here any length will do."""


def stream(wind: float, angle_deg: float = 46.0, heel_deg: float = 10.0) -> Stream:
    profile = WindProfile(wind, 0.04 * wind, 2e-4)
    return Stream(profile, np.radians(angle_deg), 0.4 * wind, np.radians(4.0), np.radians(heel_deg))


def line_times(line: Line, factor: float) -> Line:
    return replace(line, stiffness=factor * line.stiffness)


def stay_times(stay: Stay, factor: float) -> Stay:
    return replace(
        stay, line=line_times(stay.line, factor), dock_tension=factor * stay.dock_tension
    )


def cut_times(cut: SailCut, factor: float) -> SailCut:
    cloth = cut.cloth
    stiffer = replace(
        cloth, warp=factor * cloth.warp, fill=factor * cloth.fill, shear=factor * cloth.shear,
        mass=factor * cloth.mass,
    )  # fmt: skip
    battens = tuple(replace(b, stiffness=factor * b.stiffness) for b in cut.battens)
    return replace(cut, cloth=stiffer, battens=battens, tape_stiffness=factor * cut.tape_stiffness)


def stiffer(plan: SailPlan, factor: float) -> SailPlan:
    """Return the boat with every stiffness and weight multiplied."""
    head, main, mast = plan.headsail_gear, plan.mainsail_gear, plan.mast
    return replace(
        plan,
        mast=replace(
            mast,
            stiffness_fore_aft=factor * mast.stiffness_fore_aft,
            stiffness_sideways=factor * mast.stiffness_sideways,
        ),
        forestay=stay_times(plan.forestay, factor),
        shrouds=tuple(stay_times(stay, factor) for stay in plan.shrouds),
        backstay=None if plan.backstay is None else stay_times(plan.backstay, factor),
        headsail=cut_times(plan.headsail, factor),
        mainsail=cut_times(plan.mainsail, factor),
        headsail_gear=replace(
            head, sheet=line_times(head.sheet, factor), halyard=line_times(head.halyard, factor)
        ),
        mainsail_gear=replace(
            main,
            sheet=line_times(main.sheet, factor),
            vang=line_times(main.vang, factor),
            halyard=line_times(main.halyard, factor),
            outhaul=line_times(main.outhaul, factor),
            boom_mass=factor * main.boom_mass,
            vang_lift=factor * main.vang_lift,
        ),
    )


@pytest.fixture(scope="module")
def eider() -> Boat:
    """Return a boat whose headsail touches nothing: contact has a stiffness of its own."""
    return load_boat("eider")


def shapes(flight: Flight) -> np.ndarray:
    found = [s for part in flight.rigging.sails for s in sections(flight, part)]
    return np.array([(s.chord_angle, s.twist, s.camber, s.draft) for s in found])


def test_twice_the_wind_on_four_times_the_stiffness_flies_the_same_shape(
    eider: Boat, monkeypatch: pytest.MonkeyPatch
) -> None:
    setting = mark_setting(eider.plan).changed(sheet=0.1)
    one = fly(eider.plan, setting, stream(5.0), 4.04, mesh=COARSE)
    # The push of a batten along itself is a constant of the program: it is scaled here.
    monkeypatch.setattr(sailcloth, "BATTEN_AXIAL", 4.0 * sailcloth.BATTEN_AXIAL)
    four = fly(stiffer(eider.plan, 4.0), setting, stream(10.0), 4.04, mesh=COARSE)
    assert one.settled
    assert four.settled
    apart = np.abs(shapes(four) - shapes(one)).max(axis=0)
    assert np.degrees(apart[:2]).max() < 0.05
    assert apart[2] < 0.001
    pull = four.pull("forestay") / one.pull("forestay")
    assert pull == pytest.approx(4.0, rel=0.01)


@pytest.mark.parametrize("name", ["marram", "dunlin", "eider"])
def test_two_starts_lead_to_one_state(name: str) -> None:
    boat = load_boat(name)
    wind = Stream(wind_profile(6.0), np.radians(48.0), 2.8, np.radians(4.0), np.radians(8.0))
    setting = mark_setting(boat.plan).changed(sheet=0.12)
    cold = fly(boat.plan, setting, wind, SHEET_ZERO[name])
    other = fly(boat.plan, setting.changed(sheet=0.2, mainsheet=0.3), wind, SHEET_ZERO[name])
    warm = fly(boat.plan, setting, wind, SHEET_ZERO[name], near=other)
    assert cold.settled
    assert warm.settled
    apart = np.abs(shapes(warm) - shapes(cold)).max(axis=0)
    assert np.degrees(apart[0]) < 0.05
    assert np.degrees(apart[1]) < 0.05
    assert apart[2] < 0.001


@st.composite
def questions(draw: st.DrawFn) -> tuple[str, Setting, Stream]:
    name = draw(st.sampled_from(["marram", "dunlin", "eider"]))
    controls = {}
    for travel in load_boat(name).plan.controls:
        share = draw(st.floats(0.0, 1.0))
        value = travel.low + share * (travel.high - travel.low)
        controls[travel.name] = round(value) if travel.step == 1.0 else value
    angle = draw(st.floats(30.0, 180.0))
    wind = draw(st.floats(1.5, 18.0))
    heel = draw(st.floats(0.0, 0.5))
    air = Stream(wind_profile(wind), np.radians(angle), 0.4 * wind, 0.07, heel)
    return name, Setting(**controls), air


@given(questions())
def test_any_setting_in_any_wind_gets_an_answer(case: tuple[str, Setting, Stream]) -> None:
    name, setting, air = case
    flight = fly(load_boat(name).plan, setting, air, SHEET_ZERO[name], mesh=COARSE)
    assert np.isfinite(flight.places).all()
    assert np.isfinite(flight.flow.node_force).all()
    assert np.isfinite(shapes(flight)).all()
    assert np.isfinite(flight.residual)
