"""Which reef in which wind: what two hulls can bear with the gusts counted, and what a maker says.

Heel is no cue on two hulls: a catamaran stands almost upright until a hull flies. What counts is
the wind that would lift the windward hull, for each number of reefs and each roll of the headsail.
Winds are those of the gusts, and the apparent ones are as she would meet them close-hauled: off the
wind a boat feels less, but she may have to round up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

import numpy as np
from scipy.optimize import brentq

from luffwright.air.stream import Stream
from luffwright.air.wind import wind_profile
from luffwright.errors import InputError
from luffwright.sails.cut import moulded, sail_area, triangles
from luffwright.sails.placing import place_headsail, place_mainsail
from luffwright.sails.plan import SailPlan
from luffwright.sails.rigging import REEF_SHARE
from luffwright.sails.setting import Setting
from luffwright.water.catamaran import (
    AIR_DENSITY,
    lift_off,
    lift_off_wind,
    two_hulls,
    working_wind,
)
from luffwright.water.estimate import first_leeway, first_speed, righting_moment
from luffwright.water.hull import Hull

CENTRE_HEIGHT = 1.0
"""Of a cruising catamaran's weight above the waterline, where the boat file has none [m]: own
estimate, see `two_hulls`."""
SIDE_FORCE_SHARE = 0.4
"""Depth of the side force in the water as a share of the draught: own estimate [-]."""
CLOSE_HAULED = {"monohull": math.radians(45.0), "catamaran": math.radians(50.0)}
REACHING, RUNNING = math.radians(90.0), math.radians(150.0)
ROUGH_SHARE = 0.9
"""Of every wind in the table, in a rough sea [-]: owner's manuals of production catamarans ask for
each reef 10 % earlier there."""
ROLLED = (0.0, 0.15, 0.3, 0.45, 0.6)
"""Shares of the headsail's luff perpendicular that the table rolls away."""
ROLL = 0.05
"""A maker's share of the headsail is rolled to the next of these steps [-]."""
STRONGEST = 40.0
"""No wind of the table is looked for above this [m/s]."""
_ROWS = 9

By = Literal["margin", "maker"]


@dataclass(frozen=True, order=True)
class Canvas:
    """How much sail is taken in: `reefs` tied in, shares of the mainsail's foot and of the
    headsail's luff perpendicular rolled away [-].
    """

    reefs: int = 0
    rolled: float = 0.0
    main_rolled: float = 0.0


@dataclass(frozen=True)
class MakerStep:
    """One line of a maker's table: up to which wind [m/s] this much sail may be carried;
    `apparent`: as the masthead reads it close-hauled, else true at 10 m.
    """

    up_to: float
    canvas: Canvas
    apparent: bool = True


@dataclass(frozen=True)
class Reefing:
    """What the table is made from: sails, hull, sensor and the maker's lines, from the lightest
    wind on; `centre_height` of the boat's weight [m]; `share` of every wind that the sea leaves.
    """

    plan: SailPlan
    hull: Hull
    sensor_height: float
    maker: tuple[MakerStep, ...] = ()
    centre_height: float = CENTRE_HEIGHT
    share: float = 1.0

    @property
    def most(self) -> Canvas:
        """Return the least sail that she can set with these sails [-]."""
        high = {entry.name: entry.high for entry in self.plan.controls}
        return Canvas(int(high.get("reef", 0.0)), high.get("furl", 0.0), high.get("main_furl", 0.0))

    @property
    def told(self) -> bool:
        """Return whether there is anything to go by: two hulls, or a maker's table [-]."""
        return self.hull.kind == "catamaran" or bool(self.maker)


@dataclass(frozen=True)
class Sails:
    """Area of the sails that are set [m²] and the height of its middle above the water [m]."""

    area: float
    height: float


@dataclass(frozen=True)
class Row:
    """One line of the table: up to which wind this much sail may be carried.

    `lift`: apparent wind that lifts the windward hull, infinite for one hull; `margin`: 70 % of it;
    `maker`: the maker's; `limit`, the lower, and `by` whom; all apparent, close-hauled, in the
    gusts. `true`, `reaching`, `running`: the same wind at 10 m, and as it is felt at 90° and 150°
    to it. [m/s]
    """

    canvas: Canvas
    sails: Sails
    lift: float
    margin: float
    maker: float
    limit: float
    by: By
    true: float
    reaching: float
    running: float


@lru_cache(maxsize=256)
def sails_set(plan: SailPlan, canvas: Canvas) -> Sails:
    """Return area and height of the sails that are left.

    Parameters
    ----------
    plan : SailPlan
    canvas : Canvas

    Returns
    -------
    Sails
    """
    setting = Setting(
        reef=float(canvas.reefs), furl=canvas.rolled, main_furl=canvas.main_rolled
    )  # fmt: skip
    head = moulded(plan.headsail, _ROWS, _ROWS, rolled_share=canvas.rolled)
    main = moulded(
        plan.mainsail, _ROWS, _ROWS, rolled_share=canvas.main_rolled,
        reef_from=REEF_SHARE * canvas.reefs,
    )  # fmt: skip
    faces = triangles(_ROWS, _ROWS, 0)
    area = moment = 0.0
    for nodes in (place_headsail(plan, head, setting), place_mainsail(plan, main, setting)):
        corners = nodes.reshape(-1, 3)
        for face in faces:
            part = sail_area(corners, face[None, :])
            area += part
            moment += part * float(corners[face, 2].mean())
    return Sails(area, moment / area)


def righting_limit(boat: Reefing) -> float:
    """Return the heeling moment at which the windward hull leaves the water [N m].

    Parameters
    ----------
    boat : Reefing
        Of two hulls.

    Returns
    -------
    float
        The lower of what spacing and weight give and of the greatest of her own stability curve.
    """
    curve = max(righting_moment(boat.hull, heel) for heel in boat.hull.righting_heel)
    flying = lift_off(two_hulls(boat.hull, boat.centre_height)).moment
    return min(curve, flying) if curve > 0.0 else flying


def lifting_wind(boat: Reefing, canvas: Canvas) -> float:
    r"""Return the apparent wind that lifts the windward hull with this much sail set.

    .. math:: U_0 = \sqrt{\frac{2 M_0}{\rho\, C\, A\, h}}

    Parameters
    ----------
    boat : Reefing
    canvas : Canvas

    Returns
    -------
    float
        Infinite for one hull. [m/s]

    Notes
    -----
    See `lift_off_wind`; :math:`h` reaches from the middle of the sails to that of the side force in
    the water. Pressure grows with the wind squared, so the gust counts and not the mean.
    """
    if boat.hull.kind != "catamaran":
        return math.inf
    sails = sails_set(boat.plan, canvas)
    lever = sails.height + SIDE_FORCE_SHARE * boat.hull.draught
    return lift_off_wind(righting_limit(boat), sails.area, lever, density=AIR_DENSITY)


def met(boat: Reefing, wind: float, angle: float, speed: float | None = None) -> float:
    """Return the apparent wind that her sensor meets.

    Parameters
    ----------
    boat : Reefing
    wind : float
        True, at 10 m. [m/s]
    angle : float
        Bow to true wind. [rad]
    speed : float, optional
        Of the boat; a first estimate if not given. [m/s]

    Returns
    -------
    float
        [m/s]
    """
    speed = first_speed(boat.hull, wind, angle) if speed is None else speed
    stream = Stream(wind_profile(wind), angle, speed, first_leeway(angle), 0.0)
    return float(stream.apparent(np.array([boat.sensor_height]))[0][0])


def close_hauled(boat: Reefing, wind: float) -> float:
    """Return the apparent wind that she meets when she rounds up into a true wind [m/s].

    Parameters
    ----------
    boat : Reefing
    wind : float
        True, at 10 m. [m/s]

    Returns
    -------
    float
    """
    return met(boat, wind, CLOSE_HAULED[boat.hull.kind])


def true_of(boat: Reefing, apparent: float) -> float:
    """Return the true wind in which she meets an apparent one close-hauled [m/s].

    Parameters
    ----------
    boat : Reefing
    apparent : float
        At her sensor. [m/s]

    Returns
    -------
    float
        At 10 m; at most 40 m/s.
    """
    if close_hauled(boat, 0.0) >= apparent:
        return 0.0
    if close_hauled(boat, STRONGEST) <= apparent:
        return STRONGEST
    return float(brentq(lambda wind: close_hauled(boat, wind) - apparent, 0.0, STRONGEST))


def _holds(boat: Reefing, canvas: Canvas, step: MakerStep) -> bool:
    """Return whether this is no more sail than a maker's line allows: of the mainsail, of the
    headsail as far as it can be rolled, and of both together.
    """
    enough = canvas.reefs >= step.canvas.reefs or canvas.main_rolled > 0.0
    rolled = min(step.canvas.rolled, boat.most.rolled)
    enough = enough and canvas.rolled >= rolled - 1e-9
    allowed = sails_set(boat.plan, step.canvas).area
    return enough and sails_set(boat.plan, canvas).area <= 1.001 * allowed


def maker_limit(boat: Reefing, canvas: Canvas) -> float:
    """Return up to which apparent wind the maker allows this much sail [m/s].

    Parameters
    ----------
    boat : Reefing
    canvas : Canvas

    Returns
    -------
    float
        Close-hauled; infinite without a maker's table, 0 for more sail than its first line has.
    """
    if not boat.maker:
        return math.inf
    limit = 0.0
    for step in boat.maker:
        if not _holds(boat, canvas, step):
            break
        limit = step.up_to if step.apparent else close_hauled(boat, step.up_to)
    return limit


def row(boat: Reefing, canvas: Canvas) -> Row:
    """Return the table's line for this much sail: the lower of righting margin and maker.

    Parameters
    ----------
    boat : Reefing
    canvas : Canvas

    Returns
    -------
    Row
    """
    lift = lifting_wind(boat, canvas)
    margin = boat.share * working_wind(lift)
    maker = boat.share * maker_limit(boat, canvas)
    limit = min(margin, maker)
    true = true_of(boat, limit)
    return Row(
        canvas, sails_set(boat.plan, canvas), lift, margin, maker, limit,
        "maker" if maker < margin else "margin", true,
        met(boat, true, REACHING), met(boat, true, RUNNING),
    )  # fmt: skip


def _steps(boat: Reefing, carried: Canvas) -> list[Canvas]:
    """Return what can be taken in from what is carried, from the most sail to the least.

    First the mainsail is reefed, then the headsail rolled, then, where it can be, the mainsail; the
    maker's lines lie between.
    """
    most = boat.most
    steps = [replace(carried, reefs=count) for count in range(carried.reefs, most.reefs + 1)]
    for share in ROLLED:
        if carried.rolled < share <= most.rolled + 1e-9:
            steps.append(replace(steps[-1], rolled=share))
    for share in ROLLED:
        if carried.main_rolled < share <= most.main_rolled + 1e-9:
            steps.append(replace(steps[-1], main_rolled=share))
    for line in boat.maker:
        rolled = round(math.ceil(line.canvas.rolled / ROLL - 1e-6) * ROLL, 6)
        step = replace(
            carried,
            reefs=min(max(carried.reefs, line.canvas.reefs), most.reefs),
            rolled=max(carried.rolled, min(rolled, most.rolled)),
        )
        steps += [step] if step not in steps else []
    return sorted(steps, key=lambda step: -sails_set(boat.plan, step).area)


def reef_table(boat: Reefing) -> tuple[Row, ...]:
    """Return the whole table: the mainsail's reefs, the headsail rolled up, and the maker's lines.

    Parameters
    ----------
    boat : Reefing
        Of two hulls, or with a maker's table.

    Returns
    -------
    tuple of Row
        From full sail to the least; nothing where there is nothing to go by.
    """
    return tuple(row(boat, step) for step in _steps(boat, Canvas())) if boat.told else ()


def taken_in(boat: Reefing, wind: float, carried: Canvas) -> Canvas | None:
    """Return the most sail she may carry in a wind, taken in from what she carries now.

    Parameters
    ----------
    boat : Reefing
    wind : float
        Apparent in the gusts, close-hauled. [m/s]
    carried : Canvas

    Returns
    -------
    Canvas or None
        What is carried where that is little enough; None where the least is still too much.

    Raises
    ------
    InputError
        For a wind that is none.
    """
    if not wind >= 0.0:
        raise InputError("wind", wind, "must be 0 or more", "give the wind in the gusts")
    return next((it for it in _steps(boat, carried) if wind <= row(boat, it).limit), None)
