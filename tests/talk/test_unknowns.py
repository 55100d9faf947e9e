"""Which question is asked: only one whose answer would change the shot."""

import pytest

from caddie.bag import Bag, load_bag
from caddie.plan.choose import advise
from caddie.plan.unknowns import UNKNOWNS, most_telling
from caddie.situation import Fall, Firmness, Green, Hazard, HazardKind, Lie, PinPosition, Side, Situation
from caddie.units import YARD_M


@pytest.fixture(scope="module")
def bag() -> Bag:
    return load_bag(None)


def yards(count: float, **facts: object) -> Situation:
    return Situation.model_validate({"pin_m": count * YARD_M, **facts})


FULLY_SAID = {
    "lie": Lie.FAIRWAY,
    "pin_position": PinPosition.MIDDLE,
    "green": Green(firmness=Firmness.MEDIUM, fall=Fall.TOWARD, fall_slope=0.02),
}


def test_nothing_is_asked_when_everything_is_said(bag: Bag) -> None:
    said = yards(50, **FULLY_SAID)
    assert most_telling(said, advise(said, bag), bag) is None


def test_the_lie_comes_first_when_it_is_unsaid(bag: Bag) -> None:
    """A putter or a clean strike planned from an unknown lie cannot be played from sand or deep grass."""
    for distance in (10, 40):
        said = yards(distance)
        gap = most_telling(said, advise(said, bag), bag)
        assert gap is not None and gap.field == "lie"


def test_what_was_asked_is_not_asked_again(bag: Bag) -> None:
    said = yards(40)
    plan = advise(said, bag)
    gap = most_telling(said, plan, bag, asked=("lie",))
    assert gap is None or gap.field != "lie"
    assert most_telling(said, plan, bag, asked=[each.field for each in UNKNOWNS]) is None


@pytest.mark.parametrize(
    "said",
    [
        yards(40),
        yards(20, lie=Lie.LIGHT_ROUGH),
        yards(35, lie=Lie.FAIRWAY, hazards=[Hazard(kind=HazardKind.BUNKER, side=Side.SHORT)]),
        yards(60, lie=Lie.LIGHT_ROUGH),
        yards(90, lie=Lie.FAIRWAY),
    ],
    ids=lambda said: f"{said.pin_m / YARD_M:.0f} yards, {said.lie}",
)
def test_some_answer_to_what_is_asked_changes_the_shot(bag: Bag, said: Situation) -> None:
    plan = advise(said, bag)
    gap = most_telling(said, plan, bag)
    if gap is None:
        return
    shot = (plan.chosen.club, plan.chosen.swing, plan.chosen.flight, plan.chosen.wide_open)
    others = [advise(answer(said), bag).chosen for _, answer in gap.answers]
    assert any((each.club, each.swing, each.flight, each.wide_open) != shot for each in others)


def test_the_answer_closes_the_question(bag: Bag) -> None:
    said = yards(40)
    gap = most_telling(said, advise(said, bag), bag)
    assert gap is not None
    told = gap.answers[0][1](said)
    again = most_telling(told, advise(told, bag), bag)
    assert again is None or again.field != gap.field
