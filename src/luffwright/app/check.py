"""`check`: what is known of a boat, what is estimated, what it means, and what to measure next."""

from __future__ import annotations

from dataclasses import asdict, dataclass

from luffwright.aboard.boat import Boat, load_boat
from luffwright.aboard.mark_places import MarkPlace, mark_places
from luffwright.aboard.measuring import Measure, for_marks, for_shape
from luffwright.app.answer import Caution
from luffwright.app.check_values import Value, values_of
from luffwright.app.leads import Lead, lead_of
from luffwright.app.plausible import DELFT, SOUTHAMPTON, Ratio, ratios, sail_area_of
from luffwright.app.strength import (
    CURVE,
    WORKING_SHARE,
    Righting,
    Strength,
    righting_of,
    sheet_load,
    strengths_of,
)


@dataclass(frozen=True)
class Next:
    """A measurement to make: its key, what it is and how; `control`: whose marks it gives."""

    key: str
    what: str
    how: str
    control: str


@dataclass(frozen=True)
class Checked:
    """All that is known of a boat, and what is worth a second look."""

    boat: str
    kind: str
    sail_area_m2: float
    values: tuple[Value, ...]
    ratios: tuple[Ratio, ...]
    righting: Righting
    lead: Lead
    strengths: tuple[Strength, ...]
    sheet_load_kn: float
    mark_places: tuple[MarkPlace, ...]
    measure_next: tuple[Next, ...]
    findings: tuple[Caution, ...]

    def as_json(self) -> dict[str, object]:
        """Return plain values for `json.dumps`."""
        told = asdict(self)
        told["ratios"] = [asdict(it) | {"inside": it.inside} for it in self.ratios]
        return told


def check(name: str) -> Checked:
    """Return what is known of a boat, and what stands out in it.

    Parameters
    ----------
    name : str
        A demo boat or a boat file.

    Returns
    -------
    Checked

    Raises
    ------
    BoatFileError
        Where the file cannot be used at all.
    """
    boat = load_boat(name)
    told, lead = ratios(boat), lead_of(boat)
    sheet = sheet_load(boat)
    found = (*_outside(told), *_ends(boat), *_lead(lead), *_sheet(boat, sheet), *_notes(boat))
    return Checked(
        boat.name, boat.kind, sail_area_of(boat), values_of(boat), told, righting_of(boat), lead,
        strengths_of(boat), sheet, mark_places(boat.marks.values()), next_of(boat), found,
    )  # fmt: skip


def next_of(boat: Boat) -> tuple[Next, ...]:
    """Return what to measure next: first what gives marks, then what helps shape and speed."""

    def told(control: str, it: Measure) -> Next:
        return Next(it.key, it.what, it.how, control)

    controls = tuple(entry.name for entry in boat.plan.controls)
    marks = [told(name, it) for name, it in for_marks(controls, boat.file, boat.given)]
    return (*marks, *(told("", it) for it in for_shape(boat.file, boat.given)))


def _outside(told: tuple[Ratio, ...]) -> list[Caution]:
    """Return the proportions outside their band: beyond the models a note, else a warning."""
    out = []
    for it in told:
        if it.inside:
            continue
        text = f"{it.name[0].upper()}{it.name[1:]} is {number(it)}, usual is {band(it)}"
        if it.source in (DELFT, SOUTHAMPTON):
            reach = "speeds are less sure there" if it.source == DELFT else "a rare shape"
            out.append(Caution("note", f"{text} of the models towed: {reach}."))
        else:
            keys = " and ".join(it.keys)
            out.append(Caution("warning", f"{text}: measure {keys} again. {_danger(it)}".strip()))
    return out


def _danger(it: Ratio) -> str:
    if "forestay" in it.name:
        return "A rig is a rigger's judgement: ask one before you load it."
    if any(word in it.name for word in ("righting", "weight")):
        return "Reef by the boat's manual, not by this program."
    return ""


def number(it: Ratio) -> str:
    """Return a proportion's value with its unit."""
    unit = "" if not it.unit else f" {it.unit}"
    return f"{it.value:.3g}{unit}"


def band(it: Ratio) -> str:
    """Return a proportion's band in words."""
    if it.high is None:
        return f"{it.low:g} or more"
    return f"{it.low:g} to {it.high:g}" if it.low is not None else f"up to {it.high:g}"


def _ends(boat: Boat) -> list[Caution]:
    """Return whether bow and stern lie as far apart as the hull is long."""
    apart, length = boat.hull.bow_x + boat.stern_aft, boat.hull.length_overall
    if abs(apart - length) <= 0.05 * length:
        return []
    return [
        Caution(
            "warning",
            f"bow_forward_m and stern_aft_m make {apart:.1f} m, length_overall_m is "
            f"{length:.1f} m: measure both ends from the mast's front again",
        )
    ]


def _lead(lead: Lead) -> list[Caution]:
    if lead.on_track:
        return []
    return [
        Caution(
            "warning",
            "The line through clew and 40 % of the luff meets the deck off the end of the "
            "track: measure track, clew height and luff again.",
        )
    ]


def _sheet(boat: Boat, load_kn: float) -> list[Caution]:
    """Return whether the headsail's sheet is strong enough for a fresh breeze."""
    share = load_kn / (boat.plan.headsail_gear.sheet.breaking / 1000.0)
    if share <= WORKING_SHARE:
        return []
    return [
        Caution(
            "warning",
            f"In 20 kn over the deck the headsail's sheet carries about {load_kn:.1f} kN, "
            f"{100 * share:.0f} % of what breaks it: ask a rigger for a stronger one.",
        )
    ]


def _notes(boat: Boat) -> list[Caution]:
    """Return what always has to be said beside strengths and levers."""
    notes = [
        Caution(
            "note",
            "Breaking loads are those of new wire and rope without knots: age, chafe, salt and "
            "knots take much of it. The maker's figures and a rigger stand above them.",
        )
    ]
    if not all(it.given for it in strengths_of(boat)):
        text = (
            "Where a size is estimated, it is what such a boat usually has and not what is on "
            "yours: shares of a breaking load are no better than that until it is measured."
        )
        notes.append(Caution("warning", text))
    if boat.estimates:
        text = (
            "Measure in the berth, in little wind, sails stowed and nothing under load. Nobody "
            "needs to go aloft: hoist the tape on a halyard, with a line to pull it down again."
        )
        notes.append(Caution("note", text))
    if any(entry.key == CURVE for entry in boat.estimates):
        text = (
            "The righting levers are an estimate, good for heel under sail and for nothing else: "
            "never judge by them whether she rights herself or how much sail she stands."
        )
        notes.append(Caution("note", text))
    return notes
