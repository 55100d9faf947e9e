"""Which adjectives tell of the ground."""

import pytest

from caddie.situation import Green, HazardKind, Situation
from caddie.words import understand


@pytest.mark.parametrize(
    "text",
    ["soft green, forty yards", "forty yards, it's very soft", "forty yards, soft, flag back"],
)
def test_the_ground_is_soft(text: str) -> None:
    assert understand(text).situation.green.firmness == "soft"


@pytest.mark.parametrize(
    "text",
    [
        "I do have a lovely soft feel with the sixty", "it came out super soft, forty yards",
        "with my soft hands, forty yards", "I need to slow down, forty yards", "give me a quick answer, forty yards",
    ],
)  # fmt: skip
def test_what_is_said_of_something_else_is_no_fact(text: str) -> None:
    assert understand(text).situation.green == Green()


@pytest.mark.parametrize("text", ["it's not soft at all", "I never said the green was soft"])
def test_a_green_denied_is_told(text: str) -> None:
    heard = understand(text)
    assert (heard.not_green, heard.situation) == (Green(firmness="soft"), Situation())


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("What water? There's no water.", HazardKind.WATER),
        ("forget the bunker", HazardKind.BUNKER),
    ],
)
def test_trouble_denied_is_told(text: str, kind: HazardKind) -> None:
    heard = understand(text)
    assert (heard.gone, heard.situation) == ((kind,), Situation())
