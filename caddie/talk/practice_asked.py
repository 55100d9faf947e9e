"""A question of what to practise, told over several clauses, as the one question it is; and the goodbye after it."""

from collections.abc import Sequence

from caddie.situation import Situation
from caddie.talk.to_practise import kind_named, minutes_said
from caddie.words import Intent, Understanding
from caddie.words.gist import asks_in_part, is_question
from caddie.words.sayings import compared
from caddie.words.talk_files import lore_data

_PRACTISE = "practise"


def practice_asked(text: str, parts: Sequence[Understanding]) -> tuple[Understanding, ...]:
    """The parts of a turn, those that ask what to practise as one: "what should I practise, bunkers or putting?"."""
    if not parts or not (_speaks_of_it(text) or any(_PRACTISE in part.asks for part in parts)):
        return _with_the_goodbye(text, parts)
    joined: list[Understanding] = []
    for part in (each for each in parts if not _names_no_practice(each)):
        asks = _asks(part) or (_names_only_a_kind(part) and "?" in text and _speaks_of_it(text))
        if not asks:
            joined.append(part)
        elif joined and joined[-1].asks == (_PRACTISE,):
            joined[-1] = _as_asked(f"{joined[-1].heard} {part.heard}")
        else:
            joined.append(_as_asked(part.heard))
    return _with_the_goodbye(text, joined)


def _asks(part: Understanding) -> bool:
    if part.result is not None or part.situation.pin_m is not None:
        return False
    return part.asks[:1] == (_PRACTISE,) or (is_question(part.heard) and _speaks_of_it(part.heard))


def _names_only_a_kind(part: Understanding) -> bool:
    """ "Bunkers or lag putting?", "twenty minutes": what only the question beside it makes sense of."""
    if part.result is not None or part.situation.pin_m is not None or part.asks or part.club:
        return False
    of_green_or_sand = part.situation.model_copy(update={"lie": None, "hazards": ()}) == Situation()
    return of_green_or_sand and bool(kind_named(compared(part.heard)) or minutes_said(part.heard))


def _speaks_of_it(text: str) -> bool:
    words = compared(text)
    aside = lore_data()["no_practice"]
    return any(
        word in lore_data()["of_practice"] and not (after and after in aside)
        for word, after in zip(words, (*words[1:], ""), strict=False)
    )


def _names_no_practice(part: Understanding) -> bool:
    """ "Took a practice swing", "I'm at the practice green": no question, and nothing to answer."""
    if part.asks[:1] != (_PRACTISE,) or _speaks_of_it(part.heard) or asks_in_part(part.heard):
        return False
    return not set(lore_data()["no_practice"]).isdisjoint(compared(part.heard))


def _as_asked(text: str) -> Understanding:
    return Understanding(heard=text, intent=Intent.OUT_OF_SCOPE, asks=(_PRACTISE,))


def _with_the_goodbye(text: str, parts: Sequence[Understanding]) -> tuple[Understanding, ...]:
    """ "Thanks a million now, bye, bye": the thanks that a goodbye ends is the goodbye."""
    if not parts or parts[-1].intent is not Intent.GREETING:
        return tuple(parts)
    if set(lore_data()["goodbye"]).isdisjoint(compared(text)[-2:]):
        return tuple(parts)
    return (*parts[:-1], Understanding(heard=parts[-1].heard, intent=Intent.STOP, asks=("bye",)))
