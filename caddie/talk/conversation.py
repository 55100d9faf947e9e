"""A conversation, one turn at a time: each utterance in, one short reply out."""

from collections import deque
from dataclasses import replace

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.log.cues import cue_weights
from caddie.log.shot import Mode
from caddie.log.store import Log
from caddie.reply.spoken import MOST_WORDS, sentences
from caddie.talk import lines
from caddie.talk.about import about_the_shot, adopted, known_so_far, passed, the_shot, yes_or_no
from caddie.talk.asked import asked, without
from caddie.talk.compare import another, what_if
from caddie.talk.competition import competition_turn
from caddie.talk.planning import describe
from caddie.talk.played import commit_told, in_clauses, removed, result, tells_commitment
from caddie.talk.question import in_context
from caddie.talk.sayings import says
from caddie.talk.state import Desk, Known, Said, Turn
from caddie.talk.stock import begin, on_the_walk
from caddie.words import Intent, Understanding, understand

UNDO_STEPS = 60
SHOTS_BEHIND_CUES = 300
"""Shots of the log that tell which cues work; older ones weigh next to nothing."""


class Conversation:
    """Holds what is known from turn to turn; ``turn`` never raises on anything that is said."""

    def __init__(
        self,
        bag: Bag,
        *,
        mode: Mode = Mode.PRACTICE,
        seed: int = 1,
        log: Log | None = None,
        log_problem: str | None = None,
    ) -> None:
        """Begin with nothing known.

        Parameters:
            log: where played shots are written; None keeps nothing.
            log_problem: why there is no log although the player wanted one; told with each result.
        """
        self.desk = Desk(
            bag=bag, mode=mode, seed=seed, log=log, log_problem=log_problem, cue_weights=_weights(log, bag)
        )
        self.known = Known()
        self._past: deque[Known] = deque(maxlen=UNDO_STEPS)
        self._leaving = 0

    @property
    def mode(self) -> Mode:
        """Practice or competition."""
        return self.desk.mode

    def turn(self, text: str, *, from_speech: bool = False) -> Turn:
        """Answer one utterance."""
        player = self.desk.bag.player
        heard = understand(text, unit=player.distances_in, pace_m=player.pace_m, from_speech=from_speech)
        leaving, self._leaving = self._leaving, 0
        try:
            said = self._answer(heard, leaving)
        except CaddieError as error:
            said = _refused(self.known, str(error))
        if said.step:
            self._past.append(self.known)
        self.known = said.known
        if said.mode is not None:
            self._enter(said.mode)
        asked = self.known.question
        question = lines_question(self._leaving) or (asked.text if asked else None)
        return Turn(
            heard=heard.heard,
            intent=said.intent or heard.intent.value,
            mode=self.mode,
            spoken=said.spoken,
            written=said.written or said.spoken,
            question=question if question and question in said.spoken else None,
            advice=said.advice,
            situation=self.known.situation,
            logged=said.logged,
            over=said.over,
        )

    def _answer(self, heard: Understanding, leaving: int) -> Said:
        known = self.known
        if not heard.heard.strip():
            fresh = known.plan is None and not known.played
            open_question = known.question.text if known.question else ""
            return Said(known, open_question or (lines.NOTHING_HEARD if fresh else lines.LISTENING))
        if heard.problem:
            return _refused(known, heard.problem)
        if leaving and (heard.intent in (Intent.YES, Intent.MODE_PRACTICE)):
            return self._leave(leaving)
        if leaving and heard.intent is Intent.NO:
            return Said(known, lines.STAYS)
        match heard.intent:
            case Intent.MODE_COMPETITION | Intent.MODE_PRACTICE:
                return self._change_mode(heard)
            case Intent.UNDO:
                return self._undo()
            case Intent.NEXT_HOLE:
                return Said(Known(spoken=lines.NEXT_HOLE, short=lines.NEXT_HOLE), lines.NEXT_HOLE, step=True)
        if self.mode is Mode.COMPETITION:
            if heard.intent is Intent.STOP:
                return Said(known, lines.GOODBYE, over=True)
            return competition_turn(self.desk, known, heard)
        walking = on_the_walk(self.desk, known, heard)
        if walking is not None:
            return walking
        bag = self.desk.bag
        understood = in_context(in_clauses(heard, bag), known, bag.player)
        said = self._practice(understood)
        return said if said.intent else replace(said, intent=understood.intent.value)

    def _practice(self, heard: Understanding) -> Said:
        known, desk, text = self.known, self.desk, heard.heard
        if tells_commitment(text, known):
            return replace(commit_told(desk, known, heard), intent=Intent.RESULT.value)
        if says(text, "taking_stock"):
            return replace(begin(known), intent="taking_stock")
        if says(text, "known"):
            return replace(known_so_far(desk, known), intent="known")
        if says(text, "shot"):
            return replace(the_shot(desk, known), intent=Intent.REPEAT.value)
        answered = asked(desk, known, heard)
        if answered is not None:
            return replace(answered, intent="asked")
        refused = without(desk, known, heard)
        if refused is not None:
            return replace(refused, intent=Intent.WHAT_IF.value)
        if says(text, "shorter"):
            briefer = heard.model_copy(update={"intent": Intent.SHORTER})
            return replace(about_the_shot(desk, known, briefer), intent=Intent.SHORTER.value)
        if known.question is not None and (says(text, "pass") or says(text, "none")):
            return passed(desk, known)
        if says(text, "another"):
            return replace(another(desk, known), intent=Intent.WHAT_IF.value)
        if known.other is not None and says(text, "adopt"):
            return replace(adopted(desk, known), intent="adopt")
        match heard.intent:
            case Intent.SITUATION | Intent.PUTT | Intent.CORRECT:
                return describe(desk, known, heard)
            case Intent.RESULT:
                return result(desk, known, heard)
            case Intent.WHAT_IF:
                return what_if(desk, known, heard)
            case Intent.WHY | Intent.SHORTER | Intent.READY | Intent.REPEAT:
                return about_the_shot(desk, known, heard)
            case Intent.YES | Intent.NO:
                return yes_or_no(desk, known, heard)
            case Intent.HELP:
                return Said(known, lines.HELP)
            case Intent.STOP:
                return Said(known, lines.GOODBYE, over=True)
            case Intent.GREETING:
                return _declined(known, lines.GREETING, lines.GREETING_MIDWAY)
            case _:
                return _declined(known, lines.OFF_TOPIC, lines.OFF_TOPIC_MIDWAY)

    def _undo(self) -> Said:
        if not self._past:
            return Said(self.known, lines.NOTHING_TO_UNDO)
        before = self._past[-1]
        number = self.known.shot_logged
        if number is not None and number != before.shot_logged:
            problem = removed(self.desk, self.known, number)
            if problem:
                return Said(self.known, problem)
            self._past.pop()
            return Said(before, lines.SHOT_REMOVED)
        self._past.pop()
        told = before.situation != Known().situation and self.mode is not Mode.COMPETITION
        so_far = known_so_far(self.desk, before).spoken if told else ""
        return Said(before, sentences([lines.UNDONE, so_far]))

    def _change_mode(self, heard: Understanding) -> Said:
        wanted = Mode.COMPETITION if heard.intent is Intent.MODE_COMPETITION else Mode.PRACTICE
        if wanted is self.mode:
            return Said(self.known, lines.ALREADY.format(mode=wanted.value))
        if wanted is Mode.PRACTICE:
            return self._leave(0)
        kept = Known(
            situation=self.known.situation,
            sentence=self.known.sentence,
            shot_logged=self.known.shot_logged,
            result=self.known.result,
        )
        return Said(kept, lines.COMPETITION_ON, mode=Mode.COMPETITION)

    def _leave(self, answered: int) -> Said:
        """Out of competition only after two questions: advice once heard cannot be unheard."""
        if answered >= 2:
            return Said(self.known, lines.PRACTICE_ON, mode=Mode.PRACTICE)
        self._leaving = answered + 1
        return Said(self.known, lines_question(self._leaving) or "")

    def _enter(self, mode: Mode) -> None:
        """Nothing of one mode can be taken back to in the other."""
        self.desk = replace(self.desk, mode=mode)
        self._past.clear()


def lines_question(leaving: int) -> str | None:
    """The question that stands while the player is leaving competition."""
    return {1: lines.CONFIRM_LEAVE, 2: lines.CONFIRM_AGAIN}.get(leaving)


def _declined(known: Known, first: str, midway: str) -> Said:
    """One short line, and the open question once more when there is one."""
    if known.question is not None:
        return Said(known, sentences([midway, known.question.text]))
    return Said(known, first if known.plan is None and not known.played else midway)


def _refused(known: Known, reason: str) -> Said:
    """An error as it is said: a sentence, cut after thirty words; the written one is whole."""
    whole = sentences([reason])
    words = whole.split()
    spoken = whole if len(words) <= MOST_WORDS else f"{' '.join(words[:MOST_WORDS]).rstrip('.,;:')}."
    return Said(known, spoken, written=whole)


def _weights(log: Log | None, bag: Bag) -> dict[str, float]:
    """What the log says about cues; a log that cannot be read costs the weights, not the talk."""
    if log is None:
        return {}
    try:
        return cue_weights(log.shots(bag.player.name, last=SHOTS_BEHIND_CUES))
    except CaddieError:
        return {}
