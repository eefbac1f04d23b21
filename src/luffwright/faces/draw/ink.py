"""Marks on the page: lines, shapes and labels as SVG text.

Red and green are the boat's sides and nothing else; trouble is told by shape, weight and magenta.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal
from xml.sax.saxutils import escape

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]

PAPER, INK, FAINT, MUTED = "#fbfaf6", "#16202a", "#c3c8c9", "#55606a"
TROUBLE, WIND = "#a3007c", "#16202a"
PORT, STARBOARD = "#c8102e", "#00843d"
PRESSURE = "#6a4fa3"
"""The one hue of how hard the air presses."""
SAILS = {"headsail": "#1b4b8f", "mainsail": "#a96a00"}
FONT = "system-ui, -apple-system, 'Segoe UI', Roboto, 'DejaVu Sans', sans-serif"


@dataclass(frozen=True)
class Pen:
    """How a line is drawn: colour, width [px], dashes [px on and off], fill and its opacity."""

    colour: str
    width: float = 1.0
    dashes: str = ""
    fill: str = "none"
    fill_opacity: float = 1.0

    def attributes(self) -> str:
        """Return the pen as SVG attributes."""
        dashes = f' stroke-dasharray="{self.dashes}"' if self.dashes else ""
        opacity = f' fill-opacity="{self.fill_opacity:g}"' if self.fill != "none" else ""
        return (
            f'stroke="{self.colour}" stroke-width="{self.width:g}"{dashes} fill="{self.fill}"'
            f'{opacity} stroke-linecap="round" stroke-linejoin="round"'
        )


@dataclass(frozen=True)
class Hand:
    """How a text is written: size [px], colour, weight."""

    size: float = 12.0
    colour: str = INK
    bold: bool = False


def polyline(points: Sequence[Point], pen: Pen, *, closed: bool = False) -> str:
    """Return a line through the points, page coordinates in px."""
    way = "L".join(_pair(point) for point in points)
    return f'<path d="M{way}{"Z" if closed else ""}" {pen.attributes()}/>'


def curve(points: Sequence[Point], pen: Pen) -> str:
    """Return one cubic curve: start, two handles, end, page coordinates in px."""
    start, *rest = points
    return f'<path d="M{_pair(start)}C{" ".join(map(_pair, rest))}" {pen.attributes()}/>'


def dot(place: Point, radius: float, fill: str) -> str:
    """Return a dot.

    Parameters
    ----------
    place : pair of float
        Of its middle. [px]
    radius : float
        [px]
    fill : str
        Its colour.
    """
    return f'<circle cx="{place[0]:.1f}" cy="{place[1]:.1f}" r="{radius:g}" fill="{fill}"/>'


def label(place: Point, text: str, hand: Hand, anchor: Anchor = "start") -> str:
    """Return a text on one line, with a rim of paper so that it can be read over lines."""
    weight = ' font-weight="700"' if hand.bold else ""
    at = f'x="{place[0]:.1f}" y="{place[1]:.1f}" font-size="{hand.size:g}" text-anchor="{anchor}"'
    words = escape(text)
    rim = f'stroke="{PAPER}" stroke-width="3" stroke-linejoin="round" fill="{PAPER}"'
    return (
        f'<text {at}{weight} {rim} aria-hidden="true">{words}</text>'
        f'<text {at}{weight} fill="{hand.colour}">{words}</text>'
    )


def arrow(tail: Point, head: Point, pen: Pen) -> str:
    """Return an arrow from tail to head, its point filled."""
    along = (head[0] - tail[0], head[1] - tail[1])
    length = (along[0] ** 2 + along[1] ** 2) ** 0.5 or 1.0
    unit = (along[0] / length, along[1] / length)
    size = 3.6 * pen.width
    foot = (head[0] - size * unit[0], head[1] - size * unit[1])
    wings = [
        (foot[0] - side * size * 0.5 * unit[1], foot[1] + side * size * 0.5 * unit[0])
        for side in (1.0, -1.0)
    ]
    tip = Pen(pen.colour, 0.5, fill=pen.colour)
    return polyline([tail, foot], pen) + polyline([wings[0], head, wings[1]], tip, closed=True)


def group(parts: Sequence[str], title: str, shift: Point = (0.0, 0.0), *, name: str = "") -> str:
    """Return parts that belong together, moved by `shift` [px], with a title for the ear.

    By its `name` a rule can move it elsewhere.
    """
    moved = f' transform="translate({shift[0]:g} {shift[1]:g})"' if shift != (0.0, 0.0) else ""
    named = f' class="{name}"' if name else ""
    return f"<g{named}{moved}><title>{escape(title)}</title>{''.join(parts)}</g>"


def document(parts: Sequence[str], size: Point, title: str, told: str, rule: str = "") -> str:
    """Return a whole drawing on paper that is pale by day and by night."""
    width, height = size
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" role="img" '
        f'aria-labelledby="drawing-title drawing-told" font-family="{FONT}">'
        f'<title id="drawing-title">{escape(title)}</title>'
        f'<desc id="drawing-told">{escape(told)}</desc>'
        f"{rule and f'<style>{rule}</style>'}"
        # Paper to the window's edges, whatever its form.
        f'<rect x="{-9 * width:g}" y="{-9 * height:g}" width="{20 * width:g}" '
        f'height="{20 * height:g}" fill="{PAPER}"/>'
        f"{''.join(parts)}</svg>\n"
    )


def _pair(point: Point) -> str:
    return f"{point[0]:.1f} {point[1]:.1f}"
