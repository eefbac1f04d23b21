"""The maker's reefing table and the helm once seen: checked, and ready for the physics."""

from __future__ import annotations

import math
from itertools import pairwise

from luffwright.aboard.schema import BoatFile, ReefingStep, ReefingTable
from luffwright.errors import BoatFileError
from luffwright.sails.plan import SailPlan
from luffwright.units import from_knots
from luffwright.water.hull import Hull
from luffwright.water.reef_table import CENTRE_HEIGHT, Canvas, MakerStep, Reefing


def refuse_reefing(file: BoatFile) -> None:
    """Refuse a reefing table whose lines contradict each other, or a helm without its wind.

    Raises
    ------
    BoatFileError
        With the field, its value, the limit and the remedy.
    """
    if file.reefing is not None:
        _fit_steps(file.reefing, file.deck.mainsail.reefs)
    if file.rudder.observed_deg is not None and file.rudder.observed_wind_kn is None:
        raise BoatFileError(
            "rudder.observed_wind_kn", "nothing", "a helm that was seen needs its wind",
            "add the true wind of that day, or take observed_deg out",
        )  # fmt: skip
    reefs, most = file.rudder.observed_reefs or 0, file.deck.mainsail.reefs
    if reefs > most:
        raise BoatFileError(
            "rudder.observed_reefs", reefs, f"at most deck.mainsail.reefs = {most}", "count again"
        )


def _fit_steps(table: ReefingTable, most: int) -> None:
    for place, step in enumerate(table.steps, start=1):
        if step.reefs > most:
            raise BoatFileError(
                f"reefing.steps.{place}.reefs", step.reefs, f"at most deck.mainsail.reefs = {most}",
                "count the reefs of the mainsail again",
            )  # fmt: skip
    for place, (before, after) in enumerate(pairwise(table.steps), start=2):
        if after.up_to_kn <= before.up_to_kn:
            raise BoatFileError(
                f"reefing.steps.{place}.up_to_kn", after.up_to_kn,
                f"must be more than {before.up_to_kn:g} of the line before it",
                "write the lines from the lightest wind on",
            )  # fmt: skip
        if after.reefs < before.reefs or _more_sail(before, after):
            raise BoatFileError(
                f"reefing.steps.{place}", _words(after),
                f"more sail than the line before it ({_words(before)}) in more wind",
                "read the table again",
            )  # fmt: skip


def _more_sail(before: ReefingStep, after: ReefingStep) -> bool:
    more = after.headsail_area_pct > before.headsail_area_pct
    return after.reefs == before.reefs and more


def _words(step: ReefingStep) -> str:
    reefs = "1 reef" if step.reefs == 1 else f"{step.reefs} reefs"
    return f"{reefs}, {step.headsail_area_pct:g} % of the headsail"


def maker_steps(table: ReefingTable | None) -> tuple[MakerStep, ...]:
    """Return the maker's lines in SI; none where there is no table.

    Rolling a strip away along the luff leaves a similar sail: its area goes with the square of what
    is left of the luff perpendicular.
    """
    return tuple(
        MakerStep(
            from_knots(step.up_to_kn),
            Canvas(step.reefs, 1.0 - math.sqrt(step.headsail_area_pct / 100.0)),
            apparent=table.wind == "apparent",
        )
        for step in (table.steps if table else ())
        if table is not None
    )


def reefing_of(file: BoatFile, plan: SailPlan, hull: Hull) -> Reefing:
    """Return what the boat's reef table is made from.

    The height of her weight is an estimate where the file has none.
    """
    height = CENTRE_HEIGHT if hull.centre_height is None else hull.centre_height
    maker = maker_steps(file.reefing)
    return Reefing(plan, hull, file.rig.sensor_above_water_m, maker, height)
