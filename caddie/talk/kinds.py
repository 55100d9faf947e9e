"""The kinds of turn: which saying or intent each is known by, and what answers it."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from caddie.situation import Finish, Green, Result
from caddie.talk import (
    about,
    anew,
    asked,
    beside,
    chance_asked,
    choices,
    clubs_today,
    distrust,
    doubts,
    face,
    go_or_not,
    ground,
    habits,
    harder,
    hindsight,
    how_hard,
    in_the_air,
    kept_under,
    length_asked,
    line_judged,
    lines,
    mishits,
    missed,
    nerves,
    off_the_green,
    other_pace,
    own_carries,
    rules_told,
    safe_shots,
    same_place,
    scored,
    swing_asked,
    to_practise,
    today,
    turned_down,
    went_wrong,
    when,
    why_so,
    will_it,
)
from caddie.talk.compare import CHANGED_BY_FT, another, green_speed, still_the_club, wind_from_where
from caddie.talk.either import asked_or_either, either
from caddie.talk.given import given, given_there
from caddie.talk.planning import describe
from caddie.talk.played import commit_told, tells_commitment, told_as
from caddie.talk.state import ASKED_OF_THE_SHOT, FACTS_READ_BACK, Desk, Handler, Known, Said
from caddie.talk.stock import begin
from caddie.talk.was_it_hit import result_told
from caddie.words import Intent, Understanding
from caddie.words.gist import intent_of, is_question
from caddie.words.sayings import compared

When = Callable[[Known, str], bool]


@dataclass(frozen=True)
class Kind:
    """One kind of turn."""

    handle: Handler
    intent: str = ASKED_OF_THE_SHOT
    """What the turn is called on the wire; empty for what its words were read as."""
    when: When = lambda known, text: True
    """Whether the words mean this, by what is known."""
    advises: bool = True
    """Whether the answer helps with a stroke, which a competition forbids."""

    def answer(self, desk: Desk, known: Known, heard: Understanding) -> Said:
        """The answer, called by the kind's own intent, or else by what its words were read as."""
        return replace(self.handle(desk, known, heard), intent=self.intent or heard.intent.value)


_NOT_HIT = "not_hit"
_HIT_DONE = "hit_done"
_SAFE_OF_TWO = "safe_of_two"
RESULT = Intent.RESULT.value
WHAT_IF = Intent.WHAT_IF.value
WHY = Intent.WHY.value
_COMMITMENT = Kind(commit_told, RESULT, tells_commitment, advises=False)


def judged(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Whether that is good: of the shot just told, or of what is to be expected of the one in play."""
    if known.played or known.plan is None:
        return today.last_leave(desk, known, heard)
    return asked.of_the_shot(will_it.judged)(desk, known, heard)


BY_SAYING: dict[str, Kind] = {
    "why_run": Kind(asked.of_the_shot(why_so.run), WHY),
    "why_stops": Kind(asked.of_the_shot(why_so.stops), WHY),
    "why_land": Kind(asked.of_the_shot(why_so.land), WHY),
    "why_left": Kind(asked.of_the_shot(why_so.left), WHY),
    "why_odds": Kind(asked.of_the_shot(why_so.odds), WHY),
    "why_swing": Kind(asked.of_the_shot(why_so.swing), WHY),
    "why_low": Kind(asked.of_the_shot(why_so.low), WHY),
    "why_line": Kind(asked.of_the_shot(why_so.line), WHY),
    "why_pace": Kind(asked.of_the_shot(why_so.pace), WHY),
    "why_worse": Kind(why_so.of_the_other, WHY, when.beside_here),
    why_so.DOUBT_COST: Kind(why_so.of_the_other, WHY, when.beside_here),
    "why_not": Kind(choices.why_not_that_one, WHAT_IF),
    "will_over_back": Kind(asked.of_the_shot(will_it.over_back)),
    "will_hold": Kind(asked.of_the_shot(will_it.holds)),
    "will_climb": Kind(asked.of_the_shot(will_it.climbs)),
    "will_reach": Kind(asked.of_the_shot(will_it.reaches)),
    "will_short": Kind(asked.of_the_shot(will_it.short)),
    "will_hole": Kind(asked.of_the_shot(will_it.holed)),
    "up_and_down": Kind(chance_asked.up_and_down),
    "go_for_it": Kind(go_or_not.go_for_it, when=when.in_play),
    "will_close": Kind(asked.of_the_shot(will_it.close)),
    "will_three_putt": Kind(asked.of_the_shot(will_it.three_putts)),
    "three_putt_odds": Kind(asked.of_the_shot(will_it.three_putt_odds)),
    "will_past": Kind(asked.of_the_shot(will_it.past)),
    "gets_to": Kind(will_it.gets_to),
    "on_it_there": Kind(will_it.on_it_there, when=when.in_play),
    "die_pace": Kind(other_pace.dying, when=when.on_the_green),
    "firm_pace": Kind(other_pace.firm, when=when.on_the_green),
    "pace_judged": Kind(asked.of_the_shot(why_so.pace_judged)),
    "leaves": Kind(asked.of_the_shot(asked.leaves)),
    "harder": Kind(beside.how_much_harder),
    "than_what": Kind(beside.than_what),
    "must_be_harder": Kind(harder.harder),
    "mishits": Kind(mishits.mishits, when=when.in_play),
    "length_asked": Kind(length_asked.length_asked, when=length_asked.names_the_length),
    "in_that_unit": Kind(length_asked.in_that_unit, when=length_asked.asks_in_a_unit),
    "line_judged": Kind(line_judged.line_judged, when=line_judged.names_an_amount),
    "would_club": Kind(beside.would_club, WHAT_IF, when.in_play),
    "past_by": Kind(asked.of_the_shot(will_it.past_by)),
    "will_clear": Kind(will_it.clears),
    "will_be_caught": Kind(will_it.caught),
    "off_green": Kind(off_the_green.off_the_green, Intent.CORRECT.value, when.on_the_green),
    "no_putter": Kind(turned_down.without_the_putter, WHAT_IF, when.putter_in_play),
    "danger": Kind(asked.of_the_shot(will_it.danger)),
    "judged": Kind(judged, advises=False),
    "doubt": Kind(doubts.doubted, when=when.begun),
    "doubt_wrong": Kind(doubts.wrong, when=when.in_play),
    "doubt_far": Kind(doubts.too_far, when=when.in_play),
    "doubt_short": Kind(doubts.too_short, when=when.in_play),
    "doubt_small": Kind(doubts.too_small, when=when.in_play),
    "doubt_stop": Kind(doubts.no_stop, when=when.in_play),
    "doubt_run": Kind(doubts.no_run, when=when.in_play),
    "doubt_line": Kind(doubts.no_break, when=when.in_play),
    "doubt_grab": Kind(doubts.no_way_through, when=when.in_play),
    "doubt_hole": Kind(doubts.no_hole, when=when.in_play),
    "doubt_carry": Kind(doubts.no_carry, when=when.in_play),
    "doubt_able": Kind(doubts.not_able, when=when.in_play),
    "doubt_safe": Kind(doubts.too_bold, when=when.in_play),
    "habit": Kind(habits.habit),
    "not_trusted": Kind(distrust.distrusted, when=when.in_play),
    "nervous": Kind(nerves.nervous),
    "taken_in": Kind(nerves.taken_in),
    "how_to": Kind(nerves.how_to),
    "still": Kind(choices.still, WHAT_IF),
    "which_now": Kind(choices.which_now),
    "which_goes": Kind(own_carries.which_goes),
    "my_carries": Kind(own_carries.every_club),
    "hindsight": Kind(hindsight.in_hindsight, WHY),
    same_place.SAME_PLACE: Kind(same_place.again, Intent.SITUATION.value, same_place.is_known),
    "went_wrong": Kind(hindsight.went_wrong_or_club),
    "went_right": Kind(went_wrong.went_right),
    "score": Kind(scored.scored, RESULT, advises=False),
    "score_asked": Kind(scored.score_asked, advises=False),
    "carry": Kind(asked.of_the_shot(asked.carry)),
    "own_carry": Kind(own_carries.own_carry),
    "land": Kind(asked.of_the_shot(asked.land)),
    "aim": Kind(asked.of_the_shot(asked.aim)),
    "how": Kind(how_hard.how_hard),
    "swing": Kind(swing_asked.swing_asked),
    "run": Kind(asked.of_the_shot(asked.run)),
    "motion": Kind(how_hard.how_with),
    "sand": Kind(ground.ball_or_sand),
    "odds": Kind(asked.chances),
    "plays_like": Kind(asked.of_the_shot(in_the_air.plays_like)),
    "height": Kind(asked.of_the_shot(in_the_air.height)),
    "drift": Kind(asked.of_the_shot(in_the_air.drift)),
    "grip_down": Kind(asked.of_the_shot(asked.grip_down)),
    "face_how": Kind(face.how_to_open),
    "face_why": Kind(asked.of_the_shot(face.face_why, whatever_the_club=True)),
    "based": Kind(about.one_line(lines.BASED_ON), Intent.WHY.value, when.in_play),
    "slower_green": Kind(green_speed(-CHANGED_BY_FT), WHAT_IF, when.in_play),
    "quicker_green": Kind(green_speed(CHANGED_BY_FT), WHAT_IF, when.in_play),
    "loft": Kind(asked.of_the_shot(asked.loft)),
    "face": Kind(asked.of_the_shot(face.face)),
    "curve": Kind(asked.of_the_shot(asked.curve)),
    "edge": Kind(asked.of_the_shot(asked.aim), when=when.on_the_green),
    "miss": Kind(missed.better_miss),
    "if_missed": Kind(missed.if_missed),
    "over_lip": Kind(asked.of_the_shot(will_it.over_lip), when=when.in_play),
    "cover": Kind(will_it.covered),
    "same_club": Kind(still_the_club),
    "thought": Kind(asked.thought),
    "meaning": Kind(asked.meaning),
    "kept_under": Kind(kept_under.kept_under, when=when.in_play),
    "safer": Kind(safe_shots.safer),
    "short_of_it": Kind(safe_shots.short_of_it, when=when.in_play),
    "beside_it": Kind(safe_shots.short_of_it, when=when.in_play),
    "gentler": Kind(choices.gentler_or_named, when=when.free),
    "surest": Kind(safe_shots.surest, when=when.in_play),
    "bolder": Kind(choices.bolder, when=when.free),
    "middle": Kind(choices.middle, when=when.free),
    "sideways": Kind(safe_shots.sideways, when=when.in_play),
    "green_taken": Kind(asked.of_the_shot(ground.green_taken, whatever_the_club=True)),
    "last_leave": Kind(today.last_leave, when=when.not_in_play, advises=False),
    "relief_options": Kind(choices.relief, when=when.stuck),
    "drop_asked": Kind(choices.a_stroke_spent(lines.DROP), when=when.in_play),
    "not_low": Kind(choices.not_low, WHAT_IF, when.in_play),
    "low": Kind(choices.lower, WHAT_IF, when.free),
    "high": Kind(choices.higher, WHAT_IF, when.free),
    "most_loft": Kind(choices.by_loft(max), WHAT_IF, when.in_play),
    "least_loft": Kind(choices.by_loft(min), WHAT_IF, when.in_play),
    "more_club": Kind(choices.club_beside(longer=True), WHAT_IF, when.in_play),
    "less_club": Kind(choices.club_beside(longer=False), WHAT_IF, when.in_play),
    "either": Kind(either, WHAT_IF, when.in_play),
    "worse": Kind(choices.worse),
    "best": Kind(choices.best),
    "blows": Kind(wind_from_where, WHAT_IF, when.in_play),
    "another": Kind(another, WHAT_IF),
    "shot": Kind(about.the_shot, Intent.REPEAT.value),
    "shorter": Kind(about.shorter, Intent.SHORTER.value),
    "known": Kind(about.known_so_far, FACTS_READ_BACK),
    _HIT_DONE: Kind(about.one_line(lines.WHERE_IS_IT), Intent.READY.value, when.in_play, advises=False),
    "adopt": Kind(about.adopted, "adopt", when.in_play),
    _SAFE_OF_TWO: Kind(safe_shots.safe_of_two, "adopt", when.compared),
    "adopt_other": Kind(about.adopted, "adopt", when.compared),
    "stick": Kind(about.kept_to(lines.STICKS), "adopt", when.in_play),
    "not_hit": Kind(about.not_hit, Intent.READY.value, when.in_play, advises=False),
    "back": Kind(anew.as_it_was, "adopt", when.begun),
    "anew": Kind(anew.anew, "anew", advises=False),
    "think_again": Kind(anew.reopened, WHAT_IF, when.in_play),
    "never_mind": Kind(about.never_mind, "adopt"),
    "pass": Kind(about.passed, "", when.waits),
    "none": Kind(about.passed, "", when.waits),
    "taking_stock": Kind(begin, "taking_stock"),
    "missing": Kind(clubs_today.missing, "clubs"),
    "only_have": Kind(clubs_today.only_have, "clubs"),
    "found": Kind(clubs_today.found, "clubs"),
    "all_clubs": Kind(clubs_today.all_here, "clubs"),
    "left_handed": Kind(clubs_today.handed, "handed"),
    "right_handed": Kind(clubs_today.handed, "handed"),
    "progress": Kind(today.progress, advises=False),
    "practise": Kind(to_practise.practise),
    "committed": _COMMITMENT,
    "quit": _COMMITMENT,
    "rush": _COMMITMENT,
    "rules": Kind(about.one_line(lines.RULES_ASKED), Intent.HELP.value, advises=False),
    "glad": Kind(about.one_line(lines.GLAD), Intent.GREETING.value, when.begun, advises=False),
    "the_drop": Kind(
        rules_told.after_the_penalty, rules_told.RULE_ASKED, rules_told.ended_under_a_rule, advises=False
    ),
    "sore": Kind(about.one_line(lines.SORE), Intent.GREETING.value, when.begun, advises=False),
    "given": Kind(given, RESULT, given_there, advises=False),
    "sunk": Kind(told_as(Result(finish=Finish.HOLED)), RESULT, when.putting, advises=False),
    "in_it": Kind(told_as(Result(finish=Finish.HOLED)), RESULT, when.putting, advises=False),
    "holed": Kind(told_as(Result(finish=Finish.HOLED)), RESULT, advises=False),
    "missed": Kind(told_as(Result()), RESULT, when.putting, advises=False),
    "two_putts": Kind(told_as(Result(), down_in=2), RESULT, advises=False),
}
"""The whole of what was said is one of the ways to say it."""

BY_INTENT: dict[Intent, Handler] = {
    Intent.SITUATION: describe,
    Intent.PUTT: describe,
    Intent.CORRECT: describe,
    Intent.RESULT: result_told,
    Intent.WHAT_IF: asked_or_either,
    Intent.WHY: choices.why,
    Intent.SHORTER: about.shorter,
    Intent.READY: about.ready,
    Intent.REPEAT: about.repeat,
    Intent.YES: about.yes_or_no,
    Intent.NO: about.yes_or_no,
    Intent.HELP: about.helped,
    Intent.STOP: about.goodbye,
    Intent.GREETING: about.greeted,
    Intent.OUT_OF_SCOPE: about.declined,
}
"""What answers an utterance that is no saying, by how its words were read."""


_FIRST = (
    *(same_place.SAME_PLACE, _HIT_DONE, "the_drop", "missing", "leaves", "not_low", "either"),
    *("short_of_it", "beside_it", "more_club", "less_club", "gentler", "surest", "sideways"),
)
"""Before "I'll hit it" goes "I hit it", and before "the fifty-six or the sixty" that neither is there."""


def kind_said(heard: Understanding, known: Known) -> Kind | None:
    """The kind of turn that what was asked is, or None."""
    if _SAFE_OF_TWO in heard.asks and when.compared(known, heard.heard) and not is_question(heard.heard):
        return BY_SAYING[_SAFE_OF_TWO]
    if _adopts(heard, known):
        return BY_SAYING["adopt"]
    if _tells_the_break(heard):
        return None
    if _is_yes_asked(heard) and not when.waits(known, heard.heard):
        return BY_SAYING["doubt"] if when.begun(known, heard.heard) else None
    for name in sorted(heard.asks, key=_rank):
        kind = BY_SAYING.get(name)
        if kind is not None and kind.when(known, heard.heard):
            return kind
        if intent_of(name) is not None:
            return None
    return None


def _is_yes_asked(heard: Understanding) -> bool:
    """ "Sure?" is no yes; "okay, and where would I land it?" asks for more than that."""
    if heard.intent is not Intent.YES or not heard.heard.rstrip().endswith("?"):
        return False
    return not heard.asks or len(compared(heard.heard)) <= MOST_OF_A_YES


MOST_OF_A_YES = 3
"""Words of a yes with a question mark."""


def _rank(name: str) -> int:
    return _FIRST.index(name) if name in _FIRST else len(_FIRST)


def _tells_the_break(heard: Understanding) -> bool:
    """ "Breaks right", said of a putt: a fact, though with a question mark it asks for the line."""
    told = heard.intent is Intent.PUTT and heard.situation.green != Green()
    return told and heard.asks == ("aim",) and not is_question(heard.heard)


def _adopts(heard: Understanding, known: Known) -> bool:
    """ "I'm going to hit it" takes the shot that was just compared, and is else the word that one is ready."""
    if _HIT_DONE in heard.asks:
        return False
    return not {"adopt", "adopt_other"}.isdisjoint(heard.asks) and when.compared(known, heard.heard)


def intent_said(heard: Understanding, known: Known) -> Intent | None:
    """The intent that what was asked has, where the words alone may not tell."""
    if known.played and _NOT_HIT in heard.asks:
        return Intent.UNDO
    if kind_said(heard, known) is not None:
        return None
    intents = [intent for name in heard.asks if (intent := intent_of(name)) is not None]
    if Intent.READY in intents and when.in_play(known, heard.heard):
        # "Off we go" over the ball is no next hole.
        return Intent.READY
    intent = intents[0] if intents else None
    return None if intent is Intent.READY and known.played else intent
