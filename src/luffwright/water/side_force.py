r"""Side force of keel, rudder and hull together, and the drag it costs.

Boat frame: leeward is +y, so the fins push towards -y. The fins see the part of the leeway that
runs across their own plane, and their lift is square to that plane::

    tan(alpha) = tan(leeway) cos(heel)

Level frame for all that is returned; friction of the fins is told apart from the force, because
the hull's resistance counts it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from luffwright.air.wind import GRAVITY
from luffwright.water.effective_draught import FASTEST, MOST_HEEL, effective_draught
from luffwright.water.fluid import Water
from luffwright.water.foil import (
    SEA_WATER,
    Foil,
    FoilForce,
    foil_force,
    separation_drag_coefficient,
)
from luffwright.water.foil_estimate import keel_of, rudder_of
from luffwright.water.hull import Hull

Vector = tuple[float, float, float]
RUDDER_INFLOW = 0.9
"""Speed of the water at the rudder, in the keel's wake, over the boat's (Keuning and Verwerft 2009,
from memory)."""
_HEEL_LOSS = 0.382
_CARRY_OVER = 1.8
_DOWNWASH = 0.136
_SOFT_LIFT, _SOFT_HEEL = 0.02, 0.01
_LEAST_PRESS = 1.0
_HALF = 0.5


@dataclass(frozen=True)
class Sailing:
    """How the boat goes: `speed` through the water [m/s], `heel`, `leeway`, `rudder` [rad],
    positive to leeward and with weather helm.
    """

    speed: float
    heel: float
    leeway: float
    rudder: float


@dataclass(frozen=True)
class SideForce:
    """What keel, rudder and hull feel from leeway and rudder.

    `force` [N] and `moment` about the origin [N m] in the level frame, without friction; `side`:
    horizontal, across the track, to windward; `induced_drag` and `profile_drag` along the track;
    `keel` (with what the hull carries) and `rudder` square to their own plane [N]; `centre`: x and
    z in the boat frame [m]; `attached`: share of the flow not stalled on keel and rudder [-].
    """

    force: Vector
    moment: Vector
    side: float
    induced_drag: float
    profile_drag: float
    keel: float
    rudder: float
    centre: tuple[float, float]
    attached: tuple[float, float]


def hull_factor(foil: Foil, draught_body: float) -> float:
    r"""Return side force of keel and hull over that of the keel by itself.

    .. math:: c = 1 + 1.8\,T_c/b_k

    Parameters
    ----------
    foil : Foil
        The keel, of span :math:`b_k`.
    draught_body : float
        Of the hull without keel, :math:`T_c`. [m]

    Returns
    -------
    float
        [-]

    Notes
    -----
    Holds for: fin keels longer than the hull is deep. Stub keels lie outside.

    References
    ----------
    .. [1] Keuning and Verwerft, *A new Method for the Prediction of the Side Force on Keel and
       Rudder of a Sailing Yacht*, 19th Chesapeake Sailing Yacht Symposium, 2009 (from memory).

    Examples
    --------
    >>> round(hull_factor(Foil(1.8, 1.0, 1.0, 0.0, 0.12, 0.0, 0.5), 0.5), 9)
    1.5
    """
    return 1.0 + _CARRY_OVER * draught_body / foil.span


def heel_factor(heel: float) -> float:
    r"""Return what heel leaves of a fin's lift as its root comes near the surface.

    .. math:: c = 1 - 0.382\,\varphi

    Parameters
    ----------
    heel : float
        Either way, :math:`\varphi`. [rad]

    Returns
    -------
    float
        [-]

    Notes
    -----
    Holds for: 0 to 30°. Rounded within half a degree of upright, so that it has no corner there.

    References
    ----------
    .. [1] Keuning and Verwerft, as above (from memory).

    Examples
    --------
    >>> round(heel_factor(0.5), 2)
    0.81
    """
    return 1.0 - _HEEL_LOSS * (math.hypot(heel, _SOFT_HEEL) - _SOFT_HEEL)


def downwash(lift_coefficient: float, aspect_ratio: float) -> float:
    r"""Return the angle by which the keel turns the water that the rudder meets.

    .. math:: \varepsilon = 0.136\,\sqrt{C_L/A}

    Parameters
    ----------
    lift_coefficient : float
        Of the keel, :math:`C_L`. [-]
    aspect_ratio : float
        Of the keel, effective, :math:`A`. [-]

    Returns
    -------
    float
        Of the sign of the lift. [rad]

    Notes
    -----
    The root's infinite slope at no lift is rounded below a coefficient of 0.02.

    References
    ----------
    .. [1] Keuning and Verwerft, as above (from memory).

    Examples
    --------
    >>> round(downwash(0.3, 3.0), 3)
    0.043
    """
    soft = math.sqrt(math.hypot(lift_coefficient, _SOFT_LIFT))
    return _DOWNWASH * lift_coefficient / soft / math.sqrt(aspect_ratio)


def flow_across(sailing: Sailing) -> float:
    """Return the incidence that leeway gives a fin in the boat's own middle plane [rad].

    Parameters
    ----------
    sailing : Sailing

    Returns
    -------
    float
    """
    across = math.sin(sailing.leeway) * math.cos(sailing.heel)
    return math.atan2(across, math.cos(sailing.leeway))


@dataclass(frozen=True)
class _Part:
    """A force in the boat's x-y plane [N] and where it acts: x and z [m]."""

    ahead: float
    across: float
    x: float
    z: float


def _turned(lift: float, drag: float, angle: float, place: tuple[float, float]) -> _Part:
    """Return lift across and drag along a flow that comes in from leeward at an angle."""
    cosine, sine = math.cos(angle), math.sin(angle)
    return _Part(lift * sine - drag * cosine, -lift * cosine - drag * sine, *place)


def _keel_part(hull: Hull, sailing: Sailing, water: Water) -> tuple[_Part, FoilForce, float]:
    """Return the keel's part with the hull's share, its coefficients and its lift."""
    keel, angle = keel_of(hull), flow_across(sailing)
    alone = foil_force(keel, angle, sailing.speed, water)
    carried = hull_factor(keel, hull.draught_body)
    lift = keel.count * alone.lift * carried * heel_factor(sailing.heel)
    press = 0.5 * water.density * sailing.speed**2
    draught = effective_draught(hull, keel.taper, sailing.speed, sailing.heel)
    wake = lift**2 / (math.pi * draught**2 * max(press, _LEAST_PRESS)) / _hulls(hull)
    open_drag = separation_drag_coefficient(keel, angle) * press * keel.area * keel.count
    drag = alone.attached * wake + open_drag
    x, z = keel.centre
    share = 1.0 / carried
    middle = (
        share * x + (1.0 - share) * keel.x_position,
        share * z - (1.0 - share) * 0.5 * hull.draught_body,
    )
    return _turned(lift, drag, angle, middle), alone, lift


def _hulls(hull: Hull) -> int:
    return 2 if hull.kind == "catamaran" else 1


def _rudder_part(
    hull: Hull, sailing: Sailing, bent: float, water: Water
) -> tuple[_Part, FoilForce, float]:
    """Return the rudder's part in the water that the keel has bent, its coefficients and lift."""
    rudder, local = rudder_of(hull), flow_across(sailing) - bent
    speed = RUDDER_INFLOW * sailing.speed
    alone = foil_force(rudder, local + sailing.rudder, speed, water)
    lift = rudder.count * alone.lift * heel_factor(sailing.heel)
    drag = rudder.count * alone.induced_drag
    return _turned(lift, drag, local, rudder.centre), alone, lift


def _together(parts: tuple[_Part, ...], heel: float) -> tuple[Vector, Vector]:
    """Return force and moment about the origin in the level frame."""
    cosine, sine = math.cos(heel), math.sin(heel)
    ahead = sum(part.ahead for part in parts)
    across = sum(part.across for part in parts)
    pitch = sum(part.z * part.ahead for part in parts)
    yaw = sum(part.x * part.across for part in parts)
    roll = -sum(part.z * part.across for part in parts)
    moment = (roll, cosine * pitch + sine * yaw, cosine * yaw - sine * pitch)
    return (ahead, cosine * across, -sine * across), moment


def _middle(parts: tuple[_Part, ...]) -> tuple[float, float]:
    """Return where the whole side force acts; without any, where the first part would."""
    across = sum(part.across for part in parts)
    if abs(across) < 1e-6:
        return parts[0].x, parts[0].z
    x = sum(part.x * part.across for part in parts) / across
    return x, sum(part.z * part.across for part in parts) / across


def side_force(hull: Hull, sailing: Sailing, water: Water = SEA_WATER) -> SideForce:
    """Return side force, its drag, its moments and its centre.

    Parameters
    ----------
    hull : Hull
    sailing : Sailing
    water : Water

    Returns
    -------
    SideForce

    Notes
    -----
    Keel: slope of Whicker and Fehlner, times what hull and heel make of it; its drag due to lift
    by the Delft effective draught. Rudder: in the keel's wake and downwash; its lift leans back
    with the bent flow, which is what the two cost each other.
    """
    keel, keel_alone, keel_lift = _keel_part(hull, sailing, water)
    bent = downwash(keel_alone.lift_coefficient, keel_of(hull).aspect_ratio)
    rudder, rudder_alone, rudder_lift = _rudder_part(hull, sailing, bent, water)
    force, moment = _together((keel, rudder), sailing.heel)
    cosine, sine = math.cos(sailing.leeway), math.sin(sailing.leeway)
    return SideForce(
        force,
        moment,
        side=force[0] * sine - force[1] * cosine,
        induced_drag=-force[0] * cosine - force[1] * sine,
        profile_drag=keel_of(hull).count * keel_alone.profile_drag
        + rudder_of(hull).count * rudder_alone.profile_drag,
        keel=keel_lift,
        rudder=rudder_lift,
        centre=_middle((keel, rudder)),
        attached=(keel_alone.attached, rudder_alone.attached),
    )


def outside(hull: Hull, sailing: Sailing, found: SideForce) -> tuple[str, ...]:
    """Return where an answer leaves the range of the methods, in the sailor's words.

    Parameters
    ----------
    hull : Hull
    sailing : Sailing
    found : SideForce
        For the same hull and sailing.

    Returns
    -------
    tuple of str
    """
    froude = abs(sailing.speed) / math.sqrt(GRAVITY * hull.length_waterline)
    said = (
        (keel_of(hull).span < hull.draught_body, "keel shorter than its hull is deep: side force"),
        (abs(sailing.heel) > MOST_HEEL, "side force beyond 30° of heel"),
        (
            hull.kind == "monohull" and froude > FASTEST,
            "drag due to side force above Froude number 0.45",
        ),
        (found.attached[0] < _HALF, "keel stalled"),
        (found.attached[1] < _HALF, "rudder stalled"),
    )
    return tuple(text for holds, text in said if holds)
