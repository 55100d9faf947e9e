"""The nearest figures that rise with the swing and fall with the loft."""

import numpy as np

from caddie.arrays import Floats

_ROUNDS = 500
_ACCURACY = 1e-7


def rising(values: Floats, weights: Floats) -> Floats:
    """The non-decreasing sequence nearest to ``values`` in weighted squares, both of shape (n,).

    Pool adjacent violators (Ayer, Brunk, Ewing, Reid & Silverman, Ann. Math. Stat. 26, 641, 1955).

    >>> rising(np.array([1.0, 3.0, 2.0]), np.ones(3)).tolist()
    [1.0, 2.5, 2.5]
    """
    means: list[float] = []
    masses: list[float] = []
    sizes: list[int] = []
    for value, weight in zip(values.tolist(), weights.tolist(), strict=True):
        size = 1
        while means and means[-1] > value:
            mass = masses.pop()
            value = (means.pop() * mass + value * weight) / (mass + weight)
            weight += mass
            size += sizes.pop()
        means.append(value)
        masses.append(weight)
        sizes.append(size)
    return np.repeat(means, sizes)


def rising_both_ways(values: Floats, weights: Floats) -> Floats:
    """The table nearest to ``values`` (n, m) that does not fall along rows or down columns.

    Dykstra's alternating projections between the two orders (R. L. Dykstra & T. Robertson, Ann. Stat. 10,
    708, 1982).
    """
    table = values.copy()
    if (np.diff(table, axis=1) >= 0).all() and (np.diff(table, axis=0) >= 0).all():
        return table
    along, down = np.zeros_like(values), np.zeros_like(values)
    for _ in range(_ROUNDS):
        before = table
        start = table - along
        table = np.array([rising(row, mass) for row, mass in zip(start, weights, strict=True)])
        along = table - start
        start = table - down
        table = np.array([rising(row, mass) for row, mass in zip(start.T, weights.T, strict=True)]).T
        down = table - start
        if np.abs(table - before).max() < _ACCURACY:
            break
    return table
