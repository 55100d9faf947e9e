"""Against numpy's own functions, to the last digit."""

import numpy as np
import pytest

from caddie.arrays import distinct, median


def drawn(size: int) -> np.ndarray:
    return np.random.default_rng(size).normal(size=size).round(1)


@pytest.mark.parametrize("size", [0, 1, 2, 3, 8, 501])
def test_distinct_values(size):
    for values in (drawn(size), drawn(size).astype(int), drawn(size).reshape(-1, 1)):
        found = distinct(values)
        np.testing.assert_array_equal(found, np.unique(values))
        assert found.dtype == values.dtype


@pytest.mark.parametrize("size", [1, 2, 3, 8, 501, 3000])
def test_median(size):
    values = np.random.default_rng(size).normal(size=size)
    before = values.copy()
    assert median(values) == np.median(values)
    np.testing.assert_array_equal(values, before)


def test_median_of_nothing_and_of_what_is_no_number():
    assert np.isnan(median(np.array([])))
    assert np.isnan(median(np.array([1.0, np.nan, 2.0])))
