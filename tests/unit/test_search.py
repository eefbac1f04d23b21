"""Less sail in the search: what is rolled away, and what goes with it."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from pathlib import Path

import numpy as np
import pytest

from luffwright.advice import search
from luffwright.advice.area import (
    AREA_CONTROLS,
    FLOGGING,
    SIZED,
    Sought,
    Top,
    _lifts,
    _others,
    _with_less,
    sized,
    with_area,
)
from luffwright.advice.climb import climb, ground
from luffwright.advice.search import best_setting
from luffwright.advice.sparing import Sparing
from luffwright.advice.task import HeldTask, Reached, SailingTask
from luffwright.app.question import Question, question
from luffwright.app.request import Request
from luffwright.app.swing import wandering
from luffwright.app.trim import task_of
from luffwright.sails.flight import Flight
from luffwright.sails.measure import sail_grid, sections
from luffwright.sails.setting import Setting
from luffwright.sails.sheet_mark import neutral_lead

PLOVER = str(Path(__file__).parents[1] / "data" / "plover.toml")


def _asked(boat: str, wind_kn: float, **more: float) -> tuple[Question, HeldTask | SailingTask]:
    asked = question(Request(boat=boat, wind_kn=wind_kn, angle_deg=50.0, hold=more))
    return asked, task_of(asked)


def _sought(asked: Question, task: HeldTask | SailingTask) -> Sought:
    return Sought(task, asked.setting, ground(task, turns=False, fixed=AREA_CONTROLS))


def test_a_headsail_that_is_rolled_takes_its_lead_along_unless_it_is_held() -> None:
    asked, task = _asked("marram", 18.0)
    rolled = _sought(asked, task).by(asked.setting, "furl", 1.0)
    assert rolled is not None
    share = rolled.value("furl")
    was, now = neutral_lead(asked.boat.plan), neutral_lead(asked.boat.plan, share)
    assert was is not None
    assert now is not None
    assert share > 0.0
    assert rolled.value("lead") - asked.setting.value("lead") == pytest.approx(now - was)
    asked, task = _asked("marram", 18.0, lead=asked.setting.value("lead"))
    rolled = _sought(asked, task).by(asked.setting, "furl", 1.0)
    assert rolled is not None
    assert rolled.value("lead") == asked.setting.value("lead")


def test_a_mainsail_in_the_mast_is_rolled_in_where_that_pays() -> None:
    """In 30 knots, her headsail rolled by 30 %: the search rolls mainsail in and stays within her
    heel; with the furler held it has to do without, and finds less.
    """
    found = {}
    for name, held in (("free", {}), ("held", {"main_furl": 0.0})):
        asked, task = _asked(PLOVER, 30.0, furl=0.3, **held)
        some = {"main_furl", "sheet", "mainsheet", "traveller"}
        task = replace(task, free=tuple(it for it in task.free if it.name in some))
        found[name] = best_setting(task, asked.setting, asked.stream.wind_angle)
    assert found["free"].flight.setting.value("main_furl") > 0.0
    assert found["free"].merit > found["held"].merit
    # Both stand at the limit of heel, which the search keeps to within a hundredth.
    assert max(it.used[0] for it in found.values()) <= 1.01


def test_a_mainsail_that_would_flog_to_keep_her_within_her_heel_is_reefed() -> None:
    merits = {}
    for name, held in (("free", {}), ("reefed", {"reef": 1.0})):
        asked, task = _asked("marram", 18.0, **held)
        found = best_setting(task, asked.setting, asked.stream.wind_angle, turns=True)
        merits[name] = found.merit
    assert merits["free"] >= 0.99 * merits["reefed"]


def test_no_sail_is_told_as_nearly_as_fast_under_which_one_flogs() -> None:
    """Of three tops within a per cent of the best those are told under which no sail flogs."""
    asked, task = _asked("marram", 16.0)
    peak = best_setting(task, asked.setting, asked.stream.wind_angle, turns=True).peak
    setting = peak.state.flight.setting
    told = [replace(peak, state=_reefed(peak.state, count)) for count in (1.0, 2.0)]
    let_fly = task.sail(setting.changed(mainsheet=setting.mainsheet + 1.2), 0.8, peak.state)
    assert _lifting(let_fly.flight, 1) >= FLOGGING
    told.append(replace(peak, state=_reefed(let_fly, 3.0)))
    told.append(replace(peak, state=_reefed(peak.state, 4.0), merit=0.98 * peak.merit))
    areas = [it.setting.value("reef") for it in _others(task, peak, [peak, *told])]
    assert areas == [1.0, 2.0]


def _reefed(state: Reached, reef: float) -> Reached:
    """Return a state told as one under another reef; what flies stays."""
    flight = state.flight
    setting = replace(flight.setting, reef=reef)
    return replace(state, flight=replace(flight, setting=setting))


def _lifting(flight: Flight, sail: int) -> int:
    levels = sections(flight, flight.rigging.sails[sail])
    return sum(it.windward_lifts for it in levels)


def _luffing(flight: Flight) -> float:
    """Return by how much both sails' incidence lies below nought, all levels together [rad]."""
    levels = [it for sail in flight.rigging.sails for it in sections(flight, sail)]
    return sum(max(-it.incidence, 0.0) for it in levels)


@pytest.mark.parametrize(("boat", "less"), [("dunlin", 0.1), ("marram", 0.2)])
def test_in_a_breeze_the_headsail_is_rolled_on_while_a_sail_flogs(boat: str, less: float) -> None:
    """In 28 knots, all reefs in: with more rolled the sails stand, and she makes no less good."""
    merits, luffing = [], []
    for held in ({}, {"furl": less, "reef": 2.0}):
        asked = question(Request(boat=boat, wind_kn=28.0, angle_deg="upwind", hold=held))
        task = task_of(asked)
        found = best_setting(task, asked.setting, asked.stream.wind_angle, turns=True)
        assert found.flight.setting.value("furl") > less - 1e-9 + (0.0 if held else 0.05)
        merits.append(found.merit)
        luffing.append(_luffing(found.flight))
    assert luffing[0] < 0.6 * luffing[1]
    assert merits[0] > merits[1]


def test_a_further_roll_is_sheeted_for_all_that_is_rolled() -> None:
    """From how she was sheeted at first: the way that the clew moves, not that of the last roll."""
    asked, task = _asked("marram", 28.0)
    sought = _sought(asked, task)
    rolled = sought.sheeted(asked.setting.changed(furl=0.3, reef=2.0))
    straight = sought.by(sought.sheeted(rolled.changed(furl=0.2)), "furl", 1.0)
    assert straight is not None
    assert straight.sheet == pytest.approx(rolled.sheet, abs=0.02)
    assert straight.value("lead") == pytest.approx(rolled.value("lead"), abs=0.02)
    # The clew of a genoa 4 to 5 m along its foot comes 1.2 to 1.5 m forward.
    assert 0.8 < rolled.sheet - asked.setting.sheet < 2.0


@pytest.mark.parametrize(("boat", "wind"), [("marram", 24.0), ("dunlin", 28.0)])
def test_a_boat_far_beyond_a_limit_is_searched_with_less_sail_from_the_start(
    boat: str, wind: float
) -> None:
    asked, task = _asked(boat, wind)
    sought = _sought(asked, task)
    begun = task.sail(asked.setting, asked.stream.wind_angle, None)
    assert np.max(task.relieved(begun)) > SIZED
    less, tries = sized(sought, begun)
    reefs, rolled = (less.flight.setting.value(it) for it in ("reef", "furl"))
    assert tries == round(reefs) + round(rolled / 0.1)
    # One notch less taken in, she still passed it.
    name = "furl" if rolled > 0.0 else "reef"
    more = sought.by(less.flight.setting, name, -1.0)
    assert more is not None
    before = task.sail(sought.sheeted(more), asked.stream.wind_angle, None)
    assert np.max(task.relieved(before)) > SIZED >= np.max(task.relieved(less))


@pytest.mark.parametrize(("boat", "wind"), [("marram", 20.0), ("dunlin", 20.0), ("eider", 16.0)])
def test_on_marks_that_can_be_set_she_keeps_what_was_found_between_them(
    boat: str, wind: float
) -> None:
    """On an edge, as beside a mainsail about to flog, the marks beside it lose per cents."""
    asked = question(Request(boat=boat, wind_kn=wind, angle_deg="upwind"))
    task = task_of(asked)
    found = best_setting(task, asked.setting, asked.stream.wind_angle, turns=True)
    assert found.merit > 0.98 * found.peak.merit


@pytest.mark.parametrize(("edge", "reefs"), [(1.2, 0.0), (1.0, 2.0)])
def test_a_peak_that_marks_fall_off_gives_way_to_the_best_under_other_sail(
    monkeypatch: pytest.MonkeyPatch, edge: float, reefs: float
) -> None:
    """In 12 knots two reefs are slower: with a peak told a fifth higher than her marks, they go."""
    asked, task = _asked("marram", 12.0)
    over = ground(task, turns=False, fixed=AREA_CONTROLS)
    peaks = []
    for count in (2.0, 0.0):
        setting = asked.setting.changed(reef=count)
        begun = task.sail(setting, asked.stream.wind_angle, None)
        peaks.append(climb(Sparing(task).shorter(3), begun, over))
    small, whole = peaks
    top = Top(replace(small, merit=edge * small.merit), 0, second=whole)
    monkeypatch.setattr(search, "highest", lambda *_: top)
    found = best_setting(task, asked.setting, asked.stream.wind_angle)
    assert found.state.value("reef") == reefs


def test_sail_is_let_out_again_where_no_limit_presses_and_less_is_not_the_better() -> None:
    """In 12 knots, begun with two reefs and a fifth of the genoa rolled, as if for a squall."""
    asked, task = _asked("marram", 12.0)
    coarse = task.coarser()
    assert coarse is not None
    over = ground(coarse, turns=False, fixed=AREA_CONTROLS)
    sought = Sought(coarse, asked.setting, over)
    small = sought.sheeted(asked.setting.changed(reef=2.0, furl=0.2))
    begun = climb(coarse.shorter(8), coarse.sail(small, asked.stream.wind_angle, None), over)
    kept = with_area(sought, Top(begun, 0), sized=False).peak
    grown = with_area(sought, Top(begun, 0), sized=True).peak
    assert kept.state.flight.setting.value("furl") == pytest.approx(0.2)
    there = grown.state.flight.setting
    assert (there.value("reef"), there.value("furl")) == (0.0, 0.0)
    assert grown.merit > 1.02 * kept.merit


@dataclass(frozen=True)
class _NoStart(HeldTask):
    """A task in which nothing settles but from a state that has."""

    def sail(
        self, setting: Setting, angle: float, near: Reached | None, *, afresh: bool = False
    ) -> Reached:
        state = super().sail(setting, angle, near, afresh=afresh)
        lost = replace(state.flight, residual=1e9)
        return replace(state, flight=lost) if near is None else state


def test_less_sail_that_does_not_settle_from_the_start_is_tried_from_where_she_is() -> None:
    request = Request(boat="marram", wind_kn=14.0, angle_deg=48.0, speed_kn=6.0)
    asked = question(request)
    task = task_of(asked)
    assert isinstance(task, HeldTask)
    here = task.sail(asked.setting, asked.stream.wind_angle, None)
    assert here.settled
    deaf = _NoStart(**{it.name: getattr(task, it.name) for it in fields(task)})
    for flogs in (True, False):
        less = _with_less(_sought(asked, deaf), here, "furl", flogs=flogs)
        assert less is not None
        assert less.settled
        assert less.flight.setting.value("furl") > 0.0


def test_in_light_air_no_sail_is_taken_in() -> None:
    """Half of every limit is used at most: less sail could only have helped off a lesser top."""
    asked = question(Request(boat="eider", wind_kn=5.0, angle_deg="upwind"))
    task = task_of(asked)
    found = best_setting(task, asked.setting, asked.stream.wind_angle, turns=True)
    there = found.flight.setting
    assert (there.value("reef"), there.value("furl")) == (0.0, 0.0)
    assert np.max(task.relieved(found.state)) < 0.75


def _inside_out(flight: Flight, sail: int) -> Flight:
    """Return a flight with a sail's belly on the other side of its chords, height by height."""
    part, places = flight.rigging.sails[sail], flight.places.copy()
    grid = sail_grid(flight, part)
    share = np.linspace(0.0, 1.0, part.columns)[:, None]
    chords = (1.0 - share) * grid[:, :1] + share * grid[:, -1:]
    places[part.first : part.first + part.count] = (2.0 * chords - grid).reshape(-1, 3)
    return replace(flight, places=places)


def test_a_mainsail_that_is_blown_inside_out_counts_as_one_that_flogs() -> None:
    asked, task = _asked("marram", 12.0)
    flight = task.sail(asked.setting, asked.stream.wind_angle, None).flight
    assert not _lifts(flight, 1)
    turned = _inside_out(flight, 1)
    assert _lifting(turned, 1) < FLOGGING
    assert _lifts(turned, 1)


def test_no_mainsail_is_told_inside_out() -> None:
    """Behind the whole genoa, in 20 knots: less sail is as fast, and is found."""
    asked = question(Request(boat="marram", wind_kn=20.0, angle_deg="upwind"))
    task = task_of(asked)
    found = best_setting(task, asked.setting, asked.stream.wind_angle, turns=True)
    levels = sections(found.flight, found.flight.rigging.sails[1])
    assert min(it.camber for it in levels) > 0.02


def test_less_sail_is_led_anew_only_where_a_sail_flogs() -> None:
    """With the mainsail let fly: its sheet and traveller as at first, the genoa's as it is."""
    asked = question(Request(boat="marram", wind_kn=14.0, angle_deg=48.0, speed_kn=6.0))
    task = task_of(asked)
    away = asked.setting.changed(sheet=0.06, mainsheet=asked.setting.mainsheet + 1.2, traveller=0.2)
    here = task.sail(away, asked.stream.wind_angle, None)
    assert [_lifting(here.flight, sail) >= FLOGGING for sail in (0, 1)] == [False, True]
    less = _with_less(_sought(asked, task), here, "reef", flogs=True)
    assert less is not None
    there = less.flight.setting
    assert (there.value("reef"), there.sheet) == (1.0, away.sheet)
    assert (there.mainsheet, there.traveller) == (asked.setting.mainsheet, asked.setting.traveller)


def test_at_a_held_speed_the_drive_is_that_of_the_minutes_average() -> None:
    """The balance of the sails' averaged loads, as `fly` tells their telltales."""
    request = Request(boat="marram", wind_kn=12.0, angle_deg=48.0, speed_kn=5.5, sea="moderate")
    asked = question(request)
    task = task_of(asked)
    assert isinstance(task, HeldTask)
    state = task.sail(asked.setting, asked.stream.wind_angle, None)
    assert state.settled
    told = wandering(asked, state.flight).track_forces(asked.stream.leeway).sum(axis=0)
    assert task.aim(state) == pytest.approx(told[0], rel=1e-6)
    still = task.aim(Reached(state.flight))
    assert abs(task.aim(state) / still - 1.0) > 1e-3


def test_slopes_at_a_held_speed_foretell_the_average_drive() -> None:
    request = Request(boat="marram", wind_kn=12.0, angle_deg=48.0, speed_kn=5.5, sea="moderate")
    asked = question(request)
    task = task_of(asked)
    state = task.sail(asked.setting, asked.stream.wind_angle, None)
    names, step = ("sheet", "mainsheet"), 0.01
    known = task.slopes(state, names)
    for k, name in enumerate(names):
        ends = []
        for sign in (-1.0, 1.0):
            there = asked.setting.changed(**{name: asked.setting.value(name) + sign * step})
            ends.append(task.aim(task.sail(there, asked.stream.wind_angle, state)))
        change = (ends[1] - ends[0]) / (2.0 * step)
        # As for the still flight: a tenth of a second difference, and 2e-4 of force unbalanced.
        assert known.aim[k] == pytest.approx(change, rel=0.06, abs=20.0), name
    assert np.all(np.isfinite(known.limits))


@pytest.mark.parametrize(("boat", "angle"), [("dunlin", 90.0), ("marram", 60.0)])
def test_in_light_air_neighbouring_winds_bring_neighbouring_speeds(boat: str, angle: float) -> None:
    """No wind of three leaves her lying with her sails stalled where the others have her sail."""
    shares = []
    for wind in (3.92, 4.0, 4.12):
        asked = question(Request(boat=boat, wind_kn=wind, angle_deg=angle))
        found = best_setting(task_of(asked), asked.setting, asked.stream.wind_angle)
        assert found.state.settled
        shares.append(found.merit / asked.stream.profile.speed)
    assert min(shares) > 0.95 * max(shares)
