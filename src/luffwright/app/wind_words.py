"""Wind and course as a crew says them: Beaufort, close-hauled, on the beam."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from luffwright.errors import InputError
from luffwright.units import to_knots
from luffwright.water.sea import SEA_HEIGHTS

LEAST_FORCE, GREATEST_FORCE = 1, 9
COURSES: dict[str, float | str] = {
    "close-hauled": "upwind", "close reach": 60.0, "beam reach": 90.0, "broad reach": 135.0,
    "downwind": "downwind",
}  # fmt: skip
"""Each course with its angle off the bow to the true wind [°], or what is searched."""


@dataclass(frozen=True)
class Sea:
    """A named sea and its significant height [m]."""

    name: str
    height_m: float


def seas() -> tuple[Sea, ...]:
    """Return the seas that have a name."""
    return tuple(Sea(name, height) for name, height in SEA_HEIGHTS.items())


def beaufort_kn(force: float) -> float:
    r"""Return the wind in the middle of a Beaufort force.

    .. math:: v = 0.836\, B^{3/2}

    Parameters
    ----------
    force : float
        Beaufort number, 1 to 9. [-]

    Returns
    -------
    float
        At 10 m. [kn]

    Raises
    ------
    InputError
        Beyond 1 to 9.

    Notes
    -----
    The scale's own relation, in m/s, as the World Meteorological Organization has it.

    Examples
    --------
    Force 4, 11 to 16 kn:

    >>> round(beaufort_kn(4), 1)
    13.0
    """
    if not LEAST_FORCE <= force <= GREATEST_FORCE:
        limit = f"must be {LEAST_FORCE} to {GREATEST_FORCE}"
        raise InputError("beaufort", force, limit, "give a force of the Beaufort scale")
    return to_knots(0.836 * force**1.5)


def with_wind(fields: Mapping[str, object]) -> dict[str, object]:
    """Return a request's fields with `beaufort` and `course` as wind and angle.

    Raises
    ------
    InputError
        For a force or a course that there is not.

    Examples
    --------
    >>> with_wind({"boat": "marram", "course": "beam reach", "wind_kn": 10})
    {'boat': 'marram', 'wind_kn': 10, 'angle_deg': 90.0}
    """
    given = dict(fields)
    course, force = given.pop("course", None), given.pop("beaufort", None)
    if course is not None:
        if course not in COURSES:
            raise InputError("course", course, "no such course", f"say {', '.join(COURSES)}")
        given["angle_deg"] = COURSES[str(course)]
    if force is not None:
        if not isinstance(force, int | float) or isinstance(force, bool):
            raise InputError("beaufort", force, "must be a number", "give 1 to 9")
        given["wind_kn"] = beaufort_kn(float(force))
    return given
