"""What `check` finds in a boat file that can be used but looks odd."""

from __future__ import annotations

from importlib import resources
from pathlib import Path

import pytest

from luffwright.aboard.boat import boat_keys
from luffwright.app.check import check

DEMO = resources.files("luffwright.aboard") / "demo"


def warnings(name: str) -> list[str]:
    """Return the warnings on a boat."""
    return [entry.text for entry in check(name).findings if entry.level == "warning"]


@pytest.mark.parametrize("name", boat_keys())
def test_the_schools_boats_raise_no_warning(name: str) -> None:
    assert warnings(name) == []


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        # 5600 kg by mistake in pounds.
        ("displacement_kg = 5600", "displacement_kg = 12350", "usual is 12 to 28"),
        ("length_overall_m = 10.6", "length_overall_m = 8.5", "make 10.6 m, length_overall_m is"),
        ("forestay_wire_mm = 8", "forestay_wire_mm = 4", "The forestay breaks at"),
        ("lead_aft_aft_m = 3.6", "lead_aft_aft_m = 1.7", "off the end of the track"),
    ],
)
def test_a_measurement_that_fits_no_other_is_warned_of(
    tmp_path: Path, old: str, new: str, said: str
) -> None:
    text = (DEMO / "marram.toml").read_text(encoding="utf-8")
    assert old in text
    path = tmp_path / "boat.toml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    assert any(said in text for text in warnings(str(path)))
