"""What is said before the shot where something stands in the way of swing, stance or ball."""

from caddie.plan.escape import out_alone
from caddie.plan.hampered import is_tall
from caddie.plan.lip import is_stuck_in_sand, is_under_a_wall
from caddie.plan.option import Option, Plan
from caddie.plan.unplayable import HARD, MADE, is_embedded, is_unplayable
from caddie.situation import IN_SAND, Against, Firmness, Hampered, InLine, Lie, Obstruction, Situation

_HAMPERED = {
    Hampered.BACKSWING: "no room back: short, firm hinge of the wrists",
    Hampered.NO_BACKSWING: "no room back: poke it clear, or drop, one stroke",
    Hampered.FOLLOW_THROUGH: "no room through: short jab, spare your wrists",
    Hampered.STANCE: "cramped stance: narrow feet, grip down",
    Hampered.GROWTH: "mind eyes and hands: get it out, or drop, one stroke",
    Hampered.TO_CHEST: "half a swing",
    Hampered.TO_HIP: "no swing past the hip",
    Hampered.TURNED: "turn the club over or play it backwards",
}
_IN_LINE = {
    InLine.FRINGE: "fringe in the way: a shade firmer",
    InLine.SPRINKLER: "sprinkler on the line: relief only by local rule",
}


def first_said(situation: Situation) -> str:
    """What comes before the stroke: a drop, what hampers the swing, what lies on the line; one thing, or nothing."""
    return drop_said(situation) or _minded(situation)


def before_the_distance_said(situation: Situation) -> str:
    """What the Rules offer of the ball as it lies, which no distance changes: a drop, free or for a stroke."""
    offers = situation.obstruction is not None or out_alone(situation)
    return drop_said(situation) or (_minded(situation) if offers else "")


def better_dropped_said(situation: Situation) -> str:
    """What is said first of a ball that costs less dropped than played as it lies."""
    if situation.hampered is Hampered.GROWTH:
        return "mind eyes and hands: better dropped, one stroke, two club-lengths or back on the line"
    if situation.lie in IN_SAND:
        return "better dropped in the sand, one stroke, or behind it, two"
    return "better dropped, one stroke: two club-lengths, back on the line, or the last spot"


def drop_said(situation: Situation) -> str:
    """What is done before the stroke when the ball is not played as it lies."""
    if situation.against in MADE and is_unplayable(situation):
        return f"{situation.against.value}: free drop, or one stroke if it is the boundary"
    if situation.against in HARD and is_unplayable(situation):
        return f"spare your wrists: play away from the {situation.against.value}, or drop, one stroke"
    if situation.against is Against.WATER:
        if situation.unplayable:
            return "in water: drop clear, one stroke"
        splashed = situation.lie is Lie.PLUGGED
        return f"half in water: {'splash it, or drop' if splashed else 'drop it, one stroke, or splash it'}"
    if is_unplayable(situation):
        if situation.lie in IN_SAND:
            return "unplayable: drop in the sand, one stroke, or behind it, two"
        return "unplayable, one stroke: two club-lengths, back on the line, or the last spot"
    return "embedded: drop it free" if is_embedded(situation) else ""


def after_the_drop_said(plan: Plan) -> str:
    """What goes before the club of a ball dropped where what was said first leaves it open to play it as it lies."""
    either = plan.situation.against in (*HARD, Against.WATER) and not plan.dropped
    return "after the drop, " if either and is_of_the_dropped(plan) else ""


def is_of_the_dropped(plan: Plan) -> bool:
    """Whether the shot is that of the ball dropped, and not of the ball as it lies."""
    situation = plan.situation
    splashed = situation.against is Against.WATER and situation.lie is Lie.PLUGGED
    return plan.dropped or (bool(drop_said(situation)) and not splashed)


def stuck_said(option: Option, situation: Situation) -> str:
    """What else there is for a ball that is stuck in sand: the drop beside a way out, else that it may come back."""
    if not is_stuck_in_sand(situation):
        return ""
    if option.sideways:
        return "or drop in the sand, one stroke"
    return "it may come back at you" if is_under_a_wall(situation) else ""


def _minded(situation: Situation) -> str:
    if situation.obstruction is Obstruction.PUDDLE:
        outside = ", or outside it, one stroke" if situation.lie in IN_SAND else ""
        return f"in temporary water: free drop{' in the sand' if outside else ''}{outside}"
    if situation.obstruction is Obstruction.REPAIR:
        return "ground under repair: free drop, one club-length, no nearer"
    if situation.obstruction is Obstruction.ANIMAL_HOLE:
        return "an animal's hole: free drop, one club-length, no nearer"
    if situation.obstruction is Obstruction.RAKE:
        return "lift the rake away; a ball that moves is put back"
    if situation.obstruction is Obstruction.WRONG_GREEN:
        return "wrong green: drop off it, free, one club-length, no nearer"
    if situation.obstruction:
        return f"on a {situation.obstruction.value}: free drop, unless local rules say no"
    if situation.hampered:
        return _HAMPERED[situation.hampered]
    if situation.against is Against.COLLAR:
        return "against the collar: putter, or a wedge at the ball's middle"
    if situation.in_line:
        return _IN_LINE[situation.in_line]
    if situation.green.firmness is Firmness.FROZEN:
        return "frozen ground: a long run"
    return (
        "tall grass: lofted, firm grip, just get it out"
        if is_tall(situation) and situation.lie is Lie.HEAVY_ROUGH
        else ""
    )
