"""Where another thing may begin in a turn: after a stop, at a joining word, and where a known saying begins or ends."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from caddie.words.act_kinds import ActKind, kind_of, may_follow
from caddie.words.gist import is_question
from caddie.words.grammar import grammar
from caddie.words.numbers import is_number
from caddie.words.sayings import bare, compared, saying_of, says
from caddie.words.talk_files import turn_data
from caddie.words.then_told import ANOTHER_BALL, STOPS, Reader
from caddie.words.told_as_made import stroke_words

MOST_CLAUSES = 8
FULL_STOPS = ".!?;…"
COST_FULL_STOP = 0.6
COST_PAUSE = 0.9
COST_JOINED = 1.0
COST_NO_PAUSE = 1.5


@dataclass(frozen=True)
class Clause:
    """A stretch of the turn in which one thing is said, or less."""

    words: str
    cost: float
    """What a cut before it costs."""


def turn_clauses(text: str, understood: Reader) -> list[Clause]:
    """The clauses of a turn, at most so many: where one thing least likely ends is no cut."""
    tokens = text.replace("…", "… ").split()
    costs = dict(_cuts(tokens, understood, joins=kind_of(understood(text)) is not ActKind.NOTHING))
    for start, end in pairwise((0, *costs, len(tokens))):
        # "No,", "sorry", "hang on" only lead over to what follows.
        said = " ".join(tokens[start:end])
        leads = saying_of(said, turn_data()["leads_over"]) is not None
        if leads and kind_of(understood(said)) is not ActKind.TOLD:
            costs.pop(end if end < len(tokens) else start, None)
    while len(costs) >= MOST_CLAUSES:
        dearest = max(costs.values())
        costs.pop(next(at for at in reversed(costs) if costs[at] == dearest))
    return [
        Clause(" ".join(tokens[start:end]), costs.get(start, 0.0))
        for start, end in pairwise((0, *costs, len(tokens)))
    ]


def _cuts(tokens: list[str], understood: Reader, *, joins: bool) -> Iterator[tuple[int, float]]:
    """Where another thing may begin, and what a cut there costs."""
    joining = turn_data()["joins_clauses"] if joins else ()
    start = 0
    for at in range(1, len(tokens)):
        end = tokens[at - 1][-1]
        if end in STOPS:
            start = at
            yield at, COST_FULL_STOP if end in FULL_STOPS else COST_PAUSE
            continue
        joined = tokens[at].lower() in joining and tokens[at - 1].lower() not in joining
        joined = joined and _goes_on(tokens, at + 1)
        said = joined or _begins_a_saying(tokens, start, at) or _ended_a_saying(tokens, start, at)
        if said and not _names_more(tokens, start, at, understood):
            yield at, COST_JOINED if joined else COST_NO_PAUSE


def _goes_on(tokens: list[str], at: int) -> bool:
    """Whether a clause goes on behind a joining word, and no number: "ten and a half", "a hundred and five"."""
    words = [word for token in tokens[at : at + 2] for word in compared(token)]
    if at + 1 >= len(tokens) or tokens[at][-1] in STOPS:
        return False
    counts = words[:1] == ["half"] or words[:2] == ["a", "half"] or is_number(words[0]) if words else True
    return not counts or saying_of(_to_its_end(tokens, at), turn_data()["results"]) is not None


def _to_its_end(tokens: list[str], at: int) -> str:
    """The words from ``at`` to the next stop."""
    end = next((n for n in range(at, len(tokens)) if tokens[n][-1] in STOPS), len(tokens) - 1)
    return " ".join(tokens[at : end + 1])


def _names_more(tokens: list[str], start: int, at: int, understood: Reader) -> bool:
    """Whether the next words still belong to the shot that is named: "a chip and" is not "a chip and run"."""
    if tokens[at - 1].lower() in stroke_words("tee_shots"):
        # "Drive and a four iron, 60 left".
        return True
    if saying_of(_to_its_end(tokens, at), turn_data()["results"]) is not None:
        return False
    head, longer = " ".join(tokens[start:at]), " ".join(tokens[start : at + 2])
    return understood(longer).family != understood(head).family


def _begins_a_saying(tokens: list[str], start: int, at: int) -> bool:
    """Whether a question or a wish begins though no one paused: "pond right where do I aim"."""
    if tokens[at].lower() in turn_data()["needs_stop"] or len(tokens) - at < 2:
        return False
    if tokens[at - 1].lower() in grammar().articles:
        # "I knocked in the second one" names a putt.
        return False
    tail = _to_its_end(tokens, at)
    if saying_of(_to_its_end(tokens, start), may_follow()) is not None:
        return False
    first = compared(tokens[at])[:1]
    if is_question(" ".join(tokens[start:at])) and not (first and first[0] in turn_data()["asks_anew"]):
        # "Is a flop smart here?" asks one thing.
        return False
    return bare(tail).split()[:1] == tokens[at : at + 1] and saying_of(tail, may_follow()) is not None


def _ended_a_saying(tokens: list[str], start: int, at: int) -> bool:
    """Whether a saying ended that needs no stop: "tapped in next hole"."""
    if (
        tokens[at].lower() in turn_data()["verbs"]
        or tokens[at - 1].lower() in turn_data()["leads_to_a_place"]
    ):
        return False
    if tokens[at - 1].lower() in turn_data()["leads_to_a_number"] and is_number(compared(tokens[at])[0]):
        return False
    ended, longer = (saying_of(" ".join(tokens[start:end]), _ends_alone()) for end in (at, at + 1))
    return ended is not None and longer is None and not says(" ".join(tokens[start : at + 1]), ANOTHER_BALL)


def _ends_alone() -> list[str]:
    return turn_data()["leads_without_stop"]
