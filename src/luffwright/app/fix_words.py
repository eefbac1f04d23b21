"""What `fix` says of its moves and of what was seen, in the deck's words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from luffwright.advice.decision import Option
from luffwright.advice.doubt import OFF_COURSE, Axis, scaled
from luffwright.advice.emulator import Surface
from luffwright.advice.posterior import Boats, Sighting, moved
from luffwright.advice.readings import LEVEL_NAMES, TUFTS
from luffwright.advice.task import TURN
from luffwright.app.fix_sample import Known
from luffwright.app.trim_words import effect_words, step_words
from luffwright.arrays import FloatArray

LOOKED = 192
"""Boats on which it is looked what will be seen."""


@dataclass(frozen=True)
class Look:
    """Shares of boats on which each of the headsail's tufts streams, before and after a move."""

    before: FloatArray
    after: FloatArray


def streaming(known: Known, boats: Boats, now: Mapping[str, float]) -> FloatArray:
    """Return the share of boats on which each of the headsail's tufts streams."""
    points = scaled(boats.axes, moved(boats.axes, boats.drawn(LOOKED), now))
    return np.array([float(np.mean(known.surfaces[name](points) > 0.0)) for name in TUFTS])


def tuft_word(name: str) -> str:
    """Return what a headsail's tuft is called.

    Examples
    --------
    >>> tuft_word("windward_top")
    'top inside tuft'
    >>> tuft_word("leech_top"), tuft_word("head_flutter"), tuft_word("backwind")
    ("mainsail's top leech tuft", "headsail's leech", "mainsail's luff")
    """
    if name == "backwind":
        return "mainsail's luff"
    if name.endswith("flutter"):
        return f"{'headsail' if name.startswith('head') else 'mainsail'}'s leech"
    side, level = name.split("_")
    if side == "leech":
        return f"mainsail's {level} leech tuft"
    return f"{level} {'inside' if side == 'windward' else 'outside'} tuft"


def listed(words: list[str]) -> str:
    """Return words as a list that is spoken.

    Examples
    --------
    >>> listed(["top", "middle", "low"])
    'top, middle and low'
    """
    return " and ".join(([", ".join(words[:-1])] if len(words) > 1 else []) + words[-1:])


def then_see(look: Look) -> str:
    """Return what should be seen after a move."""
    better = [n for k, n in enumerate(TUFTS) if look.before[k] < 0.5 <= look.after[k]]
    worse = [n for k, n in enumerate(TUFTS) if look.after[k] < 0.5 <= look.before[k]]
    calmer = [
        n for k, n in enumerate(TUFTS)
        if n not in better and look.after[k] - look.before[k] > 0.15
    ]  # fmt: skip
    parts = [f"{_tufts(better)} again"] if better else []
    parts += [f"{_tufts(calmer)} more of the time"] if calmer and not better else []
    parts += [f"{_trouble(worse)}"] if worse else []
    return "; ".join(parts) or "the tufts as they are"


def _tufts(names: list[str]) -> str:
    verb = "streams" if len(names) == 1 else "stream"
    return f"{_named(names)} {verb}"


def _named(names: list[str]) -> str:
    for side, word in (("windward", "inside"), ("leeward", "outside")):
        if len(names) == 3 and all(it.startswith(side) for it in names):
            return f"all {word} tufts"
    return listed([tuft_word(it) for it in reversed(names)])


def _trouble(names: list[str]) -> str:
    lifts = [it for it in names if it.startswith("windward")]
    stalls = [it for it in names if it.startswith("leeward")]
    told = [f"{_named(lifts)} may lift"] if lifts else []
    told += [f"{_named(stalls)} may stall"] if stalls else []
    return ", ".join(told)


def sentence(known: Known, option: Option, marks: Mapping[str, float], given: set[str]) -> str:
    """Return the order to the crew: rope, count, verb, with the marks where they are known."""
    if option.control == TURN.name:
        turn = float(np.degrees(option.by[TURN.name]))
        return f"STEER {abs(turn):.0f}° {'lower' if turn > 0.0 else 'higher'}"
    mark, start = known.asked.boat.marks[option.control], marks[option.control]
    told = mark.move(start, start + option.by[option.control])
    if option.control not in given:
        told = told.split(" (")[0]
    if option.control != "sheet" and "sheet" in option.by:
        sheet = known.asked.boat.marks["sheet"]
        told += f" with the sheet {step_words(sheet, marks['sheet'], option.by['sheet'])}"
    return told


def until(look: Look) -> str:
    """Return until what a move is made, as the end of its order; nothing where nothing changes."""
    better = [n for k, n in enumerate(TUFTS) if look.before[k] < 0.5 <= look.after[k]]
    return f", until {_tufts(better)}" if better else ""


def why(known: Known, option: Option, boats: Boats, now: Mapping[str, float]) -> str:
    """Return why a move is told, with computed amounts."""
    name, parts = option.control, []
    if name == TURN.name:
        away = float(np.degrees(boats.middle()[_place(boats.axes, TURN.name)] + now.get(name, 0.0)))
        if abs(away) >= 0.5:
            way = "lower" if away > 0.0 else "higher"
            parts.append(f"she most likely sails {abs(away):.0f}° {way} than said")
        return "; ".join(parts) or "speed made good is greatest there"
    if (cause := off_best(known, boats, option, now)) is not None:
        parts.append(cause)
    entry = known.asked.boat.travel(name, "controls")
    if name in known.plot.done.names:
        steps = option.by[name] / entry.step
        does = effect_words(known.asked, known.plot.done, name, steps)
        parts += [f"this {does}, the sheet set to suit" if name != "sheet" else f"this {does}"]
        parts = [it for it in parts if not it.startswith("this ,") and it != "this "]
    return "; ".join(parts)


def off_best(known: Known, boats: Boats, option: Option, now: Mapping[str, float]) -> str | None:
    """Return how far a control most likely stands from the boat's best place, in deck words;
    nothing where the move does not lead back there: it then makes up for something else.
    """
    name = option.control
    place = _place(boats.axes, name)
    stands = float(boats.middle()[place]) + now.get(name, 0.0)
    off = stands - known.plot.setting.value(name)
    mark = known.asked.boat.marks[name]
    if mark.missing or abs(off) < mark.step or off * option.by[name] > 0.0:
        return None
    move = step_words(mark, known.plot.setting.value(name), off)
    return f"it most likely stands off the file's best place ({move} too much)"


def _place(axes: tuple[Axis, ...], name: str) -> int:
    return next(k for k, it in enumerate(axes) if it.name == name)


def contradictions(sightings: tuple[Sighting, ...]) -> Iterator[str]:
    """Yield a plain sentence for each level at which both sides are in trouble at once."""
    last = dict(sightings[-1].tufts) if sightings else {}
    both = [
        level for level in LEVEL_NAMES
        if last.get(f"windward_{level}") is False and last.get(f"leeward_{level}") is False
    ]  # fmt: skip
    if both:
        yield (
            f"Inside lifts and outside stalls at once ({listed(list(reversed(both)))}): no steady "
            "sail does both. The wind there swings past the groove (chop, a helm that hunts, a "
            "flutter of the luff), the entry is too flat to hold either, or a tuft sticks, is wet "
            "or was misread: look again for ten seconds. Told below is the best move under doubt."
        )


def course_words(closer: float) -> str:
    """Return that she makes better speed good on another course than the one asked for.

    Parameters
    ----------
    closer : float
        By how much closer to the wind; negative for lower. [rad]

    Returns
    -------
    str

    Examples
    --------
    >>> course_words(0.1)[:60]
    'The course is taken as you gave it. If you are beating or ru'
    """
    farther = " or more" if abs(closer) > 0.99 * OFF_COURSE else ""
    away = f"{np.degrees(abs(closer)):.0f}°{farther}"
    way = "closer to the wind" if closer > 0.0 else "farther from the wind"
    return (
        "The course is taken as you gave it. If you are beating or running to a mark right to "
        f"windward or leeward, she gets there sooner {away} {way}: steer that first, then "
        "look again."
    )


def two_readings(known: Known, boats: Boats, now: Mapping[str, float]) -> str:
    """Return both readings of a lower outside tuft that stalls alone, and what decides here."""
    axes = {it.name for it in boats.axes}
    if not {"lead", "sheet"} <= axes:
        return ""
    entry = {it.name: it for it in known.task.free}
    step = 2.0 * entry["lead"].step
    kept = known.plot.done.sheet_with("lead") * 2.0 * entry["sheet"].step
    ways = {
        "aft": {"lead": step, "sheet": kept},
        "forward and eased": {"lead": -step, "sheet": 0.0},
    }
    speed, tuft = known.surfaces["made_good"], known.surfaces["leeward_low"]
    points = moved(boats.axes, boats.drawn(LOOKED), now)
    before = scaled(boats.axes, points)
    told, gains = [], []
    for word, by in ways.items():
        there = scaled(boats.axes, moved(boats.axes, points, by))
        gain = float(np.mean(speed(there) - speed(before))) * 1.943844
        cure = float(np.mean(tuft(there) > 0.0))
        gains.append(gain)
        told.append(f"car two holes {word}: {gain:+.2f} kn, cures it on {100.0 * cure:.0f} %")
    depth = 100.0 * float(np.mean(known.surfaces["foot_camber"](before)))
    first = "lead aft" if gains[0] >= gains[1] else "lead forward and ease"
    return (
        "Only the low outside tuft stalls is read two ways: the foot too deep (lead aft), or too "
        f"much angle low down (lead forward and ease). Computed for this boat, foot {depth:.0f} % "
        f"deep: {'; '.join(told)} of the boats that fit. What brings more decides: {first}."
    )


def only_low_stalls(sightings: tuple[Sighting, ...]) -> bool:
    """Return whether the low outside tuft stalls while no other one that was looked at does."""
    last = dict(sightings[-1].tufts) if sightings else {}
    gone = {name for name, streams in last.items() if not streams and name in TUFTS}
    return gone == {"leeward_low"}


def surface_error_deg(surfaces: Mapping[str, Surface]) -> float:
    """Return the emulator's error of the tufts' incidence, the root mean square of all [°]."""
    return float(np.degrees(np.sqrt(np.mean([surfaces[it].error ** 2 for it in TUFTS]))))
