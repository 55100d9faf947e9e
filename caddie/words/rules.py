"""Which of the Rules of Golf a question is about; the rules and their words are in ``grammars/en/rules.toml``."""

from collections.abc import Sequence
from functools import cache
from typing import Any, NamedTuple

from caddie.plan.unplayable import is_embedded, is_unplayable
from caddie.situation import IN_SAND, Situation
from caddie.words.gist import GistWay, found_at, way_of
from caddie.words.sayings import compared, first_words, rules_data

_LIES_OTHERWISE = (
    "lie", "sitting", "against", "unplayable", "under_lip", "hampered", "tall_grass", "obstruction", "lip_m",
)  # fmt: skip


class RuleOfGolf(NamedTuple):
    """What the Rules offer in one case."""

    name: str
    say: str
    """In one breath."""
    rule: str
    """The same with its numbers, as it is written."""
    dropped: bool
    """Whether the ball is played from elsewhere then."""
    there: bool
    """Whether it is also asked what may be done where the ball lies."""


def rule_asked(text: str) -> RuleOfGolf | None:
    """The rule that a question is about, or None where none is asked for.

    >>> rule_asked("I'm on the cart path, do I get a free drop").name, rule_asked("path left, sixty yards")
    ('path', None)
    """
    words = compared(text)
    asked, there = (_strength(_ways(name), words) for name in ("asked", "asked_there"))
    if not asked and not there:
        return None
    found = [
        (_strength(ways, words), -at, rule)
        for at, (rule, ways) in enumerate(_rules())
        if asked or (there and rule.there)
    ]
    strength, _, rule = max(found, default=(0, 0, None), key=lambda each: each[:2])
    return rule if strength else None


def rule_named(name: str) -> RuleOfGolf:
    """The rule of that name."""
    return next(rule for rule, _ in _rules() if rule.name == name)


def after_relief(situation: Situation) -> Situation:
    """The situation without what the drop changes."""
    bare = Situation()
    return situation.model_copy(update={name: getattr(bare, name) for name in _LIES_OTHERWISE})


def rule_of(situation: Situation) -> RuleOfGolf | None:
    """The rule that a ball lying so may call for, or None."""
    if situation.obstruction:
        return rule_named("path")
    if is_unplayable(situation):
        return rule_named("unplayable_in_sand" if situation.lie in IN_SAND else "unplayable")
    return rule_named("embedded") if is_embedded(situation) else None


def _strength(ways: Sequence[GistWay], words: tuple[str, ...]) -> int:
    """How many words are those of one of the ways; 0 where none is found."""
    starts = (
        found_at(way, words, at)
        for way in ways
        for at in range(len(words))
        if words[at] in first_words(way.node)
    )
    return max((own for found in starts for own in found), default=0)


@cache
def _ways(name: str) -> tuple[GistWay, ...]:
    return tuple(way_of(each) for each in rules_data()[name])


@cache
def _rules() -> tuple[tuple[RuleOfGolf, tuple[GistWay, ...]], ...]:
    return tuple((_rule(each), tuple(way_of(way) for way in each["about"])) for each in rules_data()["rule"])


def _rule(data: dict[str, Any]) -> RuleOfGolf:
    return RuleOfGolf(
        data["name"], data["say"], data["rule"], data.get("dropped", False), data.get("there", False)
    )
