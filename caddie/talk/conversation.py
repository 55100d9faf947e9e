"""A conversation, one turn at a time: each utterance in, one short reply out."""

from collections import deque
from collections.abc import Callable
from copy import copy
from dataclasses import replace

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.log.shot import Mode
from caddie.log.store import Log
from caddie.notes.notebook import Notebook
from caddie.talk import lines, several_balls
from caddie.talk.ahead import Ahead, Start, WouldChangeError, only_read
from caddie.talk.as_said import aim_told, counting_as_said, handed_as_said, putts_in_feet, wedge_named
from caddie.talk.asked_whole import asked_whole
from caddie.talk.by_what_is_known import by_what_is_known
from caddie.talk.club_report import club_reported
from caddie.talk.clubs_by_number import clubs_said_in_full, wedges_in_play
from caddie.talk.clubs_today import missing_besides, noted_besides, told_besides
from caddie.talk.compare import supposed_wind
from caddie.talk.competition import asked_on_leaving, competition_turn, into_competition
from caddie.talk.denied import denied_of_the_shot
from caddie.talk.disowned import disowned
from caddie.talk.does_it_change import with_the_change
from caddie.talk.earlier import in_clauses, with_its_club, without_earlier_shots, without_unhit
from caddie.talk.fact_asked import fact_asked
from caddie.talk.guessed import guessed_at_last
from caddie.talk.handicap_told import with_handicap, without_handicap
from caddie.talk.hindsight import remarked
from caddie.talk.in_order import as_one, beside_the_rest
from caddie.talk.kinds import BY_INTENT, intent_said, kind_said
from caddie.talk.never_twice import not_word_for_word
from caddie.talk.new_shot import on_another
from caddie.talk.notes import heed, with_day_kept, with_notes
from caddie.talk.number_named import number_by_its_value
from caddie.talk.numbers_in_play import as_it_stays, denied_as_meant, of_the_flag, said_as_meant
from caddie.talk.on_hole import next_hole, the_day
from caddie.talk.own_carries import with_carry
from caddie.talk.played import (
    corrected_result,
    in_passing,
    next_up,
    played_by_another,
    plays_on,
    result,
)
from caddie.talk.practice_asked import practice_asked
from caddie.talk.put_back import put_back
from caddie.talk.put_right_later import put_right_later
from caddie.talk.question import answer_to, in_context, side_answered
from caddie.talk.read_back import before_a_read_back, first_said_back
from caddie.talk.refused import refused
from caddie.talk.right_after import right_after_the_swing
from caddie.talk.rules_told import RULE_ASKED
from caddie.talk.said_back import replied
from caddie.talk.same_place import from_the_same_place
from caddie.talk.second_look import meant, second_look
from caddie.talk.state import Desk, Handler, Known, LastAnswer, Said, Turn
from caddie.talk.stock import on_the_walk
from caddie.talk.take_back import never_hit, of_the_same_shot, take_back
from caddie.talk.today import weights_of_cues
from caddie.talk.turned_down import club_refused, without
from caddie.talk.was_it_hit import hit_after_all
from caddie.talk.which_sand import sand_answered
from caddie.talk.wind_placed import wind_placed
from caddie.words import LONGEST_TEXT, Intent, Understanding, understand_turn
from caddie.words.carry_told import without_carry
from caddie.words.gist import gists_of

UNDO_STEPS = 60
STORM_TOLD = "storm"


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
        notebook: Notebook | None = None,
    ) -> None:
        """Begin with nothing known.

        Parameters:
            log: where played shots are written; None keeps nothing.
            log_problem: why there is no log although the player wanted one; told with each result.
            notebook: what is remembered; None remembers nothing.
        """
        self.desk = Desk(
            bag=bag,
            mode=mode,
            seed=seed,
            log=log,
            log_problem=log_problem,
            cue_weights=weights_of_cues(log, bag),
            notebook=notebook,
        )
        self.known = Known(day=the_day(self.desk))
        self._past: deque[Known] = deque(maxlen=UNDO_STEPS)
        self._leaving = 0
        self._ahead: Ahead | None = None
        self._back_at: Known | None = None

    @property
    def mode(self) -> Mode:
        """Practice or competition."""
        return self.desk.mode

    def turn(self, text: str, *, from_speech: bool = False) -> Turn:
        """Answer one utterance, each thing in it in the order it was said; as it was tried, if it was."""
        before, ahead, self._ahead = self.known, self._ahead, None
        tried = ahead is not None and (ahead.text, ahead.from_speech) == (text, from_speech)
        if ahead is not None and tried and ahead.start.is_still(self._start):
            turn = self._as_tried(ahead)
        else:
            turn = self._worked_out(text, from_speech=from_speech)
        return with_day_kept(self.desk, before, self.known, turn)

    def rehearse(
        self, text: str, *, from_speech: bool = False, opens: Callable[[str], None] | None = None
    ) -> Turn | None:
        """What a turn would come to, tried on a copy; `turn` takes it when just this is said next.

        Nothing is written or remembered. From any thread, but no turn may be taken meanwhile.

        Parameters:
            opens: told the first sentence of the reply once it is certain, before the shot is planned.

        Returns:
            None where the turn would write, or read the log.
        """
        self._ahead, start = None, self._start
        after = copy(self)
        after.desk, after._past = only_read(self.desk, opens), self._past.copy()
        try:
            turn = after._worked_out(text, from_speech=from_speech)
        except WouldChangeError:
            return None
        self._ahead = Ahead(
            start, text, from_speech, turn, after.known, after._past, after._leaving, after.mode
        )
        return turn

    def tap(self, shown: str, intent: Intent, handle: Handler) -> Turn:
        """A turn that was tapped: what it says is exact, so nothing is read; ``shown`` stands for the words."""
        before, self._leaving = self.known, 0
        try:
            said = handle(self._desk, before, Understanding(heard=shown, intent=intent))
        except CaddieError as error:
            said = refused(before, str(error))
        return self._taken(before, shown, replace(said, intent=intent.value))

    def play_with(self, bag: Bag) -> None:
        """Go on with the bag as it is now; the shot talked about is planned anew from the next turn on."""
        self.desk = replace(self.desk, bag=bag)

    def _worked_out(self, text: str, *, from_speech: bool) -> Turn:
        before, heard = self.known, text.strip()[:LONGEST_TEXT]
        if STORM_TOLD in gists_of(heard):
            # Whatever else was said: nobody plays on.
            return self._taken(before, heard, Said(before, lines.STORM, intent=Intent.HELP.value))
        heeded = heed(self._desk, self.known, text)
        if heeded.said is not None:
            told, self._leaving = [heeded.said], 0
            self.known = heeded.said.known
        else:
            self.known = heeded.known
            in_full = clubs_said_in_full(heeded.text, self.known, self._desk.bag)
            rest, handicap_told = without_handicap(in_full)
            rest, carry_told = without_carry(rest, wedges_in_play(self.known, self._desk.bag))
            nothing_else = (handicap_told or carry_told) and not rest
            told = (
                [Said(self.known, lines.LISTENING)]
                if nothing_else
                else self._said_back(rest, from_speech=from_speech)
            )
            told = with_the_change(self._desk, before, told, rest)
            if handicap_told:
                told[-1] = with_handicap(told[-1])
            if carry_told:
                told[0] = with_carry(told[0])
        return self._taken(before, heard, with_notes(self._desk, before, as_one(told), heeded))

    @property
    def _start(self) -> Start:
        book = self.desk.notebook
        return Start(self.desk, self.known, self._leaving, book.notes if book is not None else None)

    def _as_tried(self, ahead: Ahead) -> Turn:
        self.known, self._past, self._leaving = ahead.known, ahead.past, ahead.leaving
        self.desk = replace(self.desk, mode=ahead.mode)
        return ahead.turn

    def _taken(self, before: Known, heard: str, said: Said) -> Turn:
        """What the turn came to is what is known from now on."""
        worked_out = guessed_at_last(self._desk, said)
        # The rules' own words stay as they are, however often they are said.
        advises = self.mode is not Mode.COMPETITION
        said = not_word_for_word(worked_out, before, heard) if advises else worked_out
        answered = LastAnswer(heard, worked_out.spoken, said.spoken, step=said.step)
        self.known = said.known.changed(replied=replied(said, before), answered=answered)
        back_at, self._back_at = self._back_at, None
        if said.step:
            # What was taken back in this turn is not come back to.
            self._past.append(back_at or before)
        asked = self.known.question
        question = asked_on_leaving(self._leaving) or (asked.text if asked else None)
        return Turn(
            heard=heard,
            intent=said.intent or Intent.OUT_OF_SCOPE.value,
            mode=self.mode,
            spoken=said.spoken,
            written=said.written or said.spoken,
            question=question if question and question in said.spoken else None,
            advice=said.advice,
            situation=self.known.situation,
            logged=said.logged,
            over=said.over,
            things=said.things,
        )

    def _said_back(self, text: str, *, from_speech: bool) -> list[Said]:
        """Every thing said, behind a figure of the last reply that is said back."""
        text = denied_as_meant(text, self.known)
        self.known = as_it_stays(text, self.known, self._past, self._desk.bag)
        back = put_back(self.desk, self.known, text) or disowned(self._desk, self.known, text)
        if back is not None:
            self.known = back[0].known
            return [back[0], *(self._each(back[1], from_speech=from_speech) if back[1] else ())]
        never = never_hit(self.desk, self.known, self._past, text)
        if never is not None:
            said, rest = never
            self.known = self._back_at = said.known
            return [said, *(self._each(rest, from_speech=from_speech, again=True) if rest else ())]
        later = put_right_later(self._desk, self.known, self._past, text)
        if later is not None:
            self.known = later[0].known
            return [later[0], *(self._each(later[1], from_speech=from_speech) if later[1] else ())]
        advises = self.mode is not Mode.COMPETITION
        before, rest = before_a_read_back(self.known, text, self._desk.bag) if advises else ("", text)
        first = first_said_back(self._desk, self.known, rest) if advises and not before else None
        if not before and first is None:
            return self._each(text, from_speech=from_speech)
        self.desk = replace(self.desk, opens=None)
        if first is not None:
            told, rest = [first[0]], first[1]
            self.known = first[0].known
        else:
            told = self._each(before, from_speech=from_speech)
        return [*told, *(self._said_back(rest, from_speech=from_speech) if rest else ())]

    def _each(self, text: str, *, from_speech: bool, again: bool = False) -> list[Said]:
        """Every thing said in a turn, answered in order; ``again`` of a shot that was just brought back."""
        player, told = self._desk.bag.player, []
        advises = self.mode is not Mode.COMPETITION
        if (whole := asked_whole(self._desk, self.known, text, advises=advises)) is not None:
            self.known = whole.known
            return [whole]
        text = wedge_named(said_as_meant(text, self.known, self._desk.bag), self.known, self._desk.bag)
        text = number_by_its_value(text, self.known, self._desk.bag)
        parts = understand_turn(
            text,
            unit=player.distances_in,
            pace_m=player.pace_m,
            from_speech=from_speech,
            answered=answer_to(self.known, player),
        )
        parts = tuple(putts_in_feet(part, player) for part in parts)
        parts = several_balls.without_balls_to_play(text, parts, self.known)
        parts = with_its_club(without_earlier_shots(without_unhit(parts), self.known))
        parts = of_the_flag(practice_asked(text, club_reported(parts)), self.known, self._desk.bag)
        if advises:
            parts = from_the_same_place(text, parts, self.known)
        self.known = several_balls.several_told(self.known, text)
        parts, self.known = several_balls.result_of_another(text, parts, self.known, player)
        parts = right_after_the_swing(text, parts, self.known, player)
        if again:
            parts = of_the_same_shot(parts)
        if self.known.plan is not None and not self.known.played:
            parts = played_by_another(text, parts, player)
        if len(parts) > 1:
            # What the reply begins with is then known at its end alone.
            self.desk = replace(self.desk, opens=None)
        for part, then in zip(parts, (*parts[1:], None), strict=True):
            self.known = several_balls.before_the_next_ball(self.known, part)
            said = in_passing(self._one(part), part, then, player)
            if len(parts) > 1 and self.mode is not Mode.COMPETITION:
                said = beside_the_rest(said, part.heard)
            self.known = said.known
            if said.mode is not None:
                self._enter(said.mode)
            told.append(said)
        return told

    @property
    def _desk(self) -> Desk:
        """The desk as it is today: clubs left at home are not on it."""
        return self.desk.on(self.known.day)

    def _one(self, heard: Understanding) -> Said:
        """One thing said."""
        self.known = handed_as_said(counting_as_said(on_another(self.known, heard), heard), heard)
        leaving, self._leaving = self._leaving, 0
        try:
            said = self._answer(heard, leaving)
        except CaddieError as error:
            said = refused(self.known, str(error))
        return said if said.intent else replace(said, intent=heard.intent.value)

    def _answer(self, heard: Understanding, leaving: int) -> Said:
        known = self.known
        if not heard.heard.strip():
            fresh = known.plan is None and not known.played
            open_question = known.question.text if known.question else ""
            return Said(known, open_question or (lines.NOTHING_HEARD if fresh else lines.LISTENING))
        if heard.problem:
            return refused(known, heard.problem)
        if leaving and (heard.intent in (Intent.YES, Intent.MODE_PRACTICE)):
            return self._leave(leaving)
        if leaving and heard.intent is Intent.NO:
            return Said(known, lines.STAYS)
        heard = heard.model_copy(update={"intent": intent_said(heard, known) or heard.intent})
        heard = meant(heard, known, self._desk.bag.player)
        match heard.intent:
            case Intent.MODE_COMPETITION | Intent.MODE_PRACTICE:
                return self._change_mode(heard)
            case Intent.UNDO:
                return self._undo(heard)
            case Intent.NEXT_HOLE:
                return next_hole(self._desk, known)
        remark = remarked(self._desk, known, heard, advises=self.mode is not Mode.COMPETITION)
        if remark is not None:
            return remark
        if self.mode is Mode.COMPETITION and heard.intent is not Intent.STOP:
            told = competition_turn(self._desk, known, heard)
            return told if told.intent == RULE_ASKED else replace(told, intent=heard.intent.value)
        said = self._practice(heard)
        return replace(said, known=said.known.changed(swung=said.intent == Intent.READY.value))

    def _practice(self, heard: Understanding) -> Said:
        known, desk = self.known, self._desk
        heard = wind_placed(denied_of_the_shot(heard, known), known)
        heard = aim_told(sand_answered(heard, known), known)
        if clubs := missing_besides(desk, known, heard):
            self.known = noted_besides(desk, known, heard, clubs)
            return told_besides(self._practice(heard), clubs)
        said = hit_after_all(desk, known, heard) or on_the_walk(desk, known, heard)
        said = said or supposed_wind(desk, known, heard)
        said = said or fact_asked(desk, known, heard)
        if said is not None:
            return replace(said, intent=said.intent or heard.intent.value)
        righted = corrected_result(desk, known, heard)
        if righted is not None:
            return replace(result(desk, known, righted), intent=Intent.RESULT.value)
        heard = by_what_is_known(heard, known, desk.bag)
        said = plays_on(desk, known, heard) or club_refused(desk, known, heard)
        if said is not None:
            return replace(said, intent=said.intent or Intent.WHAT_IF.value)
        heard = side_answered(heard, known, desk.bag.player)
        kind = kind_said(heard, known)
        if kind is not None:
            return kind.answer(desk, known, heard)
        said = without(desk, known, heard)
        if said is not None:
            return replace(said, intent=Intent.WHAT_IF.value)
        understood = in_context(next_up(in_clauses(heard, desk.bag), known, desk.bag), known, desk.bag.player)
        if understood.intent is Intent.OUT_OF_SCOPE:
            return second_look(desk, known, understood)
        return replace(BY_INTENT[understood.intent](desk, known, understood), intent=understood.intent.value)

    def _undo(self, heard: Understanding) -> Said:
        said = take_back(self.desk, self.known, self._past, heard, told=self.mode is not Mode.COMPETITION)
        self._back_at = said.known
        return said

    def _change_mode(self, heard: Understanding) -> Said:
        wanted = Mode.COMPETITION if heard.intent is Intent.MODE_COMPETITION else Mode.PRACTICE
        if wanted is self.mode:
            return Said(self.known, lines.ALREADY.format(mode=wanted.value))
        if wanted is Mode.PRACTICE:
            return self._leave(0)
        return into_competition(self.known)

    def _leave(self, answered: int) -> Said:
        """Out of competition only after two questions: advice once heard cannot be unheard."""
        if answered >= 2:
            return Said(self.known, lines.PRACTICE_ON, mode=Mode.PRACTICE)
        self._leaving = answered + 1
        return Said(self.known, asked_on_leaving(self._leaving) or "")

    def _enter(self, mode: Mode) -> None:
        """Nothing of one mode can be taken back to in the other."""
        self.desk = replace(self.desk, mode=mode)
        self._past.clear()
