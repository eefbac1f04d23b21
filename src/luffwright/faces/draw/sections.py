"""Three sections of the sails from above, to scale, bow up, with wind, tufts and shape."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin

from luffwright.app.answer import (
    BoatPicture,
    FlyAnswer,
    LevelReading,
    SailPicture,
    SailReading,
    SectionPicture,
)
from luffwright.faces.draw.deck import aftmost, deck
from luffwright.faces.draw.ink import (
    FAINT,
    INK,
    MUTED,
    PAPER,
    SAILS,
    TROUBLE,
    WIND,
    Hand,
    Pen,
    Point,
    arrow,
    dot,
    group,
    label,
    polyline,
)
from luffwright.faces.draw.tuft import Cloth, tufts
from luffwright.faces.draw.view import View, fitted
from luffwright.faces.words import (
    capital,
    depth_words,
    headsail_word,
    inside_words,
    leech_words,
    outside_words,
    sail_word,
    shares_key,
)

LEVELS = ("low", "middle", "top")
WIDTH, PANEL, TALLEST = 390.0, 130.0, 284.0
_HEAD, _ARROW_PX, _GAP_PX = 54.0, 40.0, 13.0
_ROW = 31.0
_KEY = ("Bold above the bows: apparent wind at that height.", "Depth in % of the chord.")
_LEECH_TUFT = 0.9
"""Room for a leech tuft of a sail that is out beyond the deck. [m]"""


def sections(answer: FlyAnswer, picture: BoatPicture, turn: float) -> tuple[list[str], float]:
    """Return the three sections above the words on their tufts, and the height of all [px].

    Parameters
    ----------
    answer : FlyAnswer
        With the readings of each level.
    picture : BoatPicture
        With the sections.
    turn : float
        −1 with the wind from starboard: leeward lies to the left of the page. [-]
    """
    drawn, room = _panels(answer, picture, turn, Shown())
    rows = _rows(answer)
    below = _HEAD + room + 34.0
    for count, (title, colour, cells) in enumerate(rows):
        drawn.append(_row(below + count * _ROW, title, colour, cells))
    below += len(rows) * _ROW
    for line in (*_KEY, shares_key(answer.sails).strip()):
        if line:
            drawn.append(label((17.0, below), line, Hand(10, MUTED)))
            below += 13.0
    return drawn, below + 2.0


@dataclass(frozen=True)
class Shown:
    """What a panel shows beside the sails: the `best` trim, dashed; tufts that are `lively`."""

    best: BoatPicture | None = None
    lively: bool = False


def panels(
    answer: FlyAnswer, picture: BoatPicture, turn: float, shown: Shown
) -> tuple[list[str], float]:
    """Return the three sections alone, without words on their tufts, and their height [px].

    Parameters
    ----------
    answer : FlyAnswer
    picture : BoatPicture
    turn : float
        As in `sections`. [-]
    shown : Shown
    """
    drawn, room = _panels(answer, picture, turn, shown)
    return drawn, _HEAD + room + 10.0


def _panels(
    answer: FlyAnswer, picture: BoatPicture, turn: float, shown: Shown
) -> tuple[list[str], float]:
    """Return the panels, and the room that their sails take [px]."""
    drawn = []
    room = _room(picture, turn)
    for column, level in enumerate(LEVELS):
        view = _view(picture, column, turn, room)
        parts = [*deck(picture, view), *_head(picture, level, column, view)]
        for sail in picture.sails:
            parts += _sail(sail, level, answer, view, lively=shown.lively)
        # On top, for a good trim lies under it.
        for sail in shown.best.sails if shown.best else ():
            parts += _dashed(sail, level, view)
        drawn.append(group(parts, f"Section {level}"))
    return drawn, room


def _dashed(sail: SailPicture, level: str, view: View) -> list[str]:
    cuts = [_points(it) for it in sail.sections if it.level == level]
    pen = Pen(INK, 1.8, "5 4")
    return [polyline([view.page(point) for point in cut], pen) for cut in cuts]


def _view(picture: BoatPicture, column: int, turn: float, height: float) -> View:
    """Return the view of one panel; all panels have the same scale and the mast at one height."""
    corner = (column * PANEL + 6.0, _HEAD)
    return fitted(_extent(picture), corner, (PANEL - 12.0, height), turn, upright=False)


def _room(picture: BoatPicture, turn: float) -> float:
    """Return the height that the panels need at the scale that their width allows [px]."""
    ahead = [x for x, _ in _extent(picture)]
    return _view(picture, 0, turn, TALLEST).scale * (max(ahead) - min(ahead))


def _extent(picture: BoatPicture) -> list[Point]:
    """Return the points of sails and deck that a panel has to show [m]."""
    points = [it for sail in picture.sails for cut in sail.sections for it in _points(cut)]
    aft = aftmost(picture)
    half = 0.5 * picture.beam_m
    points += [
        (x, y + _LEECH_TUFT * (1.0 if y > 0.0 else -1.0))
        for x, y in points
        if abs(y) > half - _LEECH_TUFT
    ]
    points.append((aft, -_room_to_windward(picture, max(y for _, y in points))))
    return [*points, (picture.bow_x_m, 0.0), (aft, half), (aft, -half)]


def _room_to_windward(picture: BoatPicture, lee: float) -> float:
    """Return how far a panel reaches to windward to hold the wind's arrow, where it shows `lee`
    metres to leeward [m].
    """
    winds = [it.apparent_angle_deg for sail in picture.sails for it in sail.sections]
    abeam = max(abs(sin(radians(angle))) for angle in winds)
    share = (_ARROW_PX + _GAP_PX) * abeam / (PANEL - 12.0)
    return lee * share / (1.0 - share)


def _points(section: SectionPicture) -> list[Point]:
    return list(zip(section.x_m, section.y_m, strict=True))


def _head(picture: BoatPicture, level: str, column: int, view: View) -> list[str]:
    """Return a panel's heading and the apparent wind that meets its foremost sail."""
    found = [it for sail in picture.sails for it in sail.sections if it.level == level]
    if not found:
        return []
    front = max(found, key=lambda section: section.x_m[0])
    middle = (column + 0.5) * PANEL
    speed = f"{front.apparent_wind_kn:.0f} kn {abs(front.apparent_angle_deg):.0f}°"
    title = f"{level}, {front.height_m:.0f} m up"
    return [
        label((middle, 14.0), title, Hand(12, MUTED), "middle"),
        label((middle, 33.0), speed, Hand(17, INK, bold=True), "middle"),
        _wind(front, view),
    ]


def _wind(section: SectionPicture, view: View) -> str:
    angle = radians(abs(section.apparent_angle_deg))
    # Towards the wind, seen from the luff: forward and to windward.
    up = (cos(angle), -sin(angle))
    luff = (section.x_m[0], section.y_m[0])
    near, far = _GAP_PX / view.scale, (_GAP_PX + _ARROW_PX) / view.scale
    head = view.page((luff[0] + near * up[0], luff[1] + near * up[1]))
    tail = view.page((luff[0] + far * up[0], luff[1] + far * up[1]))
    # A rim of paper keeps it apart from the marks on the bow.
    return polyline([tail, head], Pen(PAPER, 7.0)) + arrow(tail, head, Pen(WIND, 3.0))


def _sail(
    sail: SailPicture, level: str, answer: FlyAnswer, view: View, *, lively: bool
) -> list[str]:
    parts = []
    for section in sail.sections:
        if section.level != level:
            continue
        points = _points(section)
        colour = SAILS[sail.role]
        parts.append(polyline([view.page(point) for point in points], Pen(colour, 3.4)))
        parts.append(dot(view.page(points[0]), 3.2, colour))
        reading = _reading(answer, sail, level)
        cloth = Cloth(points, -1.0 if sail.to_windward else 1.0)
        if reading:
            parts += tufts(cloth, reading, view, sail=sail.role, lively=lively)
    return parts


def _reading(answer: FlyAnswer, sail: SailPicture, level: str) -> LevelReading | None:
    for found in answer.sails:
        if found.name == sail.name:
            return next((it for it in found.levels if it.level == level), None)
    return None


Cell = tuple[str, Hand]
Row = tuple[str, str, list[Cell]]
_CALM, _LOUD, _QUIET = Hand(14, INK), Hand(14, TROUBLE, bold=True), Hand(12, MUTED)


def _rows(answer: FlyAnswer) -> list[Row]:
    """Return the words below the sections: title, the sail's colour, and a cell for each level."""
    headsail = headsail_word(answer.sails)
    rows: list[Row] = []
    for sail in answer.sails:
        name, colour = capital(sail_word(sail, headsail)), SAILS[sail.role]
        levels = [next((it for it in sail.levels if it.level == w), None) for w in LEVELS]
        for title, cells in _tuft_cells(levels):
            if any(word for word, _ in cells):
                rows.append((f"{name}: {title}", colour, cells))
        rows.append((f"{name}: depth and twist", colour, [_shape(it) for it in levels]))
    return rows


def _tuft_cells(levels: Sequence[LevelReading | None]) -> list[tuple[str, list[Cell]]]:
    """Return a row for each kind of tuft."""
    kinds = (
        ("inside tuft (windward)", inside_words),
        ("outside tuft (leeward)", outside_words),
        ("leech tuft", leech_words),
    )
    return [(title, [_cell(words(it) if it else "") for it in levels]) for title, words in kinds]


def _cell(words: str) -> Cell:
    """Return the words on a tuft, written out loud where it is in trouble."""
    return words, _LOUD if words.startswith(("lifts", "stalls")) else _CALM


def _shape(level: LevelReading | None) -> Cell:
    return (f"{depth_words(level.camber_pct)}, {level.twist_deg:.0f}°" if level else ""), _QUIET


def _row(top: float, title: str, colour: str, cells: Sequence[Cell]) -> str:
    parts = [
        polyline([(8.0, top - 9.5), (WIDTH - 8.0, top - 9.5)], Pen(FAINT, 0.6)),
        polyline([(9.0, top - 3.0), (9.0, top + 16.0)], Pen(colour, 4.0)),
        label((17.0, top + 2.0), title, Hand(10.5, MUTED)),
    ]
    for column, (text, hand) in enumerate(cells):
        parts.append(label(((column + 0.5) * PANEL, top + 17.0), text, hand, "middle"))
    return group(parts, title)


def readings_told(sail: SailReading) -> str:
    """Return one sail's tufts as a sentence, for who hears the drawing."""
    told = [
        f"{it.level}: inside {it.windward or 'not known'}, outside {it.leeward or 'not known'}"
        + (f", leech {it.leech}" if it.leech else "")
        for it in sail.levels
    ]
    return f"{capital(sail.name)} {'; '.join(told)}."
