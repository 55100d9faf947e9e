"""Words of the player's own: taught in a line, read at once, never instead of what steers the talk."""

import pytest

from caddie.errors import CaddieError
from caddie.notes.own_words import TradeWordError, in_trade_words, teachable
from caddie.situation import Fall, Lie
from caddie.words import understand


@pytest.mark.parametrize(
    ("name", "meaning", "lie"),
    [
        ("the badlands", "heavy rough", Lie.HEAVY_ROUGH),
        ("Snowman", "plugged in the bunker", Lie.PLUGGED),
        ("my usual grief", "light rough", Lie.LIGHT_ROUGH),
    ],
)
def test_a_taught_word_is_read_as_what_it_means(name: str, meaning: str, lie: Lie) -> None:
    word, kept = teachable(name, meaning, {})
    said = in_trade_words(f"forty yards, {name.upper()}, flag back", {word: kept})
    heard = understand(said)
    assert (heard.situation.lie, heard.left_over) == (lie, ())
    assert understand(f"forty yards, {kept}, flag back").situation == heard.situation


@pytest.mark.parametrize(
    "said", ["grandad's carpet", "grandads carpet", "Grandad’s carpet", "grandad is carpet"]
)
def test_an_apostrophe_is_no_other_word(said: str) -> None:
    for taught in ("grandad's carpet", "grandad is carpet"):
        word, meaning = teachable(taught, "the fringe", {})
        assert word == "grandads carpet"
        assert (
            in_trade_words(f"ten yards, {said}, flag back", {word: meaning}) == "ten yards, fringe, flag back"
        )


def test_a_taught_word_may_mean_another() -> None:
    words = {"badlands": "heavy rough"}
    assert teachable("the grief", "the badlands", words) == ("grief", "heavy rough")


@pytest.mark.parametrize(
    "name",
    ["seventy", "70", "yes", "no", "stop", "undo", "next hole", "the", "it", "", "...", "left", "repeat", "help",
     "q b c d e f", "x" * 41, "fifty six thing", "competition mode", "yeah", "scratch that"],
)  # fmt: skip
def test_what_steers_the_talk_is_never_taught(name: str) -> None:
    with pytest.raises(CaddieError) as refused:
        teachable(name, "heavy rough", {}, sure=True)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    "meaning", ["gibberish wibble", "", "seventy yards", "heavy rough and wibble", "stop"]
)
def test_a_meaning_that_is_not_understood_is_refused(meaning: str) -> None:
    with pytest.raises(CaddieError):
        teachable("badlands", meaning, {})


def test_a_trade_word_is_taught_only_when_the_player_is_sure() -> None:
    with pytest.raises(TradeWordError, match="from now on"):
        teachable("the beach", "heavy rough", {})
    assert teachable("the beach", "heavy rough", {}, sure=True) == ("beach", "heavy rough")
    with pytest.raises(CaddieError, match="know"):
        teachable("the beach", "bunker", {})


def test_a_word_may_name_the_flag_or_the_green() -> None:
    word, meaning = teachable("the dingle", "the green", {})
    said = in_trade_words("forty yards to the flag, the dingle falls away", {word: meaning})
    assert understand(said).situation.green.fall is Fall.AWAY
    with pytest.raises(CaddieError, match="know"):
        teachable("the stick", "the flag", {})
    with pytest.raises(TradeWordError):
        teachable("the stick", "the green", {})
