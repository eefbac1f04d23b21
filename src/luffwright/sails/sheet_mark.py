"""Where the tape mark on a headsail sheet belongs: a reference that every boat can find.

With the lead neutral (the sheet's line through the clew meets the moulded luff at 40 % of its
length, by definition), close-hauled in 12 knots, the mark is at the winch when the leech just meets
its stop; a sail that passes no spreader or shroud is at its mark when its upper section stands 12°
further out than its foot.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

import numpy as np

from luffwright.air.stream import Stream
from luffwright.air.wind import wind_profile
from luffwright.sails.cut import moulded
from luffwright.sails.flight import AIR_DENSITY, Flight, FlightSolver, fly, sail_lattice
from luffwright.sails.measure import leech_gap, sections
from luffwright.sails.placing import lead_place, place_headsail, winch_place
from luffwright.sails.plan import SailPlan
from luffwright.sails.rigging import Mesh, rig
from luffwright.sails.setting import Setting

NEUTRAL_SHARE = 0.40
MARK_WIND = 6.173
MARK_ANGLE = math.radians(45.0)
CLEAR = 0.01
MARK_TWIST = math.radians(12.0)
NEAR_ENOUGH = 0.002
MOST_FLIGHTS = 30
MOST_STEPS = 20
"""Sails that settle from their moulded shape do so in fewer steps: another length is tried then."""
BETWEEN = 0.03
"""Two lengths on either side of the mark that are no farther apart [m] have it in proportion."""
EASED = (0.25, 0.15, 0.35, 0.05, 0.5, 0.7)
"""How far beyond the straight way the first sheet is [m], until one settles: too much flogs, too
little jams the leech in the shrouds."""
LEAST_PULL, MOST_PULL = 0.008, 0.15
"""How much sheet comes in from flight to flight [m]: always from the open side, for a leech that
has come past the spreader's tip may stay there when it is eased again."""


def neutral_lead(plan: SailPlan, furl: float = 0.0) -> float | None:
    """Return the lead's place [m] whose line through the clew meets the luff at 40 %.

    Parameters
    ----------
    plan : SailPlan
    furl : float
        Share of the luff perpendicular rolled away: then 40 % of what stands free of its roll. [-]

    Returns
    -------
    float or None
        Aft of the track's front end; None where there is no track. [m]
    """
    gear = plan.headsail_gear
    track = math.dist(gear.track_front, gear.track_aft)
    if track == 0.0:
        return None
    shape = moulded(plan.headsail, 5, 5, rolled_share=furl)
    nodes = place_headsail(plan, shape, Setting()).reshape(5, 5, 3)
    clew, tack, head = nodes[0, -1], nodes[0, 0], nodes[-1, 0]
    target = tack + NEUTRAL_SHARE * (head - tack)
    slope = (target[2] - clew[2]) / (target[0] - clew[0])
    x = clew[0] - (clew[2] - gear.track_front[2]) / slope
    share = (gear.track_front[0] - x) / (gear.track_front[0] - gear.track_aft[0])
    return float(np.clip(share, 0.0, 1.0)) * track


def rolled_up(plan: SailPlan, setting: Setting, furl: float) -> Setting:
    """Return the setting with the headsail rolled up to a share, lead and sheet re-set to suit.

    The lead moves as far as its neutral place does, and the sheet is longer by what the way from
    winch over lead to clew is longer: by geometry, a start for the flight.

    Parameters
    ----------
    plan : SailPlan
    setting : Setting
    furl : float
        Share of the luff perpendicular. [-]

    Returns
    -------
    Setting
    """
    was, now = (neutral_lead(plan, share) for share in (setting.value("furl"), furl))
    there = setting.changed(furl=furl)
    if was is not None and now is not None:
        track = math.dist(plan.headsail_gear.track_front, plan.headsail_gear.track_aft)
        lead = float(np.clip(setting.value("lead") + now - was, 0.0, track))
        there = there.changed(lead=lead)
    return sheeted_as(plan, setting, there)


def sheeted_as(plan: SailPlan, setting: Setting, there: Setting) -> Setting:
    """Return another setting with the sheet longer by what its way to the clew is longer.

    Parameters
    ----------
    plan : SailPlan
    setting, there : Setting
        As it is sheeted, and as sail and lead stand then.

    Returns
    -------
    Setting
        Both measured as they stand before the sheet swings the sail out.
    """
    longer = sheet_path(plan, there) - sheet_path(plan, setting)
    return there.changed(sheet=setting.sheet + longer)


def sheet_path(plan: SailPlan, setting: Setting) -> float:
    """Return the length from winch over the lead to the clew of the moulded sail [m]."""
    shape = moulded(plan.headsail, 5, 5, rolled_share=setting.value("furl"))
    hard_in = setting.changed(sheet=0.0)
    clew = place_headsail(plan, shape, hard_in).reshape(5, 5, 3)[0, -1]
    lead = lead_place(plan, setting)
    winch = winch_place(plan, setting)
    return float(np.linalg.norm(winch - lead) + np.linalg.norm(clew - lead))


def _leech_openness(flight: Flight) -> float:
    """Return what is zero at the mark: the leech's gap [m], or the twist beyond 12° [rad]."""
    if len(flight.rigging.blockers):
        return leech_gap(flight) - CLEAR
    top = sections(flight, flight.rigging.sails[0])[2]
    return top.twist - MARK_TWIST


def mark_setting(plan: SailPlan) -> Setting:
    """Return the setting in which the mark is made: all at rest, the lead neutral."""
    rest = {entry.name: entry.rest for entry in plan.controls}
    lead = neutral_lead(plan)
    if lead is not None:
        rest["lead"] = lead
    rest["sheet"] = 0.0
    return Setting(**rest)


def _from_nothing(
    plan: SailPlan, setting: Setting, stream: Stream, length: float, mesh: Mesh
) -> Flight:
    """Return the flight from the moulded sails with a sheet so long [m]; left early if it flogs."""
    rigging = rig(plan, setting, mesh, length)
    solver = FlightSolver(rigging, sail_lattice(plan, mesh), stream, AIR_DENSITY)
    flight = solver.from_coarse(plan, setting, length)
    if not flight.settled:
        flight = solver.solve(rigging.start, limit=MOST_STEPS)
    return replace(flight, setting=setting)


@lru_cache(maxsize=32)
def sheet_zero(plan: SailPlan, mesh: Mesh, speed: float, heel: float) -> float:
    """Return the unstretched sheet from winch to clew at its mark [m].

    Parameters
    ----------
    plan : SailPlan
    mesh : Mesh
    speed : float
        Of the boat, close-hauled in the mark's wind. [m/s]
    heel : float
        There. [rad]

    Returns
    -------
    float
        Good to about 1 cm; the mark is a reference for counting, not a best trim.
    """
    setting = mark_setting(plan)
    stream = Stream(wind_profile(MARK_WIND), MARK_ANGLE, speed, math.radians(4.0), heel)
    straight = sheet_path(plan, setting)
    tries = (
        (straight + ease, _from_nothing(plan, setting, stream, straight + ease, mesh))
        for ease in EASED
    )
    found = next(((length, flight) for length, flight in tries if flight.settled), None)
    if found is None:
        return straight + EASED[0]
    length, near = found
    gap, slope, most = _leech_openness(near), 1.0, MOST_PULL
    for _ in range(MOST_FLIGHTS):
        if gap <= NEAR_ENOUGH:
            break
        pull = float(np.clip(0.8 * gap / max(slope, 0.3), LEAST_PULL, most))
        flight = fly(plan, setting, stream, length - pull, mesh=mesh, near=near, afresh=False)
        while not flight.settled and pull > LEAST_PULL:
            # Such a flight says nothing of the leech.
            pull = max(0.4 * pull, LEAST_PULL)
            flight = fly(plan, setting, stream, length - pull, mesh=mesh, near=near, afresh=False)
        if not flight.settled:
            break
        there = _leech_openness(flight)
        slope = (gap - there) / pull
        if there < 0.0 and pull > BETWEEN:
            # Past the mark: shorter pulls from the open side, which was left last.
            most = 0.5 * pull
            continue
        if there < 0.0:
            return length - pull * gap / (gap - there)
        length, gap, near = length - pull, there, flight
    return length
