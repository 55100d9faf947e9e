"""One turn of a conversation, understood: the things said in one breath, each with the one thing it means.

"Tapped in. Next hole"; "pond right, where do I aim?"; "say again? The lads were laughing". What is said beside
them is left out.
"""

import re
from collections.abc import Iterable
from functools import partial

from caddie.situation import Green, Result, Situation
from caddie.units import Unit
from caddie.words.act_kinds import ActKind, answered_by_advice, facts_told, kind_of
from caddie.words.acts import TWO_PUTTS, Act, Answered, acts_of
from caddie.words.asked_of_facts import told_before_asked
from caddie.words.clause_cuts import FULL_STOPS
from caddie.words.every_question import means, with_every_question
from caddie.words.facts import Intent, Understanding
from caddie.words.gist import is_question
from caddie.words.golf_talk import is_of_the_game
from caddie.words.looked_back import looked_back
from caddie.words.next_ball import of_another, stretches_by_ball
from caddie.words.on_the_line import told_in_a_row
from caddie.words.one_telling import begun_anew, told_once
from caddie.words.other_times import habits_in, remembered, told_of_now
from caddie.words.outright import asks_in_two_halves
from caddie.words.reading import read
from caddie.words.sayings import begins, compared, sayings_of, sentences_of
from caddie.words.strokes_told import TWO
from caddie.words.taking_back import shots_to_take_out
from caddie.words.talk_files import turn_data
from caddie.words.then_told import Reader

MOST_OF_LEAVE = 3
LEAST_PUT_RIGHT = 1
PUTS_RIGHT = "puts_right"
MOST_WORDS = 120
"""A longer turn is taken sentence by sentence, as many at once as have no more words; a longer sentence as one."""
RELIEF = "relief_options"
CARRY_LEAD = "carry_lead"
THANKS = "thanks"
HOLED = "holed"
WENT_WRONG = "went_wrong"
PASSED_OVER = "never_mind"
_BUT_NEVER_MIND = re.compile(
    r"[^.!?;]*\b(?:was|were|had|went|came|got|did|left|ended|finished)\b[^.!?;]*?"
    r"\bnever mind\b(?: (?:that|it|now))?[.!?;,]*\s*",
    re.IGNORECASE,
)
"""A remark about something past that is let go in the same breath."""
_ADVISED_ON = (Intent.SITUATION, Intent.PUTT, Intent.CORRECT)


def turn(
    text: str, *, unit: Unit, pace_m: float, from_speech: bool, answered: Answered = lambda words: None
) -> tuple[Understanding, ...]:
    """The parts of a turn in the order said; see :func:`caddie.words.understand_turn`."""
    understood = partial(read, unit=unit, pace_m=pace_m, from_speech=from_speech)
    text = told_in_a_row(told_before_asked(text, understood))
    of_now = told_of_now(text, understood)
    if not of_now:
        return (remembered(text, understood),)
    habits = () if of_now == text else habits_in(text, understood)
    told = _of_now(of_now, understood, answered)
    if habits:
        # "I always leave these short, mind": what is left of the clause asks nothing.
        told = tuple(part for part in told if part.asks or part.intent is not Intent.OUT_OF_SCOPE)
    return _with_why_always(told, habits)


def _with_why_always(
    told: tuple[Understanding, ...], habits: tuple[Understanding, ...]
) -> tuple[Understanding, ...]:
    """ "I always leave them short, why is that?" asks what is wrong with how one does it."""
    why = [part for part in told if part.intent is Intent.WHY and not part.asks]
    if not habits or not why:
        return (*told, *habits)
    asked = habits[0].model_copy(
        update={"heard": f"{habits[0].heard}, {why[0].heard}", "asks": (WENT_WRONG,)}
    )
    return (*(part for part in told if part not in why), asked, *habits[1:])


def _of_now(text: str, understood: Reader, answered: Answered) -> tuple[Understanding, ...]:
    """The parts of a turn that tells of no other time."""
    text = _BUT_NEVER_MIND.sub("", text).strip() or text
    balls = stretches_by_ball(text, understood)
    if len(balls) == 1:
        return of_another(_of_one_ball(balls[0].words, understood, answered), balls[0])
    each = (
        of_another(
            _of_one_ball(ball.words, understood, answered if ball.another is None else _no_answer), ball
        )
        for ball in balls
    )
    return _in_a_row((part for parts in each for part in parts), understood)


def _no_answer(words: str) -> None:
    """No question of the shot before is answered by what is told of another."""


def _in_a_row(each: Iterable[Understanding], understood: Reader) -> tuple[Understanding, ...]:
    """What is told one after another, without what was not followed."""
    told = [*each]
    followed = [part for part in told if part.intent is not Intent.OUT_OF_SCOPE or part.asks]
    return _once_each(_facts_first(begun_anew(looked_back(told_once(followed or told[:1]), understood))))


def _of_one_ball(text: str, understood: Reader, answered: Answered) -> tuple[Understanding, ...]:
    """The parts of what is told of one ball."""
    stretches = _stretches(text)
    if len(stretches) > 1:
        each = (_of_one_ball(said, understood, answered) for said in stretches)
        return _in_a_row((part for parts in each for part in parts), understood)
    whole = understood(text)
    if sayings_of(text) or whole.problem or len(text.split()) > MOST_WORDS:
        return (whole,)
    if _asks_what_the_advice_tells(text, whole) or asks_in_two_halves(whole):
        return (whole,)
    acts = acts_of(text, understood, answered)
    kept = [
        act if act.kind is not ActKind.NOTHING else _unknown(act)
        for act in acts
        if act.kind is not ActKind.NOTHING or _asks_unknown(act)
    ]
    if all(act.kind is ActKind.NOTHING for act in kept):
        return (_past_other_talk(text, whole, understood),)
    one_thing = len(kept) == 1 and len(kept[0].parts) == 1 and _tells_as_much(whole, kept[0])
    if one_thing or _is_one_wish(whole, kept):
        return _once_each(with_every_question([whole], text, understood))
    parts = _without_how_it_went_in([part for act in kept for part in act.parts])
    parts = told_once(_results_together(parts, understood))
    parts = with_every_question(parts, text, understood)
    return _once_each(_come_to_one(_facts_first(begun_anew(looked_back(parts, understood))), whole))


def _stretches(text: str) -> list[str]:
    """The sentences of a turn, as many together as are taken at once."""
    found: list[str] = []
    for sentence in sentences_of(text):
        if found and len(found[-1].split()) + len(sentence.split()) <= MOST_WORDS:
            found[-1] = f"{found[-1]} {sentence}"
        else:
            found.append(sentence)
    return found


def _asks_what_the_advice_tells(text: str, whole: Understanding) -> bool:
    """ "It's unplayable, sixty yards, what are my options": what may be done with the ball is told first anyway.

    So is whether the shot carries what lies before the green: "can I carry it, 104 over the pond?"
    """
    shot = whole.situation
    stuck = shot.unplayable or shot.against or shot.obstruction or shot.hampered
    asked = bool(stuck) and RELIEF in sayings_of(_last_clause(text))
    return whole.intent in _ADVISED_ON and (asked or begins(text, CARRY_LEAD))


def _last_clause(text: str) -> str:
    return re.split(r"(?<=[.,;:!?…])\s+", text.rstrip())[-1]


def _unknown(act: Act) -> Act:
    heard = Understanding(heard=act.first.heard, intent=Intent.OUT_OF_SCOPE)
    return Act((heard,), ActKind.NOTHING, 0.0)


def _asks_unknown(act: Act) -> bool:
    """Whether words that were not understood end in a question about the game all the same."""
    last = _last_clause(act.first.heard)
    return last.endswith("?") and is_question(last.rstrip(" ?")) and is_of_the_game(act.first.heard)


def _is_one_wish(whole: Understanding, kept: list[Act]) -> bool:
    """Whether all that was asked is the one wish of the whole: "another option, something with less water"."""
    if not whole.asks or any(act.kind is not ActKind.ASKED for act in kept):
        return False
    if len(kept) == 1 and answered_by_advice(kept[0].first) and not answered_by_advice(whole):
        # "Ten minutes before the round, what should I do" asks for no shot.
        return True
    wished = whole.intent is Intent.WHAT_IF and whole.asks[0] in turn_data()["wishes"]
    return wished or whole.asks[0] in turn_data()["asked_whole"]


def _tells_as_much(whole: Understanding, act: Act) -> bool:
    """Whether nothing of the one thing said is lost in the reading of the whole."""
    if act.kind is ActKind.SAID:
        return whole.intent is act.first.intent or kind_of(whole) in (ActKind.TOLD, ActKind.RESULT)
    if is_question(whole.heard) and not is_question(act.first.heard):
        return False
    alike = kind_of(whole) is act.kind and whole.asks == act.first.asks
    return alike and facts_told(whole) >= facts_told(act.first)


def _past_other_talk(text: str, whole: Understanding, understood: Reader) -> Understanding:
    """The one thing that counts of other talk: a leave taken at its end, or a fact put right before it."""
    leave = _takes_leave(text)
    if leave is not None:
        return understood(leave)
    if whole.intent is Intent.OUT_OF_SCOPE and begins(text, PUTS_RIGHT):
        return _without_what_follows(whole, understood) or whole
    return whole


def _facts_first(parts: list[Understanding]) -> list[Understanding]:
    """ "How high does it go, there's a tree in front of me": the facts first, then what was asked about them.

    Of a longer turn so only what the advice answers by itself: "take that off. What club? 85 out, left rough".
    """
    found = list(parts)
    for at in range(len(found) - 1):
        asked, told = found[at], found[at + 1]
        apart = kind_of(asked) is not ActKind.ASKED or kind_of(told) is not ActKind.TOLD or told.another
        if not apart and (len(found) == 2 or answered_by_advice(asked)):
            found[at], found[at + 1] = told, asked
    return found


def _without_how_it_went_in(parts: list[Understanding]) -> list[Understanding]:
    """ "I made it, firm, right in the centre": nothing told of the green that the next is played to."""
    kept: list[Understanding] = []
    for part in parts:
        before = kept[-1] if kept else None
        told = part.intent is Intent.SITUATION and not part.asks and before is not None
        of_the_next = {"pin_position": None, "green": Green()}
        alone = told and part.situation.model_copy(update=of_the_next) == Situation()
        if alone and before is not None and _holed(before) and before.heard[-1:] not in FULL_STOPS:
            continue
        kept.append(part)
    return kept


def _holed(part: Understanding) -> bool:
    return (part.result is not None and part.result.holed) or HOLED in part.asks


def _results_together(parts: list[Understanding], understood: Reader) -> list[Understanding]:
    """ "Four feet past, two putts" tells one shot, and how many strokes it took from there."""
    found: list[Understanding] = []
    for part in parts:
        if found and (struck := _struck_and_left(found[-1], part)) is not None:
            found[-1] = struck
            continue
        if found and kind_of(found[-1]) is kind_of(part) is ActKind.RESULT:
            both = understood(f"{found[-1].heard} {part.heard}")
            if both.intent is Intent.RESULT and both.down_in is not None and not both.asks:
                found[-1] = both
                continue
            if found[-1].result is not None and part.asks[:1] == (TWO_PUTTS,):
                found[-1] = found[-1].model_copy(update={"down_in": TWO})
                continue
        found.append(part)
    return found


def _struck_and_left(first: Understanding, then: Understanding) -> Understanding | None:
    """ "Thin again, like twelve feet by" tells one ball: how it was hit, and what was left of it."""
    strike, left = first.result, then.result
    if strike is None or left is None or strike.strike is None or first.heard[-1:] in FULL_STOPS:
        return None
    if strike != Result(strike=strike.strike) or left.strike is not None or left.distance_m is None:
        return None
    result = left.model_copy(update={"strike": strike.strike})
    return then.model_copy(update={"heard": f"{first.heard} {then.heard}", "result": result})


def _come_to_one(parts: list[Understanding], whole: Understanding) -> list[Understanding]:
    """ "Just missed, tapped in" is one thing: two putts."""
    first, then, together = turn_data()["missed_then_holed"]
    if [part.asks[:1] for part in parts[:2]] != [(first,), (then,)]:
        return parts
    heard = whole.heard if len(parts) == 2 else f"{parts[0].heard} {parts[1].heard}"
    both = Understanding(heard=heard, asks=(together,), intent=Intent.RESULT)
    return [both, *parts[2:]]


def _once_each(parts: list[Understanding]) -> tuple[Understanding, ...]:
    """The parts without those that say once more what one before them meant, or that the advice says by itself.

    "Here goes… topped it" is past being ready, "seventy yards, thanks" asks for the advice.
    """
    kept: list[Understanding] = []
    for at, part in enumerate(parts):
        before_it = part.intent is Intent.READY or (
            part.asks[:1] and part.asks[0] in turn_data()["before_a_result"]
        )
        if part.asks[:1] == (PASSED_OVER,) and len(parts) > 1:
            continue
        if before_it and any(each.intent is Intent.RESULT for each in parts[at + 1 :]):
            continue
        if part.intent in _NO_MORE_TO_ASK and any(kind_of(each) is ActKind.ASKED for each in parts[at + 1 :]):
            continue
        if (
            kept
            and kept[-1].intent in _ADVISED_ON
            and (answered_by_advice(part) or part.asks[:1] == (THANKS,))
        ):
            continue
        on_to_another = any(each.another for each in parts[at + 1 : at + 2])
        if part.intent is Intent.UNDO and on_to_another and shots_to_take_out(part.heard) is None:
            # "Forget that. New one, seventy yards": left behind, and nothing taken back.
            continue
        more = shots_to_take_out(part.heard) or 0
        if part.intent is Intent.UNDO and kept and kept[-1].intent is Intent.UNDO and more > 1:
            kept[-1] = part
            continue
        told = kind_of(part) in (ActKind.TOLD, ActKind.RESULT) and not part.asks
        if told or all(means(part) != means(each) for each in kept):
            kept.append(part)
    return tuple(kept)


_NO_MORE_TO_ASK = (Intent.READY, Intent.STOP)
"""Nobody who is ready, or takes leave, goes on to ask about the shot."""


def _without_what_follows(whole: Understanding, understood: Reader) -> Understanding | None:
    """A fact put right, with other talk run on to it: "wait no it's more like forty-two my dad just lasered it"."""
    tokens = whole.heard.split()
    for count in range(len(tokens) - 1, LEAST_PUT_RIGHT, -1):
        head = understood(" ".join(tokens[:count]))
        if head.intent is Intent.CORRECT and head.situation.pin_m is not None and not head.problem:
            return head
    return None


def _takes_leave(text: str) -> str | None:
    """The leave taken at the end of other talk, which is all of it that counts: "my mum's calling, see you"."""
    tokens = text.split()
    tails = (" ".join(tokens[-count:]) for count in range(MOST_OF_LEAVE, 0, -1))
    leave = turn_data()["leave"]
    return next((tail for tail in tails if " ".join(compared(tail)) in leave), None)
