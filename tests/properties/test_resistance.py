"""Resistance for any hull in the models' box: smooth, the same on both tacks, true to scale."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from luffwright.air.wind import GRAVITY
from luffwright.water.delft import residuary_resistance
from luffwright.water.delft_form import Form, outside_box
from luffwright.water.fluid import Water
from luffwright.water.foil import Foil
from luffwright.water.resistance import resistance

SEA = Water(1026.0, 1.19e-6)
KEEL = Foil(1.2, 1.6, 1.0, 0.0, 0.12, 0.0, 0.6)


def form_in_box(
    length: float, prismatic: float, slenderness: float, ratio: float, buoyancy: float
) -> Form:
    """Return a form of the box, its midship section as the parent hull's."""
    beam, volume = length / ratio, (length / slenderness) ** 3
    draught = volume / (length * beam * prismatic * 0.646)
    return Form(
        length, beam, draught, volume, prismatic, 0.646, buoyancy, 0.69 * length * beam,
        2.65 * np.sqrt(volume * length),
    )  # fmt: skip


FORMS = st.builds(
    form_in_box,
    st.floats(6.0, 15.0), st.floats(0.53, 0.60), st.floats(4.34, 5.14), st.floats(2.73, 3.64),
    st.floats(-0.05, 0.0),
).filter(lambda form: not outside_box(form))  # fmt: skip
SPEEDS = st.floats(0.05, 0.9)
HEELS = st.floats(0.0, 0.6)


def total(form: Form, froude: float, heel: float) -> float:
    """Return the whole resistance at one Froude number."""
    speed = froude * np.sqrt(GRAVITY * form.length)
    found = resistance(form, SEA, np.array([speed]), np.array([heel]), (KEEL,))
    return float(found.total[0])


@given(FORMS, HEELS)
def test_every_hull_of_the_box_drags_more_the_faster_it_goes(form: Form, heel: float) -> None:
    speeds = np.linspace(0.0, 0.45, 60) * np.sqrt(GRAVITY * form.length)
    found = resistance(form, SEA, speeds, np.zeros(60), (KEEL,))
    assert found.total[0] == 0.0
    assert np.all(np.diff(found.total) > 0.0)


@given(FORMS, SPEEDS, HEELS)
def test_both_tacks_drag_alike_and_astern_pulls_the_other_way(
    form: Form, froude: float, heel: float
) -> None:
    assert total(form, froude, -heel) == pytest.approx(total(form, froude, heel), rel=1e-12)
    assert total(form, -froude, heel) == pytest.approx(-total(form, froude, heel), rel=1e-12)


@given(FORMS, SPEEDS, HEELS)
def test_slope_has_no_corner_in_speed(form: Form, froude: float, heel: float) -> None:
    weight = SEA.density * form.volume * GRAVITY
    for at in (froude, 0.125, 0.3, 0.45, 0.475, 0.55, 0.75):
        here, step = total(form, at, heel), 1e-6
        ahead = (total(form, at + step, heel) - here) / step
        behind = (here - total(form, at - step, heel)) / step
        assert abs(ahead - behind) < 1e-3 * weight


@given(FORMS, SPEEDS, st.sampled_from([0.0, 0.0873, 0.2618, 0.6109]))
def test_slope_has_no_corner_in_heel(form: Form, froude: float, heel: float) -> None:
    weight = SEA.density * form.volume * GRAVITY
    here, step = total(form, froude, heel), 1e-6
    ahead = (total(form, froude, heel + step) - here) / step
    behind = (here - total(form, froude, heel - step)) / step
    assert abs(ahead - behind) < 1e-3 * weight


@given(FORMS, st.floats(0.0, 0.9), st.floats(0.5, 2.0))
def test_waves_of_a_larger_sister_grow_with_her_weight(
    form: Form, froude: float, scale: float
) -> None:
    sister = replace(
        form, length=scale * form.length, beam=scale * form.beam, draught=scale * form.draught,
        volume=scale**3 * form.volume, waterplane=scale**2 * form.waterplane,
    )  # fmt: skip
    at = np.array([froude])
    small = residuary_resistance(form, 1000.0, at).value
    assert residuary_resistance(sister, 1000.0 * scale**3, at).value == pytest.approx(
        scale**3 * small
    )


@given(FORMS, st.lists(st.floats(0.0, 0.9), min_size=1, max_size=6))
def test_many_speeds_at_once_are_the_same_as_one_by_one(form: Form, froudes: list[float]) -> None:
    together = residuary_resistance(form, 9000.0, np.array(froudes)).value
    single = [residuary_resistance(form, 9000.0, np.array([f])).value[0] for f in froudes]
    assert together == pytest.approx(single, rel=1e-9, abs=1e-9)
