"""Whether a turn may refuse a club is told by a word or two, before anything of it is read."""

import pytest

from caddie.talk.refused_clubs import NO_PUTTER, REFUSED
from caddie.words.sayings import template
from caddie.words.talk_files import asked_data, gist_data, lore_data
from caddie.words.templates import expansions

WAYS = [
    *gist_data()["gist"][REFUSED],
    *gist_data()["gist"][NO_PUTTER],
    *asked_data()["sayings"][NO_PUTTER],
]


@pytest.mark.parametrize("way", WAYS)
def test_no_way_to_refuse_a_club_is_without_a_word_of_refusal(way: str) -> None:
    words = set(lore_data()["refusing"])
    said = [each for each in expansions(template(way)) if words.isdisjoint(each)]
    assert said == []
