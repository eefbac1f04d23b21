"""The sheets of both sails, the traveller and the outhaul: twist, angle and depth."""

from __future__ import annotations

import numpy as np

from boat_states import Sailed
from facts.effect import (
    ANGLE,
    CAMBER,
    HELM,
    SHARE,
    Effect,
    UnfitError,
    angle,
    fitted,
    share,
    stood,
    yes,
)
from facts.lead import low_camber, twist
from states import State

HAND, HARD_HAND = 0.06, 0.10
"""Headsail sheet moved [m], and as much as changes the forces enough to tell."""
DRIVE = 0.002
"""Least change of drive for side force that counts, a share."""
OFF_COURSE = float(np.radians(3.0))
"""How far she is steered off either way to find her best course."""
MOST_TWIST = 2.0
"""By how much the traveller may change the mainsail's twist [°]."""


def pulled(state: State) -> list[Effect]:
    """S1: sheet pulled: the twist falls."""
    return [angle("twist falls", -twist(state, stood(state.fly(sheet=-HAND))), ANGLE)]


def eased(state: State) -> list[Effect]:
    """S2: sheet eased: the twist rises."""
    return [angle("twist rises", twist(state, stood(state.fly(sheet=HAND))), ANGLE)]


def pulled_costs_drive(state: State) -> list[Effect]:
    """S1: sheet pulled: less drive for the side force.

    From states whose inside tufts all stream: a boat pressed by her heel is trimmed to spill.
    """
    if any(section.windward_lifts for section in state.all(0)):
        raise UnfitError("an inside tuft lifts")
    was, now = state.force(0), stood(state.fly(sheet=-HARD_HAND)).force(0)
    change = (now[0] / now[1]) / (was[0] / was[1]) - 1.0
    return [share("drive per side force falls", -change, DRIVE)]


def best_course(state: Sailed) -> float:
    """Return the course off the state's own that is made good fastest, from three [rad]."""
    lower, higher = (stood(state.by(turn=turn), "off her course")
                     for turn in (OFF_COURSE, -OFF_COURSE))  # fmt: skip
    up, here, down = higher.made_good, state.made_good, lower.made_good
    bend = up - 2.0 * here + down
    if bend > -1e-4:
        raise UnfitError("no best course within reach")
    return float(np.clip(0.5 * (up - down) / bend, -2.0, 2.0)) * OFF_COURSE


def pulled_points_higher(state: Sailed) -> list[Effect]:
    """S1: sheet pulled: her best course lies closer to the wind."""
    change = best_course(stood(state.by(sheet=-HAND))) - best_course(state)
    return [angle("best course closer", -change)]


def eased_points_lower(state: Sailed) -> list[Effect]:
    """S2: sheet eased: her best course lies further off the wind."""
    change = best_course(stood(state.by(sheet=HAND))) - best_course(state)
    return [angle("best course lower", change)]


def main_pulled(state: Sailed) -> list[Effect]:
    """M1: mainsheet pulled: the mainsail twists less, its top leech tuft is gone longer."""
    there = stood(state.by(mainsheet=-state.two_marks("mainsheet")))
    return [
        angle("twist falls", state.section(1, "top").twist - there.section(1, "top").twist, ANGLE),
        share("leech gone longer", there.leech_stalled - state.leech_stalled, SHARE),
    ]


def traveller_down(state: Sailed) -> list[Effect]:
    """M2: traveller to leeward: the sail opens with its twist, heel and helm fall.

    Where the heel is too small to tell, as on two hulls, the helm still tells.
    """
    fitted(state, "traveller")
    change = state.two_marks("traveller")
    if not state.room("traveller", change):
        raise UnfitError("no room for the traveller")
    down = stood(state.by(traveller=change))
    turned = float(np.degrees(down.section(1, "top").twist - state.section(1, "top").twist))
    opened = down.section(1, "low").chord_angle - state.section(1, "low").chord_angle
    told = [
        angle("heel falls", state.heel - down.heel, HELM),
        angle("helm falls", state.helm - down.helm, HELM),
    ]
    clear = [it for it in told if it.verdict is not None]
    whole = yes("twist within 2°", abs(turned) <= MOST_TWIST, f"{turned:+.1f}°")
    return [angle("sail opens", opened, ANGLE), whole, *(clear or told)]


def outhaul_pulled(state: State) -> list[Effect]:
    """M3: outhaul pulled: the mainsail is flatter low down."""
    before = state if state.setting.outhaul > 0.05 else stood(state.fly(outhaul=0.08), "eased")
    after = stood(before.fly(outhaul=-0.05))
    return [share("foot flatter", -low_camber(before, after, 1), CAMBER)]
