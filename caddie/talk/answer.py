"""One sentence in, one answer out: understand, plan, put into words."""

import time
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from pydantic import ConfigDict, Field

from caddie.bag import Bag, Player
from caddie.errors import CaddieError
from caddie.plan.assume import question_for
from caddie.plan.candidates import ANY
from caddie.plan.option import Plan
from caddie.plan.unplayable import before_the_distance
from caddie.reply import speak
from caddie.reply.cue import Cue, cue_for
from caddie.reply.obstacles import before_the_distance_said
from caddie.reply.spoken import sentences
from caddie.situation import Frozen, Situation
from caddie.talk.advice import advice_of, option_fields
from caddie.talk.as_counted import counted_as_told
from caddie.talk.as_wished import Wished, as_wished, is_a_kind, not_from_there, wish_of
from caddie.talk.asked_with_the_shot import asked_beside, played_after
from caddie.talk.height_asked import height_question, height_unsaid
from caddie.talk.how_to import how_to
from caddie.talk.leave_asked import leave_asked, leave_said, leave_wished_m, wish_said
from caddie.talk.told_beside import (
    answered_beside,
    with_answers,
    without_what_is_answered,
)
from caddie.words import Intent, Understanding, understand
from caddie.words.rules import RuleOfGolf, rule_asked
from caddie.words.short_names import owned_in_full

if TYPE_CHECKING:
    from caddie.notes.notebook import Notes

SAY_WHAT = 'say the distance and the lie, for example: "seventy yards, fairway, flag in the middle"'
COMPETITION_NOTE = (
    "Competition: Rule 4.3a(1) does not allow a device to recommend a club or a line during the round. "
    "The distances are as you said them; use the card made before the round. Local rules decide."
)


class Answer(Frozen):
    """What ``caddie ask --json`` prints: the facts, the advice or the question, and the time it took."""

    model_config = ConfigDict(frozen=True, arbitrary_types_allowed=True)

    heard: str
    intent: str
    situation: Situation
    assumed: dict[str, Any] = {}
    question: str | None = None
    advice: dict[str, Any] | None = None
    note: str | None = None
    notes: tuple[str, ...] = ()
    """What was taken from notes, a few words each."""
    left_over: tuple[str, ...] = ()
    """Words and numbers of the sentence that nothing explains."""
    options: tuple[dict[str, Any], ...] = ()
    timing_ms: dict[str, float] = {}
    plan: Plan | None = Field(default=None, exclude=True)

    def wire(self) -> dict[str, Any]:
        """The answer as a JSON object."""
        return self.model_dump(mode="json")


def answer(
    text: str,
    bag: Bag,
    *,
    seed: int = 1,
    competition: bool = False,
    from_speech: bool = False,
    cue_weights: Mapping[str, float] | None = None,
    notes: "Notes | None" = None,
) -> Answer:
    """Answer one typed or recognised sentence with this bag.

    ``cue_weights``, as :func:`caddie.log.cues.cue_weights` gives them, move cues that worked forward;
    ``notes``, as :func:`caddie.notes.notebook.read_notes` gives them, what is remembered.

    Raises:
        CaddieError: in one line, when the sentence is no situation or says something impossible.
    """
    started = time.perf_counter()
    heard, taken = read(owned_in_full(text, bag), bag.player, notes, from_speech=from_speech)
    words_ms = _since(started)
    rule = rule_asked(text)
    after = None if rule is None or competition else played_after(rule, heard, bag)
    if after is None and (note := _told_alone(text, rule, bag, competition=competition)) is not None:
        return _without_advice(heard, note=note, timing={"words": words_ms})
    heard = after or heard
    check_situation(heard)
    if competition:
        return _without_advice(heard, note=COMPETITION_NOTE, timing={"words": words_ms})
    question = question_for(heard.situation)
    if question:
        offered = before_the_distance_said(heard.situation)
        rules = "\n".join(before_the_distance(heard.situation)) if offered else None
        question = sentences([rule.say if rule else offered, question])
        return _without_advice(heard, question=question, note=rules, timing={"words": words_ms})
    started = time.perf_counter()
    wished, lead = _planned(heard, bag, seed)
    lead = f"{rule.say} {lead}" if rule else lead
    plan, plan_ms = wished.plan, _since(started)
    started = time.perf_counter()
    cue = cue_for(plan, bag, cue_weights)
    asking = asked_beside(heard, bag)
    answered = answered_beside(heard, asking, plan, cue, bag) if asking else {}
    heard = without_what_is_answered(heard, answered)
    advice = _advised(heard, wished, lead, bag, cue)
    advice = with_answers(advice, answered, plan, bag) if answered else advice
    if taken:
        advice["written"] = f"{advice['written']}\nNotes: {', '.join(taken)}"
    return Answer(
        heard=heard.heard,
        intent=heard.intent.value,
        situation=plan.situation,
        assumed=plan.assumed,
        advice=advice,
        notes=taken,
        left_over=heard.left_over,
        options=tuple(option_fields(option) for option in plan.options),
        timing_ms={"words": words_ms, "plan": plan_ms, "reply": _since(started)},
        plan=plan,
    )


def _told_alone(text: str, rule: RuleOfGolf | None, bag: Bag, *, competition: bool) -> str | None:
    """What is told without any shot: a rule, and where advice is allowed what to leave and how a shot is played."""
    if rule is not None:
        return f"{rule.say}\n{rule.rule}"
    if competition:
        return None
    if leave_asked(text):
        return leave_said(bag)[1]
    left_m = leave_wished_m(text, bag)
    return how_to(text) if left_m is None else wish_said(left_m, bag)


def _advised(heard: Understanding, wished: Wished, lead: str, bag: Bag, cue: Cue) -> dict[str, Any]:
    """The advice as it is said and shown, with what is named first and what a wish costs."""
    plan = wished.plan
    left_out, distance = heard.numbers_left_over, counted_as_told(heard, plan.situation, bag)
    unsaid = height_unsaid(heard, heard.situation)
    asked = wished.told or (height_question(unsaid, heard.situation) if unsaid else "")
    spoken = lead + speak(plan, bag, cue, distance=distance, question=asked, left_out=left_out)
    advice = advice_of(plan, bag, cue, spoken, heard)
    advice["written"] = "\n".join(filter(None, (lead.strip(), advice["written"], wished.written)))
    return advice


def _planned(heard: Understanding, bag: Bag, seed: int) -> tuple[Wished, str]:
    """The shot as it is wished; a kind of shot that does not go from there is named first, and another advised."""
    only = wish_of(heard, heard.situation, bag)
    try:
        wished = as_wished(heard, heard.situation, only, bag, seed)
        return wished, f"{sentences([wished.first])} " if wished.first else ""
    except CaddieError:
        if not is_a_kind(only, bag):
            raise
        return as_wished(
            heard, heard.situation, ANY, bag, seed
        ), f"{sentences([not_from_there(only, heard.situation)])} "


def read(
    text: str, player: Player, notes: "Notes | None", *, from_speech: bool
) -> tuple[Understanding, tuple[str, ...]]:
    """The sentence as understood, with what notes add to it, and what was taken from them."""
    if notes is None:
        return understand(text, unit=player.distances_in, pace_m=player.pace_m, from_speech=from_speech), ()
    from caddie.talk.answer_notes import read_with_notes

    return read_with_notes(text, player, notes, from_speech=from_speech)


def check_situation(heard: Understanding) -> None:
    """Refuse what is no situation, or holds a number that cannot be.

    Raises:
        CaddieError: with what to say instead.
    """
    if heard.problem:
        raise CaddieError(heard.problem)
    if not heard.heard.strip():
        raise CaddieError(f"nothing was said: {SAY_WHAT}")
    if heard.intent not in (Intent.SITUATION, Intent.PUTT):
        raise CaddieError(f"that is no shot I can plan: {SAY_WHAT}")


def _without_advice(heard: Understanding, timing: dict[str, float], **fields: str | None) -> Answer:
    return Answer(
        heard=heard.heard,
        intent=heard.intent.value,
        situation=heard.situation,
        left_over=heard.left_over,
        timing_ms={**timing, "plan": 0.0, "reply": 0.0},
        **fields,
    )


def _since(started: float) -> float:
    return round((time.perf_counter() - started) * 1000, 3)
