"""The shot as the player wishes it, the one named or the better of two, and what it costs."""

from contextlib import suppress
from dataclasses import dataclass

from caddie.bag import Bag, Family
from caddie.errors import CaddieError
from caddie.plan.candidates import ANY, Only
from caddie.plan.choose import advise
from caddie.plan.option import Option, Plan
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import club_said
from caddie.reply.why import strokes_said
from caddie.reply.written import shot_line
from caddie.situation import Situation
from caddie.talk.of_two import weighed
from caddie.talk.wish import asked_with_facts, unputted
from caddie.words import Understanding


@dataclass(frozen=True)
class Wished:
    """A plan for the shot wished, and how it stands to another."""

    plan: Plan
    told: str = ""
    """Of the other shot, aloud."""
    written: str = ""


def wish_of(heard: Understanding, situation: Situation, bag: Bag) -> Only:
    """What a sentence that tells a shot wishes of it."""
    return unputted(asked_with_facts(heard, None), heard, situation, bag)


def as_wished(heard: Understanding, situation: Situation, only: Only, bag: Bag, seed: int) -> Wished:
    """The plan for ``only``, or for the better of the shots that the sentence chooses between.

    Raises:
        CaddieError: when nothing in ``only`` can be played from there.
    """
    between = weighed(heard, situation, bag, seed)
    if between is not None:
        return Wished(between.plan, between.told, between.written)
    plan = advise(situation, bag, seed=seed, only=only)
    return Wished(plan, *_against_the_best(plan, situation, only, bag))


def _against_the_best(plan: Plan, situation: Situation, only: Only, bag: Bag) -> tuple[str, str]:
    """What a kind of shot asked for costs against the one that would be advised, aloud and written, or nothing."""
    if only.family is None and only.face is None and not only.is_putting(bag):
        return "", ""
    with suppress(CaddieError):
        free = advise(situation, bag, seed=plan.seed).chosen
        gap = plan.chosen.strokes - free.strokes
        written = (
            f"Else:  {shot_line(free, bag)}: {free.strokes:.2f} strokes against {plan.chosen.strokes:.2f}"
        )
        if same_shot_kind(free, plan.chosen):
            return "", ""
        named = club_said(free, bag) if free.club != plan.chosen.club else "plain shot"
        return f"The {named} is {strokes_said(gap)} better" if gap >= AS_GOOD else "", written
    return "", ""


def same_shot_kind(one: Option, other: Option) -> bool:
    """Whether two shots are the same kind of shot with one club."""
    return one.club == other.club and one.family is other.family


def not_from_there(only: Only) -> str:
    """That a kind of shot does not go from there."""
    if only.family in (None, Family.PUTT):
        return "no putter from there"
    assert only.family is not None
    return f"no {only.family.value.replace('_and_', '-and-').replace('_', ' ')} from there"


def is_a_kind(only: Only, bag: Bag) -> bool:
    """Whether a kind of shot is wished, whatever the club."""
    return only != ANY and (only.family is not None or only.is_putting(bag))
