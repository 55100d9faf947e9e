"""Cues: short, positive, each of use, and what a teacher would say to this pupil here.

The choices asked for in the examples are common practice in teaching, no source.
"""

import itertools
from typing import Any

import pytest

from caddie.bag import Bag, Family, Miss, load_bag
from caddie.ball.launch import Flight
from caddie.plan.assume import complete
from caddie.plan.choose import advise
from caddie.plan.option import Option, Plan
from caddie.reply.cue import best_cue, cue_for, cues, lie_kind, traits_of
from caddie.reply.phrases import OPEN, SQUARE
from caddie.situation import Hampered, Hazard, HazardKind, Lie, Side, Situation, Stance, Wind, WindFrom

NEGATIVE = ("don't", "dont", "not ", "avoid", "never", "no ", "stop", "without", "instead", "less ")
MOST_WORDS = 9
RISKS = (
    (), ("trouble_short",), ("trouble_short", "water_short"), ("trouble_long",), ("room_short",), ("wind",),
    ("heavy",), ("thin",), ("sitting_down",), ("under",), ("long_putt",), ("short_putt",),
    ("room_short", "trouble_short"), ("hard_sand",), ("sand_behind",), ("aside",), ("cramped",),
    ("long_sand",), ("collar",), ("sitting_up",), ("gale",),
)  # fmt: skip
KIND = {
    "wind": "weather",
    "long_putt": "length",
    "short_putt": "length",
    "sitting_down": "own_strike",
    "sitting_up": "own_strike",
    "gale": "stance",
    "under": "own_strike",
    "hard_sand": "own_strike",
    "aside": "own_strike",
    "long_sand": "own_strike",
    "cramped": "cramped",
    "collar": "cramped",
    "sand_behind": "stance",
}
OFF_GREEN = [lie for lie in Lie if lie is not Lie.GREEN]
FACES = {
    family: [[]] if family is Family.PUTT else [[("face", OPEN)], [("face", SQUARE)]] for family in Family
}
PLAYED_FROM = {
    Family.PUTT: [Lie.GREEN, Lie.FRINGE, Lie.FAIRWAY, Lie.BARE],
    Family.SPLASH: [Lie.BUNKER, Lie.PLUGGED],
}


def planned(bag: Bag, family: Family, situation: Situation, heavy: float = 0.02, thin: float = 0.02) -> Plan:
    """A plan whose chosen shot is of this family."""
    full, assumed = complete(situation)
    assert full.pin_m is not None
    option = Option(
        club="56",
        loft_deg=56,
        swing="hip",
        share=0.25,
        family=family,
        flight=Flight.STOCK,
        carry_m=0.7 * full.pin_m,
        run_m=0.3 * full.pin_m,
        land_short_of_pin_m=0.3 * full.pin_m,
        strokes=2.8,
        strokes_se=0.02,
        bad_tail=4.0,
        on_green=0.8,
        in_trouble=0.05,
        short_of_green=0.1,
        through_green=0.1,
        leave_m=3.0,
        heavy=heavy,
        thin=thin,
        trust=0.5,
        rank_score=2.8,
    )
    return Plan(
        situation=full, assumed=assumed, options=(option,), chosen=option, reasons=(), considered=1, seed=1
    )


def player(*misses: Miss, handicap: float = 14.0) -> Bag:
    bag = load_bag(None)
    return bag.model_copy(
        update={"player": bag.player.model_copy(update={"usual_misses": misses, "handicap": handicap})}
    )


@pytest.mark.parametrize("cue", cues(), ids=lambda cue: cue.id)
def test_a_cue_is_positive_short_and_whole(cue: Any) -> None:
    said = cue.say.lower()
    assert not [word for word in NEGATIVE if f" {word}" in f" {said}"]
    assert "n't" not in said
    assert len(said.split()) <= MOST_WORDS
    assert cue.say.endswith(".") and cue.say[0].isupper()
    assert cue.suits


def test_a_cue_suits_only_what_a_shot_can_be() -> None:
    words = {
        *(each.value for kind in (Family, Lie, Stance, Miss) for each in kind),
        *itertools.chain.from_iterable(RISKS),
        "learner",
        OPEN,
        SQUARE,
    }
    assert {cue.id: cue.suits - words for cue in cues() if cue.suits - words} == {}


def test_every_cue_is_the_best_for_some_shot() -> None:
    reached = set()
    misses = [(), *((miss.value,) for miss in Miss), ("quit", "left"), ("thin", "long")]
    stances = [(), *((stance.value,) for stance in Stance)]
    for family in Family:
        for lie in PLAYED_FROM.get(family, OFF_GREEN):
            for stance, miss, risk, learner in itertools.product(stances, misses, RISKS, (False, True)):
                traits = [("family", family.value), (lie_kind(lie, family), lie.value)]
                traits += [("stance", each) for each in stance] + [("miss", each) for each in miss]
                traits += [(KIND.get(each, "risk"), each) for each in risk]
                traits += [("player", "learner")] * learner
                for face in FACES[family]:
                    reached.add(best_cue([*traits, *face]).id)
    assert {cue.id for cue in cues()} - reached == set()


@pytest.mark.parametrize("family", Family)
def test_a_cue_is_of_the_shot_played(family: Family) -> None:
    families = {each.value for each in Family}
    for lie in PLAYED_FROM.get(family, OFF_GREEN):
        for miss in Miss:
            cue = best_cue(
                [("family", family.value), (lie_kind(lie, family), lie.value), ("miss", miss.value)]
            )
            assert family.value in cue.suits or not cue.suits & families


SHORT_WATER = (Hazard(kind=HazardKind.WATER, side=Side.SHORT, carry_m=20.0),)
EXAMPLES: list[tuple[str, Family, Situation, Bag, set[str]]] = [
    (
        "a straightforward chip",
        Family.CHIP,
        Situation(pin_m=14, lie=Lie.FAIRWAY),
        player(),
        {"like_a_putt", "brush_through", "see_it_roll"},
    ),
    (
        "water short",
        Family.PITCH,
        Situation(pin_m=45, lie=Lie.FAIRWAY, hazards=SHORT_WATER),
        player(),
        {"trust_the_loft", "finish_long"},
    ),
    (
        "a bunker short for a player who quits",
        Family.PITCH,
        Situation(pin_m=45, lie=Lie.FAIRWAY, hazards=(Hazard(kind=HazardKind.BUNKER, side=Side.SHORT),)),
        player(Miss.QUIT),
        {"finish_long"},
    ),
    (
        "a fast player",
        Family.PITCH,
        Situation(pin_m=60, lie=Lie.FAIRWAY),
        player(Miss.RUSH),
        {"even_tempo", "swing_easy"},
    ),
    (
        "a fast player's lob",
        Family.LOB,
        Situation(pin_m=20, lie=Lie.FAIRWAY),
        player(Miss.RUSH),
        {"pause"},
    ),
    (
        "a 28 handicap in a bunker",
        Family.SPLASH,
        Situation(pin_m=14, lie=Lie.BUNKER),
        player(handicap=28),
        {"splash_thump"},
    ),
    (
        "plugged",
        Family.SPLASH,
        Situation(pin_m=14, lie=Lie.PLUGGED),
        player(Miss.QUIT),
        {"dig"},
    ),
    (
        "heavy rough",
        Family.PITCH,
        Situation(pin_m=30, lie=Lie.HEAVY_ROUGH),
        player(Miss.QUIT),
        {"firm_through_grass"},
    ),
    (
        "a tight lie",
        Family.CHIP,
        Situation(pin_m=15, lie=Lie.BARE),
        player(Miss.HEAVY),
        {"ball_then_turf"},
    ),
    (
        "a divot",
        Family.PITCH,
        Situation(pin_m=50, lie=Lie.DIVOT),
        player(),
        {"punch_down", "ball_then_turf"},
    ),
    (
        "over a bunker with no room",
        Family.LOB,
        Situation(pin_m=18, room_m=3, lie=Lie.LIGHT_ROUGH),
        player(),
        {"slide_under", "commit_high"},
    ),
    (
        "into a strong wind",
        Family.PITCH,
        Situation(pin_m=60, lie=Lie.FAIRWAY, wind=Wind(from_=WindFrom.AHEAD, speed_m_s=8.0)),
        player(),
        {"swing_easy"},
    ),
    (
        "on a downslope",
        Family.PITCH,
        Situation(pin_m=30, lie=Lie.FAIRWAY, stance=(Stance.DOWNHILL,)),
        player(),
        {"down_the_slope"},
    ),
    (
        "ball below the feet",
        Family.PITCH,
        Situation(pin_m=30, lie=Lie.LIGHT_ROUGH, stance=(Stance.BALL_BELOW,)),
        player(),
        {"sit_into_it"},
    ),
    (
        "a long putt",
        Family.PUTT,
        Situation(pin_m=15, lie=Lie.GREEN),
        player(),
        {"roll_to_the_hole"},
    ),
    (
        "a short putt",
        Family.PUTT,
        Situation(pin_m=1.2, lie=Lie.GREEN),
        player(),
        {"hear_it_drop"},
    ),
]


@pytest.mark.parametrize(
    ("name", "family", "situation", "bag", "fitting"), EXAMPLES, ids=[name for name, *_ in EXAMPLES]
)
def test_what_a_teacher_would_say(
    name: str, family: Family, situation: Situation, bag: Bag, fitting: set[str]
) -> None:
    assert cue_for(planned(bag, family, situation), bag).id in fitting


def test_a_cue_that_worked_comes_first() -> None:
    bag = player(Miss.QUIT)
    plan = planned(bag, Family.PITCH, Situation(pin_m=45, lie=Lie.FAIRWAY))
    usual = cue_for(plan, bag)
    other = cue_for(plan, bag, {usual.id: 0.5})
    assert other.id != usual.id
    assert cue_for(plan, bag, {other.id: 2.0}).id == other.id
    assert cue_for(plan, bag, {usual.id: 1.5}).id == usual.id


def test_weights_never_bring_another_familys_cue() -> None:
    bag = player()
    plan = planned(bag, Family.CHIP, Situation(pin_m=12, lie=Lie.FRINGE))
    assert cue_for(plan, bag, {"splash": 50.0}).id != "splash"


def test_the_likelier_mishit_is_the_risk() -> None:
    bag = player()
    situation = Situation(pin_m=12, lie=Lie.BARE)
    heavy = planned(bag, Family.CHIP, situation, heavy=0.2, thin=0.1)
    thin = planned(bag, Family.CHIP, situation, heavy=0.1, thin=0.2)
    assert ("risk", "heavy") in traits_of(heavy.chosen, heavy.situation, bag)
    assert ("risk", "thin") in traits_of(thin.chosen, thin.situation, bag)


HABITS = [
    (
        "a slope before the habit",
        Family.PITCH,
        Situation(pin_m=30, lie=Lie.LIGHT_ROUGH, stance=(Stance.UPHILL,)),
        "up_the_slope",
    ),
    (
        "a bare lie over water",
        Family.CHIP,
        Situation(pin_m=13, lie=Lie.BARE, hazards=SHORT_WATER),
        "ball_then_turf",
    ),
    ("a chip from the fairway", Family.CHIP, Situation(pin_m=25, lie=Lie.FAIRWAY), "like_a_putt"),
    ("picked clean from sand", Family.PITCH, Situation(pin_m=55, lie=Lie.BUNKER), "clean_from_sand"),
    ("the putter through fringe", Family.PUTT, Situation(pin_m=8, lie=Lie.FRINGE), "putt_through_fringe"),
    ("a long putt", Family.PUTT, Situation(pin_m=15, lie=Lie.GREEN), "roll_to_the_hole"),
    ("a short putt", Family.PUTT, Situation(pin_m=1.2, lie=Lie.GREEN), "hear_it_drop"),
    (
        "a strong wind",
        Family.PITCH,
        Situation(pin_m=70, lie=Lie.FAIRWAY, wind=Wind(from_=WindFrom.BEHIND, speed_m_s=9.0)),
        "swing_easy",
    ),
]


@pytest.mark.parametrize(
    ("name", "family", "situation", "fitting"), HABITS, ids=[name for name, *_ in HABITS]
)
def test_what_the_shot_asks_for_comes_before_the_usual_miss(
    name: str, family: Family, situation: Situation, fitting: str
) -> None:
    """A player who quits hears of it where nothing else is pressing."""
    bag = player(Miss.QUIT)
    mishits = (0.1, 0.08) if situation.lie is Lie.BARE else (0.02, 0.02)
    assert cue_for(planned(bag, family, situation, *mishits), bag).id == fitting


@pytest.mark.parametrize("family", [Family.CHIP, Family.PITCH, Family.SPLASH, Family.BUMP_AND_RUN])
@pytest.mark.parametrize("stance", list(Stance))
@pytest.mark.parametrize(
    ("hampered", "not_said"),
    [(Hampered.STANCE, {"stand", "knees", "feet"}), (Hampered.FOLLOW_THROUGH, {"high", "full"})],
)
def test_no_cue_asks_for_what_cannot_be_done(
    family: Family, stance: Stance, hampered: Hampered, not_said: set[str]
) -> None:
    """Kneeling nobody stands tall, and a club that is stopped behind the ball finishes nowhere high."""
    lie = Lie.BUNKER if family is Family.SPLASH else Lie.LIGHT_ROUGH
    situation = Situation(pin_m=20.0, lie=lie, stance=(stance,), hampered=hampered)
    option = advise(situation, load_bag(None)).chosen.model_copy(update={"family": family})
    said = best_cue(traits_of(option, situation, load_bag(None))).say.lower()
    assert not_said.isdisjoint(said.replace(",", "").replace(".", "").split())
