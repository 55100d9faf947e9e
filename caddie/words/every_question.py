"""No question of a turn is lost: one that was read as part of something else is read alone and stands beside it."""

import re
from collections.abc import Iterator

from caddie.words.act_kinds import ActKind, answered_by_advice, kind_of
from caddie.words.facts import Intent, Understanding
from caddie.words.gist import is_question
from caddie.words.golf_talk import is_of_the_game
from caddie.words.sayings import bare, compared
from caddie.words.talk_files import turn_data
from caddie.words.then_told import Reader

_SENTENCES = re.compile(r"(?<=[.!?;…])\s+")
_ADVISED_ON = (Intent.SITUATION, Intent.PUTT, Intent.CORRECT)


def with_every_question(parts: list[Understanding], text: str, understood: Reader) -> list[Understanding]:
    """The parts of a turn, and after each of them what its words ask besides."""
    asked = [sentence for sentence in _SENTENCES.split(text.strip()) if is_question(sentence)]
    if len(asked) + len(parts) < 2:
        return parts
    found = list(parts)
    for sentence in asked:
        found = [_by_itself(part, sentence, understood) for part in found]
        lost = _lost(sentence, found, understood)
        if lost is None:
            continue
        at = next((at for at, part in enumerate(found) if _is_piece_of(part, sentence)), None)
        if at is None:
            found.insert(_behind(sentence, found), lost)
        elif not found[at].asks and lost.asks:
            # A shot was named on the way to the question.
            found[at] = lost
    return found


def _by_itself(part: Understanding, sentence: str, understood: Reader) -> Understanding:
    """A question read out of more than its own sentence, without the rest: what that names is not asked about."""
    if not part.asks or kind_of(part) is not ActKind.ASKED or len(_words(part)) <= len(compared(sentence)):
        return part
    alone = understood(sentence) if _within(sentence, part) else part
    return alone if alone.asks[:1] == part.asks[:1] else part


def _is_piece_of(part: Understanding, sentence: str) -> bool:
    """Whether a question is already asked by a piece of the sentence."""
    whole = Understanding(heard=sentence, intent=part.intent)
    return kind_of(part) is ActKind.ASKED and _within(part.heard, whole)


def _lost(sentence: str, parts: list[Understanding], understood: Reader) -> Understanding | None:
    """What a sentence asks that none of the parts does."""
    heard = understood(sentence)
    if kind_of(heard) is not ActKind.ASKED:
        # "Sorry, and why the putter?" puts nothing right.
        heard = understood(bare(sentence))
    if heard.problem or any(_words(part) == compared(sentence) for part in parts):
        return None
    kind = kind_of(heard)
    if kind is ActKind.ASKED:
        advised_on = [part for part in parts if part.intent in _ADVISED_ON]
        told = any(answered_by_advice(heard) or _is_of_its_shot(heard, part) for part in advised_on)
        return None if told or any(means(heard) == means(part) for part in parts) else heard
    if kind is not ActKind.NOTHING or not is_of_the_game(sentence):
        return None
    if any(_is_asked(part) and _within(sentence, part) for part in parts):
        return None
    if not any(_within(sentence, part) for part in parts):
        # What was cut out of it stands among the parts.
        return None
    return Understanding(heard=sentence, intent=Intent.OUT_OF_SCOPE)


def _is_of_its_shot(heard: Understanding, told: Understanding) -> bool:
    """ "Putter from here? Fourteen yards, heavy rough": whether the shot asked about is the one advised on."""
    asked_about, advised_on = means(heard)[1:], means(told.model_copy(update={"intent": Intent.WHAT_IF}))[1:]
    return (
        heard.intent is Intent.WHAT_IF and not heard.asks and any(asked_about) and asked_about == advised_on
    )


def means(part: Understanding) -> tuple[str | None, ...]:
    """What one part comes to: two that come to the same are one; of what-ifs the shots that are named."""
    if part.intent in _MEANS_ONE_THING:
        return (part.intent.value,)
    if part.asks:
        asks = part.asks[0]
        return (asks, *_words(part)) if asks in turn_data()["of_what_is_named"] else (asks,)
    if part.intent is Intent.WHAT_IF:
        return (part.intent.value, part.club, part.swing, part.family, part.flight)
    return (part.intent.value,)


_MEANS_ONE_THING = (Intent.STOP, Intent.UNDO, Intent.GREETING)


def _is_asked(part: Understanding) -> bool:
    return kind_of(part) in (ActKind.ASKED, ActKind.NOTHING)


def _words(part: Understanding) -> tuple[str, ...]:
    return compared(part.heard)


def _within(sentence: str, part: Understanding) -> bool:
    said, words = compared(sentence), _words(part)
    return any(words[at : at + len(said)] == said for at in _starts(words, said))


def _starts(words: tuple[str, ...], said: tuple[str, ...]) -> Iterator[int]:
    return iter(range(len(words) - len(said) + 1))


def _behind(sentence: str, parts: list[Understanding]) -> int:
    """Where a lost question goes: behind the part it was read in, else at the end."""
    return next((at + 1 for at, part in enumerate(parts) if _within(sentence, part)), len(parts))
