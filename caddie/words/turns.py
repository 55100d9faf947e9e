"""One turn of a conversation, understood: the things said in one breath, each with the one thing it means.

"Tapped in. Next hole"; "pond right, where do I aim?"; "say again? The lads were laughing". What is said beside
them is left out.
"""

from functools import cache, partial

from caddie.situation import Finish, Situation
from caddie.units import Unit
from caddie.words.facts import Intent, Understanding
from caddie.words.gist import gists_of, intent_of, is_question
from caddie.words.golf_talk import is_of_the_game, unit_said
from caddie.words.reading import read
from caddie.words.results import TWO
from caddie.words.sayings import bare, begins, compared, saying_of, sayings_of, turn_data
from caddie.words.then_told import STOPS, Reader, told_apart

MOST_PARTS = 4
MOST_OF_LEAVE = 3
LEAST_PUT_RIGHT = 1
PUTS_RIGHT = "puts_right"
MOST_WORDS = 60
"""A longer turn is taken as one."""
NEXT = "next"
RELIEF = "relief_options"
ADOPTS = "adopt_lead"
UNDO = "undo"
TWO_PUTTS = "two_putts"
_NOT_COMPARED = frozenset({"aim", "meaning"})
_ADVISED_ON = (Intent.SITUATION, Intent.PUTT, Intent.CORRECT)
_ASKED_AFTER = (*_ADVISED_ON, Intent.WHAT_IF)
_TOLD = (*_ADVISED_ON, Intent.RESULT, Intent.WHAT_IF)
_MEANS_ONE_THING = (Intent.STOP, Intent.UNDO, Intent.GREETING)


def turn(text: str, *, unit: Unit, pace_m: float, from_speech: bool) -> tuple[Understanding, ...]:
    """The parts of a turn in the order said; see :func:`caddie.words.understand_turn`."""
    understood = partial(read, unit=unit, pace_m=pace_m, from_speech=from_speech)
    whole = understood(text)
    if sayings_of(text) or whole.problem or len(text.split()) > MOST_WORDS:
        return (whole,)
    if _asks_what_the_advice_tells(text, whole):
        return (whole,)
    one = _as_one(text, whole, understood)
    if one is not None:
        return (one,)
    apart = _parts(text, understood)
    if len(apart) == 1:
        apart = _with_last_question(text, whole, understood)
    if len(apart) == 1:
        apart = _with_first_question(text, whole, understood)
    if len(apart) == 1:
        apart = _two_questions(text, whole, understood)
    if len(apart) == 1 and is_nothing(whole):
        apart = _by_clauses(text, whole, understood)
    if len(apart) > MOST_PARTS:
        return (whole,)
    parts = _results_together([understood(part) for part in apart], understood)
    once = _once_each(_come_to_one(parts, whole))
    return tuple(each for part in once for each in told_apart(part, understood))


def _as_one(text: str, whole: Understanding, understood: Reader) -> Understanding | None:
    """The one thing that counts of a turn: a wish told whole, or what other talk has run on to; None for any other."""
    if whole.asks:
        wished = whole.intent is Intent.WHAT_IF and whole.asks[0] in turn_data()["wishes"]
        return whole if wished or whole.asks[0] in turn_data()["asked_whole"] else None
    if whole.intent is not Intent.OUT_OF_SCOPE:
        return None
    leave = _takes_leave(text)
    if leave is not None:
        return understood(leave)
    return _without_what_follows(whole, understood) if begins(text, PUTS_RIGHT) else None


def _asks_what_the_advice_tells(text: str, whole: Understanding) -> bool:
    """ "It's unplayable, sixty yards, what are my options": what may be done with the ball is told first anyway."""
    shot = whole.situation
    stuck = shot.unplayable or shot.against or shot.obstruction or shot.hampered
    return bool(stuck) and whole.intent in _ADVISED_ON and RELIEF in sayings_of(_between_stops(text)[-1])


def _results_together(parts: list[Understanding], understood: Reader) -> list[Understanding]:
    """ "Four feet past, two putts" tells one shot, and how many strokes it took from there."""
    found: list[Understanding] = []
    for part in parts:
        if found and _tells_result(found[-1]) and _tells_result(part):
            both = understood(f"{found[-1].heard} {part.heard}")
            if both.intent is Intent.RESULT and both.down_in is not None and not both.asks:
                found[-1] = both
                continue
            if found[-1].result is not None and part.asks[:1] == (TWO_PUTTS,):
                found[-1] = found[-1].model_copy(update={"down_in": TWO})
                continue
        found.append(part)
    return found


def _tells_result(part: Understanding) -> bool:
    return part.intent is Intent.RESULT or bool(part.asks and part.asks[0] in turn_data()["results"])


def _come_to_one(parts: list[Understanding], whole: Understanding) -> list[Understanding]:
    """ "Just missed, tapped in" is one thing: two putts."""
    first, then, together = turn_data()["missed_then_holed"]
    if [part.asks[:1] for part in parts[:2]] != [(first,), (then,)]:
        return parts
    heard = whole.heard if len(parts) == 2 else f"{parts[0].heard} {parts[1].heard}"
    both = Understanding(heard=heard, asks=(together,), intent=Intent.RESULT)
    return [both, *parts[2:]]


def is_nothing(heard: Understanding) -> bool:
    """Whether nothing was understood as said; a gist is no more than a hint."""
    return not sayings_of(heard.heard) and (heard.intent is Intent.OUT_OF_SCOPE or bool(heard.asks))


def _is_part(heard: Understanding) -> bool:
    """Whether a clause by itself is a turn: a yes, or a word that only leads, is none."""
    if heard.asks:
        return heard.asks[0] in _leads() | _follows() or intent_of(heard.asks[0]) not in (
            None,
            Intent.YES,
            Intent.NO,
        )
    return heard.intent not in (Intent.OUT_OF_SCOPE, Intent.YES, Intent.NO)


def _once_each(parts: list[Understanding]) -> tuple[Understanding, ...]:
    """The parts without those that only say once more what one before them meant: "I'm in, let's have it".

    "Here goes… topped it" is past being ready.
    """
    kept: list[Understanding] = []
    for at, part in enumerate(parts):
        before_it = part.intent is Intent.READY or any(
            name in turn_data()["before_a_result"] for name in part.asks[:1]
        )
        if before_it and any(each.intent is Intent.RESULT for each in parts[at + 1 :]):
            continue
        told = part.intent in _TOLD and not part.asks
        if told or all(_means(part) != _means(each) for each in kept):
            kept.append(part)
    return tuple(kept)


def _means(part: Understanding) -> str:
    if part.intent in _MEANS_ONE_THING:
        return part.intent.value
    return part.asks[0] if part.asks else part.intent.value


def _by_clauses(text: str, whole: Understanding, understood: Reader) -> list[str]:
    """The clauses that mean something when the whole does not; clauses of a shot told belong together."""
    found: list[tuple[str, bool]] = []
    passed = ""
    for clause in _between_stops(text):
        heard = understood(clause)
        told = heard.intent in _TOLD and not heard.asks
        if not _is_part(heard) or (told and _is_scrap(heard, whole)):
            passed = passed or clause * (heard.asks[:1] == ("pass",))
            continue
        if told and found and found[-1][1]:
            found[-1] = (f"{found[-1][0]} {clause}", True)
        else:
            found.append((clause, told))
    if whole.asks and len(found) < 2:
        return [text]
    return [clause for clause, _ in found] or [passed or text]


def _is_scrap(heard: Understanding, whole: Understanding) -> bool:
    """Whether a clause out of other talk tells too little to be a shot: a bare number, or "is it in the rough?"."""
    if is_question(heard.heard) and heard.intent is Intent.SITUATION:
        return True
    number = heard.intent in _ADVISED_ON and heard.situation == Situation(pin_m=heard.situation.pin_m)
    return number and not heard.club and not unit_said(heard.heard) and not is_of_the_game(whole.heard)


def _between_stops(text: str) -> list[str]:
    clauses: list[list[str]] = [[]]
    for token in text.replace("…", "… ").split():
        clauses[-1].append(token)
        if token[-1] in STOPS:
            clauses.append([])
    return [" ".join(clause) for clause in clauses if clause]


def _with_last_question(text: str, whole: Understanding, understood: Reader) -> list[str]:
    """A shot told or asked about, and a question in a later clause that the advice does not answer by itself."""
    between = _between_stops(text)
    if whole.intent not in (*_ASKED_AFTER, Intent.RESULT):
        return [text]
    for at in range(1, len(between)):
        head, last = " ".join(between[:at]), " ".join(between[at:])
        clause = understood(between[at])
        if clause.club or (clause.intent in _TOLD and not clause.asks):
            continue
        asked = clause.asks[:1] or (gists_of(between[at])[:1] if is_question(between[at]) else ())
        if not asked:
            continue
        before = understood(head)
        if _belongs_to_it(text, head, between[at], understood):
            continue
        # A club asked about is compared, which tells all of it but the line.
        compares = before.club and not begins(bare(head), ADOPTS)
        may_follow = _NOT_COMPARED if compares else _follows() - _answered_by_advice()
        if before.intent is Intent.RESULT:
            may_follow = frozenset(turn_data()["after_a_result"])
        if asked[0] in may_follow and before.intent in (*_ASKED_AFTER, Intent.RESULT):
            return [head, between[at] if understood(last).intent in _TOLD else last]
    return [text]


def _with_first_question(text: str, whole: Understanding, understood: Reader) -> list[str]:
    """ "How high does it go, there's a tree in front of me": the facts first, then what was asked about them."""
    between = _between_stops(text)
    if len(between) < 2 or whole.intent not in (Intent.SITUATION, Intent.WHAT_IF) or whole.club:
        return [text]
    first, rest = between[0], " ".join(between[1:])
    asked = understood(first).asks[:1]
    told = understood(rest)
    facts = told.intent is Intent.SITUATION and not told.asks and not is_question(rest)
    if not is_question(bare(first)) or not facts or told.situation.pin_m is not None:
        return [text]
    return [rest, first] if asked and asked[0] in _follows() - _answered_by_advice() else [text]


def _two_questions(text: str, whole: Understanding, understood: Reader) -> list[str]:
    """ "Which club then, and how hard do I hit it": two things asked, cut where the second is something else."""
    of_the_shot = whole.intent is Intent.WHAT_IF and whole.situation == Situation() and not whole.club
    if not of_the_shot and (whole.intent is not Intent.OUT_OF_SCOPE or not whole.asks):
        return [text]
    tokens = text.split()
    for at in range(2, len(tokens) - 1):
        if tokens[at - 1][-1] not in "?" and tokens[at].lower() != "and":
            continue
        first, then = understood(" ".join(tokens[:at])), understood(" ".join(tokens[at:]))
        both = first.asks[:1] and then.asks[:1] and first.asks[0] != then.asks[0]
        both = both and then.asks[0] not in turn_data()["results"]
        if both and _is_part(first) and _is_part(then) and is_question(bare(then.heard.removeprefix("and "))):
            return [first.heard, then.heard]
    return [text]


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


def _parts(text: str, understood: Reader) -> list[str]:
    """A turn cut before a saying that may follow, and after one that may lead."""
    tokens = text.split()
    if sayings_of(text):
        return [text]
    for at in range(1, len(tokens)):
        head, tail = " ".join(tokens[:at]), " ".join(tokens[at:])
        apart = tokens[at - 1][-1] in STOPS
        # Without a stop, "right" of "on the right where do I aim" is no lead-in.
        starts = apart or (len(tokens) - at > 1 and bare(tail).split()[:1] == tokens[at : at + 1])
        name = saying_of(tail, _follows()) if starts else None
        if name is None or not bare(head):
            continue
        if name in turn_data()["results"] and is_question(text):
            # "What if I play safe and take two putts?" tells of none.
            continue
        if not apart and (
            tokens[at] in turn_data()["needs_stop"] or _takes_more(head, tokens[at], understood)
        ):
            continue
        before = _kind(head, understood)
        if apart and before in _ADVISED_ON and _belongs_to_it(text, head, tail, understood):
            # "Miss left is fine, right is dead", "a cup of break": more of the shot, and no turn of its own.
            return [text]
        if before is None or (before is Intent.RESULT and name == "ready"):
            # Behind a result "committed" tells how it was hit.
            continue
        if before in _ASKED_AFTER and (name in _answered_by_advice() or name == "thanks"):
            return [text] if understood(text).intent in _ASKED_AFTER else [head]
        if before is Intent.WHAT_IF and not apart and name in _leads():
            # "Would a nine iron do it?" asks one thing.
            continue
        if before is Intent.WHAT_IF and not apart and not is_question(tail.rstrip("?")):
            # "Is a flop smart here?" asks one thing, "what about a flop where do I aim?" two.
            continue
        if name == "aim" and understood(text).intent is Intent.PUTT:
            return [text]
        return [*_parts(head, understood), tail]
    for at in range(len(tokens) - 1, 0, -1):
        head, tail = " ".join(tokens[:at]), " ".join(tokens[at:])
        name = saying_of(head, _leads())
        apart = tokens[at - 1][-1] in STOPS
        if name is None and apart and begins(tail, NEXT) and understood(head).intent is Intent.RESULT:
            return [head, *_parts(tail, understood)]
        if name is None or (not apart and name not in _needs_no_stop()):
            continue
        if not apart and (_goes_on(text, understood) or tokens[at] in turn_data()["verbs"]):
            continue
        if not apart and tokens[at - 1] in turn_data()["leads_to_a_place"] and not begins(tail, NEXT):
            continue
        if name == UNDO and understood(tail).intent in _ADVISED_ON:
            # "Scratch that, it's twenty five" puts one fact right.
            continue
        after = _parts(tail, understood)
        if len(after) > 1 or _is_told(tail, understood, apart=apart):
            return [head, *after]
    return [text]


def _belongs_to_it(text: str, head: str, tail: str, understood: Reader) -> bool:
    """Whether what follows the facts of a shot tells more of them, though it says nothing by itself."""
    whole, alone = understood(text), understood(tail)
    if whole.intent not in _ADVISED_ON or whole.asks or is_question(tail) or alone.intent in _TOLD:
        return False
    told = understood(head).situation
    return whole.situation.hazards != told.hazards or whole.situation.green != told.green


def _takes_more(head: str, word: str, understood: Reader) -> bool:
    """Whether the next word still belongs to the shot that is named: "a chip and" is not "a chip and run"."""
    return understood(f"{head} {word}").family != understood(head).family


def _is_told(tail: str, understood: Reader, *, apart: bool) -> bool:
    """Whether the rest of a turn says something by itself."""
    told = understood(tail).intent in (_TOLD if apart else _ADVISED_ON)
    return told or saying_of(tail, _leads() | _follows()) is not None


def _goes_on(text: str, understood: Reader) -> bool:
    """Whether the whole tells a result with where the ball went: "missed it a foot long" is one thing."""
    result = understood(text).result
    if result is None:
        return False
    return result.distance_m is not None or bool(result.side) or result.finish not in (None, Finish.HOLED)


def _kind(text: str, understood: Reader) -> str | Intent | None:
    """What a part is when it stands alone, or None when it is nothing."""
    found = saying_of(text, _leads() | _follows())
    if found is not None:
        return found
    intent = understood(text).intent
    return intent if intent in _TOLD else None


@cache
def _follows() -> frozenset[str]:
    return frozenset(turn_data()["follows"]) | _answered_by_advice()


@cache
def _leads() -> frozenset[str]:
    return frozenset(turn_data()["leads"])


@cache
def _needs_no_stop() -> frozenset[str]:
    return frozenset(turn_data()["leads_without_stop"])


@cache
def _answered_by_advice() -> frozenset[str]:
    return frozenset(turn_data()["answered_by_advice"])
