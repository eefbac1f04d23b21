"""Refusals as the page says them: the sailor's word for the field, the limit, the remedy."""

from __future__ import annotations

from luffwright.errors import InputError, LuffwrightError
from luffwright.faces.words import capital

_WORDS = {
    "wind_kn": "the wind", "angle_deg": "the wind's angle", "apparent_wind_kn": "the wind you feel",
    "apparent_angle_deg": "its angle", "gust_kn": "the gusts", "controls": "the ropes",
    "beaufort": "the Beaufort force", "boat": "the boat", "speed_kn": "the speed",
    "heel_deg": "the heel", "asked": "this",
}  # fmt: skip


def refusal_words(refusal: LuffwrightError) -> str:
    """Return a refusal as one sentence for the page.

    Examples
    --------
    >>> refusal_words(InputError("wind_kn", 99.0, "must be 1 to 60", "give knots of wind"))
    'The wind (99.0): must be 1 to 60; give knots of wind.'
    >>> refusal_words(InputError("seen.1.heel_deg", 95, "must be at most 60", "give degrees"))
    'The heel (95): must be at most 60; give degrees.'
    """
    if not isinstance(refusal, InputError):
        return str(refusal)
    # What is seen comes look by look, each with its number.
    whole, *parts = [it for it in refusal.field.split(".") if not it.isdigit()]
    part = " ".join(parts).replace("_", " ")
    word = _WORDS.get(parts[-1], f"the {part}") if parts else _WORDS.get(whole, whole)
    value = str(refusal.value)[:60]
    return f"{capital(word)} ({value}): {refusal.limit}; {refusal.remedy.rstrip('.')}."
