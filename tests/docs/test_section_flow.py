"""The page on section flow shows what the methods give now."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from luffwright.air.nose import nose_holds
from luffwright.air.section_flow import section_flow
from luffwright.air.stall import drag_coefficients, separation
from luffwright.air.tufts import leeward_limit, tuft_place

SHARP = np.array(0.0)
PAGE = Path(__file__).resolve().parents[2] / "docs" / "section-flow.md"


def rows(columns: int) -> list[list[float]]:
    """Return the page's rows of numbers that have so many columns."""
    found = []
    for line in PAGE.read_text(encoding="utf-8").splitlines():
        cells = line.strip("|").split("|")
        if line.startswith("| ") and len(cells) == columns and cells[0].strip()[0].isdigit():
            found.append([float(cell) for cell in cells])
    return found


def test_the_page_has_its_rows() -> None:
    assert (len(rows(10)), len(rows(4))) == (15, 3)


@pytest.mark.parametrize("row", rows(10), ids=lambda row: f"{row[0]:g}-{row[1]:g}")
def test_a_row_of_the_table(row: list[float]) -> None:
    load, incidence = 0.04 * row[0], row[1]
    flows = [section_flow(incidence, load, reynolds) for reynolds in (3e5, 1e6, 3e6)]
    theory = 2.0 * np.pi * incidence + np.pi * load
    at = np.array(incidence), np.array(load)
    assert row[2:7] == pytest.approx(
        [100.0 * flows[1].bubble, *(100.0 * flow.separates for flow in flows),
         100.0 * float(separation(*at, SHARP))], abs=0.51
    )  # fmt: skip
    drag = float(drag_coefficients(*at, np.array(theory), SHARP))
    assert row[7:] == pytest.approx([flows[1].skin, flows[1].bubble_drag, drag], abs=6e-5)


@pytest.mark.parametrize("row", rows(4), ids=lambda row: f"{row[0]:g} m")
def test_a_row_of_the_tufts_limits(row: list[float]) -> None:
    place = tuft_place(np.array(row[0]))
    for radius, limit in zip((0.004, 0.010, 0.0125), row[1:], strict=True):
        found = leeward_limit(place, np.array(0.45), nose_holds(np.array(radius / row[0])))
        assert float(found) == pytest.approx(limit, abs=6e-4)
