"""A conversation, one turn at a time: each utterance in, one short reply out."""

from typing import Any

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.log.shot import Mode
from caddie.log.store import Log
from caddie.plan.assume import question_for
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.unknowns import most_telling
from caddie.reply.cue import cue_for
from caddie.reply.phrases import club_said, said, swing_said
from caddie.situation import Situation
from caddie.talk import lines
from caddie.talk.answer import advice_of
from caddie.talk.compare import compare
from caddie.talk.played import played_shot
from caddie.talk.routine import routine
from caddie.talk.state import Known, Turn, merged
from caddie.units import Unit, spoken_number
from caddie.words import Intent, Understanding, understand


class Conversation:
    """Holds what is known from turn to turn; ``turn`` never raises on anything that is said."""

    def __init__(
        self,
        bag: Bag,
        *,
        mode: Mode = Mode.PRACTICE,
        seed: int = 1,
        log: Log | None = None,
    ) -> None:
        self.bag = bag
        self.mode = mode
        self.known = Known()
        self._seed = seed
        self._log = log
        self._past: list[Known] = []
        self._leaving = False
        self._played = False

    def turn(self, text: str, *, from_speech: bool = False) -> Turn:
        """Answer one utterance."""
        player = self.bag.player
        heard = understand(text, unit=player.distances_in, pace_m=player.pace_m, from_speech=from_speech)
        leaving, self._leaving = self._leaving, False
        try:
            return self._answer(heard, leaving)
        except CaddieError as error:
            return self._say(heard, f"{error}")

    def _answer(self, heard: Understanding, leaving: bool) -> Turn:
        if heard.problem:
            return self._say(heard, heard.problem)
        match heard.intent:
            case Intent.SITUATION | Intent.PUTT | Intent.CORRECT:
                return self._situation(heard)
            case Intent.RESULT:
                return self._result(heard)
            case Intent.WHAT_IF:
                return self._what_if(heard)
            case Intent.WHY | Intent.SHORTER | Intent.READY | Intent.REPEAT:
                return self._about_the_plan(heard)
            case Intent.UNDO:
                return self._undo(heard)
            case Intent.NEXT_HOLE:
                self._step(Known())
                return self._say(heard, lines.NEXT_HOLE)
            case Intent.MODE_COMPETITION | Intent.MODE_PRACTICE:
                return self._change_mode(heard, leaving)
            case Intent.YES if leaving:
                return self._enter_practice(heard)
            case Intent.YES | Intent.NO:
                return self._yes_or_no(heard, leaving)
            case Intent.HELP:
                return self._say(heard, lines.HELP)
            case Intent.STOP:
                return self._say(heard, lines.GOODBYE, over=True)
            case Intent.GREETING:
                return self._say(heard, lines.GREETING)
            case _:
                return self._say(heard, lines.OFF_TOPIC)

    def _situation(self, heard: Understanding) -> Turn:
        known = self.known
        fresh = heard.intent is not Intent.CORRECT and self._starts_anew(heard.situation)
        before = Situation() if fresh else known.situation
        situation = merged(before, heard.situation, heard.corrected)
        sentence = heard.heard if fresh or not known.sentence else f"{known.sentence}; {heard.heard}"
        if self.mode is Mode.COMPETITION:
            self._step(Known(situation=situation, sentence=sentence))
            distance = (
                f"{said(situation.pin_m, self.bag).capitalize()} to the flag, as you said. "
                if situation.pin_m
                else ""
            )
            return self._say(heard, lines.COMPETITION_NO_ADVICE.format(distances=distance))
        question = question_for(situation)
        if question:
            self._step(Known(situation=situation, sentence=sentence, question=question))
            return self._say(heard, question, question=question)
        plan = advise(situation, self.bag, seed=self._seed, only=Only(club=heard.club))
        advice = advice_of(plan, self.bag)
        asked = known.field_asked
        gap = None if asked or heard.intent is Intent.CORRECT else most_telling(situation, plan, self.bag)
        question = gap.question if gap else self._sound_alike(heard)
        self._step(
            Known(
                situation=situation,
                plan=plan,
                sentence=sentence,
                spoken=advice["spoken"],
                question=question,
                field_asked=gap.field if gap else None,
            )
        )
        spoken = f"{advice['spoken']} {question}" if question else advice["spoken"]
        return self._say(heard, spoken, written=advice["written"], question=question, advice=advice)

    def _starts_anew(self, now: Situation) -> bool:
        """A distance to the flag after advice, or after a played shot, is a new shot; anything else adds."""
        if self._played:
            return True
        return self.known.plan is not None and now.pin_m is not None and not self.known.question

    def _sound_alike(self, heard: Understanding) -> str | None:
        """Digits for a number that speech may have confused, taking a one-word correction."""
        pin_m, twin_m = heard.situation.pin_m, heard.sounds_like_m
        if pin_m is None or twin_m is None:
            return None
        unit: Unit = self.bag.player.distances_in
        return lines.CLOSE_CALL.format(first=_digits(pin_m, unit), second=_digits(twin_m, unit))

    def _result(self, heard: Understanding) -> Turn:
        if self._log is None:
            self._played = True
            return self._say(heard, lines.NO_LOG)
        try:
            number = self._log.add(played_shot(self.known, heard, self.mode, self.bag))
        except CaddieError as error:
            return self._say(heard, lines.NOT_LOGGED.format(reason=error))
        self._step(self.known.changed(shot_logged=number))
        self._played = True
        return self._say(heard, self._acknowledged(heard), logged=True)

    def _acknowledged(self, heard: Understanding) -> str:
        result = heard.result
        if result and result.holed:
            return "Holed. Written down."
        if result and result.distance_m is not None:
            return f"{said_in_feet(result.distance_m)} left. Written down."
        return "Written down."

    def _what_if(self, heard: Understanding) -> Turn:
        if self.mode is Mode.COMPETITION:
            return self._say(heard, lines.COMPETITION_NO_ADVICE.format(distances=""))
        if self.known.plan is None:
            return self._say(heard, lines.NOTHING_KNOWN)
        spoken, written = compare(self.known.situation, self.known.plan, heard, self.bag, self._seed)
        self._step(self.known.changed(spoken=spoken))
        return self._say(heard, spoken, written=written)

    def _about_the_plan(self, heard: Understanding) -> Turn:
        known = self.known
        if self.mode is Mode.COMPETITION:
            return self._say(heard, lines.COMPETITION_NO_ADVICE.format(distances=""))
        if heard.intent is Intent.REPEAT and known.spoken:
            return self._say(heard, known.spoken)
        if known.plan is None:
            return self._say(heard, lines.NOTHING_KNOWN)
        cue = cue_for(known.plan, self.bag)
        option = known.plan.chosen
        if heard.intent is Intent.WHY:
            return self._say(heard, " ".join(known.plan.reasons[:2]), written="\n".join(known.plan.reasons))
        if heard.intent is Intent.SHORTER:
            return self._say(
                heard, f"{club_said(option, self.bag).capitalize()}, {swing_said(option)}. {cue.say}"
            )
        return self._say(heard, routine(known.plan, self.bag, cue))

    def _undo(self, heard: Understanding) -> Turn:
        if self.known.shot_logged is not None and self._log is not None:
            self._log.undo(self.bag.player.name)
            self.known = self.known.changed(shot_logged=None)
            self._played = False
            return self._say(heard, lines.SHOT_REMOVED)
        if not self._past:
            return self._say(heard, lines.NOTHING_TO_UNDO)
        self.known = self._past.pop()
        return self._say(heard, f"{lines.UNDONE} {self.known.spoken}".strip())

    def _change_mode(self, heard: Understanding, leaving: bool) -> Turn:
        wanted = Mode.COMPETITION if heard.intent is Intent.MODE_COMPETITION else Mode.PRACTICE
        if wanted is self.mode:
            return self._say(heard, lines.ALREADY.format(mode=wanted.value))
        if wanted is Mode.COMPETITION:
            self.mode = wanted
            self.known = Known(situation=self.known.situation, sentence=self.known.sentence)
            self._past.clear()
            return self._say(heard, lines.COMPETITION_ON)
        if leaving:
            return self._enter_practice(heard)
        self._leaving = True
        return self._say(heard, lines.CONFIRM_LEAVE, question=lines.CONFIRM_LEAVE)

    def _enter_practice(self, heard: Understanding) -> Turn:
        self.mode = Mode.PRACTICE
        return self._say(heard, lines.PRACTICE_ON)

    def _yes_or_no(self, heard: Understanding, leaving: bool) -> Turn:
        if leaving:
            return self._say(heard, lines.STAYS)
        if self.known.plan is None:
            return self._say(heard, self.known.question or lines.NOTHING_KNOWN, question=self.known.question)
        self.known = self.known.changed(question=None)
        return self._say(
            heard, "Good. Say ready when you are over it." if heard.intent is Intent.YES else lines.HELP
        )

    def _step(self, known: Known) -> None:
        self._past.append(self.known)
        self.known = known
        self._played = False

    def _say(self, heard: Understanding, spoken: str, **parts: Any) -> Turn:
        return Turn(
            heard=heard.heard,
            intent=heard.intent.value,
            mode=self.mode,
            spoken=spoken,
            **{"written": spoken, "situation": self.known.situation, **parts},
        )


def said_in_feet(length_m: float) -> str:
    """A leave in feet, as said."""
    from caddie.units import spoken_length

    return spoken_length(length_m, Unit.FEET).capitalize()


def _digits(length_m: float, unit: Unit) -> str:
    """A number digit by digit, so that the ear cannot confuse it: ``"one-five"``."""
    from caddie.units import from_metres

    return "-".join(spoken_number(int(digit)) for digit in str(round(from_metres(length_m, unit))))
