"""Cloth that has given way for good: what a usual wind stretched, season after season.

A sail's usual stress is found by blowing it up at rest, luff and clew held, under the even pressure
that its cloth weight was chosen for. A share of the stretch stays: most on the bias, where the worn
finish no longer holds the threads, and where the stress is high, along the leech and in the clew.
The luff's tape keeps its length.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from luffwright.arrays import FloatArray, IntArray
from luffwright.sails.assembly_kernel import assemble_cloth, assemble_ropes
from luffwright.sails.bending_kernel import assemble_bends
from luffwright.sails.cut import moulded, triangles
from luffwright.sails.membrane import Membrane, MembraneState, membrane_forces
from luffwright.sails.plan import SailCut
from luffwright.sails.sailcloth import Link, SailPart, joints, links, sail_cloth

USUAL_PRESSURE = 2100.0
"""Pressure [Pa] times luff [m] over cloth weight [kg/m²]: lofts choose the weight by load and size.
45 Pa, close-hauled in 12 knots, for 285 g/m² on a luff of 13 m (practice, from memory)."""
ROUNDS = 60
STEP = 0.05
"""Most that a node moves in one round [m]."""
BALANCED = 0.02
"""Unbalanced force at which the search ends, as a share of the pressure on a node."""


@dataclass(frozen=True)
class Stretch:
    """Permanent strain: of the cloth by field of the mesh (rows - 1, columns - 1, 3) in fibre axes,
    and of leech and foot tape by piece [-].
    """

    cloth: FloatArray
    leech: FloatArray
    foot: FloatArray


def usual_stretch(part: SailPart) -> Stretch:
    """Return the elastic strain of the whole sail under its usual pressure.

    Parameters
    ----------
    part : SailPart
        Of which the cut and the numbers of rows and columns count, not what is rolled or reefed.

    Returns
    -------
    Stretch
        Of the sail as stiff as it is now. [-]
    """
    return _stretch(part.cut, part.rows, part.columns)


@lru_cache(maxsize=32)
def _stretch(cut: SailCut, rows: int, columns: int) -> Stretch:
    shape = moulded(cut, rows, columns)
    whole = SailPart(cut.role, 0, rows, columns, shape, cut)
    cloth, _ = sail_cloth((whole,), whole.count)
    blown = _blown(whole, cloth)
    stress = membrane_forces(cloth, blown).stress
    strain = np.einsum("mij,mj->mi", cloth.compliance, stress)
    fields = strain.reshape(rows - 1, columns - 1, 2, 3).mean(axis=2)
    grid, rest = blown.reshape(rows, columns, 3), shape.grid
    return Stretch(fields, _longer(grid[:, -1], rest[:, -1]), _longer(grid[0], rest[0]))


def _longer(now: FloatArray, rest: FloatArray) -> FloatArray:
    """Return the stretch of each piece of an edge; none where it is slack."""
    lengths = [np.linalg.norm(np.diff(edge, axis=0), axis=1) for edge in (now, rest)]
    return np.clip(lengths[0] / lengths[1] - 1.0, 0.0, None)


def _blown(part: SailPart, cloth: Membrane) -> FloatArray:
    """Return the nodes of a sail in balance with its usual pressure, luff, head and clew held."""
    rows, columns = part.rows, part.columns
    number = np.arange(rows * columns).reshape(rows, columns)
    held = np.zeros(rows * columns, dtype=bool)
    held[number[:, 0]] = held[number[-1]] = True
    held[number[0, -1]] = True
    free = np.repeat(~held, 3)
    faces = triangles(rows, columns)
    pressure = USUAL_PRESSURE * part.cut.cloth.mass / part.cut.luff
    nodes = part.moulded.nodes.copy()
    soft = 1e-4 * part.cut.cloth.warp
    for _ in range(ROUNDS):
        load = _pressed(nodes, faces, pressure)
        force, stiffness = _structure(cloth, nodes, part)
        out = load.ravel() - force
        limit = BALANCED * float(np.abs(load).max())
        if float(np.abs(out[free]).max()) < limit:
            break
        stiff = stiffness + soft * np.eye(len(out))
        move = np.zeros(len(out))
        move[free] = np.linalg.solve(stiff[np.ix_(free, free)], out[free])
        nodes = nodes + (move * min(1.0, STEP / max(float(np.abs(move).max()), 1e-12))).reshape(
            -1, 3
        )
    return nodes


def _pressed(nodes: FloatArray, faces: IntArray, pressure: float) -> FloatArray:
    """Return the force of a pressure on the windward side, a third to each corner (n, 3) [N]."""
    corner = nodes[faces]
    area = 0.5 * np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    force = np.zeros_like(nodes)
    for k in range(3):
        np.add.at(force, faces[:, k], pressure * area / 3.0)
    return force


def _structure(cloth: Membrane, nodes: FloatArray, part: SailPart) -> tuple[FloatArray, FloatArray]:
    """Return the forces that hold the nodes back [N] and their stiffness [N/m]."""
    state: MembraneState = membrane_forces(cloth, nodes)
    tapes, bends = links(part), joints(part)
    size, count = 3 * len(nodes), len(tapes)
    # Every node moves as it likes: each coordinate is an unknown of its own.
    rows = np.arange(size + 1), np.arange(size), np.ones(size)
    force, stiff = np.zeros(size), np.zeros((size, size))
    assemble_cloth(cloth.triangles, state.gradient, state.tangent, *rows, force, stiff)
    assemble_ropes(
        nodes, 2 * np.arange(count + 1), np.array([tape.ends for tape in tapes]).ravel(),
        np.array([tape.length for tape in tapes]), np.zeros(count),
        np.array([tape.spring for tape in tapes]),
        np.array([tape.both for tape in tapes], dtype=np.int64), np.zeros(count),
        False, 0.0,  # noqa: FBT003 - a compiled kernel takes no names
        *rows, force, stiff, np.zeros(count), np.zeros(count),
    )  # fmt: skip
    if bends:
        joint, firm = zip(*bends, strict=True)
        assemble_bends(nodes, np.array(joint), np.array(firm), *rows, force, stiff)
    return force, stiff


def _fields(part: SailPart) -> tuple[IntArray, IntArray]:
    """Return which field of the whole sail each field of what is left comes from: row, column."""
    rows, columns = part.rows - 1, part.columns - 1
    eta, away = part.moulded.eta, part.moulded.away
    middle = 0.5 * (eta[1:] + eta[:-1])
    gone = 0.5 * (away[1:] + away[:-1])[:, None]
    share = gone + (1.0 - gone) * (np.arange(columns) + 0.5) / columns
    row = np.clip((middle * rows).astype(int), 0, rows - 1)
    column = np.clip((share * columns).astype(int), 0, columns - 1)
    return np.repeat(row[:, None], columns, axis=1), column


@lru_cache(maxsize=32)
def worn_cloth(parts: tuple[SailPart, ...], count: int) -> tuple[Membrane, FloatArray]:
    """Return the cloth of all sails as use has left it, and its mass by point [kg].

    Parameters
    ----------
    parts : tuple of SailPart
    count : int
        Points of the whole boat. [-]

    Returns
    -------
    (Membrane, (count,) array)
    """
    cloth, mass = sail_cloth(parts, count)
    return stretched_cloth(cloth, parts), mass


def stretched_cloth(cloth: Membrane, parts: tuple[SailPart, ...]) -> Membrane:
    r"""Return the cloth with the rest lengths that use has left it.

    .. math:: l' = (I + \kappa \varepsilon) \, l

    with :math:`\kappa` the share of the usual stretch that stays.

    Parameters
    ----------
    cloth : Membrane
        Of all sails, one after the other, as the loft cut it.
    parts : tuple of SailPart

    Returns
    -------
    Membrane
    """
    strains = []
    for part in parts:
        share, row_column = part.cut.cloth.permanent, _fields(part)
        found = np.zeros((part.rows - 1, part.columns - 1, 3))
        if share > 0.0:
            found = share * usual_stretch(part).cloth[row_column]
        strains.append(np.repeat(found.reshape(-1, 3), 2, axis=0))
    strain = np.concatenate(strains)
    grown = np.zeros((len(strain), 2, 2))
    grown[:, 0, 0], grown[:, 1, 1] = 1.0 + strain[:, 0], 1.0 + strain[:, 1]
    grown[:, 0, 1] = grown[:, 1, 0] = 0.5 * strain[:, 2]
    return replace(
        cloth,
        shape=np.ascontiguousarray(cloth.shape @ np.linalg.inv(grown)),
        area=cloth.area * np.linalg.det(grown),
    )


@lru_cache(maxsize=64)
def worn_links(part: SailPart) -> tuple[Link, ...]:
    """Return the pieces of tape and batten at the lengths that use has left them.

    Parameters
    ----------
    part : SailPart

    Returns
    -------
    tuple of Link
        The tapes of leech and foot longer where they carried.
    """
    if part.cut.cloth.permanent == 0.0:
        return links(part)
    worn = usual_stretch(part)
    row, column = _fields(part)
    return tuple(_worn(link, part, worn, row, column) for link in links(part))


def _worn(link: Link, part: SailPart, worn: Stretch, row: IntArray, column: IntArray) -> Link:
    (j, i), (_, k) = (divmod(node - part.first, part.columns) for node in link.ends)
    last, stayed, factor = part.columns - 1, part.cut.cloth.permanent, 1.0
    if link.name.endswith("batten"):
        return link
    if i == k == last:
        factor = 1.0 + stayed * float(worn.leech[row[j, 0]])
    elif j == 0 and i != k and part.moulded.eta[0] == 0.0:
        factor = 1.0 + stayed * float(worn.foot[column[0, i]])
    return replace(link, length=factor * link.length, spring=link.spring / factor)
