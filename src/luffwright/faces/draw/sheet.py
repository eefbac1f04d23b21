"""One sheet with all drawings of a state, 390 px wide for a phone."""

from __future__ import annotations

from textwrap import wrap

from luffwright.app.answer import BoatPicture, FlyAnswer, TrimAnswer
from luffwright.faces.draw.ink import INK, MUTED, TROUBLE, Hand, document, group, label
from luffwright.faces.draw.profile import profile
from luffwright.faces.draw.sections import readings_told, sections
from luffwright.faces.words import at_best, capital, degrees, side, status_words, wind_words

WIDTH = 390.0
_BROAD = 4.0 / 3.0
_LARGER = 1.5


def sheet(answer: FlyAnswer, picture: BoatPicture, *, alone: bool = True) -> str:
    """Return the drawing of a state as SVG: sections from above, then the sails from windward.

    Standing `alone` in a broad window, the two drawings move side by side; within a page they
    stay one below the other.
    """
    from_starboard = answer.conditions.angle_deg >= 0
    # Leeward lies to port with the wind from starboard: to the left with the bow up.
    above, above_height = sections(answer, picture, -1.0 if from_starboard else 1.0)
    aside, aside_height = profile(answer, picture, 1.0 if from_starboard else -1.0)
    title, words, top = _heading(answer)
    height = top + above_height + aside_height
    parts = [
        group(words, title, name="heading"),
        group(above, "From above, bow up", (0.0, top), name="above"),
        group(aside, "From windward", (0.0, top + above_height), name="aside"),
    ]
    told = " ".join(readings_told(sail) for sail in answer.sails)
    rule = _side_by_side(top, above_height, aside_height) if alone else ""
    return document(parts, (WIDTH, height), title, told, rule)


def _side_by_side(top: float, above: float, aside: float) -> str:
    """Return the rule that lays out a broad window, whose height shows all of `height` [px]."""
    height = top + above + aside
    left = 0.5 * (WIDTH - _BROAD * height)
    below = _LARGER * top
    first = (height - below) / above
    second = min((height - below) / aside, _BROAD * height / WIDTH - first)
    places = (
        ("heading", left, 0.0, _LARGER),
        ("above", left, below, first),
        ("aside", left + first * WIDTH, 0.5 * (height + below - second * aside), second),
    )
    moves = "".join(
        f".{name}{{transform:translate({x:.1f}px,{y:.1f}px) scale({scale:.3f})}}"
        for name, x, y, scale in places
    )
    return f"@media (min-aspect-ratio: 4/3){{{moves}}}"


def _heading(answer: FlyAnswer) -> tuple[str, list[str], float]:
    """Return tack and wind, these with what the boat does as drawn words, and their height [px]."""
    conditions, boat = answer.conditions, answer.boat
    tack = capital(side(conditions.angle_deg))
    title = f"{tack} tack, {wind_words(conditions).rsplit(' to ', 1)[0]}"
    state = (
        f"true wind, waves {conditions.wave_height_m:.1f} m · "
        f"boat {boat.speed_kn:.1f} kn, heel {degrees(boat.heel_deg)}, "
        f"leeway {degrees(boat.leeway_deg)}"
    )
    words = [
        label((12.0, 24.0), title, Hand(18, INK, bold=True)),
        label((12.0, 42.0), state, Hand(12.5, MUTED)),
    ]
    if answer.status == "converged":
        return title, words, 54.0
    told = f"{status_words(answer.status)}: {answer.reason}"
    hand = Hand(13, TROUBLE, bold=True)
    if isinstance(answer, TrimAnswer) and answer.status != "failed":
        # What the search has chosen is no alarm.
        told, hand = at_best(answer.sails), Hand(13, INK)
    for count, line in enumerate(wrap(told, 48)):
        words.append(label((12.0, 62.0 + 16.0 * count), line, hand))
    return title, words, 58.0 + 16.0 * (len(words) - 2)
