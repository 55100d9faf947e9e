"""What trouble near by does to the player's nerve: quitting on the shot and rushing it."""

import math
from collections.abc import Iterable

from caddie.bag.models import Miss
from caddie.log.shot import Commitment, Shot
from caddie.log.table import Table, table_of
from caddie.situation import Frozen
from caddie.statistics import Interval, wilson_interval


class Nerve(Frozen):
    """How often one kind of wavering was reported with trouble near by and without."""

    miss: Miss
    near: int
    """Reports with sand, water, trees or out of bounds near by."""
    near_shots: int
    clear: int
    clear_shots: int
    more: float
    """How much more often near trouble, as a difference of shares."""
    low: float
    high: float
    """95 % interval of ``more``."""

    @property
    def under_pressure(self) -> bool:
        """Whether trouble brings it out, with 95 % confidence."""
        return self.low > 0


def nerve(shots: Iterable[Shot] | Table) -> tuple[Nerve, ...]:
    """Quitting and rushing near trouble against clear ground; what trouble brings out most comes first.

    Shots from off the green with any word of their result count; one without a report of quitting or rushing
    counts as gone through with.
    """
    table = shots if isinstance(shots, Table) else table_of(shots)
    counts = table.told & ~table.putt
    found = []
    for miss, report in ((Miss.QUIT, Commitment.QUIT), (Miss.RUSH, Commitment.RUSH)):
        reported = table.is_commitment(report)
        near, clear = counts & table.trouble, counts & ~table.trouble
        numbers = [int(part.sum()) for part in (near & reported, near, clear & reported, clear)]
        shares = [numbers[i] / numbers[i + 1] if numbers[i + 1] else 0.0 for i in (0, 2)]
        interval = difference_interval(*numbers)
        found.append(
            Nerve(
                miss=miss,
                near=numbers[0],
                near_shots=numbers[1],
                clear=numbers[2],
                clear_shots=numbers[3],
                more=shares[0] - shares[1],
                low=interval.low,
                high=interval.high,
            )
        )
    return tuple(sorted(found, key=lambda nerve: -nerve.more))


def difference_interval(first: int, first_n: int, second: int, second_n: int) -> Interval:
    """95 % interval of the difference of two shares, first less second.

    The hybrid score interval from the two Wilson intervals (R. Newcombe, *Stat. Med.* 17, 873-890, 1998,
    method 10, from memory). No trials on a side give that side's share the interval (0, 1).

    >>> [round(end, 4) for end in difference_interval(56, 70, 48, 80)]
    [0.0524, 0.3339]
    """
    one, two = wilson_interval(first, first_n), wilson_interval(second, second_n)
    p = first / first_n if first_n else 0.5
    q = second / second_n if second_n else 0.5
    return Interval(
        p - q - math.hypot(p - one.low, two.high - q), p - q + math.hypot(one.high - p, q - two.low)
    )
