"""The sails from windward, to scale: mast, boom, sagging stay, and the sheet's line to the luff."""

from __future__ import annotations

from collections.abc import Sequence

from luffwright.app.answer import BoatPicture, FlyAnswer, SailPicture
from luffwright.faces.draw.ink import (
    FAINT,
    INK,
    MUTED,
    SAILS,
    Anchor,
    Hand,
    Pen,
    Point,
    dot,
    group,
    label,
    polyline,
)
from luffwright.faces.draw.view import View, fitted

Place = tuple[float, float, float]

WIDTH, HEIGHT = 390.0, 340.0
_BOAT = 254.0
SAG_DRAWN = 5.0
"""How many times larger than it is the stay's sag is drawn."""


def profile(answer: FlyAnswer, picture: BoatPicture, turn: float) -> tuple[list[str], float]:
    """Return the boat from windward and the height of the drawing [px].

    Parameters
    ----------
    answer : FlyAnswer
        With the sag of the forestay.
    picture : BoatPicture
        With the lines of sails, spars and ropes.
    turn : float
        1 with the wind from starboard: seen from there, the bow lies to the right. [-]
    """
    view = _view(picture, turn)
    parts = [*boat_side(picture, view)]
    for sail in picture.sails:
        parts += _sail(sail, view)
    spars = [
        polyline(_side(line, view), Pen(INK, 3.0)) for line in (picture.mast_m, picture.boom_m)
    ]
    parts += [*spars, *_stay(answer, picture, view), *_sheet(picture, view)]
    return [group(parts, "The sails from windward")], HEIGHT + 12.0


def _view(picture: BoatPicture, turn: float) -> View:
    top = max(z for _, _, z in picture.mast_m)
    points = [(picture.bow_x_m, -0.5), (picture.stern_x_m, top + 0.3)]
    # Room is left before the bow for the notes.
    corner = (10.0 if turn > 0 else WIDTH - 10.0 - _BOAT, 4.0)
    return fitted(points, corner, (_BOAT, HEIGHT), turn, upright=True)


def _side(line: Sequence[Place], view: View) -> list[Point]:
    return [view.page((x, z)) for x, _, z in line]


def boat_side(picture: BoatPicture, view: View) -> list[str]:
    """Return the hull's side, drawn and not measured, and the water."""
    bow, stern, deck = picture.bow_x_m, picture.stern_x_m, picture.deck_height_m
    length = bow - stern
    edge = [
        (stern, 0.92 * deck), (stern + 0.3 * length, 0.9 * deck), (bow - 0.2 * length, deck),
        (bow, 1.12 * deck), (bow - 0.06 * length, -0.05), (stern + 0.05 * length, -0.05),
    ]  # fmt: skip
    side = Pen(MUTED, 1.2, fill=FAINT, fill_opacity=0.5)
    water = [view.page((stern - 0.6, 0.0)), view.page((bow + 0.6, 0.0))]
    return [
        polyline([view.page(point) for point in edge], side, closed=True),
        polyline(water, Pen(MUTED, 1.0)),
    ]


def _sail(sail: SailPicture, view: View) -> list[str]:
    """Return a sail's outline and where its sections are cut."""
    colour = SAILS[sail.role]
    # Luff up, leech down, foot on from the clew: whichever way each was given.
    luff = sorted(sail.luff_m, key=lambda place: place[2])
    leech = sorted(sail.leech_m, key=lambda place: -place[2])
    foot = sail.foot_m if _same(sail.foot_m[0], leech[-1]) else tuple(reversed(sail.foot_m))
    outline = _side([*luff, *leech, *foot], view)
    cloth = Pen(colour, 1.8, fill=colour, fill_opacity=0.13)
    parts = [polyline(outline, cloth, closed=True)]
    for section in sail.sections:
        ends = [(section.x_m[0], section.height_m), (section.x_m[-1], section.height_m)]
        cut = [view.page(end) for end in ends]
        parts.append(polyline(cut, Pen(colour, 1.2, "5 3")))
        if sail.role == "mainsail":
            beside = (cut[-1][0] - 7.0 * view.turn, cut[-1][1] + 4.0)
            anchor: Anchor = "end" if view.turn > 0 else "start"
            parts.append(label(beside, section.level, Hand(11, MUTED), anchor))
    return parts


def _same(one: Place, other: Place) -> bool:
    """Return whether two corners are the same place of a sail."""
    return all(abs(a - b) < 1e-6 for a, b in zip(one, other, strict=True))


def _stay(answer: FlyAnswer, picture: BoatPicture, view: View) -> list[str]:
    """Return the straight line of the stay, the stay with its sag enlarged, and the figure."""
    line = picture.stay_line_m
    if len(line) < 2:
        return []
    drawn = _side([_enlarged(line, place) for place in line], view)
    forestay = answer.stays.get("forestay")
    parts = stay_alone(picture, view)
    if forestay is not None and forestay.sag_pct is not None:
        # High up: half-way the sheet says what it points at.
        at = drawn[int(0.75 * (len(drawn) - 1))]
        text = (f"sag {forestay.sag_pct:.1f} %", f"(drawn {SAG_DRAWN:.0f} times)")
        parts += _note((at[0], at[1]), text, view)
    return parts


def stay_alone(picture: BoatPicture, view: View) -> list[str]:
    """Return the straight line of the stay, and the stay with its sag enlarged."""
    line = picture.stay_line_m
    if len(line) < 2:
        return []
    ends = _side([line[0], line[-1]], view)
    drawn = _side([_enlarged(line, place) for place in line], view)
    return [
        polyline(
            [*drawn, *reversed(ends)], Pen(INK, 0.0, fill=INK, fill_opacity=0.18), closed=True
        ),
        polyline(ends, Pen(INK, 1.0, "2 3")),
        polyline(drawn, Pen(INK, 1.6)),
    ]


def _enlarged(line: Sequence[Place], place: Place) -> Place:
    """Return a point of the stay with its distance from the straight line enlarged, and turned
    into the page, aft.
    """
    begin, end = line[0], line[-1]
    along = [b - a for a, b in zip(begin, end, strict=True)]
    square = sum(step * step for step in along) or 1.0
    away = [b - a for a, b in zip(begin, place, strict=True)]
    share = sum(a * b for a, b in zip(along, away, strict=True)) / square
    foot = [a + share * step for a, step in zip(begin, along, strict=True)]
    sag = SAG_DRAWN * sum((a - b) ** 2 for a, b in zip(place, foot, strict=True)) ** 0.5
    return (foot[0] - sag, foot[1], foot[2])


def _sheet(picture: BoatPicture, view: View) -> list[str]:
    """Return the sheet from its lead to the clew, and its line on to the luff."""
    if picture.pole_m:
        return _poled(picture, view)
    if len(picture.sheet_line_m) < 3:
        return []
    lead, clew, meet = _side(picture.sheet_line_m[:3], view)
    parts = [
        polyline([lead, clew], Pen(INK, 2.4)),
        polyline([clew, meet], Pen(INK, 1.4, "1 4")),
        dot(lead, 3.2, INK),
        dot(meet, 4.0, INK),
    ]
    if picture.luff_meet_share is not None:
        text = ("sheet points at", f"{100 * picture.luff_meet_share:.0f} % of the luff")
        parts += _note(meet, text, view)
    return parts


def _poled(picture: BoatPicture, view: View) -> list[str]:
    """Return the pole, and the sheet over its end."""
    parts = [polyline(_side(picture.pole_m, view), Pen(INK, 4.0))]
    if len(picture.sheet_line_m) < 2 or picture.winch_m is None:
        return parts
    line = [picture.sheet_line_m[1], picture.sheet_line_m[0], picture.winch_m]
    return [*parts, polyline(_side(line, view), Pen(INK, 2.0))]


def _note(at: Point, text: tuple[str, str], view: View) -> list[str]:
    """Return a note in the free space before the bow, with a line to what it tells of."""
    edge = 0.5 * WIDTH + view.turn * 82.0
    anchor: Anchor = "start" if view.turn > 0 else "end"
    place = (edge + view.turn * 4.0, at[1])
    return [
        polyline([(at[0] + view.turn * 6.0, at[1]), (edge, at[1])], Pen(MUTED, 0.8)),
        label((place[0], place[1] + 1.0), text[0], Hand(12, INK, bold=True), anchor),
        label((place[0], place[1] + 15.0), text[1], Hand(11, INK), anchor),
    ]
