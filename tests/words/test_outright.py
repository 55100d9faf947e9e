"""What is asked outright, and what only sounds like it."""

import pytest

from caddie.situation import Situation
from caddie.words import Intent, understand

ASKED = {
    "why does it run so much": "why_run",
    "how come it runs on that much": "why_run",
    "why do I land it there and not at the flag": "why_land",
    "why's there so much left": "why_left",
    "why is it only seven times in ten": "why_odds",
    "why the chest": "why_swing",
    "what's the danger here": "danger",
    "is that a lot": "judged",
    "is that good for a beginner": "judged",
    "am I going to go over the back?": "will_over_back",
    "is that too much club": "will_over_back",
    "will it hold the green": "will_hold",
    "does it get up onto the tier?": "will_climb",
    "can I reach it with that": "will_reach",
    "is that enough club": "will_reach",
    "would I be short": "will_short",
    "is there any chance I hole it": "will_hole",
    "am I going to three putt": "will_three_putt",
    "will I definitely get over the bunker with that one?": "will_clear",
    "could I end up in the bunker": "will_be_caught",
    "how far past the hole do I want it": "past_by",
    "what's my 56 number": "own_carry",
    "how far do i hit my wedges": "my_carries",
    "which club goes 80 yards": "which_goes",
    "did you take the bunker into account": "taken_in",
    "was I digging too deep or what did I do wrong": "went_wrong",
    "why did I hit it fat": "went_wrong",
    "what did I do right": "went_right",
    "I've only an hour to spare this week, what should I practise": "practise",
    "ten minutes before the round, what should I do": "practise",
    "would you still go with the fifty-two": "still",
    "which is it in the wind": "which_now",
    "I'm fierce nervous of it": "nervous",
    "that bunker scares me": "nervous",
    "I don't really know how you're supposed to get out of it": "how_to",
    "for a six on a par four": "score",
    "that's a bogey five": "score",
    "what's a tap in": "meaning",
    "whats just past the hip mean": "meaning",
}
TOLD = (
    "fifty yards, bunker short, flag back",
    "I'm in the bunker, twelve yards to the flag",
    "left it in the bunker",
    "thinned it over the back",
    "hole 7, par 4, 94 yards",
    "had four feet left and missed it",
    "up and down for par",
    "I'm afraid it took me three to get down from there",
    "sixty yards, will it hold?",
)
ELSEWHERE = (
    "will the shop still be open when we finish",
    "why does my phone run so hot",
    "I'm nervous about the wedding speech",
    "what should I cook for dinner tonight",
    "did you see the match last night",
    "could you order me a taxi",
)


@pytest.mark.parametrize("said", ASKED)
def test_what_is_asked(said: str) -> None:
    heard = understand(said)
    assert heard.asks[:1] == (ASKED[said],)
    assert heard.situation == Situation()
    assert heard.result is None


@pytest.mark.parametrize("said", TOLD)
def test_what_is_told_is_no_question_alone(said: str) -> None:
    heard = understand(said)
    assert heard.situation != Situation() or heard.intent is Intent.RESULT


@pytest.mark.parametrize("said", ELSEWHERE)
def test_other_talk_asks_nothing(said: str) -> None:
    assert understand(said).asks == ()
