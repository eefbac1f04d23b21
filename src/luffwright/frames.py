r"""Axes and signs, in one place.

Boat frame, fixed to the hull; origin on the waterline below the mast's front face::

            z up the mast                     seen from astern, wind from starboard
            |                                 (the boat heels to leeward, to port):
            |   x forward
            |  /                               z boat \     | z level
            | /                                        \phi |            wind
      y ----o                                 y level __\___|            <----
     to port = to leeward                       y boat  /

Level frame: same origin and same x, turned about x so that z is the true vertical. The whole of the
program is solved with the wind from starboard, so leeward is +y; the other tack is `mirror`.

Positive: heel phi to leeward (the mast leans to +y), leeway lambda to leeward (the boat drifts to
+y), angles of the wind from the bow over the starboard side.
"""

from __future__ import annotations

import numpy as np

from luffwright.arrays import FloatArray


def heel_rotation(heel: float) -> FloatArray:
    r"""Return the matrix that takes a column vector from the boat frame to the level frame.

    .. math:: \mathbf R = \begin{pmatrix} 1 & 0 & 0 \\
        0 & \cos\varphi & \sin\varphi \\ 0 & -\sin\varphi & \cos\varphi \end{pmatrix}

    Parameters
    ----------
    heel : float
        To leeward, :math:`\varphi`. [rad]

    Returns
    -------
    (3, 3) array
        Its third row is the true vertical seen from the boat. [-]

    Examples
    --------
    On its beam ends the boat's masthead lies to leeward:

    >>> (heel_rotation(np.pi / 2) @ np.array([0.0, 0.0, 1.0])).round(9) + 0.0
    array([0., 1., 0.])
    """
    cosine, sine = np.cos(heel), np.sin(heel)
    return np.array([[1.0, 0.0, 0.0], [0.0, cosine, sine], [0.0, -sine, cosine]])


def cross(one: FloatArray, two: FloatArray) -> FloatArray:
    """Return the vector products of vectors along the last axis.

    NumPy's own takes four times as long over the few vectors of a sail, and is called a hundred
    times a flight.

    Parameters
    ----------
    one, two : (..., 3) array
        Of shapes that fit together. [any]

    Returns
    -------
    (..., 3) array
        [product of both]

    Examples
    --------
    >>> cross(np.array([1.0, 0.0, 0.0]), np.array([[0.0, 2.0, 0.0], [0.0, 0.0, 3.0]]))
    array([[ 0.,  0.,  2.],
           [ 0., -3.,  0.]])
    """
    ax, ay, az = one[..., 0], one[..., 1], one[..., 2]
    bx, by, bz = two[..., 0], two[..., 1], two[..., 2]
    first = ay * bz - az * by
    out = np.empty((*first.shape, 3))
    out[..., 0] = first
    out[..., 1] = az * bx - ax * bz
    out[..., 2] = ax * by - ay * bx
    return out


def to_level(vectors: FloatArray, heel: float) -> FloatArray:
    r"""Return points or vectors of the boat frame in the level frame.

    .. math:: z_\mathrm{level} = z \cos\varphi - y \sin\varphi

    Parameters
    ----------
    vectors : (..., 3) array
        Frame: boat. [any unit]
    heel : float
        To leeward, :math:`\varphi`. [rad]

    Returns
    -------
    (..., 3) array
        Frame: level. [the unit given]

    Examples
    --------
    A point 2 m to leeward at deck level goes down by 1 m at 30° of heel:

    >>> to_level(np.array([0.0, 2.0, 0.0]), np.pi / 6).round(3)
    array([ 0.   ,  1.732, -1.   ])
    """
    return vectors @ heel_rotation(heel).T


def to_boat(vectors: FloatArray, heel: float) -> FloatArray:
    """Return points or vectors of the level frame in the boat frame.

    Parameters
    ----------
    vectors : (..., 3) array
        Frame: level. [any unit]
    heel : float
        To leeward. [rad]

    Returns
    -------
    (..., 3) array
        Frame: boat. [the unit given]

    Examples
    --------
    A level wind runs up the mast of a boat heeled away from it:

    >>> to_boat(np.array([0.0, 2.0, 0.0]), np.pi / 6).round(3)
    array([0.   , 1.732, 1.   ])
    """
    return vectors @ heel_rotation(heel)


def mirror(points: FloatArray) -> FloatArray:
    """Return points or vectors with port and starboard exchanged.

    Parameters
    ----------
    points : (..., 3) array
        In either frame. [any unit]

    Returns
    -------
    (..., 3) array
        A new array. [the unit given]

    Notes
    -----
    Holds for places, velocities and forces. A moment or a rate of turn mirrors the other way: its
    x and z change sign, its y stays.

    Examples
    --------
    >>> mirror(np.array([1.0, 2.0, 3.0]))
    array([ 1., -2.,  3.])
    """
    return points * np.array([1.0, -1.0, 1.0])


def air_velocity(
    true_wind: float, true_wind_angle: float, speed: float, leeway: float
) -> FloatArray:
    r"""Return the air's velocity past the boat: true wind less the boat's own motion.

    .. math:: \mathbf v = \left(-W\cos\beta - V\cos\lambda,\; W\sin\beta - V\sin\lambda,\; 0\right)

    Parameters
    ----------
    true_wind : float
        Over the water, :math:`W`. [m/s]
    true_wind_angle : float
        From the bow to where it comes from, over the starboard side, :math:`\beta`. [rad]
    speed : float
        Through the water, along the track, :math:`V`. [m/s]
    leeway : float
        Of the track from the bow, to leeward, :math:`\lambda`. [rad]

    Returns
    -------
    (3,) array
        Frame: level. [m/s]

    Examples
    --------
    Six metres a second on the beam at 3 m/s, no leeway:

    >>> air_velocity(6.0, np.pi / 2, 3.0, 0.0).round(9)
    array([-3.,  6.,  0.])
    """
    ahead = -true_wind * np.cos(true_wind_angle) - speed * np.cos(leeway)
    across = true_wind * np.sin(true_wind_angle) - speed * np.sin(leeway)
    return np.array([ahead, across, 0.0])


def apparent(
    true_wind: float, true_wind_angle: float, speed: float, leeway: float
) -> tuple[float, float]:
    """Return speed and angle of the apparent wind.

    Parameters
    ----------
    true_wind : float
        Over the water. [m/s]
    true_wind_angle : float
        From the bow, over the starboard side. [rad]
    speed : float
        Through the water, along the track. [m/s]
    leeway : float
        To leeward. [rad]

    Returns
    -------
    speed : float
        In the level plane. [m/s]
    angle : float
        From the bow to where it comes from, over the starboard side, −π to π. [rad]

    Examples
    --------
    True wind of 4 m/s on the beam at 3 m/s, the sides of a triangle of 3, 4 and 5:

    >>> strength, angle = apparent(4.0, np.pi / 2, 3.0, 0.0)
    >>> round(strength, 9), round(float(np.tan(angle)), 9)
    (5.0, 1.333333333)
    """
    ahead, across, _ = air_velocity(true_wind, true_wind_angle, speed, leeway)
    return float(np.hypot(ahead, across)), float(np.arctan2(across, -ahead))
