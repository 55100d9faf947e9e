"""A ball that is not to be played as it lies: what the Rules offer, and the shot after the drop.

Rules of Golf, January 2023: an unplayable ball (Rule 19.2) costs one stroke and is dropped within two club-lengths
no nearer the hole, back on the line from the hole through the ball, or where the last stroke was played; in a bunker
the first two stay inside it, and for two strokes the ball comes out, back on the line (Rule 19.3). An embedded ball
in the general area is dropped free, within a club-length of right behind it (Rule 16.3).
"""

from caddie.bag import Bag
from caddie.plan.escape import dropped_strokes
from caddie.plan.hampered import cautions
from caddie.plan.option import Option, Plan
from caddie.plan.reasons import reasons_for
from caddie.situation import IN_SAND, Against, Hampered, Lie, Sitting, Situation

PENALTY = 1.0
OPTIONS_IN_WATER = (
    "In water (Rule 17.1): play it as it lies, or for one stroke drop where you last played from, back on the line "
    "from the hole through where it went in, or from a red area within two club-lengths of there, no nearer the hole."
)
MIND_THE_FOOTING = (
    "Before you step in: see the bottom, and stand firmly; nobody knows how much the water holds the club."
)
SPLASH_SAVES = 0.2
"""Strokes that a splash out of water must save against the drop: what it does nobody knows (common practice, no
source)."""
DROP_SAVES = 0.05
"""Strokes that a drop must save against the shot as it lies: what the next lie will be is not known either (common
practice, no source)."""
HARD = (Against.ROOT, Against.ROCK, Against.WALL, Against.FENCE, Against.TRUNK)
"""What a club must not meet."""
MADE = (Against.WALL, Against.FENCE)
"""Of that, what was built: it hampers nobody for a stroke where it marks no boundary."""
FREE_OF_WHAT_IS_MADE = (
    "A {thing} that marks no boundary is an immovable obstruction: relief is free (Rule 16.1b), within a club-length "
    "of the nearest point clear of it for ball, stance and swing, no nearer the hole, where no local rule makes it "
    "part of the course. From a boundary there is none."
)
OPTIONS = (
    "Unplayable (Rule 19.2), one stroke: drop within two club-lengths no nearer the hole, back on the line from the "
    "hole through the ball, or where you last played from."
)
OPTIONS_IN_SAND = (
    "Unplayable (Rule 19.3), one stroke: drop in the bunker within two club-lengths or back on the line, or where you "
    "last played from; for two strokes back on the line outside the bunker."
)
SPARE_THE_WRISTS = (
    "A club that meets a {thing} can hurt hand and wrist: play the ball only where the club meets nothing but ball and "
    "grass, if need be away from the flag."
)
DROPPED_FREE = (
    "Embedded in its own pitch mark outside sand it is dropped free, right behind (Rule 16.3), where local rules "
    "do not say otherwise."
)


def is_dropped(situation: Situation) -> bool:
    """Whether the ball is to be dropped before it is played."""
    return is_unplayable(situation) or is_embedded(situation)


def is_unplayable(situation: Situation) -> bool:
    """Whether dropping it costs a stroke."""
    if situation.hampered is Hampered.TURNED and not situation.unplayable:
        return False
    return bool(situation.unplayable) or situation.against in HARD


def is_awash(situation: Situation) -> bool:
    """Whether the ball lies partly in water, so that it may be splashed out."""
    return situation.against is Against.WATER and not situation.unplayable


def splashed_out(situation: Situation) -> Situation:
    """The situation of a ball splashed out of shallow water, which holds a club more than sand (common practice)."""
    changes = {"lie": Lie.PLUGGED, "lip_m": 0.0, "sitting": None, "sand": None, "wet": None}
    return situation.model_copy(update=changes)


def as_splashed(splash: Plan, situation: Situation) -> Plan:
    """The splash out of water that was asked for, with what to mind before it, where the ball lies as told."""
    lies = splash.situation.model_copy(update={"against": situation.against})
    return splash.model_copy(
        update={"situation": lies, "reasons": (OPTIONS_IN_WATER, MIND_THE_FOOTING, *splash.reasons)}
    )


def splash_or_drop(splash: Plan, dropped: Plan) -> Plan:
    """The splash with the drop beside it where it saves enough, or the drop."""
    played = splash.chosen
    if dropped.chosen.strokes <= played.strokes + SPLASH_SAVES:
        beside = (
            f"Splashed out it costs about {played.strokes:.1f} strokes and stays in the water "
            f"{round(20 * played.in_trouble) * 5} times in a hundred, a guess: only with half of the ball showing and "
            "a square face."
        )
        # What was told is kept: it lies partly in water, and may be played so.
        told = dropped.situation.model_copy(update={"unplayable": None})
        rules, *why = dropped.reasons
        return dropped.model_copy(
            update={"situation": told, "reasons": (rules, MIND_THE_FOOTING, beside, *why)}
        )
    drop = f"The drop costs {dropped.chosen.strokes:.2f} strokes to hole out, its penalty included."
    reasons = (OPTIONS_IN_WATER, MIND_THE_FOOTING, drop, *splash.reasons)
    return splash.model_copy(update={"reasons": reasons})


def may_cost_less(played: Plan, bag: Bag) -> bool:
    """Whether a drop under penalty comes to fewer strokes than a shot from an ill place, by the tables alone."""
    situation = played.situation
    if situation.lie is Lie.GREEN or situation.pin_m is None or situation.hampered is Hampered.TURNED:
        return False
    return dropped_strokes(situation, bag) < played.chosen.strokes


def said_unplayable(situation: Situation) -> Situation:
    """The situation of a ball that the player declares unplayable (Rule 19.1)."""
    return situation.model_copy(update={"unplayable": True})


def drop_where_it_costs_less(played: Plan, dropped: Plan, bag: Bag) -> Plan:
    """The drop with the shot as it lies beside it where it saves strokes, else the shot.

    A way out sideways is an estimate from the tables, and so is the drop that is held against it.
    """
    shot = played.chosen
    if dropped.chosen.sideways:
        # What bars the way bars it after the drop as well: the stroke bought nothing.
        return played
    after = dropped_strokes(played.situation, bag) if shot.sideways else dropped.chosen.strokes
    if after > shot.strokes - DROP_SAVES:
        return played
    out = "Out sideways" if shot.sideways else "Played as it lies"
    beside = f"{out} it costs about {shot.strokes:.1f} strokes beside {after:.1f} after the drop."
    rules, *why = dropped.reasons
    told = dropped.situation.model_copy(update={"unplayable": None})
    reasons = (rules, beside, *cautions(played.situation), *why)
    return dropped.model_copy(update={"situation": told, "reasons": reasons, "dropped": True})


def after_drop(situation: Situation) -> Situation:
    """The situation of the ball dropped within two club-lengths: in the bunker it stays in, else in rough."""
    lie = situation.lie
    if lie in IN_SAND:
        lie = Lie.BUNKER
    elif situation.hampered is Hampered.GROWTH or lie not in (
        Lie.FAIRWAY,
        Lie.FIRST_CUT,
        Lie.FRINGE,
        Lie.HEAVY_ROUGH,
    ):
        lie = Lie.LIGHT_ROUGH
    cleared = ("sitting", "against", "unplayable", "under_lip", "hampered", "tall_grass", "obstruction")
    changes = {**dict.fromkeys(cleared), "lie": lie}
    return situation.model_copy(update=changes)


def freed(situation: Situation) -> Situation:
    """The situation of a shot after its drop without what is told of the ball as it lay, which hampers it no more."""
    return situation.model_copy(update={"hampered": None, "against": None, "sitting": None})


def rules_of_a_drop(situation: Situation) -> list[str]:
    """What the Rules offer of a ball that is dropped, or may be out of water, a sentence each; else nothing."""
    if is_embedded(situation) and not is_unplayable(situation):
        return [DROPPED_FREE]
    if situation.against is Against.WATER:
        return [OPTIONS_IN_WATER]
    if not is_unplayable(situation):
        return []
    offered = [OPTIONS_IN_SAND if situation.lie in IN_SAND else OPTIONS]
    if situation.against in MADE:
        offered.insert(0, FREE_OF_WHAT_IS_MADE.format(thing=situation.against.value))
    if situation.against in HARD:
        offered.insert(0, SPARE_THE_WRISTS.format(thing=situation.against.value))
    return offered


def before_the_distance(situation: Situation) -> list[str]:
    """What the Rules offer of the ball as it lies and what to mind there, however far the flag is."""
    return [*rules_of_a_drop(situation), *cautions(situation)]


def before_the_drop(plan: Plan, situation: Situation, bag: Bag) -> Plan:
    """The plan of the shot after the drop with what the Rules ask for it, and what they offer said first."""
    told = plan.situation.model_copy(
        update={name: getattr(situation, name) for name in ("against", "unplayable", "sitting", "hampered")}
    )
    first = rules_of_a_drop(situation)
    if not is_unplayable(situation):
        return plan.model_copy(update={"situation": told, "reasons": (*first, *plan.reasons)})
    if situation.against is Against.WATER:
        told = told.model_copy(update={"unplayable": True})
    options = tuple(_with_penalty(option) for option in plan.options)
    chosen = _with_penalty(plan.chosen)
    reasons = (*first, *reasons_for(chosen, options[0], options, plan.situation, bag))
    return plan.model_copy(
        update={"situation": told, "options": options, "chosen": chosen, "reasons": reasons}
    )


def _with_penalty(option: Option) -> Option:
    return option.model_copy(
        update={
            "strokes": option.strokes + PENALTY,
            "bad_tail": option.bad_tail + PENALTY,
            "rank_score": option.rank_score + PENALTY,
        }
    )


def is_embedded(situation: Situation) -> bool:
    """Whether the Rules give free relief from the ball's own pitch mark."""
    return situation.sitting is Sitting.EMBEDDED and situation.lie not in IN_SAND
