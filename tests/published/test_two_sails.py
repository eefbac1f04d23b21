"""Headsail and mainsail as sections in two dimensions: what each does to the other."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from luffwright.air.lattice import FREE_AIR, lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.arrays import FloatArray

INDEPENDENT = "Independent vortex sums in plain NumPy, written without sight of this program"
DATA = Path(__file__).parent / "data"
PAIRS = np.loadtxt(DATA / "sloop_section_pair.csv", delimiter=",", skiprows=8).tolist()
HALF_SPAN = 5e3
GENTRY = (
    "Gentry, The aerodynamics of sail interaction, AIAA symposium on the aero/hydronautics of "
    "sailing, 1971"
)


@dataclass(frozen=True)
class Sections:
    """Lift coefficient and incidence parameter of each section, mean speed and jump by panel."""

    lift: FloatArray
    incidence: FloatArray
    speed: FloatArray
    lee_speed: FloatArray


def arc(luff: float, chord: float, camber: float, out_deg: float, panels: int) -> FloatArray:
    """Return points (aft, to leeward) of a parabolic arc set `out_deg` off the centreline."""
    share = np.linspace(0.0, 1.0, panels + 1)
    bulge, out = 4.0 * camber * share * (1.0 - share), np.radians(out_deg)
    aft = luff + chord * (share * np.cos(out) - bulge * np.sin(out))
    return np.stack([aft, chord * (share * np.sin(out) + bulge * np.cos(out))], axis=1)


def fly(jib_chord: float, onset_deg: float, which: str, panels: int = 12) -> Sections:
    """Return the attached flow about jib, main or both; lift on each own chord."""
    every = {
        "jib": (arc(0.0, jib_chord, 0.12, 10.0, panels), jib_chord),
        "main": (arc(1.0, 1.0, 0.10, 2.0, panels), 1.0),
    }
    chosen = list(every.values()) if which == "both" else [every[which]]
    rows = [np.stack([-at[:, 0], at[:, 1], 0.0 * at[:, 0]], axis=1) for at, _ in chosen]
    ends = [np.array([0.0, 0.0, end]) for end in (-HALF_SPAN, HALF_SPAN)]
    nodes = np.vstack([row + end for row in rows for end in ends])
    sheet = sheet_mesh(2, panels + 1, inset_foot=0.0, inset_head=0.0)
    onset = np.radians(onset_deg)
    along = np.array([-np.cos(onset), np.sin(onset), 0.0])
    flow = solve_flow(
        lattice((sheet,) * len(chosen), (0.0,) * len(chosen)), nodes,
        lambda at: np.tile(along, (len(at), 1)), FREE_AIR, 1.0,
        stalling=False, core=(1e-6, 1e-6),
    )  # fmt: skip
    ring = flow.circulation.reshape(len(chosen), panels)
    length = np.linalg.norm(flow.chordwise, axis=1)
    speed = np.linalg.norm(flow.control_velocity, axis=1)
    jump = np.diff(ring, axis=1, prepend=0.0).ravel() / length
    chords = np.array([chord for _, chord in chosen])
    return Sections(2.0 * ring[:, -1] / chords, flow.strip.incidence, speed, speed + 0.5 * jump)


@pytest.mark.source(
    work=INDEPENDENT,
    where="data/sloop_section_pair.csv: lift of jib and main alone and together, arcs of 12 and 10 "
    "per cent at onset angles of 18 to 26 degrees",
    tolerance="rel 0.3 % or 0.003: three printed digits, 12 panels",
)
@pytest.mark.parametrize("row", PAIRS)
def test_lift_of_jib_and_main_alone_and_together(row: list[float]) -> None:
    chord, onset, jib, jib_with, main, main_with = row
    assert fly(chord, onset, "jib").lift == pytest.approx([jib], rel=0.003)
    assert fly(chord, onset, "main").lift == pytest.approx([main], rel=0.003)
    together = fly(chord, onset, "both").lift
    assert together == pytest.approx([jib_with, main_with], rel=0.003, abs=0.003)


@pytest.mark.source(
    work=INDEPENDENT,
    where="leading-edge coefficient A0 at 22 degrees: jib 0.215 alone, 0.403 (chord 0.9) and 0.346 "
    "(1.3) with the main; main 0.350 alone, 0.063 and -0.009 with the jib",
    tolerance="abs 0.01: three modes on 12 panels",
)
@pytest.mark.parametrize(("chord", "jib", "main"), [(0.9, 0.403, 0.063), (1.3, 0.346, -0.009)])
def test_incidence_parameters_alone_and_together(chord: float, jib: float, main: float) -> None:
    assert fly(chord, 22.0, "jib").incidence == pytest.approx([0.215], abs=0.01)
    assert fly(chord, 22.0, "main").incidence == pytest.approx([0.350], abs=0.01)
    assert fly(chord, 22.0, "both").incidence == pytest.approx([jib, main], abs=0.01)


@pytest.mark.source(
    work=GENTRY,
    where="the jib lifts more and the main less than alone, both together a little less than the "
    "sum (from memory)",
    tolerance="sense only; the sum 80 to 100 % of the single lifts",
)
@pytest.mark.parametrize("chord", [0.9, 1.3])
@pytest.mark.parametrize("onset", [18.0, 26.0])
def test_the_jib_gains_what_the_main_loses_and_more_is_lost(chord: float, onset: float) -> None:
    jib, main = fly(chord, onset, "jib").lift[0], fly(chord, onset, "main").lift[0]
    jib_with, main_with = fly(chord, onset, "both").lift
    assert jib_with > jib
    assert main_with < main
    assert 0.8 < (jib_with * chord + main_with) / (jib * chord + main) < 1.0


@pytest.mark.source(
    work=GENTRY,
    where="the main's luff is headed by the jib, the jib's luff is lifted by the main (from "
    "memory); a 130 per cent jib at 18 degrees backwinds the main",
    tolerance="sense only",
)
def test_the_main_is_headed_and_the_jib_lifted() -> None:
    both = fly(1.3, 18.0, "both").incidence
    assert both[0] > fly(1.3, 18.0, "jib").incidence[0]
    assert both[1] < fly(1.3, 18.0, "main").incidence[0]
    assert both[1] < 0.0


@pytest.mark.source(
    work="Gentry, Another look at slot effect, 1973",
    where="the air on the forward lee side of the main is slower with the jib than without",
    tolerance="sense only, over the first quarter of the chord",
)
@pytest.mark.parametrize("chord", [0.9, 1.3])
def test_the_slot_does_not_speed_up_the_air_over_the_main(chord: float) -> None:
    alone = fly(chord, 22.0, "main").lee_speed[:3]
    behind = fly(chord, 22.0, "both").lee_speed[12:15]
    assert np.all(behind < alone)


@pytest.mark.source(
    work="Slooff, On the aerodynamics of sail interaction, 2021",
    where="the main lets the air leave the headsail's leech faster, faster than the free stream",
    tolerance="sense only; above the free stream for the overlapping jib, as the leech has to "
    "stand in the main's lee for it: a jib that ends before the mast gets to 0.95 of it",
)
def test_the_main_speeds_up_the_air_at_the_jibs_leech() -> None:
    for chord in (0.9, 1.3):
        assert fly(chord, 22.0, "both").speed[11] > fly(chord, 22.0, "jib").speed[11]
    assert fly(1.3, 22.0, "both").speed[11] > 1.0
