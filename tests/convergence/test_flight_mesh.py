"""The default mesh against one twice as fine: camber 0.4 % of chord, twist 0.5°, drive 1.5 %."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.air.stream import Stream
from luffwright.air.wind import wind_profile
from luffwright.sails.flight import Flight, fly
from luffwright.sails.measure import sections, track_forces
from luffwright.sails.rigging import Mesh
from luffwright.sails.sheet_mark import mark_setting

CAMBER, TWIST_DEG, DRIVE = 0.004, 0.5, 0.015
SHEET_ZERO = 3.45
"""An invented rope length near the boat's mark [m]: any length will do here."""


@cache
def flown(times: int) -> Flight:
    boat, mesh = load_boat("marram"), Mesh()
    wind = Stream(wind_profile(6.0), np.radians(48.0), 2.8, np.radians(4.0), np.radians(8.0))
    setting = mark_setting(boat.plan).changed(sheet=0.12)
    size = Mesh(times * mesh.strips, times * mesh.panels)
    flight = fly(boat.plan, setting, wind, SHEET_ZERO, mesh=size)
    assert flight.settled
    return flight


def apart(sail: int) -> tuple[list[float], list[float]]:
    """Return the differences of camber (share of chord) and twist [deg], low to top."""
    pair = (sections(it, it.rigging.sails[sail]) for it in (flown(1), flown(2)))
    both = list(zip(*pair, strict=True))
    camber = [abs(a.camber - b.camber) for a, b in both]
    return camber, [float(np.degrees(abs(a.twist - b.twist))) for a, b in both]


def test_the_default_mesh_is_the_one_that_is_timed_and_told() -> None:
    assert Mesh() == Mesh(strips=9, panels=7)


def test_drive_against_the_double_mesh() -> None:
    drive = [float(track_forces(flown(times))[:, 0].sum()) for times in (1, 2)]
    assert abs(drive[0] / drive[1] - 1.0) < DRIVE


def test_headsail_camber_low_and_middle_against_the_double_mesh() -> None:
    assert max(apart(0)[0][:2]) < CAMBER


@pytest.mark.xfail(
    strict=True,
    reason="at the top the headsail's camber differs by 0.5 % of the chord: the leech tape hooks a "
    "strip of cloth narrower than a panel; a mesh graded towards the leech is missing",
)
def test_headsail_camber_at_the_top_against_the_double_mesh() -> None:
    assert apart(0)[0][2] < CAMBER


@pytest.mark.xfail(
    strict=True, reason="twist differs by 0.5, 1.0 and 1.4° low to top; the leech's hook, as above"
)
def test_headsail_twist_against_the_double_mesh() -> None:
    assert max(apart(0)[1]) < TWIST_DEG


@pytest.mark.xfail(
    strict=True,
    reason="camber differs by 0.0, 0.6 and 2.0 % of the chord: between two battens the cloth "
    "scallops finer than the default mesh shows",
)
def test_mainsail_camber_against_the_double_mesh() -> None:
    assert max(apart(1)[0]) < CAMBER


def test_mainsail_twist_against_the_double_mesh() -> None:
    assert max(apart(1)[1]) < TWIST_DEG
