"""What is asked outright: of the shot in play, the one just told, practice or the score.

The words of such a question tell nothing of a shot, however much they may read as facts of one: "could I end up
in the bunker?" puts no ball in the sand. The ways are in ``grammars/en/questions.toml``.
"""

import re
from functools import cache

from caddie.situation import Situation
from caddie.words.facts import Intent, Understanding
from caddie.words.gist import (
    MOST_WORDS,
    Strength,
    WaysByWord,
    asks_meaning,
    by_first_word,
    gist_strength,
    gists_of,
    is_question,
    strengths,
    supposes,
)
from caddie.words.sayings import bare, compared, sayings_of, sentences_of
from caddie.words.talk_files import questions_data, turn_data

YES_OR_NO = "will_"
"""Begins the names of what is answered by yes or no."""
TELL_NO_RESULT = ("score", "nervous")
"""What a result that is told goes before: "I'm afraid it took me three"."""
_STOP_INSIDE = re.compile(r"[,;:.!?…]+\s+\S")
_ASKING = (Intent.WHAT_IF, Intent.WHY)
_MAY_BE_NAMED = (
    "hazards",
    "lie",
    "lie_guessed",
    "hampered",
    "stance",
    "pin_position",
    "front_m",
    "greenside",
)
"""Facts that the words of a question itself read as."""


def asked_outright(heard: Understanding) -> str | None:
    """The name of what is asked, or None where something is told or nothing of the kind is asked."""
    words = compared(heard.heard)
    if not words or len(words) > MOST_WORDS or asks_meaning(heard.heard):
        return None
    if not set(sayings_of(heard.heard)) <= _give_way():
        return None
    asking = is_question(heard.heard) or _begins_asking(heard.heard)
    found: dict[str, Strength] = {}
    for (kind, name), strength in strengths(_index(), words, _unless).items():
        if kind == "told" or asking:
            found[name] = max(found.get(name, strength), strength)
    if found and max(found.values()).own < gist_strength(heard.heard, _give_way()):
        return None
    first = compared(bare(heard.heard))[:1]
    if set(first) <= _wh() and _chances().isdisjoint(words):
        # "What's the landing spot from the edge" asks for no yes or no.
        found = {name: own for name, own in found.items() if not name.startswith(YES_OR_NO)}
    order = {name: at for at, name in enumerate(_ways())}
    likeliest = sorted(found, key=lambda name: (-found[name].own, -found[name].slots, order[name]))
    return next((name for name in likeliest if _may_be(name, heard)), None)


def asks_in_two_halves(heard: Understanding) -> bool:
    """Whether one sentence asks of the length or the place that it begins with, so that nothing is told by that."""
    spans = set(questions_data()["spans"]["names"])
    return not spans.isdisjoint(heard.asks[:1]) and len(sentences_of(heard.heard)) == 1


def _begins_asking(text: str) -> bool:
    """Whether it begins as a wish to be told: "remind me", "have you"."""
    return (
        compared(bare(text))[:1] != ()
        and compared(bare(text))[0] in questions_data()["begins"]["say"].split()
    )


def without_what_is_told(heard: Understanding, name: str) -> Understanding:
    """The question alone, with the club and the swing that it names."""
    intent = heard.intent if heard.intent in _ASKING else Intent.OUT_OF_SCOPE
    return Understanding(
        heard=heard.heard,
        intent=intent,
        asks=(name,),
        club=heard.club,
        swing=heard.swing,
        family=heard.family,
        flight=heard.flight,
    )


def _may_be(name: str, heard: Understanding) -> bool:
    """Whether the facts read from the same words leave room for the question."""
    data = questions_data()
    counts = name in data["counts"]["names"]
    if heard.situation.pin_m is not None and not counts:
        return False
    result, asking = heard.result is not None, is_question(heard.heard)
    if result and heard.result is not None and heard.result.distance_m is not None and not counts:
        return False
    names_a_shot = heard.club or heard.swing or heard.family or heard.flight
    if heard.intent is Intent.WHAT_IF and names_a_shot and name not in data["of_a_club"]["names"]:
        return False
    inside = _STOP_INSIDE.search(bare(heard.heard)) is not None
    facts = heard.situation.model_copy(update={"pin_m": None}) if counts else heard.situation
    told = facts != Situation() or (result and heard.intent is Intent.RESULT)
    if inside and told and not _tells_nothing(heard.heard) and name not in data["spans"]["names"]:
        # Another clause may tell it: the turn is cut first.
        return False
    if name in TELL_NO_RESULT and not _results().isdisjoint(gists_of(heard.heard)):
        # "I two-putted from there for a par" tells of a ball first.
        return False
    if name in TELL_NO_RESULT and (heard.down_in is not None or (result and not asking and name != "score")):
        return False
    if name in data["of_anything"]["names"]:
        return True
    if supposes(heard.heard) and heard.situation != Situation():
        return False
    untold = Situation()
    may_stand = {name: getattr(untold, name) for name in (*_MAY_BE_NAMED, "pin_m")}
    return heard.situation.model_copy(update=may_stand) == untold


def _tells_nothing(text: str) -> bool:
    """Whether it begins as what tells nothing, whatever it names: "why does it not jump out of the wet fringe"."""
    return compared(bare(text))[:1] in {
        (word,) for word in questions_data()["begins"]["tells_nothing"].split()
    }


@cache
def _results() -> frozenset[str]:
    return frozenset(turn_data()["results"])


@cache
def _give_way() -> frozenset[str]:
    return frozenset(questions_data()["gives_way"]["names"])


@cache
def _wh() -> frozenset[str]:
    return frozenset(questions_data()["begins"]["no_yes_or_no"].split())


@cache
def _chances() -> frozenset[str]:
    return frozenset(questions_data()["begins"]["chances"].split())


@cache
def _ways() -> dict[str, None]:
    """Every name, in the order of the file."""
    return dict.fromkeys([*questions_data()["asked"], *questions_data()["told"]])


@cache
def _index() -> WaysByWord[tuple[str, str]]:
    """Every way, with its kind and what it asks, by the words it may begin with."""
    told = (
        ((kind, name), each)
        for kind in ("asked", "told")
        for name, written in questions_data()[kind].items()
        for each in written
    )
    return by_first_word("questions", told)


@cache
def _unless(told: tuple[str, str]) -> frozenset[str]:
    return frozenset(questions_data()["unless"].get(told[1], ()))
