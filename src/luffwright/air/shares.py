"""How the load of each vortex of a chord is shared by the two nodes beside it.

A vortex at a quarter of a panel stands for the load on the whole of it. What the cloth feels are
the loads of its nodes, the pressure weighed with a hat that falls to the neighbours. By the lever,
three quarters and a quarter, they come out to the second power of the panel wherever the pressure
is smooth. It is not at the edges: there it grows as one over the root of the distance from the
luff and falls with the root of that from the leech. For both the vortices of an endless row of
panels are known in closed form, and the shares here make every node's load the exact one.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from scipy.special import gammaln

from luffwright.arrays import FloatArray

LUFF, LEECH = -0.5, 0.5
"""Power of the distance with which pressure goes at the edge that leads and at the one behind."""


def hats(power: float, count: int) -> FloatArray:
    r"""Return what each of the first nodes of an endless chord feels of a pressure
    :math:`x^p`.

    .. math:: L_j = \int x^p \max(0, 1 - |x - j|)\,dx

    Parameters
    ----------
    power : float
        :math:`p > -1`. [-]
    count : int
        Number of nodes, the edge's first.

    Returns
    -------
    (count,) array

    Examples
    --------
    >>> hats(-0.5, 1).round(4)  # 4/3
    array([1.3333])
    """
    x = np.arange(count + 1, dtype=np.float64)
    whole, moment = np.diff(x ** (power + 1.0)) / (power + 1.0), np.diff(x ** (power + 2.0))
    moment /= power + 2.0
    falls = (x[:-1] + 1.0) * whole - moment
    rises = moment - x[:-1] * whole
    return np.asarray(falls + np.append(0.0, rises[:-1]))


def lumps(power: float, count: int) -> FloatArray:
    r"""Return the vortices of the first panels of an endless chord under a pressure :math:`x^p`.

    .. math:: \Gamma_k = \frac{\Gamma(k + p + 1)}{\Gamma(k + 1)}, \qquad p = \pm\tfrac12

    with the vortex a quarter of a panel behind the luff, or three quarters before the leech.

    Parameters
    ----------
    power : float
        `LUFF` or `LEECH`. [-]
    count : int
        Number of panels.

    Returns
    -------
    (count,) array

    References
    ----------
    .. [1] James, *On the remarkable accuracy of the vortex lattice method*, Computer Methods in
       Applied Mechanics and Engineering 1, 1972 (from memory; the test puts it into the sums).

    Examples
    --------
    >>> lumps(LUFF, 2).round(4)
    array([1.7725, 0.8862])
    """
    k = np.arange(count)
    return np.asarray(np.exp(gammaln(k + power + 1.0) - gammaln(k + 1.0)))


def kept(power: float, count: int) -> FloatArray:
    """Return the share of each vortex that the node on the edge's side of it carries.

    Parameters
    ----------
    power : float
        `LUFF` or `LEECH`. [-]
    count : int
        Number of vortices, from the edge inwards.

    Returns
    -------
    (count,) array
        [-]

    Examples
    --------
    >>> kept(LUFF, 3).round(4), kept(LEECH, 3).round(4)
    (array([0.7523, 0.7509, 0.7497]), array([0.3009, 0.2675, 0.2605]))
    """
    passed, out = 0.0, np.empty(count)
    for k, (load, vortex) in enumerate(zip(hats(power, count), lumps(power, count), strict=True)):
        out[k] = (load - passed) / vortex
        passed = (1.0 - out[k]) * vortex
    return out


@cache
def shares(panels: int) -> FloatArray:
    """Return the shares of a chord's nodes in the loads at its vortex corners.

    The first half as from the luff, the other half as from the leech; what stands at the leech
    itself is carried there.

    Parameters
    ----------
    panels : int
        Along the chord.

    Returns
    -------
    (panels + 1, panels + 1) array
        Of each corner, luff to leech and the leech itself, on each node. [-]

    Notes
    -----
    The lift of a stretched cloth in the wind then differs by 0.1, 0.1 and 1.3 % from that of the
    sail equation at 7 panels and λ of 1, 1.5 and 2. With the four nodes of the smooth curve it
    was 2, 6 and 31 %: the loads of the panels at the edges went to and fro.

    Examples
    --------
    >>> shares(2).round(2)
    array([[0.75, 0.25, 0.  ],
           [0.  , 0.7 , 0.3 ],
           [0.  , 0.  , 1.  ]])
    """
    ahead = panels // 2
    before = np.append(
        kept(LUFF, panels)[:ahead], 1.0 - kept(LEECH, panels)[: panels - ahead][::-1]
    )
    out = np.zeros((panels + 1, panels + 1))
    place = np.arange(panels)
    out[place, place], out[place, place + 1], out[panels, panels] = before, 1.0 - before, 1.0
    return out
