"""The page's colours: read by day and by night, and no hue that means a side of the boat."""

from __future__ import annotations

import re
from colorsys import rgb_to_hls

import pytest

from luffwright.faces.web.pages import static_files

STYLE = static_files()["page.css"]
RULES = {"day": r":root \{([^}]*)\}", "night": r':root\[data-night="on"\] \{([^}]*)\}'}


def colours(when: str) -> dict[str, tuple[float, float, float]]:
    """Return the colours by name, red, green and blue from 0 to 1."""
    rule = re.search(RULES[when], STYLE)
    assert rule
    found = re.findall(r"--([\w-]+): #([0-9a-f]{3,6})\b", rule[1])
    out = {}
    for name, digits in found:
        whole = digits if len(digits) == 6 else "".join(2 * it for it in digits)
        red, green, blue = (int(whole[at : at + 2], 16) / 255 for at in (0, 2, 4))
        out[name] = (red, green, blue)
    return out


def contrast(a: tuple[float, float, float], b: tuple[float, float, float]) -> float:
    """Return the contrast of two colours by the web's accessibility guidelines, 1 to 21 [-]."""
    light, dark = sorted((_luminance(a), _luminance(b)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: tuple[float, float, float]) -> float:
    red, green, blue = (it / 12.92 if it <= 0.04045 else ((it + 0.055) / 1.055) ** 2.4
                        for it in colour)  # fmt: skip
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_black_on_white_has_the_greatest_contrast() -> None:
    assert contrast((0, 0, 0), (1, 1, 1)) == pytest.approx(21.0)


@pytest.mark.parametrize("when", ["day", "night"])
def test_words_are_read_and_lines_are_seen(when: str) -> None:
    by = colours(when)
    # Level AA: 4.5 for words, 3 for lines and edges.
    words = [("ink", "paper"), ("muted", "paper"), ("trouble", "paper"), ("on-act", "act"),
             ("ink", "band"), ("muted", "band")]  # fmt: skip
    lines = [(it, "paper") for it in ("headsail", "mainsail", "edge", "press", "port", "starboard")]
    assert [(a, b) for a, b in words if contrast(by[a], by[b]) < 4.5] == []
    assert [(a, b) for a, b in lines if contrast(by[a], by[b]) < 3.0] == []


def hue(colour: tuple[float, float, float]) -> float:
    """Return the hue [°]: red 0, green 120, blue 240."""
    return 360.0 * rgb_to_hls(*colour)[0]


def test_pressure_and_trouble_are_neither_red_nor_green() -> None:
    for name in ("press", "trouble", "headsail"):
        assert 200.0 <= hue(colours("day")[name]) <= 330.0, name


def test_night_is_one_dim_hue() -> None:
    # Of a hand's breadth about amber, so that eyes stay used to the dark.
    by = colours("night")
    hues = [hue(it) for it in by.values() if max(it) - min(it) > 0.05]
    assert max(hues) - min(hues) < 15.0
    assert max(_luminance(it) for name, it in by.items() if name not in ("on-act", "trouble")) < 0.4
