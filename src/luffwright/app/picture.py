"""The flown sails as plain points, for the drawings."""

from __future__ import annotations

import numpy as np
from scipy.interpolate import CubicSpline

from luffwright.app.answer import BoatPicture, SailPicture, SectionPicture
from luffwright.app.question import Question
from luffwright.arrays import FloatArray
from luffwright.sails.flight import Flight
from luffwright.sails.measure import sail_grid, sections, sheet_meets_luff, side_of
from luffwright.sails.placing import pole_end
from luffwright.sails.sailcloth import SailPart
from luffwright.units import to_knots

DRAWN_POINTS = 29
DRAWN_ROPES = ("mainsheet", "vang", "backstay")
Points = tuple[tuple[float, float, float], ...]


def _points(array: FloatArray) -> Points:
    return tuple((float(x), float(y), float(z)) for x, y, z in array)


def _smooth(points: FloatArray) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return x and y of the smooth curve that the flow sees through a section's nodes."""
    place = np.linspace(0.0, 1.0, len(points))
    fine = CubicSpline(place, points[:, :2])(np.linspace(0.0, 1.0, DRAWN_POINTS))
    return tuple(float(x) for x in fine[:, 0]), tuple(float(y) for y in fine[:, 1])


def _sail(flight: Flight, part: SailPart, name: str, sign: float) -> SailPicture:
    grid = sail_grid(flight, part)
    found = []
    for section in sections(flight, part):
        middle = section.points.mean(axis=0)
        height = np.array([max(float(middle @ flight.stream.up), 0.5)])
        speed, angle = flight.stream.apparent(height)
        found.append(
            SectionPicture(
                section.level, section.height, *_smooth(section.points),
                to_knots(float(speed[0])), sign * float(np.degrees(angle[0])),
            )
        )  # fmt: skip
    return SailPicture(
        name, part.role, tuple(found), _points(grid[:, 0]), _points(grid[:, -1]), _points(grid[0]),
        side_of(flight, part) < 0.0,
    )  # fmt: skip


def picture(asked: Question, flight: Flight, names: tuple[str, str]) -> BoatPicture:
    """Return the geometry to draw.

    Parameters
    ----------
    asked : Question
    flight : Flight
    names : (str, str)
        Of headsail and mainsail.

    Returns
    -------
    BoatPicture
    """
    sign = -1.0 if asked.port else 1.0
    rigging, places = flight.rigging, flight.places
    named = rigging.points.names
    ropes = rigging.ropes
    stay = _rope(flight, "forestay")
    head, main = rigging.sails
    # From a pole's end the line means nothing.
    share = float("nan") if flight.setting.poled else sheet_meets_luff(flight)
    tack, top = sail_grid(flight, head)[0, 0], sail_grid(flight, head)[-1, 0]
    line = [places[named["lead"]], places[named["clew"]]]
    if 0.0 <= share <= 1.0:
        line.append(tack + share * (top - tack))
    plan, hull = asked.boat.plan, asked.boat.hull
    mast = np.array([[0.0, 0.0, plan.deck_height], [0.0, 0.0, plan.mast.top]])
    mast[:, 0] = -np.tan(plan.mast.rake) * (mast[:, 2] - plan.mast.foot)
    boom = np.array([sail_grid(flight, main)[0, 0], places[named["boom_end"]]])
    return BoatPicture(
        tuple(
            _sail(flight, part, name, sign) for part, name in zip((head, main), names, strict=True)
        ),
        _points(mast), _points(boom), _points(stay), _points(np.array(line)),
        share if np.isfinite(share) else None, plan.deck_height, hull.bow_x,
        -asked.boat.stern_aft, hull.beam, hull.hull_spacing,
        {name: _points(_rope(flight, name)) for name in DRAWN_ROPES if name in ropes.names},
        *_tracks(asked), _points(places[[named["winch"]]])[0], _pole(asked, flight),
    )  # fmt: skip


def _pole(asked: Question, flight: Flight) -> Points:
    """Return the pole from the mast to its end; nothing where it is stowed."""
    if not flight.setting.poled:
        return ()
    end = pole_end(asked.boat.plan, flight.setting)
    return _points(np.array([[0.0, 0.0, end[2]], end]))


def _rope(flight: Flight, name: str) -> FloatArray:
    """Return the points that a rope or a stay runs through, (n, 3) [m]."""
    ropes, index = flight.rigging.ropes, flight.rigging.ropes.index(name)
    return flight.places[ropes.point[ropes.begin[index] : ropes.begin[index + 1]]]


def _tracks(asked: Question) -> tuple[Points, Points]:
    """Return the ends of the car's track and of the traveller's."""
    head, main = asked.boat.plan.headsail_gear, asked.boat.plan.mainsail_gear
    x, _, z = main.traveller
    reach = main.traveller_reach
    return (head.track_front, head.track_aft), ((x, -reach, z), (x, reach, z))
