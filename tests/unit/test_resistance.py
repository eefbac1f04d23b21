"""What the resistance of a hull says about itself, and how it fades and joins."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from luffwright.errors import InputError
from luffwright.water.delft import LEAST_FROUDE, residuary_band, residuary_resistance
from luffwright.water.delft_curve import smooth_through
from luffwright.water.delft_form import APPENDAGE_SHARE, Form, Known, form_of, outside_box
from luffwright.water.fluid import Water, water_at
from luffwright.water.foil import Foil
from luffwright.water.friction import MOST_HEEL, friction_line, heeled_surface
from luffwright.water.hull import Hull
from luffwright.water.resistance import foil_friction, foil_volume, keel_heeled, resistance

HULL = Hull("monohull", 11.5, 10.0, 3.7, 3.17, 0.79, 2.0, 9900.0, 0.0, 5.0, (0.0, 1.0), (0.0, 0.6))
SEA = water_at(288.15)
KEEL = Foil(1.2, 1.6, 1.0, 0.0, 0.12, 0.0, 0.79)
RUDDER = Foil(1.3, 0.5, 0.4, 0.0, 0.12, -4.5, 0.4)
LEVEL = np.array([0.0])


def flags_at(form: Form, speed: float, heel: float = 0.0) -> str:
    """Return all flags of one state as one text."""
    found = resistance(form, SEA, np.array([speed]), np.array([heel]), (KEEL, RUDDER))
    return "; ".join(found.flags)


def test_a_form_names_what_was_estimated_and_nothing_else() -> None:
    bare, known = form_of(HULL), form_of(HULL, Known(9.2, 0.56, -0.03, 21.0, 25.0))
    assert len(bare.estimated) == 5
    assert known.estimated == ()
    assert form_of(HULL, Known(prismatic=0.56)).estimated == (
        "volume of keel and rudder", "centre of buoyancy", "waterplane", "wetted surface",
    )  # fmt: skip


def test_a_form_floats_the_displacement_less_keel_and_rudder() -> None:
    afloat = form_of(HULL).volume * SEA.density
    assert afloat == pytest.approx(HULL.displacement * (1.0 - APPENDAGE_SHARE))


def test_prismatic_and_midship_coefficients_make_the_block() -> None:
    form = form_of(HULL, Known(volume=9.2))
    block = form.volume / (form.length * form.beam * form.draught)
    assert form.prismatic * form.midship == pytest.approx(block)


def test_a_catamaran_is_refused_with_a_remedy() -> None:
    with pytest.raises(InputError, match=r"monohulls; take the resistance of two slender hulls"):
        form_of(replace(HULL, kind="catamaran"))


def test_a_hull_outside_the_box_is_computed_and_flagged_in_words() -> None:
    form = replace(form_of(HULL), prismatic=0.63)
    found = residuary_resistance(form, 9000.0, np.array([0.35]))
    assert found.value[0] > 0.0
    assert "prismatic coefficient 0.63 is outside the 0.53 to 0.6" in found.flags[0]


def test_figures_that_do_not_fit_together_are_flagged() -> None:
    deep = form_of(replace(HULL, draught_body=0.45))
    assert "do not fit together" in outside_box(deep)[-1]


@pytest.mark.parametrize(
    ("froude", "words"),
    [(0.15, "rough figure"), (0.5, "second formula"), (0.8, "extrapolated")],
)
def test_speeds_outside_the_proved_range_are_flagged(froude: float, words: str) -> None:
    speed = froude * np.sqrt(9.81 * HULL.length_waterline)
    assert words in flags_at(form_of(HULL), float(speed))
    assert words not in flags_at(form_of(HULL), 3.3)


def test_heel_outside_the_range_of_its_formula_is_flagged() -> None:
    form = form_of(HULL)
    assert "beyond 30°" in flags_at(form, 3.3, 0.6)
    assert "held as at 0.55" in flags_at(form, 6.0, 0.2)
    assert "heel" not in flags_at(form, 3.3, 0.3)


def test_a_hull_without_keel_and_rudder_says_so() -> None:
    found = resistance(form_of(HULL), SEA, np.array([3.0]), LEVEL)
    assert "no keel or rudder given: their friction is left out" in found.flags
    assert found.total == pytest.approx(found.of_hull)


def test_waves_fade_to_nothing_below_the_slowest_model() -> None:
    form, slow = form_of(HULL), np.linspace(0.0, LEAST_FROUDE, 40)
    value = residuary_resistance(form, 9000.0, slow).value
    assert value[0] == 0.0
    assert np.all(np.diff(value) > 0.0)
    # Faster than in proportion to speed.
    assert value[20] < 0.5 * value[-1]


def test_far_above_the_formulas_resistance_goes_on_along_its_tangent() -> None:
    value = residuary_resistance(form_of(HULL), 9000.0, np.array([0.75, 0.85, 0.95])).value
    assert value[2] - value[1] == pytest.approx(value[1] - value[0])


def test_the_band_is_widest_where_little_is_known() -> None:
    assert np.all(residuary_band(np.array([0.0, 0.19, 0.46, 2.0])) > residuary_band(LEVEL + 0.4))


def test_friction_line_has_no_corner_at_its_lower_end() -> None:
    around = friction_line(np.array([0.98e5, 0.99e5, 1e5, 1.01e5, 1.02e5]))
    slopes = np.diff(around)
    assert slopes[1] == pytest.approx(slopes[2], rel=0.03)
    assert np.isfinite(friction_line(LEVEL)).all()


def test_the_wetted_surface_is_held_beyond_the_last_heel() -> None:
    at = heeled_surface(np.array([0.0, MOST_HEEL, 1.2]), 4.0, 0.65)
    assert at[0] == 1.0
    assert at[1] == at[2]


def test_a_curve_through_rising_values_rises() -> None:
    nodes, values = np.arange(5.0), np.array([0.0, 0.1, 0.1, 5.0, 5.1])
    curve = smooth_through(nodes, values, np.linspace(0.0, 4.0, 200))
    assert np.all(np.diff(curve) >= -1e-12)


def test_friction_of_two_rudders_is_twice_that_of_one() -> None:
    speed = np.array([2.0, 3.0])
    one, two = (
        foil_friction((RUDDER,), speed, SEA),
        foil_friction((replace(RUDDER, count=2),), speed, SEA),
    )
    assert two == pytest.approx(2.0 * one)


def test_volume_of_a_pointed_keel_is_a_third_of_a_straight_one() -> None:
    straight = Foil(1.2, 1.0, 1.0, 0.0, 0.12, 0.0, 0.5)
    assert foil_volume(replace(straight, tip_chord=0.0)) == pytest.approx(
        foil_volume(straight) / 3.0
    )


def test_a_long_shallow_keel_is_not_driven_by_heel() -> None:
    # As deep as the body is: the formula for fins falls below nothing.
    long = replace(KEEL, span=0.1)
    heeled = keel_heeled(form_of(HULL), long, SEA, np.array([0.35]), np.array([0.35]))
    assert heeled == pytest.approx([0.0])


def test_lighter_water_lifts_less_weight_and_drags_less() -> None:
    form, speed = form_of(HULL), np.array([3.0])
    lake = resistance(form, Water(999.1, SEA.viscosity), speed, LEVEL, (KEEL,))
    sea = resistance(form, SEA, speed, LEVEL, (KEEL,))
    assert lake.total / sea.total == pytest.approx(999.1 / SEA.density)
