"""A shot beside the one advised, in words: the shot, where it goes, what it costs and why."""

from dataclasses import dataclass

from caddie.bag import Bag, Family
from caddie.errors import CaddieError
from caddie.plan.option import Option, Plan
from caddie.plan.reasons import share_text
from caddie.plan.trust import AS_GOOD
from caddie.reply.aim import aim_said
from caddie.reply.phrases import (
    ball_said,
    club_said,
    landing_short,
    shot_said,
    small,
    swing_said,
    times_in_ten,
)
from caddie.reply.putt import pace_said, putt_unit, start_said
from caddie.reply.rivals import differences
from caddie.reply.rolled import rolled_said
from caddie.reply.situation import distance_said
from caddie.reply.spoken import sentences, shortest
from caddie.reply.why import costs_said, strokes_said, why_said
from caddie.situation import Situation
from caddie.talk.lines import YES_IT_IS
from caddie.talk.state import Desk, Known, Said
from caddie.units import left_text

_SHOT = ("club", "swing", "flight", "wide_open", "family")


@dataclass(frozen=True)
class Comparison:
    """A shot beside the one advised."""

    spoken: str
    short: str
    written: str
    option: Option
    verdict: str = ""
    brief: str | None = None
    """Said beside other answers, where that is not the short form."""


def told(
    other: Option,
    plan: Plan,
    desk: Desk,
    *,
    supposed: bool,
    there: Situation,
    verdict: str = "",
    may_i: bool = False,
    asks_why: bool = False,
) -> Comparison:
    """The comparison in words; ``supposed`` when the situation differs, which ``there`` is.

    ``verdict`` takes the place of the difference in strokes; ``may_i`` where it was asked whether it may be played,
    ``asks_why`` where the reason was, which no yes answers.
    """
    advised, bag = plan.chosen, desk.bag
    aside = abs(other.aim_left_m - advised.aim_left_m) > AIMED_APART_M
    same = all(getattr(other, name) == getattr(advised, name) for name in _SHOT) and not (aside and verdict)
    if same and not supposed:
        # "The pitching wedge now?": what is asked back is why.
        yes, reason = f"{'' if asks_why else YES_IT_IS}{shot_said(other, bag)}", why_said(plan, bag)
        spoken = shortest([[yes, reason], [yes, f"{reason.partition('. ')[0]}"]])
        return Comparison(spoken, sentences([shot_said(other, bag)]), spoken, other, brief="")
    if other.line is not None:
        return _putt_told(other, advised, there, bag)
    figured = not (supposed or verdict or other.lay_up or other.sideways)
    green = _green_lost(other, advised) if figured else ""
    verdict = verdict or _verdict(other, advised, supposed)
    shot = _shot_named(other, plan, there, bag, supposed=supposed, same=same)
    shot = f"{_may_be_played(other, advised)}: {shot}" if may_i else shot
    aim = aim_said(other, bag) if aside else ""
    rolled, unit = other.family is Family.PUTT, putt_unit(bag)
    beside = verdict if supposed else _beside_the_one_advised(verdict, other, advised, bag, may_i=may_i)
    ball, less = _ball(other, there, desk), beside.partition(";")[0]
    lands = rolled_said(other, bag) if rolled else landing_short(other, there, bag)
    why = _reasons(other, plan, desk) if figured and (may_i or not green) else []
    reasoned = f"{beside}: it {why[0]}" if why else ""
    reasons = [[shot, ball, aim, reasoned], *([[shot, lands, reasoned], [shot, reasoned]] if may_i else [])]
    plainly = _versions(shot, (ball, lands), aim, green, (beside, verdict))
    if other.sideways or other.lay_up:
        plainly = [[shot, ball, beside], [shot, lands, beside], *plainly]
    spoken = shortest([*(reasons if reasoned else []), *plainly, [other.club, verdict]])
    written = (
        f"{spoken}\n{other.strokes:.2f} strokes against {advised.strokes:.2f}: "
        f"on the green {_either(share_text(other.on_green), share_text(advised.on_green))}, "
        f"in trouble {_either(share_text(other.in_trouble), share_text(advised.in_trouble))}, "
        f"leaves {_either(left_text(other.leave_m, unit), left_text(advised.leave_m, unit))}."
    )
    brief = sentences([shot, less])
    if may_i and reasoned:
        costs = costs_said(other.strokes - advised.strokes)
        brief = sentences([f"{_may_be_played(other, advised)}: {club_said(other, bag)}, but {costs}"])
    return Comparison(spoken, brief, written, other, verdict)


def _shot_named(other: Option, plan: Plan, there: Situation, bag: Bag, *, supposed: bool, same: bool) -> str:
    """The shot compared; from another length that length is said back, so that one misheard is noticed."""
    if not supposed:
        return shot_said(other, bag)
    named = "the same shot" if same else shot_said(other, bag)
    if there.pin_m is not None and there.pin_m != plan.situation.pin_m:
        return f"from {distance_said(there.pin_m, there, bag)}, {named}"
    return f"{named} then" if same else f"then {named}"


def _versions(
    shot: str, ways: tuple[str, str], aim: str, green: str, beside: tuple[str, str]
) -> list[list[str]]:
    """The comparison in ever fewer words: where it lands, then the green that it misses, then the aim go."""
    (ball, lands), (whole, verdict) = ways, beside
    less = whole.partition(";")[0]
    return [
        [shot, ball, aim, green, whole],
        [shot, ball, aim, green, less],
        *([[shot, ball, aim, green, verdict], [shot, lands, aim, green, verdict]] if green else []),
        [shot, ball, aim, less],
        [shot, lands, aim, less],
        [shot, lands, less],
        [shot, less],
    ]


def _putt_told(other: Option, advised: Option, there: Situation, bag: Bag) -> Comparison:
    """A putt on a green that lies otherwise."""
    start = start_said(other, putt_unit(bag))
    read = [
        f"then {small(start)}",
        pace_said(other, there, putt_unit(bag)),
    ]
    verdict = _verdict(other, advised, supposed=True)
    spoken = shortest([[*read, verdict], read])
    written = (
        f"{spoken}\n{other.strokes:.2f} putts against {advised.strokes:.2f}: "
        f"holed {other.make or 0:.0%} against {advised.make or 0:.0%}."
    )
    return Comparison(spoken, sentences(read[:1]), written, other, verdict)


def compared_with(known: Known, compared: Comparison, supposed: Situation | None = None) -> Said:
    """The comparison as a turn; the shot can be adopted next, with what was ``supposed`` if anything was."""
    after = known.changed(
        spoken=compared.spoken,
        said_of_other=compared.spoken,
        short=compared.short,
        other=compared.option,
        supposed=supposed,
        verdict=compared.verdict,
        question=None,
    )
    brief = compared.short if compared.brief is None else compared.brief
    return Said(after, compared.spoken, written=compared.written, brief=brief)


COSTS_ALIKE = "it costs about the same"


def what_it_costs(gap: float) -> str:
    """A difference in strokes, as it is said of a shot that was supposed or sought."""
    return COSTS_ALIKE if abs(gap) < AS_GOOD else costs_said(gap)


_AS_GOOD = "as good by numbers; play the one you trust"


def _ball(option: Option, there: Situation, desk: Desk) -> str:
    if there.front_m is None:
        raise CaddieError("say the distance first")
    return ball_said(option, there, desk.bag)


def _verdict(other: Option, advised: Option, supposed: bool) -> str:
    gap = other.strokes - advised.strokes
    if supposed:
        return what_it_costs(gap)
    if abs(gap) < AS_GOOD:
        return _AS_GOOD
    return f"{strokes_said(gap)} {'worse' if gap > 0 else 'better'}"


def _reasons(other: Option, plan: Plan, desk: Desk) -> list[str]:
    """What makes a shot dearer than the one advised, the weightiest first; nothing where it is not."""
    if other.strokes - plan.chosen.strokes < AS_GOOD:
        return []
    return differences(other, plan.chosen, plan.situation, desk.bag)


def _may_be_played(other: Option, advised: Option) -> str:
    """The answer to whether a shot may be played, by what it costs."""
    gap = other.strokes - advised.strokes
    if gap < AS_GOOD:
        return "yes"
    return "you can" if gap < MAY_COST else "you could" if gap < COSTS_TOO_MUCH else "better not"


MAY_COST, COSTS_TOO_MUCH = 0.1, 0.5
"""Strokes that a shot asked for may cost and still be one to play, and those at which it is advised against."""
GREEN_LOST = 0.15
"""So much less often on the green is said aloud."""
AIMED_APART_M = 2.0
"""An aim that differs by more is said."""


def _green_lost(other: Option, advised: Option) -> str:
    """That it finds the green much less often, or nothing."""
    if Family.PUTT in (other.family, advised.family) or advised.on_green - other.on_green < GREEN_LOST:
        return ""
    often, mine = (times_in_ten(option.on_green) for option in (other, advised))
    return f"on the green {often}, not {mine}" if often != mine else ""


def _beside_the_one_advised(
    verdict: str, other: Option, advised: Option, bag: Bag, *, may_i: bool = False
) -> str:
    """The difference with the shot it is told against: "a tenth of a stroke worse than the fifty-two"."""
    if verdict not in (_verdict(other, advised, supposed=False), _AS_GOOD):
        return verdict
    swung = swing_said(advised) if other.club == advised.club and advised.family is not Family.PUTT else ""
    swung = f"a {swung}" if swung.startswith("full") else swung
    than = f"with {swung}" if swung else f"the {club_said(advised, bag)}"
    if verdict == _AS_GOOD:
        return f"as good by numbers as {than}; play the one you trust"
    if may_i and other.strokes > advised.strokes:
        gap = other.strokes - advised.strokes
        return f"{'but ' if gap < COSTS_TOO_MUCH else ''}{costs_said(gap)} than {than}"
    return f"{verdict} than {than}"


def _either(mine: str, other: str) -> str:
    """Two figures side by side; once when they are the same as told."""
    return f"{mine} both ways" if mine == other else f"{mine} against {other}"
