"""Reasons a player wants: what catches the ball and how often, and no hundredths dressed up as reasons."""

import pytest

from caddie.bag import Bag, load_bag
from caddie.plan.assume import complete
from caddie.plan.choose import advise
from caddie.plan.option import Option
from caddie.plan.reasons import reasons_for, swing_words
from caddie.plan.trust import AS_GOOD
from caddie.situation import Hazard, HazardKind, Lie, Side, Situation
from caddie.units import YARD_M

BAG = load_bag()
CHOSEN = advise(Situation(pin_m=60 * YARD_M, lie=Lie.FAIRWAY), BAG).chosen.model_copy(
    update={"trusted": False, "club": "56", "swing": "chest", "owned": True}
)


def told(
    chosen: Option,
    *others: Option,
    bag: Bag = BAG,
    lie: Lie = Lie.FAIRWAY,
    hazards: tuple[Hazard, ...] = (),
) -> list[str]:
    situation, _ = complete(Situation(pin_m=60 * YARD_M, lie=lie, hazards=hazards))
    options = (chosen, *others)
    best = min(options, key=lambda option: option.rank_score)
    return list(reasons_for(chosen, best, options, situation, bag))


def short(kind: HazardKind) -> Hazard:
    return Hazard(kind=kind, side=Side.SHORT)


def test_each_trouble_is_told_with_its_own_share():
    chosen = CHOSEN.model_copy(update={"trouble": {"water": 0.04, "trees": 0.2}, "in_trouble": 0.24})
    reasons = told(chosen, hazards=(short(HazardKind.WATER), short(HazardKind.TREES)))
    assert "The water catches it 4 % of the time." in reasons
    assert "The trees catch it 20 % of the time." in reasons


def test_out_of_bounds_and_the_sand_are_said_as_players_say_them():
    chosen = CHOSEN.model_copy(update={"trouble": {"out_of_bounds": 0.03, "sand": 0.11}, "in_trouble": 0.14})
    beyond = (Hazard(kind=HazardKind.OUT_OF_BOUNDS, side=Side.LONG),)
    assert "It goes out of bounds 3 % of the time." in told(chosen, hazards=beyond)
    in_sand = told(chosen, lie=Lie.BUNKER)
    assert "It stays in the sand 11 % of the time." in in_sand
    assert not any("bunker catches" in reason for reason in in_sand)


def test_hundredths_are_no_reason():
    rival = CHOSEN.model_copy(update={"club": "52", "strokes": CHOSEN.strokes + 0.01})
    reasons = told(CHOSEN, rival)
    assert any("52-degree is as good by numbers" in reason for reason in reasons)
    assert not any("costs 0.0" in reason for reason in reasons)
    clear = rival.model_copy(update={"strokes": CHOSEN.strokes + 0.08})
    assert any("52-degree costs 0.08 strokes more" in reason for reason in told(CHOSEN, clear))


def test_a_rival_better_on_paper_is_not_called_as_good():
    chosen = CHOSEN.model_copy(update={"trusted": True, "rank_score": 3.07, "strokes": 3.07})
    best = CHOSEN.model_copy(update={"club": "52", "owned": False, "rank_score": 3.0, "strokes": 3.0})
    second = best.model_copy(update={"club": "PW", "rank_score": 3.01, "strokes": 3.01})
    reasons = told(chosen, best, second)
    assert "You have measured the 56-degree to the chest; the 52-degree is better by only 0.07" in reasons[1]
    assert not any("as good" in reason for reason in reasons)


def test_a_trusted_near_tie_says_that_both_are_as_good():
    chosen = CHOSEN.model_copy(update={"trusted": True, "rank_score": 3.01, "strokes": 3.01})
    best = CHOSEN.model_copy(update={"club": "52", "owned": False, "rank_score": 3.0, "strokes": 3.0})
    assert AS_GOOD > 0.01
    wanted = "The 52-degree is as good by numbers; you have measured the 56-degree to the chest."
    assert wanted in told(chosen, best)


def test_an_estimate_is_not_called_measured():
    clubs = tuple(
        club.model_copy(
            update={"carries": tuple(cell.model_copy(update={"shots": 0}) for cell in club.carries)}
        )
        for club in BAG.clubs
    )
    bag = BAG.model_copy(update={"clubs": clubs})
    chosen = CHOSEN.model_copy(update={"trusted": True, "rank_score": 3.01})
    best = CHOSEN.model_copy(update={"club": "52", "owned": False, "rank_score": 3.0})
    reasons = told(chosen, best, bag=bag)
    assert not any("have measured" in reason for reason in reasons)
    assert "No ball of the 56-degree was measured yet: its carries are estimates." in reasons
    assert not any("estimates" in reason for reason in told(chosen, best))


def test_a_small_aim_is_no_reason_and_a_far_one_is_walked():
    for aim_m, saves, said in (
        (0.6, 0.05, ""),
        (3.0, 0.01, ""),
        (-2.0, 0.05, "7 feet right"),
        (6.4, 0.2, "7 yards left"),
    ):
        chosen = CHOSEN.model_copy(update={"aim_left_m": aim_m, "aim_saves": saves})
        aimed = [reason for reason in told(chosen) if reason.startswith("Aimed")]
        assert (said in aimed[0]) if said else not aimed


@pytest.mark.parametrize(
    ("swing", "words"),
    [
        ("chest", "to the chest"),
        ("full", "with a full swing"),
        ("just short of full", "just short of a full swing"),
        ("just past hip", "just past the hip"),
        ("hip to chest", "between hip and chest"),
        ("under hip", "below the hip"),
    ],
)
def test_swings_in_reasons(swing: str, words: str):
    assert swing_words(CHOSEN.model_copy(update={"swing": swing})) == words


def test_trouble_is_called_by_the_name_it_was_given():
    chosen = CHOSEN.model_copy(update={"trouble": {"water": 0.04, "trees": 0.2}, "in_trouble": 0.24})
    ditch = Hazard(kind=HazardKind.WATER, side=Side.SHORT, called="ditch")
    brambles = Hazard(kind=HazardKind.TREES, side=Side.LONG, called="brambles")
    reasons = told(chosen, hazards=(ditch, brambles))
    assert "The ditch catches it 4 % of the time." in reasons
    assert "The brambles catch it 20 % of the time." in reasons
    pond = Hazard(kind=HazardKind.WATER, side=Side.LEFT, called="pond")
    assert "The water catches it 4 % of the time." in told(chosen, hazards=(ditch, pond))


def test_a_name_changes_no_figure():
    named, plain = (
        advise(
            Situation(
                pin_m=60 * YARD_M,
                lie=Lie.FAIRWAY,
                hazards=(Hazard(kind=HazardKind.WATER, side=Side.SHORT, called=called),),
            ),
            BAG,
        )
        for called in ("canyon", None)
    )
    assert named.chosen == plain.chosen
