"""Topics: what is asked of the shot in play is known by words of a few lists, in whatever order they stand."""

import pytest
from utterances import lines

from caddie.talk.kinds import BY_SAYING
from caddie.words.gist import intent_of
from caddie.words.talk_files import read_grammar
from caddie.words.topics import OF_A_PUTT, OF_A_RESULT, OF_A_SHOT, OF_ANOTHER, loose_kinds, topic_of

ASKED = {
    "why_run": (OF_A_SHOT, "what has it trickling on at all when it comes down so steep?"),
    "why_stops": (OF_A_SHOT, "two paces of run, what pulls it up so sharp?"),
    "why_land": (OF_A_SHOT, "how did you come up with that landing spot?"),
    "why_left": (OF_A_SHOT, "why must I expect such a long putt from only sixty yards?"),
    "why_odds": (OF_A_SHOT, "on what account are my chances no better than that?"),
    "why_swing": (OF_A_SHOT, "what's the reason for such a small little swing?"),
    "why_not": (OF_A_SHOT, "what would be the disadvantage of the pitching wedge?"),
    "why_line": (OF_A_PUTT, "what's the reason for aiming off the hole?"),
    "why_pace": (OF_A_PUTT, "how come you want me to roll it past its length?"),
    "why_worse": (OF_ANOTHER, "what makes the fifty-two dearer?"),
    "will_over_back": (OF_A_SHOT, "is there a risk of it running off the rear of the green?"),
    "will_hold": (OF_A_SHOT, "will the ball come to rest once it pitches, does the green hold it?"),
    "will_reach": (OF_A_SHOT, "will I get all the way up to it with that?"),
    "will_hole": (OF_A_PUTT, "out of a hundred, how many of these fall?"),
    "past_by": (OF_A_PUTT, "how many feet past, when it misses?"),
    "firm_pace": (OF_A_PUTT, "if I bang it in, how much break do I take out?"),
    "die_pace": (OF_A_PUTT, "what if it just topples over the lip, is it more break?"),
    "leaves": (OF_A_SHOT, "how long is my putt going to be after this?"),
    "danger": (OF_A_SHOT, "where do I not want to be?"),
    "doubt_far": (OF_A_SHOT, "no, that's going to fly way past the pin"),
    "doubt_short": (OF_A_SHOT, "I reckon that comes up well short of it"),
    "doubt_small": (OF_A_SHOT, "that swing is way too tiny"),
    "doubt_able": (OF_A_SHOT, "I doubt my skill is equal to such a stroke"),
    "habit": (OF_A_SHOT, "I pull every one of these left"),
    "nervous": (OF_A_SHOT, "my hands are shaking over this"),
    "which_now": (OF_ANOTHER, "so which of them should it be?"),
    "plays_like": (OF_A_SHOT, "what's it playing into this?"),
    "safer": (OF_A_SHOT, "got anything prudent?"),
    "bolder": (OF_A_SHOT, "give me the gutsy one"),
    "gentler": (OF_A_SHOT, "I'd be happier with a shorter action"),
    "judged": (OF_A_RESULT, "was that any good?"),
}
"""Common practice, no source."""
TAKEN_OF_OTHER_TALK = 0.02
"""Share of other talk that two words of the game may be found in: "did you fix your pitch mark?"."""


@pytest.mark.parametrize("kind", ASKED)
def test_it_is_known_by_its_topic(kind: str) -> None:
    at, said = ASKED[kind]
    found = topic_of(said, {at}, changing=True)
    assert found is not None
    assert found.kind == kind


def test_other_talk_has_no_topic() -> None:
    other = [line.say for line in lines("off_topic")]
    taken = [say for say in other if any(topic_of(say, {at}, changing=True) for at in (OF_A_SHOT, OF_A_PUTT))]
    assert len(taken) < TAKEN_OF_OTHER_TALK * len(other), taken


def test_every_topic_is_answered_and_every_list_is_used() -> None:
    data = read_grammar("topics")
    kinds = {topic["kind"] for topic in data["asked"]}
    assert {kind for kind in kinds if kind not in BY_SAYING and intent_of(kind) is None} == set()
    assert loose_kinds() <= set(BY_SAYING)
    used = {name for topic in data["asked"] for name in (*topic["by"], *topic.get("unless", ()))}
    of_a_kind = {"runs_low", "plain_kind", "long_is_good", "wish_kind", "plays_it_so"}
    told_by_code = {"believed", "why_not", "only_if", "thin_word", "heavy_word", "beside_word", "less_word"}
    by_themselves = {"asked"} | of_a_kind | told_by_code
    assert used | by_themselves == set(data["words"])
