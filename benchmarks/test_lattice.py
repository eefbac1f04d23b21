"""One lattice of 400 panels over its image, against another program's without an image.

Both assemble the influences, solve for the circulations and add up the forces of a flat plate of
aspect ratio 4. The other one would also make its mesh anew each time, which takes as long again: it
is handed the mesh ready made, as ours is.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from luffwright.air.lattice import FREE_AIR, Flow, Lattice, Water, lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.arrays import FloatArray

if TYPE_CHECKING:
    from pytest_benchmark.fixture import BenchmarkFixture

STRIPS, PANELS = 40, 10
SPAN, ANGLE = 4.0, math.radians(5.0)
OVER_WATER = Water(FREE_AIR.up)


@pytest.fixture(scope="module")
def plate() -> tuple[Lattice, FloatArray]:
    """Return lattice and nodes of an upright plate whose foot is half a chord above the water."""
    mesh = lattice((sheet_mesh(STRIPS + 1, PANELS + 1),), (0.0,))
    nodes = np.zeros((STRIPS + 1, PANELS + 1, 3))
    nodes[:, :, 0] = -np.linspace(0.0, 1.0, PANELS + 1)
    nodes[:, :, 2] = 0.5 + np.linspace(0.0, SPAN, STRIPS + 1)[:, None]
    return mesh, nodes.reshape(-1, 3)


def onset(points: FloatArray) -> FloatArray:
    return np.tile([-math.cos(ANGLE), math.sin(ANGLE), 0.0], (len(points), 1))


def solved(plate: tuple[Lattice, FloatArray], water: Water) -> Flow:
    return solve_flow(*plate, onset, water, 1.0, stalling=False, core=(1e-6, 1e-6))


class Meshed:
    """A wing of the other program with its mesh made beforehand."""

    def __init__(self, wing: Any, spacing: Any) -> None:  # noqa: ANN401  # without types
        self.mesh = wing.subdivide_sections(
            ratio=STRIPS, spacing_function=spacing
        ).mesh_thin_surface(
            method="quad", chordwise_resolution=PANELS, chordwise_spacing_function=spacing,
            add_camber=True,
        )  # fmt: skip

    def subdivide_sections(self, **_: object) -> Meshed:
        return self

    def mesh_thin_surface(self, **_: object) -> tuple[FloatArray, FloatArray]:
        points, faces = self.mesh
        return points, faces


@pytest.fixture(scope="module")
def other() -> Any:  # noqa: ANN401  # as above
    """Return the other program's lattice of the same plate, in free air."""
    asb = pytest.importorskip("aerosandbox", reason="needs the extra `cross`")
    thin = asb.Airfoil("naca0012")
    ends = [asb.WingXSec(xyz_le=[0.0, y, 0.0], chord=1.0, airfoil=thin) for y in (0.0, SPAN)]
    plane = asb.Airplane(wings=[asb.Wing(xsecs=ends)])
    other = asb.VortexLatticeMethod(
        plane, asb.OperatingPoint(velocity=1.0, alpha=math.degrees(ANGLE)),
        spanwise_resolution=STRIPS, chordwise_resolution=PANELS,
    )  # fmt: skip
    plane.wings = [Meshed(plane.wings[0], other.spanwise_spacing_function)]
    return other


@pytest.mark.benchmark(group="lattice of 400 panels")
def test_the_lattice_over_its_image(
    benchmark: BenchmarkFixture, plate: tuple[Lattice, FloatArray]
) -> None:
    flow = benchmark(solved, plate, OVER_WATER)
    assert len(flow.circulation) == STRIPS * PANELS


@pytest.mark.benchmark(group="lattice of 400 panels")
def test_the_lattice_in_free_air(
    benchmark: BenchmarkFixture, plate: tuple[Lattice, FloatArray]
) -> None:
    flow = benchmark(solved, plate, FREE_AIR)
    assert len(flow.circulation) == STRIPS * PANELS


@pytest.mark.benchmark(group="lattice of 400 panels")
def test_the_other_lattice_in_free_air(benchmark: BenchmarkFixture, other: Any) -> None:  # noqa: ANN401
    benchmark.pedantic(other.run, rounds=20, warmup_rounds=1)
    assert len(other.areas) == STRIPS * PANELS


def test_both_lattices_agree_on_the_lift(plate: tuple[Lattice, FloatArray], other: Any) -> None:  # noqa: ANN401
    here = solved(plate, FREE_AIR).node_force.sum(axis=0)
    lift = float(here @ [math.sin(ANGLE), math.cos(ANGLE), 0.0])
    there = float(other.run()["L"]) / other.op_point.atmosphere.density()
    # Its outermost panels are not inset at the tips, which makes its plate a little longer.
    assert lift == pytest.approx(there, rel=0.03)


def test_the_image_included_the_lattice_takes_less_time_than_the_other_without(
    plate: tuple[Lattice, FloatArray],
    other: Any,  # noqa: ANN401
    least_time: Callable[[Callable[[], object], int], float],
) -> None:
    # By turns, so that whatever else the machine does falls on both.
    turns = [
        (least_time(lambda: solved(plate, OVER_WATER), 8), least_time(other.run, 8))
        for _ in range(4)
    ]
    here, there = (min(times) for times in zip(*turns, strict=True))
    print(f"\nover its image {1e3 * here:.1f} ms, the other in free air {1e3 * there:.1f} ms: "
          f"ratio {here / there:.2f}")  # fmt: skip
    assert here < there
