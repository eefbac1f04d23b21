"""The default mesh against one twice as fine: camber 0.4 % of chord, twist 0.5°, drive 1.5 %."""

from __future__ import annotations

from collections.abc import Callable
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


BETWEEN = (Mesh(12, 9), Mesh(15, 12))
"""Meshes on the way to the double one: where there are two balances both are to be the same one."""


def on_mesh(times: int, flown_on: Callable[[Mesh, Flight | None], Flight]) -> Flight:
    """Return the flight on the default mesh, or onward from there on one so many times as fine."""
    mesh = Mesh()
    flight = flown_on(mesh, None)
    way = (*BETWEEN, Mesh(times * mesh.strips, times * mesh.panels)) if times > 1 else ()
    for size in way:
        flight = flown_on(size, flight)
    assert flight.settled
    return flight


@cache
def flown(times: int, boat: str = "marram") -> Flight:
    if boat == "marram":
        plan = load_boat(boat).plan
        wind = Stream(wind_profile(6.0), np.radians(48.0), 2.8, np.radians(4.0), np.radians(8.0))
        eased = mark_setting(plan).changed(sheet=0.12)
        return on_mesh(times, lambda mesh, near: fly(
            plan, eased, wind, SHEET_ZERO, mesh=mesh, near=near))  # fmt: skip
    asked = question(Request(boat=boat, wind_kn=12.0, angle_deg=48.0))
    # As it stands first the jib is stalled all the way up, where a degree costs a tenth of it.
    setting = asked.setting.changed(sheet=asked.setting.value("sheet") + EASED)
    return on_mesh(times, lambda mesh, near: fly(
        asked.boat.plan, setting, asked.stream, asked.sheet_zero, mesh=mesh, near=near,
    ))  # fmt: skip


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


@pytest.mark.parametrize("boat", ["marram", "dunlin", "eider"])
def test_drive_against_the_double_mesh(boat: str) -> None:
    assert drive_apart(boat) < DRIVE


BEST: dict[str, Request] = {
    "marram": Request(
        boat="marram", wind_kn=12.0, angle_deg=37.2, speed_kn=5.67, heel_deg=21.0, leeway_deg=4.5,
        controls={"sheet": 0.02, "lead": 0.5, "halyard": 0.11, "furl": 0.0, "backstay": 0.04,
                  "mainsheet": -0.68, "traveller": 0.2, "vang": -0.2, "cunningham": 0.0,
                  "outhaul": 0.06, "reef": 0.0},
    ),
    "dunlin": Request(
        boat="dunlin", wind_kn=12.0, angle_deg=38.0, speed_kn=5.69, heel_deg=18.0, leeway_deg=4.5,
        controls={"sheet": 0.12, "clew_hole": 5.0, "halyard": 0.08, "furl": 0.0, "backstay": 0.0,
                  "mainsheet": -0.64, "traveller": 0.15, "vang": -0.2, "cunningham": 0.0,
                  "outhaul": 0.0, "reef": 0.0},
    ),
    "eider": Request(
        boat="eider", wind_kn=12.0, angle_deg=37.9, speed_kn=5.55, heel_deg=2.0, leeway_deg=5.0,
        controls={"sheet": 0.24, "lead": 0.25, "halyard": 0.11, "furl": 0.0, "mainsheet": -1.66,
                  "traveller": 0.1, "cunningham": 0.0, "outhaul": 0.12, "reef": 0.0},
    ),
}  # fmt: skip
"""Near what `trim` tells to windward in 12 kn: what is asked here is what the mesh does to it."""


@cache
def at_best(times: int, boat: str) -> Flight:
    """Return a boat near her best trim, on the default mesh or one so many times as fine."""
    asked = question(BEST[boat])
    return on_mesh(times, lambda mesh, near: fly(
        asked.boat.plan, asked.setting, asked.stream, asked.sheet_zero, mesh=mesh, near=near,
        density=asked.density))  # fmt: skip


def best_apart(boat: str, sail: int) -> tuple[list[float], list[float]]:
    """Return the differences of camber (share of chord) and twist [deg], low to top."""
    pair = (sections(it, it.rigging.sails[sail]) for it in (at_best(1, boat), at_best(2, boat)))
    both = list(zip(*pair, strict=True))
    camber = [abs(a.camber - b.camber) for a, b in both]
    return camber, [float(np.degrees(abs(a.twist - b.twist))) for a, b in both]


STIFF = (
    "half-way up 0.77 % of the chord, 15 % deep: 0.55 by the strips, 0.24 by the panels. Flat "
    "triangles of few strips are stiffer than cloth; 14, 18, 27 and 36 strips give 14.7, 14.8, "
    "15.0 and 14.9 for 14.2 % (docs/cloth.md: what fields of four corners give)"
)


def short_of(reason: str) -> pytest.MarkDecorator:
    """Return the mark of what the default mesh does not reach."""
    return pytest.mark.xfail(strict=True, reason=reason)


@pytest.mark.parametrize("boat", ["marram", "dunlin", "eider"])
def test_drive_at_the_best_trim_against_the_double_mesh(boat: str) -> None:
    drive = [float(track_forces(at_best(times, boat))[:, 0].sum()) for times in (1, 2)]
    assert abs(drive[0] / drive[1] - 1.0) < DRIVE


@pytest.mark.parametrize(
    ("boat", "sail"),
    [
        pytest.param("marram", 0, marks=short_of("half-way up 0.44 % of the chord: few strips")),
        pytest.param("dunlin", 0, marks=short_of(STIFF)),
        ("eider", 0),
        ("marram", 1),
        ("dunlin", 1),
        ("eider", 1),
    ],
)
def test_camber_low_and_middle_at_the_best_trim_against_the_double_mesh(
    boat: str, sail: int
) -> None:
    assert max(best_apart(boat, sail)[0][:2]) < CAMBER


@pytest.mark.parametrize(
    ("boat", "sail"),
    [
        ("marram", 0),
        ("dunlin", 0),
        pytest.param("eider", 0, marks=short_of("at the top 0.57°, her jib is 16 % deep there")),
        ("marram", 1),
        ("dunlin", 1),
        ("eider", 1),
    ],
)
def test_twist_at_the_best_trim_against_the_double_mesh(boat: str, sail: int) -> None:
    assert max(best_apart(boat, sail)[1]) < TWIST_DEG


@pytest.mark.parametrize("boat", ["dunlin", "eider"])
def test_the_double_mesh_finds_the_mainsails_draft_where_the_default_does(boat: str) -> None:
    pair = [sections(it, it.rigging.sails[1]) for it in (flown(1, boat), flown(2, boat))]
    assert max(abs(a.draft - b.draft) for a, b in zip(*pair, strict=True)) < 0.1


def test_headsail_camber_low_and_middle_against_the_double_mesh() -> None:
    assert max(apart(0)[0][:2]) < CAMBER


def test_headsail_camber_at_the_top_against_the_double_mesh() -> None:
    assert apart(0)[0][2] < CAMBER


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
