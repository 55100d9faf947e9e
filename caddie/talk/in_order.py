"""The replies to the several things said in one turn, as one reply."""

import re
from dataclasses import replace

from caddie.reply.phrases import small
from caddie.reply.spoken import shortest
from caddie.talk import lines
from caddie.talk.denied import IS_COUNTED
from caddie.talk.state import FACTS_READ_BACK, Said
from caddie.words import Intent
from caddie.words.gist import is_question
from caddie.words.golf_talk import golf_word

UNKNOWN_QUESTION = "unknown_question"
"""What a question beside other things is called that was not understood: it is not passed over in silence."""
ASKS_LINE = "Ask:"
"""Begins the line of a written answer that asks."""
_SENTENCE = re.compile(r"\S.*?[.?!](?=\s|$)")


def beside_the_rest(said: Said, text: str) -> Said:
    """A reply as it stands beside others: a question is owned not to be followed, other words are passed over."""
    if said.intent == Intent.OUT_OF_SCOPE.value and is_question(text):
        return replace(said, spoken=_not_followed(text), brief=None, intent=UNKNOWN_QUESTION)
    if said.spoken == lines.GREETING:
        return replace(said, spoken=lines.GREETING_BESIDE)
    # "It's done, ball's in my pocket" greets nobody.
    return replace(said, intent=Intent.OUT_OF_SCOPE.value) if said.spoken == lines.GREETING_MIDWAY else said


def _not_followed(text: str) -> str:
    """That a question beside others was not understood, by the thing it names: no question is passed over."""
    word = golf_word(text)
    return lines.QUESTION_NOT_FOLLOWED.format(about=f" about the {word}" if word else "")


def as_one(replies: list[Said]) -> Said:
    """Several replies to one turn as one, in the words there are for several things.

    The earlier ones go shorter when they are too many; a shot that is advised is said with where it goes before any of
    the rest is said at length.
    """
    told = _answered(replies)
    last = told[-1]
    if len(told) == 1:
        return last
    new = _not_said_yet(last.spoken, [said.spoken for said in told[:-1]])
    shorter = [
        *_without_cue(last),
        *_asking_without_cue(last, new),
        _without_question(new),
        *([] if last.brief is None else [last.brief]),
    ]
    final = [new, *(each for each in (*shorter, _without_its_middle(new)) if each)]
    all_answered, some = _shorter_and_shorter(told)
    # No answer goes for the rest of another.
    ends = [*final, *([_first_of(new)] if some else [])]
    ways = [[*early, end] for end in ends for early in all_answered if not some or _holds(early, new, last)]
    if some:
        # What was said once already may have gone with what was left out.
        whole = last.spoken
        ways += [[*early, _not_said_yet(whole, early)] for early in all_answered]
        ways += [[*early, _first_of(_not_said_yet(whole, early))] for early in all_answered]
        ways += [[*map(_first_of, all_answered[-1]), _first_of(new)]]
        ways += [[*map(_opening_of, all_answered[-1]), _opening_of(new)]]
    ways += [[*early, end] for end in final for early in some]
    ways = [*_keeping_the_shot(told), *ways]
    spoken = shortest([*map(_none_twice, ways), [last.spoken]], len(told))
    written = "\n".join(filter(None, _written(told)))
    return replace(
        last,
        spoken=spoken,
        written=written,
        advice=next((said.advice for said in reversed(told) if said.advice), None),
        logged=any(said.logged for said in told),
        over=any(said.over for said in told),
        step=any(said.step for said in told),
        intent=told[0].intent,
        things=len(told),
    )


def _keeping_the_shot(told: list[Said]) -> list[list[str]]:
    """A shot advised, with what was said before and behind it: these go shorter, and the shot its cue and its distance.

    Every version holds club, swing and where the ball goes: nobody asks beside a shot to be told all but the shot.
    """
    at = next((at for at in reversed(range(len(told))) if told[at].shot), None)
    if at is None or at == len(told) - 1:
        return []
    advised, before, behind = told[at], told[:at], told[at + 1 :]
    plain = " ".join(_without_cue(advised)) or _without_question(advised.spoken)
    cue = small(advised.known.cue.say) if advised.known.cue is not None else ""
    whole = plain if any(cue in small(said.spoken) for said in behind) else _without_question(advised.spoken)
    far = _first_of(advised.spoken)
    shot = f"{far} {advised.shot}" if far not in advised.shot else advised.shot
    shots = [(whole, 0), (plain, 0), (shot, 0), (plain, 1), (shot, 1), (plain, 2), (shot, 2)]
    shots += [(advised.shot, length) for length in range(TIMES_SHORTER + 1)]
    *between, last = behind
    return [
        [
            *(_without_question(_at_length(said, length)) for said in before),
            shot,
            *(_without_question(_at_length(said, length)) for said in between),
            _at_length(last, length),
        ]
        for shot, length in shots
    ]


def _at_length(said: Said, length: int) -> str:
    """A reply beside a shot, whole at 0 and ever shorter to 3."""
    if length and said.brief is not None:
        return said.brief
    if length <= 1:
        return _without_its_middle(said.spoken) or said.spoken if length and not said.logged else said.spoken
    return _first_of(said.spoken) if length == TIMES_SHORTER - 1 else _opening_of(said.spoken)


TIMES_SHORTER = 3
"""How many times a reply beside a shot is made shorter."""


def _none_twice(parts: list[str]) -> list[str]:
    """The replies without sentences that an earlier one of them holds."""
    return [_not_said_yet(part, parts[:at]) if at else part for at, part in enumerate(parts)]


def _written(told: list[Said]) -> list[str]:
    """What is shown of each, but no plan that is passed, and no question of an earlier one answered by the next."""
    shown = [
        said.spoken if _is_passed(said, told[at + 1 :]) else said.written or said.spoken
        for at, said in enumerate(told)
    ]
    for at, text in enumerate(shown):
        if any(later.advice is not None for later in told[at + 1 :]):
            kept = [_without_question(line) for line in text.splitlines() if not line.startswith(ASKS_LINE)]
            shown[at] = "\n".join(line for line in kept if line)
    return shown


def _shorter_and_shorter(told: list[Said]) -> tuple[list[list[str]], list[list[str]]]:
    """What was said before the last thing: whole, then shorter from the first on; and without some of it."""
    before, last = told[:-1], told[-1]
    whole = [
        _without_question(said.brief if said.logged and said.brief and last.logged else said.spoken)
        for said in before
    ]
    bare = [" ".join(_without_cue(said)) or text for said, text in zip(before, whole, strict=True)]
    brief = [_without_question(_in_brief(said)) for said in before]
    ways = [whole]
    for shorter in (bare, brief):
        ways += [[*shorter[:count], *ways[-1][count:]] for count in range(1, len(before) + 1)]
    first = [
        each if not each or said.brief is not None else _first_of(each)
        for said, each in zip(before, brief, strict=True)
    ]
    answers = [text for said, text in zip(before, brief, strict=True) if not said.logged]
    fewer = [*([answers] if any(answers) else []), brief[-1:]]
    if any(not said.logged and said.advice is None for said in before):
        return [*ways, first], fewer
    return [*ways, first, *fewer], []


def _in_brief(said: Said) -> str:
    """A reply in fewer words: its own, or for an answer what it names first and what it comes to."""
    if said.brief is not None:
        return said.brief
    return said.spoken if said.logged else _without_its_middle(said.spoken) or said.spoken


def _answered(told: list[Said]) -> list[Said]:
    """The replies without those to words beside the rest that were not followed, none twice."""
    followed = [said for said in told if said.intent != Intent.OUT_OF_SCOPE.value] or told[-1:]
    if any(said.intent != Intent.HELP.value for said in followed):
        # What there is to say is plain by then.
        followed = [said for said in followed if said.intent != Intent.HELP.value or not _explains(said)]
    if any(said.shot for said in followed):
        # Who tells a shot and asks "what have you got" wants the shot, and no fact told back.
        followed = [said for said in followed if said.intent != FACTS_READ_BACK]
    if any(said.settles for said in followed):
        # "I only want it out: what do I do?" asks for that shot, and for no other.
        followed = [said for said in followed if said.intent != Intent.REPEAT.value]
    if any(said.over for said in followed):
        # Nobody is asked about a shot who is done with it.
        followed = [said for said in followed if _without_question(said.spoken)] or followed[-1:]
    followed = [
        said
        for at, said in enumerate(followed)
        # Advice on a shot whose result is told after it is past.
        if said.advice is None or not any(later.logged for later in followed[at + 1 :])
    ]
    followed = [_without_the_picture(said, followed[:at]) for at, said in enumerate(followed)]
    followed = [
        replace(said, spoken=_only_its_distance(said), brief=_only_its_distance(said), shot="")
        if said.advice is not None and any(later.settles for later in followed[at + 1 :])
        else said
        for at, said in enumerate(followed)
    ]
    followed = [
        replace(said, spoken=_only_its_news(said), brief=_only_its_news(said), shot="")
        if _is_passed(said, followed[at + 1 :])
        else said
        for at, said in enumerate(followed)
    ]
    return [
        said for at, said in enumerate(followed) if said.spoken not in {s.spoken for s in followed[at + 1 :]}
    ]


def _without_the_picture(said: Said, before: list[Said]) -> Said:
    """Who is ready in the breath that the shot or its one thought is told in: the count, and no picture of it again."""
    cue = said.known.cue
    told = any(each.shot or (cue is not None and cue.say in each.spoken) for each in before)
    if said.intent != Intent.READY.value or not told or said.brief is None:
        return said
    return replace(said, spoken=said.brief)


def _first_of(spoken: str) -> str:
    """The first sentence."""
    return next(iter(_SENTENCE.findall(spoken)), spoken)


def _opening_of(spoken: str) -> str:
    """The first sentence up to its first pause: the answer without what goes with it."""
    first = _first_of(spoken)
    opening, pause, _ = first.partition(",")
    return f"{opening}." if pause and len(opening.split()) >= LEAST_OPENING else first


LEAST_OPENING = 4
"""Fewer words before a pause are no answer."""


def _holds(early: list[str], new: str, last: Said) -> bool:
    """Whether what the last answer leaves out as said already is still said before it."""
    return new == last.spoken or _not_said_yet(last.spoken, early) == new


def _explains(said: Said) -> bool:
    """Whether it tells what may be said, and nothing of a shot."""
    return said.spoken == lines.HELP


def _is_passed(said: Said, later: list[Said]) -> bool:
    """Whether a plan was made anew in the same turn: only the last is the one to play."""
    return said.advice is not None and not said.logged and any(each.advice is not None for each in later)


def _only_its_distance(said: Said) -> str:
    """Of a plan whose shot is settled by what is said after it, the distance it begins with."""
    first: str = (_SENTENCE.findall(said.spoken) or [""])[0]
    return "" if first.endswith(_COUNTED) else first


_COUNTED = f"{IS_COUNTED.partition('}')[2]}."
"""Ends what says that a fact told again is in the shot, which the shot named after it says as well."""


def _only_its_news(said: Said) -> str:
    """Of a plan that is passed, the number that was put right: "Now sixteen feet." """
    first = (_SENTENCE.findall(said.spoken) or [""])[0]
    return first if first.startswith("Now ") else ""


def _without_cue(said: Said) -> list[str]:
    """Advice without its last sentence, the cue, when it does not end in a question: what may go first."""
    *parts, cue = _SENTENCE.findall(said.spoken) or [""]
    return [" ".join(parts)] if said.advice and parts and not cue.endswith("?") else []


def _asking_without_cue(last: Said, new: str) -> list[str]:
    """Advice that ends in a question, without the cue before it: the answer may change the shot, the cue does not."""
    told = _SENTENCE.findall(new)
    if not last.advice or len(told) < LEAST_ASKING or not told[-1].endswith("?"):
        return []
    return [" ".join([*told[:-2], told[-1]])]


LEAST_ASKING = 5
"""Sentences of advice that hold a cue before their question."""


def _without_its_middle(spoken: str) -> str:
    """An answer as what it names first and what it comes to."""
    first, *rest = _SENTENCE.findall(spoken) or [""]
    return f"{first} {rest[-1]}" if len(rest) > 1 else ""


def _not_said_yet(spoken: str, before: list[str]) -> str:
    """What is said without the sentences already said in this turn; all of it when nothing else is left."""
    already = [part for said in before for part in _SENTENCE.findall(said)]
    return " ".join(
        part for part in _SENTENCE.findall(spoken) if not any(_is_in(part, said) for said in already)
    )


def _is_in(part: str, said: str) -> bool:
    """Whether a sentence was said, alone or as the beginning or end of another one; a landing by another mark, too."""
    if said == part or said.endswith(f", {small(part)}"):
        return True
    begun = part.rstrip(".").removesuffix(" the flag").removesuffix(" of")
    return said.startswith((f"{begun}, ", f"{begun}.", f"{part.rstrip('.')}, "))


def _without_question(spoken: str) -> str:
    """What is said without what is asked: the next thing said has gone on."""
    return " ".join(part for part in _SENTENCE.findall(spoken) if not part.endswith("?"))
