"""What the log says of a hole: how the player's shots to its green ended, with counts and intervals."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from caddie.log.shot import Shot
from caddie.situation import Finish, Lie, Side, Strike
from caddie.statistics import Interval, wilson_interval

FEWEST_ON_A_HOLE = 8
"""Fewer shots say nothing of a hole, and nothing is said: of two of two, all that is known is "more than a third"."""
_TROUBLE = (Finish.BUNKER, Finish.WATER, Finish.TREES, Finish.OUT_OF_BOUNDS)


class HowOften(NamedTuple):
    """How often something happened."""

    what: str
    times: int
    interval: Interval
    """95 % of the share (Wilson)."""


class Misses(NamedTuple):
    """What became of the shots to one green."""

    shots: int
    shares: tuple[HowOften, ...]
    """The commonest first; empty when there are too few shots to say anything."""


def misses_of(shots: Sequence[Shot]) -> Misses:
    """Count how shots to a green ended; putts are none, and a shot may have missed two ways.

    >>> misses_of([]).shares
    ()
    """
    told = [each for each in shots if _tells(each)]
    if len(told) < FEWEST_ON_A_HOLE:
        return Misses(len(told), ())
    found = [
        HowOften(what, count, wilson_interval(count, len(told)))
        for what, count in ((what, sum(is_so(each) for each in told)) for what, is_so in _WAYS.items())
        if count
    ]
    return Misses(len(told), tuple(sorted(found, key=lambda share: -share.times)))


def misses_told(found: Misses) -> str:
    """One line: counts and intervals, or that there are too few shots."""
    if not found.shots:
        return "no shots kept on it yet"
    if not found.shares:
        many = "one shot is" if found.shots == 1 else f"{found.shots} shots are"
        return f"{many} kept on it, too few to say anything: {FEWEST_ON_A_HOLE} begin to"
    shares = [
        f"{share.times} {share.what} ({100 * share.interval.low:.0f} to {100 * share.interval.high:.0f} %)"
        for share in found.shares
    ]
    return f"{found.shots} shots: {', '.join(shares)}"


def _tells(shot: Shot) -> bool:
    result = shot.result
    putt = shot.situation.lie is Lie.GREEN
    return not putt and (result.finish is not None or bool(result.side) or result.strike is not None)


_WAYS: dict[str, Callable[[Shot], bool]] = {
    "on the green": lambda shot: shot.result.finish in (Finish.GREEN, Finish.HOLED),
    "short": lambda shot: Side.SHORT in shot.result.side,
    "long": lambda shot: Side.LONG in shot.result.side,
    "left": lambda shot: Side.LEFT in shot.result.side,
    "right": lambda shot: Side.RIGHT in shot.result.side,
    "in trouble": lambda shot: shot.result.finish in _TROUBLE,
    "heavy": lambda shot: shot.result.strike is Strike.HEAVY,
    "thin": lambda shot: shot.result.strike in (Strike.THIN, Strike.TOPPED),
}
