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


@dataclass(frozen=True, eq=False)
class Moulded:
    """Nodes of the moulded sail, (rows · columns, 3) in the sail frame [m], with the tack's height
    along the luff line when part of the sail is rolled or reefed away; `fibre` the warp there.
    """

    nodes: FloatArray
    rows: int
    columns: int
    tack_height: float
    fibre: FloatArray

    @property
    def grid(self) -> FloatArray:
        """Return the nodes as (rows, columns, 3)."""
        return self.nodes.reshape(self.rows, self.columns, 3)


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

    Taking a strip parallel to one side off a triangle leaves a similar triangle.

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


@lru_cache(maxsize=64)
def moulded(
    cut: SailCut, rows: int, columns: int, *, rolled_share: float = 0.0, reef_from: float = 0.0
) -> Moulded:
    """Return the nodes of the moulded surface.

    Parameters
    ----------
    cut : SailCut
    rows, columns : int
        Nodes from foot to head and from luff to leech.
    rolled_share : float
        Share of the width rolled away at the luff. [-]
    reef_from : float
        Share of the luff below which the sail is tied down. [-]

    Returns
    -------
    Moulded
    """
    cut, tack_height = rolled(cut, rolled_share)
    eta = np.linspace(reef_from, 1.0, rows)[:, None]
    share = np.linspace(0.0, 1.0, columns)[None, :]
    bow = 4.0 * eta * (1.0 - eta)
    clew = np.array(clew_place(cut))
    head = np.array([cut.head_width, cut.luff])
    side = (head - clew) / np.linalg.norm(head - clew)
    outward = np.array([side[1], -side[0]])
    luff = np.stack([cut.luff_curve * cut.luff * bow, cut.luff * eta], axis=-1)
    leech = clew + eta[..., None] * (head - clew) + cut.leech_curve * bow[..., None] * outward
    flat = luff + share[..., None] * (leech - luff)
    sink = cut.foot_curve * 4.0 * share * (1.0 - share) * np.clip(1.0 - 4.0 * eta, 0.0, 1.0)
    if reef_from > 0.0:
        sink = 0.0 * sink
    chord = np.linalg.norm(leech - luff, axis=-1)
    camber, draft = _through_quarters(cut.camber, eta), _through_quarters(cut.draft, eta)
    depth = camber_line(share, camber, draft) * chord
    turn = cut.twist * (eta - reef_from)
    along = flat[..., 0] - luff[..., 0]
    nodes = np.stack(
        [
            luff[..., 0] + along * np.cos(turn) - depth * np.sin(turn),
            flat[..., 1] - sink - luff[0, 0, 1],
            along * np.sin(turn) + depth * np.cos(turn),
        ],
        axis=-1,
    )
    warp = np.broadcast_to(
        np.stack(
            [outward[0] * np.cos(turn), outward[1] + 0.0 * turn, outward[0] * np.sin(turn)], axis=-1
        ),
        nodes.shape,
    )
    return Moulded(
        np.ascontiguousarray(nodes.reshape(-1, 3)), rows, columns, tack_height,
        np.ascontiguousarray(warp.reshape(-1, 3)),
    )  # fmt: skip


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
