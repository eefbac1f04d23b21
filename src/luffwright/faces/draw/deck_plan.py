"""The deck from above with all that is worked there: car, sheets, traveller, boom."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import cos, radians, sin

from luffwright.app.answer import BoatPicture, FlyAnswer
from luffwright.app.ropes import Rope
from luffwright.faces.draw.deck import whole_deck
from luffwright.faces.draw.grip import Box, Grip, apart, names
from luffwright.faces.draw.ink import (
    INK,
    MUTED,
    SAILS,
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
from luffwright.faces.draw.view import View, fitted

WIDTH, HEIGHT = 390.0, 430.0
_ROPE = Pen(INK, 2.4)
POLE = Pen(INK, 4.0)
_TAIL_PX = 52.0
SHEET_PX, MAINSHEET_PX = 110.0, 70.0
"""How far the page moves for a metre of rope [px]: a finger of it has to be felt."""


def deck_plan(
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
        −1 with the wind from starboard: leeward lies to the left of the page. [-]
    """
    view = _view(picture, turn)
    # The wind is told to windward, or to leeward where the headsail stands to windward.
    clear = -turn if picture.pole_m else turn
    parts = [*whole_deck(picture, view), *_feet(picture, view)]
    grips: list[Grip] = []
    for draw in (_headsail_sheet, _car, _boom, _traveller):
        more, found = draw(picture, ropes, view)
        parts += more
        grips += found
    grips = apart(grips, (WIDTH, HEIGHT))
    parts += [
        polyline([it.to, it.at], Pen(INK, 2.4 if it.control == "sheet" else 1.0))
        for it in grips
        if it.to is not None
    ]
    parts += names(grips, {name: it.rope for name, it in ropes.items()}, (WIDTH, HEIGHT),
                   (_wind_box(clear),))  # fmt: skip
    return [group([*parts, *_wind(answer, turn, clear)], "The deck from above, bow up")], grips


def _view(picture: BoatPicture, turn: float) -> View:
    half = 0.5 * picture.beam_m + 0.25
    points = [(picture.bow_x_m, half), (picture.stern_x_m, -half)]
    points += [(x, y) for x, y, _ in picture.pole_m]
    return fitted(points, (20.0, 6.0), (WIDTH - 40.0, HEIGHT - 66.0), turn, upright=False)


def _flat(line: Sequence[tuple[float, float, float]], view: View) -> list[Point]:
    return [view.page((x, y)) for x, y, _ in line]


def _feet(picture: BoatPicture, view: View) -> list[str]:
    """Return the lowest section of each sail, the pole where one is out, and the mast."""
    parts = [
        polyline(_flat(sail.foot_m, view), Pen(SAILS[sail.role], 4.0)) for sail in picture.sails
    ]
    pole = [polyline(_flat(picture.pole_m, view), POLE)] if picture.pole_m else []
    return [*parts, *pole, dot(view.page((0.0, 0.0)), 5.0, INK)]


def _headsail_sheet(
    picture: BoatPicture, ropes: Mapping[str, Rope], view: View
) -> tuple[list[str], list[Grip]]:
    """Return the sheet from the clew through its lead to the winch, its tail led out to the side,
    clear of the deck, to pull on.
    """
    if len(picture.sheet_line_m) < 2 or picture.winch_m is None:
        return [], []
    line = _flat([picture.sheet_line_m[1], picture.sheet_line_m[0], picture.winch_m], view)
    winch = line[-1]
    out = -view.turn if picture.pole_m else view.turn
    tail = (winch[0] + out * _TAIL_PX, winch[1] + 6.0)
    grip = Grip("sheet", tail, (0.0, -SHEET_PX), winch)
    return [polyline(line, _ROPE), dot(winch, 7.0, INK)], [grip] if "sheet" in ropes else []


def _car(
    picture: BoatPicture, ropes: Mapping[str, Rope], view: View
) -> tuple[list[str], list[Grip]]:
    """Return the headsail's track with its car, held by its side, clear of the sail's foot."""
    if not picture.lead_track_m or not picture.sheet_line_m:
        return [], []
    track = _flat(picture.lead_track_m, view)
    if picture.pole_m:
        # The sheet runs over the pole's end, and the car has nothing to lead.
        return [polyline(track, Pen(MUTED, 6.0))], []
    car = view.page(picture.sheet_line_m[0][:2])
    parts = [polyline(track, Pen(MUTED, 6.0)), dot(car, 6.0, INK)]
    if "lead" not in ropes:
        return parts, []
    length = max(track[1][1] - track[0][1], 1.0)
    gain = length / max(ropes["lead"].high - ropes["lead"].low, 1e-6)
    hold = (car[0] + view.turn * _TAIL_PX, car[1])
    return parts, [Grip("lead", hold, (0.0, gain), car)]


def _boom(
    picture: BoatPicture, ropes: Mapping[str, Rope], view: View
) -> tuple[list[str], list[Grip]]:
    """Return the boom: swung out by easing its sheet."""
    boom = _flat(picture.boom_m, view)
    end = boom[-1]
    parts = [polyline(boom, Pen(INK, 5.0))]
    if "mainsheet" not in ropes:
        return parts, []
    return parts, [Grip("mainsheet", (end[0], end[1] + 10.0), (view.turn * MAINSHEET_PX, 0.0), end)]


def _traveller(
    picture: BoatPicture, ropes: Mapping[str, Rope], view: View
) -> tuple[list[str], list[Grip]]:
    """Return the traveller's track with its car and the mainsheet above it, held from windward,
    as its line is.
    """
    sheet = _flat(picture.ropes_m.get("mainsheet", ()), view)
    if not picture.traveller_track_m or not sheet:
        return [], []
    track = _flat(picture.traveller_track_m, view)
    car = sheet[-1]
    parts = [polyline(sheet, _ROPE), dot(car, 6.0, INK)]
    if "traveller" not in ropes:
        return parts, []
    parts = [polyline(track, Pen(MUTED, 6.0)), *parts]
    hold = (car[0] - view.turn * 62.0, car[1] - 34.0)
    gain = abs(track[1][0] - track[0][0]) / max(
        ropes["traveller"].high - ropes["traveller"].low, 1e-6
    )
    return parts, [Grip("traveller", hold, (view.turn * gain, 0.0), car)]


def _wind_box(clear: float) -> Box:
    """Return what the arrow of the wind and its words take up, beside the bow."""
    middle = WIDTH / 2.0 - clear * (WIDTH / 2.0 - 62.0)
    return (middle - 60.0, 4.0, middle + 60.0, 120.0)


def _wind(answer: FlyAnswer, turn: float, clear: float) -> list[str]:
    """Return the apparent wind as an arrow beside the bow, on its clear side."""
    angle = answer.conditions.apparent_angle_deg
    middle = (WIDTH / 2.0 - clear * (WIDTH / 2.0 - 62.0), 42.0)
    view = View(1.0, middle, turn, upright=False)
    tail, head = (view.page(_downwind(abs(angle), length)) for length in (-27.0, 27.0))
    speed = f"{answer.conditions.apparent_wind_kn:.0f} kn {abs(angle):.0f}°"
    return [
        arrow(tail, head, Pen(WIND, 3.4)),
        label((middle[0], 98.0), speed, Hand(18, INK, bold=True), "middle"),
        label((middle[0], 115.0), "apparent wind", Hand(12, MUTED), "middle"),
    ]


def _downwind(angle_deg: float, length: float) -> Point:
    return (-length * cos(radians(angle_deg)), length * sin(radians(angle_deg)))
