"""The lattice's topology: which filament belongs to which ring, and the smooth maps from nodes.

A sail is a grid of nodes, `rows` from foot to head and `columns` from luff to leech. Everything
the lattice needs is linear in the nodes: vortex corners at 1/4 of each panel, control points at
3/4, tangents there. The chordwise maps are four-point Lagrange polynomials, so the camber slope at
the control point is that of a smooth curve and not of a facet: facets lose a share of the lift
slope of a membrane that falls only with the first power of the panel count.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.air.shares import shares
from luffwright.arrays import FloatArray, IntArray

FOOT = 0.1
"""What counts as the foot, as a share of a sail's height: the deck carries on the circulation of so
much of it, and closes nothing any more across so wide a gap. An estimate of ours."""
SLIVER = 1e-9
"""A strip that has less than this share in it is beyond the foot."""


def lagrange_rows(count: int, at: FloatArray, *, slope: bool = False) -> FloatArray:
    """Return the matrix that interpolates (or differentiates) nodal values at places `at`.

    Nodes stand at 0, 1 … count-1; each place uses the four (or all, if fewer) nearest nodes.

    Parameters
    ----------
    count : int
        Number of nodes in the line.
    at : (m,) array
        Places, in node spacings. [-]
    slope : bool
        Return the derivative per node spacing instead of the value.

    Returns
    -------
    (m, count) array
        Weights. [-]

    Examples
    --------
    >>> lagrange_rows(4, np.array([1.5])).round(4)
    array([[-0.0625,  0.5625,  0.5625, -0.0625]])
    """
    rows = np.zeros((len(at), count))
    order = min(4, count)
    for row, place in enumerate(at):
        first = int(np.clip(np.floor(place) - (order // 2 - 1), 0, count - order))
        nodes = np.arange(first, first + order)
        for node in nodes:
            others = nodes[nodes != node]
            bases = np.poly(others) / np.prod(node - others)
            polynomial = np.polyder(bases) if slope else bases
            rows[row, node] = np.polyval(polynomial, place)
    return rows


@dataclass(frozen=True)
class SheetMesh:
    """One sail's linear maps from its nodes (row-major, foot to head, luff to leech).

    `corner` gives the vortex corners, `carrier` the shares of the nodes in a load there, `control`
    the control points, `chordwise` and `spanwise` the two tangents there.
    """

    rows: int
    columns: int
    corner: FloatArray
    carrier: FloatArray
    control: FloatArray
    chordwise: FloatArray
    spanwise: FloatArray

    @property
    def strips(self) -> int:
        """Return the number of strips."""
        return self.rows - 1

    @property
    def panels(self) -> int:
        """Return the number of panels along a chord."""
        return self.columns - 1


def _kron(across: FloatArray, along: FloatArray) -> FloatArray:
    return np.asarray(np.kron(across, along), dtype=np.float64)


def sheet_mesh(
    rows: int, columns: int, *, inset_foot: float = 0.25, inset_head: float = 0.25
) -> SheetMesh:
    """Return the maps of one sail with `rows` × `columns` nodes.

    Parameters
    ----------
    rows, columns : int
        Nodes from foot to head and from luff to leech.
    inset_foot, inset_head : float
        How far the outermost trailing vortices stand inside the tips, as a share of a strip.
        A quarter makes the lift slope of few strips right; none at a closed foot. [-]

    Returns
    -------
    SheetMesh

    References
    ----------
    .. [1] Hough, *Remarks on vortex-lattice methods*, Journal of Aircraft 10(5), 1973 (tip inset;
       from memory).
    """
    panels = columns - 1
    if rows < 2 or panels < 1:
        raise ValueError("a sail needs at least one strip and one panel")
    panel_at = np.arange(panels, dtype=np.float64)
    vortex_at, control_at = np.append(panel_at + 0.25, float(panels)), panel_at + 0.75
    along_vortex = lagrange_rows(columns, vortex_at)
    along_control = lagrange_rows(columns, control_at)
    along_slope = lagrange_rows(columns, control_at, slope=True)
    across = np.eye(rows)
    across[0, :2] = [1.0 - inset_foot, inset_foot]
    across[-1, -2:] = [inset_head, 1.0 - inset_head]
    middle = 0.5 * (across[:-1] + across[1:])
    stretch = across[1:] - across[:-1]
    return SheetMesh(
        rows,
        columns,
        corner=_kron(across, along_vortex),
        carrier=_kron(across, shares(panels)),
        control=_kron(middle, along_control),
        chordwise=_kron(middle, along_slope),
        spanwise=_kron(stretch, along_control),
    )


@dataclass(frozen=True)
class Filaments:
    """All straight vortices of all sails: ends as corner numbers, and the rings they belong to.

    A corner number beyond the sails' corners is a foot of the skirt, on the water. `loaded` marks
    filaments whose force acts on a sail.
    """

    start: IntArray
    end: IntArray
    owner: IntArray
    ring: IntArray
    share: FloatArray
    ray_start: IntArray
    ray_owner: IntArray
    ray_ring: IntArray
    ray_share: FloatArray
    loaded: IntArray


_Leg = tuple[int, int, int, int, float, int, float, int]
_Ray = tuple[int, int, int, float, int, float]


@dataclass(frozen=True)
class _Grid:
    """Numbers of one sail's corners and rings among those of all; -1 for a ring beyond the edge."""

    rows: int
    columns: int
    first_corner: int
    first_ring: int

    def corner(self, j: int, i: int) -> int:
        return self.first_corner + j * self.columns + i

    def ring(self, j: int, i: int) -> int:
        inside = 0 <= j < self.rows - 1 and 0 <= i < self.columns - 1
        return self.first_ring + j * (self.columns - 1) + i if inside else -1


def _foot_shares(strips: int) -> FloatArray:
    """Return the shares of the lowest strips in what the deck carries on: the mean of `FOOT`."""
    edge = np.minimum(np.arange(strips + 1) / strips, FOOT)
    share = np.diff(edge) / FOOT
    return np.asarray(share[share > SLIVER], dtype=np.float64)


def _skirt(grid: _Grid, sail: int, close: float, skirt: int) -> tuple[list[_Leg], list[_Ray]]:
    """Return the legs that stand on the water, and those of strips above the lowest at the foot."""
    corner, ring, panels = grid.corner, grid.ring, grid.columns - 1
    legs: list[_Leg] = []
    rays: list[_Ray] = []
    for j, share in enumerate(close * _foot_shares(grid.rows - 1)):
        legs += [
            (skirt + i, corner(0, i), sail, ring(j, i), share, ring(j, i - 1), -share, 0)
            for i in range(panels)
        ]
        if j:
            legs += [
                (corner(0, i), corner(0, i + 1), sail, ring(j, i), share, -1, 0.0, 1)
                for i in range(panels)
            ]
            rays.append((corner(0, panels), sail, ring(j, panels - 1), share, -1, 0.0))
    return legs, rays


def _sail_filaments(grid: _Grid, sail: int, close: float) -> tuple[list[_Leg], list[_Ray]]:
    """Return one sail's legs, up the leading edges and along the rows, and its trailing rays."""
    corner, ring, panels = grid.corner, grid.ring, grid.columns - 1
    lowest = close * float(_foot_shares(grid.rows - 1)[0])
    legs: list[_Leg] = [
        (corner(j, i), corner(j + 1, i), sail, ring(j, i), 1.0, ring(j, i - 1), -1.0, 1)
        for j in range(grid.rows - 1)
        for i in range(panels)
    ]
    rays: list[_Ray] = []
    for j in range(grid.rows):
        # What the deck carries on does not leave at the foot.
        above = -1.0 if j else -1.0 + lowest
        legs += [
            (corner(j, i), corner(j, i + 1), sail, ring(j - 1, i), 1.0, ring(j, i), above, 1)
            for i in range(panels)
        ]
        last = panels - 1
        rays.append((corner(j, panels), sail, ring(j - 1, last), 1.0, ring(j, last), above))
    return legs, rays


def filaments(meshes: tuple[SheetMesh, ...], closure: tuple[float, ...]) -> Filaments:
    """Return the vortices of several sails and of the skirts that close their feet.

    Ring (j, i) runs up its leading leg, so a positive circulation lifts to +y in a wind along -x.
    The deck carries the share `closure` of the foot's circulation on down to the water. By that is
    meant the mean over the lowest `FOOT` of the sail: a share of the lowest strip alone has no
    limit, for what is left over is a vortex at the foot, and the nearer to it the circulation is
    taken the more of it is gone.

    Parameters
    ----------
    meshes : tuple of SheetMesh
        One a sail.
    closure : tuple of float
        0 = open foot, 1 = closed by the deck. [-]

    Returns
    -------
    Filaments
    """
    legs: list[_Leg] = []
    rays: list[_Ray] = []
    corner0 = ring0 = 0
    skirt0 = sum(mesh.rows * mesh.columns for mesh in meshes)
    for sail, (mesh, close) in enumerate(zip(meshes, closure, strict=True)):
        grid = _Grid(mesh.rows, mesh.columns, corner0, ring0)
        own, behind = _sail_filaments(grid, sail, close)
        legs += own
        rays += behind
        if close > 0.0:
            own, behind = _skirt(grid, sail, close, skirt0)
            legs += own
            rays += behind
        skirt0 += mesh.columns
        corner0 += mesh.rows * mesh.columns
        ring0 += mesh.strips * mesh.panels
    leg = np.array(legs, dtype=np.float64)
    ray = np.array(rays, dtype=np.float64)
    return Filaments(
        start=leg[:, 0].astype(np.int64),
        end=leg[:, 1].astype(np.int64),
        owner=leg[:, 2].astype(np.int64),
        ring=leg[:, [3, 5]].astype(np.int64),
        share=np.ascontiguousarray(leg[:, [4, 6]]),
        ray_start=ray[:, 0].astype(np.int64),
        ray_owner=ray[:, 1].astype(np.int64),
        ray_ring=ray[:, [2, 4]].astype(np.int64),
        ray_share=np.ascontiguousarray(ray[:, [3, 5]]),
        loaded=leg[:, 7].astype(np.int64),
    )
