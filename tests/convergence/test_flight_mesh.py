"""The default mesh against one twice as fine: camber 0.4 % of chord, twist 0.5°, drive 1.5 %."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.air.stream import Stream
from luffwright.air.wind import wind_profile
from luffwright.app.question import question
from luffwright.app.request import Request
from luffwright.sails.flight import Flight, fly
from luffwright.sails.measure import sections, track_forces
from luffwright.sails.rigging import Mesh
from luffwright.sails.sheet_mark import mark_setting

CAMBER, TWIST_DEG, DRIVE = 0.004, 0.5, 0.015
EASED = 0.1
"""Sheet let out from where it stands first [m]."""
SHEET_ZERO = 3.45
"""An invented rope length near the boat's mark [m]: any length will do here."""


@cache
def flown(times: int, boat: str = "marram") -> Flight:
    mesh = Mesh()
    size = Mesh(times * mesh.strips, times * mesh.panels)
    if boat == "marram":
        plan = load_boat(boat).plan
        wind = Stream(wind_profile(6.0), np.radians(48.0), 2.8, np.radians(4.0), np.radians(8.0))
        flight = fly(plan, mark_setting(plan).changed(sheet=0.12), wind, SHEET_ZERO, mesh=size)
    else:
        asked = question(Request(boat=boat, wind_kn=12.0, angle_deg=48.0))
        # As it stands first the jib is stalled all the way up, where a degree costs a tenth of it.
        setting = asked.setting.changed(sheet=asked.setting.value("sheet") + EASED)
        flight = fly(asked.boat.plan, setting, asked.stream, asked.sheet_zero, mesh=size)
    assert flight.settled
    return flight


def apart(sail: int, boat: str = "marram") -> tuple[list[float], list[float]]:
    """Return the differences of camber (share of chord) and twist [deg], low to top."""
    pair = (sections(it, it.rigging.sails[sail]) for it in (flown(1, boat), flown(2, boat)))
    both = list(zip(*pair, strict=True))
    camber = [abs(a.camber - b.camber) for a, b in both]
    return camber, [float(np.degrees(abs(a.twist - b.twist))) for a, b in both]


def drive_apart(boat: str) -> float:
    """Return by which share the drive differs [-]."""
    drive = [float(track_forces(flown(times, boat))[:, 0].sum()) for times in (1, 2)]
    return abs(drive[0] / drive[1] - 1.0)


def test_the_default_mesh_is_the_one_that_is_timed_and_told() -> None:
    assert Mesh() == Mesh(strips=9, panels=7)


@pytest.mark.parametrize(
    "boat",
    [
        "marram",
        "dunlin",
        "eider",
    ],
)
def test_drive_against_the_double_mesh(boat: str) -> None:
    assert drive_apart(boat) < DRIVE


@pytest.mark.parametrize("boat", ["dunlin", "eider"])
def test_the_double_mesh_finds_the_mainsails_draft_where_the_default_does(boat: str) -> None:
    pair = [sections(it, it.rigging.sails[1]) for it in (flown(1, boat), flown(2, boat))]
    assert max(abs(a.draft - b.draft) for a, b in zip(*pair, strict=True)) < 0.1


def test_headsail_camber_low_and_middle_against_the_double_mesh() -> None:
    assert max(apart(0)[0][:2]) < CAMBER


@pytest.mark.xfail(
    strict=True,
    reason="at the top the headsail's camber differs by 0.5 % of the chord: the leech hooks in a "
    "strip narrower than a panel. With a third of the leech tape the twists differ by 0.1, 0.5 and "
    "0.6° (twice the panels), with none by 3.7° at the top: the tape is a part of it only. Panels "
    "a third narrower at the leech, or at luff and leech, make it worse (drive then differs by 4 "
    "to 9 %): the lattice is true to a higher order with even panels only",
)
def test_headsail_camber_at_the_top_against_the_double_mesh() -> None:
    assert apart(0)[0][2] < CAMBER


@pytest.mark.xfail(
    strict=True, reason="twist differs by 0.5, 1.0 and 1.4° low to top; the leech's hook, as above"
)
def test_headsail_twist_against_the_double_mesh() -> None:
    assert max(apart(0)[1]) < TWIST_DEG


@pytest.mark.parametrize("boat", ["marram", "dunlin", "eider"])
def test_mainsail_camber_low_and_middle_against_the_double_mesh(boat: str) -> None:
    assert max(apart(1, boat)[0][:2]) < CAMBER


@pytest.mark.xfail(
    strict=True,
    reason="at the top camber differs by 0.8 % of the chord: between two battens the cloth "
    "scallops finer than the default mesh shows",
)
def test_mainsail_camber_at_the_top_against_the_double_mesh() -> None:
    assert apart(1)[0][2] < CAMBER


def test_mainsail_twist_against_the_double_mesh() -> None:
    assert max(apart(1)[1]) < TWIST_DEG
