"""Shots told before the one talked about: those that led to it, and the club that one was hit with."""

import re

from caddie.bag import Bag
from caddie.situation import Lie
from caddie.talk.state import Known
from caddie.words import Intent, Understanding, understand
from caddie.words.sayings import bare, clauses, compared
from caddie.words.talk_files import turn_data

TELL_A_SHOT = (Intent.SITUATION, Intent.PUTT)
"""What tells a shot to be played."""
_STRETCH = re.compile(r"[,.;!?…]\s*|\band\b")
_CLAUSE = re.compile(r"[,.;!?…]\s+")


def without_earlier_shots(parts: tuple[Understanding, ...], known: Known) -> tuple[Understanding, ...]:
    """The parts of a turn without the shot that led to one told first: "pulled my second, I have thirty yards".

    "Eight feet, quick, last one I ran six past": an earlier one told beside the shot, at any time.
    """
    if any(part.intent in TELL_A_SHOT for part in parts):
        parts = tuple(part for part in parts if not _is_of_an_earlier(part))
    if known.plan is not None or known.played:
        return parts
    kept: list[Understanding] = []
    for part in reversed(parts):
        then = kept[0] if kept else None
        if part.intent is Intent.RESULT and then is not None and then.intent in TELL_A_SHOT:
            kept[0] = _lying_there(then, part)
        else:
            kept.insert(0, part)
    return tuple(kept)


def _lying_there(told: Understanding, before: Understanding) -> Understanding:
    """ "I've missed it left, I'm in the thick rough": the lie told with the shot that led there is that of this one."""
    if told.situation.lie is not None:
        return told
    each = (understand(clause).situation for clause in _STRETCH.split(before.heard))
    lie = next((there for there in reversed([*each]) if there.lie is not None), None)
    if lie is None or lie.lie is Lie.GREEN:
        return told
    facts = {"lie": lie.lie, "sitting": told.situation.sitting or lie.sitting}
    return told.model_copy(update={"situation": told.situation.model_copy(update=facts)})


def _is_of_an_earlier(part: Understanding) -> bool:
    words = " ".join(compared(bare(part.heard)))
    return part.intent is Intent.RESULT and any(
        words.startswith(f"{lead} ") for lead in turn_data()["past_lead"]
    )


def with_its_club(parts: tuple[Understanding, ...]) -> tuple[Understanding, ...]:
    """ "Chipped it with the 56 instead, came out hot, six foot past": the club of the result that follows."""
    kept: list[Understanding] = []
    for part in parts:
        before = kept[-1] if kept else None
        if before is not None and part.intent is Intent.RESULT and not part.club:
            club = _club_played(before)
            if club is not None:
                kept[-1] = part.model_copy(update={"club": club})
                continue
        kept.append(part)
    return tuple(kept)


def _club_played(before: Understanding) -> str | None:
    """The club of a clause that says with which one a ball was hit."""
    if before.intent is not Intent.WHAT_IF or not before.club or "?" in before.heard:
        return None
    last = compared(bare(_CLAUSE.split(before.heard.rstrip(" ,.;"))[-1]))
    return None if set(turn_data()["hit_with"]).isdisjoint(last[:2]) else before.club


def in_clauses(heard: Understanding, bag: Bag) -> Understanding:
    """ "Hit the 52 instead, finished ten feet short": a result, though it begins like a question."""
    led = heard.intent is Intent.SITUATION and heard.club and _tells_with_which(heard.heard)
    if not (heard.intent is Intent.WHAT_IF or led) or "?" in heard.heard or len(clauses(heard.heard)) < 2:
        return heard
    player = bag.player
    last = understand(clauses(heard.heard)[-1], unit=player.distances_in, pace_m=player.pace_m)
    if last.intent is not Intent.RESULT:
        return heard
    return last.model_copy(update={"heard": heard.heard, "club": heard.club})


def _tells_with_which(text: str) -> bool:
    """ "Hit the 52": the club that a ball was hit with, first of all."""
    return not set(turn_data()["hit_with"]).isdisjoint(compared(bare(text))[:2])


def without_unhit(parts: tuple[Understanding, ...]) -> tuple[Understanding, ...]:
    """ "Five feet past. No wait, I haven't played it": a result that is taken back in the same breath."""
    unhit = next((at for at, part in enumerate(parts) if "not_hit" in part.asks), 0)
    return tuple(part for at, part in enumerate(parts) if at >= unhit or part.intent is not Intent.RESULT)
