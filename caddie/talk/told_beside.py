"""What a sentence asks or laments beside the shot it tells, answered of that shot without a conversation."""

from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.plan.option import Plan
from caddie.reply.cue import Cue
from caddie.talk.asked_with_the_shot import SHOT
from caddie.words import Understanding

if TYPE_CHECKING:
    from caddie.talk.state import Said


def answered_beside(
    heard: Understanding, asking: tuple[Understanding, ...], plan: Plan, cue: Cue, bag: Bag
) -> dict[str, "Said"]:
    """The answers as in a talk that has just begun with the shot, by what was said."""
    from caddie.talk.kinds import kind_said
    from caddie.talk.state import Desk, Known

    known = Known(situation=heard.situation, plan=plan, advised=plan.chosen, cue=cue)
    desk = Desk(bag, seed=plan.seed)
    answered: dict[str, Said] = {}
    for part in asking:
        kind = None if SHOT in part.asks else kind_said(part, known)
        if kind is not None:
            with suppress(CaddieError):
                # The shot advised stays the one to play: another is told beside it.
                answered[part.heard] = replace(kind.answer(desk, known, part), settles=False)
    return answered


def without_what_is_answered(heard: Understanding, answered: dict[str, "Said"]) -> Understanding:
    """What was heard, where no word that was answered is called unfollowed."""
    words = " ".join(answered)
    left_over = tuple(word for word in heard.left_over if word not in words)
    return heard.model_copy(update={"left_over": left_over})


def with_answers(advice: dict[str, Any], answered: dict[str, "Said"], plan: Plan, bag: Bag) -> dict[str, Any]:
    """The advice with those answers behind it, in the words there are for several things."""
    from caddie.talk.in_order import as_one
    from caddie.talk.planning import with_where_it_goes

    answers = list(answered.values())
    shot = with_where_it_goes(plan, bag)
    told = replace(
        answers[0], spoken=advice["spoken"], written=advice["written"], advice=advice, shot=shot, brief=None
    )
    whole = as_one([told, *answers])
    return {**advice, "spoken": whole.spoken, "written": whole.written}
