"""What a teacher likes in a shot beyond its numbers: the one rule for shots that are as good within what is assumed.

The numbers of two shots differ by hundredths of a stroke; what was taken for the lie, the ground and the player's
swing is not known that well. So every trait that a teacher warns of is given a worth in strokes, and the best by
numbers gives way to a shot that is the better for them (common practice, no source, for each worth here).
"""

from caddie.bag import Family
from caddie.ball.launch import Flight
from caddie.plan.assume import is_shaggy
from caddie.plan.hampered import is_iron_hard
from caddie.plan.lip import before_a_lip, is_high_face
from caddie.plan.option import Option
from caddie.plan.patches import carry_needed_m
from caddie.plan.scene import Scene, green_height, is_up_a_soft_bank
from caddie.plan.shapes import face_m, lies_before_flag, top_m
from caddie.situation import (
    IN_SAND,
    Fall,
    Firmness,
    Grain,
    Hazard,
    HazardKind,
    Lie,
    Sand,
    Side,
    Situation,
    Stance,
    WindFrom,
)
from caddie.units import MPH_M_S, YARD_M

MOST_GIVEN, MOST_GIVEN_IN_GRASS = 0.1, 0.2
"""Strokes: a shot that is better by more is played whatever its traits; from thick grass what is better on paper may
only count on being caught."""
OPEN_FACE, WIDE_OPEN_FACE = 0.015, 0.09
"""A face laid open, and one laid wide open, from grass: the swing is longer than the shot."""
WIDE_IN_THICK_GRASS = 0.05
"""And one laid wide open in thick grass, however little green there is: how far the grass turns it nobody knows."""
SHORT_SIDED_M = 2.5 * YARD_M
"""With no more green than this to the flag every teacher lays the face open."""
LOFT_DEG, A_DEGREE = 60.0, 0.006
"""For every degree of loft less than a lob wedge's that a face is opened from: it has to be opened so much more."""
LONGEST_IN_HAND = 0.9
FULL_SWING, FULL_INTO_WIND = 0.03, 0.12
"""A swing longer than that share of a full one: nothing is left in hand; into a strong wind it climbs as well."""
LONG_DOWNHILL, SHORT_DOWNHILL = 0.35, 0.5
"""Off a downslope the swing is short and goes after the ball down the hill, and one past the chest loses its balance:
for every share of a full swing beyond half (common practice, no source)."""
HARD_WIND_M_S = 20 * MPH_M_S
LOFTED_IN_A_GALE, GALE_M_S, LOFTED_CARRY_M = 0.04, 30 * MPH_M_S, 25.0
"""A ball that far through a gale from ahead or the side is kept under it: low, with less loft and a shorter swing."""
UNKNOWN_A_METRE, UNKNOWN_MOST = 0.008, 0.05
PITCH_CARRY_M = 35.0
"""A pitch that lands short of the green lands on ground that nobody looked at: for every metre of it."""
RUN_ON_SOFT = 0.006
"""To a soft green a pitch is flown: what it runs there nobody knows, for every metre of it."""
HARDLY_ON = 0.045
HARDLY_ON_M = 2.0 * YARD_M
"""Or so little onto it that half of them stay short, with next to no run to bring them on."""
AT_THE_CREST, PAST_CREST_M = 0.08, 1.5 * YARD_M
"""A ball that lands no farther past the crest of a bank comes back down it when it is struck a little short."""
ON_THE_FACE = 0.06
"""So does one that lands on the face of a ridge or a tier, or no farther past its top: it is run up, or flown well
past."""
IN_A_HOLLOW = 0.04
"""And what lands before a swale, or in it, comes out of it with a pace that nobody knows."""
UNDER_THE_FACE, OFF_HARD_SAND, HARD_SAND_DEG = 0.006, 0.006, 56.0
"""A high face before the ball wants all the loft there is, for every degree less than a lob wedge's; packed sand wants
less than that, for every degree more than a sand wedge's: the ball comes out low anyway, and the blade skids."""
OFF_IRON_GROUND, IRON_GROUND_DEG = 0.012, 41.0
"""Frozen ground throws a sole up into the ball: for every degree of loft more than a nine iron's."""
PAST_FALLING = 0.15
PAST_FROM_GRASS, PAST_FROM_GRASS_M = 0.03, YARD_M
"""A ball from thick grass that is meant to land farther past the flag than this counts on being caught: for every
metre of it."""
AT_FLAG_M = YARD_M
"""A ball that lands at the flag or past it on a green that falls away, or with trouble close behind, goes on."""
PAST_BEFORE_TROUBLE, RUN_BEFORE_TROUBLE = 0.02, 0.006
"""A pitch with trouble behind: for every metre that it stops past the flag as meant, and that it runs."""
JUST_PAST, JUST_PAST_THIN, WELL_PAST_M = 0.06, 0.1, 3.5 * YARD_M
"""A ball that lands no farther past trouble that it must carry is in it when it is struck a little heavy or thin, which
from a lie without a cushion happens the more."""
INTO = 0.05
"""Or that lands before its far edge, and is not laid up short of it."""
SURELY_OUT, PAST_FLAG_TO_GET_OUT_M = 2.3, 2.0
"""A splash that carries so many times the way to the green gets out though the sand takes half of it; to a flag cut
near by it lands as far past it for that."""
SHORT_SPLASH, SPLASH_SHARE, SPLASHED_PAST_M = 0.8, 0.35, 7.0 * YARD_M
"""A shorter swing in sand is quit on: the longer one with the face open gets out, and to so near a flag lands at it.
For every share of a full swing."""
LONG_SPLASH, FAR_SPLASH_M = 0.08, 27.0
"""A splash that must fly farther than that is hit with all there is: it is picked clean."""
UP_A_TIGHT_BANK, MOST_BANK_M = 0.07, 9.0
"""Anything but the putter up a mown bank: thin it goes over the green, short it comes back."""
STEEP_BANK, HIGH_BANK_M = 0.2, 1.5
"""A green so high above the ball for the way to it stands on a steep bank; no putter is sure up one so high."""
UNDER_LOFT_DEG, UNDER_A_DEGREE = 37.0, 0.006
"""Under a branch a straighter club keeps lower: for every degree more than an eight iron's."""
ROUNDING_M = 0.1
CLOSE_BEHIND_M, SAFELY_PAST_M, PAST_IS_SAFE = 8.0 * YARD_M, 6.0, 0.5
BESIDE_FLAG = 0.008
"""For every metre that it finishes from the flag as meant."""
PUTTED_GRASS_M = 5.0 * YARD_M
CHIPPED_FROM_FRINGE = 0.06
"""Anything but the putter from the fringe: the worst putt is as good as a middling chip."""
MUCH_GRASS, SOFT_GRASS, GRASS_A_METRE = 0.02, 0.03, 0.02
"""A putter through more grass than that, all the more through soft grass: nobody knows what it takes."""
INTO_GRAIN_M, INTO_GRAIN_A_METRE = 2.8, 0.03
"""Through more grass than that which grows against it a putted ball is grabbed at once."""
_DANGEROUS = (
    HazardKind.WATER,
    HazardKind.OUT_OF_BOUNDS,
    HazardKind.BUNKER,
    HazardKind.TREES,
    HazardKind.UNNAMED,
)


HARD_GROUND = (Firmness.FIRM, Firmness.FROZEN)
_CARRIED = (HazardKind.WATER, HazardKind.BUNKER)
_NO_CUSHION = (Lie.BARE, Lie.DIVOT)
_TIGHT = (Lie.FAIRWAY, Lie.BARE, Lie.FRINGE)


def liked_landings(scene: Scene) -> tuple[float, float]:
    """Between which carries [m] a teacher would have a shot land that is not laid up: well past trouble, and where a
    ball at the flag goes on, short of it."""
    situation = scene.situation
    past_m = max((carry_needed_m(each, situation) for each in _to_carry(situation)), default=0.0)
    if situation.lie in IN_SAND and scene.pin_m <= SPLASHED_PAST_M:
        past_m = scene.pin_m
    least_m = min(past_m + WELL_PAST_M, scene.pin_m) if past_m else 0.0
    if runs_away(situation):
        return least_m, scene.pin_m - AT_FLAG_M
    if situation.lie in IN_SAND:
        least_m = max(least_m, min(SURELY_OUT * scene.front_m, scene.pin_m + PAST_FLAG_TO_GET_OUT_M))
    return least_m, scene.pin_m + PAST_FROM_GRASS_M if situation.lie is Lie.HEAVY_ROUGH else float("inf")


def _to_carry(situation: Situation) -> list[Hazard]:
    """Water and sand across the way that a shot at the green flies."""
    return [each for each in situation.hazards if each.kind in _CARRIED and each.side in (Side.SHORT, None)]


def liked_less(option: Option, situation: Situation) -> float:
    """What a teacher would give to play another shot [strokes]."""
    if option.lay_up or option.sideways:
        return 0.0
    if option.family is Family.PUTT:
        return _through_grass(situation)
    rolls = situation.lie is Lie.FRINGE and not is_shaggy(situation.lie, situation.sitting)
    off_fringe = CHIPPED_FROM_FRINGE if rolls else 0.0
    return off_fringe + _by_swing(option, situation) + _by_landing(option, situation)


def runs_away(situation: Situation) -> bool:
    """Whether a ball that lands at the flag goes on from there: downhill, or to trouble close behind."""
    return _falls_away(situation) or _trouble_behind(situation)


def _falls_away(situation: Situation) -> bool:
    return Fall.AWAY in (situation.green.fall, situation.green.side_fall)


def _trouble_behind(situation: Situation) -> bool:
    return any(each.side is Side.LONG and each.kind in _DANGEROUS for each in situation.hazards)


def blows_against(situation: Situation) -> bool:
    """Whether the wind is strong and ahead: more club and a smoother swing are the play."""
    strong = (situation.wind.speed_m_s or 0.0) >= HARD_WIND_M_S
    return strong and situation.wind.from_ in (WindFrom.AHEAD, WindFrom.AHEAD_LEFT, WindFrom.AHEAD_RIGHT)


def _up_a_bank(situation: Situation) -> bool:
    """Whether a steep face is climbed on the way: told as one, or as a green that stands high above the ball."""
    faces = (HazardKind.UPSLOPE, HazardKind.FALSE_FRONT)
    if green_height(situation) > STEEP_BANK * (situation.front_m or 0.0) > 0.0:
        return True
    return any(each.kind in faces and each.side is not Side.LONG for each in situation.hazards)


def _by_swing(option: Option, situation: Situation) -> float:
    full = FULL_INTO_WIND if blows_against(situation) else FULL_SWING
    dislike = full if option.share > LONGEST_IN_HAND else 0.0
    if option.family is Family.SPLASH:
        far = LONG_SPLASH if option.carry_m > FAR_SPLASH_M and situation.lie is Lie.BUNKER else 0.0
        return (
            dislike + far + _by_sand(option, situation) + SHORT_SPLASH * max(SPLASH_SHARE - option.share, 0.0)
        )
    lofted = option.flight is not Flight.LOW and option.carry_m > LOFTED_CARRY_M
    if (
        lofted
        and (situation.wind.speed_m_s or 0.0) >= GALE_M_S
        and situation.wind.from_ is not WindFrom.BEHIND
    ):
        dislike += LOFTED_IN_A_GALE
    if Stance.DOWNHILL in situation.stance:
        dislike += LONG_DOWNHILL * max(option.share - SHORT_DOWNHILL, 0.0)
    if is_iron_hard(situation):
        dislike += OFF_IRON_GROUND * max(option.loft_deg - IRON_GROUND_DEG, 0.0)
    if any(each.clear_m for each in situation.hazards):
        dislike += UNDER_A_DEGREE * max(option.loft_deg - UNDER_LOFT_DEG, 0.0)
    short_sided = situation.room_m is not None and situation.room_m <= SHORT_SIDED_M
    if option.flight is not Flight.HIGH:
        return dislike
    opened = A_DEGREE * max(LOFT_DEG - option.loft_deg, 0.0)
    if option.wide_open and situation.lie is Lie.HEAVY_ROUGH:
        opened += WIDE_IN_THICK_GRASS
    if short_sided:
        return dislike + opened + (OPEN_FACE if option.wide_open else 0.0)
    return dislike + opened + (WIDE_OPEN_FACE if option.wide_open else OPEN_FACE)


def _by_sand(option: Option, situation: Situation) -> float:
    """What the face before the ball, and packed sand, want of the loft of a splash."""
    if before_a_lip(situation) and is_high_face(situation):
        return UNDER_THE_FACE * max(LOFT_DEG - option.loft_deg, 0.0)
    hard = situation.sand is Sand.FIRM or bool(situation.wet)
    return OFF_HARD_SAND * max(option.loft_deg - HARD_SAND_DEG, 0.0) if hard else 0.0


def _on_a_face(option: Option, situation: Situation) -> bool:
    """Whether a ball comes down on a ridge or a tier on its way, or so close past its top that many do."""
    for each in situation.hazards:
        if each.kind in (HazardKind.RIDGE, HazardKind.TIER) and lies_before_flag(each, situation):
            crest_m = top_m(each, situation)
            if crest_m - face_m(each) < option.carry_m < crest_m + PAST_CREST_M:
                return True
    return False


def lands_in_a_hollow(option: Option, situation: Situation) -> bool:
    """Whether a ball that is flown comes down before the far edge of a swale on its way."""
    return any(
        option.carry_m < top_m(each, situation) + face_m(each)
        for each in situation.hazards
        if each.kind is HazardKind.SWALE and lies_before_flag(each, situation)
    )


def beside_m(option: Option, situation: Situation) -> float:
    """How far before or past the flag a shot finishes as meant [m].

    Some metres past a flag that is cut close behind trouble count half: that is the side to miss on.
    """
    past_m = option.run_m - option.land_short_of_pin_m
    close = any(
        carry_needed_m(each, situation) > (situation.pin_m or 0.0) - CLOSE_BEHIND_M
        for each in _to_carry(situation)
    )
    safe_m = min(max(past_m, 0.0), SAFELY_PAST_M) if close and not runs_away(situation) else 0.0
    return abs(past_m) - PAST_IS_SAFE * safe_m


def _by_landing(option: Option, situation: Situation) -> float:
    dislike = BESIDE_FLAG * beside_m(option, situation)
    assert situation.front_m is not None and situation.pin_m is not None
    onto_green_m = option.carry_m - situation.front_m
    if option.carry_m > PITCH_CARRY_M:
        if onto_green_m < 0 and situation.green.firmness not in HARD_GROUND:
            dislike += min(UNKNOWN_A_METRE * -onto_green_m, UNKNOWN_MOST)
        elif abs(onto_green_m) < HARDLY_ON_M and onto_green_m + option.run_m < 2 * HARDLY_ON_M:
            dislike += HARDLY_ON
    if option.carry_m > PITCH_CARRY_M and situation.green.firmness is Firmness.SOFT:
        dislike += RUN_ON_SOFT * max(option.run_m, 0.0)
    if onto_green_m < PAST_CREST_M and _up_a_bank(situation):
        dislike += AT_THE_CREST
    if _on_a_face(option, situation):
        dislike += ON_THE_FACE
    if lands_in_a_hollow(option, situation):
        dislike += IN_A_HOLLOW
    putted = situation.lie in _TIGHT and situation.front_m <= MOST_BANK_M and not is_up_a_soft_bank(situation)
    if _up_a_bank(situation) and putted and green_height(situation) <= HIGH_BANK_M:
        dislike += UP_A_TIGHT_BANK
    for each in _to_carry(situation):
        past_m = option.carry_m - carry_needed_m(each, situation)
        if past_m < min(WELL_PAST_M, situation.pin_m - carry_needed_m(each, situation)) - ROUNDING_M:
            dislike += (JUST_PAST_THIN if situation.lie in _NO_CUSHION else JUST_PAST) + (
                INTO if past_m <= 0.0 else 0.0
            )
    dislike += PAST_FROM_GRASS * counts_on_being_caught(option, situation)
    return dislike + _goes_on(option, situation)


def counts_on_being_caught(option: Option, situation: Situation) -> float:
    """How much farther past the flag a shot from thick grass is meant to land [m] than one that gets through it."""
    past_m = -option.land_short_of_pin_m - PAST_FROM_GRASS_M
    return max(past_m, 0.0) if situation.lie is Lie.HEAVY_ROUGH else 0.0


def _goes_on(option: Option, situation: Situation) -> float:
    """What a ball that does not stop near the flag is liked less, on a green that falls away or before trouble.

    A pitch to a green that does not fall away is judged by where it stops and by its run, so that trouble behind never
    speaks for the one that runs the farther.
    """
    pitched = option.carry_m > PITCH_CARRY_M
    if pitched and _trouble_behind(situation) and not _falls_away(situation):
        past_m = max(option.run_m - option.land_short_of_pin_m, 0.0)
        return PAST_BEFORE_TROUBLE * past_m + RUN_BEFORE_TROUBLE * max(option.run_m, 0.0)
    return PAST_FALLING if runs_away(situation) and option.land_short_of_pin_m < AT_FLAG_M else 0.0


def _through_grass(situation: Situation) -> float:
    assert situation.front_m is not None
    if is_shaggy(situation.lie, situation.sitting):
        return MUCH_GRASS + SOFT_GRASS
    if situation.green.grain is Grain.AGAINST and situation.front_m > INTO_GRAIN_M:
        return MUCH_GRASS + INTO_GRAIN_A_METRE * (situation.front_m - INTO_GRAIN_M)
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
    if chosen.family is Family.PUTT and situation.lie is not Lie.FRINGE:
        return "up a mown bank a thin one goes over and a short one comes back"
    if chosen.family is Family.PUTT:
        return "from the fringe the worst putt is as good as a middling chip"
    if any(other.carry_m < carry_needed_m(each, situation) + WELL_PAST_M for each in _to_carry(situation)):
        return "this one lands well past the trouble"
    if other.family is Family.SPLASH and other.carry_m > FAR_SPLASH_M:
        return "so far from sand it is picked clean"
    if other.family is Family.SPLASH and other.share < min(SPLASH_SHARE, chosen.share):
        return "this one is a swing long enough to commit to"
    if lands_in_a_hollow(other, situation) and not lands_in_a_hollow(chosen, situation):
        return "this one flies the swale"
    swing, its = _by_swing(other, situation), _by_swing(chosen, situation)
    if other.share > LONGEST_IN_HAND >= chosen.share:
        return "this one leaves something in hand"
    if is_iron_hard(situation) and other.loft_deg > chosen.loft_deg:
        return "off frozen ground less loft skids less"
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
