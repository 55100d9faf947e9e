"""Whether a new shot is told, and what holds for it of the one before."""

import re
from functools import cache

from caddie.plan.option import Plan
from caddie.situation import IN_SAND, Finish, Lie, Side, Situation, Wind
from caddie.talk.digits import FARTHEST_PUTT_M, is_twin
from caddie.talk.lasts import AT_THE_GREEN, STILL_TO_GO, Step, carried_on, is_same_length, news_of
from caddie.talk.state import Known
from caddie.words import Intent, Understanding
from caddie.words.facts import Another
from caddie.words.sayings import begins, clauses, compared, says
from caddie.words.talk_files import talk_data

SAME_PUTT_M = 0.15
"""Two putts that differ by less are told as one length."""
SAME_SHOT_RATIO = 1.7
"""A distance alone that differs by more belongs to another shot (common practice, no source)."""
TOLD_AGAIN_RATIO = 1.12
"""And so does one that comes with the day's wind, or how the greens are (common practice, no source)."""


def starts_anew(known: Known, heard: Understanding) -> bool:
    """Whether a new shot is told.

    After a played shot everything is; with advice given, a distance together with something else is, and so
    is one far from the last. A distance near it alone, or a fact alone, changes the shot talked about; what is
    known already is nothing else.
    """
    if known.played:
        return True
    now = heard.situation
    if known.situation.lie is Lie.GREEN and now.lie is None and (now.pin_m or 0.0) > FARTHEST_PUTT_M:
        return True
    if now.lie is Lie.GREEN and known.plan is not None and _is_of_an_approach(known.situation):
        return True
    if known.plan is None or heard.intent is Intent.CORRECT or now.pin_m is None:
        return False
    if _is_near(now, known.plan) and _puts_right(known, heard):
        return False
    news = news_of(now, known.situation)
    if news.pin_m is None or any(is_same_length(news.pin_m, told_m) for told_m in known.pins_m):
        # Told again, with more about it, unless it lies otherwise there.
        return news.lie is not None and known.situation.lie is not None
    now = news
    if _is_the_same_putt(now, known.situation) or _is_told_again(now, known.plan):
        return False
    return not (is_twin(now.pin_m, known) or (_is_distance_alone(now) and _is_near(now, known.plan)))


def _puts_right(known: Known, heard: Understanding) -> bool:
    """ "Not much, slightly up. And correction, it's more like fifteen feet": a clause of it puts a fact right."""
    same_lie = heard.situation.lie in (None, known.situation.lie)
    return same_lie and any(
        begins(clause, "puts_right") or says(clause, "puts_right")
        for clause in (heard.heard, *clauses(heard.heard))
    )


def _is_of_an_approach(situation: Situation) -> bool:
    """Whether a ball on the green is another than the one talked about: that lies elsewhere, or is no putt away."""
    if situation.lie is not None:
        return situation.lie is not Lie.GREEN
    return (situation.pin_m or 0.0) > FARTHEST_PUTT_M


def _is_the_same_putt(now: Situation, before: Situation) -> bool:
    """Whether a putt is told again from where it lies: it keeps its slope, its break and the speed of the green."""
    on_green = now.lie is Lie.GREEN and before.lie is Lie.GREEN
    return on_green and abs((now.pin_m or 0.0) - (before.pin_m or 0.0)) < SAME_PUTT_M


def _is_distance_alone(now: Situation) -> bool:
    if now.lie is Lie.GREEN:
        # How fast the greens are is no other putt's.
        now = now.model_copy(update={"lie": None, "green": now.green.model_copy(update={"stimp_ft": None})})
    rest = now.model_copy(update={"pin_m": None})
    return rest == Situation()


def _is_told_again(now: Situation, plan: Plan) -> bool:
    """Whether a distance much like the last comes with nothing but the day: the wind, how the greens are."""
    green = now.green.model_copy(update={"stimp_ft": None, "firmness": None})
    rest = now.model_copy(update={"green": green, "wind": Wind()})
    return _is_distance_alone(rest) and _is_near(now, plan, TOLD_AGAIN_RATIO)


def _is_near(now: Situation, plan: Plan, ratio: float = SAME_SHOT_RATIO) -> bool:
    """Whether a distance is another reading of the one planned for, and no other shot's."""
    assert now.pin_m is not None and plan.situation.pin_m is not None
    return 1 / ratio <= now.pin_m / plan.situation.pin_m <= ratio


def on_another(known: Known, heard: Understanding) -> Known:
    """What is known once another ball or hole begins, before anything of it is told: the day, and no shot."""
    if heard.another is None:
        return known
    if heard.another is Another.BALL:
        step = Step.NEXT_HOLE if known.hole_over else Step.ANOTHER_SHOT
        return known.afresh(situation=_left_by(known, step), walk=known.walk)
    if heard.hole is not None and heard.hole == known.day.hole and not known.hole_over:
        return known
    return on_hole(known, heard.hole)


def on_hole(known: Known, hole: int | None) -> Known:
    """What is known on another hole."""
    return known.afresh(situation=_left_by(known, Step.NEXT_HOLE), walk=known.walk).on_the_day(
        hole=hole, several=False, chips=False
    )


def on_the_way(known: Known, heard: Understanding) -> Situation:
    """What holds of the last shot for the next one told."""
    now = heard.situation
    kept = _left_by(known, _step(known, heard), now)
    return kept.model_copy(update={"room_m": None}) if now.front_m is not None else kept


def _left_by(known: Known, step: Step, now: Situation | None = None) -> Situation:
    """What a step leaves of the facts; on another green not how soft or slow the last one was."""
    kept = carried_on(known.situation, step, now)
    if step is not Step.NEXT_HOLE and not (step is Step.ANOTHER_SHOT and known.played):
        return kept
    green = kept.green.model_copy(update=dict.fromkeys(known.of_this_green))
    return kept.model_copy(update={"green": green})


def of_this_green(known: Known, heard: Understanding) -> frozenset[str]:
    """How the green is that was told of this one alone, with what is told now: "the green's slow", no "the greens"."""
    told = {name for name in ("stimp_ft", "firmness") if getattr(heard.situation.green, name) is not None}
    if not _of_all_greens().isdisjoint(compared(_IS.sub(" is", heard.heard))):
        return known.of_this_green - told
    return known.of_this_green | told


_IS = re.compile(r"['’]s\b")


@cache
def _of_all_greens() -> frozenset[str]:
    return frozenset(talk_data()["of_all_greens"]["say"])


def _step(known: Known, heard: Understanding) -> Step:
    """What happened between the last shot and the one told now."""
    before, now, ended = known.situation, heard.situation, known.result
    if known.hole_over:
        return Step.NEXT_HOLE
    if not known.played:
        return Step.ANOTHER_SHOT
    if now.pin_m is not None and before.pin_m is not None and now.pin_m > before.pin_m:
        return Step.ANOTHER_SHOT
    if ended is None or now.lie is Lie.GREEN:
        return Step.NEARER
    if before.lie in IN_SAND and now.lie in IN_SAND and ended.finish in (None, Finish.BUNKER):
        return Step.STAYED_IN_SAND
    if Side.LONG in ended.side:
        return Step.OVER
    # From beside the green it is seen another way.
    aside = not {Side.LEFT, Side.RIGHT}.isdisjoint(ended.side)
    most_to_go = now.pin_m and before.pin_m and now.pin_m >= STILL_TO_GO * before.pin_m and not aside
    short = Side.SHORT in ended.side
    return Step.STILL_SHORT if short or (most_to_go and now.lie not in AT_THE_GREEN) else Step.NEARER
