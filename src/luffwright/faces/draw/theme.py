"""Drawings inside a page: whose colours the page decides, so that night is one dim hue."""

from __future__ import annotations

import re
from collections.abc import Sequence
from xml.sax.saxutils import escape, quoteattr

from luffwright.faces.draw.ink import (
    FAINT,
    INK,
    MUTED,
    PAPER,
    PORT,
    PRESSURE,
    SAILS,
    STARBOARD,
    TROUBLE,
    Point,
)

NAMES = {
    PAPER: "paper", INK: "ink", FAINT: "faint", MUTED: "muted", TROUBLE: "trouble", PORT: "port",
    STARBOARD: "starboard", PRESSURE: "press", SAILS["headsail"]: "headsail",
    SAILS["mainsail"]: "mainsail",
}  # fmt: skip
"""Each colour of the drawings with its name in the page's style."""
_COLOUR = re.compile('"(' + "|".join(NAMES) + ')"')


def themed(text: str) -> str:
    """Return a drawing whose colours are named by the page's style.

    Examples
    --------
    >>> themed('<path stroke="#16202a"/>')
    '<path stroke="var(--ink)"/>'
    """
    return _COLOUR.sub(lambda found: f'"var(--{NAMES[found[1]]})"', text)


def figure(parts: Sequence[str], size: Point, name: str, told: str) -> str:
    """Return a drawing of a page as SVG, with a name and what it tells for the ear."""
    title, words = f"{name}-title", f"{name}-told"
    return themed(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size[0]:g} {size[1]:g}" '
        f'role="img" aria-labelledby={quoteattr(f"{title} {words}")} data-drawing="{name}">'
        f'<title id="{title}">{escape(_TITLES.get(name, name))}</title>'
        f'<desc id="{words}">{escape(told)}</desc>{"".join(parts)}</svg>'
    )


_TITLES = {
    "cuts": "Three sections of the sails from above", "deck": "The deck from above",
    "side": "The boat from windward", "helm": "Up the headsail from the helm",
    "boom": "Up the mainsail from under the boom",
}  # fmt: skip
