"""The shot the player trusts: how much each is trusted, and when it wins over the best by numbers."""

import numpy as np

from caddie.bag import Bag, Family
from caddie.ball.launch import Flight
from caddie.plan.launches import Rows
from caddie.plan.option import Option
from caddie.plan.prefer import MOST_GIVEN, MOST_GIVEN_IN_GRASS, beside_m, counts_on_being_caught, liked_less
from caddie.plan.swings import JUST_WITHIN
from caddie.situation import IN_SAND, Lie, Situation
from caddie.units import FOOT_M, YARD_M

# How much a shot is trusted, 0 to 1.
UNSAID_TRUST = 0.5
"""In a kind of shot that the bag says nothing about."""
NOT_OWNED = 0.8
"""In a swing or flight that was never measured, as a share of the trust in a measured one."""
ABOUT_OWNED = 0.9
"""In a swing just short of a measured one or just past it, as such a share."""
BY_FEEL = (Family.PUTT, Family.CHIP, Family.BUMP_AND_RUN, Family.LOB)
"""Kinds of shot that are played by feel and need no measuring (common practice, no source)."""
FEEL_CARRY_M = 20.0
"""A running shot that flies farther is struck by its length and not by feel (common practice, no source)."""

# When a trusted shot wins over the best by numbers: it is trusted more than by so much ...
CLEARLY_MORE = 0.1
LITTLE_MORE = 0.05
"""Enough when the two are as good by numbers."""
ROUNDING = 1e-6
AS_GOOD = 0.03
"""Strokes: two that differ by less are as good by numbers."""
SOBER_TROUBLE = 0.5
"""A lay-up or a way out finds trouble no oftener than this share of the times that the best shot by numbers does."""
DRY_WORTH = 3.0
"""Strokes that a chance of trouble is worth in a lay-up beyond what the numbers say: it is played to have none (common
practice, no source)."""
# ... and it fits. A teacher lets a pupil play the favourite shot where it fits, not where it only scores nearly
# as well because every shot from there is poor (common practice, no source).
MORE_TROUBLE = 0.04
"""How much oftener it may find trouble."""
LESS_GREEN, LESS_GREEN_CAUGHT = 0.08, 0.16
"""How much seldomer it may finish on the green, as a share of the best one's chance; beside one from thick
grass that counts on being caught, so much more."""
LESS_GREEN_SAME = 0.05
"""Or by no more than this, where neither does so often."""
MORE_LEAVE, SAFER_LEAVE = 1.25, 1.5
"""How many times as far it may usually leave the ball, and :data:`LEAVE_SAME_M` more; farther where it finds trouble
clearly seldomer."""
LEAVE_SAME_M = FOOT_M
LIKED_ALIKE = 0.015
"""How much less a teacher may like a trusted shot [strokes]."""
MEASURED_WORTH = 0.04
"""Strokes: having measured a swing is worth no more; the player's margin is for the kind of shot that is trusted."""
MORE_BESIDE_M = 3 * YARD_M
"""How much farther from the flag it may finish as meant."""
BESIDE_WORTH = 0.004
"""Strokes that a metre nearer the flag is worth between two that are trusted alike."""
# Out of sand the first duty is to get out (common practice, no source).
STAYS_OFTEN = 0.2
"""A ball that stays in the sand so often makes one look for a surer way."""
STAYS_MOSTLY, MOST_FOR_OUT = 0.24, 0.15
"""One that stays there one time in four is given up for a surer way that costs up to so many strokes."""
CLEARLY_SURER = 0.06
"""How much oftener a surer way gets out, and stays out of all trouble."""
# A shot that finds trouble about as often as not is given up for a safe one that costs little (common practice, no
# source).
AS_LIKELY_AS_NOT, MOST_FOR_SAFE = 0.45, 0.45
OFFERED = 0.5
"""Strokes: a safe way that costs more is not spoken of beside the shot."""
OUT_WORTH = 0.8
"""Strokes that a chance of getting out is worth beyond what the numbers say."""


def trust_in(family: Family, bag: Bag, practised: float = 1.0) -> float:
    """How much the player trusts a shot of this kind, of which a share is left when it was never measured."""
    return bag.trust.get(family, UNSAID_TRUST) * practised


def practised(family: Family, rows: Rows, row: int, share: float, bag: Bag) -> float:
    """Share of the trust that is left to this swing: 1 where it was measured or is played by feel.

    Carries are measured with the stock flight from grass; out of sand only a measured splash counts, and
    where no splash was measured all are alike.
    """
    curve = rows.curve_of(row)
    felt = family in BY_FEEL and not (
        family is Family.BUMP_AND_RUN and float(curve.carry_at(np.array(share))) > FEEL_CARRY_M
    )
    if felt or (family is Family.SPLASH and not any(club.splash for club in bag.clubs)):
        return 1.0
    measured_so = (
        curve.lie is Lie.BUNKER if family is Family.SPLASH else rows.kinds[row].flight is Flight.STOCK
    )
    if not measured_so:
        return NOT_OWNED
    if bool(curve.owned(np.array(share))):
        return 1.0
    return ABOUT_OWNED if curve.gap(share) <= JUST_WITHIN else NOT_OWNED


def chosen_of(options: tuple[Option, ...], margin: float, situation: Situation) -> Option:
    """The lay-up or the way out sideways where it is the sober choice, else the shot that is trusted.

    Where that one often stays in the sand, a surer way out is played that costs less than the player's margin.
    """
    chosen = sober(options, margin) or trusted(options, margin, situation)
    if chosen.in_trouble >= AS_LIKELY_AS_NOT:
        chosen = sober(options, max(margin, MOST_FOR_SAFE)) or chosen
    if chosen.lay_up:
        chosen = driest([option for option in options if option.lay_up], margin)
    return surer_out(chosen, options, margin, situation) if situation.lie in IN_SAND else chosen


def surer_out(chosen: Option, options: tuple[Option, ...], margin: float, situation: Situation) -> Option:
    """The shot, or in place of one that often stays in the sand one that gets out clearly oftener for little."""
    if chosen.sideways or stays_in(chosen) < STAYS_OFTEN:
        return chosen
    most = max(margin, MOST_FOR_OUT) if stays_in(chosen) >= STAYS_MOSTLY else margin
    near = [option for option in options if option.rank_score < chosen.rank_score + most]
    surer = [
        option
        for option in near
        if not option.sideways
        and stays_in(option) <= stays_in(chosen) - CLEARLY_SURER
        and sum(option.trouble.values()) <= sum(chosen.trouble.values()) - CLEARLY_SURER
    ]
    return min(
        [chosen, *surer],
        key=lambda option: option.rank_score + OUT_WORTH * stays_in(option) + liked_less(option, situation),
    )


def stays_in(option: Option) -> float:
    """The chance that a ball in the sand stays there."""
    return option.trouble.get("sand", 0.0)


def sober(options: tuple[Option, ...], margin: float) -> Option | None:
    """A lay-up, or the way out sideways, that loses less than the player's margin and finds trouble at most half as
    often, if there is one.

    Measured swings go before others (common practice, no source).
    """
    best = options[0]
    safe = [
        option
        for option in options
        if (option.lay_up or option.sideways)
        and option.rank_score < best.rank_score + margin
        and option.in_trouble <= SOBER_TROUBLE * best.in_trouble
    ]
    return min(safe, key=lambda option: (not option.owned, option.rank_score), default=None)


def is_offered(safe: Option, chosen: Option) -> bool:
    """Whether a safe way is nearly as good as the shot, so that it is worth telling."""
    return (safe.sideways or safe.lay_up) and safe.rank_score < chosen.rank_score + OFFERED


def driest(lay_ups: list[Option], margin: float) -> Option:
    """Of lay-ups within the player's margin the one that is best with the trouble it still finds counted again."""
    least = min(option.rank_score for option in lay_ups)
    near = [option for option in lay_ups if option.rank_score < least + margin]
    return min(near, key=lambda option: (not option.owned, option.rank_score + DRY_WORTH * option.in_trouble))


def trusted(options: tuple[Option, ...], margin: float, situation: Situation) -> Option:
    """The best by numbers, or a more trusted shot that fits and loses less than the player's margin.

    Trust buys neither trouble nor a poor fit: a shot that finds the water or the sand clearly oftener, misses
    the green clearly oftener or leaves the ball clearly farther is left aside; so is one that a teacher likes less.
    """
    best = plainer(options, situation)
    most = liked_less(best, situation) + LIKED_ALIKE
    near = [option for option in options if option.rank_score < best.rank_score + margin]
    fitting = [
        option for option in near if fits(option, best, situation) and liked_less(option, situation) <= most
    ]
    worth = [
        option
        for option in fitting
        if option.family is not best.family or option.rank_score < best.rank_score + MEASURED_WORTH
    ]
    favourite = max([best, *worth], key=lambda option: (option.trust, -_score_by_place(option, situation)))
    gap = favourite.rank_score - best.rank_score
    enough = LITTLE_MORE if gap < AS_GOOD else CLEARLY_MORE
    if favourite is best or favourite.trust <= best.trust + enough + ROUNDING:
        return best
    return favourite.model_copy(update={"trusted": True})


def plainer(options: tuple[Option, ...], situation: Situation) -> Option:
    """The best by numbers, or a shot that fits and that a teacher likes the better by more than it costs."""
    best = options[0]
    most = MOST_GIVEN_IN_GRASS if situation.lie is Lie.HEAVY_ROUGH else MOST_GIVEN
    near = [option for option in options[1:] if option.rank_score < best.rank_score + most]
    fitting = [
        option for option in near if fits(option, best, situation) and not (option.lay_up or option.sideways)
    ]
    return min([best, *fitting], key=lambda option: option.rank_score + liked_less(option, situation))


def fits(option: Option, best: Option, situation: Situation) -> bool:
    """Whether a shot comes to about the same as the best by numbers."""
    safer = option.in_trouble < best.in_trouble - MORE_TROUBLE
    less = LESS_GREEN_CAUGHT if counts_on_being_caught(best, situation) > 0.0 else LESS_GREEN
    return (
        option.in_trouble <= best.in_trouble + MORE_TROUBLE
        and option.on_green >= min((1.0 - less) * best.on_green, best.on_green - LESS_GREEN_SAME)
        and option.leave_m <= (SAFER_LEAVE if safer else MORE_LEAVE) * best.leave_m + LEAVE_SAME_M
        and (beside_m(option, situation) <= beside_m(best, situation) + MORE_BESIDE_M)
    )


def _score_by_place(option: Option, situation: Situation) -> float:
    """What orders shots that are trusted alike: of two as good, the one that finishes nearer the flag as meant."""
    return option.rank_score + BESIDE_WORTH * beside_m(option, situation)
