"""The shot as the player wishes it, the one named or the better of two, and what it costs."""

from contextlib import suppress
from dataclasses import dataclass

from caddie.bag import Bag, Family
from caddie.ball.ground import Surface
from caddie.ball.launch import Flight
from caddie.errors import CaddieError
from caddie.plan.called import found, name_of
from caddie.plan.candidates import ANY, Only
from caddie.plan.choose import advise
from caddie.plan.option import Option, Plan
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import club_said, small, swing_said, times_in_ten, trouble_that_matters
from caddie.reply.rivals import differences
from caddie.reply.why import strokes_said
from caddie.reply.written import shot_line
from caddie.situation import HazardKind, Side, Situation
from caddie.talk.of_two import weighed
from caddie.talk.refused_clubs import unrefused
from caddie.talk.wish import asked_with_facts
from caddie.words import Understanding

FOUND_MOSTLY, FOUND_MORE, NOT_WORTH_IT = 0.5, 0.25, 0.3
"""A shot that finds trouble so often, so much oftener than another and at so many strokes is named and not planned
(common practice, no source)."""
TOLD_WHY = 0.1
"""Strokes from which it is said aloud what a wish costs them by."""
SAME_SWING = 0.08
"""Shares of a full swing that are nearer are the same to the ear."""
ROLLED_INTO = (HazardKind.BUNKER, HazardKind.WATER)


@dataclass(frozen=True)
class Wished:
    """A plan for the shot wished, and how it stands to another."""

    plan: Plan
    told: str = ""
    """What it costs beside another, aloud."""
    written: str = ""
    first: str = ""
    """Said first of a shot wished that nobody would play, in whose place ``plan`` has another."""
    turned_down: Option | None = None
    """That shot."""


def wish_of(heard: Understanding, situation: Situation, bag: Bag) -> Only:
    """What a sentence that tells a shot wishes of it."""
    return unrefused(asked_with_facts(heard, None), heard, situation, bag)


def as_wished(heard: Understanding, situation: Situation, only: Only, bag: Bag, seed: int) -> Wished:
    """The plan for ``only``, or for the better of the shots that the sentence chooses between.

    A shot that finds trouble more often than not where another does not is told so, and the other is planned.

    Raises:
        CaddieError: when nothing in ``only`` can be played from there.
    """
    between = weighed(heard, situation, bag, seed)
    if between is not None:
        return Wished(between.plan, between.told, between.written)
    plan = advise(situation, bag, seed=seed, only=only)
    anything = Only(without=only.without)
    if only == anything or plan.chosen.line is not None:
        return Wished(plan)
    with suppress(CaddieError):
        free = advise(situation, bag, seed=seed, only=anything)
        return Wished(plan) if free.dropped else _beside_the_best(plan, free, bag)
    return Wished(plan)


def _beside_the_best(plan: Plan, free: Plan, bag: Bag) -> Wished:
    """The shot asked for with what it costs against the one that would be advised, or that one."""
    asked, best = plan.chosen, free.chosen
    gap = asked.strokes - best.strokes
    if not gives_more_than_face(asked, best):
        return Wished(plan)
    written = f"{shot_line(best, bag)}: {best.strokes:.2f} strokes against {asked.strokes:.2f}"
    more_trouble = asked.in_trouble - best.in_trouble
    if asked.in_trouble >= FOUND_MOSTLY and more_trouble >= FOUND_MORE and gap >= NOT_WORTH_IT:
        not_that = f"Not:   {shot_line(asked, bag)}: {asked.strokes:.2f} strokes against {best.strokes:.2f}"
        return Wished(
            free, written=not_that, first=_found_said(asked, plan.situation, bag), turned_down=asked
        )
    if gap < AS_GOOD:
        return Wished(plan, written=f"Else:  {written}")
    why = differences(asked, best, plan.situation, bag)[:1] if gap >= TOLD_WHY else []
    told = f"it costs {strokes_said(gap)} more than {_other_said(best, asked, bag)}"
    return Wished(plan, ": it ".join([told, *why]), f"Else:  {written}")


def gives_more_than_face(asked: Option, best: Option) -> bool:
    """Whether two shots differ by more than how a ball of one club is struck by feel."""
    same_club = asked.club == best.club and asked.family is best.family
    alike = asked.flight is best.flight and abs(asked.share - best.share) < SAME_SWING
    return not (same_club and alike)


def _found_said(asked: Option, situation: Situation, bag: Bag) -> str:
    where = max(asked.trouble, key=lambda name: asked.trouble[name], default="")
    what = found(Surface[where.upper()], situation.hazards) if where else "trouble"
    finds = f"finds {what} {times_in_ten(asked.in_trouble)}"
    return f"the {club_said(asked, bag)} {finds}"


def _other_said(best: Option, asked: Option, bag: Bag) -> str:
    """The shot that would be advised, by what tells it from the one asked for."""
    if best.club != asked.club:
        return f"the {club_said(best, bag)}"
    if best.flight is not asked.flight:
        return {Flight.HIGH: "with an open face", Flight.LOW: "played low"}.get(best.flight, "the plain shot")
    swing = swing_said(best)
    return f"with {'a ' if swing.startswith('full') else ''}{small(swing)}"


def not_from_there(only: Only, situation: Situation) -> str:
    """That a kind of shot does not go from there."""
    if only.family in (None, Family.PUTT):
        before = trouble_that_matters(situation)
        over = before is not None and before.side is Side.SHORT and before.kind in ROLLED_INTO
        return f"no putter over the {name_of(before)}" if over and before else "no putter from there"
    assert only.family is not None
    return f"no {only.family.value.replace('_and_', '-and-').replace('_', ' ')} from there"


def is_a_kind(only: Only, bag: Bag) -> bool:
    """Whether a kind of shot is wished, whatever the club."""
    return only != ANY and (only.family is not None or only.is_putting(bag))
