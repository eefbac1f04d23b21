"""From the boat's metres to the page's pixels: from above with the bow up, or from windward."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from luffwright.faces.draw.ink import Point


@dataclass(frozen=True)
class View:
    """A scale [px/m], where the boat's origin lies on the page [px], and which way the page runs.

    The boat frame's second direction runs up the page; the first one runs along `turn` × the
    page's x: so a drawing is mirrored with the tack by its view alone.
    """

    scale: float
    origin: Point
    turn: float
    upright: bool

    def page(self, point: Point) -> Point:
        """Return the place on the page of a point of the boat [m]: (x, y), or (x, z) upright."""
        along, up = point if self.upright else (point[1], point[0])
        return (
            self.origin[0] + self.turn * self.scale * along,
            self.origin[1] - self.scale * up,
        )


def fitted(
    points: Sequence[Point], corner: Point, size: Point, turn: float, *, upright: bool
) -> View:
    """Return the view that shows all points as large as the box allows, in its middle.

    Parameters
    ----------
    points : sequence of pairs
        (x, y) seen from above or (x, z) seen from the side. [m]
    corner, size : pair of float
        Of the box on the page: upper left corner, width and height. [px]
    turn : float
        1 or −1: which way the boat's athwart (or fore and aft) direction runs. [-]
    upright : bool
        Seen from the side; from above otherwise.
    """
    plain = View(1.0, (0.0, 0.0), turn, upright)
    seen = [plain.page(point) for point in points]
    low = (min(p[0] for p in seen), min(p[1] for p in seen))
    high = (max(p[0] for p in seen), max(p[1] for p in seen))
    scale = min(
        size[0] / max(high[0] - low[0], 1e-6),
        size[1] / max(high[1] - low[1], 1e-6),
    )
    origin = (
        corner[0] + 0.5 * size[0] - 0.5 * scale * (low[0] + high[0]),
        corner[1] + 0.5 * size[1] - 0.5 * scale * (low[1] + high[1]),
    )
    return View(scale, origin, turn, upright)
