"""Which move to make: the one with the greatest expected gain over all boats that might be."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from scipy.special import ndtr

from luffwright.advice.doubt import Axis, scaled
from luffwright.advice.effects import Effects
from luffwright.advice.emulator import Surface
from luffwright.advice.posterior import BLURRED, Boats, moved
from luffwright.advice.readings import TUFTS
from luffwright.advice.task import TURN
from luffwright.arrays import FloatArray
from luffwright.sails.plan import ControlTravel
from luffwright.units import from_knots

WORTH_IT = float(from_knots(0.02))
"""Gain from which on a move counts [m/s]."""
COUNTS = (1, 2, 3, 4, 6, 8, 12, 16, 24, 32)
"""Moves tried, in steps of a control."""
TURNS = tuple(float(np.radians(it)) for it in (1.0, 2.0, 3.0, 4.0, 5.0, 6.0))
SCREENED, JUDGED = 48, 384
"""Boats on which all moves, and on which the best few are tried."""
CURED_ON = 96
"""Boats on which it is tried what has the tufts stream: on 24 one boat is nearly what has to be
added, and whether anything was told hung on the draw."""
LEAST_CURED = 0.05
"""Least chance that a cure has to add [-]."""
KEPT = 3
"""Sizes of one control that are looked at on all boats."""
LEAST_SHEET = 0.01
ERROR_SHARE = 0.7
"""Share of the emulator's error that is left in the difference between two far states of one boat;
in proportion less where they lie near to each other."""
PASSED = 0.01
BELIEVED = 0.8
"""Share of what the mechanics gained beyond the emulator on the likeliest boat that is taken to be
so on the others."""
STILL_IN_DOUBT = 0.6
"""Share of the emulator's doubt that is left after that."""
SHARPER = 4.6
"""How many times the logarithm of the odds that the boats give is told as the chance's: what the
surfaces are off by counts twice in these odds, in the boats' spread and in the doubt."""
SURPRISED = 0.02
"""Share of moves that turn out otherwise whatever the boats say [-]; with `SHARPER` likeliest on
1,086 moves (closed loop, seeds 97 to 137, the log read for 370 of them)."""
NOTHING = float(from_knots(0.001))
"""Loss that is none: half of what two solves may differ by [m/s]."""
OFF_ITS_MARK = 1.5
"""Steps from the file's best place from which on a control is told to be put back."""
SOLVED = float(from_knots(0.004))
"""What the difference of two solved states may be off [m/s]."""


@dataclass(frozen=True)
class Option:
    """A move: `by` how much each control [its unit] or the course [rad] goes, what it `gains` on
    each boat that might be, and the emulator's `doubt` of that [m/s]; `last`: what it gains once
    all other ropes stand where her file has them best, where they do not yet [m/s].
    """

    control: str
    by: Mapping[str, float]
    gains: FloatArray
    doubt: float
    last: float | None = None

    @property
    def worth(self) -> float:
        """Return the mean of what it gains now and as the last one [m/s]."""
        return self.gain if self.last is None else 0.5 * (self.gain + self.last)

    @property
    def gain(self) -> float:
        """Return the expected gain [m/s]."""
        return float(np.mean(self.gains))

    @property
    def chance(self) -> float:
        """Return the chance that it gains what is worth it [-]."""
        share = float(np.mean(ndtr((self.gains - WORTH_IT) / self.doubt)))
        sharp = share**SHARPER / (share**SHARPER + (1.0 - share) ** SHARPER)
        return SURPRISED + (1.0 - 2.0 * SURPRISED) * sharp

    def flown(self, off: FloatArray) -> Option:
        """Return the move after the mechanics have flown it on the likeliest boat, from which each
        boat has so much more to gain than the emulator told, (boats,) [m/s].
        """
        left = STILL_IN_DOUBT * self.doubt
        return replace(self, gains=self.gains + BELIEVED * off, doubt=max(left, SOLVED))


@dataclass(frozen=True)
class Deck:
    """What can be moved: travel of each control, where its mark stands now [its unit], what a step
    does, whether the course may be changed too, and where the file's boat sails best.
    """

    travel: tuple[ControlTravel, ...]
    marks: Mapping[str, float]
    done: Effects
    turns: bool
    best: Mapping[str, float] = field(default_factory=dict)

    def back(self, name: str) -> float:
        """Return the way of a control back to where the file's boat sails best [its unit]."""
        return self.best.get(name, self.marks[name]) - self.marks[name]


def options(
    boats: Boats, surfaces: Mapping[str, Surface], deck: Deck, now: Mapping[str, float]
) -> tuple[Option, ...]:
    """Return the best move of each control, best first.

    Parameters
    ----------
    boats : Boats
    surfaces : mapping
    deck : Deck
    now : mapping
        How far controls [its unit] and course [rad] stand from the first look.

    Returns
    -------
    tuple of Option
        None that would press her further beyond a limit.
    """
    tries = _tried(boats, deck, now)
    if not tries:
        return ()
    mean = gains_of(boats, surfaces, now, tries, SCREENED).mean(axis=1)
    mean[_presses(boats, surfaces, now, tries)] = -np.inf
    seen: dict[str, int] = {}
    rated = []
    for k in np.argsort(-mean):
        control = next(iter(tries[int(k)]))
        seen[control] = seen.get(control, 0) + 1
        if seen[control] <= KEPT and mean[k] > -np.inf:
            rated.append(tries[int(k)])
    many = gains_of(boats, surfaces, now, rated, JUDGED) if rated else ()
    return _best_of_each(boats, surfaces, rated, many)


def _best_of_each(
    boats: Boats, surfaces: Mapping[str, Surface], tries: list[dict[str, float]],
    many: Iterable[FloatArray],
) -> tuple[Option, ...]:  # fmt: skip
    """Return the best move of each control, best first."""
    best: dict[str, Option] = {}
    for by, gains in zip(tries, many, strict=True):
        option = _option(boats.axes, by, gains, surfaces["made_good"].error)
        known = best.get(option.control)
        if known is None or option.gain > known.gain:
            best[option.control] = option
    return tuple(sorted(best.values(), key=lambda it: -it.gain))


def backs(
    boats: Boats, surfaces: Mapping[str, Surface], deck: Deck, now: Mapping[str, float]
) -> tuple[Option, ...]:
    """Return the moves of controls back to where the file's boat sails best.

    Parameters
    ----------
    boats : Boats
    surfaces : mapping
    deck : Deck
    now : mapping
        How far controls [its unit] and course [rad] stand from the first look.

    Returns
    -------
    tuple of Option
        Best first, of those that stand off it by two steps or more; none that would press her
        further beyond a limit.
    """
    tries: list[dict[str, float]] = []
    for entry in deck.travel:
        change = deck.back(entry.name)
        if abs(change) >= OFF_ITS_MARK * entry.step:
            tries += [{entry.name: change} | more for more in _sheets(entry.name, change, deck)]
    if not tries:
        return ()
    pressed = _presses(boats, surfaces, now, tries)
    tries = [by for by, it in zip(tries, pressed, strict=True) if not it]
    if not tries:
        return ()
    gains = gains_of(boats, surfaces, now, tries, JUDGED)
    return _best_of_each(boats, surfaces, tries, gains)


def put_back(
    boats: Boats, surfaces: Mapping[str, Surface], deck: Deck, now: Mapping[str, float]
) -> tuple[Option, ...]:
    """Return the moves of controls back to where the file's boat sails best, that cost nothing.

    Parameters
    ----------
    boats : Boats
    surfaces : mapping
    deck : Deck
    now : mapping
        How far controls [its unit] and course [rad] stand from the first look.

    Returns
    -------
    tuple of Option
        Best first, as `backs`.
    """
    return tuple(it for it in backs(boats, surfaces, deck, now) if it.gain > -NOTHING)


def cures(
    boats: Boats, surfaces: Mapping[str, Surface], deck: Deck, now: Mapping[str, float],
    off: Mapping[str, float] | None = None,
) -> tuple[Option, ...]:  # fmt: skip
    """Return the move of each control after which the headsail's tufts most likely all stream.

    Parameters
    ----------
    boats : Boats
    surfaces : mapping
    deck : Deck
    now : mapping
        How far controls [its unit] and course [rad] stand from the first look.
    off : mapping, optional
        By how much tufts have more margin than the emulator tells, by name. [rad]

    Returns
    -------
    tuple of Option
        Best first; none that is expected to cost what can be told, or to cure too seldom.
    """
    tries = _tried(boats, deck, now)
    if not tries:
        return ()
    cheap = gains_of(boats, surfaces, now, tries, SCREENED).mean(axis=1) > -WORTH_IT
    sound = cheap & np.logical_not(_presses(boats, surfaces, now, tries))
    tries = [by for by, it in zip(tries, sound, strict=True) if it]
    if not tries:
        return ()
    points = moved(boats.axes, boats.drawn(CURED_ON), now)
    begun = float(np.mean(_all_stream(surfaces, scaled(boats.axes, points), off or {})))
    there = [scaled(boats.axes, moved(boats.axes, points, by)) for by in tries]
    share = np.array([float(np.mean(_all_stream(surfaces, it, off or {}))) for it in there])
    rated = [tries[k] for k in _smallest(tries, share, begun)]
    if not rated:
        return ()
    gains = gains_of(boats, surfaces, now, rated, JUDGED)
    error = surfaces["made_good"].error
    return tuple(_option(boats.axes, by, it, error) for by, it in zip(rated, gains, strict=True))


def _smallest(tries: list[dict[str, float]], share: FloatArray, begun: float) -> list[int]:
    """Return which move of each control cures, best first: of those that cure about as often as
    its best one, the smallest.
    """
    best: dict[str, int] = {}
    for k in np.argsort(-share):
        control = next(iter(tries[int(k)]))
        known = best.setdefault(control, int(k))
        near = share[k] > share[known] - LEAST_CURED
        if near and abs(tries[int(k)][control]) < abs(tries[known][control]):
            best[control] = int(k)
    kept = [k for k in best.values() if share[k] > begun + LEAST_CURED]
    return sorted(kept, key=lambda k: -share[k])


def _all_stream(
    surfaces: Mapping[str, Surface], points: FloatArray, off: Mapping[str, float]
) -> FloatArray:
    """Return the chance that all tufts of the headsail stream at each point [-]."""
    margins = np.stack([surfaces[name](points) + off.get(name, 0.0) for name in TUFTS])
    return np.asarray(ndtr(np.min(margins, axis=0) / BLURRED))


def _tried(boats: Boats, deck: Deck, now: Mapping[str, float]) -> list[dict[str, float]]:
    """Return the moves that are tried: none that takes a rope or the course, where the boats have
    it in the mean, out of what was flown, where surfaces are level and tell nothing.
    """
    out = []
    for axis, middle in zip(boats.axes, boats.middle(), strict=True):
        here = middle + now.get(axis.name, 0.0)
        edge = 1e-9 * (axis.high - axis.low)
        for by in _moves(axis, deck):
            there = here + by[axis.name]
            beyond = max(there - axis.high, axis.low - there)
            if beyond <= max(edge, here - axis.high, axis.low - here):
                out.append(by)
    return out


def _moves(axis: Axis, deck: Deck) -> list[dict[str, float]]:
    """Return the moves of one control that are tried."""
    if axis.name == TURN.name:
        return (
            [{axis.name: sign * it} for it in TURNS for sign in (1.0, -1.0)] if deck.turns else []
        )
    entry = next((it for it in deck.travel if it.name == axis.name), None)
    if entry is None:
        return []
    here, out = deck.marks[axis.name], []
    reach = axis.high - axis.low + abs(here - np.clip(here, axis.low, axis.high))
    changes = {sign * count * entry.step for count in COUNTS for sign in (1.0, -1.0)}
    # Back to where the file's boat sails best, too, whole marks away or not.
    changes.add(deck.back(axis.name))
    for change in sorted(changes):
        inside = entry.low - 1e-9 <= here + change <= entry.high + 1e-9
        if inside and 0.5 * entry.step < abs(change) <= reach:
            out += [{axis.name: change} | more for more in _sheets(axis.name, change, deck)]
    return out


def _sheets(name: str, change: float, deck: Deck) -> list[dict[str, float]]:
    """Return the moves of the headsail's sheet that are tried with a change of a control: none, and
    what keeps the sail's angle. More would be a move of the sheet told under another's name.
    """
    entry = {it.name: it for it in deck.travel}
    if name == "sheet" or "sheet" not in deck.marks:
        return [{}]
    steps = change / entry[name].step
    kept = deck.done.sheet_with(name) * steps * entry["sheet"].step
    if abs(kept) < LEAST_SHEET:
        return [{}]
    mark = entry["sheet"].step
    moves = {round(kept / mark) * mark, 0.0}
    low, high = (end - deck.marks["sheet"] for end in (entry["sheet"].low, entry["sheet"].high))
    return [{"sheet": it} if it else {} for it in sorted(moves) if low <= it <= high]


def gains_of(
    boats: Boats, surfaces: Mapping[str, Surface], now: Mapping[str, float],
    tries: list[dict[str, float]], count: int,
) -> FloatArray:  # fmt: skip
    """Return what each move gains on each of some boats.

    Parameters
    ----------
    boats : Boats
    surfaces : mapping
    now : mapping
        How far controls [its unit] and course [rad] stand from the first look.
    tries : list of dict
        By how much each move takes controls [its unit] and course [rad].
    count : int
        How many boats are drawn. [-]

    Returns
    -------
    (tries, boats) array
        [m/s]
    """
    points = moved(boats.axes, boats.drawn(count), now)
    speed = surfaces["made_good"]
    before = speed(scaled(boats.axes, points))
    there = np.vstack([scaled(boats.axes, moved(boats.axes, points, by)) for by in tries])
    return np.asarray(speed(there).reshape(len(tries), count) - before)


def carried(  # noqa: PLR0913 - whose gains, by what, after which move, and where it was flown
    boats: Boats, speed: Surface, now: Mapping[str, float], option: Option, there: FloatArray,
    flown: float,
) -> FloatArray:  # fmt: skip
    """Return what a flight after a move tells each boat beyond the emulator.

    Parameters
    ----------
    boats : Boats
    speed : Surface
        What she makes good.
    now : mapping
        How far controls and course stand from where they stood at the first look. [its unit]
    option : Option
        The move.
    there : (axes,) array
        Where the likeliest boat stands after it. [half ranges]
    flown : float
        What she makes good there. [m/s]

    Returns
    -------
    (boats,) array
        Less, the more a boat differs from her where that matters. [m/s]
    """
    points = moved(boats.axes, moved(boats.axes, boats.drawn(len(option.gains)), now), option.by)
    after = scaled(boats.axes, points)
    return np.asarray(speed.passing(there, flown)(after) - speed(after))


def _option(
    axes: tuple[Axis, ...], by: Mapping[str, float], gains: FloatArray, error: float
) -> Option:
    far = np.sqrt(sum((2.0 * by.get(it.name, 0.0) / (it.high - it.low)) ** 2 for it in axes))
    doubt = max(ERROR_SHARE * error * min(1.0, 2.0 * far), SOLVED)
    return Option(next(iter(by)), by, gains, doubt)


def _presses(
    boats: Boats, surfaces: Mapping[str, Surface], now: Mapping[str, float],
    tries: list[dict[str, float]],
) -> FloatArray:  # fmt: skip
    """Return which moves press her further beyond a limit (tries,)."""
    points = moved(boats.axes, boats.drawn(SCREENED), now)
    used = surfaces["used"]
    before = float(np.mean(used(scaled(boats.axes, points))))
    there = np.vstack([scaled(boats.axes, moved(boats.axes, points, by)) for by in tries])
    after = used(there).reshape(len(tries), SCREENED).mean(axis=1)
    return np.asarray(after > max(1.0, before) + PASSED)
