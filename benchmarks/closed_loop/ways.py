"""Ways to put a mis-set boat right: `fix`, and what it is measured against."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from case import TURNED, Case, Log, State, asked, knots

from luffwright.advice.readings import NAMES
from luffwright.app.fix import back_to_marks
from luffwright.app.fix_flown import at_likeliest, confirmed, with_sight
from luffwright.app.fix_infer import infer
from luffwright.app.sighting import Seen

FIRST_SHEET, FIRST_LEAD, FIRST_TURN = 0.04, 1.0, float(np.radians(2.0))
"""The handbook's first steps: two fingers of sheet, a hole of lead, two degrees; doubled while the
same rule speaks again."""


@dataclass(frozen=True)
class Made:
    """A move that was made: its chance, what it was to gain and what it gained [kn], and by which
    share of the best speed it made things better."""

    control: str
    chance: float
    expected_kn: float
    gained_kn: float
    share: float


@dataclass
class Run:
    """How a way went: speed at the end, as a share of the best, and its moves."""

    end: float = 0.0
    made: list[Made] = field(default_factory=list)


def nothing(case: Case) -> Run:
    state = case.at(case.wrong)
    return Run(end=state.speed / case.best if state else 0.0)


def marks_of_trim(case: Case) -> Run:
    """All marks to where the file's best trim has them, one after the other, without looking.

    Where that cannot be flown she stands as she last could be, as with the other ways.
    """
    left, end = dict(case.wrong), nothing(case).end
    for name in case.wrong:
        left.pop(name)
        state = case.at(left)
        end = state.speed / case.best if state else end
    return Run(end=end)


def by_fix(case: Case, seed: int, log: Log | None = None) -> Run:
    """As many moves of `fix` as controls were mis-set, and one more; with a log, it is read too."""
    draw = np.random.default_rng([case.seed, 3, seed])
    request, moved = asked(case), dict(case.wrong)
    now = case.at(moved)
    run = Run()
    seen: list[Seen] = []
    last: dict[str, float] = {}
    turned = 0.0
    for _ in range(case.moves):
        if now is None:
            break
        look = now.seen(draw, last, turned)
        read = {} if log is None else {"speed_kn": log.reads(now)}
        seen.append(look.model_copy(update=read))
        request = request.model_copy(update={"seen": tuple(seen)})
        found = at_likeliest(infer(request, case.found))
        best, _ = with_sight(found, confirmed(found))
        best = best or [*back_to_marks(found, fly=True).options]
        if not best:
            break
        move = best[0]
        moved = {name: moved.get(name, 0.0) + move.by.get(name, 0.0) for name in {*moved, *move.by}}
        last = {n: found.stands[n] + it for n, it in move.by.items() if n != TURNED}
        turned = float(np.degrees(move.by.get(TURNED, 0.0)))
        then = case.at(moved)
        if then is None:  # not to be flown: what she did last stands
            break
        gain = then.speed - now.speed
        run.made.append(
            Made(move.control, move.chance, knots(move.gain), knots(gain), gain / case.best)
        )
        now = then
    run.end = now.speed / case.best if now else 0.0
    return run


def by_handbook(case: Case, seed: int) -> Run:
    """The six rules, the step doubled while the same one speaks."""
    draw = np.random.default_rng([case.seed, 4, seed])
    names = {it.name for it in case.axes}
    moved, last, step = dict(case.wrong), "", 1.0
    now = case.at(moved)
    for _ in range(case.moves):
        if now is None:
            break
        rule = _rule(now.seen(draw, {}, 0.0))
        if not rule:
            break
        step = 2.0 * step if rule == last else 1.0
        last = rule
        for name, it in _handbook_move(case, rule, step).items():
            if name in names:
                moved[name] = moved.get(name, 0.0) + it
        then = case.at(moved)
        if then is None:
            break
        now = then
    return Run(end=now.speed / case.best if now else 0.0)


def _rule(seen: Seen) -> str:
    pairs = [getattr(seen.headsail, level) for level in ("low", "middle", "top")]
    lifts = [it.windward == "lifting" for it in pairs]
    stalls = [it.leeward == "stalled" for it in pairs]
    rules = {
        "ease": all(stalls), "pull": all(lifts), "forward": lifts == [False, False, True],
        "aft": lifts == [True, False, False] or stalls == [False, False, True],
        "lower": lifts[1], "higher": stalls[1],
    }  # fmt: skip
    return next((name for name, speaks in rules.items() if speaks), "")


def _handbook_move(case: Case, rule: str, step: float) -> dict[str, float]:
    travel = {it.name: it for it in case.found.task.free}
    if rule in ("ease", "pull"):
        return {"sheet": (1.0 if rule == "ease" else -1.0) * step * FIRST_SHEET}
    if rule in ("lower", "higher"):
        return {TURNED: (1.0 if rule == "lower" else -1.0) * step * FIRST_TURN}
    if "lead" not in travel or "lead" not in case.found.plot.done.names:
        return {}
    sign = 1.0 if rule == "aft" else -1.0
    marks = sign * step * FIRST_LEAD
    sheet = case.found.plot.done.sheet_with("lead") * marks * travel["sheet"].step
    return {"lead": marks * travel["lead"].step, "sheet": sheet}


def speed_of(state: State) -> float:
    return float(state.values[NAMES.index("made_good")])
