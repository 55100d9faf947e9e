"""Where a miss costs least: one verdict, whatever it is told by, and never one that its own figures deny."""

import random
import re

import pytest

from caddie.bag import Bag, load_bag
from caddie.errors import CaddieError
from caddie.plan.choose import advise
from caddie.plan.misses import Missed, balls_of
from caddie.situation import Fall, Green, Hazard, HazardKind, Lie, PinPosition, Side, Situation
from caddie.talk.conversation import Conversation
from caddie.talk.miss_side import TELLS, safe_side

_DEARER = re.compile(r"(short|long|left|right) costs .* more")
_BETTER = re.compile(r"(?:miss it|better) ([a-z]+)(?: and ([a-z]+))?", re.I)
ASKED = ("so where's the spot to miss it, short or long?", "where do I miss it?", "better left or right?")


def _drawn(count: int) -> list[Situation]:
    draw = random.Random(7)
    found = []
    for _ in range(count):
        hazard = draw.choice([None, HazardKind.BUNKER, HazardKind.WATER, HazardKind.ROUGH])
        side = draw.choice([None, Side.LONG, Side.LEFT, Side.RIGHT])
        found.append(
            Situation(
                pin_m=float(draw.choice([9, 15, 25, 40, 60, 80])),
                lie=draw.choice([Lie.FAIRWAY, Lie.LIGHT_ROUGH, Lie.HEAVY_ROUGH, Lie.BUNKER]),
                pin_position=draw.choice([None, *PinPosition]),
                room_m=draw.choice([None, 3.0, 8.0]),
                green=Green(fall=draw.choice([None, Fall.AWAY, Fall.TOWARD])),
                hazards=(Hazard(kind=hazard, side=side),) if hazard and side else (),
            )
        )
    return found


@pytest.fixture(scope="module")
def bag() -> Bag:
    return load_bag(None)


@pytest.mark.parametrize("situation", _drawn(24), ids=str)
def test_no_side_is_named_that_the_balls_say_costs_more(bag: Bag, situation: Situation) -> None:
    try:
        plan = advise(situation, bag)
    except CaddieError:
        pytest.skip("no shot from there")
    balls = balls_of(plan, bag)
    named = {word for found in _BETTER.findall(safe_side(plan, bag)) for word in found if word}
    opposite = {"short": "long", "long": "short", "left": "right", "right": "left"}
    for side in named & set(opposite):
        gap = balls.costs_beside(Missed(side), Missed(opposite[side])) if balls else None
        assert gap is None or gap < TELLS, (side, gap)


@pytest.mark.parametrize("situation", _drawn(12), ids=str)
def test_a_reply_never_says_that_the_side_it_advises_costs_more(bag: Bag, situation: Situation) -> None:
    try:
        plan = advise(situation, bag)
    except CaddieError:
        pytest.skip("no shot from there")
    talk = Conversation(bag)
    told = talk.turn("fifty yards, fairway")
    assert told.advice
    talk.known = talk.known.changed(situation=situation, plan=plan, advised=plan.chosen)
    for question in ASKED:
        reply = talk.turn(question).spoken
        better = {word for found in _BETTER.findall(reply) for word in found if word}
        assert not better & set(_DEARER.findall(reply.lower())), reply
