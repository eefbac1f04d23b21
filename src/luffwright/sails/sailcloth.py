"""A sail as the loft sews it: panels of cloth with doubled corners, tapes on its edges, battens.

A sail's nodes are known by their numbers among all points of the boat.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from luffwright.arrays import FloatArray, IntArray
from luffwright.sails.cut import Moulded, clew_place, edges, triangles
from luffwright.sails.membrane import Membrane, membrane, orthotropic
from luffwright.sails.plan import Batten, Role, SailCut, UprightBatten

ROACH_TAPE = 0.05
"""The edge of a roach is left soft: a stiff tape would pull it in, so the loft puts none there."""
LEECH_TAPE = 0.05
"""Cloth that is folded over a leech, as wide as this along its warp: 25 mm on either side [m] (a
loft's habit, from memory). A stiffer tape would carry the leech's pull and hook it to windward."""
HEADBOARD = 20.0
"""How much stiffer than a tape the head is: a board, or a few layers of cloth."""
BATTEN_AXIAL = 2.0e5
"""Stiffness EA of a batten along its length [N]: a glass-fibre strip of 30 mm² (from memory)."""
PATCH_LAYERS, PATCH_REACH = 3.0, 0.10
"""Layers sewn onto each corner, and how far they reach as a share of the luff: common practice."""


@dataclass(frozen=True)
class SailPart:
    """One sail's nodes within the numbering of all points."""

    role: Role
    first: int
    rows: int
    columns: int
    moulded: Moulded
    cut: SailCut

    @property
    def count(self) -> int:
        """Return its number of nodes."""
        return self.rows * self.columns

    def node(self, row: int, column: int) -> int:
        """Return the number of a node."""
        return self.first + row * self.columns + column


@dataclass(frozen=True)
class Link:
    """A piece of tape or batten between two nodes: unstretched `length` [m], `spring` [N/m];
    `both` pushes as well as it pulls.
    """

    name: str
    ends: tuple[int, int]
    length: float
    spring: float
    both: bool


Place = tuple[int, int]
Mix = dict[int, float]
"""A place between nodes, as the share of each."""


def _link(
    part: SailPart, name: str, ends: tuple[Place, Place], stiff: float, *, both: bool
) -> Link:
    """Return a link between two places (row, column) of a sail, of stiffness EA [N].

    The luff of a rolled sail is held by its roll, which is straight.
    """
    on_luff = ends[0][1] == ends[1][1] == 0
    grid = part.moulded.hung.reshape(part.rows, -1, 3) if on_luff else part.moulded.grid
    rest = float(np.linalg.norm(grid[ends[0]] - grid[ends[1]]))
    nodes = part.node(*ends[0]), part.node(*ends[1])
    return Link(f"{part.role}_{name}", nodes, rest, stiff / rest, both)


@lru_cache(maxsize=64)
def links(part: SailPart) -> tuple[Link, ...]:
    """Return all pieces of tape and batten of a sail."""
    return (*_tapes(part), *_battens(part))


def _tapes(part: SailPart) -> Iterator[Link]:
    """Yield the tapes along luff, leech and foot, and the head's stiff edge."""
    last, top, stiff = part.columns - 1, part.rows - 1, part.cut.tape_stiffness
    behind = ROACH_TAPE * stiff if part.cut.leech_curve > 0.0 else _leech_tape(part.cut)
    for column, edge in ((0, stiff), (last, behind)):
        for j in range(top):
            yield _link(part, "tape", ((j, column), (j + 1, column)), edge, both=False)
    for i in range(last):
        yield _link(part, "tape", ((0, i), (0, i + 1)), stiff, both=False)
    yield _link(part, "tape", ((top, 0), (top, last)), HEADBOARD * stiff, both=True)


def _leech_tape(cut: SailCut) -> float:
    """Return the stiffness EA of the tape on a leech without roach [N]."""
    return min(cut.tape_stiffness, LEECH_TAPE * cut.cloth.warp)


def _battens(part: SailPart) -> Iterator[Link]:
    """Yield the battens' pieces, which push: they hold out the roach that the leech would fold."""
    for row, inner, _ in _battens_set(part):
        for i in range(inner, part.columns - 1):
            yield _link(part, "batten", ((row, i), (row, i + 1)), BATTEN_AXIAL, both=True)


def _battens_set(part: SailPart) -> Iterator[tuple[int, int, Batten]]:
    """Yield row of nodes, column where it begins, and batten, of those that a reef leaves up."""
    eta = part.moulded.eta
    for batten in part.cut.battens:
        if not eta[0] <= batten.leech_share <= eta[-1]:
            continue  # tied down with the reef, or in the roll
        share = (batten.leech_share - eta[0]) / (eta[-1] - eta[0])
        row = int(np.clip(round(share * (part.rows - 1)), 1, part.rows - 2))
        away = float(part.moulded.away[row])
        begins = max(1.0 - min(batten.chord_share, 1.0) - away, 0.0) / (1.0 - away)
        yield row, int(np.floor(begins * (part.columns - 1) + 1e-9)), batten


@lru_cache(maxsize=64)
def joints(part: SailPart) -> tuple[tuple[tuple[int, int, int], float], ...]:
    """Return where battens across the sail bend: three nodes in a line, and EI / s [N m]."""
    found: list[tuple[tuple[int, int, int], float]] = []
    for row, inner, batten in _battens_set(part):
        grid = part.moulded.grid[row]
        step = float(np.linalg.norm(grid[0] - grid[-1])) / (part.columns - 1)
        for i in range(inner + 1, part.columns - 1):
            line = part.node(row, i - 1), part.node(row, i), part.node(row, i + 1)
            found.append((line, batten.stiffness / step))
    return tuple(found)


def upright_chain(part: SailPart, batten: UprightBatten) -> list[Mix]:
    """Return the places of an upright batten, row by row, as shares of the nodes beside them.

    It ends where it meets the leech; rolled up, there is none.
    """
    eta, away = part.moulded.eta, part.moulded.away
    place = batten.foot_share * clew_place(part.cut)[0]
    luff, leech = (edge[:, 0] for edge in edges(part.cut, eta))
    chain: list[Mix] = []
    for row in range(part.rows - 1):
        if not batten.low - 1e-9 <= eta[row] <= batten.high + 1e-9:
            continue
        whole = (place - luff[row]) / (leech[row] - luff[row])
        share = (whole - away[row]) / (1.0 - away[row])
        if not 0.0 < share < 1.0:
            continue
        column = int(share * (part.columns - 1))
        rest = share * (part.columns - 1) - column
        chain.append({part.node(row, column): 1.0 - rest, part.node(row, column + 1): rest})
    return chain


@lru_cache(maxsize=32)
def sail_cloth(parts: tuple[SailPart, ...], count: int) -> tuple[Membrane, FloatArray]:
    """Return the cloth of all sails as one membrane over all points, and its mass by point [kg].

    Parameters
    ----------
    parts : tuple of SailPart
    count : int
        Points of the whole boat. [-]

    Returns
    -------
    (Membrane, (count,) array)
    """
    rest, mass = np.zeros((count, 3)), np.zeros(count)
    faces, fibres, stiff = [], [], []
    for part in parts:
        rest[part.first : part.first + part.count] = part.moulded.nodes
        own = triangles(part.rows, part.columns, 0)
        faces.append(own + part.first)
        fibres.append(part.moulded.fibre[own].mean(axis=1))
        cloth = part.cut.cloth
        law = orthotropic(cloth.warp, cloth.fill, cloth.shear, cloth.poisson)
        stiff.append(law[None] * _layers(part, own)[:, None, None])
        for k in range(3):
            np.add.at(mass, own[:, k] + part.first, _areas(part, own) * cloth.mass / 3.0)
    whole = membrane(rest, np.concatenate(faces), np.concatenate(fibres), np.concatenate(stiff))
    return whole, mass


def _areas(part: SailPart, faces: IntArray) -> FloatArray:
    """Return the area of each triangle of the moulded sail [m²]."""
    first, second, third = np.moveaxis(part.moulded.nodes[faces], 1, 0)
    area: FloatArray = 0.5 * np.linalg.norm(np.cross(second - first, third - first), axis=1)
    return area


def _layers(part: SailPart, faces: IntArray) -> FloatArray:
    """Return how many layers of cloth each triangle has: the corners are doubled up."""
    middle = part.moulded.nodes[faces].mean(axis=1)
    grid, reach = part.moulded.grid, PATCH_REACH * part.cut.luff
    layers = np.ones(len(faces))
    for corner in (grid[0, 0], grid[0, -1], grid[-1, 0]):
        away = np.linalg.norm(middle - corner, axis=1)
        layers += PATCH_LAYERS * np.exp(-((away / reach) ** 2))
    return layers
