"""A club that the player does not trust: "I hit that one thin one in four" is told what it costs to leave it."""

from dataclasses import replace

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.reply.phrases import club_said, landing_short, shot_said
from caddie.reply.spoken import sentences, shortest
from caddie.talk import lines
from caddie.talk.asked import in_play
from caddie.talk.comparison import what_it_costs
from caddie.talk.of_two import named_shots
from caddie.talk.state import ASKED_OF_THE_SHOT, Desk, Known, Said, no_shot
from caddie.words import Intent, Understanding
from caddie.words.gist import is_question
from caddie.words.sayings import compared, sentences_of
from caddie.words.topics import OF_A_SHOT, topic_of

DISTRUST = "not_trusted"
"""The topic of a club that is not trusted."""
_GOES_ON = (DISTRUST, "habit")
"""What may be told of it in the sentences behind: "I hit it thin one in four"."""
_NAMED_WORDS = 5
"""Most words of a sentence that only names a club: "the sixty, really?"."""


def distrust_in(known: Known, text: str, bag: Bag) -> tuple[str, str, str]:
    """What a turn says before a club is told not to be trusted, that, and the rest; ("", "", text) without."""
    plan = in_play(known)
    if plan is None or plan.chosen.line is not None or known.swung:
        return "", "", text
    parts = _told_apart(text)

    def led(at: int) -> bool:
        return at > 0 and _only_names_a_club(parts[at - 1], bag)

    told = (
        at for at, part in enumerate(parts) if _distrusts(part) or (_distrusts(part, _GOES_ON) and led(at))
    )
    first = next(told, None)
    if first is None:
        return "", "", text
    end = next((at for at in range(first, len(parts)) if not _distrusts(parts[at], _GOES_ON)), len(parts))
    start = first - 1 if led(first) else first
    if named_shots(" ".join(parts[end:]), bag):
        # "Would the fifty-six be daft, then?" asks of one in its place.
        return "", "", text
    return " ".join(parts[:start]), " ".join(parts[start:end]), " ".join(parts[end:])


def _told_apart(text: str) -> list[str]:
    """The sentences of a turn, one that ends in a question cut before it: "not sure about the sixty, what else"."""
    found: list[str] = []
    for sentence in sentences_of(text):
        head, comma, tail = sentence.rpartition(", ")
        asks = comma and is_question(tail.rstrip(" ?")) and _distrusts(f"{head}.")
        found += [f"{head}.", tail] if asks else [sentence]
    return found


def _distrusts(sentence: str, kinds: tuple[str, ...] = (DISTRUST,)) -> bool:
    topic = topic_of(sentence, {OF_A_SHOT}, changing=False)
    return topic is not None and topic.kind in kinds


def _only_names_a_club(sentence: str, bag: Bag) -> bool:
    return len(compared(sentence)) <= _NAMED_WORDS and _club_named(sentence, bag) is not None


def _club_named(text: str, bag: Bag) -> str | None:
    found = (bag.club_called(only.club) for only in named_shots(text, bag) if only.club)
    return next((club.id for club in found if club is not None), None)


def distrusted_first(desk: Desk, known: Known, told: str) -> Said:
    """The answer to a club that a turn begins by distrusting."""
    heard = Understanding(heard=told, intent=Intent.WHAT_IF, asks=(DISTRUST,))
    return replace(distrusted(desk, known, heard), intent=ASKED_OF_THE_SHOT)


def distrusted(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The next best club with what it costs; of a club that is not in play, that this one stands."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    club = _club_named(heard.heard, desk.bag) or (known.other or plan.chosen).club
    if club != plan.chosen.club:
        spoken = sentences([f"{lines.LEAVE_IT}: {shot_said(plan.chosen, desk.bag)}"])
        return Said(known.changed(spoken=spoken, question=None, other=None, supposed=None), spoken)
    without = Only(without=tuple(sorted({*known.only.without, club})))
    try:
        instead = advise(known.situation, desk.bag, seed=desk.seed, only=without)
    except CaddieError:
        spoken = sentences([lines.NO_OTHER])
        return Said(known.changed(spoken=spoken, question=None), spoken)
    other = instead.chosen
    costs = what_it_costs(other.strokes - plan.chosen.strokes)
    leave = f"{lines.LEAVE_IT}: {shot_said(other, desk.bag)}; {costs}"
    lands = "" if other.line is not None else landing_short(other, instead.situation, desk.bag)
    spoken = shortest([[leave, lands], [leave]])
    mine = f"{plan.chosen.strokes:.2f} with the {club_said(plan.chosen, desk.bag)}"
    figures = f"{other.strokes:.2f} strokes against {mine}"
    after = known.changed(
        spoken=spoken,
        said_of_other=spoken,
        short=sentences([shot_said(other, desk.bag)]),
        other=other,
        supposed=None,
        verdict=costs,
        question=None,
    )
    return Said(
        after, spoken, written=sentences([leave, lands, figures]), brief=sentences([leave]), settles=True
    )
