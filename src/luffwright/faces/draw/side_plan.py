"""The boat from windward with all that is worked at mast, boom and stern."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from luffwright.app.answer import BoatPicture, FlyAnswer, SailPicture
from luffwright.app.ropes import Rope
from luffwright.faces.draw.grip import Grip, apart, names, stretched
from luffwright.faces.draw.ink import (
    INK,
    PRESSURE,
    SAILS,
    Pen,
    Point,
    group,
    polyline,
)
from luffwright.faces.draw.profile import boat_side, stay_alone
from luffwright.faces.draw.view import View, fitted

WIDTH, HEIGHT = 390.0, 430.0
_ROPE = Pen(INK, 2.2)
DEEPEST = 2.2
"""Lift coefficient that is drawn in full colour [-]."""
Place = tuple[float, float, float]


def side_plan(
    answer: FlyAnswer, picture: BoatPicture, ropes: Mapping[str, Rope], turn: float
) -> tuple[list[str], list[Grip]]:
    """Return the drawing and where its ropes are taken hold of.

    Parameters
    ----------
    answer : FlyAnswer
    picture : BoatPicture
    ropes : mapping
        What can be moved, by key.
    turn : float
        1 with the wind from starboard: seen from there, the bow lies to the right. [-]
    """
    view = _view(picture, turn)
    parts = [*boat_side(picture, view)]
    for sail in picture.sails:
        parts += _sail(sail, answer, view)
    # Not every boat has a backstay, or her pole out.
    lines = (picture.mast_m, picture.boom_m, picture.ropes_m.get("backstay", ()), picture.pole_m)
    for line in filter(None, lines):
        parts.append(polyline(_side(line, view), _ROPE if line != picture.mast_m else Pen(INK, 4)))
    parts += stay_alone(picture, view)
    grips = apart(_grips(picture, ropes, view), (WIDTH, HEIGHT))
    # "genoa halyard" is long, and there is no other one here.
    words = {name: it.rope for name, it in ropes.items()} | {"halyard": "halyard"}
    parts += names(grips, words, (WIDTH, HEIGHT))
    return [group(parts, "The boat from windward")], grips


def _view(picture: BoatPicture, turn: float) -> View:
    top = max(z for _, _, z in picture.mast_m)
    points = [(picture.bow_x_m + 0.4, -0.4), (picture.stern_x_m - 0.4, top + 0.2)]
    return fitted(points, (34.0, 6.0), (WIDTH - 68.0, HEIGHT - 24.0), turn, upright=True)


def _side(line: Sequence[Place], view: View) -> list[Point]:
    return [view.page((x, z)) for x, _, z in line]


def _sail(sail: SailPicture, answer: FlyAnswer, view: View) -> list[str]:
    """Return a sail, the darker the more it pulls at that height."""
    luff = sorted(sail.luff_m, key=lambda place: place[2])
    leech = sorted(sail.leech_m, key=lambda place: place[2])
    outline = _side([*luff, *reversed(leech), *reversed(sail.foot_m)], view)
    parts = _pulls(sail, luff, leech, answer, view)
    return [*parts, polyline(outline, Pen(SAILS[sail.role], 2.2), closed=True)]


def _pulls(
    sail: SailPicture, luff: Sequence[Place], leech: Sequence[Place], answer: FlyAnswer, view: View
) -> list[str]:
    levels = next((it.levels for it in answer.sails if it.role == sail.role), ())
    parts, count = [], len(luff) - 1
    thirds = [0, round(0.375 * count), round(0.625 * count), count]
    for level, low, high in zip(levels, thirds, thirds[1:], strict=False):
        band = [*luff[low : high + 1], *reversed(leech[low : high + 1])]
        deep = min(max(level.lift_coefficient / DEEPEST, 0.04), 1.0)
        pen = Pen(PRESSURE, 0.0, fill=PRESSURE, fill_opacity=round(0.75 * deep, 2))
        parts.append(polyline(_side(band, view), pen, closed=True))
    return parts


def _grips(picture: BoatPicture, ropes: Mapping[str, Rope], view: View) -> list[Grip]:
    """Return where each control that is worked here is held: by its real place, or close by."""
    foot, top = picture.mast_m[0], picture.mast_m[-1]
    tack, end = picture.boom_m[0], picture.boom_m[-1]
    height = top[2] - foot[2]
    stay = picture.ropes_m.get("backstay") or (top, (picture.stern_x_m, 0.0, foot[2]))
    deck_end = min(stay, key=lambda place: place[2])
    drum = picture.stay_line_m[0] if picture.stay_line_m else (picture.bow_x_m, 0.0, foot[2])
    clew = picture.sheet_line_m[1] if len(picture.sheet_line_m) > 1 else drum
    down, aft = (0.0, 1.0), (-view.turn, 0.0)
    held: dict[str, tuple[Point, Point, float]] = {
        "halyard": ((0.25, foot[2] + 0.63 * height), down, 80.0),
        "main_furl": ((-0.2, foot[2] + 0.42 * height), down, 80.0),
        "cunningham": ((0.3, tack[2] + 0.16 * height), down, 60.0),
        "vang": ((0.42 * end[0], tack[2] - 0.045 * height), down, 60.0),
        "outhaul": ((end[0] + 0.25, end[2] + 0.035 * height), (-aft[0], 0.0), 60.0),
        "reef": ((0.72 * end[0], end[2] + 0.3 * height), down, 90.0),
        "backstay": ((deck_end[0] - 0.1, deck_end[2] + 0.26 * height), down, 80.0),
        "clew_hole": ((clew[0] + 0.9, clew[2] + 0.05 * height), (0.0, -1.0), 80.0),
        "furl": ((drum[0] + 0.1, drum[2] + 0.08 * height), aft, 90.0),
    }
    return [
        Grip(name, view.page(at), stretched(ropes[name], way, reach))
        for name, (at, way, reach) in held.items()
        if name in ropes
    ]
