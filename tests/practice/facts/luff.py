"""Halyard and cunningham, and where the draft is cut: what moves the draft."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

from boat_states import Sailed
from facts.effect import ANGLE, DRAFT, Effect, angle, fitted, share, stood, within
from facts.stay import more_pays
from luffwright.sails.plan import SailPlan
from states import State

PULLED, TIGHT = 0.04, 0.06
"""Halyard pulled, and pulled before it is eased [m]."""
CUNNINGHAM = 0.04
CUTS = (0.35, 0.42, 0.48)
"""Where the draft is cut, shares of the chord."""


def hoisted(state: State) -> list[Effect]:
    """H1: halyard pulled, re-sheeted: draft forward, entry rounder."""
    was, now = _hoisted(state)
    return [
        share("draft forward", was.section(0, "middle").draft - now.section(0, "middle").draft,
              DRAFT),
        angle("entry rounder", now.section(0, "middle").entry - was.section(0, "middle").entry,
              ANGLE),
    ]  # fmt: skip


def hoisted_leech(state: State) -> list[Effect]:
    """H1: halyard pulled, re-sheeted: the leech is straighter."""
    was, now = _hoisted(state)
    change = was.section(0, "middle").exit - now.section(0, "middle").exit
    return [angle("exit straighter", change, ANGLE)]


def _hoisted(state: State) -> tuple[State, State]:
    return state, stood(state.resheeted(halyard=PULLED))


def lowered(state: State) -> list[Effect]:
    """H2: halyard eased: the draft goes aft."""
    tight = stood(state.resheeted(halyard=TIGHT), "pulled first")
    eased = stood(tight.resheeted(halyard=-PULLED))
    change = eased.section(0, "middle").draft - tight.section(0, "middle").draft
    return [share("draft aft", change, DRAFT)]


def pays_in_a_blow(state: Sailed) -> list[Effect]:
    """H3: in a strong wind, in the trim of a lighter one, more halyard pays."""
    return [more_pays(state, "halyard", state.two_marks("halyard"))]


def cunningham(state: State) -> list[Effect]:
    """M4: cunningham pulled: the mainsail's draft goes forward."""
    fitted(state, "cunningham")
    travel = state.travel("cunningham")
    over = state.setting.value("cunningham") + CUNNINGHAM - travel.high
    slack = stood(state.fly(cunningham=-over), "eased first") if over > 1e-9 else state
    there = stood(slack.fly(cunningham=CUNNINGHAM))
    change = slack.section(1, "middle").draft - there.section(1, "middle").draft
    return [share("draft forward", change, DRAFT)]


def cut_at(draft: float) -> Callable[[SailPlan], SailPlan]:
    """Return the change that cuts a headsail's draft at a share of the chord."""

    def change(plan: SailPlan) -> SailPlan:
        return replace(plan, headsail=replace(plan.headsail, draft=(draft, draft, draft)))

    return change


def follows_the_cut(flown: tuple[State, ...]) -> list[Effect]:
    """D1: sails cut with their draft further aft fly with it further aft, from 33 to 50 %.

    `flown`: one boat trimmed in one wind, her headsail cut at `CUTS`.
    """
    drafts = [stood(it, "trimmed").section(0, "middle").draft for it in flown]
    least = min(after - before for before, after in pairwise(drafts))
    ends = [within(f"{word} draft", 100.0 * it, 33.0, 50.0, "%")
            for word, it in (("foremost", drafts[0]), ("aftmost", drafts[-1]))]  # fmt: skip
    return [share("in that order, apart", least, DRAFT), *ends]
