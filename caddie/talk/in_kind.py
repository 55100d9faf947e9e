"""Questions of the shot or putt in play that are answered in kind, wherever in a turn they stand."""

from collections.abc import Callable
from dataclasses import replace

from caddie.bag import Bag, Family
from caddie.plan.option import Plan
from caddie.situation import IN_SAND, Lie, Wind
from caddie.talk import chance_asked, face, out_of_play, putt_ways, which_wedge
from caddie.talk.asked import in_play
from caddie.talk.state import ASKED_OF_THE_SHOT, Desk, Known, Said
from caddie.words import Intent, understand, understand_turn
from caddie.words.gist import asks_in_part
from caddie.words.in_kind import AskedInKind, asked_in_kind
from caddie.words.topics import OF_A_PUTT, OF_A_SHOT

Answer = Callable[[Desk, Known, str], Said | None]
_OTHER_LINE, _CHIP_WISHED, _DOUBTED = "other_line", "chip_wished", "line_doubted"
SAME_LENGTH_M = 0.5
_ANSWERS: dict[str, Answer] = {
    "near": chance_asked.near,
    "in_two": chance_asked.in_two,
    "makes": chance_asked.made_from,
    "average": chance_asked.on_average,
    "kept": chance_asked.of_the_log,
    "hole_or_lag": putt_ways.hole_or_lag,
    "pace_choice": putt_ways.pace_choice,
    "firm": putt_ways.firm,
    "soft": putt_ways.soft,
    _OTHER_LINE: putt_ways.other_line,
    _DOUBTED: putt_ways.doubted,
    "past_flag": out_of_play.past_flag,
    "out_of_play": out_of_play.out_of_play,
    "nothing_wrong": out_of_play.nothing_wrong,
    "no_lay_up": out_of_play.not_laid_up,
    "which_wedge": which_wedge.which_wedge,
    _CHIP_WISHED: which_wedge.chipped,
    "why_face": face.why_so_set,
    "because": face.is_that_why,
    "bounces": face.bounces,
}
_SAYS_NOTHING = (Intent.YES, Intent.NO, Intent.OUT_OF_SCOPE, Intent.GREETING)
"""What stands before a question and asks for no answer of its own: "fine, but what if I take two cups"."""
_OF_SAND = ("why_face", "because", "bounces")
_NAMES_A_LENGTH = ("near", "makes")
_CHANCES = (*_NAMES_A_LENGTH, "in_two", "average", "kept")
"""Of these the words are those of a result or a length, too: "odds I get down in two"."""


def cut_in_kind(known: Known, text: str, bag: Bag) -> AskedInKind | None:
    """What is asked so of the shot in play, cut from what the turn says beside it; None where nothing is.

    Before there is a shot it may be asked of one that the same turn tells first.
    """
    plan = in_play(known)

    def means(kind: str, clause: str) -> bool:
        return _can_mean(kind, clause, plan, bag)

    own = () if plan is None else (OF_A_SHOT if plan.chosen.line is None else OF_A_PUTT,)
    cut = next(
        (
            found
            for at in dict.fromkeys((*own, OF_A_SHOT, OF_A_PUTT))
            if (found := asked_in_kind(text, at, means)) is not None
            and (at in own or _tells(at, found.before))
        ),
        None,
    )
    if cut is None:
        return None
    if cut.kind not in _CHANCES and any(part.result is not None for part in understand_turn(cut.clause)):
        return None
    if cut.kind == _CHIP_WISHED and any(
        _names_another_length(each, plan) for each in (cut.before, cut.behind)
    ):
        return None
    says_nothing = bool(cut.before) and understand(cut.before).intent in _SAYS_NOTHING
    if known.question is None and says_nothing and not asks_in_part(cut.before):
        return replace(cut, before="")
    return cut


def _can_mean(kind: str, clause: str, plan: Plan | None, bag: Bag) -> bool:
    """Whether a clause asks that of what is in play, and tells nothing new of it."""
    if kind in _NAMES_A_LENGTH and not chance_asked.names_a_length(clause, bag):
        return False
    if kind not in _CHANCES and _names_another_length(clause, plan):
        return False
    if kind == _OTHER_LINE:
        return putt_ways.names_a_line(plan, clause) and not _tells_the_ground(clause)
    if kind == _DOUBTED:
        return putt_ways.names_its_figure(clause) and not _tells_the_ground(clause)
    if kind in _OF_SAND:
        return plan is not None and plan.situation.lie in IN_SAND
    if kind == _CHIP_WISHED:
        putter = plan is not None and plan.chosen.family is Family.PUTT
        return putter and understand(clause).club is None
    return kind in _CHANCES or not _tells_the_ground(clause)


def _names_another_length(clause: str, plan: Plan | None) -> bool:
    pin_m = understand(clause).situation.pin_m
    here_m = plan.situation.pin_m if plan is not None else None
    return pin_m is not None and (here_m is None or abs(pin_m - here_m) > SAME_LENGTH_M)


def _tells_the_ground(clause: str) -> bool:
    """Whether a fall, a wind or a stance is told: who tells facts asks nothing."""
    told = understand(clause).situation
    return (
        told.green.fall is not None
        or told.wind != Wind()
        or bool(told.stance)
        or told.elevation_m is not None
    )


def _tells(at: str, before: str) -> bool:
    """Whether what stands before it tells a shot, or a putt, or what became of the last one."""
    parts = understand_turn(before) if before else ()
    told = (part for part in parts if part.result is not None or part.situation.pin_m is not None)
    green = [part.result is not None or part.situation.lie is Lie.GREEN for part in told]
    return (
        any(green)
        if at == OF_A_PUTT
        else any(not each for each in green) or any(part.result for part in parts)
    )


def answered_in_kind(desk: Desk, known: Known, asked: AskedInKind) -> Said | None:
    """The answer, from what is in play by then; None where it is asked of nothing."""
    said = _ANSWERS[asked.kind](desk.on(known.day), known, asked.clause)
    return None if said is None else replace(said, intent=said.intent or ASKED_OF_THE_SHOT)
