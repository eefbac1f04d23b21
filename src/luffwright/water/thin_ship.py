"""Waves made by one or two thin hulls: Michell's integral of thin-ship theory.

A hull is a table of half breadths; its waves are those of sources spread over its centre plane.
Two equal hulls side by side make the same waves twice, out of step: that is their interference.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from luffwright.arrays import FloatArray
from luffwright.errors import InputError

GRAVITY = 9.81
SEA_WATER = 1026.0
"""Density of sea water at 15 °C [kg/m³]."""
STATIONS, WATERLINES = 41, 21
WAVE_STEPS, WAVE_END = 1600, 4.0
"""Points and end of the sum over wave directions; tests/convergence doubles both."""
FADING = 0.5
"""Logarithm of what the bow's waves have lost, a wave length further aft, of what would meet the
stern's in step [-]: an estimate of our own. Measured curves show next to no hollow at a Froude
number of 0.35, lie up to 30 % below the integral at the hump of 0.30 and near it above 0.40."""
_SERIES = 18
_STOUT = 0.25
"""Beam over length from which a hull is not thin any more."""

ComplexArray = NDArray[np.complex128]


@dataclass(frozen=True, eq=False)
class HullForm:
    """A hull below the waterline, stern at -length / 2 and bow at length / 2 [m].

    `half_breadth` [m] stands on odd numbers of equal steps: rows from stern to bow, columns from
    the waterline down to the keel; 0 at both ends.
    """

    length: float
    draught: float
    half_breadth: FloatArray

    @property
    def beam(self) -> float:
        """Return the greatest breadth at the waterline [m]."""
        return 2.0 * float(self.half_breadth.max())

    @property
    def volume(self) -> float:
        """Return the volume below the waterline [m³]."""
        return 2.0 * self._integral(self.half_breadth)

    @property
    def waterplane(self) -> float:
        """Return the area of the waterline [m²]."""
        return 2.0 * float(_simpson(len(self.half_breadth), self.length) @ self.half_breadth[:, 0])

    @property
    def wetted(self) -> float:
        """Return the wetted area of the sides [m²]."""
        rows, columns = self.half_breadth.shape
        step = self.length / (rows - 1), self.draught / (columns - 1)
        along, down = np.gradient(self.half_breadth, *step, edge_order=2)
        return 2.0 * self._integral(np.sqrt(1.0 + along**2 + down**2))

    def _integral(self, values: FloatArray) -> float:
        rows, columns = values.shape
        return float(_simpson(rows, self.length) @ values @ _simpson(columns, self.draught))


@dataclass(frozen=True)
class WaveDrag:
    """Resistance of all hulls from the waves they make [N]; its ratio to that of the same hulls far
    apart; its slope with speed [N s/m], NaN where not computed; whether the speed is in range.
    """

    resistance: float
    interference: float
    slope: float = float("nan")
    in_range: bool = True


def _simpson(count: int, length: float) -> FloatArray:
    weights = np.full(count, 2.0)
    weights[1::2] = 4.0
    weights[[0, -1]] = 1.0
    return weights * length / (3.0 * (count - 1))


def _checked_form(length: float, beam: float, draught: float) -> None:
    if not 0.0 < beam < _STOUT * length:
        raise InputError(
            "hull.beam_waterline_m", beam, f"must be 0 to {_STOUT * length:.2f} for a thin hull",
            "give the breadth of one hull at the waterline",
        )  # fmt: skip
    if draught <= 0.0:
        raise InputError(
            "hull.draught_body_m", draught, "must be above 0", "give the draught without fins"
        )


def wigley_form(
    length: float, beam: float, draught: float, stations: int = STATIONS, lines: int = WATERLINES
) -> HullForm:
    r"""Return Wigley's parabolic hull, the standard case of wave resistance.

    .. math:: y = \frac B2 \left(1 - \left(\frac{2x}{L}\right)^2\right)
        \left(1 - \left(\frac zT\right)^2\right)

    Parameters
    ----------
    length, beam, draught : float
        :math:`L`, :math:`B` at the waterline, :math:`T`. [m]
    stations, lines : int
        Rows and columns of the table, odd.

    Returns
    -------
    HullForm

    References
    ----------
    .. [1] Wigley, *A comparison of experiment and calculated wave-profiles and wave-resistances for
       a form having parabolic waterlines*, Proc. Royal Society A 144, 1934 (from memory).

    Examples
    --------
    Its volume is 4/9 of the box around it:

    >>> round(wigley_form(10.0, 1.0, 0.625).volume, 4)
    2.7778
    """
    return slender_form(length, beam, draught, 4.0 / 9.0, 2.0 / 3.0, stations, lines)


def slender_form(  # noqa: PLR0913
    length: float, beam: float, draught: float, block: float, prismatic: float | None = None,
    stations: int = STATIONS, lines: int = WATERLINES,
) -> HullForm:  # fmt: skip
    r"""Return a slender hull, alike fore and aft, of given fullness.

    .. math:: y = \frac B2 \left(1 - \left|\frac{2x}{L}\right|^n\right)
        \left(1 - \left(\frac zT\right)^m\right),\quad
        C_P = \frac{n}{n+1},\ \frac{C_B}{C_P} = \frac{m}{m+1}

    Parameters
    ----------
    length, beam, draught : float
        At the waterline, of one hull without fins: :math:`L`, :math:`B`, :math:`T`. [m]
    block : float
        Volume over that of the box around it, :math:`C_B`, 0.25 to 0.7. [-]
    prismatic : float, optional
        Volume over midship section times length, :math:`C_P`, 0.5 to 0.85; default
        :math:`\sqrt{C_B}`, as full along as down. [-]
    stations, lines : int
        Rows and columns of the table, odd.

    Returns
    -------
    HullForm

    Notes
    -----
    A family of our own with Wigley's hull among it. A transom is not part of it: the stern ends in
    a point, which flatters hulls with immersed transoms at low speed.

    Examples
    --------
    >>> round(slender_form(11.7, 1.35, 0.62, 0.45).volume / (11.7 * 1.35 * 0.62), 3)
    0.45
    """
    _checked_form(length, beam, draught)
    along_full = float(np.sqrt(block)) if prismatic is None else prismatic
    down_full = block / along_full
    for name, value in (("prismatic", along_full), ("midship", down_full)):
        if not 0.5 <= value <= 0.85:
            raise InputError(
                f"hull {name} coefficient", round(value, 3), "must be 0.5 to 0.85",
                "check length, beam_waterline, draught_body and displacement of the hull",
            )  # fmt: skip
    along = np.abs(np.linspace(-1.0, 1.0, stations)) ** (along_full / (1.0 - along_full))
    down = np.linspace(0.0, 1.0, lines) ** (down_full / (1.0 - down_full))
    return HullForm(length, draught, 0.5 * beam * np.outer(1.0 - along, 1.0 - down))


def _moments(exponent: ComplexArray) -> tuple[ComplexArray, ComplexArray, ComplexArray]:
    """Return the integrals of 1, t, t² times exp(w t) over t from 0 to 1."""
    small = np.abs(exponent) < 1.0
    w = np.where(small, 1.0, exponent)
    end = np.exp(w)
    first = (end - 1.0) / w
    second = (end - first) / w
    third = (end - 2.0 * second) / w
    series = [np.zeros_like(w) for _ in range(3)]
    term, s = np.ones_like(w), np.where(small, exponent, 0.0)
    for k in range(_SERIES):
        for power in range(3):
            series[power] = series[power] + term / (k + power + 1)
        term = term * s / (k + 1)
    return (
        np.where(small, series[0], first),
        np.where(small, series[1], second),
        np.where(small, series[2], third),
    )


def _filon(exponent: ComplexArray, start: float, length: float, count: int) -> ComplexArray:
    """Return weights (n, count): their product with values on equal steps is the integral of the
    values' parabolas times exp(a x), exact however fast the exponential turns.
    """
    panels = (count - 1) // 2
    width = length / panels
    m0, m1, m2 = _moments(exponent * width)
    begin = start + width * np.arange(panels)
    lead = width * np.exp(np.outer(exponent, begin))
    weights = np.zeros((len(exponent), count), dtype=np.complex128)
    weights[:, 0:-1:2] += lead * (m0 - 3.0 * m1 + 2.0 * m2)[:, None]
    weights[:, 1::2] += lead * (4.0 * m1 - 4.0 * m2)[:, None]
    weights[:, 2::2] += lead * (2.0 * m2 - m1)[:, None]
    return weights


def _halves(form: HullForm, wave_number: FloatArray) -> tuple[ComplexArray, ComplexArray]:
    """Return what the stern half and the bow half put into each wave, by rows of the wave numbers
    along the hull [1/m], columns as the hull's.

    The sources are the slopes of the half breadths: by parts, with what stands amidships.
    """
    rows, half = len(form.half_breadth), 0.5 * form.length
    middle = (rows - 1) // 2
    turn = (1j * wave_number).astype(np.complex128)
    amidships = form.half_breadth[middle] / turn[:, None]
    stern = _filon(turn, -half, half, middle + 1) @ form.half_breadth[: middle + 1]
    bow = _filon(turn, 0.0, half, rows - middle) @ form.half_breadth[middle:]
    return stern - amidships, bow + amidships


def wave_coefficients(  # noqa: PLR0913 - how finely, besides what
    form: HullForm, spacing: float, froude: float, steps: int = WAVE_STEPS, end: float = WAVE_END,
    *, fading: float = 0.0,
) -> tuple[float, float]:  # fmt: skip
    r"""Return wave resistance of one hull, and its ratio beside a second, without dimension.

    .. math:: \frac{R}{\frac12\rho U^2 L^2} = \frac{8 k_0^4}{\pi L^2}
        \int_0^\infty \left|\int\!\!\int f\, e^{-k_0 z\cosh^2 u + i k_0 x \cosh u}\,dx\,dz\right|^2
        \cosh^4 u \; du,\quad k_0 = \frac g{U^2}

    For two hulls the integrand takes :math:`4\cos^2(\tfrac12 k_0 s \cosh u \sinh u)`. Where the
    bow's waves fade, the square is :math:`|S|^2 + |B|^2 + 2 e^{-a k_0 L \cosh u / 2\pi}\,
    \mathrm{Re}\,S B^*` of what stern half and bow half put into it.

    Parameters
    ----------
    form : HullForm
        Of one hull, half breadth :math:`f`.
    spacing : float
        Of the two centrelines, :math:`s`; 0 = one hull, ratio 1. [m]
    froude : float
        :math:`U/\sqrt{gL}`. [-]
    steps, end : int, float
        Of the sum over :math:`u`. [-]
    fading : float
        Loss of step of the bow's waves over a wave length, :math:`a`; 0 = the integral itself,
        above 0 the table has 4 n + 1 rows. [-]

    Returns
    -------
    tuple[float, float]
        Of one hull alone; resistance of two over twice that of one. [-]

    Notes
    -----
    Half breadths are parabolas between three points, integrated exactly against the exponentials
    (Filon), so that Wigley's hull is exact on any table. Holds for: thin hulls, deep water, no
    viscosity, level trim. Experiments smooth the humps and hollows and lie up to 30 % below the
    integral at a Froude number of 0.3, near it above 0.4 (from memory): part of the bow's waves is
    lost in turbulence along the hull and does not meet the stern's [3]_.

    References
    ----------
    .. [1] Michell, *The wave-resistance of a ship*, Philosophical Magazine 45, 1898.
    .. [2] Tuck, *The wave resistance formula of J.H. Michell (1898) and its significance to recent
       research in ship hydrodynamics*, J. Australian Mathematical Society B 30, 1989 (from memory).
    .. [3] Gotman, *Study of Michell's integral and influence of viscosity and ship hull form on
       wave resistance*, Oceanic Engineering International 6, 2002 (abstract).

    Examples
    --------
    >>> one, _ = wave_coefficients(wigley_form(1.0, 0.1, 0.0625), 0.0, 0.5)
    >>> round(1000 * one / 0.14879, 2)
    4.52
    """
    k0 = 1.0 / (froude**2 * form.length)
    u = np.linspace(0.0, end, steps + 1)
    length_factor, side = np.cosh(u), np.sinh(u)
    rows, columns = form.half_breadth.shape
    down = _filon((-k0 * length_factor**2).astype(np.complex128), 0.0, form.draught, columns)
    if fading > 0.0:
        stern, bow = (np.sum(it * down, axis=1) for it in _halves(form, k0 * length_factor))
        met = np.exp(-fading * k0 * form.length * length_factor / (2.0 * np.pi))
        square = np.abs(stern) ** 2 + np.abs(bow) ** 2 + 2.0 * met * np.real(stern * bow.conj())
    else:
        along = _filon(1j * k0 * length_factor, -0.5 * form.length, form.length, rows)
        square = np.abs(np.sum((along @ form.half_breadth) * down, axis=1)) ** 2
    integrand = square * length_factor**4
    integrand[[0, -1]] *= 0.5
    one = float(integrand.sum() * u[1] * 8.0 * k0**4 / (np.pi * form.length**2))
    if spacing <= 0.0:
        return one, 1.0
    beside = 2.0 * np.cos(0.5 * k0 * spacing * length_factor * side) ** 2
    return one, float((integrand * beside).sum() / integrand.sum())


def wave_resistance(
    form: HullForm, spacing: float, speed: float, density: float = SEA_WATER
) -> WaveDrag:
    """Return the resistance of all hulls from their waves, integrated anew.

    Parameters
    ----------
    form : HullForm
        Of one hull.
    spacing : float
        Between the centrelines of two; 0 = one hull. [m]
    speed : float
        Through the water, above 0. [m/s]
    density : float
        Of the water. [kg/m³]

    Returns
    -------
    WaveDrag
        Without slope.

    Notes
    -----
    Range and sources: `wave_coefficients`. For many speeds of one hull take `thin_ship_table`.

    Examples
    --------
    Two of Wigley's hulls 12 m long, 4.8 m apart, at 4.9 m/s hinder each other:

    >>> pair = wave_resistance(wigley_form(12.0, 1.2, 0.75), 4.8, 4.882)
    >>> round(pair.interference, 2)
    1.27
    """
    one, ratio = wave_coefficients(form, spacing, speed / float(np.sqrt(GRAVITY * form.length)))
    hulls = 2.0 if spacing > 0.0 else 1.0
    return WaveDrag(hulls * ratio * one * 0.5 * density * speed**2 * form.length**2, ratio)
