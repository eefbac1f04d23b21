"""What to mind: the reef call first, then loads, deep angles and gusts, and what settings are."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from luffwright.advice.load_limit import AT_REST, allowed_share
from luffwright.app.answer import Caution
from luffwright.app.call import CALL
from luffwright.app.question import Question
from luffwright.app.reef import table_call
from luffwright.app.reef_words import (
    HEEL_LIMIT_DEG,
    SLACK,
    felt_words,
    headsail_of,
    load_word,
    next_words,
    table_words,
)
from luffwright.sails.flight import Flight
from luffwright.sails.setting import Setting
from luffwright.units import to_knots

DEEP_DEG = 150.0
GUSTY = 1.4
"""Gust over mean wind above which the gusts rule."""
STRONG_KN = 21.5
"""Beaufort 6 begins: small-craft warnings are given from about here."""
NO_LIMITS = (
    "Starting settings for this wind and sea, no limits of the boat: the lower of her manual and "
    "this answer counts, and local rules stand above both."
)
NOTES = (
    NO_LIMITS,
    "Loads are estimates: the maker's figures and a rigger's judgement stand above them.",
    "Unload a sheet before its car is moved; keep fingers clear of sheave and winch.",
)
DEEP = (
    "Deep angle: rig a preventer, keep out of the mainsheet's way and never stand or pass under "
    "the boom; an accidental gybe can kill. Brief the crew before you gybe."
)
POLE = (
    "Pole: set it up with lift, foreguy or downhaul and sheet before the sail is on it, and the "
    "preventer on the boom. Whoever goes forward wears a harness, clips on and stands clear of "
    "pole and sheets; nobody stands on the foredeck while it is loaded. Roll the headsail away "
    "before you gybe, round up or lower the pole. The boat's manual and a rigger's word stand "
    "above this answer."
)
CLEW_BOARD = (
    "Clew board: furl or drop the sail and unload its sheet before a hole is changed, and clip on "
    "to go there; a clew that flogs can break bones."
)
REEFED = (
    "With a reef in, its own line and tack take the sail's corners: what is said of the outhaul is "
    "for the reef line, of the cunningham for the halyard; the reef points carry nothing."
)
STRONG = (
    "Strong wind: think of reefing first; the boat's own reefing table and local rules stand above "
    "this answer."
)


GALE_KN = 33.5
"""Beaufort 8 begins."""
GALE = (
    "Gale: what trim brings is not what counts now. Shorten down to what the boat's manual has for "
    "it, storm sails among it; everyone clipped on, nobody forward for the sake of speed. Sea room "
    "or shelter come before this answer."
)


@dataclass(frozen=True)
class Seen:
    """What cautions look at: where the ropes stand, the true wind's `angle_deg`, heel and rudder
    where they are balanced or given [°], and the `loads` as shares of what breaks each [%].
    """

    setting: Setting
    angle_deg: float
    heel_deg: float | None = None
    rudder_deg: float | None = None
    loads: dict[str, float] = field(default_factory=dict)


def load_shares(flight: Flight) -> dict[str, float]:
    """Return the share of its breaking load that each rope and stay carries, by name [%]."""
    ropes = flight.rigging.ropes
    return {
        name: 100.0 * flight.pull(name) / float(breaking)
        for name, breaking in zip(ropes.names, ropes.breaking, strict=True)
        if breaking > 0.0
    }


def cautions(asked: Question, seen: Seen) -> tuple[Caution, ...]:
    """Return what to mind, in the order in which it is to be read: a reef call before all else.

    Parameters
    ----------
    asked : Question
        As asked, not as solved: what the table says of a wind does not hang on a solution.
    seen : Seen

    Returns
    -------
    tuple of Caution
    """
    reef = [*_reef(asked, seen), *_reef_for_gusts(asked, seen)]
    warned = [*reef, *_loads(asked, seen, called=bool(reef)), *_deep(asked, seen), *_gusts(asked)]
    warned += [POLE] if seen.setting.poled else []
    warned += _strong(asked)
    reefed = [REEFED] if seen.setting.reef else []
    board = [CLEW_BOARD] if seen.setting.clew_hole is not None else []
    notes = [*_next(asked, seen), *_taut(asked, seen), *reefed, *board, *NOTES]
    return (
        *(Caution("warning", text) for text in warned),
        *(Caution("note", text) for text in notes),
    )


def _eased_first(asked: Question, seen: Seen) -> tuple[str, ...]:
    """Return the stays that a slacker backstay relieves, where there is any to slacken."""
    taken = seen.setting.value("backstay")
    has = any(entry.name == "backstay" for entry in asked.boat.plan.controls)
    return ("backstay", "forestay") if has and taken > 1e-6 else ()


def _over(seen: Seen) -> dict[str, float]:
    return {name: share for name, share in seen.loads.items() if share > SLACK * _most(name)}


def _most(name: str) -> float:
    """Return the most that a rope or stay may carry under sail [% of what breaks it]."""
    return 100.0 * allowed_share(name)


def _reef(asked: Question, seen: Seen) -> list[str]:
    """Return the reef calls: by the table, and by what a monohull's crew feels."""
    call = table_call(asked, seen.setting)
    told = [table_words(asked, call)] if call is not None and call.called else []
    first = _eased_first(asked, seen)
    loads = {
        load_word(name, headsail_of(asked)): (share, _most(name))
        for name, share in _over(seen).items()
        if name not in first
    }
    felt = felt_words(asked, seen.setting, seen.heel_deg, seen.rudder_deg, loads)
    return [*told, felt] if felt else told


def _next(asked: Question, seen: Seen) -> list[str]:
    call = table_call(asked, seen.setting)
    return [next_words(asked, call)] if call is not None and not call.called else []


def _loads(asked: Question, seen: Seen, *, called: bool) -> list[str]:
    """Return what carries too much, each by name, unless the reef call has named it."""
    first, headsail = _eased_first(asked, seen), headsail_of(asked)
    over = {load_word(name, headsail): share for name, share in _over(seen).items()}
    out = []
    if stays := {name: over.pop(name) for name in first if name in over}:
        names = " and ".join(f"the {name} {share:.0f} %" for name, share in stays.items())
        do = "reef, and ease the backstay" if called else "ease the backstay before anything else"
        out.append(f"Of what breaks them carry {names}: {do}.")
    if called and asked.boat.hull.kind == "monohull":
        return out
    return out + [
        f"The {word} carries {share:.0f} % of what breaks it: reduce sail or ease before anything "
        f"else."
        for word, share in over.items()
    ]


def _taut(asked: Question, seen: Seen) -> list[str]:
    """Return which stays carry more than would be right for them at rest, each by name."""
    taut = {
        load_word(name, headsail_of(asked)): share
        for name, share in seen.loads.items()
        if share > 100.0 * AT_REST and allowed_share(name) > AT_REST
    }
    if not taut:
        return []
    names = ", ".join(f"the {word} {share:.0f} %" for word, share in taut.items())
    ease = " Ease the backstay in the harbour." if _eased_first(asked, seen) else ""
    told = f"Of what breaks them carry {names}, under sail, with sound wire and fittings"
    return [f"{told}; at rest a quarter is the most.{ease} Ask a rigger."]


def _deep(asked: Question, seen: Seen) -> list[str]:
    if seen.angle_deg < DEEP_DEG - 1e-6 and asked.request.angle_deg != "downwind":
        return []
    return [DEEP]


def _gusts(asked: Question) -> list[str]:
    gust, mean = asked.request.gust_kn, to_knots(asked.stream.profile.speed)
    if gust is None or gust <= GUSTY * mean:
        return []
    told = f"{gust:.0f} kn on a mean of {mean:.0f}, {(gust / mean) ** 2:.1f} times its pressure"
    return [f"Gusty: {told}. Trim and reef for the gusts, and keep the sheets in hand."]


def _reef_for_gusts(asked: Question, seen: Seen) -> list[str]:
    """Return the reef call of a monohull for gusts by which her sails are pressed too much.

    The table of two hulls counts the gusts; heel, helm and loads are those of the mean wind.
    """
    gust, mean = asked.request.gust_kn, to_knots(asked.stream.profile.speed)
    if asked.boat.hull.kind != "monohull" or gust is None or gust <= GUSTY * mean:
        return []
    heel, times = seen.heel_deg, (gust / mean) ** 2
    if heel is None or not heel * times > HEEL_LIMIT_DEG * SLACK:
        return []
    told = f"{gust:.0f} kn press {times:.1f} times as hard as the mean of {mean:.0f}"
    less = f"she heels {heel:.0f}° in that; ask for the trim in {gust:.0f} kn"
    return [f"{CALL}reef for the gusts first: {told}, and {less}."]


def _strong(asked: Question) -> list[str]:
    wind = to_knots(asked.stream.profile.speed)
    return [GALE] if wind >= GALE_KN else [STRONG] if wind >= STRONG_KN else []


def seen_of(
    flight: Flight, heel_deg: float | None = None, rudder_deg: float | None = None
) -> Seen:  # fmt: skip
    """Return what cautions look at in a flight; what did not settle carries no load to tell of.

    Parameters
    ----------
    flight : Flight
    heel_deg, rudder_deg : float, optional
        Where they are balanced or given. [°]

    Returns
    -------
    Seen
    """
    angle = abs(float(np.degrees(flight.stream.wind_angle)))
    loads = load_shares(flight) if flight.settled else {}
    return Seen(flight.setting, angle, heel_deg, rudder_deg, loads)
