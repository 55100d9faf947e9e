"""Every question of a turn is answered, as what it is, in the words allowed aloud (common practice, no source)."""

import re
from itertools import cycle, permutations

import pytest

from caddie.bag import load_bag
from caddie.ball.ground import Surface
from caddie.plan.choose import advise
from caddie.plan.misses import Missed, balls_of
from caddie.reply.spoken import most_words
from caddie.talk.conversation import Conversation
from caddie.words import understand

SHOTS = {
    "pitch": "seventy yards, light rough, bunker short, flag in the middle",
    "splash": "eight yards, greenside bunker, flag in the middle",
    "fringe": "twelve yards, fringe, flat",
    "putt": "fifteen foot putt, slightly downhill, breaks right to left",
}
QUESTIONS = {
    "pitch": {
        "what if I chunk it?": "heavy one",
        "what if I thin it over the back?": "thin one",
        "what if it comes out hot?": "hot one",
        "where's the miss?": "miss it|costs",
        "how far does it run?": "runs|stops",
        "where do I aim?": "aim",
        "what does it leave me?": "half end",
        "what does carry mean?": "carry is",
        "how high does it go?": "high",
        "would the sixty stop quicker?": "yes|no: it runs",
    },
    "splash": {
        "do I hit the ball or the sand?": "the sand, not the ball",
        "why the open face?": "sole",
        "what if I hit it heavy?": "heavy one",
        "is there something gentler?": "swing|hands",
        "is it better to be short or long?": "short|long",
    },
    "fringe": {
        "what if it jumps?": "hot one",
        "should I be short or long?": "short|long",
        "why the putter?": "green|putter",
        "what does fringe mean?": "fringe",
    },
    "putt": {
        "should it die in the hole?": "fewest putts|stays short|it drops",
        "what if I run it by?": "long",
        "where do I start it?": "start",
        "what does grain mean?": "grain",
    },
}
"""Questions of one shot, and what tells that each was answered."""
JOINED = ("{} {}", "{} And {}", "Um, {} Sorry, and {}")


def asked(shot: str, turn: str) -> str:
    talk = Conversation(load_bag())
    talk.turn(SHOTS[shot])
    return talk.turn(turn).spoken


@pytest.mark.parametrize(
    ("shot", "question", "answer"),
    [(shot, *each) for shot, questions in QUESTIONS.items() for each in questions.items()],
)
def test_each_is_answered_as_what_it_is(shot: str, question: str, answer: str) -> None:
    assert re.search(answer, asked(shot, question).lower())


@pytest.mark.parametrize("shot", QUESTIONS)
def test_of_two_in_one_breath_both_are_answered_in_the_words_for_two(shot: str) -> None:
    unanswered = []
    pairs = permutations(QUESTIONS[shot].items(), 2)
    for ((one, first), (other, second)), joined in zip(pairs, cycle(JOINED), strict=False):
        spoken = asked(shot, joined.format(one, other))
        told = all(re.search(answer, spoken.lower()) for answer in (first, second))
        if not told or len(spoken.split()) > most_words(2):
            unanswered.append((joined.format(one, other), spoken))
    assert not unanswered


@pytest.mark.parametrize("shot", QUESTIONS)
@pytest.mark.parametrize("fact", ["It's fairly firm, to be honest.", "The greens are quick."])
def test_a_fact_of_the_same_breath_takes_no_question_away(shot: str, fact: str) -> None:
    unanswered = [
        (question, spoken)
        for question, answer in QUESTIONS[shot].items()
        if not re.search(answer, (spoken := asked(shot, f"{fact} {question}")).lower())
    ]
    assert not unanswered


@pytest.mark.parametrize(
    "question",
    [
        "what's the offset of this club and is it heavy on the ball?",
        "does the ball spin like a top in the wind?",
    ],
)
def test_what_cannot_be_told_is_said_to_be_so(question: str) -> None:
    spoken = asked("pitch", f"where do I aim? {question}")
    assert "aim" in spoken.lower()
    assert len(spoken.split(". ")) > 1


@pytest.mark.parametrize("shot", ["pitch", "fringe", "splash"])
def test_the_shot_advised_named_in_doubt_gets_its_reason(shot: str) -> None:
    """ "The putter, really?" never hears that it was given, nor that it is no harder."""
    plan = advise(understand(SHOTS[shot]).situation, load_bag())
    club = next(each for each in load_bag().clubs if each.id == plan.chosen.club)
    spoken = asked(shot, f"{club.name}?")
    assert re.search("green|within|trouble", spoken.lower())


@pytest.mark.parametrize("shot", SHOTS)
def test_the_balls_of_a_shot_cost_what_the_plan_says(shot: str) -> None:
    """The misses told apart are the plan's own balls: their mean is its expectation."""
    bag = load_bag()
    plan = advise(understand(SHOTS[shot]).situation, bag)
    balls = balls_of(plan, bag)
    assert balls is not None
    assert balls.strokes.mean() == pytest.approx(plan.chosen.strokes, abs=0.05)
    if plan.chosen.heavy:
        heavy = balls.of(Missed.HEAVY)
        assert heavy is not None
        assert heavy.share == pytest.approx(plan.chosen.heavy, abs=0.02)
        assert heavy.costs > 0


def test_with_water_behind_some_thin_ones_are_in_it_and_the_places_are_all_of_them() -> None:
    bag = load_bag()
    balls = balls_of(advise(understand("thirty yards, fairway, water long").situation, bag), bag)
    thin = balls.of(Missed.THIN) if balls is not None else None
    assert thin is not None
    assert thin.places[Surface.WATER] > 0
    assert sum(thin.places.values()) == pytest.approx(1.0)
