"""What a teacher likes in a shot beyond its numbers: the one rule for shots that are as good within what is assumed.

The numbers of two shots differ by hundredths of a stroke; what was taken for the lie, the ground and the player's
swing is not known that well. So every trait that a teacher warns of is given a worth in strokes, and the best by
numbers gives way to a shot that is the better for them (common practice, no source, for each worth here).
"""

from caddie.bag import Family
from caddie.ball.launch import Flight
from caddie.plan.option import Option
from caddie.situation import Fall, Firmness, HazardKind, Lie, Side, Situation
from caddie.units import YARD_M

MOST_GIVEN = 0.1
"""Strokes: a shot that is better by more is played whatever its traits."""
OPEN_FACE, WIDE_OPEN_FACE = 0.015, 0.09
"""A face laid open, and one laid wide open, from grass: the swing is longer than the shot."""
SHORT_SIDED_M = 2.5 * YARD_M
"""With no more green than this to the flag every teacher lays the face open."""
LOFT_DEG, A_DEGREE = 60.0, 0.006
"""For every degree of loft less than a lob wedge's that a face is opened from: it has to be opened so much more."""
LONGEST_IN_HAND = 0.9
FULL_SWING = 0.03
"""A swing longer than that share of a full one: nothing is left in hand."""
UNKNOWN_A_METRE, UNKNOWN_MOST = 0.008, 0.05
PITCH_CARRY_M = 35.0
"""A pitch that lands short of the green lands on ground that nobody looked at: for every metre of it."""
HARDLY_ON = 0.045
HARDLY_ON_M = 2.0 * YARD_M
"""Or so little onto it that half of them stay short, with next to no run to bring them on."""
AT_THE_CREST, PAST_CREST_M = 0.08, 1.5 * YARD_M
"""A ball that lands no farther past the crest of a bank comes back down it when it is struck a little short."""
PAST_FALLING = 0.15
AT_FLAG_M = YARD_M
"""A ball that lands at the flag or past it on a green that falls away, or with trouble close behind, goes on."""
BESIDE_FLAG = 0.008
"""For every metre that it finishes from the flag as meant."""
PUTTED_GRASS_M = 5.0 * YARD_M
CHIPPED_FROM_FRINGE = 0.06
"""Anything but the putter from the fringe: the worst putt is as good as a middling chip."""
MUCH_GRASS, SOFT_GRASS, GRASS_A_METRE = 0.02, 0.03, 0.02
"""A putter through more grass than that, all the more through soft grass: nobody knows what it takes."""
_DANGEROUS = (HazardKind.WATER, HazardKind.OUT_OF_BOUNDS, HazardKind.BUNKER, HazardKind.TREES)


def liked_less(option: Option, situation: Situation) -> float:
    """What a teacher would give to play another shot [strokes]."""
    if option.lay_up or option.sideways:
        return 0.0
    if option.family is Family.PUTT:
        return _through_grass(situation)
    off_fringe = CHIPPED_FROM_FRINGE if situation.lie is Lie.FRINGE else 0.0
    return off_fringe + _by_swing(option, situation) + _by_landing(option, situation)


def runs_away(situation: Situation) -> bool:
    """Whether a ball that lands at the flag goes on from there: downhill, or to trouble close behind."""
    green = situation.green
    behind = any(each.side is Side.LONG and each.kind in _DANGEROUS for each in situation.hazards)
    return Fall.AWAY in (green.fall, green.side_fall) or behind


def _up_a_bank(situation: Situation) -> bool:
    return any(each.kind in (HazardKind.UPSLOPE, HazardKind.FALSE_FRONT) for each in situation.hazards)


def _by_swing(option: Option, situation: Situation) -> float:
    dislike = FULL_SWING if option.share > LONGEST_IN_HAND else 0.0
    if option.family is Family.SPLASH:
        return dislike
    short_sided = situation.room_m is not None and situation.room_m <= SHORT_SIDED_M
    if option.flight is not Flight.HIGH:
        return dislike
    opened = A_DEGREE * max(LOFT_DEG - option.loft_deg, 0.0)
    if short_sided:
        return dislike + opened + (OPEN_FACE if option.wide_open else 0.0)
    return dislike + opened + (WIDE_OPEN_FACE if option.wide_open else OPEN_FACE)


def _by_landing(option: Option, situation: Situation) -> float:
    beside_m = abs(option.land_short_of_pin_m - option.run_m)
    dislike = BESIDE_FLAG * beside_m
    assert situation.front_m is not None
    onto_green_m = option.carry_m - situation.front_m
    if option.carry_m > PITCH_CARRY_M:
        if onto_green_m < 0 and situation.green.firmness is not Firmness.FIRM:
            dislike += min(UNKNOWN_A_METRE * -onto_green_m, UNKNOWN_MOST)
        elif abs(onto_green_m) < HARDLY_ON_M and onto_green_m + option.run_m < 2 * HARDLY_ON_M:
            dislike += HARDLY_ON
    if onto_green_m < PAST_CREST_M and _up_a_bank(situation):
        dislike += AT_THE_CREST
    if runs_away(situation) and option.land_short_of_pin_m < AT_FLAG_M:
        dislike += PAST_FALLING
    return dislike


def _through_grass(situation: Situation) -> float:
    assert situation.front_m is not None
    if situation.lie is Lie.FRINGE or situation.front_m <= PUTTED_GRASS_M:
        return 0.0
    soft = SOFT_GRASS if situation.wet or situation.green.firmness is Firmness.SOFT else 0.0
    return MUCH_GRASS + soft + GRASS_A_METRE * (situation.front_m - PUTTED_GRASS_M)


def liked_for(chosen: Option, other: Option, situation: Situation) -> str:
    """What speaks for a shot against one that is better on paper, in words, or nothing."""
    if liked_less(chosen, situation) >= liked_less(other, situation):
        return ""
    if other.family is Family.PUTT:
        return "nobody knows what so much grass takes from a putt"
    if runs_away(situation) and other.land_short_of_pin_m < AT_FLAG_M <= chosen.land_short_of_pin_m:
        return "this one lands short of the flag, where a ball past it goes on"
    if chosen.family is Family.PUTT:
        return "from the fringe the worst putt is as good as a middling chip"
    swing, its = _by_swing(other, situation), _by_swing(chosen, situation)
    if other.share > LONGEST_IN_HAND >= chosen.share:
        return "this one leaves something in hand"
    if swing > its:
        return "this one needs less of an open face"
    assert situation.front_m is not None
    if other.carry_m < situation.front_m + HARDLY_ON_M and chosen.carry_m > max(
        other.carry_m, situation.front_m
    ):
        return "this one lands on the green"
    if situation.front_m > chosen.carry_m > other.carry_m:
        return "this one crosses less ground that nobody looked at"
    return "this one finishes nearer the flag as meant"
