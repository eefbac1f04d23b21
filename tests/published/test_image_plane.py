"""Wings near a plane that mirrors them: the lift they gain, the induced drag they save."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from luffwright.air.lattice import FREE_AIR, Water, lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.air.trefftz import trefftz_drag, wake_drag, wash_through
from luffwright.arrays import FloatArray

INDEPENDENT = "Independent vortex sums in plain NumPy, written without sight of this program"
SMALL = 1e-3
BESIDE = np.array([0.0, 1.0, 0.0])


def near_plane(aspect: float, height: float, *, mirrored: bool) -> tuple[float, float]:
    """Return lift slope and induced drag over lift squared of a wing flat over the plane y = 0."""
    span = np.linspace(-0.5 * aspect, 0.5 * aspect, 41)
    aft = np.linspace(0.0, 1.0, 7)
    grid = np.zeros((41, 7, 3))
    grid[:, :, 0], grid[:, :, 2] = -aft, span[:, None]
    grid[:, :, 1] = height * aspect + SMALL * (0.5 - aft)
    nodes = grid.reshape(-1, 3)
    mesh = lattice((sheet_mesh(41, 7),), (0.0,))
    water = Water(BESIDE, present=mirrored)
    flow = solve_flow(
        mesh, nodes, lambda at: np.tile([-1.0, 0.0, 0.0], (len(at), 1)), water, 1.0,
        stalling=False, core=(1e-6, 1e-6),
    )  # fmt: skip
    lift = 2.0 * float(flow.node_force[:, 1].sum()) / aspect
    drag = 2.0 * trefftz_drag(mesh, nodes, flow, water) / aspect
    return lift / SMALL, drag / lift**2


@pytest.mark.source(
    work="AeroSandbox 4.2.10, an open library of aircraft design",
    where="its lattice with a second wing of opposite twist as the image: lift of a rectangular "
    "wing of aspect ratio 5 at height over span 0.1, 0.2, 0.5, 1 against free air",
    tolerance="rel 0.2 %: two lattices of other meshes",
)
@pytest.mark.parametrize(
    ("height", "gain"), [(0.1, 1.3092), (0.2, 1.1216), (0.5, 1.0291), (1.0, 1.0081)]
)
def test_lift_gained_near_the_plane(height: float, gain: float) -> None:
    free, _ = near_plane(5.0, height, mirrored=False)
    close, _ = near_plane(5.0, height, mirrored=True)
    assert close / free == pytest.approx(gain, rel=0.002)


@pytest.mark.source(
    work=INDEPENDENT,
    where="8 x 40 panels, tip inset: lift of rectangular wings of aspect ratio 2 and 8 near the "
    "plane; induced-drag factor of aspect ratio 5",
    tolerance="rel 0.3 %: three or four printed digits, other mesh",
)
@pytest.mark.parametrize(
    ("aspect", "height", "gain"),
    [(2.0, 0.1, 1.717), (2.0, 0.2, 1.281), (2.0, 0.5, 1.059), (8.0, 0.1, 1.174), (8.0, 0.2, 1.073)],
)
def test_lift_gained_by_short_and_long_wings(aspect: float, height: float, gain: float) -> None:
    free, _ = near_plane(aspect, height, mirrored=False)
    close, _ = near_plane(aspect, height, mirrored=True)
    assert close / free == pytest.approx(gain, rel=0.003)


@pytest.mark.source(
    work=INDEPENDENT,
    where="induced-drag factor of the rectangular wing of aspect ratio 5 near the plane over that "
    "in free air",
    tolerance="rel 0.3 %: three printed digits",
)
@pytest.mark.parametrize(
    ("height", "share"), [(0.1, 0.518), (0.2, 0.715), (0.5, 0.908), (1.0, 0.972)]
)
def test_induced_drag_saved_near_the_plane(height: float, share: float) -> None:
    _, free = near_plane(5.0, height, mirrored=False)
    _, close = near_plane(5.0, height, mirrored=True)
    assert close / free == pytest.approx(share, rel=0.003)


def elliptic_saving(height: float) -> float:
    """Return the share of its induced drag that an elliptic load over the plane saves."""
    edge = np.linspace(-0.5, 0.5, 401)
    low, high = (np.stack([np.full(400, height), part], axis=1) for part in (edge[:-1], edge[1:]))
    load: FloatArray = np.sqrt(1.0 - (2.0 * (0.5 * (edge[1:] + edge[:-1]))) ** 2)
    free = wake_drag(load, wash_through(low, high, None), 1.0)
    return 1.0 - wake_drag(load, wash_through(low, high, np.array([1.0, 0.0])), 1.0) / free


@pytest.mark.source(
    work="Prandtl, Induced drag of multiplanes, NACA TN 182, 1924",
    where="two wings of one span, gap over span G: sigma = (1 - 0.66 G) / (1.05 + 3.7 G) (form "
    "from memory); the gap to the image is twice the height",
    tolerance="abs 0.004: the formula's own distance from the integral",
)
@pytest.mark.parametrize("height", [0.05, 0.1, 0.15, 0.2, 0.25])
def test_prandtls_influence_of_the_image(height: float) -> None:
    gap = 2.0 * height
    printed = (1.0 - 0.66 * gap) / (1.05 + 3.7 * gap)
    assert elliptic_saving(height) == pytest.approx(printed, abs=0.004)


@pytest.mark.source(
    work="Prandtl, Induced drag of multiplanes, NACA TN 182, 1924",
    where="sigma of two elliptic loads as the integral of their mutual induction, its inner part "
    "in closed form, the outer one by SciPy",
    tolerance="abs 0.002: 400 strips",
)
@pytest.mark.parametrize("height", [0.05, 0.1, 0.25, 0.5, 1.0])
def test_the_influence_of_the_image_as_an_integral(height: float) -> None:
    def wash(y: float) -> float:
        # An elliptic load's wake is that of a plate in a cross flow, and so is the flow off it.
        place = complex(y, 2.0 * height)
        root = np.sqrt(place - 0.5) * np.sqrt(place + 0.5)
        return float((1.0 - place / root).real)

    share, _ = quad(lambda y: np.sqrt(1.0 - 4.0 * y * y) * wash(y), -0.5, 0.5)
    assert elliptic_saving(height) == pytest.approx(share / (np.pi / 4.0), abs=0.002)


@pytest.mark.source(
    work=(
        "Tuck, Some accurate solutions of the lifting surface integral equation, J. Australian "
        "Mathematical Society B 35, 1993"
    ),
    where="a sail standing on the mirror is half of a wing: formula for aspect ratio 5",
    tolerance="rel 0.2 %: the formula's own error there",
)
def test_a_sail_standing_on_the_water_is_half_a_wing() -> None:
    high, aft = np.linspace(0.0, 2.5, 31), np.linspace(0.0, 1.0, 9)
    nodes = np.zeros((31, 9, 3))
    nodes[:, :, 0], nodes[:, :, 2] = -aft, high[:, None]
    mesh = lattice((sheet_mesh(31, 9, inset_foot=0.0),), (0.0,))
    flow = solve_flow(
        mesh, nodes.reshape(-1, 3), lambda at: np.tile([-1.0, SMALL, 0.0], (len(at), 1)),
        Water(FREE_AIR.up), 1.0, stalling=False, core=(1e-6, 1e-6),
    )  # fmt: skip
    slope = 2.0 * float(flow.node_force[:, 1].sum()) / 2.5 / SMALL
    log = np.log(5.0)
    printed = 2 * np.pi - np.pi * (log + 2.5620) / 5.0 + 1.404 * (log + 3.645) / 25.0
    assert slope == pytest.approx(printed, rel=0.002)


@pytest.mark.source(
    work="Katz and Plotkin, Low-Speed Aerodynamics, 2nd edition, 2001",
    where="chapter 5 (from memory): one vortex at 1/4 and one control point at 3/4 of a plate "
    "over a plane: lift 1 + (c / 4 h)^2 of that in free air",
    tolerance="rel 1e-4: the section is a plate 10 000 chords long",
)
@pytest.mark.parametrize("height", [0.25, 0.5, 1.0, 2.0])
def test_a_one_vortex_plate_over_the_plane(height: float) -> None:
    ratio = section_over_plane(height, panels=1) / section_over_plane(1e4, panels=1)
    assert ratio == pytest.approx(1.0 + (0.25 / height) ** 2, rel=1e-4)


@pytest.mark.source(
    work=INDEPENDENT,
    where="linear flat plate in two dimensions at height over chord 0.25, 0.5, 1, 2",
    tolerance="rel 0.3 %: 16 panels",
)
@pytest.mark.parametrize(
    ("height", "gain"), [(0.25, 1.521), (0.5, 1.191), (1.0, 1.0574), (2.0, 1.0153)]
)
def test_a_plate_over_the_plane(height: float, gain: float) -> None:
    ratio = section_over_plane(height, panels=16) / section_over_plane(1e4, panels=16)
    assert ratio == pytest.approx(gain, rel=0.003)


def section_over_plane(height: float, panels: int) -> float:
    """Return the lift of a plate of chord one and 10 000 chords of span over the plane y = 0."""
    aft = np.linspace(0.0, 1.0, panels + 1)
    row = np.stack([-aft, height + 1e-5 * (0.5 - aft), np.zeros_like(aft)], axis=1)
    nodes = np.vstack([row + np.array([0.0, 0.0, end]) for end in (-5e3, 5e3)])
    mesh = lattice((sheet_mesh(2, panels + 1, inset_foot=0.0, inset_head=0.0),), (0.0,))
    flow = solve_flow(
        mesh, nodes, lambda at: np.tile([-1.0, 0.0, 0.0], (len(at), 1)), Water(BESIDE), 1.0,
        stalling=False, core=(1e-6, 1e-6),
    )  # fmt: skip
    return float(flow.circulation[-1])


def two_sails(rows: int, columns: int) -> FloatArray:
    """Return nodes of a headsail and a mainsail, cambered and twisted, feet above the water."""

    def sail(tack: list[float], clew: list[float], head: list[float]) -> FloatArray:
        up = np.linspace(0.0, 1.0, rows)[:, None, None]
        aft = np.linspace(0.0, 1.0, columns)[None, :, None]
        luff = (1.0 - up) * np.array(tack) + up * np.array(head)
        leech = (1.0 - up) * np.array(clew) + up * (np.array(head) + np.array([-0.3, 0.3, 0.0]))
        chord = np.linalg.norm(leech - luff, axis=2, keepdims=True)
        out = chord * (0.44 * aft * (1.0 - aft) + 0.18 * up * aft)
        return np.asarray((1.0 - aft) * luff + aft * leech + out * BESIDE).reshape(-1, 3)

    jib = sail([4.0, 0.0, 1.2], [0.2, 0.9, 1.6], [0.2, 0.0, 13.5])
    return np.vstack([jib, sail([-0.1, 0.0, 2.0], [-4.4, 0.3, 2.0], [-0.5, 0.0, 14.5])])


@pytest.mark.source(
    work="Katz and Plotkin, Low-Speed Aerodynamics, 2nd edition, 2001",
    where="section 8.2.3 (from memory): the forces along the stream add up to the energy of the "
    "wake; two sails over the water in a uniform onset, feet open and partly closed by the deck",
    tolerance="1 % at the mesh of a flight, 9 strips of 7 panels, the deck's force counted",
)
@pytest.mark.parametrize("closure", [(0.0, 0.0), (0.7, 0.3)])
def test_forces_and_wake_agree_on_the_drag_of_two_sails(closure: tuple[float, float]) -> None:
    sheets = tuple(sheet_mesh(10, 8, inset_foot=0.25 * (1.0 - part)) for part in closure)
    mesh, nodes, water = lattice(sheets, closure), two_sails(10, 8), Water(FREE_AIR.up)
    angle = np.radians(27.0)
    along = np.array([-np.cos(angle), np.sin(angle), 0.0])
    flow = solve_flow(
        mesh, nodes, lambda at: np.tile(along, (len(at), 1)), water, 1.0, stalling=False
    )
    legs = np.cross(flow.leg_velocity, flow.leg_end - flow.leg_start)
    deck = (flow.leg_strength * (legs @ along))[mesh.lines.loaded == 0].sum()
    drag = float(flow.node_force.sum(axis=0) @ along + deck)
    assert drag == pytest.approx(trefftz_drag(mesh, nodes, flow, water), rel=0.01)
