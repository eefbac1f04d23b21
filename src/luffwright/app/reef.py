"""The reef call: whether to take in sail, before any hint of speed.

Two hulls are called by a table of wind, never by heel; one hull by heel, helm and load. A maker's
table in the boat file is obeyed by either where it asks for less sail.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from luffwright.advice.first_guess import rolled_to
from luffwright.app.question import Question
from luffwright.sails.setting import Setting
from luffwright.units import from_degrees, from_knots
from luffwright.water.reef_table import (
    CLOSE_HAULED,
    ROUGH_SHARE,
    Canvas,
    Reefing,
    Row,
    close_hauled,
    met,
    row,
    taken_in,
)

UPWIND = from_degrees(60.0)
"""True wind angle [rad] within which an apparent wind that is read is the one that counts."""


@dataclass(frozen=True)
class TableCall:
    """What the table says to the sail carried, `line`, in a `wind`: apparent, close-hauled, in the
    gusts [m/s]; `felt` on the course sailed [m/s]; `taken`: what may be carried, None = no sail.
    """

    wind: float
    felt: float
    line: Row
    taken: Canvas | None

    @property
    def called(self) -> bool:
        """Return whether sail has to come in."""
        return self.taken != self.line.canvas


def reefing(asked: Question) -> Reefing:
    """Return what this boat's reef table is made from, in the sea asked for."""
    found = asked.boat.reefing
    return replace(found, share=ROUGH_SHARE) if asked.request.sea == "rough" else found


def winds_met(asked: Question) -> tuple[float, float]:
    """Return the apparent wind that counts and the one felt on the course, in the gusts [m/s].

    What counts is met close-hauled, for she may have to round up; hard on the wind it is what she
    meets there. A gust strikes before she has gained speed.
    """
    boat, stream = reefing(asked), asked.stream
    gust = max(stream.profile.speed, from_knots(asked.request.gust_kn or 0.0))
    felt = met(boat, gust, stream.wind_angle, stream.speed)
    if stream.wind_angle <= CLOSE_HAULED[asked.boat.hull.kind]:
        return felt, felt
    if asked.request.apparent_wind_kn is not None and stream.wind_angle < UPWIND:
        return felt, felt
    return max(felt, close_hauled(boat, gust)), felt


def canvas_of(setting: Setting) -> Canvas:
    """Return how much sail is taken in at a setting."""
    return Canvas(
        round(setting.value("reef")), setting.value("furl"), setting.value("main_furl")
    )  # fmt: skip


def table_call(asked: Question, setting: Setting) -> TableCall | None:
    """Return what the table says to the sail carried; None where there is nothing to go by.

    Parameters
    ----------
    asked : Question
        As asked: its motion is the one given or first estimated.
    setting : Setting

    Returns
    -------
    TableCall or None
    """
    boat, carried = reefing(asked), canvas_of(setting)
    if not boat.told:
        return None
    wind, felt = winds_met(asked)
    return TableCall(wind, felt, row(boat, carried), taken_in(boat, wind, carried))


def reefed(asked: Question) -> Setting:
    """Return the setting with as much sail taken in as the table asks for.

    On two hulls the table is followed both ways, and reefs are shaken out where it allows; on one
    hull sail only comes in. What the crew holds stays.
    """
    boat = reefing(asked)
    if not boat.told:
        return asked.setting
    held = asked.request.hold
    now = canvas_of(asked.setting)
    if asked.boat.hull.kind == "catamaran":
        now = Canvas(
            round(held.get("reef", 0.0)), held.get("furl", 0.0), held.get("main_furl", 0.0)
        )  # fmt: skip
    return _carrying(asked, taken_in(boat, winds_met(asked)[0], now) or boat.most)


def _carrying(asked: Question, canvas: Canvas) -> Setting:
    """Return the setting asked for with another canvas, but for what is held."""
    setting, has = asked.setting, {entry.name for entry in asked.boat.plan.controls}
    free = has - set(asked.request.hold)
    if "furl" in free and canvas.rolled != setting.value("furl"):
        setting = rolled_to(asked.boat.plan, setting, canvas.rolled, frozenset(free))
    wanted = {"reef": float(canvas.reefs), "main_furl": canvas.main_rolled}
    return setting.changed(**{name: value for name, value in wanted.items() if name in free})


def too_much_sail(asked: Question, setting: Setting) -> bool:
    """Return whether the table asks for less sail than is carried."""
    call = table_call(asked, setting)
    return call is not None and call.called
