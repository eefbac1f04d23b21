"""The maker's reefing table and the helm once seen, typed into a boat file or refused."""

from __future__ import annotations

import math
from importlib import resources
from pathlib import Path

import pytest

from luffwright.aboard.boat import load_boat
from luffwright.errors import BoatFileError

EIDER = (resources.files("luffwright.aboard") / "demo" / "eider.toml").read_text(encoding="utf-8")
FIRST, LAST = "{ up_to_kn = 21, reefs = 0 }", "reefs = 3, headsail_area_pct = 60"


def refusal(folder: Path, old: str, new: str) -> BoatFileError:
    """Return what Eider's file with one place changed is refused with."""
    assert old in EIDER
    path = folder / "boat.toml"
    path.write_text(EIDER.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(BoatFileError) as caught:
        load_boat(str(path))
    return caught.value


@pytest.mark.parametrize(
    ("old", "new", "field", "limit"),
    [
        ("up_to_kn = 21", "up_to = 21", "reefing.steps.1.up_to", "unknown entry"),
        ("up_to_kn = 21", "up_to_ms = 10", "reefing.steps.1.up_to_ms", "unknown entry"),
        ("[reefing]", "[reefing]\nheel_deg = 20", "reefing.heel_deg", "unknown entry"),
        ('wind = "apparent"', 'wind = "felt"', "reefing.wind", "'apparent' or 'true'"),
        ('wind = "apparent"', "", "reefing.wind", "must be given"),
        ("up_to_kn = 21", 'up_to_kn = "21"', "reefing.steps.1.up_to_kn", "must be a number"),
        ("up_to_kn = 21", "up_to_kn = -21", "reefing.steps.1.up_to_kn", "more than 3"),
        ("up_to_kn = 21", "up_to_kn = nan", "reefing.steps.1.up_to_kn", "finite"),
        (FIRST, "{ reefs = 0 }", "reefing.steps.1.up_to_kn", "must be given"),
        ("reefs = 1 }", "reefs = 1.5 }", "reefing.steps.2.reefs", "whole number"),
        (LAST, "reefs = 4", "reefing.steps.4.reefs", "at most deck.mainsail.reefs = 3"),
        (LAST, "reefs = 3, headsail_area_pct = 6", "reefing.steps.4.headsail_area_pct", "at least"),
        ("up_to_kn = 27", "up_to_kn = 21", "reefing.steps.2.up_to_kn", "more than 21"),
        (LAST, "reefs = 1", "reefing.steps.4", "more sail than the line before"),
        (LAST, "reefs = 2, headsail_area_pct = 90", "reefing.steps.4", "more sail than"),
        ("[rudder]", "[rudder]\nobserved_deg = 4", "rudder.observed_wind_kn", "needs its wind"),
        ("[rudder]", "[rudder]\nobserved_reefs = 4", "rudder.observed_reefs", "= 3"),
        ("[rudder]", "[rudder]\nobserved_angle_deg = 10", "rudder.observed_angle_deg", "least 28"),
        ("[hull]", "[hull]\ncentre_above_water_m = 12", "hull.centre_above_water_m", "at most 3"),
        ("[hull]", "[hull]\ncentre_above_water_cm = 12", "hull.centre_above_water_cm", "unknown"),
    ],
)
def test_a_faulty_entry_is_refused_with_field_limit_and_remedy(
    tmp_path: Path, old: str, new: str, field: str, limit: str
) -> None:
    found = refusal(tmp_path, old, new)
    assert found.field == field
    assert limit in found.limit
    assert found.remedy


def test_a_table_without_lines_is_refused(tmp_path: Path) -> None:
    lines = EIDER[EIDER.index("steps = [") :]
    assert refusal(tmp_path, lines, "steps = []\n").field == "reefing.steps"


def test_the_helm_that_was_seen_arrives_with_its_day(tmp_path: Path) -> None:
    seen = "[rudder]\nobserved_deg = 4\nobserved_wind_kn = 18\nobserved_angle_deg = 60\n"
    path = tmp_path / "mine.toml"
    text = EIDER.replace("[rudder]\n", seen + "observed_reefs = 1\n")
    path.write_text(text.replace("[hull]", "[hull]\ncentre_above_water_m = 1.2"), encoding="utf-8")
    hull = load_boat(str(path)).hull
    assert hull.observed_rudder == pytest.approx(math.radians(4.0))
    assert hull.observed_angle == pytest.approx(math.radians(60.0))
    assert (hull.observed_reefs, hull.centre_height) == (1, 1.2)


SHORT = """
[boat]
name = "Mine"
kind = "{kind}"
[rig]
type = "masthead"
i_m = 12.0
j_m = 3.8
p_m = 11.0
e_m = 3.6
[sails.headsail]
luff_m = 11.8
luff_perpendicular_m = 5.0
leech_m = 11.0
[hull]
length_overall_m = 10.0
length_waterline_m = 8.6
beam_m = 3.3
draught_m = 1.7
displacement_kg = 5500
"""


def test_a_lower_weight_stands_a_boat_up_whose_levers_nobody_knows(tmp_path: Path) -> None:
    """A weight 0.2 m lower adds 0.2 m times the sine of the heel: geometry."""
    levers = []
    for height in (0.1, -0.1):
        path = tmp_path / f"low{height}.toml"
        text = SHORT.format(kind="monohull") + f"centre_above_water_m = {height}\n"
        path.write_text(text, encoding="utf-8")
        hull = load_boat(str(path)).hull
        levers.append(hull.righting_lever[hull.righting_heel.index(math.radians(20.0))])
    assert levers[1] - levers[0] == pytest.approx(0.2 * math.sin(math.radians(20.0)), abs=0.011)
