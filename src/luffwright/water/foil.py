"""A keel or rudder by itself: lift, stall and drag of a fin of low aspect ratio.

The fin hangs from a hull that mirrors it, so it works as half of a wing twice as long. Everything
is smooth in incidence and speed and odd or even in incidence, as a Newton solve needs it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from luffwright.water.fluid import Water
from luffwright.water.friction import foil_form_factor, friction_line

WATER_DENSITY = 1025.98
"""Of sea water at 15 °C [kg/m³] (gsw, absolute salinity 35.165 g/kg)."""
WATER_VISCOSITY = 1.1883e-6
"""Kinematic, of sea water at 15 °C [m²/s] (ITTC 7.5-02-01-03)."""
SEA_WATER = Water(WATER_DENSITY, WATER_VISCOSITY)
"""Sea water at 15 °C."""
SPAN_EFFICIENCY = 0.9
"""Share of the elliptic wing's freedom from induced drag (Whicker and Fehlner, from memory)."""
LIFT_CENTRE = 4.0 / (3.0 * math.pi)
"""Of an elliptic load, as a share of the span from the root [-]."""
GREATEST_LIFT = 1.2
"""Lift coefficient at which a fin of this kind stalls [-] (Whicker and Fehlner's fins, from memory:
1.1 to 1.3)."""
_STALL_WIDTH = math.radians(1.5)
_PLATE_NORMAL = 1.17


@dataclass(frozen=True)
class Foil:
    """A fin, or `count` alike side by side.

    `span` from root to tip, chords [m], `sweep` of the quarter-chord line, aft [rad], `thickness`
    as a share of the chord, `x_position` of the root's quarter chord, forward of the mast's front
    face [m], `depth` of the root below the waterline [m].
    """

    span: float
    root_chord: float
    tip_chord: float
    sweep: float
    thickness: float
    x_position: float
    depth: float
    count: int = 1

    @property
    def area(self) -> float:
        """Lateral area of one fin [m²]."""
        return 0.5 * self.span * (self.root_chord + self.tip_chord)

    @property
    def taper(self) -> float:
        """Tip chord over root chord [-]."""
        return self.tip_chord / self.root_chord

    @property
    def aspect_ratio(self) -> float:
        """Effective: the hull doubles the span [-]."""
        return 2.0 * self.span**2 / self.area

    @property
    def centre(self) -> tuple[float, float]:
        """Where the lift acts: x forward of the mast's front face, z above the waterline [m]."""
        down = LIFT_CENTRE * self.span
        return self.x_position - down * math.tan(self.sweep), -self.depth - down


@dataclass(frozen=True)
class FoilForce:
    """What one fin feels: `lift` across the flow, `induced_drag` and `profile_drag` along it [N],
    `lift_coefficient` [-], `attached`: share of the flow that is not stalled [-].
    """

    lift: float
    induced_drag: float
    profile_drag: float
    lift_coefficient: float
    attached: float


def lift_slope(aspect_ratio: float, sweep: float = 0.0) -> float:
    r"""Return the lift slope of a fin at small incidence.

    .. math:: \frac{\mathrm dC_L}{\mathrm d\alpha} = \frac{5.7\,A}{1.8 +
        \cos\Lambda\,\sqrt{A^2/\cos^4\Lambda + 4}}

    Parameters
    ----------
    aspect_ratio : float
        Effective, with the mirror image, :math:`A`. [-]
    sweep : float
        Of the quarter-chord line, :math:`\Lambda`. [rad]

    Returns
    -------
    float
        [1/rad]

    Notes
    -----
    Holds for: aspect ratios of 0.5 to 6, sweep up to 45°, sections of 10 to 15 % thickness.

    References
    ----------
    .. [1] Whicker and Fehlner, *Free-Stream Characteristics of a Family of Low-Aspect-Ratio,
       All-Movable Control Surfaces for Application to Ship Design*, David Taylor Model Basin
       Report 933, 1958 (formula from memory).

    Examples
    --------
    >>> round(lift_slope(3.0), 3)
    3.163
    """
    cosine = math.cos(sweep)
    root = math.sqrt(aspect_ratio**2 / cosine**4 + 4.0)
    return 5.7 * aspect_ratio / (1.8 + cosine * root)


def crossflow_coefficient(taper: float) -> float:
    r"""Return the drag coefficient of the flow across a fin's tip.

    .. math:: C_{Dc} = 0.1 + 0.7\,t

    Parameters
    ----------
    taper : float
        Tip chord over root chord, :math:`t`. [-]

    Returns
    -------
    float
        [-]

    Notes
    -----
    Holds for: faired tips. Square tips have about twice as much (from memory).

    References
    ----------
    .. [1] Whicker and Fehlner, DTMB Report 933, 1958, as used by Prestero, *Verification of a
       Six-Degree of Freedom Simulation Model*, MIT, 2001, table 2.2.

    Examples
    --------
    >>> round(crossflow_coefficient(0.654), 3)
    0.558
    """
    return 0.1 + 0.7 * taper


def attached_lift(foil: Foil, incidence: float) -> float:
    r"""Return the lift coefficient without stall: circulation plus the flow across the tip.

    .. math:: C_L = \frac{\mathrm dC_L}{\mathrm d\alpha}\,\alpha
        + \frac{C_{Dc}}{A}\,\alpha\,|\alpha|

    Parameters
    ----------
    foil : Foil
    incidence : float
        Of the flow on the fin, :math:`\alpha`. [rad]

    Returns
    -------
    float
        [-]

    References
    ----------
    .. [1] Whicker and Fehlner, DTMB Report 933, 1958 (from memory).
    """
    across = crossflow_coefficient(foil.taper) / foil.aspect_ratio
    slope = lift_slope(foil.aspect_ratio, foil.sweep)
    return slope * incidence + across * incidence * abs(incidence)


def stall_angle(foil: Foil) -> float:
    r"""Return the incidence at which the lift without stall would reach its limit of 1.2.

    .. math:: s\,\alpha + k\,\alpha^2 = C_{L,\max}

    Parameters
    ----------
    foil : Foil

    Returns
    -------
    float
        [rad]
    """
    across = crossflow_coefficient(foil.taper) / foil.aspect_ratio
    slope = lift_slope(foil.aspect_ratio, foil.sweep)
    return 2.0 * GREATEST_LIFT / (slope + math.sqrt(slope**2 + 4.0 * across * GREATEST_LIFT))


def attached_share(foil: Foil, incidence: float) -> float:
    """Return the share of attached flow: 1 well below stall, 0 well beyond, smooth between.

    Parameters
    ----------
    foil : Foil
    incidence : float
        [rad]

    Returns
    -------
    float
        [-]
    """
    # Half a width later than the limit itself, so that the blend's peak comes near it.
    beyond = (abs(incidence) - stall_angle(foil)) / _STALL_WIDTH - 1.0
    return 1.0 / (1.0 + math.exp(min(max(beyond, -50.0), 50.0)))


def lift_coefficient(foil: Foil, incidence: float) -> float:
    r"""Return the lift coefficient at any incidence.

    .. math:: C_L = f\,C_{L,\mathrm{attached}} + (1-f)\,1.17\,\sin\alpha\cos\alpha

    Parameters
    ----------
    foil : Foil
    incidence : float
        Of the flow on the fin. [rad]

    Returns
    -------
    float
        [-]

    References
    ----------
    .. [1] Hoerner, *Fluid-Dynamic Drag*, 1965: plates of low aspect ratio across the stream, 1.17
       (from memory).
    """
    share = attached_share(foil, incidence)
    plate = _PLATE_NORMAL * math.sin(incidence) * math.cos(incidence)
    return share * attached_lift(foil, incidence) + (1.0 - share) * plate


def profile_drag_coefficient(foil: Foil, speed: float, viscosity: float = WATER_VISCOSITY) -> float:
    r"""Return friction and form drag of both faces on the lateral area.

    .. math:: C_{D0} = 2\,C_f\,\left(1 + 2\,t + 60\,t^4\right)

    Parameters
    ----------
    foil : Foil
        Its thickness is :math:`t`.
    speed : float
        Through the water. [m/s]
    viscosity : float
        Kinematic, of the water. [m²/s]

    Returns
    -------
    float
        [-]

    Notes
    -----
    The line at the Reynolds number of the mean chord, as the hull's resistance has it.

    References
    ----------
    .. [1] Hoerner, *Fluid-Dynamic Drag*, 1965, chapter 6 (from memory).
    """
    reynolds = np.array(abs(speed) * foil.area / foil.span / viscosity)
    return 2.0 * foil_form_factor(foil.thickness) * float(friction_line(reynolds))


def separation_drag_coefficient(foil: Foil, incidence: float) -> float:
    r"""Return the drag coefficient of the open separation beyond stall.

    .. math:: C_{Ds} = (1-f)\,1.17\,\sin^2\alpha

    Parameters
    ----------
    foil : Foil
    incidence : float
        Of the flow on the fin. [rad]

    Returns
    -------
    float
        [-]

    References
    ----------
    .. [1] Hoerner, *Fluid-Dynamic Drag*, 1965, as for the lift (from memory).
    """
    return (1.0 - attached_share(foil, incidence)) * _PLATE_NORMAL * math.sin(incidence) ** 2


def induced_drag_coefficient(foil: Foil, incidence: float) -> float:
    r"""Return drag due to lift: of the wake below stall, of the open separation beyond.

    .. math:: C_{Di} = f\,\frac{C_L^2}{0.9\,\pi A} + C_{Ds}

    Parameters
    ----------
    foil : Foil
    incidence : float
        Of the flow on the fin. [rad]

    Returns
    -------
    float
        [-]

    References
    ----------
    .. [1] Whicker and Fehlner, DTMB Report 933, 1958 (from memory).
    """
    wake = attached_lift(foil, incidence) ** 2 / (SPAN_EFFICIENCY * math.pi * foil.aspect_ratio)
    share = attached_share(foil, incidence)
    return share * wake + separation_drag_coefficient(foil, incidence)


def foil_force(foil: Foil, incidence: float, speed: float, water: Water = SEA_WATER) -> FoilForce:
    """Return lift and drags of one fin.

    Parameters
    ----------
    foil : Foil
    incidence : float
        Of the flow on the fin. [rad]
    speed : float
        Of the flow at the fin. [m/s]
    water : Water

    Returns
    -------
    FoilForce

    Examples
    --------
    >>> fin = Foil(1.2, 1.2, 0.8, 0.0, 0.12, 0.0, 0.5)
    >>> foil_force(fin, 0.0, 3.0).lift
    0.0
    """
    press = 0.5 * water.density * speed**2 * foil.area
    coefficient = lift_coefficient(foil, incidence)
    return FoilForce(
        press * coefficient,
        press * induced_drag_coefficient(foil, incidence),
        press * profile_drag_coefficient(foil, speed, water.viscosity),
        coefficient,
        attached_share(foil, incidence),
    )
