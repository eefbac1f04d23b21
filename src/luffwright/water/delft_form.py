"""What the Delft method asks of a hull: proportions of the body below the waterline."""

from __future__ import annotations

from dataclasses import dataclass, fields

from luffwright.air.fluid import FREEZING
from luffwright.errors import InputError
from luffwright.water.fluid import water_density
from luffwright.water.friction import wetted_surface
from luffwright.water.hull import Hull

PARENT_PRISMATIC = 0.568
PARENT_BUOYANCY = -0.023
"""Of the series' parent hull, prismatic coefficient and centre of buoyancy: Gerritsma, Onnink &
Versluis, *Geometry, resistance and stability of the Delft Systematic Yacht Hull Series*, 1981,
hull 14 of the open data set."""
PARENT_WATERPLANE = 0.69
"""Waterplane over length × beam of the same hull, 21.8 m² over 10.04 × 3.17 m (from memory)."""
APPENDAGE_SHARE = 0.05
"""Of the displacement, in keel and rudder: a ballast of 40 % takes 3.6 % in lead and 5.7 % in
iron."""

SLENDEREST_MIDSHIP, FULLEST_MIDSHIP = 0.55, 0.90
"""A midship section outside is no yacht's body: the figures of the hull do not fit together."""

# Least and greatest of the 22 models of 1981, in the words of a flag.
BOX = {
    "centre of buoyancy in % of the waterline (aft negative)": (-5.0, 0.0),
    "prismatic coefficient": (0.53, 0.60),
    "length over cube root of volume": (4.34, 5.14),
    "beam over draught of the body": (2.81, 5.35),
    "length over beam of the waterline": (2.73, 3.64),
}
_ROUNDING = 5e-3


@dataclass(frozen=True)
class Form:
    """The body of one hull without keel and rudder, floating upright.

    Length and beam of the waterline and draught of the body [m]; `volume` [m³]; prismatic and
    midship coefficients [-]; `buoyancy`, the centre of buoyancy before the middle of the waterline
    in shares of its length, aft negative [-]; area of the `waterplane` [m²]; wetted `surface` [m²];
    `estimated` names what nobody gave.
    """

    length: float
    beam: float
    draught: float
    volume: float
    prismatic: float
    midship: float
    buoyancy: float
    waterplane: float
    surface: float
    estimated: tuple[str, ...] = ()

    @property
    def slenderness(self) -> float:
        """Length over the cube root of the volume."""
        return float(self.length / self.volume ** (1.0 / 3.0))


@dataclass(frozen=True)
class Known:
    """What is known of the body beyond the hull's figures; None is estimated.

    `volume` without keel and rudder [m³], `prismatic` coefficient [-], centre of `buoyancy` from
    the middle of the waterline over its length, aft negative [-], area of the `waterplane` [m²],
    wetted `surface` [m²].
    """

    volume: float | None = None
    prismatic: float | None = None
    buoyancy: float | None = None
    waterplane: float | None = None
    surface: float | None = None


NOTHING = Known()


def form_of(hull: Hull, known: Known = NOTHING) -> Form:
    r"""Return the form of a hull; what is not known takes the value of the Delft parent hull.

    The volume is the displacement in sea water of 15 °C less `APPENDAGE_SHARE`; the midship
    coefficient follows from it.

    .. math:: C_m = \frac{\nabla_c}{L\,B\,T_c\,C_p}

    Parameters
    ----------
    hull : Hull
        A monohull.
    known : Known
        What is known beyond it.

    Returns
    -------
    Form
        With the names of what was estimated.

    Raises
    ------
    InputError
        For a catamaran, whose hulls are far more slender than the models.
    """
    if hull.kind != "monohull":
        raise InputError(
            "hull.kind", hull.kind, "the towed models are monohulls",
            "take the resistance of two slender hulls instead",
        )  # fmt: skip
    length, beam, draught = hull.length_waterline, hull.beam_waterline, hull.draught_body
    floating = (1.0 - APPENDAGE_SHARE) * hull.displacement / water_density(FREEZING + 15.0)
    volume = _or(known.volume, floating)
    prismatic = _or(known.prismatic, PARENT_PRISMATIC)
    midship = volume / (length * beam * draught * prismatic)
    return Form(
        length, beam, draught, volume, prismatic, midship,
        _or(known.buoyancy, PARENT_BUOYANCY),
        _or(known.waterplane, PARENT_WATERPLANE * length * beam),
        _or(known.surface, wetted_surface(length, beam, draught, volume, midship)),
        tuple(_NAMES[field.name] for field in fields(known) if getattr(known, field.name) is None),
    )  # fmt: skip


_NAMES = {
    "volume": "volume of keel and rudder",
    "prismatic": "prismatic coefficient",
    "buoyancy": "centre of buoyancy",
    "waterplane": "waterplane",
    "surface": "wetted surface",
}


def _or(known: float | None, estimate: float) -> float:
    return estimate if known is None else known


def outside_box(form: Form) -> tuple[str, ...]:
    """Return in words where a form leaves the range of the models of 1981.

    Parameters
    ----------
    form : Form

    Returns
    -------
    tuple of str
        Empty inside; half of the last printed digit is granted at the edges.
    """
    values = (
        100.0 * form.buoyancy, form.prismatic, form.slenderness,
        form.beam / form.draught, form.length / form.beam,
    )  # fmt: skip
    said = [
        f"{name} {value:.3g} is outside the {low:g} to {high:g} of the towed models"
        for value, (name, (low, high)) in zip(values, BOX.items(), strict=True)
        if not low - _ROUNDING <= value <= high + _ROUNDING
    ]
    if not SLENDEREST_MIDSHIP <= form.midship <= FULLEST_MIDSHIP:
        said.append(
            f"midship coefficient {form.midship:.2f}: length, beam, draught of the body and "
            "displacement do not fit together"
        )
    return tuple(said)
