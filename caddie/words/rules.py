"""Which of the Rules of Golf a question is about; the rules and their words are in ``grammars/en/rules.toml``."""

from functools import cache
from typing import Any, NamedTuple

from caddie.plan.unplayable import is_embedded, is_unplayable
from caddie.situation import IN_SAND, Obstruction, Situation
from caddie.words.gist import WaysByWord, asks_in_part, by_first_word, strengths
from caddie.words.sayings import compared
from caddie.words.talk_files import rules_data

_ABNORMAL = (Obstruction.PUDDLE, Obstruction.REPAIR, Obstruction.ANIMAL_HOLE)
"""What is an abnormal course condition, and no obstruction."""
_LIES_OTHERWISE = (
    "lie", "sitting", "against", "unplayable", "under_lip", "hampered", "tall_grass", "obstruction", "lip_m",
    "deep_bunker",
)  # fmt: skip


_ASKED, _TAKEN, _ABOUT = frozenset({"asked", "asked_there"}), "taken", "about"


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


FREE_RELIEF = "free_relief"
"""What is told of free relief where nothing is named that gives it: any other rule goes before it."""


def rule_asked(text: str) -> RuleOfGolf | None:
    """The rule that a question is about, or None where none is asked for.

    >>> rule_asked("I'm on the cart path, do I get a free drop").name, rule_asked("path left, sixty yards")
    ('path', None)
    """
    found = strengths(_index(), compared(text))
    ways = {way for way, _ in found}
    if _ASKED.isdisjoint(ways):
        return None
    rules = [
        ((rule.name != FREE_RELIEF, *found[_ABOUT, rule.name]), -at, rule)
        for at, rule in enumerate(_rules())
        if (_ABOUT, rule.name) in found and ("asked" in ways or rule.there)
    ]
    return max(rules, key=lambda each: each[:2])[2] if rules else None


def is_relief_taken(text: str) -> bool:
    """Whether free relief is told to be taken, and not asked about.

    >>> is_relief_taken("I'm taking the free drop"), is_relief_taken("do I get a free drop")
    (True, False)
    """
    return not asks_in_part(text) and (_TAKEN, "") in strengths(_index(), compared(text))


def rule_named(name: str) -> RuleOfGolf:
    """The rule of that name."""
    return next(rule for rule in _rules() if rule.name == name)


def after_relief(situation: Situation) -> Situation:
    """The situation without what the drop changes."""
    bare = Situation()
    return situation.model_copy(update={name: getattr(bare, name) for name in _LIES_OTHERWISE})


def rule_of(situation: Situation) -> RuleOfGolf | None:
    """The rule that a ball lying so may call for, or None."""
    if situation.obstruction is Obstruction.WRONG_GREEN:
        return rule_named("wrong_green")
    if situation.obstruction in _ABNORMAL:
        return rule_named("repair")
    if situation.obstruction:
        return rule_named("path")
    if is_unplayable(situation):
        return rule_named("unplayable_in_sand" if situation.lie in IN_SAND else "unplayable")
    return rule_named("embedded") if is_embedded(situation) else None


@cache
def _index() -> WaysByWord[tuple[str, str]]:
    """The ways to ask for a rule, and those to name what one is about with its name, by the words they begin with."""
    data = rules_data()
    asked = (((way, ""), each) for way in sorted({*_ASKED, _TAKEN}) for each in data[way])
    about = (((_ABOUT, rule["name"]), each) for rule in data["rule"] for each in rule["about"])
    return by_first_word("rules", (*asked, *about))


@cache
def _rules() -> tuple[RuleOfGolf, ...]:
    return tuple(_rule(each) for each in rules_data()["rule"])


def _rule(data: dict[str, Any]) -> RuleOfGolf:
    return RuleOfGolf(
        data["name"], data["say"], data["rule"], data.get("dropped", False), data.get("there", False)
    )
