"""Two hulls are reefed by a table of wind and never by heel: common practice, no published source.

The table is the lower of the righting margin, gusts counted, and the maker's.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise, product

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.app import question as module
from luffwright.app.call import calls_in
from luffwright.app.caution import Seen, cautions
from luffwright.app.question import Question, question
from luffwright.app.reef import canvas_of, reefed, table_call
from luffwright.app.request import Request
from luffwright.sails.sheet_mark import mark_setting, sheet_path
from luffwright.units import from_knots
from luffwright.water.estimate import righting_moment
from luffwright.water.reef_table import Canvas, Reefing, lifting_wind, reef_table, row, sails_set

EIDER = load_boat("eider")
MARGIN = replace(EIDER.reefing, maker=())
WINDS, ANGLES = (8.0, 12.0, 16.0, 20.0, 26.0), (46.0, 60.0, 90.0, 120.0, 150.0)
CASES = list(product(WINDS, ANGLES))
HEELS = (0.0, 3.0, 10.0, 40.0)


@cache
def asks(wind_kn: float, angle_deg: float, gust_kn: float | None = None) -> Question:
    """Return Eider in a wind, the sheet marked by geometry alone."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "sheet_zero", lambda plan, *_: sheet_path(plan, mark_setting(plan)))
        return question(
            Request(boat="eider", wind_kn=wind_kn, angle_deg=angle_deg, gust_kn=gust_kn)
        )


def called(asked: Question, heel_deg: float) -> tuple[str, ...]:
    """Return the reef calls to a boat with full sail that heels so much."""
    seen = Seen(asked.setting, float(np.degrees(asked.stream.wind_angle)), heel_deg, 2.0, {})
    return tuple(it.text for it in calls_in(cautions(asked, seen)))


def area(canvas: Canvas) -> float:
    return sails_set(EIDER.plan, canvas).area


def heel_at(moment: float) -> float:
    """Return the heel at which she bears a moment, on the rising side of her curve [°]."""
    heels = np.linspace(0.0, EIDER.hull.righting_heel[int(np.argmax(EIDER.hull.righting_lever))])
    moments = [righting_moment(EIDER.hull, float(heel)) for heel in heels]
    return float(np.degrees(np.interp(moment, moments, heels)))


@pytest.mark.practice(fact="R2")
@pytest.mark.parametrize(("wind", "angle"), CASES)
def test_no_heel_calls_a_reef_and_none_puts_one_off(wind: float, angle: float) -> None:
    asked = asks(wind, angle)
    assert len({called(asked, heel) for heel in HEELS}) == 1
    assert "heels" not in " ".join(called(asked, 40.0))


@pytest.mark.practice(fact="R2")
def test_heel_would_tell_too_little_to_go_by() -> None:
    """From four fifths of the reef's wind to all of it she heels a degree more."""
    for canvas in (Canvas(), Canvas(1), Canvas(2), Canvas(3)):
        found = row(MARGIN, canvas)
        greatest = max(righting_moment(EIDER.hull, heel) for heel in EIDER.hull.righting_heel)
        at = [heel_at(greatest * (share * found.margin / found.lift) ** 2) for share in (0.8, 1.0)]
        assert at[1] < 6.0
        assert at[1] - at[0] < 2.0


@pytest.mark.practice(fact="R2")
@pytest.mark.parametrize("angle", ANGLES)
def test_more_wind_never_allows_more_sail_and_the_table_begins_and_ends(angle: float) -> None:
    areas = [area(canvas_of(reefed(asks(wind, angle)))) for wind in np.arange(6.0, 31.0, 2.0)]
    assert all(after <= before for before, after in pairwise(areas))
    assert areas[0] == pytest.approx(area(Canvas()))
    assert areas[-1] < 0.7 * areas[0]


@pytest.mark.practice(fact="R2")
@pytest.mark.parametrize(("wind", "angle"), CASES)
def test_the_gust_counts(wind: float, angle: float) -> None:
    gust = 1.4 * wind
    assert canvas_of(reefed(asks(wind, angle, gust))) == canvas_of(reefed(asks(gust, angle)))
    assert area(canvas_of(reefed(asks(wind, angle, gust)))) <= area(
        canvas_of(reefed(asks(wind, angle)))
    )


@pytest.mark.practice(fact="R2")
@pytest.mark.parametrize("boat", [EIDER.reefing, MARGIN], ids=["maker", "margin alone"])
def test_the_lower_of_margin_and_maker_is_obeyed(boat: Reefing) -> None:
    for line in reef_table(boat):
        alone = row(MARGIN, line.canvas)
        assert line.limit <= alone.limit
        assert line.limit == pytest.approx(min(line.margin, line.maker))
        # In the square of 0.7 of the lifting wind is less than half of its pressure.
        assert (line.limit / lifting_wind(boat, line.canvas)) ** 2 < 0.5


@pytest.mark.practice(fact="R2")
@pytest.mark.parametrize(("wind", "angle"), CASES)
def test_off_the_wind_no_more_sail_is_carried_than_she_can_round_up_with(
    wind: float, angle: float
) -> None:
    away = area(canvas_of(reefed(asks(wind, angle))))
    call = table_call(asks(wind, 50.0), reefed(asks(wind, 50.0)))
    assert call is not None
    assert away <= area(call.line.canvas) + 1e-9
    assert from_knots(wind) <= row(EIDER.reefing, canvas_of(reefed(asks(wind, angle)))).true + 1e-6
