"""The arrays that numbers travel in, and two functions of them whose own first import in numpy is slow.

Below every room, so that the physics and the statistics can share them.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]


def distinct(values: NDArray[Any]) -> NDArray[Any]:
    """The values, ascending and each once.

    >>> distinct(np.array([3, 1, 3])).tolist()
    [1, 3]
    """
    rising = np.sort(values, axis=None)
    return rising[np.concatenate(([True], rising[1:] != rising[:-1]))] if rising.size else rising


def median(values: NDArray[np.float64]) -> float:
    """The middle value, the mean of the middle two; NaN of nothing or where one is NaN.

    >>> median(np.array([4.0, 1.0, 2.0]))
    2.0
    """
    if not values.size or np.isnan(values).any():
        return float("nan")
    low, high = (values.size - 1) // 2, values.size // 2
    part = np.partition(values, (low, high), axis=None)
    return float((part[low] + part[high]) / 2)
