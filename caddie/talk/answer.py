"""One sentence in, one answer out: understand, plan, put into words."""

import time
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from pydantic import ConfigDict, Field

from caddie.bag import Bag, Player
from caddie.errors import CaddieError
from caddie.plan.assume import question_for
from caddie.plan.candidates import ANY
from caddie.plan.option import Option, Plan
from caddie.reply import speak, write
from caddie.reply.cue import Cue, cue_for
from caddie.reply.spoken import sentences
from caddie.situation import Frozen, Situation
from caddie.talk.as_wished import Wished, as_wished, is_a_kind, not_from_there, wish_of
from caddie.talk.leave_asked import leave_asked, leave_said
from caddie.talk.lip_asked import lip_unsaid
from caddie.talk.told_in_feet import counted_as_told
from caddie.words import Intent, Understanding, understand
from caddie.words.rules import rule_asked

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
    heard, taken = read(text, bag.player, notes, from_speech=from_speech)
    words_ms = _since(started)
    if (rule := rule_asked(text)) is not None:
        return _without_advice(heard, note=f"{rule.say}\n{rule.rule}", timing={"words": words_ms})
    if leave_asked(text) and not competition:
        return _without_advice(heard, note=leave_said(bag)[1], timing={"words": words_ms})
    check_situation(heard)
    if competition:
        return _without_advice(heard, note=COMPETITION_NOTE, timing={"words": words_ms})
    question = question_for(heard.situation)
    if question:
        return _without_advice(heard, question=question, timing={"words": words_ms})
    started = time.perf_counter()
    wished, lead = _planned(heard, bag, seed)
    plan, plan_ms = wished.plan, _since(started)
    started = time.perf_counter()
    cue = cue_for(plan, bag, cue_weights)
    left_out, distance = heard.numbers_left_over, counted_as_told(heard, plan.situation, bag)
    asked = wished.told or lip_unsaid(heard, plan.situation)
    spoken = lead + speak(plan, bag, cue, distance=distance, question=asked, left_out=left_out)
    advice = advice_of(plan, bag, cue, spoken, heard)
    advice["written"] = "\n".join(filter(None, (lead.strip(), advice["written"], wished.written)))
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


def _planned(heard: Understanding, bag: Bag, seed: int) -> tuple[Wished, str]:
    """The shot as it is wished; a kind of shot that does not go from there is named first, and another advised."""
    only = wish_of(heard, heard.situation, bag)
    try:
        return as_wished(heard, heard.situation, only, bag, seed), ""
    except CaddieError:
        if not is_a_kind(only, bag):
            raise
        return as_wished(heard, heard.situation, ANY, bag, seed), f"{sentences([not_from_there(only)])} "


def read(
    text: str, player: Player, notes: "Notes | None", *, from_speech: bool
) -> tuple[Understanding, tuple[str, ...]]:
    """The sentence as understood, with what notes add to it, and what was taken from them."""
    if notes is None:
        return understand(text, unit=player.distances_in, pace_m=player.pace_m, from_speech=from_speech), ()
    from caddie.talk.answer_notes import read_with_notes

    return read_with_notes(text, player, notes, from_speech=from_speech)


def advice_of(
    plan: Plan,
    bag: Bag,
    cue: Cue | None = None,
    spoken: str | None = None,
    heard: Understanding | None = None,
) -> dict[str, Any]:
    """The chosen option's fields with its cue, its spoken and written reply and its reasons."""
    cue = cue or cue_for(plan, bag)
    return {
        **option_fields(plan.chosen),
        "cue": cue.say,
        "spoken": spoken or speak(plan, bag, cue, left_out=heard.numbers_left_over if heard else ()),
        "written": write(plan, bag, cue, heard.left_over if heard else ()),
        "reasons": list(plan.reasons),
    }


def option_fields(option: Option) -> dict[str, Any]:
    """An option as it goes on the wire; putts carry a pace instead of carry and run."""
    absent = {"carry_m", "run_m", "land_short_of_pin_m"} if option.pace_m is not None else set()
    putting = {"pace_m", "make", "three_putt", "line"} if option.pace_m is None else set()
    return option.model_dump(mode="json", exclude=absent | putting)


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


def _without_advice(heard: Understanding, timing: dict[str, float], **fields: str) -> Answer:
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
