"""Side force of keel, rudder and hull: signs, mirror, balance of work, what files give."""

from __future__ import annotations

import math
from dataclasses import replace
from importlib import resources
from pathlib import Path

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.errors import BoatFileError
from luffwright.frames import to_level
from luffwright.water.effective_draught import effective_draught
from luffwright.water.foil import SEA_WATER, WATER_DENSITY, Foil
from luffwright.water.foil_estimate import estimated_keel, estimated_rudder, keel_of, rudder_of
from luffwright.water.hull import Hull
from luffwright.water.resistance import foil_friction
from luffwright.water.side_force import Sailing, downwash, heel_factor, outside, side_force

BOATS = {key: load_boat(key).hull for key in ("marram", "dunlin", "eider")}
MARRAM = BOATS["marram"]
SOURCE = (resources.files("luffwright.aboard") / "demo" / "marram.toml").read_text(encoding="utf-8")
UPWIND = Sailing(3.0, math.radians(18.0), math.radians(4.5), math.radians(3.0))


@pytest.mark.parametrize("hull", BOATS.values(), ids=list(BOATS))
def test_leeway_makes_a_force_to_windward(hull: Hull) -> None:
    found = side_force(hull, UPWIND)
    assert found.side > 0.0
    assert found.force[1] < 0.0
    assert found.induced_drag > 0.0
    # The keel of a heeled boat lifts on its upper, windward side.
    assert found.force[2] > 0.0


@pytest.mark.parametrize("hull", BOATS.values(), ids=list(BOATS))
def test_the_mirror_image_has_the_mirrored_force(hull: Hull) -> None:
    here = side_force(hull, UPWIND)
    there = side_force(hull, Sailing(UPWIND.speed, -UPWIND.heel, -UPWIND.leeway, -UPWIND.rudder))
    assert there.force == pytest.approx((here.force[0], -here.force[1], here.force[2]))
    assert there.moment == pytest.approx((-here.moment[0], here.moment[1], -here.moment[2]))
    assert there.induced_drag == pytest.approx(here.induced_drag)


@pytest.mark.parametrize("hull", BOATS.values(), ids=list(BOATS))
def test_nothing_is_felt_without_leeway_and_rudder(hull: Hull) -> None:
    found = side_force(hull, Sailing(3.0, math.radians(10.0), 0.0, 0.0))
    assert found.force == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)
    assert found.profile_drag > 0.0


def test_rudder_for_weather_helm_pushes_the_stern_to_windward_and_the_bow_off() -> None:
    straight = side_force(MARRAM, replace(UPWIND, rudder=0.0))
    turned = side_force(MARRAM, replace(UPWIND, rudder=math.radians(5.0)))
    assert turned.side > straight.side
    assert turned.moment[2] > straight.moment[2]
    assert turned.induced_drag > straight.induced_drag


def test_the_moment_is_the_force_at_its_centre() -> None:
    """Against the vector product of NumPy, with the keel alone: a rudder that does nothing."""
    bare = replace(MARRAM, rudder=Foil(1e-6, 1e-6, 1e-6, 0.0, 0.12, -4.0, 0.3))
    found = side_force(bare, replace(UPWIND, rudder=0.0))
    x, z = found.centre
    place = to_level(np.array([x, 0.0, z]), UPWIND.heel)
    moment = np.cross(place, np.array(found.force))
    assert found.moment == pytest.approx(tuple(moment), rel=1e-6)


def test_the_upright_keel_feels_no_less_than_the_heeled_one() -> None:
    """Common practice: a heeled boat slides more under the same load."""
    sides = [
        side_force(MARRAM, replace(UPWIND, heel=math.radians(heel), rudder=0.0)).side
        for heel in (0.0, 10.0, 20.0, 30.0)
    ]
    assert sides == sorted(sides, reverse=True)
    assert heel_factor(0.0) == 1.0


@pytest.mark.parametrize("key", list(BOATS))
@pytest.mark.parametrize("name", ["speed", "heel", "leeway", "rudder"])
def test_the_forces_have_no_corner(key: str, name: str) -> None:
    """Second differences fall to a quarter at half the step: as a smooth curve's do."""
    assert bend(key, name, 1e-3) < 0.3 * bend(key, name, 2e-3)


def bend(key: str, name: str, step: float) -> float:
    """Return the second difference of side force over one of the unknowns."""
    sides = [
        side_force(BOATS[key], replace(UPWIND, **{name: getattr(UPWIND, name) + k * step})).side
        for k in (-1, 0, 1)
    ]
    return abs(sides[0] - 2.0 * sides[1] + sides[2])


def test_the_keel_bends_the_flow_to_the_rudder_less_than_it_is_set_itself() -> None:
    bent = downwash(0.2, 2.0)
    assert 0.0 < bent < 0.2 / 2.0
    assert downwash(-0.2, 2.0) == -bent
    assert downwash(0.0, 2.0) == 0.0


@pytest.mark.parametrize("hull", BOATS.values(), ids=list(BOATS))
def test_drag_due_to_side_force_is_a_small_share_of_it(hull: Hull) -> None:
    """The force across the water cannot cost less than a wing of 1.5 draughts would pay."""
    found = side_force(hull, replace(UPWIND, rudder=0.0))
    press = 0.5 * WATER_DENSITY * UPWIND.speed**2
    least = found.side**2 / (2.0 * math.pi * (1.5 * hull.draught) ** 2 * press)
    assert least < found.induced_drag < 0.15 * found.side


def test_the_effective_draught_is_even_in_heel() -> None:
    assert effective_draught(MARRAM, 0.6, 3.0, -0.3) == effective_draught(MARRAM, 0.6, 3.0, 0.3)


@pytest.mark.parametrize(("key", "keel", "rudder"), [("marram", 3.5, 1.5), ("dunlin", 3.5, 1.5)])
def test_the_estimated_fins_have_the_areas_that_designers_give(
    key: str, keel: float, rudder: float
) -> None:
    """Per cent of the sail area, main and foretriangle: 2.75 to 3.5 for a fin keel, 1 to 2 for a
    rudder (Larsson and Eliasson, Principles of Yacht Design, from memory).
    """
    boat = load_boat(key)
    plan = boat.plan
    area = 0.5 * plan.mainsail.luff * plan.mainsail.foot
    area += 0.5 * plan.headsail_gear.tack[0] * (plan.mast.hounds - plan.deck_height)
    assert 100.0 * estimated_keel(boat.hull).area / area == pytest.approx(keel, rel=0.25)
    assert 100.0 * estimated_rudder(boat.hull).area / area == pytest.approx(rudder, rel=0.3)


@pytest.mark.parametrize("hull", BOATS.values(), ids=list(BOATS))
def test_the_boats_of_the_school_have_fins_of_the_usual_size(hull: Hull) -> None:
    own, usual = keel_of(hull), estimated_keel(hull)
    assert own.count * own.area == pytest.approx(usual.count * usual.area, rel=0.15)
    assert own.depth + own.span == pytest.approx(hull.draught, abs=0.02)
    assert rudder_of(hull).area == pytest.approx(estimated_rudder(hull).area, rel=0.2)
    assert -0.65 * hull.length_overall < rudder_of(hull).x_position < 0.5 * usual.x_position


def test_the_fins_friction_is_what_the_hulls_resistance_counts() -> None:
    """Except that the rudder runs in the keel's slower wake."""
    found = side_force(MARRAM, UPWIND).profile_drag
    speed = np.array(UPWIND.speed)
    keel = float(foil_friction((keel_of(MARRAM),), speed, SEA_WATER))
    rudder = float(foil_friction((rudder_of(MARRAM),), speed, SEA_WATER))
    assert keel + 0.8 * rudder < found < keel + 0.9 * rudder


@pytest.mark.parametrize(
    ("key", "change", "said"),
    [
        ("marram", {}, ()),
        ("marram", {"heel": 0.6}, ("side force beyond 30° of heel",)),
        ("marram", {"speed": 5.0}, ("drag due to side force above Froude number 0.45",)),
        ("marram", {"rudder": 0.7}, ("rudder stalled",)),
        ("marram", {"leeway": 0.9, "rudder": -0.8}, ("keel stalled",)),
        ("eider", {}, ("keel shorter than its hull is deep: side force",)),
    ],
)
def test_what_lies_outside_the_methods_is_said(
    key: str, change: dict[str, float], said: tuple[str, ...]
) -> None:
    sailing = replace(UPWIND, **change)
    assert outside(BOATS[key], sailing, side_force(BOATS[key], sailing)) == said


def written(folder: Path, text: str) -> Hull:
    """Return the hull of a boat file."""
    path = folder / "boat.toml"
    path.write_text(text, encoding="utf-8")
    return load_boat(str(path)).hull


def test_a_boat_file_without_keel_and_rudder_gets_the_usual_ones(tmp_path: Path) -> None:
    hull = written(tmp_path, SOURCE[: SOURCE.index("[keel]")])
    assert hull.keel == estimated_keel(hull)
    assert hull.rudder == estimated_rudder(hull)
    assert hull.observed_rudder is None


def test_what_a_boat_file_says_of_the_keel_takes_the_place_of_the_usual(tmp_path: Path) -> None:
    start = SOURCE[: SOURCE.index("[keel]")]
    hull = written(
        tmp_path,
        f"{start}[keel]\nroot_chord_m = 2.4\nroot_front_aft_m = 0.1\n"
        "[rudder]\nobserved_deg = 4\nobserved_wind_kn = 12\n",
    )
    assert hull.keel is not None
    assert hull.keel.root_chord == 2.4
    assert hull.keel.x_position == pytest.approx(-0.1 - 0.6)
    assert hull.keel.span == estimated_keel(hull).span
    assert hull.observed_rudder == pytest.approx(math.radians(4.0))
    assert hull.observed_wind == pytest.approx(12.0 * 1852.0 / 3600.0)


def test_a_mistyped_entry_of_the_keel_is_refused_with_its_name(tmp_path: Path) -> None:
    with pytest.raises(BoatFileError) as caught:
        written(tmp_path, SOURCE.replace("tip_chord_m = 1.2", "tip_chord = 1.2", 1))
    assert caught.value.field == "keel.tip_chord"
    assert "tip_chord_m" in str(caught.value)


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("span_m = 1.2\nroot_chord_m = 1.95", "span_m = 1.8\nroot_chord_m = 1.95", "keel.span_m"),
        ("draught_body_m = 0.55", "draught_body_m = 1.8", "hull.draught_body_m"),
    ],
)
def test_a_keel_that_does_not_fit_the_draught_is_refused(
    tmp_path: Path, old: str, new: str, field: str
) -> None:
    assert old in SOURCE
    with pytest.raises(BoatFileError) as caught:
        written(tmp_path, SOURCE.replace(old, new, 1))
    assert caught.value.field == field
