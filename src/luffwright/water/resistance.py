"""Resistance of a monohull sailing in flat water: friction, waves, and what heel adds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.air.wind import GRAVITY
from luffwright.arrays import FloatArray
from luffwright.water.delft import (
    HEELED_END,
    MOST_HEEL,
    heeled_residuary,
    residuary_resistance,
)
from luffwright.water.delft_form import Form
from luffwright.water.fluid import Water
from luffwright.water.foil import Foil
from luffwright.water.friction import HULL_REACH, foil_form_factor, friction, heeled_surface

SECTION_FULLNESS = 0.685
"""Area of a four-digit section over chord × thickness (Abbott and von Doenhoff's thickness
form, integrated)."""
_HEEL_BAND = 0.5
"""Share by which the resistance of heel may be off [-]: an estimate, its formulas come from one
copy each and no measured heeled resistance is at hand."""
_ROUNDED = float(np.radians(2.0))


@dataclass(frozen=True)
class Resistance:
    """Resistance at each speed [N], its parts, and where it leaves the methods' range.

    `hull_friction` and `foil_friction`; upright `residuary`; `heel`, what heel adds to the
    residuary of hull and keel; `band` is the uncertainty of the whole [N].
    """

    hull_friction: FloatArray
    foil_friction: FloatArray
    residuary: FloatArray
    heel: FloatArray
    band: FloatArray
    flags: tuple[str, ...]

    @property
    def of_hull(self) -> FloatArray:
        """All but the foils' friction [N], for use beside the forces on keel and rudder."""
        return self.hull_friction + self.residuary + self.heel

    @property
    def total(self) -> FloatArray:
        """The sum of the parts [N]."""
        return self.of_hull + self.foil_friction


def foil_friction(foils: tuple[Foil, ...], speed: FloatArray, water: Water) -> FloatArray:
    """Return friction and form drag of keel and rudder, both faces.

    Parameters
    ----------
    foils : tuple of Foil
    speed : array
        Through the water, 0 or more. [m/s]
    water : Water

    Returns
    -------
    array
        [N]
    """
    drag = np.zeros_like(speed)
    for foil in foils:
        surface, chord = 2.0 * foil.area * foil.count, foil.area / foil.span
        drag = drag + friction(speed, surface, chord, water, foil_form_factor(foil.thickness))
    return drag


def foil_volume(foil: Foil) -> float:
    """Return the volume of keel or rudder, all of its kind [m³].

    Parameters
    ----------
    foil : Foil
        Tapering in a straight line, of one section.

    Returns
    -------
    float
    """
    root, tip = foil.root_chord, foil.tip_chord
    mean_square = (root**2 + root * tip + tip**2) / 3.0
    return foil.count * SECTION_FULLNESS * foil.thickness * mean_square * foil.span


def keel_heeled(
    form: Form, keel: Foil, water: Water, froude: FloatArray, heel: FloatArray
) -> FloatArray:
    r"""Return the residuary resistance that a keel adds as heel lifts it towards the surface.

    .. math:: \frac{\Delta R}{\nabla_k \rho g} = C_h\,Fn^2\,\varphi,\quad
        C_h = -3.5837\frac{T_c}{T} - 0.0518\frac{B}{T_c} + 0.5958\frac{T_c}{T}\frac{B}{T_c} +
        0.2055\frac{L}{\nabla_c^{1/3}}

    Parameters
    ----------
    form : Form
    keel : Foil
    water : Water
    froude : array
        [-]
    heel : array
        Either way, :math:`\varphi`. [rad]

    Returns
    -------
    array
        [N]

    Notes
    -----
    Holds for fin keels. For a keel so shallow that :math:`C_h` falls below nothing, nothing is
    added. The corner at no heel is rounded over 2°, for the sake of solvers.

    References
    ----------
    .. [1] Keuning & Sonnenberg, *Approximation of the calm water resistance on a sailing yacht
       based on the Delft Systematic Yacht Hull Series*, 14th Chesapeake symposium, 1999, 3.2.2.
    """
    depth, breadth = form.draught / (keel.depth + keel.span), form.beam / form.draught
    share = (
        -3.5837 * depth - 0.0518 * breadth + 0.5958 * depth * breadth + 0.2055 * form.slenderness
    )
    rounded = np.sqrt(heel**2 + _ROUNDED**2) - _ROUNDED
    weight = foil_volume(keel) * water.density * GRAVITY
    return weight * max(share, 0.0) * froude**2 * rounded


def resistance(
    form: Form,
    water: Water,
    speed: FloatArray,
    heel: FloatArray,
    foils: tuple[Foil, ...] = (),
) -> Resistance:
    r"""Return the resistance in flat water, without what side force costs.

    .. math:: R = R_f + R_r + \Delta R(\varphi)

    Parameters
    ----------
    form : Form
    water : Water
    speed : array
        Through the water; astern the resistance changes sign. [m/s]
    heel : array
        Either way, of the shape of `speed` or one number. [rad]
    foils : tuple of Foil
        The keel first, then the rudder.

    Returns
    -------
    Resistance

    Notes
    -----
    What lift on keel and rudder costs is theirs. Value and slope are continuous in speed and heel.
    Ranges: see `residuary_resistance`, and 30° of heel. No added resistance in waves.

    Examples
    --------
    >>> parent = Form(10.0, 3.17, 0.79, 9.18, 0.568, 0.65, -0.023, 21.8, 25.4)
    >>> still = resistance(parent, Water(1025.0, 1.19e-6), np.array([0.0]), np.array([0.0]))
    >>> still.total
    array([0.])
    """
    ahead, way = np.abs(speed), np.sign(speed)
    froude = ahead / np.sqrt(GRAVITY * form.length)
    displacement = water.density * form.volume
    upright = residuary_resistance(form, displacement, froude)
    surface = form.surface * heeled_surface(heel, form.beam / form.draught, form.midship)
    heeled = heeled_residuary(form, displacement, froude, heel)
    if foils:
        heeled = heeled + keel_heeled(form, foils[0], water, froude, heel)
    return Resistance(
        hull_friction=way * friction(ahead, surface, HULL_REACH * form.length, water),
        foil_friction=way * foil_friction(foils, ahead, water),
        residuary=way * upright.value,
        heel=way * heeled,
        band=upright.band * upright.value + _HEEL_BAND * np.abs(heeled),
        flags=(
            *_flags_of_form(form),
            *upright.flags,
            *_flags_of_heel(froude, heel),
            *(() if foils else ("no keel or rudder given: their friction is left out",)),
        ),
    )


def _flags_of_form(form: Form) -> tuple[str, ...]:
    return (f"estimated for the hull: {', '.join(form.estimated)}",) if form.estimated else ()


def _flags_of_heel(froude: FloatArray, heel: FloatArray) -> tuple[str, ...]:
    greatest = float(np.max(np.abs(heel)))
    flags = []
    if greatest > MOST_HEEL:
        flags.append("resistance of heel beyond 30° is extrapolated")
    if greatest > 0.0 and float(np.max(froude)) > HEELED_END:
        flags.append("resistance of heel above Froude number 0.55 is held as at 0.55")
    return tuple(flags)
