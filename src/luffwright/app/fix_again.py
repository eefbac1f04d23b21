"""Where what was seen hardly fits the boat: what it would mean, and what to look at next."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from luffwright.advice.decision import Option, cures, options
from luffwright.advice.doubt import scaled
from luffwright.advice.next_look import NextLook, next_look
from luffwright.advice.posterior import BLURRED, after, moved, streams
from luffwright.advice.readings import TUFTS
from luffwright.app.fix_infer import Inferred
from luffwright.app.fix_words import listed, sentence, streaming, tuft_word
from luffwright.units import from_knots

LOOKS = 3
"""How often a tuft has to show the same until it is hardly misread: 4 % each time."""
BELIEVED = 0.25
"""Share of boats that truly do what was seen from which it is believed."""
WORTH_A_LOOK = float(from_knots(0.01))
"""What a look has to bring to be asked for [m/s]: what a move has to."""

LOOK_FIRST = "First look again for ten seconds:"
"""How a doubt begins, so that a page can set its first sentence before the move."""
HELPS = 0.1
"""Share of boats that has to gain a streaming tuft by a move that is said to help."""
LEAST_SIGHT = 0.75
"""Share of the best move's worth below which one that has a tuft stream is not told before it: a
judgement, as is its like below."""
TOLD = 5
LEAST_GAIN = float(from_knots(0.01))
"""Expected gain below which nothing is told [m/s]: five times what two solves may differ by."""
LEAST_TOLD = 0.25
"""Share of the best move's worth below which another one is not told."""


@dataclass(frozen=True)
class Doubted:
    """A tuft that was seen gone, the share of boats that fit on which it `streams` [-], and its
    mean `margin` there [rad].
    """

    name: str
    streams: float
    margin: float


def doubted(found: Inferred) -> tuple[Doubted, ...]:
    """Return the tufts last seen gone that stream on nearly all boats that fit.

    Parameters
    ----------
    found : Inferred

    Returns
    -------
    tuple of Doubted
        None of a level where both sides are gone at once, which no sail does: that is said apart.
    """
    boats, surfaces = found.boats, found.known.surfaces
    there = scaled(boats.axes, moved(boats.axes, boats.points, found.now))
    last = dict(found.sightings[-1].tufts)
    gone = [
        name for name, streaming in last.items() if not streaming and last.get(_other(name), True)
    ]
    found_so = (
        Doubted(
            name, float(boats.weights @ streams(surfaces, name, there)),
            float(boats.weights @ surfaces[name](there)),
        )
        for name in gone
    )  # fmt: skip
    return tuple(it for it in found_so if it.streams > 1.0 - BELIEVED)


def _other(name: str) -> str:
    """Return the name of the tuft on the other side of the sail, none for others."""
    side, _, level = name.partition("_")
    other = {"windward": "leeward", "leeward": "windward"}.get(side)
    return f"{other}_{level}"


def seen_again(found: Inferred) -> Inferred:
    """Return what would be known if the last look showed the same each time.

    Parameters
    ----------
    found : Inferred

    Returns
    -------
    Inferred
        Its moves are not sought yet.
    """
    again = (*found.sightings, *(LOOKS - 1) * (found.sightings[-1],))
    boats = after(found.boats.axes, found.known.surfaces, again)
    return replace(found, boats=boats, options=())


def moves_of(again: Inferred) -> tuple[Option, ...]:
    """Return the moves on boats that do what was seen: what has the tufts stream, or where nothing
    does what gains, best first.
    """
    if found := cures_of(again):
        return found
    moves = options(again.boats, again.known.surfaces, again.deck, again.now)
    return tuple(it for it in moves if it.gain >= WORTH_A_LOOK)


def cures_of(found: Inferred, tufts: tuple[Doubted, ...] = ()) -> tuple[Option, ...]:
    """Return the moves after which the headsail's tufts most likely all stream.

    Parameters
    ----------
    found : Inferred
    tufts : tuple of Doubted
        Taken to be gone although the mechanics have them stream: as if each had so much less
        margin than computed, wherever the controls stand.

    Returns
    -------
    tuple of Option
    """
    off = {it.name: -it.margin - BLURRED for it in tufts}
    return cures(found.boats, found.known.surfaces, found.deck, found.now, off)


def worth_telling(options: tuple[Option, ...]) -> list[Option]:
    """Return the moves that are worth telling: not what gains far less than the best one, nor what
    costs more in the end than it brings now.
    """
    good = [it for it in options if it.gain >= LEAST_GAIN and it.worth > 0.0]
    return [it for it in good if it.worth >= LEAST_TOLD * good[0].worth][:TOLD]


def by_sight(found: Inferred, moves: list[Option]) -> list[Option]:
    """Return moves best first, ahead of them the best that does something about what was seen.

    A crew asks about the tufts: of what is worth telling it is told first what has those of the
    headsail stream that do not, and after it what may bring more elsewhere, up to a third more.

    Parameters
    ----------
    found : Inferred
    moves : list of Option
        Worth telling, by their gain.

    Returns
    -------
    list of Option
    """
    near = [it for it in moves if it.worth >= LEAST_SIGHT * moves[0].worth]
    first = next(iter(helpers(found, near)), None)
    return moves if first is None else [first, *(it for it in moves if it is not first)]


def gone_tufts(found: Inferred) -> list[int]:
    """Return which of the headsail's tufts were last seen gone, by their places among all."""
    gone = {name for name, streaming in found.sightings[-1].tufts if not streaming}
    return [k for k, name in enumerate(TUFTS) if name in gone]


def any_gone(found: Inferred) -> bool:
    """Return whether any of the headsail's tufts was last seen gone."""
    return bool(found.sightings) and bool(gone_tufts(found))


def helpers(found: Inferred, moves: list[Option]) -> list[Option]:
    """Return the moves that have tufts of the headsail stream that were last seen gone."""
    if not moves or not (at := gone_tufts(found)):
        return []
    before = streaming(found.known, found.boats, found.now)[at]
    out = []
    for move in moves:
        then = {name: found.now.get(name, 0.0) + by for name, by in move.by.items()}
        after_it = streaming(found.known, found.boats, {**found.now, **then})[at]
        if float(np.mean(after_it - before)) > HELPS:
            out.append(move)
    return out


def unanswered(found: Inferred, moves: list[Option]) -> bool:
    """Return whether tufts of the headsail were seen gone, and no move does anything about it."""
    return bool(gone_tufts(found)) and not helpers(found, moves)


def taken_back(options: tuple[Option, ...], told: list[Option]) -> Option | None:
    """Return the move that is not told though it would bring more at once than the one told first:
    it would have to be taken back once all ropes stand where her file has them best.
    """
    first = told[0].gain if told else np.inf
    names = {it.control for it in told}
    more = [
        it for it in options
        if it.control not in names and it.gain > first and it.last is not None and it.last < 0.0
    ]  # fmt: skip
    return max(more, key=lambda it: it.gain, default=None)


def doubt_words(found: Inferred, again: Inferred, then: Option | None) -> str:
    """Return that a sighting hardly fits, and what to do if it shows again.

    Parameters
    ----------
    found : Inferred
    again : Inferred
        What would be known if it shows again.
    then : Option, optional
        The best move in that case.

    Returns
    -------
    str
    """
    odd = doubted(found)
    seen = listed([f"the {tuft_word(it.name)} {gone_word(it.name)}" for it in odd])
    share = min(9, round(10.0 * min(it.streams for it in odd)))
    one = len(odd) == 1
    told = (
        f"{LOOK_FIRST} {seen} hardly {'fits' if one else 'fit'} her. With wind, course and marks "
        f"as told {'it streams' if one else 'they stream'} on {share} of 10 boats that fit the "
        f"rest: {'is the tuft' if one else 'are the tufts'} dry and free?"
    )
    if doubted(again):
        told += (
            " If it shows again, her sail is cut or led otherwise than her file and marks say, or "
            "the air swings past her (chop, a helm that hunts)"
        )
        return f"{told}: check the marks" + (
            "." if then is None else f", then {order(found, then)}."
        )
    if then is None:
        return f"{told} If it shows again, check the marks: no move is found that gains."
    return f"{told} If it shows again: {order(found, then)}."


def if_seen_right(odd: tuple[Doubted, ...]) -> str:
    """Return what should be seen after a move that has doubted tufts stream.

    Parameters
    ----------
    odd : tuple of Doubted
        One at least.

    Returns
    -------
    str

    Examples
    --------
    >>> if_seen_right((Doubted("leeward_top", 0.9, 0.04),))
    'the top outside tuft streams more of the time, if seen right'
    """
    names = listed([f"the {tuft_word(it.name)}" for it in odd])
    return f"{names} stream{'s' if len(odd) == 1 else ''} more of the time, if seen right"


def look_words(found: Inferred, moves: tuple[Option, ...]) -> str:
    """Return what to look at next where that decides between moves; nothing where none does.

    Parameters
    ----------
    found : Inferred
    moves : tuple of Option

    Returns
    -------
    str
    """
    best = next_look(found.boats, found.known.surfaces, found.now, moves)
    if best is None or best.worth < WORTH_A_LOOK:
        return ""
    return _either(found, best)


def _either(found: Inferred, look: NextLook) -> str:
    ways = [
        "leave her as she is" if it is None else order(found, it)
        for it in (look.streaming, look.gone)
    ]
    return (
        f"What tells most next is the {tuft_word(look.name)}, watched for ten seconds: if it "
        f"streams, {ways[0]}; if it {gone_word(look.name, now=True)}, {ways[1]}."
    )


def order(found: Inferred, option: Option) -> str:
    """Return a move's order to the crew."""
    return sentence(found.known, option, found.stands, set(found.given))


def gone_word(name: str, *, now: bool = False) -> str:
    """Return what a tuft does that does not stream.

    Examples
    --------
    >>> gone_word("windward_top"), gone_word("leeward_low", now=True)
    ('lifting', 'stalls')
    """
    lifts = name.startswith("windward") or name == "backwind"
    if name.endswith("flutter"):
        return "flutters" if now else "fluttering"
    return ("lifts" if now else "lifting") if lifts else ("stalls" if now else "stalled")
