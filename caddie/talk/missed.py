"""What if it is missed: where such a ball ends, what that costs and how often it comes; and which miss is better."""

from caddie.bag import Bag
from caddie.ball.ground import Surface
from caddie.plan.called import found
from caddie.plan.misses import Missed, MissedBalls, MissKind, balls_of
from caddie.plan.option import CAUGHT_ON, Plan
from caddie.reply.phrases import said, times_in_ten
from caddie.reply.putt import near_said, putt_unit
from caddie.reply.why import costs_said, strokes_said
from caddie.situation import Fall
from caddie.talk import lines
from caddie.talk.asked import asked_about, in_play, of_the_shot
from caddie.talk.miss_side import NO_BAD_SIDE, TELLS, safe_side
from caddie.talk.state import Desk, Known, Said, no_shot
from caddie.talk.will_it import danger, yes_or_no
from caddie.words import Understanding
from caddie.words.sayings import compared
from caddie.words.talk_files import lore_data
from caddie.words.trouble_named import troubles_named

OFTEN_M = 1.0
_TROUBLE = frozenset(CAUGHT_ON.values())
_CALLED = {
    Missed.HEAVY: "a heavy one",
    Missed.THIN: "a thin one",
    Missed.HOT: "a hot one",
    Missed.SHORT: "one that comes up short",
    Missed.LONG: "one that goes long",
    Missed.LEFT: "one missed left",
    Missed.RIGHT: "one missed right",
}
_STRUCK = (Missed.HEAVY, Missed.THIN)


def if_missed(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "What if I chunk it?": where it ends, in what, and what it costs."""
    named = miss_named(heard.heard)

    def told(plan: Plan, bag: Bag) -> list[str]:
        if not named:
            return danger(plan, bag)
        if named not in [each.value for each in Missed]:
            return [lines.NOT_PLAYED_THROUGH.format(strike=named)]
        balls = balls_of(plan, bag)
        kind = None if balls is None else balls.of(Missed(named))
        if kind is None:
            return [lines.SELDOM_MISSED_SO.format(miss=_CALLED[Missed(named)]), *danger(plan, bag)[:1]]
        return [*_caught(plan, kind, named, heard.heard), *_ends(plan, kind, Missed(named), bag)]

    return of_the_shot(told)(desk, known, heard)


def miss_named(text: str) -> str:
    """How the ball is feared to be missed, as the first word that tells it; empty when no word does."""
    words = compared(text)
    for name, called in lore_data()["miss_words"].items():
        if not set(called.split()).isdisjoint(words):
            return str(name)
    return ""


def _caught(plan: Plan, kind: MissKind, named: str, text: str) -> list[str]:
    """Yes or no first, where the trouble is named: "does it go in the bunker?"."""
    if not troubles_named(text):
        return []
    hazard, name = asked_about(plan.situation, text)
    if hazard is None or hazard.kind not in CAUGHT_ON:
        return [] if hazard is not None else [lines.NO_TROUBLE.format(trouble=name)]
    share = kind.places.get(CAUGHT_ON[hazard.kind], 0.0)
    return [f"{yes_or_no(share)} {_CALLED[Missed(named)]} is {_in(CAUGHT_ON[hazard.kind], plan)}"]


def _ends(plan: Plan, kind: MissKind, missed: Missed, bag: Bag) -> list[str]:
    """Where it ends and on what, what that costs, and of a mishit how often it comes."""
    putting = plan.chosen.line is not None
    told_m = abs(kind.past_m)
    far = near_said(max(told_m, 0.1), putt_unit(bag)) if putting or told_m < OFTEN_M else said(told_m, bag)
    side = "past" if kind.past_m > 0 else "short of"
    goes = f"{_CALLED[missed]} goes about {said(kind.gone_m, bag)}" if missed is Missed.HEAVY else ""
    goes = goes or f"{_CALLED[missed]} ends about {far} {side} the {'hole' if putting else 'flag'}"
    where = "" if putting else _lies(kind, plan)
    cost = costs_said(kind.costs) if abs(kind.costs) >= TELLS else "it costs next to nothing"
    often = f"it comes {times_in_ten(kind.share)}" if missed in _STRUCK else ""
    return [f"{goes}, {where}" if where else goes, cost, often]


def _lies(kind: MissKind, plan: Plan) -> str:
    """What such balls lie on: the trouble that takes many of them, else whether the green holds them."""
    trouble = {surface: share for surface, share in kind.places.items() if surface in _TROUBLE}
    worst = max(trouble, key=lambda surface: trouble[surface], default=None)
    if worst is not None and trouble[worst] >= TELLS:
        return f"{_in(worst, plan)} {times_in_ten(trouble[worst])}"
    green = kind.places.get(Surface.GREEN, 0.0)
    return f"on the green {times_in_ten(green)}" if green >= TELLS else "off the green"


def _in(surface: Surface, plan: Plan) -> str:
    place = found(surface, plan.situation.hazards)
    return place if surface is Surface.OUT_OF_BOUNDS else f"in {place}"


def better_miss(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Where a miss costs least: of two ways that are named, or of all, by trouble told and by where balls end."""
    if in_play(known) is None:
        return no_shot(known)
    words = set(compared(heard.heard))
    sides = words & {"left", "right"} and not words & {"short", "long", "past"}

    def told(plan: Plan, bag: Bag) -> list[str]:
        balls = balls_of(plan, bag)
        safe = safe_side(plan, bag, balls)
        plain = plan.chosen.line is None and safe != NO_BAD_SIDE
        of_length = bool(words & {"short", "long", "past"})
        asked = _tells_length(safe) if of_length else _tells_side(safe) if sides else True
        lead = [safe] if plain and asked else []
        return [*lead, *_of_two(plan, balls, across=bool(sides), led=bool(lead))]

    return of_the_shot(told, whatever_the_club=True)(desk, known, heard)


def _tells_length(safe: str) -> bool:
    return "short" in safe or "long" in safe


def _tells_side(safe: str) -> bool:
    return "left" in safe or "right" in safe


def _of_two(plan: Plan, balls: MissedBalls | None, *, across: bool, led: bool) -> list[str]:
    """Short against long, or left against right, by what the balls that ended there cost."""
    one, other = (Missed.LEFT, Missed.RIGHT) if across else (Missed.SHORT, Missed.LONG)
    gap = None if balls is None else balls.costs_beside(one, other)
    if balls is None or gap is None:
        return [] if led else [_only_one_way(balls, one, other)]
    if abs(gap) < TELLS:
        fall = plan.situation.green.fall
        uphill = None if across or fall is None else {Fall.TOWARD: one, Fall.AWAY: other}.get(fall)
        if led:
            return []
        if uphill is not None:
            return [f"{uphill.value}: that leaves the uphill putt"]
        return [f"{one.value} or {other.value} costs the same here"]
    better, worse = (other, one) if gap > 0 else (one, other)
    return [
        f"{worse.value} costs {strokes_said(gap)} more than {better.value}"
        if led
        else f"better {better.value}: {worse.value} costs {strokes_said(gap)} more",
        _why(plan, balls, worse),
    ]


def _only_one_way(balls: MissedBalls | None, one: Missed, other: Missed) -> str:
    """Where hardly a ball struck well misses one of the two ways."""
    for seen, never in ((one, other), (other, one)):
        kind = None if balls is None else balls.of(seen)
        if balls is not None and kind is not None and balls.of(never) is None:
            return f"struck well it goes {seen.value}, hardly ever {never.value}: {costs_said(kind.costs)}"
    return lines.CANNOT_TELL_APART


def _why(plan: Plan, balls: MissedBalls, worse: Missed) -> str:
    kind = balls.of(worse)
    lies = "" if kind is None else _lies(kind, plan)
    return "" if lies.startswith("on the green") else lies and f"those end {lies}"
