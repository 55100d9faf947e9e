"""Whether the swing must be harder, or the club longer, for what the shot meets: yes or no, and by what.

A teacher answers with the length of the swing: what the lie, the wind or the slope takes is made up by that.
"""

from contextlib import suppress

from caddie.bag import Family
from caddie.errors import CaddieError
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.option import Option, Plan
from caddie.reply.phrases import club_said, shot_said, small, swing_said
from caddie.reply.putt import pace_said, putt_unit
from caddie.reply.spoken import shortest
from caddie.situation import IN_SAND, Lie, Situation, Wind
from caddie.talk import lines
from caddie.talk.asked import in_play
from caddie.talk.state import Desk, Known, Said, no_shot
from caddie.words import Understanding
from caddie.words.sayings import compared
from caddie.words.topics import lists_in

_CLUB = "club"
_LESS = "less_word"


def harder(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Should I swing harder?", "more club because of the rough?": beside the same shot from a plain lie in calm."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    parts = (
        _of_a_putt(plan, desk, heard)
        if plan.chosen.family is Family.PUTT
        else _of_a_swing(plan, known, desk, heard)
    )
    spoken = shortest([parts, parts[:1]])
    return Said(known.changed(spoken=spoken, question=None), spoken)


def _of_a_putt(plan: Plan, desk: Desk, heard: Understanding) -> list[str]:
    option, there = plan.chosen, plan.situation
    pace = pace_said(option, there, putt_unit(desk.bag))
    if option.pace_m is None or there.pin_m is None:
        return [lines.PUTT_SAME.format(pace=pace)]
    gap = option.pace_m / there.pin_m - 1.0
    line = (
        lines.PUTT_SAME
        if abs(gap) < PACE_OF_THE_LENGTH
        else lines.PUTT_FIRMER
        if gap > 0
        else lines.PUTT_SOFTER
    )
    answer = _answer(heard, more=gap > 0)
    return [line.format(answer=answer, pace=small(pace))]


PACE_OF_THE_LENGTH = 0.08
"""A pace that differs by less is the length's own."""


def _of_a_swing(plan: Plan, known: Known, desk: Desk, heard: Understanding) -> list[str]:
    option, bag = plan.chosen, desk.on(known.day).bag
    shot = shot_said(option, bag)
    if plan.situation.lie in IN_SAND:
        return [lines.HARDER_NO.format(shot=shot)]
    plain = _plain(known.situation)
    asks_club = _CLUB in compared(heard.heard)
    where = _where(known.situation)
    with suppress(CaddieError):
        only = known.only if asks_club else Only(club=option.club, family=option.family)
        other = advise(plain, bag, seed=plan.seed, only=only).chosen
        swung = "" if option.swing == other.swing else _swung(plan, other, where, heard)
        if not asks_club:
            return [swung] if swung else [lines.HARDER_NO.format(shot=shot)]
        club, off_it = club_said(option, bag), club_said(other, bag)
        more = option.loft_deg < other.loft_deg
        line = lines.CLUB_SAME if club == off_it else lines.CLUB_MORE if more else lines.CLUB_LESS
        return [line.format(club=club, plain=off_it, where=where), swung if club == off_it else ""]
    return [lines.HARDER_NO.format(shot=shot)]


def _swung(plan: Plan, other: Option, where: str, heard: Understanding) -> str:
    """How much longer or shorter the swing is than that of the plain shot."""
    swing, plain = swing_said(plan.chosen), swing_said(other).removeprefix("hands ")
    longer = plan.chosen.share > other.share
    line = lines.HARDER_LONGER if longer else lines.HARDER_SHORTER
    return line.format(answer=_answer(heard, more=longer), swing=swing, where=where, plain=plain)


def _answer(heard: Understanding, *, more: bool) -> str:
    """Yes or no to whether it must be more, or less where that was asked."""
    asks_less = _LESS in lists_in(heard.heard)
    return "yes" if more is not asks_less else "no, more" if more else "no, less"


def _where(situation: Situation) -> str:
    """What the plain shot is played from that this one is told beside."""
    if situation.lie not in (None, Lie.FAIRWAY) or situation.sitting is not None:
        return "off short grass"
    return "in calm" if situation.wind.from_ is not None else "on the level"


def _plain(situation: Situation) -> Situation:
    """The same shot from short grass, level and in calm."""
    bare = Situation()
    update = {name: getattr(bare, name) for name in ("sitting", "stance", "wet", "elevation_m", "against")}
    return situation.model_copy(update={**update, "lie": Lie.FAIRWAY, "wind": Wind()})
