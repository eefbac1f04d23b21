"""The sails from where one stands: from the helm up the headsail, from under the boom up the
mainsail; sections as the dark stripes that sailmakers sew in, tufts where they are sewn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from luffwright.app.answer import BoatPicture, FlyAnswer, SailPicture
from luffwright.faces.draw.ink import (
    INK,
    MUTED,
    SAILS,
    TROUBLE,
    Hand,
    Pen,
    Point,
    dot,
    group,
    label,
    polyline,
)

WIDTH, HEIGHT = 390.0, 430.0
_MARGIN = 26.0
_NEAREST = 0.4
"""What is nearer to the eye than this is left out [m]."""
Place = tuple[float, float, float]


@dataclass(frozen=True)
class Eye:
    """Where one stands and looks to [m], and which way is up in the picture [m]; `turn` mirrors
    it with the tack.
    """

    at: Place
    to: Place
    up: Place
    turn: float

    def seen(self, place: Place) -> Point | None:
        """Return where a place is seen, in tangents of angles from the line of sight; None where
        it lies behind or beside the eye.
        """
        ahead = _unit(_less(self.to, self.at))
        right = _unit(_cross(ahead, self.up))
        above = _cross(right, ahead)
        away = _less(place, self.at)
        depth = _dot(away, ahead)
        if depth < _NEAREST:
            return None
        return (self.turn * _dot(away, right) / depth, -_dot(away, above) / depth)


def from_helm(answer: FlyAnswer, picture: BoatPicture, turn: float) -> list[str]:
    """Return the headsail as the helm sees it from the windward side.

    Parameters
    ----------
    answer : FlyAnswer
    picture : BoatPicture
    turn : float
        1 with the wind from starboard, as the boat is solved; −1 mirrors. [-]
    """
    head = _sail(picture, "headsail")
    length = picture.bow_x_m - picture.stern_x_m
    at = (picture.stern_x_m + 0.14 * length, -0.36 * picture.beam_m, picture.deck_height_m + 1.3)
    middle = _middle(head)
    eye = Eye(at, (middle[0], middle[1], middle[2]), (0.0, 0.0, 1.0), turn)
    others = [list(picture.mast_m), list(picture.boom_m)]
    return _scene(answer, head, eye, others, "From the helm, up the headsail")


def under_boom(answer: FlyAnswer, picture: BoatPicture, turn: float) -> list[str]:
    """Return the mainsail as one sees it who looks up from under the boom.

    Parameters
    ----------
    answer : FlyAnswer
    picture : BoatPicture
    turn : float
        As in `from_helm`. [-]
    """
    main = _sail(picture, "mainsail")
    end = picture.boom_m[-1]
    # By the boom's end, a little to windward, as one bends to look up under it.
    at = (end[0] - 1.2, end[1] - 0.22 * picture.beam_m, picture.deck_height_m + 0.9)
    middle = _middle(main)
    eye = Eye(at, middle, (0.0, 0.0, 1.0), turn)
    return _scene(answer, main, eye, [list(picture.mast_m), list(picture.boom_m)],
                  "From under the boom, up the mainsail")  # fmt: skip


def _scene(
    answer: FlyAnswer, sail: SailPicture, eye: Eye, others: Sequence[Sequence[Place]], title: str
) -> list[str]:
    outline = _outline(sail)
    frame = _Frame.round([it for it in map(eye.seen, _looked_at(sail)) if it is not None])
    colour = SAILS[sail.role]
    parts = [_line(frame.line(eye, other), Pen(MUTED, 4.0)) for other in others]
    cloth = Pen(colour, 2.6, fill=colour, fill_opacity=0.12)
    parts.append(_line(frame.line(eye, outline), cloth, closed=True))
    levels = next((it.levels for it in answer.sails if it.role == sail.role), ())
    for section in sail.sections:
        stripe = [(x, y, section.height_m) for x, y in zip(section.x_m, section.y_m, strict=True)]
        drawn = frame.line(eye, stripe)
        parts.append(_line(drawn, Pen(INK, 3.4)))
        reading = next((it for it in levels if it.level == section.level), None)
        if reading is None or not drawn:
            continue
        told = [
            (drawn[3], reading.windward), (drawn[6], reading.leeward), (drawn[-1], reading.leech),
        ]  # fmt: skip
        for at, state in told:
            parts += _tuft(at, state, eye.turn)
        parts.append(_named(section.level, drawn, eye.turn))
    return [group(parts, title)]


def _line(points: Sequence[Point], pen: Pen, *, closed: bool = False) -> str:
    """Return a line; nothing where all of it lies beside the eye."""
    return polyline(points, pen, closed=closed) if len(points) > 1 else ""


def _named(level: str, drawn: Sequence[Point], turn: float) -> str:
    """Return a section's name beside its leech, clear of the tuft that streams from there."""
    x, y = drawn[-1]
    wide = 8.0 * len(level)
    at = min(max(x - 30.0 * turn, wide), WIDTH - wide)
    return label((at, y + 5.0), level, Hand(13, INK, bold=True), "end" if turn > 0 else "start")


def _looked_at(sail: SailPicture) -> list[Place]:
    """Return what fills the picture: from the lowest section up; the foot is at one's elbow, and
    would make all above it small.
    """
    low = min((it.height_m for it in sail.sections), default=0.0)
    above = [it for it in _outline(sail) if it[2] >= low]
    stripes = [
        (x, y, it.height_m) for it in sail.sections for x, y in zip(it.x_m, it.y_m, strict=True)
    ]
    return [*above, *stripes] or _outline(sail)


def _tuft(at: Point, state: str | None, turn: float) -> list[str]:
    """Return a tuft as it shows from afar: level where it streams, up or hanging in trouble."""
    if state is None:
        return []
    away = {"streaming": (-24.0, 2.0), "lifting": (-8.0, -24.0), "stalled": (-3.0, 24.0)}[state]
    pen = Pen(INK, 2.4) if state == "streaming" else Pen(TROUBLE, 4.0)
    end = (at[0] + turn * away[0], at[1] + away[1])
    return [polyline([at, end], pen), dot(at, 2.6, pen.colour)]


@dataclass(frozen=True)
class _Frame:
    scale: float
    shift: Point

    @staticmethod
    def round(points: Sequence[Point]) -> _Frame:
        """Return the frame that shows all points as large as the page allows."""
        low = (min(x for x, _ in points), min(y for _, y in points))
        high = (max(x for x, _ in points), max(y for _, y in points))
        room = (WIDTH - 2 * _MARGIN, HEIGHT - 2 * _MARGIN)
        scale = min(room[0] / max(high[0] - low[0], 1e-6), room[1] / max(high[1] - low[1], 1e-6))
        return _Frame(scale, (
            0.5 * WIDTH - 0.5 * scale * (low[0] + high[0]),
            0.5 * HEIGHT - 0.5 * scale * (low[1] + high[1]),
        ))  # fmt: skip

    def line(self, eye: Eye, places: Sequence[Place]) -> list[Point]:
        """Return the places on the page, those beside the eye left out."""
        seen = [it for it in map(eye.seen, places) if it is not None]
        return [(self.shift[0] + self.scale * x, self.shift[1] + self.scale * y) for x, y in seen]


def _sail(picture: BoatPicture, role: str) -> SailPicture:
    return next(it for it in picture.sails if it.role == role)


def _outline(sail: SailPicture) -> list[Place]:
    luff = sorted(sail.luff_m, key=lambda place: place[2])
    leech = sorted(sail.leech_m, key=lambda place: -place[2])
    return [*luff, *leech, *reversed(sail.foot_m)]


def _middle(sail: SailPicture) -> Place:
    places = _outline(sail)
    count = len(places)
    return (
        sum(x for x, _, _ in places) / count, sum(y for _, y, _ in places) / count,
        sum(z for _, _, z in places) / count,
    )  # fmt: skip


def _less(a: Place, b: Place) -> Place:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def _dot(a: Place, b: Place) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _cross(a: Place, b: Place) -> Place:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _unit(a: Place) -> Place:
    size = _dot(a, a) ** 0.5 or 1.0
    return (a[0] / size, a[1] / size, a[2] / size)
