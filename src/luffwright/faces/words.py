"""Deck words for what the answers name by key."""

from __future__ import annotations

import re

from luffwright.aboard.mark import UNMARKED
from luffwright.app.answer import (
    BoatState,
    Conditions,
    FlyAnswer,
    LevelReading,
    SailReading,
    Status,
)
from luffwright.app.by_eye import SLACK

LEAST_KN = SLACK / 1000.0
"""What carries less is told as slack."""

LEVELS = ("top", "middle", "low")

_ROPES = {
    "sheet": "headsail sheet",
    "lead": "headsail car",
    "clew_hole": "clew board",
    "lead_out": "headsail lead",
    "halyard": "headsail halyard",
    "furl": "furler",
    "backstay": "backstay",
    "mainsheet": "mainsheet",
    "traveller": "traveller",
    "vang": "vang",
    "cunningham": "cunningham",
    "outhaul": "outhaul",
    "reef": "reef",
    "main_furl": "mainsail furler",
    "pole": "headsail pole",
    "main_halyard": "main halyard",
}


def headsail_word(sails: tuple[SailReading, ...]) -> str:
    """Return what this boat's crew calls the headsail."""
    names = [sail.name.lower() for sail in sails if sail.role == "headsail"]
    known = [word for word in ("genoa", "jib") if names and word in names[0]]
    return known[0] if known else "headsail"


def rope_word(key: str, headsail: str) -> str:
    """Return the deck's word for a control, a rope or a stay.

    Examples
    --------
    >>> rope_word("lead", "genoa")
    'genoa car'
    """
    return _ROPES.get(key, key.replace("_", " ")).replace("headsail", headsail)


def control_key(name: str) -> str:
    """Return a control's key from what answers call its rope; other names as they are.

    Examples
    --------
    >>> control_key("genoa car"), control_key("CAR"), control_key("furler"), control_key("lead")
    ('lead', 'lead', 'furl', 'lead')
    """
    if name.strip() in _ROPES:
        return name.strip()
    keys = {word: key for key, word in _ROPES.items()}
    word = name.strip().lower().replace("_", " ")
    for sail in ("genoa", "jib"):
        word = word.replace(sail, "headsail")
    return keys.get(word) or keys.get(f"headsail {word}") or name.strip()


def sail_word(sail: SailReading, headsail: str) -> str:
    """Return the deck's word for a sail."""
    return headsail if sail.role == "headsail" else "mainsail"


def status_words(status: Status) -> str:
    """Return the status of a state as one says it."""
    return {"failed": "Not settled"}.get(status, capital(status))


def at_best(sails: tuple[SailReading, ...]) -> str:
    """Return which tufts are in trouble where the search has put the sails, as a calm sentence."""
    headsail = headsail_word(sails)
    told = []
    for trouble, tuft in (("stalled", "outside tufts stall"), ("lifting", "inside tufts lift")):
        places = [
            f"{sail_word(sail, headsail)} {', '.join(levels)}"
            for sail in sails
            if (levels := [it.level for it in sail.levels if trouble in (it.windward, it.leeward)])
        ]
        if places:
            told.append(f"{tuft} ({'; '.join(places)})")
    return f"At the most drive {', '.join(told)}." if told else ""


def gains(text: str) -> tuple[str, str, str] | None:
    """Return a step of trim as move, drive and heeling moment in words; nothing where the step
    tells none.

    Examples
    --------
    >>> gains("GENOA CAR 2 holes aft (hole 7 → hole 9): drive +1.2 %, heeling moment -0.0 %")
    ('GENOA CAR 2 holes aft', '1.2 % more', 'the same')
    """
    found = _STEP.fullmatch(text)
    return (found["move"], _more(found["drive"]), _more(found["moment"])) if found else None


def move_alone(text: str) -> str:
    """Return a step's text without the marks it leads from and to.

    Examples
    --------
    >>> move_alone("GENOA CAR 2 holes aft (hole 7 → hole 9): opens the top")
    'GENOA CAR 2 holes aft: opens the top'
    """
    return _FROM_TO.sub("", text)


_FROM_TO = re.compile(r" \([^()]*→[^()]*\)")
_STEP = re.compile(
    r"(?P<move>[^(:]*?)(?: \([^()]*→[^()]*\))?: "
    r"drive (?P<drive>[+-][\d.]+) %, heeling moment (?P<moment>[+-][\d.]+) %"
)


def _more(change_pct: str) -> str:
    """Return a change in per cent as more, less or the same."""
    change = float(change_pct)
    if abs(change) < 0.05:
        return "the same"
    return f"{abs(change):.1f} % {'more' if change > 0.0 else 'less'}"


def shroud_word(name: str) -> str:
    """Return the deck's word for a pair of shrouds.

    Examples
    --------
    >>> shroud_word("aft_lower")
    'aft lower shroud'
    """
    words = name.replace("_", " ")
    return words if "shroud" in words else f"{words} shroud"


def wind_words(conditions: Conditions) -> str:
    """Return the true wind: strength, angle and side; halves of a knot as they were asked."""
    return f"{round(conditions.wind_kn, 1):g} kn {angle_words(conditions.angle_deg)}"


def mark_words(answer: FlyAnswer, name: str) -> str:
    """Return where a control stands; of a vang, too, whether it pulls with the boom where it is.

    Its mark is counted with the mainsheet on its own mark: with the boom out and up the same length
    of rope may hold it hard, or hang loose.

    Parameters
    ----------
    answer : FlyAnswer
    name : str
        The control's.
    """
    control, load = answer.controls[name], answer.loads.get("vang")
    if name != "vang" or load is None or UNMARKED in control.mark:
        return control.mark
    pulls = load.load_kn >= LEAST_KN
    if pulls and control.value < 0.0:
        return f"{control.mark} by its mark, and holding the boom down as it lies"
    if not pulls and control.value > 0.0:
        return f"{control.mark} by its mark, and slack as the boom lies"
    return control.mark


def apparent_words(conditions: Conditions) -> str:
    """Return the apparent wind: strength, angle and side."""
    angle = angle_words(conditions.apparent_angle_deg)
    return f"{conditions.apparent_wind_kn:.0f} kn {angle}"


ASTERN = 179.5
"""From here on neither side has the wind [°]."""


def angle_words(angle_deg: float) -> str:
    """Return an angle off the bow with its side.

    Parameters
    ----------
    angle_deg : float
        Over the starboard side positive. [°]

    Examples
    --------
    >>> angle_words(-44.6), angle_words(-179.8)
    ('at 45° to port', 'from right astern')
    """
    if abs(angle_deg) >= ASTERN:
        return "from right astern"
    return f"at {abs(angle_deg):.0f}° to {side(angle_deg)}"


def side(angle_deg: float) -> str:
    """Return the side the wind comes from, which names the tack too.

    Parameters
    ----------
    angle_deg : float
        Of the wind, over the starboard side positive. [°]
    """
    return "port" if angle_deg < 0 else "starboard"


def helm_words(boat: BoatState) -> str:
    """Return the helm in words, or that it is not computed."""
    if boat.rudder_deg is None:
        return "not computed"
    if abs(boat.rudder_deg) < 0.5:
        return "neutral"
    return f"{abs(boat.rudder_deg):.0f}° {'weather' if boat.rudder_deg > 0 else 'lee'} helm"


def inside_words(level: LevelReading) -> str:
    """Return what the inside tuft does, and for which share of the time."""
    return _state_words(level.windward, level.windward_lifting_pct)


def outside_words(level: LevelReading) -> str:
    """Return what the outside tuft does, and for which share of the time."""
    return _state_words(level.leeward, level.leeward_stalled_pct)


def leech_words(level: LevelReading) -> str:
    """Return what the tuft on the leech does, and for which share of the time."""
    return _state_words(level.leech, level.leech_stalled_pct)


def _state_words(state: str | None, trouble_pct: float | None) -> str:
    """Return a tuft's state with its own share of the time, unless that is nearly all of it.

    Nothing where there is no tuft.
    """
    if state is None:
        return ""
    word = {"streaming": "streams", "lifting": "lifts", "stalled": "stalls"}[state]
    if trouble_pct is None:
        return word
    share = 100.0 - trouble_pct if state == "streaming" else trouble_pct
    # The swing is known within a factor of two: five per cent is as fine as a share can be told.
    share = 5.0 * round(share / 5.0)
    return f"{word} {share:.0f} %" if share < 100.0 else word


def shares_key(sails: tuple[SailReading, ...]) -> str:
    """Return what a tuft's per cent mean, where any are told."""
    told = any(
        share is not None
        for sail in sails
        for it in sail.levels
        for share in (it.windward_lifting_pct, it.leeward_stalled_pct, it.leech_stalled_pct)
    )
    return "% of a tuft: share of the time. " if told else ""


_MISSING = {
    "boat.rudder_deg": "the helm",
    "boat.bands": "how far speed, heel and leeway may be off",
    "conditions.sensor_wind_kn": "what the masthead instruments read",
    "conditions.sensor_angle_deg": "what the masthead instruments read",
    "sails.levels.windward_lifting_pct": "for which share of the time a tuft lifts or stalls",
    "sails.levels.leeward_stalled_pct": "for which share of the time a tuft lifts or stalls",
    "sails.levels.leech_stalled_pct": "for which share of the time a tuft lifts or stalls",
    "balance of speed, heel and leeway (held)": "the balance of speed, heel and leeway",
    "worth.loss_down_kn": "what each control is worth in speed and time",
    "worth.loss_up_kn": "what each control is worth in speed and time",
    "worth.minutes_per_hour": "what each control is worth in speed and time",
}


def missing_words(keys: tuple[str, ...]) -> list[str]:
    """Return what is not computed, each thing once.

    Examples
    --------
    >>> missing_words(("boat.rudder_deg", "waves"))
    ['the helm', 'waves']
    """
    return list(dict.fromkeys(_MISSING.get(key, key) for key in keys))


def minutes(per_hour: float) -> str:
    """Return a loss of time in an hour, to the half minute.

    Parameters
    ----------
    per_hour : float
        Lost in an hour. [min]

    Examples
    --------
    >>> minutes(1.6)
    '1½ min an hour'
    """
    halves = round(2.0 * per_hour)
    if halves < 1:
        return "under ½ min an hour"
    whole = str(halves // 2) if halves > 1 else ""
    return f"{whole}{'½' if halves % 2 else ''} min an hour"


FOLDED = 60.0
"""Depth from which on cloth is told to be folded and not deep [%]: bags on a run are 50 % deep."""


def depth_words(camber_pct: float) -> str:
    """Return how deep a section is.

    Parameters
    ----------
    camber_pct : float
        Of the chord. [%]

    Examples
    --------
    >>> depth_words(12.3), depth_words(404.0)
    ('12 %', 'folded')
    """
    return f"{camber_pct:.0f} %" if camber_pct <= FOLDED else "folded"


def degrees(angle_deg: float) -> str:
    """Return an angle in whole degrees.

    Parameters
    ----------
    angle_deg : float
        [°]

    Examples
    --------
    >>> degrees(21.4), degrees(-0.3)
    ('21°', '0°')
    """
    return f"{round(angle_deg)}°"


def capital(text: str) -> str:
    """Return a text with a capital first letter and the rest as it is."""
    return text[:1].upper() + text[1:]
