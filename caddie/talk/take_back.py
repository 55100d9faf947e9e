"""What was said last is taken back, or shots that were written down: each is named, so that none goes unseen."""

import re
from collections import deque
from dataclasses import replace
from itertools import pairwise

from caddie.log.shot import Shot
from caddie.reply.phrases import small
from caddie.reply.situation import situation_said
from caddie.reply.spoken import sentences, shortest
from caddie.talk import lines
from caddie.talk.about import known_so_far, never_mind
from caddie.talk.lasts import news_of
from caddie.talk.note_lines import TAKEN_BACK
from caddie.talk.on_hole import undone
from caddie.talk.played import removed
from caddie.talk.result_said import acknowledgement
from caddie.talk.state import Desk, Known, Said, TakenOut
from caddie.units import spoken_number
from caddie.words import Intent, Understanding
from caddie.words.echoes import only_wonders
from caddie.words.sayings import says
from caddie.words.taking_back import shots_to_take_out


def take_back(desk: Desk, known: Known, past: deque[Known], heard: Understanding, *, told: bool) -> Said:
    """The last step taken back, or as many shots as were named; what stands then is told where ``told``."""
    if says(heard.heard, _LET_IT_GO) and known.answered is not None and not known.answered.step:
        # "Ok, forget it" of what was talked about last takes no shot out of the log.
        return never_mind(desk, known, heard)
    if not past:
        return Said(known, lines.NOTHING_TO_UNDO)
    count = shots_to_take_out(heard.heard)
    steps = [known, *reversed(past)]
    any_written = any(_wrote(after, before) for after, before in pairwise(steps))
    if count is None and not _wrote(known, past[-1]):
        return _step_back(desk, known, past, told=told)
    if not any_written:
        return Said(known, lines.NO_SHOT_TO_UNDO)
    return _shots_out(desk, known, past, count or 1)


def never_hit(desk: Desk, known: Known, past: deque[Known], text: str) -> tuple[Said, str] | None:
    """ "I haven't hit it yet, scratch that" right after a result: it goes, the shot is back; and what else was said.

    None where no such thing is said, or the ball told about was holed: then it is of the next one.
    """
    parts = [part for part in _CLAUSE.split(text.strip()) if part]
    if not past or not any(says(part, NOT_HIT) for part in parts):
        return None
    told = known.played or _wrote(known, past[-1])
    if not told or known.hole_over or (_wrote(known, past[-1]) and _was_holed(desk)):
        return None
    rest = " ".join(part for part in parts if not (says(part, NOT_HIT) or says(part, _UNDO)))
    rest = "" if only_wonders(rest) else rest
    if _wrote(known, past[-1]):
        said = _shots_out(desk, known, past, 1)
    else:
        said = Said(past.pop(), lines.UNDONE)
    back = "" if rest else said.known.short
    return replace(said, spoken=sentences([said.spoken, back]), brief=said.spoken, intent=_UNDO), rest


def of_the_same_shot(parts: tuple[Understanding, ...]) -> tuple[Understanding, ...]:
    """Facts told of a shot that was brought back put it right, and begin no other."""
    told = (Intent.SITUATION, Intent.PUTT)
    return tuple(
        part.model_copy(update={"intent": Intent.CORRECT}) if part.intent in told else part for part in parts
    )


def _was_holed(desk: Desk) -> bool:
    written = desk.log.shots(last=1) if desk.log is not None else []
    return bool(written) and (written[-1].result.holed or written[-1].down_in is not None)


NOT_HIT = "not_hit"
_LET_IT_GO = "let_it_go"
_UNDO = Intent.UNDO.value
_CLAUSE = re.compile(r"(?<=[,.;:!?…])\s+")


def _wrote(after: Known, before: Known) -> bool:
    """Whether a shot was written down from one step to the next."""
    return after.written is not None and after.written != before.written


def _shots_out(desk: Desk, known: Known, past: deque[Known], count: int) -> Said:
    """Back to before the last ``count`` shots written, each taken out of the log."""
    first, shots = known, list[Shot]()
    out: list[str] = []
    while past and len(out) < count:
        before = past[-1]
        if _wrote(known, before):
            assert known.written is not None
            shot = _named(desk, known)
            shots = [*(desk.log.shots(last=1) if desk.log is not None else []), *shots]
            problem = removed(desk, known, known.written)
            if problem:
                return Said(known, problem)
            out.append(shot)
        else:
            undone(desk, known, before)
        known = past.pop()
    known = known.changed(taken_out=TakenOut(first, known.situation, tuple(shots), ", ".join(out)))
    if len(out) == 1:
        return Said(known, sentences([lines.SHOT_REMOVED.format(shot=out[0])]))
    each = [lines.SHOTS_REMOVED.format(count=spoken_number(len(out))), *out]
    return Said(known, shortest([each, each[:1]]), written=sentences(each))


def _named(desk: Desk, known: Known) -> str:
    """The shot as it was written: its club and what became of it."""
    said = ""
    written = desk.log.shots(last=1) if desk.log is not None else []
    told = written[-1].result if written else known.result
    if told is not None:
        read = Understanding(heard="", intent=Intent.RESULT)
        said = acknowledgement(told, None, read, desk.on(known.day).bag.player)
    club_id = written[-1].club if written else None
    club = next((each.name for each in desk.bag.clubs if each.id == club_id), "")
    return ", ".join(filter(None, (club, said)))


def _step_back(desk: Desk, known: Known, past: deque[Known], *, told: bool) -> Said:
    before = past[-1]
    noted = undone(desk, known, before)
    past.pop()
    if noted and before.situation == known.situation:
        return Said(before, TAKEN_BACK.format(what=noted))
    named = _facts_named(desk, known, before)
    before = before.changed(taken_out=TakenOut(known, before.situation, (), named or lines.LAST_SAID))
    undone_so = lines.UNDONE_SO.format(what=named) if named else lines.UNDONE
    stands = told and before.situation != Known().situation
    empty = lines.NOTHING_KNOWN if told and not before.played else ""
    so_far = known_so_far(desk.on(before.day), before).spoken if stands else empty
    return Said(before, sentences([undone_so, so_far]), brief=undone_so)


def _facts_named(desk: Desk, known: Known, before: Known) -> str:
    """What of the shot was not known before the step that is taken back."""
    news = news_of(known.situation, before.situation)
    bag = desk.on(known.day).bag
    if known.result is not None and before.result is None:
        return small(
            acknowledgement(known.result, None, Understanding(heard="", intent=Intent.RESULT), bag.player)
        )
    return situation_said(news, bag)
