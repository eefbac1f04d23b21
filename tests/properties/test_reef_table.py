"""Whatever a maker's table says: never more sail in more wind, nor more than either allows."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from luffwright.aboard.boat import load_boat
from luffwright.units import from_knots
from luffwright.water.reef_table import Canvas, MakerStep, Reefing, row, sails_set, taken_in

BARE = replace(load_boat("eider").reefing, maker=())
ONE = replace(load_boat("marram").reefing, maker=())
winds = st.floats(4.0, 60.0)


@st.composite
def tables(draw: st.DrawFn) -> tuple[MakerStep, ...]:
    """Return a maker's table: more reefs, or the same and less headsail, in more wind."""
    count = draw(st.integers(1, 4))
    up_to = sorted(draw(st.lists(winds, min_size=count, max_size=count, unique=True)))
    reefs = sorted(draw(st.lists(st.integers(0, 2), min_size=count, max_size=count)))
    rolled = sorted(draw(st.lists(st.floats(0.0, 0.5), min_size=count, max_size=count)))
    apparent = draw(st.booleans())
    return tuple(
        MakerStep(from_knots(wind), Canvas(reef, roll), apparent=apparent)
        for wind, reef, roll in zip(up_to, reefs, rolled, strict=True)
    )


def allowed(boat: Reefing, wind_kn: float) -> float:
    """Return the area she may carry in a wind; 0 where none is small enough."""
    found = taken_in(boat, from_knots(wind_kn), Canvas())
    return 0.0 if found is None else sails_set(boat.plan, found).area


@pytest.mark.parametrize("bare", [BARE, ONE], ids=["two hulls", "one hull"])
@given(tables(), winds, winds)
def test_more_wind_never_allows_more_sail(
    bare: Reefing, maker: tuple[MakerStep, ...], one: float, other: float
) -> None:
    boat = replace(bare, maker=maker)
    less, more = sorted((one, other))
    assert allowed(boat, more) <= allowed(boat, less)


@given(tables(), winds)
def test_a_makers_table_never_allows_more_than_the_righting_margin(
    maker: tuple[MakerStep, ...], wind: float
) -> None:
    """The areas may differ: a maker's step may lie between two of the righting margin's own."""
    found = taken_in(replace(BARE, maker=maker), from_knots(wind), Canvas())
    assert found is None or from_knots(wind) <= row(BARE, found).limit


@given(tables(), st.integers(0, 3), st.floats(0.0, 0.6))
def test_what_is_taken_in_is_never_given_back(
    maker: tuple[MakerStep, ...], reefs: int, rolled: float
) -> None:
    boat, carried = replace(BARE, maker=maker), Canvas(reefs, rolled)
    for wind in (5.0, 20.0, 40.0):
        found = taken_in(boat, from_knots(wind), carried)
        if found is not None:
            assert found.reefs >= reefs
            assert found.rolled >= rolled


@given(st.floats(0.5, 2.0), st.integers(0, 3))
def test_the_lifting_wind_goes_with_the_root_of_what_rights_her(share: float, reefs: int) -> None:
    """Half a boat's righting moment is overcome by half of the wind's pressure."""
    levers = tuple(share * lever for lever in BARE.hull.righting_lever)
    # Weight enough that her own curve and not the spacing says what rights her.
    heavy = replace(BARE.hull, righting_lever=tuple(0.4 * it for it in levers))
    usual = replace(BARE.hull, righting_lever=tuple(0.4 * it for it in BARE.hull.righting_lever))
    found = [row(replace(BARE, hull=hull), Canvas(reefs)).lift for hull in (heavy, usual)]
    assert found[0] / found[1] == pytest.approx(share**0.5, rel=1e-9)
