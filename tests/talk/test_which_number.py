"""A number that two ways of hearing disagree about is asked for once, and what was said beside it is kept."""

import pytest
from num2words import num2words

from caddie.talk.which_number import Doubt, Doubts, doubted
from caddie.words.quantities import first_number

FIFTEEN, FIFTY = "fifteen yards from the rough bunker short", "fifty yards from the rough bunker short"


def test_another_first_number_is_asked_about():
    doubt = doubted(FIFTEEN, ["fifteen yards from the rough bunkers short", FIFTY])
    assert doubt == Doubt(FIFTEEN, FIFTY)
    assert doubt.question == "Fifteen or fifty?"
    assert {"fifteen", "fifty"} <= set(doubt.answers)


@pytest.mark.parametrize("rivals", [[], [FIFTEEN], ["from the rough bunker short"], ["five thousand yards"]])
def test_what_agrees_or_cannot_be_meant_is_not(rivals):
    assert doubted(FIFTEEN, rivals) is None
    assert doubted("over the back", [FIFTY]) is None


@pytest.mark.parametrize(
    ("answer", "taken"),
    [
        ("fifty", FIFTY),
        ("it's fifty yards", FIFTY),
        ("fifteen", FIFTEEN),
        ("the first one", FIFTEEN),
        ("neither it's forty", "neither it's forty"),
        ("what about the gap wedge from here", "what about the gap wedge from here"),
    ],
)
def test_the_answer_settles_it_and_is_asked_for_once(answer, taken):
    doubts = Doubts()
    assert doubts.take(FIFTEEN, [FIFTY]) == Doubt(FIFTEEN, FIFTY)
    assert doubts.take(answer, [FIFTY, FIFTEEN]) == taken
    assert doubts.take("over the back", [FIFTY]) == "over the back"


@pytest.mark.parametrize("number", [*range(2, 130), 250, 999])
def test_the_first_number_of_a_sentence_is_read_as_a_general_library_writes_it(number):
    """num2words 0.5 writes the number."""
    said = num2words(number).replace("-", " ").replace(",", "")
    assert first_number(f"this one is {said} yards with ten to the front") == number
