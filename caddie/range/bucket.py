"""Which club and swing the next ball of a range session is for.

First every cell gets its share of the balls, mixed or in blocks. The balls left then go where uncertainty
times usefulness is greatest: uncertainty is half the 95 % interval of the cell's mean against what the
stopping rule asks for, usefulness the ground for which the cell is the player's nearest carry. A cell whose
mean is known well enough gets no more balls (:func:`caddie.range.gapping.well_known`).
Mixed order makes no promise of faster learning: trials in sport found next to none (Czyz et al., Sci. Rep.
14, 2024).
"""

import math
import random
from collections.abc import Sequence
from enum import StrEnum
from statistics import fmean, median, stdev
from typing import Annotated

from pydantic import Field

from caddie.bag.club_names import club_named, swing_named
from caddie.bag.models import Bag, ClubKind, Conditions
from caddie.bag.sand import with_splash_estimates
from caddie.errors import CaddieError
from caddie.range.fit import estimate_carries, with_fit
from caddie.range.gapping import (
    FEWEST_SHOTS,
    KNOWN_M,
    KNOWN_SHARE,
    steady_sd,
    usefulness,
    well_known,
)
from caddie.range.shots import RangeBall
from caddie.situation import Frozen, Strike
from caddie.statistics import mean_interval

MOST_BALLS = 500
DEFAULT_SWINGS = 3
DEFAULT_WEDGES = 3
_FIRST_SHARE = 0.7
_BLOCK = 3
_FAR_OFF = 3.5


class Order(StrEnum):
    """In which order the cells are called."""

    MIXED = "mixed"
    BLOCKED = "blocked"


class Target(Frozen):
    """One cell to be measured, and what is expected of it."""

    club: str
    swing: str
    expected_m: Annotated[float, Field(gt=0)]
    expected_sd_m: Annotated[float, Field(gt=0)]
    useful_m: Annotated[float, Field(ge=0)]
    """Ground for which this cell is the nearest carry."""


class RangePlan(Frozen):
    """A session before its first ball."""

    targets: Annotated[tuple[Target, ...], Field(min_length=1)]
    balls: Annotated[int, Field(ge=1, le=MOST_BALLS)]
    order: Order = Order.MIXED
    seed: int = 1
    handicap: float = 18.0
    conditions: Conditions | None = None
    sand: bool = False
    """All balls are splashed from a practice bunker."""

    @property
    def share(self) -> int:
        """Balls each cell gets before the rest is spent where it helps most."""
        return min(max(int(_FIRST_SHARE * self.balls) // len(self.targets), 1), self.balls)


class Standing(Frozen):
    """What is known of one cell so far."""

    target: Target
    hit: int
    """Balls called for it, mishits included."""
    clean: int
    mean_m: float | None = None
    half_width_m: float | None = None
    """Half the 95 % interval of the mean."""
    known: bool = False


def plan_range(
    bag: Bag,
    balls: int,
    clubs: Sequence[str] = (),
    swings: Sequence[str] = (),
    order: Order = Order.MIXED,
    seed: int = 1,
    conditions: Conditions | None = None,
    sand: bool = False,
) -> RangePlan:
    """A session for the balls at hand, from grass or mats, or out of ``sand``.

    Without ``clubs`` the three most lofted wedges; without ``swings`` the three longest swing lengths.

    Raises:
        CaddieError: for a club or swing that the bag does not have, or fewer balls than cells.
    """
    picked = [_club(bag, name) for name in clubs] or _usual_clubs(bag)
    lengths = [_swing(bag, name) for name in swings] or [
        swing.name for swing in sorted(bag.swings, key=lambda swing: swing.share)[-DEFAULT_SWINGS:]
    ]
    cells = [(club, swing) for club in dict.fromkeys(picked) for swing in dict.fromkeys(lengths)]
    if not 1 <= balls <= MOST_BALLS:
        raise CaddieError(f"--balls {balls}: give 1 to {MOST_BALLS}")
    if balls < len(cells):
        raise CaddieError(
            f"--balls {balls}: fewer balls than the {len(cells)} club and swing pairs; "
            "name fewer with --clubs or --swings"
        )
    fit = estimate_carries(bag, sand=sand)
    # Which cell is nearest to what ground is asked of the whole matrix, estimates and all.
    whole = with_splash_estimates(bag) if sand else with_fit(bag, fit, estimates="all")
    useful = usefulness(whole, sand)
    targets = []
    for club, swing in cells:
        fitted = fit.cell(club, swing)
        if fitted is None:
            reason = (
                "has no carry from grass yet; measure that first" if sand else "cannot be measured on a range"
            )
            raise CaddieError(f"club {club}: {reason}")
        targets.append(
            Target(
                club=club,
                swing=swing,
                expected_m=fitted.carry_m,
                expected_sd_m=fitted.sd_m,
                useful_m=useful.get((club, swing), 0.0),
            )
        )
    return RangePlan(
        targets=tuple(targets),
        balls=balls,
        order=order,
        seed=seed,
        handicap=bag.player.handicap,
        conditions=conditions,
        sand=sand,
    )


def standings(plan: RangePlan, shots: Sequence[RangeBall]) -> tuple[Standing, ...]:
    """What is known of each cell after these shots, in the plan's order."""
    return tuple(
        _standing(target, [s for s in shots if (s.club, s.swing) == (target.club, target.swing)], plan)
        for target in plan.targets
    )


def next_target(plan: RangePlan, shots: Sequence[RangeBall]) -> Target | None:
    """The cell the next ball is for; None when the balls are gone or every cell is known.

    The same shots give the same call, so a session that was cut off goes on where it stood.
    """
    if len(shots) >= plan.balls:
        return None
    open_ = [each for each in standings(plan, shots) if not each.known]
    if not open_:
        return None
    last = (shots[-1].club, shots[-1].swing) if shots else None
    short = [each for each in open_ if each.hit < plan.share]
    if short:
        return (
            _block(short, last) if plan.order is Order.BLOCKED else _mixed(short, last, plan, shots)
        ).target
    run = _run_length(shots)
    if plan.order is Order.BLOCKED and run % _BLOCK:
        same = [each for each in open_ if (each.target.club, each.target.swing) == last]
        if same:
            return same[0].target
    return max(open_, key=_gain).target


def _standing(target: Target, shots: Sequence[RangeBall], plan: RangePlan) -> Standing:
    carries = [
        shot.carry_m for shot in shots if shot.carry_m is not None and shot.strike in (None, Strike.CLEAN)
    ]
    sure = [shot.strike is Strike.CLEAN for shot in shots]
    if len(carries) > 2 and not all(sure):
        middle = median(carries)
        near = _FAR_OFF * max(target.expected_sd_m, 0.03 * middle)
        carries = [carry for carry in carries if abs(carry - middle) <= near]
    if len(carries) < 2:
        return Standing(target=target, hit=len(shots), clean=len(carries), mean_m=_mean(carries))
    mean = fmean(carries)
    sd = steady_sd(stdev(carries), len(carries), mean, plan.handicap, plan.sand)
    low, high = mean_interval(mean, sd, len(carries))
    return Standing(
        target=target,
        hit=len(shots),
        clean=len(carries),
        mean_m=mean,
        half_width_m=(high - low) / 2,
        known=well_known(mean, sd, len(carries)),
    )


def _gain(standing: Standing) -> float:
    """Uncertainty times usefulness: what one more ball there is worth."""
    target = standing.target
    mean = standing.mean_m or target.expected_m
    asked = max(KNOWN_M, KNOWN_SHARE * mean)
    half = standing.half_width_m
    if half is None or standing.clean < FEWEST_SHOTS:
        half = max(half or 0.0, 3.0 * target.expected_sd_m / math.sqrt(standing.clean + 1))
    # Every cell was asked for, so even one that covers no ground of its own keeps a little weight.
    return half / asked * (target.useful_m + 1.0)


def _block(open_: Sequence[Standing], last: tuple[str, str] | None) -> Standing:
    same = [each for each in open_ if (each.target.club, each.target.swing) == last]
    return (same or list(open_))[0]


def _mixed(
    open_: Sequence[Standing], last: tuple[str, str] | None, plan: RangePlan, shots: Sequence[RangeBall]
) -> Standing:
    fewest = min(each.hit for each in open_)
    choice = [each for each in open_ if each.hit == fewest]
    other = [each for each in choice if (each.target.club, each.target.swing) != last]
    return random.Random(f"{plan.seed} {len(shots)}").choice(other or choice)


def _run_length(shots: Sequence[RangeBall]) -> int:
    run = 0
    for shot in reversed(shots):
        if (shot.club, shot.swing) != (shots[-1].club, shots[-1].swing):
            break
        run += 1
    return run


def _mean(carries: Sequence[float]) -> float | None:
    return fmean(carries) if carries else None


def _usual_clubs(bag: Bag) -> list[str]:
    wedges = sorted(
        (club for club in bag.clubs if club.kind is ClubKind.WEDGE), key=lambda club: -club.loft_deg
    )
    if not wedges:
        raise CaddieError("the bag has no wedge: name the clubs with --clubs")
    return [club.id for club in wedges[:DEFAULT_WEDGES]]


def _club(bag: Bag, name: str) -> str:
    found = club_named(bag, name)
    if found is None or found.kind is ClubKind.PUTTER:
        known = ", ".join(club.id for club in bag.clubs if club.kind is not ClubKind.PUTTER)
        raise CaddieError(f"--clubs {name}: the bag has {known}")
    return found.id


def _swing(bag: Bag, name: str) -> str:
    found = swing_named(bag, name)
    if found is None:
        raise CaddieError(f"--swings {name}: the bag has {', '.join(swing.name for swing in bag.swings)}")
    return found.name
