"""The default mesh against one twice as fine: camber 0.4 % of chord, twist 0.5°, drive 1.5 %."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.air.stream import Stream
from luffwright.air.wind import wind_profile
from luffwright.sails.flight import fly
from luffwright.sails.measure import sections, track_forces
from luffwright.sails.rigging import Mesh
from luffwright.sails.sheet_mark import mark_setting

SHEET_ZERO = {"marram": 3.45, "dunlin": 3.98, "eider": 4.04}


@pytest.mark.parametrize("name", ["marram", "dunlin", "eider"])
def test_the_default_mesh_against_its_double(name: str) -> None:
    boat = load_boat(name)
    coarse = Mesh()
    fine = Mesh(2 * coarse.strips, 2 * coarse.panels)
    wind = Stream(wind_profile(6.0), np.radians(48.0), 2.8, np.radians(4.0), np.radians(8.0))
    setting = mark_setting(boat.plan).changed(sheet=0.12)
    one, two = (fly(boat.plan, setting, wind, SHEET_ZERO[name], mesh=m) for m in (coarse, fine))
    assert one.settled
    assert two.settled
    apart = []
    for k in (0, 1):
        pair = (sections(f, f.rigging.sails[k]) for f in (one, two))
        for a, b in zip(*pair, strict=True):
            apart.append((100.0 * abs(a.camber - b.camber), np.degrees(abs(a.twist - b.twist))))
    camber, twist = np.max(apart, axis=0)
    drive = [float(track_forces(f)[:, 0].sum()) for f in (one, two)]
    print(f"\n{name}: {coarse.strips} x {coarse.panels}: camber {camber:.2f}, twist {twist:.2f}")
    assert camber < 0.4
    assert twist < 0.5
    assert abs(drive[0] / drive[1] - 1.0) < 0.015
