"""A putt supposed at another pace, "if I roll it two feet past, what's the read?": the line of that pace."""

from caddie.bag import Player
from caddie.plan.putt.borrow import break_left_m
from caddie.plan.putt.read import PASTS_M
from caddie.reply.phrases import small
from caddie.reply.putt import line_said, near_said, putt_unit, start_said
from caddie.reply.spoken import sentences
from caddie.situation import Side
from caddie.talk.asked import in_play
from caddie.talk.state import ASKED_OF_THE_SHOT, Desk, Known, Said
from caddie.words import Expecting, understand
from caddie.words.numbers import is_number
from caddie.words.numbers_in_play import supposes_pace
from caddie.words.sayings import compared, sentences_of

_PAST = ("past", "by", "beyond", "long")
_MOST_WORDS = 5
"""A length is said in no more words."""


def supposed_pace(desk: Desk, known: Known, text: str) -> Said | None:
    """The line for a putt that would run so far past, beside the one that was told; None where none is supposed."""
    plan, bag = in_play(known), desk.on(known.day).bag
    if plan is None or plan.chosen.line is None:
        return None
    # "I rolled it two feet past. Should I be firm coming back?" supposes no length.
    lengths = (_past_m(part, bag.player) for part in sentences_of(text) if supposes_pace(part))
    past_m = next((length_m for length_m in lengths if length_m is not None), None)
    if past_m is None:
        return None
    unit = putt_unit(bag)
    aim_left_m = break_left_m(plan.situation, bag, min(past_m, float(PASTS_M[-1])))
    start, as_told = line_said(aim_left_m, unit), start_said(plan.chosen, unit)
    beside = "that is my line too"
    if start != as_told:
        beside = f"at the pace I gave it is {small(as_told).removeprefix('start it ')}"
    spoken = sentences([f"to run {near_said(past_m, unit)} past, {small(start)}", beside])
    return Said(known.changed(spoken=spoken), spoken, intent=ASKED_OF_THE_SHOT)


def _past_m(text: str, player: Player) -> float | None:
    """How far past the hole the words say [m]."""
    words = compared(text)
    for end in (at for at, word in enumerate(words) if word in _PAST):
        near = range(max(end - _MOST_WORDS, 0), end)
        start = next((at for at in near if is_number(words[at]) or words[at] == "a"), None)
        if start is None:
            continue
        length = f"{' '.join(words[start:end])} past"
        left = understand(
            length, unit=player.distances_in, pace_m=player.pace_m, expecting=Expecting.LEFT
        ).result
        if left is not None and left.distance_m and left.side == (Side.LONG,):
            return left.distance_m
    return None
