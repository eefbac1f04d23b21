"""What was seen, from the command line's short texts to the fields of a request."""

from __future__ import annotations

from collections.abc import Mapping

from luffwright.errors import InputError
from luffwright.faces.words import control_key

LEVELS = ("top", "middle", "low")
TUFTS = (
    "write inside/outside, as --top lifting/streaming, with ? for what was not looked at (in "
    "quotes, as '?/stalled', or a shell reads it as a file)"
)
THEN = "write --then 'lead=hole:9 top=streaming/streaming', all in one text"


def look(given: Mapping[str, str | None]) -> dict[str, object]:
    """Return one look from its parts: `top`, `middle`, `low` as inside/outside, `main-top` and so
    on for the mainsail's leech, `heel`, `speed`, `helm`, `rudder`, `backwinds`, `flutters`.

    Raises
    ------
    InputError
        For tufts that are not told as a pair.

    Examples
    --------
    >>> look({"top": "lifting/?", "helm": "weather"})
    {'headsail': {'top': {'windward': 'lifting', 'leeward': '?'}}, 'helm': 'weather'}
    """
    told = {name: text for name, text in given.items() if text is not None}
    out: dict[str, object] = {}
    head = {level: _pair(level, told[level]) for level in LEVELS if level in told}
    main = {level: told[f"main-{level}"] for level in LEVELS if f"main-{level}" in told}
    if head:
        out["headsail"] = head
    if main:
        out["mainsail_leech"] = main
    for name, key in _PLAIN.items():
        if name in told:
            out[key] = told[name]
    return out


_PLAIN = {
    "heel": "heel_deg", "speed": "speed_kn", "helm": "helm", "rudder": "rudder_deg",
    "backwinds": "mainsail_backwinds", "flutters": "leech_flutters", "lower": "turned_deg",
}  # fmt: skip


def _pair(level: str, text: str) -> dict[str, str]:
    inside, slash, outside = text.partition("/")
    if not slash:
        raise InputError(f"--{level}", text, "must be two words", TUFTS)
    return {"windward": inside.strip() or "?", "leeward": outside.strip() or "?"}


def then(text: str) -> dict[str, object]:
    """Return a later look from one text: what was moved to where, and what is seen since.

    Raises
    ------
    InputError
        For a part that has no value.

    Examples
    --------
    >>> then("lead=hole:9 lower=2 top=streaming/streaming")["moved"]
    {'lead': 'hole:9'}
    """
    parts: dict[str, str | None] = {}
    for word in text.replace(";", " ").split():
        name, equals, value = word.partition("=")
        if not (name and equals and value):
            raise InputError("--then", word, "must be NAME=VALUE", THEN)
        parts[name] = value
    words = {*LEVELS, *(f"main-{level}" for level in LEVELS), *_PLAIN}
    moved = {control_key(name): value for name, value in parts.items() if name not in words}
    return {**look({n: v for n, v in parts.items() if n in words}), "moved": moved}
