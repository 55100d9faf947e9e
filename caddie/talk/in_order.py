"""The replies to the several things said in one turn, as one reply."""

import re
from dataclasses import replace

from caddie.reply.spoken import shortest
from caddie.talk import lines
from caddie.talk.state import Said
from caddie.words import Intent

UNKNOWN_QUESTION = "unknown_question"
"""What a question beside other things is called that was not understood: it is not passed over in silence."""
_SENTENCE = re.compile(r"\S.*?[.?!](?=\s|$)")


def as_one(replies: list[Said]) -> Said:
    """Several replies to one turn as one, in thirty words: the earlier ones shorter when they are too many."""
    told = _answered(replies)
    last = told[-1]
    if len(told) == 1:
        return last
    new = _not_said_yet(last.spoken, told[:-1])
    shorter = [*_without_cue(last), _without_question(new), *([] if last.brief is None else [last.brief])]
    final = [new, *(each for each in (*shorter, _without_its_middle(new)) if each)]
    ways = [[*early, end] for end in final for early in _shorter_and_shorter(told)]
    spoken = shortest([*ways, [last.spoken]])
    written = "\n".join(said.written or said.spoken for said in told)
    return replace(
        last,
        spoken=spoken,
        written=written,
        advice=next((said.advice for said in reversed(told) if said.advice), None),
        logged=any(said.logged for said in told),
        over=any(said.over for said in told),
        step=any(said.step for said in told),
        intent=told[0].intent,
    )


def _shorter_and_shorter(told: list[Said]) -> list[list[str]]:
    """What was said before the last thing, whole, then shorter from the first on; at last only the one before it."""
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
        each if not each or said.brief is not None else (_SENTENCE.findall(each) or [each])[0]
        for said, each in zip(before, brief, strict=True)
    ]
    answers = [text for said, text in zip(before, brief, strict=True) if not said.logged]
    return [*ways, first, *([answers] if any(answers) else []), brief[-1:]]


def _in_brief(said: Said) -> str:
    """A reply in fewer words: its own, or for an answer what it names first and what it comes to."""
    if said.brief is not None:
        return said.brief
    return said.spoken if said.logged else _without_its_middle(said.spoken) or said.spoken


def _answered(told: list[Said]) -> list[Said]:
    """The replies without those to words beside the rest that were not followed, none twice."""
    followed = [said for said in told if said.intent != Intent.OUT_OF_SCOPE.value] or told[-1:]
    if any(not (said.logged or said.advice or said.intent == UNKNOWN_QUESTION) for said in followed):
        # What was understood of the questions is answered.
        followed = [said for said in followed if said.intent != UNKNOWN_QUESTION]
    if any(said.intent != Intent.HELP.value for said in followed):
        # What there is to say is plain by then.
        followed = [said for said in followed if said.intent != Intent.HELP.value or not _explains(said)]
    if any(said.over for said in followed):
        # Nobody is asked about a shot who is done with it.
        followed = [said for said in followed if _without_question(said.spoken)] or followed[-1:]
    followed = [
        said
        for at, said in enumerate(followed)
        # Advice on a shot whose result is told after it is past.
        if said.advice is None or not any(later.logged for later in followed[at + 1 :])
    ]
    followed = [
        replace(said, spoken=_only_its_news(said), brief=_only_its_news(said))
        if _is_passed(said, followed[at + 1 :])
        else said
        for at, said in enumerate(followed)
    ]
    return [
        said for at, said in enumerate(followed) if said.spoken not in {s.spoken for s in followed[at + 1 :]}
    ]


def _explains(said: Said) -> bool:
    """Whether it tells what may be said, and nothing of a shot."""
    return said.spoken == lines.HELP


def _is_passed(said: Said, later: list[Said]) -> bool:
    """Whether a plan was made anew in the same turn: only the last is the one to play."""
    return said.advice is not None and not said.logged and any(each.advice is not None for each in later)


def _only_its_news(said: Said) -> str:
    """Of a plan that is passed, the number that was put right: "Now sixteen feet." """
    first = (_SENTENCE.findall(said.spoken) or [""])[0]
    return first if first.startswith("Now ") else ""


def _without_cue(said: Said) -> list[str]:
    """Advice without its last sentence, the cue, when it does not end in a question: what may go first."""
    *parts, cue = _SENTENCE.findall(said.spoken) or [""]
    return [" ".join(parts)] if said.advice and parts and not cue.endswith("?") else []


def _without_its_middle(spoken: str) -> str:
    """An answer as what it names first and what it comes to."""
    first, *rest = _SENTENCE.findall(spoken) or [""]
    return f"{first} {rest[-1]}" if len(rest) > 1 else ""


def _not_said_yet(spoken: str, before: list[Said]) -> str:
    """What is said without the sentences already said in this turn; all of it when nothing else is left."""
    already = {part for said in before for part in _SENTENCE.findall(said.spoken)}
    return " ".join(part for part in _SENTENCE.findall(spoken) if part not in already)


def _without_question(spoken: str) -> str:
    """What is said without what is asked: the next thing said has gone on."""
    return " ".join(part for part in _SENTENCE.findall(spoken) if not part.endswith("?"))
