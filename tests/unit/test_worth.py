"""What a step off costs, on a dome whose losses are known."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import pytest

from luffwright.advice.task import NEVER, Reached, Slopes
from luffwright.advice.worth import LEAST_TOLD, Around, Lie, Side, StepWorth, marks_off, worth_of
from luffwright.app.trim_words import worth_told
from luffwright.arrays import FloatArray
from luffwright.sails.plan import ControlTravel, SailPlan
from luffwright.sails.setting import Setting
from luffwright.units import to_knots

SHEET = ControlTravel("sheet", -0.4, 5.0, 0.02, 0.0)
HALYARD = ControlTravel("halyard", 0.0, 0.15, 0.01, 0.0)
TOP, STEEP = 4.0, 50.0


@dataclass(frozen=True)
class Rope:
    """A flight of the stand-in: ropes and nothing else."""

    setting: Setting


@dataclass(frozen=True)
class Stood:
    """A state of the stand-in."""

    flight: Rope
    settled: bool = True
    boat: None = None

    def value(self, name: str) -> float:
        """Return where a control stands; the course stays at 0."""
        return 0.0 if name == "wind_angle" else self.flight.setting.value(name)


@dataclass(frozen=True)
class Bowl:
    """A task whose aim falls off with the square from a `best` sheet and halyard [m/s by m²]; the
    sails let go beyond `stands`, and more sheet than `most` passes a limit.
    """

    best: Setting
    stands: float = 9.0
    most: float = 9.0
    free: tuple[ControlTravel, ...] = (SHEET, HALYARD)
    limit: int = 12

    @property
    def plan(self) -> SailPlan:
        """The stand-in has none."""
        raise NotImplementedError

    def coarser(self) -> None:
        """Return None: a stand-in has no mesh."""

    def shorter(self, limit: int) -> Bowl:
        """Return the same task with fewer tries."""
        return replace(self, limit=limit)

    def sail(
        self,
        setting: Setting,
        angle: float,  # noqa: ARG002  # the stand-in has ropes alone
        near: Reached | None,  # noqa: ARG002
        *,
        afresh: bool = False,  # noqa: ARG002
    ) -> Reached:
        """Return the setting as a state."""
        return Stood(Rope(setting), settled=setting.halyard < self.stands)  # type: ignore[return-value]

    def aim(self, state: Reached) -> float:
        """Return the height."""
        off = [state.value(it) - self.best.value(it) for it in ("sheet", "halyard")]
        return TOP - STEEP * float(np.sum(np.square(off)))

    def used(self, state: Reached) -> FloatArray:
        """Return the share of the sheet's limit that is used."""
        return np.array([1.0 + state.value("sheet") - self.most])

    def relieved(self, state: Reached) -> FloatArray:
        """Return the same: there is no other limit."""
        return self.used(state)

    def merit(self, state: Reached) -> float:
        """Return the height where the sails stand and no limit is passed."""
        return self.aim(state) if state.settled and self.used(state)[0] <= 1.0 else NEVER

    def slopes(self, state: Reached, names: tuple[str, ...]) -> Slopes:  # noqa: ARG002
        """Return slopes that lead nowhere: the stand-in needs none."""
        none = np.zeros((2, 1))
        return _NoLead(0.0, none[:, 0], none.T, none[:1, 0], 1.0, none, none, none)


class _NoLead(Slopes):
    def ahead(self, state: Reached, by: FloatArray) -> Reached:  # noqa: ARG002
        """Return the state itself."""
        return state


def around(task: Bowl, at: Setting, bend: FloatArray | None = None) -> Around:
    """Return the worth around a setting."""
    state = task.sail(at, 0.0, None)
    names = ("sheet", "halyard")
    return worth_of(task, state, Lie(names, task.slopes(state, names), bend))


def test_each_side_loses_what_the_bowl_falls_by() -> None:
    found = around(Bowl(Setting(sheet=0.1, halyard=0.08)), Setting(sheet=0.1, halyard=0.08))
    sheet, halyard = found.worth
    assert sheet.down.loss == pytest.approx(STEEP * 0.02**2)
    assert sheet.up.loss == pytest.approx(STEEP * 0.02**2)
    # One centimetre of halyard costs 0.005 m/s, a little less than can be told.
    assert (halyard.down, halyard.up) == (Side(None, "small"), Side(None, "small"))
    assert STEEP * 0.01**2 < LEAST_TOLD
    assert found.better is None


def test_where_one_mark_is_too_small_to_tell_more_are_taken_within_a_tenth_of_the_range() -> None:
    cost = STEEP * np.array([0.02**2, 0.01**2]) / 10.0
    best = Setting(sheet=0.1, halyard=0.08)
    task = replace(Bowl(best), free=(SHEET, replace(HALYARD, high=1.0)))
    sheet, halyard = around(task, best, np.diag(2.0 * cost)).worth
    # The bend tells a tenth of the true cost: 0.002 m/s for a mark of sheet, 0.0005 of halyard; it
    # grows with the square, and 0.0051 can be told.
    assert sheet.step == pytest.approx(2 * SHEET.step)
    assert halyard.step == pytest.approx(5 * HALYARD.step)
    assert halyard.up.loss == pytest.approx(STEEP * halyard.step**2)
    assert marks_off(HALYARD, float(cost[1]), LEAST_TOLD) == 1


def test_a_control_at_the_end_of_its_travel_is_told_on_its_other_side_alone() -> None:
    best = Setting(sheet=-0.4, halyard=0.08)
    sheet = around(Bowl(best), best).worth[0]
    assert sheet.down == Side(None, "end")
    assert sheet.up.loss == pytest.approx(STEEP * 0.02**2)


def test_sails_that_let_go_are_no_loss_in_knots() -> None:
    best = Setting(sheet=0.1, halyard=0.08)
    halyard = around(Bowl(best, stands=0.085), best).worth[1]
    assert halyard.up == Side(None, "unsettled")


def test_a_gain_that_passes_a_limit_is_told_as_the_limit_and_not_gone_to() -> None:
    at = Setting(sheet=0.1, halyard=0.08)
    found = around(Bowl(Setting(sheet=0.2, halyard=0.08), most=0.1), at)
    assert found.worth[0].up == Side(None, "limit")
    assert found.better is None


def test_a_neighbour_that_is_better_by_more_than_can_be_told_is_handed_back() -> None:
    found = around(Bowl(Setting(sheet=0.2, halyard=0.08)), Setting(sheet=0.1, halyard=0.08))
    assert found.better is not None
    assert found.better.value("sheet") == pytest.approx(0.12)
    gained = STEEP * (0.1**2 - 0.08**2)
    assert found.worth[0].up.loss == pytest.approx(-gained)


def test_minutes_are_those_by_which_an_hour_grows_at_the_greater_loss() -> None:
    told = worth_told(StepWorth("sheet", 0.02, Side(0.1), Side(0.2)), 4.0)
    # 0.2 of 4 m/s is a twentieth, 3 minutes of an hour.
    assert told.minutes_per_hour == pytest.approx(3.0)
    assert told.loss_up_kn == pytest.approx(to_knots(0.2))


def test_without_a_loss_no_minutes_are_told() -> None:
    told = worth_told(StepWorth("sheet", 0.02, Side(None, "small"), Side(-0.01)), 4.0)
    assert (told.minutes_per_hour, told.loss_down_kn) == (None, None)
