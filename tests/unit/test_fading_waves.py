"""Bow waves that fade along the hull: the halves of a hull, and what a catamaran is pushed by."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.water.foil import SEA_WATER
from luffwright.water.hull_drag import hull_drag
from luffwright.water.thin_ship import wave_coefficients, wigley_form

HULL = wigley_form(1.0, 0.1, 0.0625)


def test_bow_and_stern_together_are_the_integral() -> None:
    # Closed form: without fading the two halves' waves add up to the whole hull's.
    for froude in (0.25, 0.35, 0.5):
        whole, _ = wave_coefficients(HULL, 0.0, froude)
        halves, _ = wave_coefficients(HULL, 0.0, froude, fading=1e-12)
        assert halves == pytest.approx(whole, rel=1e-6)


def test_a_catamaran_is_harder_to_push_the_faster_she_goes() -> None:
    # With theory's own hollow she had two speeds for one drive, 6.2 and 7.2 kn, and 4° of course
    # between them: no crew knows of that.
    boat = load_boat("eider").hull
    drag = [hull_drag(boat, float(it), 0.0, SEA_WATER).force for it in np.arange(1.5, 6.0, 0.1)]
    assert np.all(np.diff(drag) > 0.0)
