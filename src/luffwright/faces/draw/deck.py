"""The deck from above as far as the sails reach: one hull or two, with port and starboard marks."""

from __future__ import annotations

from luffwright.app.answer import BoatPicture
from luffwright.faces.draw.ink import FAINT, PORT, STARBOARD, Pen, Point, polyline
from luffwright.faces.draw.view import View

_SHARES = tuple(0.05 * step for step in range(21))
_EDGE = Pen(FAINT, 1.2)
_BRIDGE_AHEAD = 0.12
"""How far ahead of the mast the bridge deck is drawn, as a share of the length: not measured."""


def deck(picture: BoatPicture, view: View) -> list[str]:
    """Return the edges of the hull or hulls, the boat's two sides, and the centreline."""
    return _deck_to(picture, aftmost(picture), view)


def whole_deck(picture: BoatPicture, view: View) -> list[str]:
    """Return the same as `deck` all the way to the stern."""
    stern = picture.stern_x_m
    half = 0.36 * picture.beam_m if picture.hull_spacing_m <= 0.0 else 0.0
    transom = [view.page((stern, half)), view.page((stern, -half))]
    return [*_deck_to(picture, stern, view), *([polyline(transom, _EDGE)] if half else [])]


def _deck_to(picture: BoatPicture, aft: float, view: View) -> list[str]:
    middle = [view.page((picture.bow_x_m, 0.0)), view.page((aft, 0.0))]
    line = polyline(middle, Pen(FAINT, 1.0, "2 4"))
    if picture.hull_spacing_m <= 0.0:
        return [*_one_hull(picture, aft, view), line]
    return [*_bridge(picture, aft, view), *_two_hulls(picture, aft, view), line]


def aftmost(picture: BoatPicture) -> float:
    """Return where the drawn deck ends: a little abaft the sails [m]."""
    return min(x for sail in picture.sails for it in sail.sections for x in it.x_m) - 0.4


def _one_hull(picture: BoatPicture, aft: float, view: View) -> list[str]:
    half = 0.5 * picture.beam_m
    parts = []
    for side in (1.0, -1.0):
        edge = _edge(picture, aft, (0.0, side * half), 2.0, view)
        parts += [polyline(edge, _EDGE), polyline(edge[1:4], Pen(_colour(edge[-1], view), 3.0))]
    return parts


def _two_hulls(picture: BoatPicture, aft: float, view: View) -> list[str]:
    """Return two slender hulls, each with its side's mark about the bow."""
    parts = []
    for side in (1.0, -1.0):
        centre, half = 0.5 * side * picture.hull_spacing_m, _half_hull(picture)
        edges = [_edge(picture, aft, (centre, it), 3.5, view) for it in (half, -half)]
        nose = [*reversed(edges[0][1:3]), *edges[1][:3]]
        parts += [polyline(edge, _EDGE) for edge in edges]
        parts.append(polyline(nose, Pen(_colour(edges[0][0], view), 3.0)))
    return parts


def _bridge(picture: BoatPicture, aft: float, view: View) -> list[str]:
    """Return what joins two hulls: the bridge deck, and the beam that carries the forestay."""
    inner = 0.5 * picture.hull_spacing_m - _half_hull(picture)
    front = _BRIDGE_AHEAD * (picture.bow_x_m - picture.stern_x_m)
    corners = [(aft, inner), (front, inner), (front, -inner), (aft, -inner)]
    stay = picture.stay_line_m[0][0] if picture.stay_line_m else 0.8 * picture.bow_x_m
    beam = [view.page((stay, side * inner)) for side in (1.0, -1.0)]
    floor = Pen(FAINT, 0.0, fill=FAINT, fill_opacity=0.25)
    return [
        polyline([view.page(corner) for corner in corners], floor, closed=True),
        polyline(beam, Pen(FAINT, 2.4)),
    ]


def _half_hull(picture: BoatPicture) -> float:
    """Return half the breadth of one of two hulls [m]."""
    return 0.5 * max(picture.beam_m - picture.hull_spacing_m, 0.1)


def _edge(
    picture: BoatPicture, aft: float, across: Point, fullness: float, view: View
) -> list[Point]:
    """Return an edge from the bow aft: drawn, not measured.

    `across` has the hull's centre and how far from it the edge runs [m]; the hull is at full
    breadth after 1 / `fullness` of its length.
    """
    length = max(picture.bow_x_m - picture.stern_x_m, 0.1)
    points = []
    for share in _SHARES:
        ahead = picture.bow_x_m + share * (aft - picture.bow_x_m)
        breadth = min(1.0, fullness * (picture.bow_x_m - ahead) / length)
        # Towards the stern it draws in a little.
        tuck = 0.28 * max((picture.bow_x_m - ahead) / length - 0.6, 0.0) / 0.4
        full = (1.0 - (1.0 - breadth) ** 2) * (1.0 - tuck**2 / 0.28)
        points.append(view.page((ahead, across[0] + across[1] * full)))
    return points


def _colour(point: Point, view: View) -> str:
    """Return the colour of a place's side: the boat's own left is port, however it is turned."""
    return PORT if point[0] < view.page((0.0, 0.0))[0] else STARBOARD
