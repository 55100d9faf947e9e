"""Who counts in metres reads and hears neither feet nor yards, whatever is asked."""

import re
from pathlib import Path

import pytest

from caddie.bag import Bag
from caddie.bag.file import load_bag
from caddie.log.store import Log
from caddie.page.facts import facts_of
from caddie.talk.conversation import Conversation
from caddie.units import Unit

_NOT_METRIC = re.compile(r"\b(?:feet|foot|ft|\w+-footers?|footers?|yards?|yds?|mph|miles)\b|-foot\b", re.I)
# A player's own feet, and the Stimpmeter's reading, which is in feet everywhere (USGA Stimpmeter booklet).
_OF_A_BODY = re.compile(
    r"green speed [\d.]+ ft|feet (?:close|just|dug|aimed)|(?:lower|lead|back|front) foot"
    r"|the feet aimed|(?:narrow|quiet) feet|(?:above|below) (?:your|the) feet",
    re.I,
)

TALKS = {
    "pitch": [
        "42 metres, fairway, flag four metres over a front bunker, wind off the right 5 metres a second",
        "why", "what are the odds", "what about the pitching wedge", "what if the wind drops",
        "how far does the wind push it", "is that good", "safer", "play the middle", "what do you know so far",
        "how do I hit it", "three metres short", "how am I doing", "what should I practise",
    ],
    "putt": [
        "on the green, eight metres, downhill, left to right", "why", "how hard", "where do I start it",
        "will I hole it", "will I three putt", "left it a metre short", "what do I practise", "what went wrong",
    ],
    "sand": [
        "bunker, 11 metres, lip one metre, firm sand", "does it clear the lip", "why open the face",
        "thin, over the green", "what should I practise, bunkers or lag putting",
    ],
    "fringe": [
        "18 metres from the fringe, green three metres below me", "why", "what about a seven iron", "how hard",
        "half an hour to practise", "ten minutes before the round", "what should I practise putting",
    ],
    "tree": [
        "30 metres, heavy rough, ball above my feet, tree in front, five metres high", "why", "how high does it go",
    ],
    "water": [
        "60 metres, divot, upslope, green four metres above me, water short, into wind 8 metres a second", "why",
        "does it carry the water", "how much room do I have", "what about the 56", "practise short putts",
    ],
}  # fmt: skip


@pytest.fixture(scope="module")
def metric_bag() -> Bag:
    bag = load_bag()
    player = bag.player.model_copy(update={"distances_in": Unit.METRES, "putts_in": None})
    return bag.model_copy(update={"player": player})


@pytest.mark.parametrize("name", TALKS)
def test_no_feet_for_a_player_in_metres(name: str, metric_bag: Bag, tmp_path: Path) -> None:
    talk = Conversation(metric_bag, log=Log(tmp_path / "log.db"))
    for said in TALKS[name]:
        turn = talk.turn(said)
        shown = [
            f"{fact.shown} {fact.unit}"
            for fact in facts_of(talk.known.situation, metric_bag.player)
            if fact.name != "green.stimp_ft"
        ]
        for line in (turn.spoken, *turn.written.split("\n"), *shown):
            assert not _NOT_METRIC.search(_OF_A_BODY.sub("", line)), (said, line)
