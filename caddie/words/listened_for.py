"""What a recogniser listens for during a range session, from the words that answers are read with."""

from collections.abc import Iterable

from caddie.range.told import Command
from caddie.situation import Strike
from caddie.words.grammar import Entry, grammar
from caddie.words.numbers import spoken_forms
from caddie.words.templates import expansions, words_of

_SIDES = ("left", "right")
_USUAL_SHARE = 5
_ALONE_SHARE = 12
_CARRY_FRAMES = (
    "{} yards", "{} metres", "about {}", "about {} yards", "it went {}", "carried {}", "i got {}",
    "{} straight", "{} dead straight",
)  # fmt: skip
_LITTLE = ("a bit", "a little", "slightly", "just")
_ADJECTIVE_FRAMES = ("{}", "{}", "{}", "i hit it {}", "hit it {}")
_VERB_FRAMES = ("{}", "{}", "{}", "{} it", "i {} it")
_HABIT_FRAMES = ("{}", "{}", "{}", "{} it")
"""Of a verb that with "i" tells what one does, and not what was done."""
_FEW = 6
"""Ways of each template that are listened for as often as usual ones; the first is the most usual."""


def range_sentences() -> tuple[str, ...]:
    """Everything a recogniser has to listen for during a session, in lower-case words.

    What is said oftener stands there oftener: a carry alone or with its side, and each word that stands alone.
    """
    carries = [form for count in range(5, 181) for form in spoken_forms(count)[:2]]
    amounts = [spoken_forms(count)[0] for count in range(1, 21)]
    sentences = _USUAL_SHARE * [*carries, *(f"{carry} {side}" for carry in carries for side in _SIDES)]
    sentences += [frame.format(carry) for frame in _CARRY_FRAMES for carry in carries]
    for place, carry in enumerate(carries):
        amount = amounts[place % len(amounts)]
        sentences += [f"{carry} {amount} {side}" for side in _SIDES]
        sentences += [f"{carry} {amount} yards {side}" for side in _SIDES]
        sentences += [f"{carry} {little} {side}" for little in _LITTLE for side in _SIDES]
    adjectives, verbs = _strike_words()
    strikes = [*adjectives, *verbs]
    for strike in strikes:
        sentences += [f"{strike} {carry}" for carry in carries[::6]]
        sentences += [f"{carry} {strike}" for carry in carries[::12]]
    alone = [frame.format(word) for word in adjectives for frame in _ADJECTIVE_FRAMES]
    habits = {
        word
        for entry in grammar().entries
        if "habit" in entry.facts
        for n in entry.say
        for word in words_of(n)
    }
    frames = {word: _HABIT_FRAMES if word in habits else _VERB_FRAMES for word in verbs}
    alone += [frame.format(word) for word in verbs for frame in frames[word]]
    commands = [
        entry for entry in grammar().replies if entry.facts.get("command") in set(Command) - {Command.BACK}
    ]
    usual = list(_ways(commands, _FEW))
    return (*sentences, *_ALONE_SHARE * [*alone, *usual], *_ways(commands))


def _strike_words() -> tuple[list[str], list[str]]:
    """Single words of mishits: those said of a ball ("thin") and those of what was done to it ("thinned")."""
    mishits = [
        entry for entry in grammar().entries if entry.facts.get("strike") not in (None, Strike.CLEAN.value)
    ]
    adjectives = _single(entry for entry in mishits if "weak" in entry.facts)
    return adjectives, [word for word in _single(mishits) if word not in adjectives]


def _single(entries: Iterable[Entry]) -> list[str]:
    return list(dict.fromkeys(way for way in _ways(entries) if " " not in way))


def _ways(entries: Iterable[Entry], most: int | None = None) -> Iterable[str]:
    for entry in entries:
        for node in entry.say:
            ways = [" ".join(words) for words in expansions(node)]
            yield from (way for way in ways[:most] if "{" not in way)
