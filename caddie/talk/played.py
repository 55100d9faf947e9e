"""A played shot for the log: what was known, advised and said to have become of it."""

import re
from dataclasses import replace
from typing import Any

from caddie.bag import Bag, Player
from caddie.errors import CaddieError
from caddie.log.holes import add_on_hole
from caddie.log.shot import Commitment, Mode, Shot
from caddie.plan.candidates import ANY
from caddie.reply.putt import putt_unit
from caddie.reply.spoken import sentences
from caddie.situation import IN_SAND, Finish, Lie, Result, Situation
from caddie.talk import lines
from caddie.talk.earlier import TELL_A_SHOT
from caddie.talk.ended import before_the_green, contradicts
from caddie.talk.laid_over import merged
from caddie.talk.lasts import Step, carried_on
from caddie.talk.note_told import hole_played
from caddie.talk.of_one_shot import adds_to, joined, tells_the_same
from caddie.talk.planning import planned
from caddie.talk.result_said import LONGEST_IN_FEET_M, acknowledgement, with_club
from caddie.talk.state import Desk, Handler, Known, Said, ToldShot, with_told
from caddie.talk.wish import asked_for
from caddie.units import to_metres
from caddie.words import Intent, Understanding, understand, understand_turn
from caddie.words.golf_talk import unit_said
from caddie.words.numbers import is_number
from caddie.words.results import FINISH_OF_LIE
from caddie.words.sayings import bare, begins, clauses, compared, plain, says, says_in_part
from caddie.words.turns import PUTS_RIGHT

ASKS_FOR_ADVICE = frozenset(
    {
        "shot",
        "best",
        "aim",
        "how",
        "same_club",
        "land",
        "swing",
        "another",
        "motion",
        "either",
        "run",
        "thought",
    }
)
"""What may be asked about the next stroke before it is told."""
DOUBT = "doubt"
"""With a club named after a shot it is of the next one: "are you sure it's the putter now?"."""
OF_THE_NEXT = (Intent.SITUATION, Intent.PUTT, Intent.CORRECT)
"""What a stroke that is still to be played is told by."""
_OUT_OF = re.compile(r"\bout of\b")
_LIE_THERE = {
    Finish.FRINGE: Lie.FRINGE,
    Finish.FAIRWAY: Lie.FAIRWAY,
    Finish.ROUGH: Lie.LIGHT_ROUGH,
}


def commitment_in(text: str) -> Commitment | None:
    """How the player says they went through with the shot."""
    return next((each for each in Commitment if says_in_part(text, each.value)), None)


def tells_commitment(known: Known, text: str) -> bool:
    """Whether a report of commitment is one on a shot: "quit" before the swing leaves the talk, and
    "committed" is the player's yes."""
    if known.played:
        return True
    return known.plan is not None and plain(text) != "quit" and not says(text, "committed")


def next_up(heard: Understanding, known: Known, bag: Bag) -> Understanding:
    """ "It is twelve yards to the flag out of the sand": after a shot, what is told of the next one."""
    if not known.played or heard.intent is not Intent.RESULT or not begins(heard.heard, "next_lead"):
        return heard
    player = bag.player
    told = _OUT_OF.sub(" from ", bare(heard.heard))
    first, *rest = (
        understand(clause, unit=player.distances_in, pace_m=player.pace_m) for clause in clauses(told)
    )
    if first.situation.pin_m is None:
        return heard
    situation = first.situation
    for clause in rest:
        situation = merged(situation, clause.situation)
    return first.model_copy(update={"heard": heard.heard, "situation": situation, "intent": Intent.SITUATION})


_ANOTHER = re.compile(
    r"^(?:(?:oh|ah|well|so|and|right|ok|okay|no),? )*(?:she|he|my pupil|my partner)(?: has|'s)? ", re.I
)


def played_by_another(
    text: str, parts: tuple[Understanding, ...], player: Player
) -> tuple[Understanding, ...]:
    """ "She thinned it, it's through the green": the shot in play, hit by the one it was asked for.

    A strike, or the next shot beside it, tells that it was this one; "he holed a long one" may be any.
    """
    led = _ANOTHER.match(text)
    if led is None or any(part.intent is Intent.RESULT for part in parts):
        return parts
    mine = understand_turn(text[led.end() :], unit=player.distances_in, pace_m=player.pace_m)
    told = mine[0].result
    if told is None or not (told.strike is not None or len(mine) > 1):
        return parts
    return mine


def in_passing(said: Said, heard: Understanding, then: Understanding | None, player: Player) -> Said:
    """A result said in short where the next shot, told in the same breath, tells how far it is."""
    if then is None or then.intent not in TELL_A_SHOT or not said.logged or heard.result is None:
        return said
    told = heard.result if _says_how_far(heard) else heard.result.model_copy(update={"distance_m": None})
    if told == Result() and heard.down_in is None:
        return replace(said, spoken=sentences(["written down"]), brief="")
    putting = said.known.told[:1] != () and said.known.told[0].situation.lie is Lie.GREEN
    brief = acknowledgement(told, commitment_in(heard.heard), heard, player, putting=putting)
    return replace(said, spoken=sentences([brief, "written down"]), brief=sentences([brief]))


def _says_how_far(heard: Understanding) -> bool:
    """Whether a result tells a length in its own words, and not by the shot told behind it."""
    words = compared(heard.heard)
    one = not _ONE.isdisjoint(words) and unit_said(heard.heard) is not None
    return one or any(is_number(word) for word in words)


_ONE = frozenset({"a", "an", "half"})
"""Before a unit these are a length: "a foot past", and not "a bit heavy"."""


def result(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Write a result down; what is said of a shot already written is added to it."""
    told, front_m = before_the_green(heard, heard.result or Result())
    if contradicts(told):
        left = acknowledgement(told.model_copy(update={"finish": None}), None, heard, desk.bag.player)
        return Said(known, lines.SAND_OR_GREEN.format(left=left))
    commitment = commitment_in(heard.heard)
    putting = struck_from(known).lie is Lie.GREEN
    said = acknowledgement(told, commitment, heard, desk.bag.player, front_m, putting=putting)
    said = with_club(said, heard, desk)
    over = told.holed or heard.down_in is not None
    known = known.changed(front_left_m=front_m, hole_over=over)
    heard = heard.model_copy(update={"result": told})
    adds = known.result is not None and adds_to(known.result, told, heard)
    if desk.log is None:
        return _unlogged(desk, known, joined(known.result or Result(), told) if adds else told, said)
    acknowledged = sentences([said, "written down"])
    try:
        if known.shot_logged is not None and known.result is not None and adds:
            whole = joined(known.result, told)
            club = _club_id(heard, desk.bag)
            desk.log.amend(known.shot_logged, whole, commitment=commitment, down_in=heard.down_in, club=club)
            putted = known.situation.lie is Lie.GREEN
            said = acknowledgement(whole, commitment, heard, desk.bag.player, putting=putted)
            said = with_club(said, heard, desk)
            put = ToldShot(known.shot_logged, known.situation, whole)
            after = known.changed(result=whole, told=with_told(known, put))
            if tells_the_same(known.result, told) and (commitment, heard.down_in, club) == (None, None, None):
                return Said(after, sentences([lines.AS_TOLD.format(told=said)]), logged=True)
            return Said(after, sentences([said, "written down"]), logged=True, brief=sentences([said]))
        shot = played_shot(known, heard, desk, commitment)
        number = add_on_hole(desk.log, shot, hole_played(desk, known))
    except CaddieError as error:
        return Said(known, lines.NOT_LOGGED, written=f"{lines.NOT_LOGGED} ({error})")
    after = known.changed(
        shot_logged=number,
        written=number,
        told=with_told(known, ToldShot(number, shot.situation, told)),
        result=told,
        situation=_struck_there(known, shot.situation) if known.played else known.situation,
        plan=None if known.played else known.plan,
        left=known.places if known.played else known.left,
        question=None,
        walk=None,
        other=None,
        spoken=acknowledged,
        short=acknowledged,
    )
    return Said(after, acknowledged, logged=True, step=True, brief=sentences([said]))


def _struck_there(known: Known, there: Situation) -> Situation:
    """Where a stroke that was only told was played from, with the day and the green as they were told before it."""
    stayed = there.lie in IN_SAND and known.situation.lie in IN_SAND
    return merged(carried_on(known.situation, Step.STAYED_IN_SAND if stayed else Step.NEARER), there)


def struck_from(known: Known) -> Situation:
    """Where the stroke that is told was played: the shot in play, or the one after it."""
    return next_situation(known) if known.played else known.situation


def _unlogged(desk: Desk, known: Known, told: Result, said: str) -> Said:
    """A result with no log to go into: that nothing is kept is said once, a log that failed each time."""
    shot = ToldShot(None, struck_from(known), told)
    after = known.changed(result=told, told=with_told(known, shot), question=None, other=None)
    brief = sentences([said])
    if desk.log_problem:
        written = f"{lines.NOT_LOGGED} ({desk.log_problem})"
        return Said(after, sentences([said, lines.NOT_LOGGED]), written=written, step=True, brief=brief)
    first = "" if known.day.told_no_log else lines.NO_LOG
    after = after.on_the_day(told_no_log=True)
    return Said(after, sentences([said, first]) or lines.NO_LOG, step=True, brief=brief)


def told_as(told: Result, down_in: int | None = None) -> Handler:
    """A turn that tells this result, whatever else the words were read as; one that says nothing, as they were read."""

    def tell(desk: Desk, known: Known, heard: Understanding) -> Said:
        putts = any(word[:4] == _PUTT and word[:6] != _PUTTER for word in compared(heard.heard))
        if not putts or not _onto_the_green(known):
            whole = heard.result or told if told == Result() else told
            read = {"intent": Intent.RESULT, "result": whole, "down_in": down_in}
        else:
            read = {"intent": Intent.RESULT, "result": ONTO_THE_GREEN, "down_in": 1 + (down_in or 1)}
        return result(desk, known, heard.model_copy(update=read))

    return tell


_PUTT, _PUTTER = "putt", "putter"
ONTO_THE_GREEN = Result(finish=Finish.GREEN)


def _onto_the_green(known: Known) -> bool:
    """Whether the shot in play is one from off the green, so that putts told come after it."""
    plan = known.plan
    return plan is not None and not known.played and plan.situation.lie is not Lie.GREEN


def corrected_result(desk: Desk, known: Known, heard: Understanding) -> Understanding | None:
    """ "Actually nine metres", "no, it was thin" after a shot: the result put right; None when it is none."""
    affirms = known.spoken == known.short and begins(heard.heard, "yes_lead")
    puts_right = heard.intent is Intent.CORRECT or begins(heard.heard, PUTS_RIGHT)
    if not known.played or not (puts_right or (affirms and _is_another_length(known, heard))):
        return None
    if heard.intent is Intent.RESULT:
        return heard
    now, player = heard.situation, desk.bag.player
    if heard.club and now == Situation():
        # "No, I hit the sixty."
        return heard.model_copy(update={"intent": Intent.RESULT, "result": Result()})
    on_green = now.lie is Lie.GREEN
    if now.pin_m is not None and now == Situation(pin_m=now.pin_m, lie=now.lie if on_green else None):
        # A bare number is counted as putts are.
        said_unit = unit_said(heard.heard)
        counted = putt_unit(desk.bag) if on_green else player.distances_in
        bare_number = now.pin_m / to_metres(1.0, counted, player.pace_m)
        far_m = now.pin_m if said_unit else to_metres(bare_number, putt_unit(desk.bag))
        update = {"intent": Intent.RESULT, "result": Result(distance_m=far_m), "situation": Situation()}
        return heard.model_copy(update={**update, "corrected": ("result",)})
    ended = now.lie and FINISH_OF_LIE.get(now.lie)
    if ended is not None and now == Situation(lie=now.lie):
        # "Sorry, not in the sand, on the green": where it ended, and not how the next one lies.
        told = Result(finish=ended)
        return heard.model_copy(update={"intent": Intent.RESULT, "result": told, "situation": Situation()})
    words = bare(heard.heard).removeprefix("it was ")
    again = understand(words, unit=player.distances_in, pace_m=player.pace_m)
    if again.intent is not Intent.RESULT:
        again = understand(f"hit it {words}", unit=player.distances_in, pace_m=player.pace_m)
    return again.model_copy(update={"heard": heard.heard}) if again.intent is Intent.RESULT else None


def _is_another_length(known: Known, heard: Understanding) -> bool:
    """ "Yes, a foot" of a ball just told to be two feet away: how far it was, and no putt of a foot."""
    now, ended = heard.situation, known.result
    if ended is None or ended.holed or ended.distance_m is None or now.pin_m is None:
        return False
    alone = now == Situation(pin_m=now.pin_m, lie=now.lie) and now.lie in (None, Lie.GREEN)
    return alone and heard.intent in OF_THE_NEXT and abs(now.pin_m - ended.distance_m) > SAME_SPOT_M


SAME_SPOT_M = 0.05


def plays_on(desk: Desk, known: Known, heard: Understanding) -> Said | None:
    """ "What's the putt?" after a shot: advice from where it ended; None when that is not asked or not known."""
    doubts_the_club = DOUBT in heard.asks and heard.club is not None
    what_if = heard.intent is Intent.WHAT_IF and (not heard.asks or doubts_the_club)
    asks = what_if or not ASKS_FOR_ADVICE.isdisjoint(heard.asks)
    if not known.played or known.hole_over or not asks:
        return None
    there = next_situation(known)
    if there == Situation() and "same_club" in heard.asks:
        there = known.situation
    there = merged(there, heard.situation) if what_if else there
    if there == Situation():
        return None
    situation = merged(carried_on(known.situation, Step.NEARER), there)
    only = asked_for(heard) if what_if else ANY
    said = planned(desk, known.afresh(situation=situation, sentence=heard.heard, only=only), heard)
    return replace(said, intent=Intent.SITUATION.value)


def played_shot(known: Known, heard: Understanding, desk: Desk, commitment: Commitment | None) -> Shot:
    """The shot as the log keeps it: what was advised was played, unless another club is named."""
    told = heard.result or Result()
    if known.played:
        return Shot(
            mode=desk.mode,
            player=desk.bag.player.name,
            sentence=heard.heard,
            situation=next_situation(known),
            result=told,
            commitment=commitment,
            club=_club_id(heard, desk.bag),
            down_in=heard.down_in,
        )
    played: dict[str, Any] = {}
    if known.plan is not None and desk.mode is not Mode.COMPETITION:
        option = known.plan.chosen
        played = {
            "advice": known.advised.model_dump(mode="json") if known.advised else None,
            "club": option.club,
            "swing": option.swing,
            "family": option.family,
            "flight": option.flight.value,
            "cue": known.cue.id if known.cue else None,
        }
    club = _club_id(heard, desk.bag)
    if club is not None and club != played.get("club"):
        played |= {"club": club, "swing": heard.swing, "family": None, "flight": None}
    return Shot(
        mode=desk.mode,
        player=desk.bag.player.name,
        sentence=known.sentence or heard.heard,
        situation=known.plan.situation if known.plan else known.situation,
        result=told,
        commitment=commitment,
        down_in=heard.down_in,
        **played,
    )


def _club_id(heard: Understanding, bag: Bag) -> str | None:
    if not heard.club:
        return None
    club = bag.club_called(heard.club)
    return club.id if club else heard.club


def next_situation(known: Known) -> Situation:
    """Where the next stroke is played from, when only its result is told: from where the last one ended."""
    ended = known.result or Result()
    if ended.finish is Finish.BUNKER:
        stayed = known.situation.pin_m if known.situation.lie in IN_SAND else None
        return Situation(pin_m=ended.distance_m or stayed, lie=Lie.BUNKER)
    if ended.finish in _LIE_THERE:
        return Situation(pin_m=ended.distance_m or None, lie=_LIE_THERE[ended.finish])
    near = ended.distance_m is not None and ended.distance_m <= LONGEST_IN_FEET_M
    on_green = near if ended.finish is None else ended.finish is Finish.GREEN and ended.distance_m is not None
    return Situation(pin_m=ended.distance_m or None, lie=Lie.GREEN if on_green else None)


def commit_told(desk: Desk, known: Known, heard: Understanding) -> Said:
    """A report of commitment: added to the shot just written, or a shot of its own."""
    return result(desk, known, heard.model_copy(update={"intent": Intent.RESULT, "result": Result()}))


def removed(desk: Desk, known: Known, number: int) -> str | None:
    """Take shot ``number`` out of the log; None when that is done, else why it is not."""
    if desk.log is None:
        return lines.NOT_REMOVED
    try:
        return None if desk.log.remove(number) else lines.NOT_REMOVED
    except CaddieError:
        return lines.NOT_REMOVED
