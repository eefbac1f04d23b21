"""What `trim` says of the amount of sail: why less is set, and what other amount is as fast."""

from __future__ import annotations

from luffwright.advice.area import AREA_CONTROLS, Other, Spared
from luffwright.app.answer import Why
from luffwright.app.question import Question
from luffwright.app.reef_words import headsail_of
from luffwright.sails.setting import Setting
from luffwright.units import to_knots

SPARED: dict[Spared, str] = {
    "flogs": "less sail, though it hardly brings way: under more a sail flogs, which wears it, "
    "shakes the rig and leaves nothing to ease in a gust",
    "pressed": "less sail, for it costs no way: under more she is pressed to a limit, which leaves "
    "nothing for a gust",
}
NEARLY = "nearly as fast with"
"""How another amount of sail is told of, so that a page knows it."""
MOST_OTHERS = 2
SAME = 1e-6
"""Difference of a control that is none [its unit]."""
AS_FAST_KN = 0.005
"""What is told as no difference [kn]: it would be written as 0.00."""


def spared_why(setting: Setting, spared: Spared) -> Why:
    """Return why sail is taken in though it hardly brings way, by what is taken in.

    Parameters
    ----------
    setting : Setting
    spared : str
        What less sail spares.

    Returns
    -------
    Why
    """
    taken_in = next((it for it in AREA_CONTROLS if getattr(setting, it)), AREA_CONTROLS[0])
    return Why(taken_in, SPARED[spared])


def others_why(
    asked: Question, here: Setting, others: tuple[Other, ...], aim: float
) -> tuple[Why, ...]:
    """Return which other amounts of sail are nearly as fast, two at most.

    Parameters
    ----------
    asked : Question
    here : Setting
        The best one.
    others : tuple of Other
        The fastest first.
    aim : float
        The speed that counts at the best setting. [m/s]

    Returns
    -------
    tuple of Why
        Nothing where less sail was not tried, or is slower by a per cent and more.
    """
    return tuple(
        Why(
            next(name for name in AREA_CONTROLS if _differs(here, it.setting, name)),
            f"{NEARLY} {sail_words(asked, it.setting)}: "
            f"{_slower((1.0 - it.share) * aim)}, by a short search",
        )
        for it in others[:MOST_OTHERS]
    )


def sail_words(asked: Question, setting: Setting) -> str:
    """Return how much sail is set, in deck words.

    Parameters
    ----------
    asked : Question
    setting : Setting

    Returns
    -------
    str
        As `reef 1, genoa 10 % rolled`.
    """
    sails = {"main_furl": "mainsail ", "furl": f"{headsail_of(asked)} "}
    return ", ".join(
        sails.get(name, "") + asked.boat.marks[name].text(setting.value(name))
        for name in AREA_CONTROLS
        if getattr(setting, name) is not None
    )


def _differs(here: Setting, there: Setting, name: str) -> bool:
    ends = getattr(here, name), getattr(there, name)
    return None not in ends and abs(ends[0] - ends[1]) > SAME


def _slower(loss: float) -> str:
    slower = to_knots(loss)
    return "no slower" if slower < AS_FAST_KN else f"{slower:.2f} kn slower"


def of_the_sail(why: Why) -> bool:
    """Return whether a reason is about how much sail is set: why less is, and what is as fast.

    Parameters
    ----------
    why : Why

    Returns
    -------
    bool
    """
    return why.control in AREA_CONTROLS and why.text.startswith((NEARLY, *SPARED.values()))
