"""The spoken reply: at most thirty words whatever the shot, in the order a caddie speaks.

Shots of every kind are made up here rather than planned: the planner's own are in the conversations.
"""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caddie.bag import Bag, Club, ClubKind, Family, Miss, Player, load_bag
from caddie.ball.launch import Flight
from caddie.plan.assume import complete
from caddie.plan.called import HAZARD_SAID
from caddie.plan.choose import advise
from caddie.plan.option import Option, Plan
from caddie.reply import speak, write
from caddie.reply.cue import cue_for
from caddie.reply.obstacles import first_said
from caddie.reply.phrases import club_said, one_in, times_in_ten, trouble_that_matters
from caddie.reply.situation import situation_said
from caddie.reply.spoken import MOST_WORDS
from caddie.reply.why import strokes_said, why_said
from caddie.situation import (
    Fall,
    Firmness,
    Green,
    Hazard,
    HazardKind,
    Lie,
    PinPosition,
    Side,
    Situation,
    Stance,
    Wind,
    WindFrom,
)
from caddie.units import Unit

SWINGS = (
    "hip", "chest", "shoulder", "full", "just past hip", "just short of chest", "just short of shoulder",
    "just short of full", "hip to chest", "shoulder to full", "under hip",
)  # fmt: skip

lies = st.sampled_from([lie for lie in Lie if lie is not Lie.GREEN])
hazards = st.builds(
    Hazard,
    kind=st.sampled_from(HazardKind),
    side=st.none() | st.sampled_from(Side),
    carry_m=st.none() | st.floats(1, 100),
)
greens = st.builds(
    Green,
    fall=st.none() | st.sampled_from(Fall),
    stimp_ft=st.none() | st.floats(6, 14),
    firmness=st.none() | st.sampled_from(Firmness),
)
winds = st.builds(Wind, from_=st.none() | st.sampled_from(WindFrom), speed_m_s=st.none() | st.floats(0, 20))
situations = st.builds(
    Situation,
    pin_m=st.floats(2, 110),
    lie=lies,
    stance=st.lists(st.sampled_from(Stance), max_size=2, unique=True).map(tuple),
    pin_position=st.none() | st.sampled_from(PinPosition),
    elevation_m=st.none() | st.floats(-10, 10),
    hazards=st.lists(hazards, max_size=4).map(tuple),
    green=greens,
    wind=winds,
)
shares = st.floats(0, 1)


@st.composite
def options(draw: st.DrawFn, pin_m: float, clubs: tuple[str, ...]) -> Option:
    carry_m = draw(st.floats(0.3 * pin_m, pin_m + 8))
    family = draw(st.sampled_from([each for each in Family if each is not Family.PUTT]))
    return Option(
        club=draw(st.sampled_from(clubs)),
        loft_deg=draw(st.floats(20, 62)),
        swing=draw(st.sampled_from(SWINGS)),
        share=0.5,
        family=family,
        flight=draw(st.sampled_from(Flight)),
        wide_open=draw(st.booleans()),
        carry_m=carry_m,
        run_m=draw(st.floats(-6, 40)),
        land_short_of_pin_m=pin_m - carry_m,
        aim_left_m=draw(st.floats(-9, 9)),
        strokes=draw(st.floats(1.5, 5)),
        strokes_se=0.02,
        bad_tail=4.0,
        on_green=draw(shares),
        in_trouble=draw(shares),
        short_of_green=draw(shares),
        through_green=draw(shares),
        leave_m=draw(st.floats(0.2, 40)),
        heavy=draw(st.floats(0, 0.3)),
        thin=draw(st.floats(0, 0.3)),
        trust=0.5,
        trusted=draw(st.booleans()),
        rank_score=3.0,
    )


@st.composite
def plans(draw: st.DrawFn, bag: Bag) -> Plan:
    situation = draw(situations)
    complete_situation, assumed = complete(situation)
    assert complete_situation.pin_m is not None
    clubs = tuple(club.id for club in bag.clubs if club.kind is not ClubKind.PUTTER)
    found = draw(st.lists(options(complete_situation.pin_m, clubs), min_size=1, max_size=3))
    return Plan(
        situation=complete_situation,
        assumed=assumed,
        options=tuple(found),
        chosen=draw(st.sampled_from(found)),
        reasons=("It finishes on the green.",),
        considered=100,
        seed=1,
    )


def wordy_bag() -> Bag:
    """Clubs with long names, distances in metres, every miss: the hardest bag to be brief with."""
    names = ("my trusty old lob wedge", "the rusty gap wedge from the cellar", "nine iron")
    clubs = tuple(
        Club(id=name, name=name, kind=ClubKind.WEDGE, loft_deg=60 - 6 * i) for i, name in enumerate(names)
    )
    return Bag(player=Player(handicap=28, usual_misses=tuple(Miss), distances_in=Unit.METRES), clubs=clubs)


BAGS = (load_bag(None), wordy_bag())


QUESTIONS = ("", "Is the flag front, middle or back?")


def words_of(text: str) -> int:
    return len(text.split())


@pytest.mark.parametrize("bag", BAGS, ids=("demo", "wordy"))
@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_never_more_than_thirty_words(bag: Bag, data: st.DataObject) -> None:
    plan = data.draw(plans(bag))
    cue = cue_for(plan, bag)
    spoken = speak(plan, bag, cue, question=data.draw(st.sampled_from(QUESTIONS)))
    assert words_of(spoken) <= MOST_WORDS == 30
    assert words_of(why_said(plan, bag)) <= MOST_WORDS
    assert words_of(situation_said(plan.situation, bag)) <= MOST_WORDS


@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_the_order_is_distance_club_landing_trouble_cue(data: st.DataObject) -> None:
    bag = BAGS[0]
    plan = data.draw(plans(bag))
    cue = cue_for(plan, bag)
    spoken = speak(plan, bag, cue).lower()
    hazard = trouble_that_matters(plan.situation)
    first, _, rest = spoken.partition(". ")
    assert re.search(r"yards?$|paces?$", first)
    begun = cue.say.lower().partition(":")[0].partition(",")[0]
    landing = [mark for mark in (" it ",) if mark in rest[: rest.rfind(begun)]]
    # A caution said first may take the room of the cue.
    thought = [] if first_said(plan.situation) and begun not in rest else [begun.rstrip(".")]
    marks = [club_said(plan.chosen, bag).lower(), *landing, *thought]
    if hazard and HAZARD_SAID[hazard.kind] in rest[: rest.rfind(begun)]:
        marks.insert(1 + len(landing), HAZARD_SAID[hazard.kind])
    places = [rest.find(mark) for mark in marks]
    assert -1 not in places
    assert places == sorted(places)


@settings(max_examples=80, deadline=None)
@given(data=st.data())
def test_how_the_face_lies_is_always_said(data: st.DataObject) -> None:
    """The same swing with the face open goes elsewhere: brevity must not cost that word."""
    bag = BAGS[0]
    plan = data.draw(plans(bag))
    spoken = speak(plan, bag, cue_for(plan, bag))
    option = plan.chosen
    wanted = {
        Family.SPLASH: "square face" if option.flight is Flight.LOW else "open face",
    }.get(option.family) or (
        "face wide open"
        if option.wide_open
        else {Flight.HIGH: "face open", Flight.LOW: "ball back, low", Flight.STOCK: ""}[option.flight]
    )
    assert wanted in spoken


@settings(max_examples=80, deadline=None)
@given(data=st.data())
def test_sentences_begin_and_end_as_sentences_do(data: st.DataObject) -> None:
    bag = BAGS[0]
    plan = data.draw(plans(bag))
    for text in (speak(plan, bag, cue_for(plan, bag)), why_said(plan, bag)):
        assert text[0].isupper() and text[-1] in ".?!"
        assert all(part[0].isupper() for part in re.split(r"(?<=[.?!]) ", text))
        assert ".." not in text and " ." not in text and ",." not in text


@settings(max_examples=80, deadline=None)
@given(data=st.data())
def test_the_written_reply_says_everything(data: st.DataObject) -> None:
    bag = BAGS[0]
    plan = data.draw(plans(bag))
    cue = cue_for(plan, bag)
    written = write(plan, bag, cue)
    labels = [line.split(":")[0] for line in written.splitlines() if ":" in line]
    assert {"Shot", "Ball", "Odds", "Why", "Cue"} <= set(labels)
    assert ("Taken" in labels) == bool(plan.assumed)
    taken = next((line for line in written.splitlines() if line.startswith("Taken")), "")
    assert len(taken.split(", ")) == len(plan.assumed) or not plan.assumed
    assert cue.say in written
    assert f"{plan.chosen.strokes:.1f} strokes" in written


def test_a_ball_that_often_stays_in_the_sand_is_warned_of_aloud() -> None:
    shot = Situation(pin_m=7.315, lie=Lie.BUNKER, lip_m=1.5)
    plan = advise(shot, BAGS[0])
    assert plan.chosen.trouble["sand"] > 0.25
    spoken = speak(plan, BAGS[0], cue_for(plan, BAGS[0]))
    assert f"Lip stops {times_in_ten(plan.chosen.trouble['sand']).replace(' times in', ' in')}" in spoken
    dry = plan.chosen.model_copy(update={"trouble": {"sand": 0.1}})
    assert "ip stops" not in speak(plan.model_copy(update={"chosen": dry}), BAGS[0], cue_for(plan, BAGS[0]))


@settings(max_examples=80, deadline=None)
@given(data=st.data())
def test_a_question_comes_last_and_leaves_the_cue_while_there_is_room(data: st.DataObject) -> None:
    bag = BAGS[0]
    plan = data.draw(plans(bag))
    cue = cue_for(plan, bag)
    spoken = speak(plan, bag, cue, question="Is the green soft or firm?")
    assert spoken.endswith("Is the green soft or firm?")
    if plan.chosen.family is Family.PUTT:
        assert cue.say not in spoken
    elif cue.say not in spoken:
        assert len(f"{spoken} {cue.say}".split()) > MOST_WORDS


@pytest.mark.parametrize(
    ("situation", "said"),
    [
        (Situation(), ""),
        (Situation(pin_m=45.72, lie=Lie.HEAVY_ROUGH), "fifty yards, heavy rough"),
        (Situation(pin_m=3.6576, lie=Lie.GREEN), "twelve feet, on the green"),
        (
            Situation(
                pin_m=27.432, hazards=(Hazard(kind=HazardKind.BUNKER, side=Side.SHORT, carry_m=18.288),)
            ),
            "thirty yards, bunker short, twenty paces to carry",
        ),
        (
            Situation(wind=Wind(from_=WindFrom.AHEAD, speed_m_s=4.4704), green=Green(fall=Fall.AWAY)),
            "green falls away, wind against, ten miles an hour",
        ),
    ],
)
def test_a_situation_in_words(situation: Situation, said: str) -> None:
    assert situation_said(situation, BAGS[0]) == said


@given(shares)
def test_chances_grow_as_they_are_said(share: float) -> None:
    order = ["hardly ever"]
    order += [f"once in {word}" for word in "fifty thirty twenty ten nine eight seven six five four".split()]
    order += [f"{word} times in ten" for word in "three four five six seven eight nine".split()]
    order += ["nearly always"]
    assert order.index(times_in_ten(share)) <= order.index(times_in_ten(min(share + 0.11, 1.0)))
    assert order.index(times_in_ten(share)) >= 0


@given(shares)
def test_a_chance_of_trouble_is_the_same_figure_however_it_is_told(share: float) -> None:
    """One that is told as "one in six" with the shot is not "twice in ten" when it is asked for."""
    if share < 0.5:
        plain = times_in_ten(share).replace("once in", "one in").replace(" times in", " in")
        assert one_in(share) == plain


@pytest.mark.parametrize(
    ("gap", "said"),
    [
        (0.01, "a touch"),
        (-0.1, "a tenth of a stroke"),
        (0.2, "two tenths of a stroke"),
        (0.5, "half a stroke"),
        (0.7, "seven tenths of a stroke"),
        (1.0, "a stroke"),
        (1.5, "a stroke and a half"),
        (2.3, "two strokes and three tenths"),
    ],
)
def test_strokes_are_said_in_tenths(gap: float, said: str) -> None:
    assert strokes_said(gap) == said


@given(st.floats(-3, 3), shares)
def test_no_digits_are_left_for_the_ear(gap: float, share: float) -> None:
    assert not re.search(r"\d", strokes_said(gap) + times_in_ten(share))
