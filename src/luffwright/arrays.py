"""Array types used in every room, and compiled laws applied to arrays of any shape."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]


def each(
    kernel: Callable[..., FloatArray], *values: ArrayLike, given: tuple[FloatArray, ...] = ()
) -> FloatArray:
    """Return a compiled law at each entry of arrays that are broadcast against each other.

    Parameters
    ----------
    kernel : callable
        From flat arrays of one length n, and what is given whole, to (n,) or (m, n) values.
    values : array
        [any]
    given : tuple, optional
        Further arguments, handed on as they are.

    Returns
    -------
    (...) or (m, ...) array
        In the shape of the values.

    Examples
    --------
    >>> each(lambda a, b: a + b, np.ones((2, 1)), 2.0).shape
    (2, 1)
    """
    arrays = [np.asarray(value, dtype=float) for value in values]
    shape = arrays[0].shape
    if any(array.shape != shape for array in arrays):
        arrays = [np.array(array) for array in np.broadcast_arrays(*arrays)]
        shape = arrays[0].shape
    found = kernel(*(np.ascontiguousarray(array).ravel() for array in arrays), *given)
    shaped: FloatArray = found.reshape((*found.shape[:-1], *shape))[()]
    return shaped
