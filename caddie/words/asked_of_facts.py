"""A fact told inside the question whether it changes anything: "does it matter that the sand is wet?"."""

import re
from functools import cache, lru_cache
from typing import Any

from caddie.situation import Lie, Situation
from caddie.words.gist import WaysByWord, by_first_word, strengths
from caddie.words.sayings import compared
from caddie.words.talk_files import lore_data, questions_data
from caddie.words.then_told import Reader

_SHORT_IS = re.compile(r"['’]s\b")


def told_before_asked(text: str, understood: Reader) -> str:
    """The text with a fact that is asked about told first: "the sand is wet. Does that change anything?"."""
    fact = fact_asked_about(text)
    if (
        fact is None
        and (asked := _behind().search(text))
        and _tells(understood(text[: asked.start()]).situation)
    ):
        return f"{text[: asked.start()].rstrip()}. {_data()['then']} {text[asked.end() :].lstrip()}".strip()
    if fact is None or not tells_in_asking(text, understood):
        return text
    found = _asked(text)
    assert found is not None
    before, after = text[: found.start()].strip(" ,"), text[found.end() :].strip()
    before = f"{before}." if before and before[-1] not in ".!?" else before
    return " ".join(filter(None, (before, f"{fact}.", _data()["then"], after)))


def tells_in_asking(text: str, understood: Reader) -> bool:
    """Whether a fact of the shot is told in the question whether it matters."""
    fact = fact_asked_about(text)
    return fact is not None and bool(circumstances_of(fact) or _tells(understood(fact).situation))


def _tells(told: Situation) -> bool:
    """Whether more is told than that there is trouble, or sand: "should I worry about the bunker?" tells nothing."""
    sand = {"lie": None} if told.lie is Lie.BUNKER else {}
    return told.model_copy(update={"hazards": (), **sand}) != Situation()


def fact_asked_about(text: str) -> str | None:
    """What is told of the shot in such a question, in the words it is told in; None where there is none."""
    found = _asked(text)
    return found["told"].strip(" ,.!") or None if found else None


@lru_cache(maxsize=512)
def _asked(text: str) -> re.Match[str] | None:
    """The question whether a fact matters, as it stands in the text."""
    return next((found for way in _ways() if (found := way.search(text))), None)


def circumstances_of(text: str) -> tuple[str, ...]:
    """The names of the circumstances that the words tell of which a teacher knows what they do, the likeliest first."""
    found = strengths(_circumstances(), compared(_SHORT_IS.sub(" is", text)))
    return tuple(sorted(found, key=found.__getitem__, reverse=True))


def what_it_does(name: str) -> tuple[str, str]:
    """Where a circumstance counts, "sand", "grass" or "putt", and what it does there."""
    told = lore_data()["circumstance"][name]
    return str(told["where"]), str(told["say"])


@cache
def _circumstances() -> WaysByWord[str]:
    told = lore_data()["circumstance"]
    return by_first_word(
        "circumstances", ((name, each) for name, one in told.items() for each in one["known_by"])
    )


@cache
def _ways() -> tuple[re.Pattern[str], ...]:
    return tuple(re.compile(each, re.IGNORECASE) for each in _data()["say"])


@cache
def _behind() -> re.Pattern[str]:
    return re.compile(_data()["behind"], re.IGNORECASE)


def _data() -> dict[str, Any]:
    found: dict[str, Any] = questions_data()["of_a_fact"]
    return found
