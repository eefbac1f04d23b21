"""A strip that the wind meets from its leech: a plate in dead air, pushed square to itself.

The lattice lets the air leave at the leech. Where the wind comes from there, no circulation holds:
both edges shed, and what is left is the normal force of a plate, from a right angle on to wind
straight along the cloth.
"""

from __future__ import annotations

import numpy as np

from luffwright.air.stall import plate_force
from luffwright.arrays import FloatArray
from luffwright.frames import cross

LEAVES_LEECH = 0.35
"""Cosine of the wind's angle to the chord, from luff to leech, above which the air leaves at the
leech; at nought it leaves over both edges. Between them the one is blended into the other: a plate
at 70 to 90 degrees has little lift left in either."""
SKIN_DRAG = 0.010


def from_leech(along: FloatArray) -> FloatArray:
    """Return the share of a strip's force that is a plate's whose both edges shed.

    Parameters
    ----------
    along : array
        Cosine of the wind's angle to the chord, luff to leech. [-]

    Returns
    -------
    array
        0 to 1. [-]

    Examples
    --------
    >>> from_leech(np.array([0.9, 0.175, -0.5])).round(2)
    array([0. , 0.5, 1. ])
    """
    x = np.clip(along / LEAVES_LEECH, 0.0, 1.0)
    return 1.0 - x * x * (3.0 - 2.0 * x)


def plate_load(chord: FloatArray, span: FloatArray, stream: FloatArray) -> FloatArray:
    """Return the load of plates that the wind meets from their leech, by area and density.

    Parameters
    ----------
    chord, span : (s, 3) array
        Vectors from luff to leech, and unit ones along the span. [m], [-]
    stream : (s, 3) array
        Onset. [m/s]

    Returns
    -------
    (s, 3) array
        Half its speed squared times the coefficients of the force. [m²/s²]

    Notes
    -----
    The circulation of a sail whose air leaves at the leech would lift the other way there: carried
    through a right angle, it pulls the sail up into the wind that blows on its back.

    References
    ----------
    .. [1] Hoerner, *Fluid-Dynamic Drag*, 1965, chapter 3, as in `stall.plate_force`.

    Examples
    --------
    Wind of 1 m/s straight on a plate: half of 1.2 for its drag and of 0.01 for its skin, as far as
    its both edges shed.

    >>> (
    ...     plate_load(
    ...         np.array([[0.0, 1.0, 0.0]]),
    ...         np.array([[0.0, 0.0, 1.0]]),
    ...         np.array([[1.0, 0.0, 0.0]]),
    ...     ).round(3)
    ...     + 0.0
    ... )
    array([[0.605, 0.   , 0.   ]])
    """
    flat = stream - np.sum(stream * span, axis=1)[:, None] * span
    speed = np.maximum(np.linalg.norm(flat, axis=1), 1e-6)[:, None]
    axis = cross(cross(span, chord), span)
    axis /= np.maximum(np.linalg.norm(axis, axis=1), 1e-9)[:, None]
    normal = cross(axis, span)
    sine = np.sum(normal * flat, axis=1)[:, None] / speed
    share = from_leech(np.sum(axis * flat, axis=1)[:, None] / speed)
    force = plate_force(sine) * normal + SKIN_DRAG * flat / speed
    return np.asarray(0.5 * share * speed**2 * force)


def plate_load_slopes(chord: FloatArray, span: FloatArray, stream: FloatArray) -> FloatArray:
    """Return how `plate_load` changes with the chord.

    Parameters
    ----------
    chord, span, stream : (s, 3) array
        As in `plate_load`. [m], [-], [m/s]

    Returns
    -------
    (s, 3, 3) array
        Component of the load by component of the chord. [m/s²]
    """
    step = 1e-5 * np.linalg.norm(chord, axis=1)[:, None]
    out = np.zeros((len(chord), 3, 3))
    for axis in range(3):
        more = step * np.eye(3)[axis]
        ahead, behind = (plate_load(chord + s * more, span, stream) for s in (1.0, -1.0))
        out[:, :, axis] = (ahead - behind) / (2.0 * step)
    return out
