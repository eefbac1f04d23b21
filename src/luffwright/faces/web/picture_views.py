"""A state of the boat as the page shows it: figures, words, drawings and where to take hold."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from luffwright.app.answer import BoatPicture, Flown, FlyAnswer, Trimmed
from luffwright.app.call import calls_in
from luffwright.app.cost import counted_kn, minutes_lost
from luffwright.app.ropes import Rope
from luffwright.faces.draw import deck_plan, eye, side_plan
from luffwright.faces.draw.grip import told_grips
from luffwright.faces.draw.sections import Shown, panels, readings_told
from luffwright.faces.draw.theme import figure
from luffwright.faces.words import helm_words, minutes


@dataclass(frozen=True)
class Compared:
    """What a state is shown beside: the boat's ropes, the best trim if it is known, and whether the
    course is free, so that what is made good counts.
    """

    ropes: Mapping[str, Rope]
    best: Trimmed | None
    made_good: bool


def told_state(
    flown: Flown, beside: Compared, views: tuple[str, ...], *, settled: bool
) -> dict[str, object]:
    """Return a state for the page, ready for JSON."""
    answer, boat = flown.answer, flown.answer.boat
    drawings, grips = _drawn(flown, beside, views)
    return {
        "status": answer.status,
        "reason": answer.reason,
        "settled": settled,
        "numbers": {
            "speed_kn": round(boat.speed_kn, 2), "vmg_kn": round(boat.vmg_kn, 2),
            "heel_deg": round(boat.heel_deg, 1), "leeway_deg": round(boat.leeway_deg, 1),
            "helm": helm_words(boat).removesuffix(" helm"),
            "wind_kn": round(answer.conditions.wind_kn, 1),
            "angle_deg": round(answer.conditions.angle_deg, 1),
            "apparent_wind_kn": round(answer.conditions.apparent_wind_kn, 1),
            "apparent_angle_deg": round(answer.conditions.apparent_angle_deg, 1),
        },
        "cost": cost_told(answer, beside),
        "calls": [it.text for it in calls_in(answer.cautions)],
        "warning": _warning(answer),
        "controls": {
            name: {"value": round(float(it.value), 5), "mark": it.mark}
            for name, it in answer.controls.items()
        },
        "tufts": tufts_told(answer),
        "svg": drawings,
        "grips": grips,
    }  # fmt: skip


def _warning(answer: FlyAnswer) -> str:
    """Return what can hurt in this state besides too much sail; empty where nothing stands out."""
    calls = calls_in(answer.cautions)
    return " ".join(it.text for it in answer.cautions if it.level == "warning" and it not in calls)


def cost_told(answer: FlyAnswer, beside: Compared) -> dict[str, object]:
    """Return what the setting costs against the best one, in minutes an hour and in words."""
    if calls_in(answer.cautions):
        return {"minutes": None, "words": "reef first", "short": "Reef first"}
    if beside.best is None or beside.best.answer.status == "failed":
        return {"minutes": None, "words": "the best is not known yet", "short": "…"}
    now, best = (counted_kn(it, made_good=beside.made_good) for it in (answer, beside.best.answer))
    lost = float(minutes_lost(now, best))
    if abs(lost) < 0.25:
        return {"minutes": lost, "words": "", "short": "Nothing lost"}
    word = "lost" if lost > 0.0 else "won"
    length = minutes(abs(lost)).removesuffix(" an hour")
    return {"minutes": lost, "words": "an hour", "short": f"{length} {word}"}


def tufts_told(answer: FlyAnswer) -> dict[str, str]:
    """Return the state of every tuft, by sail, level and side."""
    out = {}
    for sail in answer.sails:
        for level in sail.levels:
            states = (
                ("windward", level.windward), ("leeward", level.leeward), ("leech", level.leech),
            )  # fmt: skip
            for side, state in states:
                if state is not None:
                    out[f"{sail.role}-{level.level}-{side}"] = str(state)
    return out


def _drawn(
    flown: Flown, beside: Compared, views: tuple[str, ...]
) -> tuple[dict[str, str], dict[str, object]]:
    """Return the drawings asked for, and where the ropes on them are held."""
    answer, picture = flown.answer, flown.picture
    if picture is None:
        return {}, {}
    drawings: dict[str, str] = {}
    grips: dict[str, object] = {}
    for name in views:
        drawings[name], held = _figure(name, answer, picture, beside)
        if held:
            grips[name] = held
    return drawings, grips


def _figure(
    name: str, answer: FlyAnswer, picture: BoatPicture, beside: Compared
) -> tuple[str, list[dict[str, object]]]:
    starboard = 1.0 if answer.conditions.angle_deg >= 0 else -1.0
    told = " ".join(readings_told(sail) for sail in answer.sails)
    if name == "cuts":
        best = beside.best.picture if beside.best else None
        parts, height = panels(answer, picture, -starboard, Shown(best, lively=True))
        return figure(parts, (deck_plan.WIDTH, height), name, told), []
    if name == "deck":
        parts, grips = deck_plan.deck_plan(answer, picture, beside.ropes, -starboard)
        size = (deck_plan.WIDTH, deck_plan.HEIGHT)
        return figure(parts, size, name, told), told_grips(grips, beside.ropes, answer)
    if name == "side":
        parts, grips = side_plan.side_plan(answer, picture, beside.ropes, starboard)
        size = (side_plan.WIDTH, side_plan.HEIGHT)
        return figure(parts, size, name, told), told_grips(grips, beside.ropes, answer)
    from_where = eye.from_helm if name == "helm" else eye.under_boom
    return figure(from_where(answer, picture, starboard), (eye.WIDTH, eye.HEIGHT), name, told), []
