"""What is said of each control: deck words, no signs, no metres with decimals."""

from __future__ import annotations

import re

import numpy as np
import pytest

from luffwright.advice.area import Other
from luffwright.advice.effects import ANGLE, CAMBER, HEADSAIL, LOW, MAINSAIL, TOP, TWIST, Effects
from luffwright.advice.order import Step, Work
from luffwright.advice.worth import Side, StepWorth
from luffwright.app.question import Question, question
from luffwright.app.request import Request
from luffwright.app.trim_area import others_why, spared_why
from luffwright.app.trim_words import effect_words, loss_words, move_words, with_sheet
from luffwright.sails.setting import Setting
from luffwright.units import from_knots

DEGREE = float(np.radians(1.0))
HERE = Setting(sheet=0.06, lead=0.3, halyard=0.04, backstay=0.02)


@pytest.fixture(scope="module")
def asked() -> Question:
    return question(Request(boat="marram", wind_kn=12.0, angle_deg=46.0))


def _effects() -> Effects:
    shape = np.zeros((2, 2, 3, 4))
    shape[0, HEADSAIL, LOW, ANGLE] = DEGREE
    shape[1, HEADSAIL, TOP, TWIST] = 1.2 * DEGREE
    shape[1, HEADSAIL, LOW, CAMBER] = -0.006
    shape[1, MAINSAIL, LOW, CAMBER] = 0.004
    return Effects(("sheet", "lead"), shape)


def test_the_largest_effects_are_said_with_their_sense(asked: Question) -> None:
    assert effect_words(asked, _effects(), "lead", 1.0) == (
        "opens the genoa's leech by 1.2° at the top and flattens the genoa by 0.6 % low down"
    )
    assert effect_words(asked, _effects(), "lead", -1.0) == (
        "closes the genoa's leech by 1.2° at the top and deepens the genoa by 0.6 % low down"
    )


def test_an_effect_below_five_times_the_repeatability_is_not_said(asked: Question) -> None:
    assert effect_words(asked, _effects(), "lead", 0.2) == ""


def test_what_no_small_step_does_is_not_said(asked: Question) -> None:
    # Cloth that folds: slopes of some hundred per cent of the chord a step tell nothing.
    shape = _effects().shape.copy()
    shape[1, HEADSAIL, LOW, CAMBER] = -28.6
    assert effect_words(asked, Effects(("sheet", "lead"), shape), "lead", 1.0) == (
        "opens the genoa's leech by 1.2° at the top"
    )


@pytest.mark.parametrize(
    ("setting", "control"),
    [
        (HERE.changed(furl=0.1, reef=0.0), "furl"),
        (HERE.changed(furl=0.0, reef=2.0), "reef"),
        (HERE.changed(furl=0.0, main_furl=0.3), "main_furl"),
    ],
)
def test_less_sail_is_told_by_what_is_taken_in(setting: Setting, control: str) -> None:
    assert spared_why(setting, "flogs").control == control
    assert "under more a sail flogs" in spared_why(setting, "flogs").text
    assert "costs no way" in spared_why(setting, "pressed").text


def test_another_amount_of_sail_is_told_by_what_differs_and_what_it_costs(asked: Question) -> None:
    here = HERE.changed(reef=1.0, furl=0.0)
    others = (
        Other(here.changed(furl=0.1), 1.004),
        Other(here.changed(reef=0.0), 0.995),
        Other(here.changed(reef=2.0), 0.991),
    )
    # The two fastest; a little faster by a short search on a coarse mesh is no slower.
    assert [(it.control, it.text) for it in others_why(asked, here, others, from_knots(4.0))] == [
        ("furl", "nearly as fast with reef 1, genoa 10 % rolled: no slower, by a short search"),
        ("reef", "nearly as fast with no reef, genoa full sail: 0.02 kn slower, by a short search"),
    ]


def test_losses_are_told_by_side_in_deck_words(asked: Question) -> None:
    worth = StepWorth("lead", 0.05, Side(from_knots(0.04)), Side(from_knots(0.021)))
    assert loss_words(asked, worth, HERE) == (
        "1 hole forward loses 0.04 kn, 1 hole aft loses 0.02 kn"
    )


def test_a_side_without_a_loss_says_why(asked: Question) -> None:
    worth = StepWorth("lead", 0.05, Side(None, "unsettled"), Side(None, "limit"))
    assert loss_words(asked, worth, HERE) == (
        "1 hole forward (the sails do not settle there), 1 hole aft (beyond a limit there)"
    )
    end = StepWorth("halyard", 0.01, Side(None, "end"), Side(from_knots(0.03)))
    assert loss_words(asked, end, HERE) == (
        "1 cm pull loses 0.03 kn, it stands at the end of its travel"
    )
    small = StepWorth("halyard", 0.01, Side(None, "small"), Side(None, "small"))
    assert loss_words(asked, small, HERE) == "1 cm pull or back, too small to tell"


def test_a_move_names_the_sheet_that_goes_with_it(asked: Question) -> None:
    text = move_words(asked, Step("lead", {"lead": 0.4, "sheet": -0.02}), HERE)
    assert text == (
        "GENOA CAR 2 holes aft (hole 7 from forward → hole 9 from forward) "
        "with GENOA SHEET 4 fingers pull"
    )
    assert not re.search(r"\d\.\d+ m\b|[-−+]\d", text)


def test_a_sheet_that_would_move_less_than_half_a_finger_is_not_named(asked: Question) -> None:
    assert with_sheet(asked, Work("lead", "twist", -0.8, 0.0), 0.05, HERE) == (
        " with the sheet 2 fingers pull"
    )
    assert with_sheet(asked, Work("lead", "twist", -0.1, 0.0), 0.05, HERE) == ""
