"""The sail as the loft made it: its moulded surface, from which all rest lengths follow.

Sail frame: u from the luff towards the leech, v up the luff, w to leeward; tack at the origin.
The moulded surface is not the flying shape: stretch, stay sag and the wind add to it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from luffwright.arrays import FloatArray, IntArray
from luffwright.sails.plan import SailCut
from luffwright.sails.roll import wound_strip

FINE = 61
"""Places along luff and chord between which the cloth on a roll is measured."""


@dataclass(frozen=True, eq=False)
class Moulded:
    """The sail that is set, at rest: nodes (rows · columns, 3) in the sail frame [m], its tack at
    the origin; `fibre` the warp there; `hung` the same nodes with the luff straight, to start from.

    `tack_height`: where the tack stands along the luff line when a part is rolled away; `eta`: each
    row's share of the whole sail's luff; `away`: what share of its whole chord is rolled away.
    """

    nodes: FloatArray
    rows: int
    columns: int
    tack_height: float
    fibre: FloatArray
    hung: FloatArray
    eta: FloatArray
    away: FloatArray

    @property
    def grid(self) -> FloatArray:
        """Return the nodes as (rows, columns, 3)."""
        return self.nodes.reshape(self.rows, self.columns, 3)

    @property
    def is_rolled(self) -> bool:
        """Return whether a strip along the luff is rolled away."""
        return bool(self.away.any())


def clew_place(cut: SailCut) -> tuple[float, float]:
    """Return the clew (u, v) in the sail frame from the three straight sides [m].

    Parameters
    ----------
    cut : SailCut
        Its sides must make a triangle.

    Returns
    -------
    (float, float)
        Away from the luff, and up the luff. [m]

    Examples
    --------
    A right angle at the tack:

    >>> from luffwright.sails.plan import Cloth
    >>> cloth = Cloth(1e5, 1e5, 1e4, 0.2, 0.3)
    >>> cut = SailCut("headsail", 4.0, 5.0, 3.0, 0.0, 0, 0, 0, (0.1,) * 3, (0.4,) * 3, 0, cloth)
    >>> clew_place(cut)
    (3.0, 0.0)
    """
    head = np.array([cut.head_width, cut.luff])
    span = float(np.hypot(*head))
    along = (cut.foot**2 - cut.leech**2 + span**2) / (2.0 * span)
    off = np.sqrt(max(cut.foot**2 - along**2, 0.0))
    axis = head / span
    u, v = along * axis + off * np.array([axis[1], -axis[0]])
    return float(u), float(v)


def _through_quarters(values: tuple[float, float, float], at: FloatArray) -> FloatArray:
    """Return the parabola through the values at 1/4, 1/2, 3/4, kept positive."""
    fit = np.polyfit([0.25, 0.5, 0.75], values, 2)
    return np.clip(np.polyval(fit, at), 0.3 * min(values), None)


def camber_line(share: FloatArray, camber: FloatArray, draft: FloatArray) -> FloatArray:
    """Return the depth of two parabolas that meet at the draft, as a share of the chord.

    Parameters
    ----------
    share : array
        Place along the chord, 0 at the luff. [-]
    camber, draft : arrays
        Greatest depth as a share of the chord, and its place. [-]

    Returns
    -------
    array

    References
    ----------
    .. [1] Jacobs, Ward & Pinkerton, *The characteristics of 78 related airfoil sections from tests
       in the variable-density wind tunnel*, NACA Report 460, 1933: the four-digit mean line.

    Examples
    --------
    >>> places = np.array([0.0, 0.2, 0.4, 0.7, 1.0])
    >>> camber_line(places, np.array(0.10), np.array(0.4)).round(4)
    array([0.   , 0.075, 0.1  , 0.075, 0.   ])
    """
    front = (2.0 * draft * share - share**2) / draft**2
    back = (1.0 - 2.0 * draft + 2.0 * draft * share - share**2) / (1.0 - draft) ** 2
    return camber * np.where(share < draft, front, back)


def rolled(cut: SailCut, share: float) -> tuple[SailCut, float]:
    """Return the sail that is left when a strip along the luff is rolled away, and how far up the
    luff line its new tack stands [m].

    Taking a strip parallel to one side off a triangle leaves a similar triangle: exact for a flat
    sail with straight sides, and enough to find the clew.

    Parameters
    ----------
    cut : SailCut
    share : float
        Of the luff perpendicular. [-]

    Returns
    -------
    SailCut, float

    Examples
    --------
    A sail with its clew at the height of the tack sets on the tack when a fifth is rolled away:

    >>> from luffwright.sails.plan import Cloth
    >>> cloth = Cloth(1e5, 1e5, 1e4, 0.2, 0.3)
    >>> cut = SailCut("headsail", 4.0, 5.0, 3.0, 0.0, 0, 0, 0, (0.1,) * 3, (0.4,) * 3, 0, cloth)
    >>> smaller, height = rolled(cut, 0.2)
    >>> round(smaller.luff, 3), round(smaller.foot, 3), height
    (3.2, 2.4, 0.0)
    """
    left = 1.0 - share
    _, clew_v = clew_place(cut)
    smaller = replace(
        cut,
        luff=cut.luff * left,
        leech=cut.leech * left,
        foot=cut.foot * left,
        leech_curve=cut.leech_curve * left,
        foot_curve=cut.foot_curve * left,
    )
    return smaller, share * clew_v


def edges(cut: SailCut, eta: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return where the whole sail's luff and leech are at shares of the luff, (..., 2): u, v [m].

    Parameters
    ----------
    cut : SailCut
    eta : array
        [-]

    Returns
    -------
    array, array
    """
    bow = 4.0 * eta * (1.0 - eta)
    clew, head = np.array(clew_place(cut)), np.array([cut.head_width, cut.luff])
    luff = np.stack([cut.luff_curve * cut.luff * bow, cut.luff * eta], axis=-1)
    away = cut.leech_curve * bow[..., None] * _outward(cut)
    return luff, clew + eta[..., None] * (head - clew) + away


def _surface(cut: SailCut, eta: FloatArray, share: FloatArray) -> FloatArray:
    """Return the whole sail's places at shares of luff (rows, 1) and chord (rows, columns) [m]."""
    luff, leech = edges(cut, eta)
    flat = luff + share[..., None] * (leech - luff)
    chord = np.linalg.norm(leech - luff, axis=-1)
    camber, draft = _through_quarters(cut.camber, eta), _through_quarters(cut.draft, eta)
    depth = camber_line(share, camber, draft) * chord
    turn = cut.twist * eta
    along = flat[..., 0] - luff[..., 0]
    return np.stack(
        [
            luff[..., 0] + along * np.cos(turn) - depth * np.sin(turn),
            flat[..., 1],
            along * np.sin(turn) + depth * np.cos(turn),
        ],
        axis=-1,
    )


def _outward(cut: SailCut) -> FloatArray:
    """Return the direction in the sail's plane that stands square to the leech."""
    side = np.array([cut.head_width, cut.luff]) - np.array(clew_place(cut))
    side /= np.linalg.norm(side)
    return np.array([side[1], -side[0]])


def _turned(vectors: FloatArray, angle: FloatArray) -> FloatArray:
    """Return vectors turned about the luff line by an angle for each row [rad]."""
    cos, sin = np.cos(angle), np.sin(angle)
    along, away = vectors[..., 0], vectors[..., 2]
    return np.stack([along * cos - away * sin, vectors[..., 1], along * sin + away * cos], axis=-1)


def _wound_arc(places: FloatArray) -> FloatArray:
    """Return the cloth from the luff to each place of a row, square to the luff [m]."""
    step = np.diff(places, axis=1)
    arc = np.cumsum(np.hypot(step[..., 0], step[..., 2]), axis=1)
    return np.concatenate([np.zeros((len(arc), 1)), arc], axis=1)


def _unrolled(cut: SailCut, rolled_share: float, rows: int) -> tuple[FloatArray, FloatArray]:
    """Return the rows that stand free of the roll and the share of each chord that is in it.

    Every height winds up the same turns: cut with depth, a sail has more cloth half-way up than the
    roll takes there, and that bags. The head is where the leech comes off the roll.
    """
    width = clew_place(cut)[0]
    fine = np.linspace(0.0, 1.0, FINE)

    def left(eta: FloatArray) -> tuple[FloatArray, FloatArray]:
        arc = _wound_arc(_surface(cut, eta[:, None], np.tile(fine, (len(eta), 1))))
        return arc, wound_strip(rolled_share * width, cut.cloth.mass, cut.luff_pad, eta)

    arc, gone = left(fine)
    top = float(np.interp(-cut.head_width, gone - arc[:, -1], fine))
    eta = np.linspace(0.0, top, rows)
    arc, gone = left(eta)
    return eta, np.array([np.interp(g, a, fine) for g, a in zip(gone, arc, strict=True)])


@lru_cache(maxsize=64)
def moulded(
    cut: SailCut, rows: int, columns: int, *, rolled_share: float = 0.0, reef_from: float = 0.0
) -> Moulded:
    """Return the nodes of the moulded surface: of a rolled or reefed sail, the cloth that is left.

    Parameters
    ----------
    cut : SailCut
    rows, columns : int
        Nodes from foot to head and from luff to leech.
    rolled_share : float
        Share of the width rolled away at the luff. [-]
    reef_from : float
        Share of the luff below which the sail is tied down: tack and clew are on luff and leech
        there, and the foot between them has no round. [-]

    Returns
    -------
    Moulded
    """
    eta, away = np.linspace(reef_from, 1.0, rows), np.zeros(rows)
    if rolled_share > 0.0:
        eta, away = _unrolled(cut, rolled_share, rows)
    share = away[:, None] + (1.0 - away[:, None]) * np.linspace(0.0, 1.0, columns)
    whole = _surface(cut, eta[:, None], share)
    if reef_from == 0.0:
        round_below = cut.foot_curve * 4.0 * share * (1.0 - share)
        whole[..., 1] -= round_below * np.clip(1.0 - 4.0 * eta[:, None], 0.0, 1.0)
    tack = whole[0, 0] if rolled_share > 0.0 else np.array([0.0, whole[0, 0, 1], 0.0])
    foot = whole[0, -1] - whole[0, 0]
    square = -np.arctan2(foot[2], foot[0])
    nodes = _turned(whole - tack, square)
    out = _outward(cut)
    warp = _turned(np.array([out[0], out[1], 0.0]) + 0.0 * nodes, square + cut.twist * eta[:, None])
    return Moulded(
        np.ascontiguousarray(nodes.reshape(-1, 3)), rows, columns,
        float(tack[1]) if rolled_share > 0.0 else 0.0,
        np.ascontiguousarray(warp.reshape(-1, 3)),
        _hung(nodes, cut.twist * eta, rolled=rolled_share > 0.0).reshape(-1, 3), eta, away,
    )  # fmt: skip


def _hung(grid: FloatArray, turn: FloatArray, *, rolled: bool) -> FloatArray:
    """Return the nodes with a roll straight on its stay and each chord at its moulded twist."""
    if not rolled:
        return np.ascontiguousarray(grid)
    luff = grid[:, :1]
    chord = grid[:, -1] - grid[:, 0]
    off = np.arctan2(chord[:, 2], chord[:, 0])
    rows = _turned(grid - luff, (turn - off)[:, None])
    straight = np.zeros_like(luff)
    straight[..., 1] = luff[..., 1]
    return np.ascontiguousarray(straight + rows)


def triangles(rows: int, columns: int, first: int = 0) -> IntArray:
    """Return the node numbers of two triangles a quad, with diagonals that alternate.

    Parameters
    ----------
    rows, columns : int
        Nodes of the grid.
    first : int
        Number of its first node.

    Returns
    -------
    (m, 3) array

    Examples
    --------
    >>> triangles(2, 2).tolist()
    [[0, 1, 2], [1, 3, 2]]
    """
    found = []
    for j in range(rows - 1):
        for i in range(columns - 1):
            a, b = first + j * columns + i, first + j * columns + i + 1
            c, d = a + columns, b + columns
            if (i + j) % 2:
                found += [(a, b, d), (a, d, c)]
            else:
                found += [(a, b, c), (b, d, c)]
    return np.array(found, dtype=np.int64)


def sail_area(nodes: FloatArray, faces: IntArray) -> float:
    """Return the area of the faces [m²].

    Parameters
    ----------
    nodes : (n, 3) array
        [m]
    faces : (m, 3) array
        Node numbers of triangles.

    Returns
    -------
    float
    """
    edges = nodes[faces]
    normal = np.cross(edges[:, 1] - edges[:, 0], edges[:, 2] - edges[:, 0])
    return float(0.5 * np.linalg.norm(normal, axis=1).sum())
