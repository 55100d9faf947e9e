"""Three putting drills with scores: a pace ladder, a gate on the start line, a ring at three feet.

The drills are the trade's; what a player of the same handicap scores comes from the putting model
(:func:`caddie.plan.putt.skill.skill_for`), so a score says more than a count. Each drill is a value: a putt told
gives the next one.
"""

import math
from enum import StrEnum
from functools import lru_cache
from statistics import NormalDist

from pydantic import Field

from caddie.errors import CaddieError
from caddie.plan.putt.skill import AIM_PAST_M, make_chance, skill_for
from caddie.situation import Frozen
from caddie.statistics import wilson_interval
from caddie.units import FOOT_M, Unit, spoken_length, spoken_number

LADDER_FT = (10, 15, 20, 25, 30, 40, 50)
LADDER_PUTTS = 12
ZONE_M = 3 * FOOT_M
"""A putt is in when it stops level with the mark or so far past it."""
GATE_PUTTS = 10
GATE_AHEAD_M = 0.6
GATE_WIDTH_M = 0.07
BALL_M = 0.0427
RING_M = 3 * FOOT_M
RING_PUTTS = 12

_normal = NormalDist()


class Stopped(StrEnum):
    """Where a putt stopped against the zone past its mark."""

    SHORT = "short"
    IN_ZONE = "in"
    LONG = "long"


class PaceLadder(Frozen):
    """Putts to longer and longer marks: one that is in climbs a rung, any other goes down one.

    A putt in scores its rung's number, from one.
    """

    putts: tuple[Stopped, ...] = ()

    @property
    def over(self) -> bool:
        """Whether every putt has been told."""
        return len(self.putts) >= LADDER_PUTTS

    @property
    def rung(self) -> int:
        """The rung of the next putt, from 0."""
        rung = 0
        for stopped in self.putts:
            rung = _next_rung(rung, stopped is Stopped.IN_ZONE)
        return rung

    @property
    def points(self) -> int:
        """The score so far."""
        rung = points = 0
        for stopped in self.putts:
            inside = stopped is Stopped.IN_ZONE
            points += (rung + 1) if inside else 0
            rung = _next_rung(rung, inside)
        return points

    @property
    def prompt(self) -> str:
        """What to putt at next."""
        length = spoken_length(LADDER_FT[self.rung] * FOOT_M, Unit.FEET)
        return f"{length.capitalize()}: past the mark, within three feet. Short, in or long?"

    @property
    def counted(self) -> str:
        """The score after a putt."""
        return f"{self.points} point{'' if self.points == 1 else 's'}."

    def told(self, stopped: Stopped) -> "PaceLadder":
        """The ladder after a putt that stopped so.

        Raises:
            CaddieError: when the drill is over.
        """
        _playable(self.over, "pace ladder")
        return PaceLadder(putts=(*self.putts, stopped))

    def summary(self, handicap: float) -> str:
        """The score against the handicap's, and which way the misses went."""
        misses = [stopped for stopped in self.putts if stopped is not Stopped.IN_ZONE]
        short = misses.count(Stopped.SHORT)
        text = self.counted
        if self.over:
            text = f"{text[:-1]}; your handicap averages {ladder_points(handicap):.0f}."
        if len(misses) >= 3 and short >= 0.75 * len(misses):
            return f"{text} {short} of {len(misses)} misses were short: roll it a foot longer."
        if len(misses) >= 3 and short <= 0.25 * len(misses):
            return f"{text} {len(misses) - short} of {len(misses)} misses were long: let it die sooner."
        return text


class StartGate(Frozen):
    """A gate just wider than the ball, on a straight putt: it tells the start line from the read."""

    through: tuple[bool, ...] = ()
    ahead_m: float = Field(default=GATE_AHEAD_M, gt=0.1, le=3)
    width_m: float = Field(default=GATE_WIDTH_M, gt=BALL_M, le=0.3)

    @property
    def over(self) -> bool:
        """Whether every putt has been told."""
        return len(self.through) >= GATE_PUTTS

    @property
    def points(self) -> int:
        """Putts through so far."""
        return sum(self.through)

    @property
    def prompt(self) -> str:
        """Which putt is next."""
        return (
            f"Putt {spoken_number(len(self.through) + 1)} of {spoken_number(GATE_PUTTS)}. Through or touched?"
        )

    @property
    def counted(self) -> str:
        """The score after a putt."""
        return f"{self.points} of {len(self.through)} through."

    @property
    def half_angle_rad(self) -> float:
        """How far off line a ball may start and still pass."""
        return math.atan((self.width_m - BALL_M) / 2 / self.ahead_m)

    def told(self, through: bool) -> "StartGate":
        """The drill after one more putt.

        Raises:
            CaddieError: when the drill is over.
        """
        _playable(self.over, "gate")
        return self.model_copy(update={"through": (*self.through, through)})

    def line_sd_rad(self) -> tuple[float, float, float]:
        """SD of the start line, with its 95 % interval: best guess, low, high [rad].

        From the share through (half a putt added to each side, so that ten of ten has a finite answer) and
        its Wilson interval: share = 2 Phi(half angle / SD) - 1.

        Raises:
            CaddieError: when no putt has been told.
        """
        count, passed = len(self.through), sum(self.through)
        if not count:
            raise CaddieError("gate: no putt told yet: say through or touched for each")
        low, high = wilson_interval(passed, count)
        return (
            self._sd_of((passed + 0.5) / (count + 1)),
            self._sd_of(high),
            self._sd_of(low),
        )

    def summary(self, handicap: float) -> str:
        """The score against the handicap's, and the start line it speaks for."""
        sd, low, high = (math.degrees(value) for value in self.line_sd_rad())
        expected = gate_chance(self.half_angle_rad, handicap) * len(self.through)
        widest = f"{high:.1f}" if high < 20 else "any"
        return (
            f"{self.counted[:-1]}; your handicap averages {expected:.0f}. "
            f"Start line within {sd:.1f} degrees two times in three ({low:.1f} to {widest})."
        )

    def _sd_of(self, share: float) -> float:
        share = min(max(share, 1e-6), 1 - 1e-6)
        return self.half_angle_rad / _normal.inv_cdf((1 + share) / 2)


class ThreeFootRing(Frozen):
    """Balls all round the hole at three feet, every slope once."""

    holed: tuple[bool, ...] = ()

    @property
    def over(self) -> bool:
        """Whether the ring has been gone round."""
        return len(self.holed) >= RING_PUTTS

    @property
    def points(self) -> int:
        """Putts holed so far."""
        return sum(self.holed)

    @property
    def counted(self) -> str:
        """The score after a putt."""
        return f"{self.points} of {len(self.holed)} holed."

    @property
    def longest_run(self) -> int:
        """Most holed one after the other."""
        longest = run = 0
        for holed in self.holed:
            run = run + 1 if holed else 0
            longest = max(longest, run)
        return longest

    @property
    def prompt(self) -> str:
        """Where the next ball lies, as on a clock with twelve at the high side."""
        return f"{spoken_number(len(self.holed) % 12 or 12).capitalize()} o'clock, high side at twelve. In or missed?"

    def told(self, holed: bool) -> "ThreeFootRing":
        """The ring after one more putt.

        Raises:
            CaddieError: when the ring has been gone round.
        """
        _playable(self.over, "ring")
        return ThreeFootRing(holed=(*self.holed, holed))

    def missed_at(self) -> tuple[int, ...]:
        """The hours of the clock at which putts were missed."""
        return tuple(i % 12 or 12 for i, holed in enumerate(self.holed) if not holed)

    def summary(self, handicap: float) -> str:
        """The score against the handicap's."""
        made, count = self.points, len(self.holed)
        chance = float(make_chance(RING_M, skill_for(handicap)))
        text = (
            f"{made} of {count} holed, {self.longest_run} in a row; "
            f"your handicap averages {chance * count:.1f}."
        )
        if count and made == count and self.over:
            return f"{text} All round: it would happen once in {1 / chance**count:.0f} tries."
        hours = ", ".join(spoken_number(hour) for hour in self.missed_at())
        return f"{text} Missed at {hours} o'clock." if hours else text


def gate_chance(half_angle_rad: float, handicap: float) -> float:
    """Chance that a player of this handicap starts a putt within the half angle.

    >>> round(gate_chance(0.0228, 14), 2)
    0.58
    """
    return 2 * _normal.cdf(half_angle_rad / skill_for(handicap).angle_sd_rad) - 1


def zone_chance(length_m: float, handicap: float) -> float:
    """Chance of stopping a putt of this length in the ladder's zone, meant for the zone's middle.

    >>> zone_chance(3.0, 5) > zone_chance(12.0, 5) > zone_chance(12.0, 25)
    True
    """
    sd_m = skill_for(handicap).distance_sd * (length_m + AIM_PAST_M)
    return 2 * _normal.cdf(0.5 * ZONE_M / sd_m) - 1


@lru_cache(maxsize=32)
def ladder_points(handicap: float) -> float:
    """Mean points of the pace ladder at this handicap, over all its ways up and down."""
    chance = [zone_chance(feet * FOOT_M, handicap) for feet in LADDER_FT]
    worth = [0.0] * len(LADDER_FT)
    for _ in range(LADDER_PUTTS):
        worth = [
            p * (rung + 1 + worth[_next_rung(rung, True)]) + (1 - p) * worth[_next_rung(rung, False)]
            for rung, p in enumerate(chance)
        ]
    return worth[0]


def _next_rung(rung: int, inside: bool) -> int:
    return min(rung + 1, len(LADDER_FT) - 1) if inside else max(rung - 1, 0)


def _playable(over: bool, drill: str) -> None:
    if over:
        raise CaddieError(f"the {drill} is over: start a new one")
