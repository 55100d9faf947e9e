"""What a part of the benchmark hands back: rows of figures, and the ways to make them."""

import statistics
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from caddie.statistics import wilson_interval


@dataclass(frozen=True)
class Row:
    """One figure."""

    name: str
    figure: float
    unit: str
    count: int
    """How many it is of."""
    of: str
    """What was counted: "runs", "sentences"."""
    spread: str = ""
    """How much it varies, or how sure it is."""


@dataclass(frozen=True)
class Size:
    """How much to measure."""

    quick: bool = False
    clips: int = 20
    """Sentences of each kind that a robotic voice speaks; the neural voice speaks twice as many."""

    def take(self, full: int, quick: int) -> int:
        return quick if self.quick else full


@dataclass(frozen=True)
class Part:
    """One part of the benchmark: the names of its rows, and what measures them."""

    names: tuple[str, ...]
    measure: Callable[[Size], list[Row]]


def times_row(name: str, times: Sequence[float], unit: str, of: str) -> Row:
    """The median of times, with the 95th percentile, or with the slowest where there are fewer than 20."""
    if len(times) < 20:
        spread = f"slowest {shown(max(times))}"
    else:
        spread = f"95th percentile {shown(float(np.quantile(times, 0.95)))}"
    return Row(name, statistics.median(times), unit, len(times), of, spread)


def values_row(name: str, values: Sequence[float], unit: str, of: str) -> Row:
    """The median of values with their smallest and largest."""
    return Row(
        name,
        statistics.median(values),
        unit,
        len(values),
        of,
        f"{shown(min(values))} to {shown(max(values))}",
    )


def share_row(name: str, right: int, count: int, of: str) -> Row:
    """A share in percent with its 95 % Wilson interval; of nothing it is not a number."""
    low, high = wilson_interval(right, count)
    share = 100 * right / count if count else float("nan")
    return Row(name, share, "%", count, of, f"95 % {100 * low:.1f} to {100 * high:.1f}")


def wall_ms(work: Callable[[], object]) -> float:
    begun = time.perf_counter()
    work()
    return (time.perf_counter() - begun) * 1e3


def busy_ms(work: Callable[[], object]) -> float:
    """Processor time: what else the machine does does not count, and work of threads does."""
    begun = time.process_time()
    work()
    return (time.process_time() - begun) * 1e3


def shown(value: float) -> str:
    """Three digits, more where the whole part has them."""
    if value != value:
        return "–"
    return f"{value:,.0f}" if abs(value) >= 100 else f"{value:.3g}"
