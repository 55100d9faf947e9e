"""Why this shot: sentences that quote the plan's own numbers."""

from collections.abc import Iterator

import numpy as np

from caddie.bag import Bag, ClubKind, Family
from caddie.ball.launch import Flight
from caddie.ball.turf import steepest_hold
from caddie.plan.assume import USUAL_STIMP_FT
from caddie.plan.called import CATCHES, caught_by, name_of, names_of, with_the
from caddie.plan.escape import dropped_strokes, is_steep_down, out_alone
from caddie.plan.hampered import cautions
from caddie.plan.lip import is_stuck_in_sand, is_under_a_wall
from caddie.plan.option import Option
from caddie.plan.prefer import liked_for
from caddie.plan.trust import AS_GOOD, stays_in
from caddie.situation import IN_SAND, Against, BallSide, HazardKind, Lie, Side, Situation
from caddie.units import FOOT_M, left_text, length_text

WORTH_SAYING_M = 2.5 * FOOT_M
"""A smaller offset of the aim is none."""
AIM_WORTH_SAYING = 0.02
"""Strokes that an aim must save to be a reason."""
LEAST_CHANCE = 0.005
ASIDE_IN_FEET_M = 10 * FOOT_M
"""A longer way beside the flag is said in the player's own unit."""
MOST_TROUBLES = 2
LOW_IS_ESTIMATED = "How far its low flight carries is an estimate from the plain shot: hit some and see."
CLEAN_THE_GROOVES = "Clean the grooves first: sand or grass in them takes spin off, and the ball runs on."
STRAIGHT_PAST = (
    "It is reckoned straight past the tree: a ball that you can curve round it comes nearer the flag."
)
MUD_ON_THE_BALL = (
    "Mud on the ball: it may not be cleaned here, and it flies toward the side without mud, the more the faster it "
    "is struck: aim for the middle of the green."
)
MUD_ON_A_SIDE = (
    "Mud on the {side} of the ball: it may not be cleaned here, and the ball flies {other}, by about four in a hundred "
    "and the more the faster it is struck: a guess that the aim allows for."
)
PICK_IT_UP = (
    "The club would meet sand or bank on its way back, a penalty of two strokes in a bunker (Rule 12.2b): hinge early "
    "and pick it up steeply."
)
MAY_COME_BACK = (
    "Right under a face so high a ball that meets it comes back, at you or under your feet: sideways or back is the "
    "surer way."
)
OUT_LOW = (
    "Down a steep slope of sand the ball comes out low and runs on: shoulders with the slope, land it as soon as the "
    "green begins, or go sideways."
)
PICKED_CLEAN = "Picked clean off sand: a touch heavy it stays in, a touch thin it flies far over the green."
FLYER_RUNS_ON = "A flyer comes off hot with little spin: it flies and runs on, and nobody knows how far."
AGAINST_THE_COLLAR = (
    "Against the collar, strike the middle of the ball with the leading edge of a wedge held like a putter, or with "
    "the putter: nothing but the ball is to be met."
)
_FLIGHT = {Flight.LOW: "a lower flight", Flight.STOCK: "the plain flight", Flight.HIGH: "an opener face"}


def reasons_for(
    chosen: Option, best: Option, options: tuple[Option, ...], situation: Situation, bag: Bag
) -> tuple[str, ...]:
    """Reasons in order of weight: the green, the trouble, the aim, trust, the runner-up, the grooves."""
    reasons = [_what_it_does(chosen, bag)]
    reasons += list(_troubles(chosen, situation))[:MOST_TROUBLES]
    if abs(chosen.aim_left_m) >= WORTH_SAYING_M and chosen.aim_saves >= AIM_WORTH_SAYING:
        reasons.append(_aimed_off(chosen, situation, bag))
    rivals = [
        option
        for option in options
        if option.club != chosen.club
        and not (option.lay_up or option.sideways)
        and option.strokes - chosen.strokes > -AS_GOOD
    ]
    safe = chosen.lay_up or chosen.sideways
    going = next((option for option in options if not (option.lay_up or option.sideways)), None)
    if safe and not (best.lay_up or best.sideways):
        reasons.append(_laid_up(chosen, best, bag))
        rivals = []
    elif chosen.lay_up and going is not None:
        reasons.append(_going_costs(chosen, going, bag))
        rivals = []
    elif stays_in(best) > stays_in(chosen) and situation.lie in IN_SAND:
        reasons.append(_surer_than(chosen, best, bag))
        rivals = []
    elif chosen.trusted:
        reasons.append(_trusted_over(chosen, best, bag))
        rivals = [option for option in rivals if option.club != best.club]
    elif why := "" if safe else _liked_better(chosen, best, situation, bag):
        reasons.append(why)
        rivals = [option for option in rivals if option.club != best.club]
    if rivals:
        reasons.append(_against(chosen, rivals[0], bag))
    if not safe:
        others = (option for option in options if option.lay_up or option.sideways)
        reasons += [_could_be_safe(chosen, other, bag) for other in others][:1]
    if _cannot_hold(situation):
        reasons.append("A ball does not stop on a green of this slope and speed: below the hole it runs off.")
    if _is_estimate(chosen, bag):
        reasons.append(
            f"No ball of the {club_name(chosen, bag)} was measured yet: its carries are estimates."
        )
    elif chosen.flight is Flight.LOW and chosen.family not in (Family.PUTT, Family.SPLASH):
        reasons.append(LOW_IS_ESTIMATED)
    if is_under_a_wall(situation):
        reasons.append(MAY_COME_BACK)
    if situation.lie is Lie.BUNKER and chosen.family is not Family.SPLASH and not chosen.sideways:
        reasons.append(PICKED_CLEAN)
    reasons += _of_the_ball(situation)
    if is_steep_down(situation) and situation.lie in IN_SAND:
        reasons.append(OUT_LOW)
    if out_alone(situation) or is_stuck_in_sand(situation):
        reasons.append(_or_dropped(chosen, situation, bag))
    reasons += cautions(situation)
    if situation.against is Against.COLLAR:
        reasons.append(AGAINST_THE_COLLAR)
    return tuple(reasons)


def _of_the_ball(situation: Situation) -> list[str]:
    """What is told of the ball and the club that meets it, and what comes of it."""
    reasons = []
    if situation.dirty_grooves:
        reasons.append(CLEAN_THE_GROOVES)
    if situation.mud_on_ball:
        side = situation.mud_side
        other = BallSide.LEFT if side is BallSide.RIGHT else BallSide.RIGHT
        reasons.append(
            MUD_ON_THE_BALL if side is None else MUD_ON_A_SIDE.format(side=side.value, other=other.value)
        )
    if situation.sand_behind:
        reasons.append(PICK_IT_UP)
    if situation.flyer:
        reasons.append(FLYER_RUNS_ON)
    if any(hazard.round for hazard in situation.hazards):
        reasons.append(STRAIGHT_PAST)
    return reasons


def _what_it_does(chosen: Option, bag: Bag) -> str:
    if chosen.lay_up:
        return f"It stays short of the trouble and leaves {left_over(chosen, bag)}."
    if chosen.turned:
        return (
            f"It is nudged out and leaves {left_over(chosen, bag)}: an estimate; out is all that is wanted."
        )
    if chosen.sideways:
        return f"It gets back to grass and leaves {left_over(chosen, bag)}: an estimate."
    leave = left_text(chosen.leave_m, bag.player.putt_unit)
    return f"It finishes on the green {share_text(chosen.on_green)}, half within {leave}."


def left_over(lay_up: Option, bag: Bag) -> str:
    """What a lay-up leaves to the flag."""
    return length_text(lay_up.leave_m, bag.player.distances_in, bag.player.pace_m)


def _laid_up(chosen: Option, best: Option, bag: Bag) -> str:
    return (
        f"Going for it with the {club_name(best, bag)} {_is_as_good(chosen, best)} and finds trouble "
        f"{share_text(best.in_trouble)}."
    )


def _going_costs(chosen: Option, going: Option, bag: Bag) -> str:
    return (
        f"Going for it with the {club_name(going, bag)} {swing_words(going)} costs "
        f"{max(going.rank_score - chosen.rank_score, 0.0):.2f} strokes more and finds trouble "
        f"{share_text(going.in_trouble)}."
    )


def _surer_than(chosen: Option, best: Option, bag: Bag) -> str:
    return (
        f"The {club_name(best, bag)} {swing_words(best)} {_is_as_good(chosen, best)} and stays in the "
        f"sand {share_text(stays_in(best))}."
    )


def _is_as_good(chosen: Option, best: Option) -> str:
    """How the best on paper compares with the shot that is played."""
    gap = max(chosen.rank_score - best.rank_score, 0.0)
    return "is as good by numbers" if gap < AS_GOOD else f"is better by only {gap:.2f} strokes on paper"


def _or_dropped(chosen: Option, situation: Situation, bag: Bag) -> str:
    if situation.lie in IN_SAND:
        return (
            "Unplayable instead (Rule 19.3), one stroke: dropped in the sand within two club-lengths or back on the "
            f"line, about {dropped_strokes(situation, bag):.1f} strokes beside {chosen.strokes:.1f}; outside, back on "
            "the line, for two."
        )
    return (
        f"Unplayable instead (Rule 19), one stroke: within two club-lengths no nearer the hole, back on the line, or "
        f"where you last played from; that comes to about {dropped_strokes(situation, bag):.1f} strokes beside "
        f"{chosen.strokes:.1f}."
    )


def _liked_better(chosen: Option, best: Option, situation: Situation, bag: Bag) -> str:
    """Why a shot is played in place of one that is better on paper by no more than what is assumed."""
    why = liked_for(chosen, best, situation) if chosen != best else ""
    if not why:
        return ""
    name = f"The {club_name(best, bag)}" + (
        f" {swing_words(best)}" if best.club == chosen.club and best.family is not Family.PUTT else ""
    )
    return f"{name} {_is_as_good(chosen, best)}; {why}."


def _could_be_safe(chosen: Option, safe: Option, bag: Bag) -> str:
    if safe.sideways:
        return (
            f"Out sideways with the {club_name(safe, bag)} leaves {left_over(safe, bag)} and costs about "
            f"{max(safe.strokes - chosen.strokes, 0.0):.1f} strokes more."
        )
    return (
        f"Laying up with the {club_name(safe, bag)} {swing_words(safe)} leaves {left_over(safe, bag)} and costs "
        f"{safe.strokes - chosen.strokes:.2f} strokes more."
    )


def _troubles(chosen: Option, situation: Situation) -> Iterator[str]:
    """How often each kind of trouble that is there catches the ball."""
    if out_alone(situation):
        return
    in_sand = situation.lie in IN_SAND
    sand = stays_in(chosen)
    if in_sand and sand >= LEAST_CHANCE:
        yield f"It stays in the {'water' if situation.against is Against.WATER else 'sand'} {share_text(sand)}."
    for kind in CATCHES:
        there = any(hazard.kind is kind for hazard in situation.hazards)
        if there and not (in_sand and kind is HazardKind.BUNKER):
            said = caught_by(names_of(kind, situation.hazards))
            yield f"{_capital(said)} {share_text(chosen.caught_by(kind))}."


def _aimed_off(chosen: Option, situation: Situation, bag: Bag) -> str:
    side, other = (Side.LEFT, Side.RIGHT) if chosen.aim_left_m > 0 else (Side.RIGHT, Side.LEFT)
    shunned = [
        with_the(name_of(hazard))
        for hazard in situation.hazards
        if hazard.side is other and hazard.kind in (*CATCHES, HazardKind.ROUGH)
    ]
    away = f", away from {shunned[0]}," if shunned else ""
    aside_m = abs(chosen.aim_left_m)
    unit = bag.player.putt_unit if aside_m < ASIDE_IN_FEET_M else bag.player.distances_in
    return (
        f"Aimed {length_text(aside_m, unit)} {side.value} of the flag{away} it saves "
        f"{chosen.aim_saves:.2f} strokes against straight at it."
    )


def _cannot_hold(situation: Situation) -> bool:
    """Whether the green is so steep and fast that no ball stops on it."""
    green = situation.green
    slope = np.hypot(green.fall_slope or 0.0, green.side_slope or 0.0)
    return bool(slope > steepest_hold(green.stimp_ft or USUAL_STIMP_FT))


def _is_estimate(chosen: Option, bag: Bag) -> bool:
    """Whether no carry of the club was ever measured."""
    club = bag.club_called(chosen.club)
    if club is None or club.kind is ClubKind.PUTTER:
        return False
    cells = club.splash if chosen.family is Family.SPLASH and club.splash else club.carries
    return not any(cell.measured for cell in cells)


def _trusted_over(chosen: Option, best: Option, bag: Bag) -> str:
    """Why the trusted shot is played, beside the best on paper."""
    why = why_trusted(chosen, best, bag, f"the {club_name(chosen, bag)}")
    other = f"the {club_name(best, bag)}" if best.club != chosen.club else f"a {family_name(best)}"
    if best.club == chosen.club and best.family is chosen.family:
        same_flight = (best.flight, best.wide_open) == (chosen.flight, chosen.wide_open)
        other = "a swing between two of yours" if same_flight else _FLIGHT[best.flight]
    gap = chosen.rank_score - best.rank_score
    if gap < AS_GOOD:
        return f"{_capital(other)} is as good by numbers; {why}."
    return f"{_capital(why)}; {other} is better by only {gap:.2f} strokes on paper."


def why_trusted(chosen: Option, best: Option, bag: Bag, club: str) -> str:
    """What makes the trusted shot the player's: the kind of shot, a swing they measured, or one near to that.

    Args:
        chosen: the trusted shot.
        best: the best by numbers.
        bag: the player's.
        club: the club as it is called there, with its article.
    """
    if chosen.family is not best.family:
        return f"you trust a {family_name(chosen)} more"
    if chosen.owned:
        return f"you {'know' if _is_estimate(chosen, bag) else 'have measured'} {club} {swing_words(chosen)}"
    return f"{club} {swing_words(chosen)} is nearer to a swing of yours"


def strokes_apart(gap: float) -> str:
    """How many strokes more or fewer one shot costs than another, as it is written."""
    return f"{abs(gap):.2f} strokes {'more' if gap >= 0 else 'fewer'}"


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def swing_words(option: Option) -> str:
    """The swing as said after a club: ``"to the chest"``, ``"with a full swing"``."""
    if option.swing == "full":
        return "with a full swing"
    if option.swing.startswith("just "):
        where, _, name = option.swing.rpartition(" ")
        return f"{where} the {name}" if name != "full" else f"{where} a full swing"
    if option.swing.startswith("under "):
        return f"below the {option.swing.removeprefix('under ')}"
    if " to " in option.swing:
        return f"between {option.swing.replace(' to ', ' and ')}"
    return f"to the {option.swing}"


def _against(chosen: Option, rival: Option, bag: Bag) -> str:
    gap = rival.strokes - chosen.strokes
    where = []
    if rival.in_trouble > chosen.in_trouble + 0.02:
        where.append(f"finds trouble {share_text(rival.in_trouble)}")
    if rival.through_green > chosen.through_green + 0.03:
        where.append(f"goes through the green {share_text(rival.through_green)}")
    if rival.short_of_green > chosen.short_of_green + 0.03:
        green = "it" if where and "green" in where[-1] else "the green"
        where.append(f"stays short of {green} {share_text(rival.short_of_green)}")
    if rival.leave_m > chosen.leave_m + 0.3:
        where.append(f"leaves {left_text(rival.leave_m, bag.player.putt_unit)}")
    name = f"The {club_name(rival, bag)}"
    if gap < AS_GOOD:
        return f"{name} is as good by numbers ({strokes_apart(gap)})."
    because = f": it {' and '.join(where[:2])}" if where else ""
    return f"{name} costs {gap:.2f} strokes more{because}."


def club_name(option: Option, bag: Bag) -> str:
    """The club as it is called: a wedge by its loft, others by name."""
    club = bag.club_called(option.club)
    if club is None:
        return option.club
    return f"{club.id}-degree" if club.id.isdigit() else club.name


def family_name(option: Option) -> str:
    """The kind of shot in words."""
    return option.family.value.replace("_and_", "-and-")


def share_text(share: float) -> str:
    """A chance in words and numbers.

    >>> share_text(0.004), share_text(0.31)
    ('hardly ever', '31 % of the time')
    """
    if share > 0.99:
        return "nearly always"
    return "hardly ever" if share < 0.01 else f"{share:.0%}".replace("%", " % of the time")
