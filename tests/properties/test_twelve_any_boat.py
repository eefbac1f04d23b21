"""Any boat of usual proportions can be described by twelve measurements."""

from __future__ import annotations

import copy
import json
import math
import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from luffwright.aboard.completed import completed
from luffwright.aboard.convert import hull_of, sail_plan
from luffwright.aboard.filling import NEEDED, given_keys
from luffwright.aboard.fit import refuse_what_does_not_fit
from luffwright.app.fly import fly
from luffwright.app.request import Request
from luffwright.sails.sheet_mark import neutral_lead
from luffwright.water.estimate import righting_moment


@st.composite
def twelve(draw: st.DrawFn) -> dict[str, Any]:
    """Return the file of a cruising boat from 6 to 16 m: its proportions as one meets them."""
    two = draw(st.booleans())
    length = draw(st.floats(9.0, 16.0) if two else st.floats(6.0, 16.0))
    waterline = length * draw(st.floats(0.92, 0.99) if two else st.floats(0.76, 0.95))
    beam = length * (draw(st.floats(0.50, 0.60)) if two else draw(st.floats(0.29, 0.36)))
    slender = draw(st.floats(6.6, 8.5) if two else st.floats(4.5, 5.6))
    volume = (2.0 if two else 1.0) * (waterline / slender) ** 3
    high = length * (draw(st.floats(1.10, 1.25)) if two else draw(st.floats(1.18, 1.38)))
    rig = "fractional" if two else draw(st.sampled_from(["masthead", "fractional"]))
    j = length * draw(st.floats(0.33, 0.40))
    p = high * (draw(st.floats(0.85, 0.90)) if rig == "masthead" else draw(st.floats(0.98, 1.06)))
    luff = 0.94 * math.hypot(high, j)
    wide = j * draw(st.floats(0.92, 1.45) if rig == "masthead" else st.floats(0.92, 1.10))
    # The clew stands half a metre to a metre above the deck; the mast leans aft by 2 degrees.
    lean = j + high * math.tan(math.radians(2.0))
    stay = math.hypot(high, lean)
    up = (draw(st.floats(0.5, 1.0)) - 0.2 + wide * lean / stay) * stay / high
    return {
        "boat": {"name": "Any", "kind": "catamaran" if two else "monohull"},
        "rig": {"type": rig, "i_m": high, "j_m": j, "p_m": p,
                "e_m": length * draw(st.floats(0.32, 0.42))},
        "sails": {"headsail": {"luff_m": luff, "luff_perpendicular_m": wide,
                               "leech_m": math.hypot(luff - up, wide - 0.12)}},
        "hull": {"length_overall_m": length, "length_waterline_m": waterline, "beam_m": beam,
                 "draught_m": length * (draw(st.floats(0.09, 0.12)) if two
                                        else draw(st.floats(0.15, 0.21))),
                 "displacement_kg": 1026.0 * volume},
    }  # fmt: skip


@given(twelve())
def test_any_usual_boat_is_read_from_twelve_measurements(table: dict[str, Any]) -> None:
    numbers = given_keys(table) - {"boat.name", "boat.kind", "rig.type"}
    assert numbers == set(NEEDED)
    found = completed(table)
    refuse_what_does_not_fit(found.file)
    plan, hull = sail_plan(found.file), hull_of(found.file)
    for entry in plan.controls:
        assert entry.low <= entry.rest <= entry.high
    # She stands up, and stiffer the further she heels, up to 10 degrees (two hulls: 4).
    heels = [math.radians(it) for it in ((1, 2, 4) if hull.kind == "catamaran" else (2, 5, 10))]
    moments = [righting_moment(hull, heel) for heel in heels]
    assert 0.0 < moments[0] < moments[1] < moments[2]
    assert 0.1 < hull.draught_body < hull.draught


@given(twelve())
def test_the_estimated_track_reaches_to_either_side_of_the_neutral_lead(
    table: dict[str, Any],
) -> None:
    plan = sail_plan(completed(table).file)
    gear = plan.headsail_gear
    track = math.dist(gear.track_front, gear.track_aft)
    place = neutral_lead(plan)
    assert place is not None
    assert 0.05 * track < place < 0.95 * track


@given(twelve(), st.floats(1.0, 1.2))
def test_a_bigger_boat_of_the_same_shape_gets_bigger_gear(
    table: dict[str, Any], scale: float
) -> None:
    file = completed(table).file
    big = copy.deepcopy(table)
    for part in (big["hull"], big["rig"], big["sails"]["headsail"]):
        part |= {key: it * scale for key, it in part.items() if key.endswith("_m")}
    big["hull"]["displacement_kg"] *= scale**3
    bigger = completed(big).file
    assert bigger.stays.forestay_wire_mm >= file.stays.forestay_wire_mm
    assert bigger.deck.headsail.sheet_mm >= file.deck.headsail.sheet_mm
    assert bigger.rig.bending_fore_aft_knm2 >= file.rig.bending_fore_aft_knm2


@pytest.mark.slow
@settings(max_examples=6)
@given(twelve())
def test_any_usual_boat_of_twelve_measurements_sails_to_windward(table: dict[str, Any]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "any.toml"
        path.write_text(as_toml(table), encoding="utf-8")
        found = fly(Request(boat=str(path), wind_kn=12.0, angle_deg=50.0)).answer
    assert found.status != "failed"
    # Between a fifth and a half of the square root of g times the waterline.
    top = math.sqrt(9.81 * table["hull"]["length_waterline_m"]) / 0.5144
    assert 0.20 < found.boat.speed_kn / top < 0.50
    assert found.boat.heel_deg < 35.0


def as_toml(table: dict[str, Any], above: str = "") -> str:
    """Return a table of numbers, words and tables as a boat file has it."""
    own = [f"{key} = {json.dumps(it)}" for key, it in table.items() if not isinstance(it, dict)]
    inner = [
        f"[{above}{key}]\n{as_toml(it, f'{above}{key}.')}"
        for key, it in table.items()
        if isinstance(it, dict)
    ]
    return "\n".join([*own, *inner])
