"""What the caddie can tell of the game: what a word means, how a kind of shot is swung, what to practise."""

from collections.abc import Collection
from functools import cache

from caddie.words.gist import WaysByWord, by_first_word, strengths
from caddie.words.sayings import compared
from caddie.words.talk_files import glossary_data, lore_data, talk_data


def walk() -> dict[str, str]:
    """The stops of the walk to the ball and their questions, in order."""
    return {entry["stop"]: entry["ask"] for entry in talk_data()["walk"]}


def meaning_of(text: str) -> str | None:
    """What the word of the game that ``text`` asks about means; the longest one named."""
    words = f" {' '.join(compared(text))} "
    named = [
        (len(said), term["means"])
        for term in glossary_data()
        for said in term["said"]
        if f" {said} " in words
    ]
    return max(named)[1] if named else None


def asks_for(text: str, name: str) -> bool:
    """Whether a text asks for what ``lore.toml`` has ways to ask for by this name, written as in ``gist.toml``."""
    return bool(strengths(_ways_of_asking(name), compared(text)))


@cache
def _ways_of_asking(name: str) -> WaysByWord[str]:
    return by_first_word(name, ((name, each) for each in lore_data()[name]))


def technique(traits: Collection[str]) -> str:
    """How a shot is set up and swung that is all of these, in the words of the cues."""
    fitting = (entry for entry in lore_data()["technique"] if set(entry["when"]) <= set(traits))
    return str(next(fitting)["say"])


def practice_for(fault: str) -> str:
    """What to practise against a fault."""
    return str(lore_data()["practice"][fault])


def remedy_for(fault: str, *, sand: bool = False, grass: bool = False) -> str:
    """What to do against a fault next time, without its cause."""
    return cause_of(fault, sand=sand, grass=grass).rpartition(_NEXT_TIME)[2]


_NEXT_TIME = "Next time "


def cause_of(fault: str, *, sand: bool = False, grass: bool = False) -> str:
    """The likely cause of a fault, and what to do next time; of sand or long grass where they have their own."""
    causes = lore_data()["cause"]
    lie = "sand" if sand else "grass" if grass else ""
    return str(causes.get(f"{lie}_{fault}") or causes[fault])
