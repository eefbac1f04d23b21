"""What a sailor would measure on the flying sails: sections, telltales, sag, leads.

A section is cut parallel to the deck through the luff at 1/4, 1/2 and 3/4 of its length.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from scipy.interpolate import CubicSpline

from luffwright.air.stall import LEECH_SEPARATED
from luffwright.air.tufts import LUFF_LIFTS, leeward_limit, tuft_place
from luffwright.arrays import FloatArray
from luffwright.frames import to_level
from luffwright.sails.flight import Flight
from luffwright.sails.sailcloth import SailPart

Level = Literal["low", "middle", "top"]
LEVELS: tuple[tuple[Level, float], ...] = (("low", 0.25), ("middle", 0.5), ("top", 0.75))


FOLDED = 1.5
"""How much wider than its chord cloth is that has folded over [-]."""


@dataclass(frozen=True)
class Section:
    """One section of a flying sail; lengths [m], angles [rad], shares of the chord [-].

    `points` run from luff to leech in the boat frame. `twist` is the chord angle less the foot's.
    The outside tuft streams while `incidence` is below `stalls_above` [rad].
    """

    level: Level
    height: float
    points: FloatArray
    chord: float
    chord_angle: float
    twist: float
    camber: float
    draft: float
    entry: float
    exit: float
    incidence: float
    lift: float
    separated: float
    stalls_above: float
    leech_stalls: bool

    @property
    def windward_lifts(self) -> bool:
        """Return whether the inside tuft lifts."""
        return self.incidence < LUFF_LIFTS

    @property
    def leeward_stalls(self) -> bool:
        """Return whether the outside tuft is stalled."""
        return self.incidence > self.stalls_above


def sail_grid(flight: Flight, part: SailPart) -> FloatArray:
    """Return a sail's nodes as (rows, columns, 3) in the boat frame [m]."""
    nodes = flight.places[part.first : part.first + part.count]
    return nodes.reshape(part.rows, part.columns, 3)


def folds(flight: Flight) -> bool:
    """Return whether a sail is folded over: somewhere its cloth is `FOLDED` times as wide as its
    chord, deeper than 40 %, which stands on paper and on no boat.

    Parameters
    ----------
    flight : Flight

    Returns
    -------
    bool
    """
    for part in flight.rigging.sails:
        grid = sail_grid(flight, part)[1:-1]
        girth = np.linalg.norm(np.diff(grid, axis=1), axis=2).sum(axis=1)
        chord = np.linalg.norm(grid[:, -1] - grid[:, 0], axis=1)
        if np.any(girth > FOLDED * chord):
            return True
    return False


def cut_level(grid: FloatArray, height: float) -> FloatArray:
    """Return where a plane parallel to the deck cuts each line of nodes from foot to head.

    Parameters
    ----------
    grid : (rows, columns, 3) array
        Nodes. Frame: boat. [m]
    height : float
        Of the plane. [m]

    Returns
    -------
    (columns, 3) array
        From luff to leech. [m]
    """
    rows, each = np.arange(grid.shape[0], dtype=np.float64), np.arange(grid.shape[1])
    z = grid[:, :, 2]
    rising = np.all(np.diff(z, axis=0) > 0, axis=0)
    place = np.array(
        [np.interp(height, z[:, k], rows) if rising[k] else 0.5 * rows[-1] for k in each]
    )
    # One spline for all lines; each is wanted at a place of its own.
    curve = CubicSpline(rows, grid)
    climb = curve.derivative()
    for _ in range(4):
        off = curve(place)[each, each, 2] - height
        place = place - off / np.maximum(climb(place)[each, each, 2], 1e-3)
        place = np.clip(place, 0.0, rows[-1])
    return np.asarray(curve(place)[each, each])


def chord_angle(first: FloatArray, last: FloatArray) -> float:
    """Return the angle of a chord to the centreline, positive to leeward [rad].

    Parameters
    ----------
    first, last : (3,) array
        Its ends at luff and leech. Frame: boat. [m]

    Returns
    -------
    float

    Examples
    --------
    A chord that runs aft and as much to leeward:

    >>> round(chord_angle(np.zeros(3), np.array([-1.0, 1.0, 0.0])), 4)
    0.7854
    """
    along = last - first
    return float(np.arctan2(along[1], -along[0]))


def section_shape(points: FloatArray) -> tuple[float, float, float, float, float]:
    """Return chord [m], camber and draft [shares], entry and exit angles [rad] of a section.

    The curve is a cubic spline through the points; camber is the greatest distance normal to the
    chord, draft its place; entry and exit are the end tangents against the chord.

    Parameters
    ----------
    points : (n, 3) array
        From luff to leech. [m]

    Examples
    --------
    A parabola of 10 % camber enters and leaves at arctan 0.4:

    >>> x = np.linspace(0.0, 1.0, 21)
    >>> curve = np.stack([-x, 0.4 * x * (1.0 - x), 0.0 * x], axis=1)
    >>> [round(value, 3) for value in section_shape(curve)]
    [1.0, 0.1, 0.5, 0.381, 0.381]
    """
    along = points[-1] - points[0]
    chord = float(np.hypot(along[0], along[1]))
    axis = np.array([along[0], along[1]]) / chord
    normal = np.array([axis[1], -axis[0]])
    flat = points[:, :2] - points[0, :2]
    x, y = flat @ axis / chord, flat @ normal / chord
    curve = CubicSpline(x, y) if np.all(np.diff(x) > 1e-6) else None
    if curve is None:
        deepest = int(np.argmax(np.abs(y)))
        return chord, float(y[deepest]), float(x[deepest]), 0.0, 0.0
    fine = np.linspace(0.0, 1.0, 201)
    depth = curve(fine)
    deepest = int(np.argmax(np.abs(depth)))
    camber, draft = float(depth[deepest]), float(fine[deepest])
    if 0 < deepest < 200:
        below, here, above = depth[deepest - 1 : deepest + 2]
        bend = below - 2 * here + above
        draft += 0.005 * float(0.5 * (below - above) / bend) if bend != 0.0 else 0.0
    entry = float(np.arctan(curve(0.0, 1)))
    return chord, camber, draft, entry, float(-np.arctan(curve(1.0, 1)))


def strip_values(
    flight: Flight, part: SailPart, values: FloatArray, height: FloatArray
) -> FloatArray:
    """Return a quantity of the strips at heights of a sail's luff.

    Parameters
    ----------
    flight : Flight
    part : SailPart
    values : (s,) array
        By strip of all sails.
    height : (n,) array
        Frame: boat. [m]

    Returns
    -------
    (n,) array
    """
    strips = part.rows - 1
    first = sum(other.rows - 1 for other in flight.rigging.sails if other.first < part.first)
    grid = sail_grid(flight, part)
    z = 0.5 * (grid[:-1, 0, 2] + grid[1:, 0, 2])
    return np.interp(height, z, values[first : first + strips])


def stalls_above(flight: Flight, part: SailPart, height: FloatArray) -> FloatArray:
    """Return the incidence above which a luff's outside tuft is stalled.

    Parameters
    ----------
    flight : Flight
    part : SailPart
    height : (n,) array
        Of the tufts; a mainsail's are sewn behind the dead air of its mast. Frame: boat. [m]

    Returns
    -------
    (n,) array
        [rad]
    """
    strip = flight.flow.strip
    chord, camber, holds = (
        strip_values(flight, part, values, height)
        for values in (strip.geometry.chord, strip.camber, strip.geometry.holds)
    )
    mast = flight.rigging.plan.mainsail.luff_thickness if part.first > 0 else 0.0
    return leeward_limit(tuft_place(chord, 0.5 * mast), camber, holds)


def foot_angle(flight: Flight, part: SailPart) -> float:
    """Return the chord angle of the foot, tack to clew [rad]."""
    grid = sail_grid(flight, part)
    return chord_angle(grid[0, 0], grid[0, -1])


def side_of(flight: Flight, part: SailPart) -> float:
    """Return the side on which a sail stands: 1 to leeward, −1 on its pole to windward."""
    return -1.0 if part.role == "headsail" and flight.setting.poled else 1.0


def sections(flight: Flight, part: SailPart) -> tuple[Section, ...]:
    """Return the three sections of a sail, low to top.

    A headsail on its pole is measured as one would who stands by it: depth, twist and lift are
    those of its mirror image to leeward; its chord angles are negative, to windward.
    """
    grid = sail_grid(flight, part)
    foot = foot_angle(flight, part)
    side = side_of(flight, part)
    across = np.array([1.0, side, 1.0])
    found = []
    for level, share in LEVELS:
        row = share * (part.rows - 1)
        luff = CubicSpline(np.arange(part.rows), grid[:, 0])(row)
        points = cut_level(grid, float(luff[2]))
        chord, camber, draft, entry, leaving = section_shape(points * across)
        angle = chord_angle(points[0], points[-1])
        height = np.array([luff[2]])
        strip = flight.flow.strip
        facing, lift, point = (
            float(strip_values(flight, part, values, height)[0])
            for values in (strip.facing, strip.lift, strip.separated)
        )
        stalls = float(stalls_above(flight, part, height)[0])
        found.append(
            Section(
                level, float(luff[2]), points, chord, angle, side * (angle - foot), camber, draft,
                entry, leaving, facing, side * lift, 1.0 - point, stalls,
                facing > 0.0 and point < LEECH_SEPARATED,
            )
        )  # fmt: skip
    return tuple(found)


def slack_at(flight: Flight, part: SailPart) -> str:
    """Return where a sail flutters, in words; nothing if the wind fills it and its leech is taut.

    A strip flutters where its incidence is from the wrong side, or where its leech tape is slack.
    """
    first = sum(other.rows - 1 for other in flight.rigging.sails if other.first < part.first)
    facing = flight.flow.strip.facing[first : first + part.rows - 1]
    leech = sail_grid(flight, part)[:, -1]
    rest = np.linalg.norm(np.diff(part.moulded.grid[:, -1], axis=0), axis=1)
    slack = np.linalg.norm(np.diff(leech, axis=0), axis=1) < rest
    words = [(facing < LUFF_LIFTS, "luffs"), (slack, "leech slack")]
    told = [(where, word) for where, word in words if where.any()]
    if not told:
        return ""
    where, word = told[0]
    height = float(np.mean(np.flatnonzero(where))) / max(part.rows - 2, 1)
    place = "low down" if height < 1 / 3 else "half-way up" if height < 2 / 3 else "at the top"
    return f"{word} {place}"


def stay_sag(flight: Flight) -> float:
    """Return the forestay's sag as a share of the line between its ends."""
    ropes = flight.rigging.ropes
    index = ropes.index("forestay")
    points = flight.places[ropes.point[ropes.begin[index] : ropes.begin[index + 1]]]
    axis = points[-1] - points[0]
    length = float(np.linalg.norm(axis))
    away = points - points[0]
    off = away - np.outer(away @ axis, axis) / length**2
    rows = np.arange(len(points))
    curve = CubicSpline(rows, off)(np.linspace(0, rows[-1], 101))
    return float(np.max(np.linalg.norm(curve, axis=1))) / length


def sheet_meets_luff(flight: Flight) -> float:
    """Return where the sheet's line through the clew meets the luff, as a share from the tack.

    Seen square to the boat's middle plane, as from abeam.
    """
    part = flight.rigging.sails[0]
    grid = sail_grid(flight, part)
    names = flight.rigging.points.names
    lead, clew = flight.places[names["lead"]], flight.places[names["clew"]]
    tack, head = grid[0, 0], grid[-1, 0]
    along, up = clew - lead, head - tack
    system = np.array([[up[0], -along[0]], [up[2], -along[2]]])
    if abs(np.linalg.det(system)) < 1e-9:
        return float("nan")
    share, _ = np.linalg.solve(system, np.array([lead[0] - tack[0], lead[2] - tack[2]]))
    return float(share)


def sail_forces(flight: Flight) -> FloatArray:
    """Return the air's force on each sail, (sails, 3), level frame: forward, leeward, up [N]."""
    force = to_level(flight.flow.node_force, flight.stream.heel)
    return np.array([force[p.first : p.first + p.count].sum(axis=0) for p in flight.rigging.sails])


def track_forces(flight: Flight) -> FloatArray:
    """Return each sail's drive and side force along and across the track, (sails, 2) [N]."""
    leeway = flight.stream.leeway
    force = sail_forces(flight)
    drive = force[:, 0] * np.cos(leeway) + force[:, 1] * np.sin(leeway)
    side = -force[:, 0] * np.sin(leeway) + force[:, 1] * np.cos(leeway)
    return np.stack([drive, side], axis=1)


def heeling_moment(flight: Flight) -> float:
    """Return the moment of the air's load about the boat's fore-and-aft axis at the water [N m]."""
    places = flight.places[: flight.rigging.sail_nodes]
    force = flight.flow.node_force
    return float(np.sum(places[:, 2] * force[:, 1] - places[:, 1] * force[:, 2]))


def leech_gap(flight: Flight) -> float:
    """Return the least distance of the headsail to windward of the gear it must pass [m].

    Zero or less: the sail touches spreader or shroud.
    """
    blockers = flight.rigging.blockers
    part = flight.rigging.sails[0]
    grid = sail_grid(flight, part)
    gaps = []
    for blocker in blockers:
        place = flight.places[blocker]
        leech = grid[:, -1]
        if leech[0, 2] < place[2] < leech[-1, 2]:
            x = np.interp(place[2], leech[:, 2], leech[:, 0])
            y = np.interp(place[2], leech[:, 2], leech[:, 1])
            if x < place[0]:
                section = cut_level(grid, float(place[2]))
                y = np.interp(-place[0], -section[:, 0], section[:, 1])
                gaps.append(float(y - place[1]))
            else:
                gaps.append(float(np.hypot(x - place[0], y - place[1])))
    return min(gaps) if gaps else float("inf")
