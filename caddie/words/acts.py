"""A turn cut into the things said in it: of all ways to cut it between clauses, the one that explains most.

Every stretch between two cuts is read by the one reader. What it tells is worth something, each thing said costs
something, and so does a cut where no one pauses, a thing out of its usual order, and what stays unread.
"""

from collections.abc import Callable
from dataclasses import dataclass

from caddie.situation import Finish
from caddie.words.act_kinds import UNREAD_NUMBER, ActKind, answered_by_advice, facts_told, kind_of, worth_of
from caddie.words.clause_cuts import COST_FULL_STOP, COST_JOINED, COST_NO_PAUSE, COST_PAUSE, turn_clauses
from caddie.words.facts import Intent, Understanding
from caddie.words.gist import is_question
from caddie.words.golf_talk import is_of_the_game, unit_said
from caddie.words.numbers import is_number
from caddie.words.sayings import bare, begins, clauses, compared, sentences_of
from caddie.words.talk_files import turn_data
from caddie.words.then_told import Reader, looks_on, told_apart

Answered = Callable[[str], Understanding | None]
"""Reads words as an answer to the question that is open, if they are one."""

LONGEST_ANSWER = 2
"""An answer stands in so many clauses at the beginning."""
_COST_NOTHING = 0.1
_SECOND_QUESTION = 2.0
_SWALLOWED = 0.5
"""What a result loses with a question read as part of it."""
_ONE_FLIGHT = 3.0
"""What a result gains that tells where the ball came down and where it stopped."""
TWO_PUTTS = "two_putts"


@dataclass(frozen=True)
class Act:
    """One thing said, as it was read, and what that is worth."""

    parts: tuple[Understanding, ...]
    kind: ActKind
    worth: float

    @property
    def first(self) -> Understanding:
        """What it is known by."""
        return self.parts[0]

    @property
    def passed_over(self) -> "Act":
        """The same as words that only stand beside the rest: "never mind"."""
        return Act(self.parts, ActKind.NOTHING, 0.0)


@dataclass(frozen=True)
class _Way:
    """A way of cutting the turn up to a place."""

    acts: tuple[Act, ...]
    worth: float


def acts_of(text: str, understood: Reader, answered: Answered) -> tuple[Act, ...]:
    """The things said in a turn, in the order said; those that were not understood among them."""
    other_talk = kind_of(understood(text)) is ActKind.NOTHING
    reads = _Reads(understood, answered, other_talk, of_the_game=is_of_the_game(text))
    cut = turn_clauses(text, understood)
    ways: list[list[_Way]] = [[_Way((), 0.0)]]
    for end in range(1, len(cut) + 1):
        ways.append([])
        for start in range(end):
            act = reads.act(" ".join(clause.words for clause in cut[start:end]), at=start)
            for each in (act, act.passed_over) if act.kind is ActKind.SAID else (act,):
                found = (_then(way, each, cut[start].cost) for way in ways[start])
                ways[end].append(max(found, key=lambda way: way.worth))
    return max(ways[-1], key=lambda way: way.worth).acts


@dataclass(frozen=True)
class _Reads:
    """Reads a stretch of the turn as one thing said."""

    understood: Reader
    answered: Answered
    other_talk: bool
    of_the_game: bool

    def act(self, said: str, *, at: int) -> Act:
        """What the words say that begin with the clause ``at``."""
        answer = self.answered(said) if at < LONGEST_ANSWER else None
        if answer is not None:
            return Act((answer,), ActKind.ANSWER, facts_told(answer) + 1.0)
        heard = self.understood(said)
        kind = kind_of(heard)
        if heard.problem or (kind is ActKind.TOLD and self._is_scrap(heard)):
            kind = ActKind.NOTHING
        if kind is ActKind.NOTHING:
            return Act((heard,), kind, -UNREAD_NUMBER * any(map(is_number, compared(said))))
        apart = told_apart(heard, self.understood) if kind in (ActKind.TOLD, ActKind.RESULT) else (heard,)
        worth = sum(map(worth_of, apart)) - COST_PAUSE * (len(apart) - 1)
        swallows = kind is ActKind.RESULT and heard.heard.rstrip().endswith("?")
        if kind is ActKind.RESULT and _comes_down_and_stops(said):
            worth += _ONE_FLIGHT
        if kind is ActKind.RESULT and _goes_on_to_ask_why(said):
            worth -= _FORBIDDEN
        if heard.intent is Intent.WHAT_IF and not heard.asks:
            # A bare what-if answers one question.
            worth -= _SECOND_QUESTION * sum(map(is_question, clauses(said)[1:]))
        return Act(apart, kind, worth - _SWALLOWED * swallows)

    def _is_scrap(self, heard: Understanding) -> bool:
        """Whether a clause out of other talk tells too little to be a shot: a number, "is it in the rough?"."""
        if not self.other_talk or heard.club:
            return False
        asked = is_question(heard.heard) and heard.intent is Intent.SITUATION
        return asked or (facts_told(heard) < 2 and not unit_said(heard.heard) and not self.of_the_game)


def _comes_down_and_stops(said: str) -> bool:
    """ "Landed three short and ran six past": two lengths of one ball."""
    words = compared(said)
    came_down = not set(turn_data()["came_down"]).isdisjoint(words)
    return came_down and sum(map(is_number, words)) + ("a" in words) > 1


def _goes_on_to_ask_why(said: str) -> bool:
    """ "Thirty yards now, bunker still in front. Why did I hit it heavy": a strike asked about, and no ball told."""
    return any(map(asks_why_so, sentences_of(said)[1:]))


def asks_why_so(text: str) -> bool:
    """Whether a question begins that asks why a ball was hit as it was.

    >>> asks_why_so("What made me chunk it?"), asks_why_so("chunked it, why?")
    (True, False)
    """
    words = compared(bare(text))
    return any(words[: len(each)] == each for each in (tuple(way.split()) for way in turn_data()["asks_why"]))


def _then(way: _Way, act: Act, cost: float) -> _Way:
    """A way of cutting with one thing more, by what is plausible after what was said before."""
    before = next((each for each in reversed(way.acts) if each.kind is not ActKind.NOTHING), None)
    runs_on = bool(way.acts) and cost == COST_NO_PAUSE
    if runs_on and (act.kind is ActKind.NOTHING or before is not way.acts[-1]):
        # Without a pause both sides must say something.
        lost = _FORBIDDEN
    elif act.kind is ActKind.NOTHING:
        lost = _COST_NOTHING
    elif before is None:
        lost = act.worth + 1.0 if way.acts and _is_a_tag(act) else 0.0
    else:
        lost = cost + _out_of_order(before, act, cost) + _told_again(way, act)
    return _Way((*way.acts, act), way.worth + act.worth - lost)


def _is_a_tag(act: Act) -> bool:
    """Whether a word that asks for it again only ends other talk: "they close on Thursday, eh"."""
    return act.first.intent is Intent.REPEAT and len(compared(act.first.heard)) == 1


_FORBIDDEN = 100.0
_UNLIKELY: dict[tuple[ActKind, ActKind], float] = {
    (ActKind.TOLD, ActKind.TOLD): 2.0,
    (ActKind.TOLD, ActKind.RESULT): 1.5,
    (ActKind.RESULT, ActKind.RESULT): 2.5,
    (ActKind.ASKED, ActKind.TOLD): 0.5,
    (ActKind.ASKED, ActKind.RESULT): 1.5,
}
_LEADS_OVER = (Intent.UNDO, Intent.REPEAT, Intent.SHORTER, Intent.GREETING)
"""Beside facts these only lead over to them: "scratch that, it's twenty five"."""
_WHOLE_SHOT = 3
"""Facts that tell a shot anew, and put no other right: "take that off. 85 out, left rough, flag back"."""
_OF_THE_SHOT = 2.5
"""A club asked about in the breath in which the shot is told belongs to it."""


def _told_again(way: _Way, act: Act) -> float:
    """What is lost where facts are told apart from others of the same shot, with something else between them."""
    if act.kind is not ActKind.TOLD or way.acts[-1].kind is ActKind.TOLD:
        return 0.0
    since = (each for each in reversed(way.acts) if each.kind is not ActKind.NOTHING)
    for each in since:
        if each.kind is ActKind.TOLD:
            return 1.0
        if each.kind is ActKind.RESULT or each.first.intent is Intent.NEXT_HOLE:
            break
    return 0.0


def _out_of_order(before: Act, act: Act, cost: float) -> float:
    """What is lost where one thing follows another that it seldom follows, or that says it already."""
    first, then = before.parts[-1], act.first
    if then.asks and then.asks[:1] == first.asks[:1]:
        return act.worth
    kinds = (_last_kind(before) if act.kind is ActKind.TOLD else before.kind, act.kind)
    if ActKind.SAID in kinds:
        return _beside_a_saying(before, act, cost)
    if ActKind.TOLD in kinds and ActKind.ASKED in kinds:
        return _beside_facts(before, act, cost)
    if then.intent is Intent.CORRECT and kinds[0] in (ActKind.TOLD, ActKind.RESULT):
        return act.worth + 1.0
    if kinds == (ActKind.ASKED, ActKind.ASKED) and cost != COST_FULL_STOP:
        one = first.intent is Intent.WHAT_IF and answered_by_advice(then)
        put = is_question(bare(then.heard.rstrip("?"))) or _supposes_more(then.heard)
        apart = put and not one
        return 0.0 if apart else act.worth
    if kinds == (ActKind.RESULT, ActKind.TOLD):
        return 0.0 if looks_on(then) else 1.5
    if kinds == (ActKind.RESULT, ActKind.RESULT):
        if len(act.parts) > 1 or _puts_right(then.heard):
            return worth_of(then) + 1.0
        if then.asks[:1] == (TWO_PUTTS,):
            return 0.0
        if goes_on_to(then.heard):
            # "Left it in the sand, and then it came out": two strokes, and no ten feet in the sand.
            return -0.5 if first.result and first.result.finish is Finish.BUNKER else 1.0
        return 1.0 if cost == COST_FULL_STOP else _UNLIKELY[kinds]
    return _UNLIKELY.get(kinds, 0.0) - (kinds == (ActKind.TOLD, ActKind.RESULT) and cost == COST_FULL_STOP)


def _supposes_more(text: str) -> bool:
    """ "And if I mess it up, better long or short?" behind another question."""
    return text.rstrip().endswith("?") and compared(bare(text))[:1] == ("if",)


def _last_kind(act: Act) -> ActKind:
    """What the last thing of an act does: a result told with the next shot ends in facts of that."""
    return kind_of(act.parts[-1]) if act.kind is ActKind.RESULT and len(act.parts) > 1 else act.kind


def goes_on_to(text: str) -> bool:
    """Whether the words begin with the stroke after the one just told: "and then it came out".

    >>> goes_on_to("And then it came out to ten feet"), goes_on_to("ten feet past")
    (True, False)
    """
    return not set(turn_data()["goes_on_to"]).isdisjoint(compared(text)[:2])


def _puts_right(text: str) -> bool:
    return begins(text, "puts_right") or compared(text)[:1] == ("no",)


def _beside_a_saying(before: Act, act: Act, cost: float) -> float:
    """What is lost beside a saying: "scratch that, it's twenty five" only puts a fact right."""
    first, then = before.parts[-1], act.first
    if before.kind is act.kind:
        alike = first.intent is then.intent or Intent.GREETING in (first.intent, then.intent)
        return act.worth if alike or cost == COST_NO_PAUSE else 0.0
    said, other = (before, act) if before.kind is ActKind.SAID else (act, before)
    if said is before and said.first.intent is Intent.STOP:
        return said.worth
    if said is before and other.kind is ActKind.TOLD and cost == COST_JOINED and not _needs_no_stop(first):
        return said.worth
    if other.kind is ActKind.TOLD:
        undone = cost == COST_FULL_STOP and said is before and said.first.intent is Intent.UNDO
        apart = undone and facts_told(other.first) >= _WHOLE_SHOT
        return said.worth if said.first.intent in _LEADS_OVER and not apart else 0.0
    if other.kind is ActKind.RESULT:
        return said.worth if said.first.intent in _OF_A_RESULT else 0.0
    return cost if cost == COST_NO_PAUSE and said is act else 0.0


def _needs_no_stop(said: Understanding) -> bool:
    return bool(said.asks) and said.asks[0] in turn_data()["leads_without_stop"]


_OF_A_RESULT = (Intent.UNDO, Intent.SHORTER, Intent.READY)
"""Readings of words that tell of a ball: "good strike", "short", "committed"."""


def _beside_facts(before: Act, act: Act, cost: float) -> float:
    """What is lost where a question is told apart from the facts beside it."""
    asked, told = (before, act) if before.kind is ActKind.ASKED else (act, before)
    if told.first.intent is Intent.WHAT_IF and told.first.club and asked.first.club:
        # "I'd not hit the 56, what about the 52": the first is turned down, and no shot told.
        return told.worth
    if asked is act and (asked.first.intent is Intent.HELP or answered_by_advice(asked.first)):
        return 0.0 if cost == COST_FULL_STOP else asked.worth
    far = told.first.situation.pin_m or asked.first.situation.pin_m
    plain = asked.first.club and not asked.first.asks
    if plain and far and told.first.intent is not Intent.CORRECT:
        return _OF_THE_SHOT
    return 0.0 if cost == COST_FULL_STOP else _UNLIKELY.get((before.kind, act.kind), 0.0)
