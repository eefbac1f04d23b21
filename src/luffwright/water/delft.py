"""Residuary resistance of a monohull by the Delft polynomials: waves, and pressure of the wake."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.air.wind import GRAVITY
from luffwright.arrays import FloatArray
from luffwright.water.delft_curve import smooth_through
from luffwright.water.delft_form import Form, outside_box
from luffwright.water.delft_table import FAST, HEELED, SLOW

LEAST_FROUDE, LEAST_PROVED = float(SLOW[0, 0]), 0.20
SLOW_END, FAST_END = float(SLOW[-1, 0]), float(FAST[-1, 0])
HEELED_END = float(HEELED[-1, 0])
MOST_HEEL = float(np.radians(30.0))
"""The greatest heel at which the models were towed [rad] (from memory)."""

_BANDS = ((0.0, 0.50), (LEAST_PROVED, 0.15), (0.30, 0.06), (SLOW_END + 1e-9, 0.20))


@dataclass(frozen=True)
class Residuary:
    """Residuary resistance at each Froude number [N], the share it may be off [-], and flags."""

    value: FloatArray
    band: FloatArray
    flags: tuple[str, ...]


def slow_values(form: Form, table: FloatArray = SLOW) -> FloatArray:
    r"""Return the polynomial of 1992 up to Froude number 0.45, in thousandths of the weight.

    .. math:: 1000\,\frac{R_r}{\nabla_c \rho g} = a_0 + a_1 C_p + a_2 X + a_3\frac{B}{T_c} + a_4 k +
        a_5 C_p^2 + a_6 C_p k + a_7 X^2 + a_8 k^2 + a_9 k^3,\quad
        k = \frac{L}{\nabla_c^{1/3}}

    Parameters
    ----------
    form : Form
        :math:`X` is its centre of buoyancy in per cent of the length, aft negative.
    table : (n, 11) array
        Froude number and :math:`a_0 … a_9`, one row each. [-]

    Returns
    -------
    (n,) array
        [‰ of the weight of the body's displacement]

    References
    ----------
    .. [1] Gerritsma, Keuning & Onnink, *Sailing yacht performance in calm water and in waves*,
       12th HISWA symposium, 1992, TU Delft report 925-P.
    """
    cp, k, x = form.prismatic, form.slenderness, 100.0 * form.buoyancy
    b = form.beam / form.draught
    return table[:, 1:] @ np.array([1.0, cp, x, b, k, cp**2, cp * k, x**2, k**2, k**3])


def fast_values(form: Form) -> FloatArray:
    r"""Return the polynomial of 1992 from Froude number 0.475 on, in thousandths of the weight.

    .. math:: 1000\,\frac{R_r}{\nabla_c \rho g} = c_0 + c_1\frac{L}{B} + c_2 w + c_3 X +
        c_4\left(\frac{L}{B}\right)^2 + c_5\frac{L}{B} w^3,\quad w = \frac{A_w}{\nabla_c^{2/3}}

    Parameters
    ----------
    form : Form

    Returns
    -------
    (n,) array
        [‰ of the weight of the body's displacement]

    References
    ----------
    .. [1] As for `slow_values`; one copy.
    """
    ratio, x = form.length / form.beam, 100.0 * form.buoyancy
    w = form.waterplane / form.volume ** (2.0 / 3.0)
    return FAST[:, 1:] @ np.array([1.0, ratio, w, x, ratio**2, ratio * w**3])


def heeled_values(form: Form) -> FloatArray:
    r"""Return what 20° of heel add, by Froude number, in thousandths of the weight.

    .. math:: 1000\,\frac{\Delta R_r}{\nabla_c \rho g} = u_0 + u_1\frac{L}{B} + u_2\frac{B}{T_c} +
        u_3\left(\frac{B}{T_c}\right)^2 + u_4 X + u_5 X^2

    Parameters
    ----------
    form : Form

    Returns
    -------
    (n,) array
        [‰ of the weight of the body's displacement]

    References
    ----------
    .. [1] Keuning & Sonnenberg, *Approximation of the hydrodynamic forces on a sailing yacht based
       on the Delft Systematic Yacht Hull Series*, 15th HISWA symposium, 1998; one copy.
    """
    b, x = form.beam / form.draught, 100.0 * form.buoyancy
    return HEELED[:, 1:] @ np.array([1.0, form.length / form.beam, b, b**2, x, x**2])


def residuary_resistance(form: Form, displacement: float, froude: FloatArray) -> Residuary:
    r"""Return the upright residuary resistance of hull with keel and rudder.

    The polynomials give it at tabulated Froude numbers; a smooth curve without overshoot runs
    through them, from nothing at rest.

    Parameters
    ----------
    form : Form
    displacement : float
        Mass of the water that the body without keel and rudder displaces,
        :math:`\rho\nabla_c`. [kg]
    froude : array
        :math:`V/\sqrt{gL}`, 0 or more. [-]

    Returns
    -------
    Residuary

    Notes
    -----
    Holds for the box of the models of 1981 and Froude numbers 0.125 to 0.45; outside it is
    evaluated and flagged. Against those models it is within 6 % from 0.30 and within 15 % from
    0.20 up, root mean square; below it is small, and so was what the tank could measure. From 0.475
    to 0.75 the second polynomial, not proved against data, which knows no prismatic coefficient;
    above along the last tangent.

    The models of 1981 carried keel and rudder, and only these parts' friction was taken off (from
    memory; the paper itself could not be read). So no residuary resistance of keel and rudder
    is added here. By the keel formula of 1998, for hulls towed without, it would be a tenth of the
    hull's between Froude numbers 0.35 and 0.40.

    References
    ----------
    .. [1] As for `slow_values` and `fast_values`.

    Examples
    --------
    >>> parent = Form(10.0, 3.17, 0.79, 9.18, 0.568, 0.65, -0.023, 21.8, 25.4)
    >>> found = residuary_resistance(parent, 9410.0, np.array([0.35]))
    >>> (found.value / (9.41 * 9.81)).round(0)  # the models' parent hull: 7.16 thousandths
    array([7.])
    """
    nodes = np.concatenate(([0.0], SLOW[:, 0], FAST[:, 0]))
    shares = np.concatenate(([0.0], slow_values(form), fast_values(form)))
    # Far outside the box a polynomial may fall below nothing, or the second below the first.
    kept = np.maximum.accumulate(np.maximum(shares, 0.0))
    value = smooth_through(nodes, kept, froude, goes_on=True)
    bent = float(np.max(kept - shares)) > 0.05 * float(kept[-1])
    return Residuary(
        1e-3 * displacement * GRAVITY * value,
        residuary_band(froude),
        (*outside_box(form), *_flags_of_speed(froude), *([_BENT] if bent else [])),
    )


_BENT = "the resistance curve of this hull falls with speed and was held level: far from the models"


def residuary_band(froude: FloatArray) -> FloatArray:
    """Return the share by which the residuary resistance may be off.

    Parameters
    ----------
    froude : array
        [-]

    Returns
    -------
    array
        0.06 from 0.30 to 0.45 and 0.15 from 0.20, as compared with the models of 1981; 0.5 below
        and 0.2 above are estimates, the latter
        from how the two polynomials join. [-]

    Examples
    --------
    >>> residuary_band(np.array([0.1, 0.25, 0.35, 0.5]))
    array([0.5 , 0.15, 0.06, 0.2 ])
    """
    steps = np.array([step for step, _ in _BANDS])
    shares = np.array([share for _, share in _BANDS])
    return shares[np.maximum(np.searchsorted(steps, froude, side="right") - 1, 0)]


def _flags_of_speed(froude: FloatArray) -> tuple[str, ...]:
    slowest, fastest = float(np.min(froude)), float(np.max(froude))
    return tuple(
        text
        for holds, text in (
            (slowest < LEAST_PROVED, "wave resistance below Froude number 0.2 is a rough figure"),
            (
                SLOW_END < fastest <= FAST_END,
                "wave resistance above Froude number 0.45 is by a second formula, unproved",
            ),
            (fastest > FAST_END, "wave resistance above Froude number 0.75 is extrapolated"),
        )
        if holds
    )


def heeled_residuary(
    form: Form, displacement: float, froude: FloatArray, heel: FloatArray
) -> FloatArray:
    r"""Return the residuary resistance that heel adds to the upright body.

    .. math:: \Delta R(\varphi) = 6.0\,|\varphi|^{1.7}\,\Delta R(20°)

    Parameters
    ----------
    form : Form
    displacement : float
        As for `residuary_resistance`. [kg]
    froude : array
        [-]
    heel : array
        Either way, :math:`\varphi`. [rad]

    Returns
    -------
    array
        May be slightly negative where the models ran easier heeled. [N]

    Notes
    -----
    Tabulated from Froude number 0.25 to 0.55 and to 30° of heel; tapers to nothing at rest, and is
    held above. Does not hold side force, which costs induced resistance apart.

    References
    ----------
    .. [1] As for `heeled_values`; the power of heel from memory.

    Examples
    --------
    >>> parent = Form(10.0, 3.17, 0.79, 9.18, 0.568, 0.65, -0.023, 21.8, 25.4)
    >>> heeled_residuary(parent, 9410.0, np.array([0.35]), np.radians([20.0])).round(-1)
    array([60.])
    """
    nodes = np.concatenate(([0.0], HEELED[:, 0]))
    shares = np.concatenate(([0.0], heeled_values(form)))
    at_twenty = 1e-3 * displacement * GRAVITY * smooth_through(nodes, shares, froude)
    return 6.0 * np.abs(heel) ** 1.7 * at_twenty
