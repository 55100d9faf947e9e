"""How a shot is played, from every lie and slope: what is told of the face and the strike agrees with the shot."""

from itertools import product

import pytest

from caddie.bag import Family
from caddie.bag.file import load_bag
from caddie.plan.choose import advise
from caddie.reply.cue import cue_for
from caddie.reply.phrases import OPEN, SQUARE, face_said
from caddie.situation import Lie, Sand, Situation, Stance
from caddie.talk.asked import motion
from caddie.talk.face import face
from caddie.talk.ground import sand
from caddie.units import YARD_M

BAG = load_bag()
STANCES = ((), *((stance,) for stance in Stance))
SANDS = [
    Situation(pin_m=15 * YARD_M, lie=Lie.BUNKER, sand=each, stance=stance)
    for each, stance in product((None, *Sand), STANCES)
]
BURIED = [Situation(pin_m=20 * YARD_M, lie=Lie.PLUGGED, stance=stance) for stance in STANCES]
GRASS = [
    Situation(pin_m=22 * YARD_M, lie=lie, stance=stance)
    for lie, stance in product((Lie.FAIRWAY, Lie.HEAVY_ROUGH, Lie.BARE, Lie.DIVOT, Lie.PINE_STRAW), STANCES)
]
OF_THE_SLOPE = {
    Stance.UPHILL: ("slope", "hill"),
    Stance.DOWNHILL: ("slope", "hill"),
    Stance.BALL_ABOVE: ("grip down",),
    Stance.BALL_BELOW: ("stay down",),
}


def faces_named(text: str) -> set[str]:
    """The faces that a sentence sets, "open the face" as "open face"."""
    said = text.lower().replace("the face", "face").replace("face well open", "open face")
    return {name for name in (OPEN, SQUARE) if f"{name} face" in said or f"face {name}" in said}


def _named(situation: Situation) -> str:
    told = (situation.lie, situation.sand, *situation.stance)
    return "-".join(each.value for each in told if each is not None)


@pytest.mark.parametrize("situation", [*SANDS, *BURIED, *GRASS], ids=_named)
def test_what_is_told_of_a_shot_agrees_with_it(situation: Situation) -> None:
    bag = BAG
    plan = advise(situation, bag, seed=1)
    (told,) = motion(plan, bag)
    if plan.chosen.family is not Family.PUTT:
        named = (
            faces_named(told) | faces_named(cue_for(plan, bag).say) | faces_named(" ".join(sand(plan, bag)))
        )
        assert named <= {face_said(plan.chosen)}, told
        assert faces_named(face(plan, bag)[0]) <= {face_said(plan.chosen)}
        for stance in situation.stance:
            assert any(word in told.lower() for word in OF_THE_SLOPE[stance]), told
    if plan.chosen.family is Family.SPLASH:
        assert "sand" in told or situation.lie is Lie.PLUGGED, told
        assert ("an inch behind" in told) <= (
            "an inch behind" in " ".join(sand(plan, bag)) or situation.sand is None
        )
    elif situation.lie in (Lie.BUNKER, Lie.BARE, Lie.DIVOT, Lie.PINE_STRAW) and not situation.stance:
        assert "ball first" in told.lower() or plan.chosen.family is Family.PUTT, told
