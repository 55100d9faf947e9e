"""What was said last is taken back, or shots that were written down: each is named, so that none goes unseen."""

from collections import deque
from itertools import pairwise

from caddie.reply.spoken import sentences, shortest
from caddie.talk import lines
from caddie.talk.about import known_so_far
from caddie.talk.note_lines import TAKEN_BACK
from caddie.talk.on_hole import undone
from caddie.talk.played import removed
from caddie.talk.result_said import acknowledgement
from caddie.talk.state import Desk, Known, Said
from caddie.units import spoken_number
from caddie.words import Intent, Understanding
from caddie.words.taking_back import shots_to_take_out


def take_back(desk: Desk, known: Known, past: deque[Known], heard: Understanding, *, told: bool) -> Said:
    """The last step taken back, or as many shots as were named; what stands then is told where ``told``."""
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


def _wrote(after: Known, before: Known) -> bool:
    """Whether a shot was written down from one step to the next."""
    return after.shot_logged is not None and after.shot_logged != before.shot_logged


def _shots_out(desk: Desk, known: Known, past: deque[Known], count: int) -> Said:
    """Back to before the last ``count`` shots written, each taken out of the log."""
    out: list[str] = []
    while past and len(out) < count:
        before = past[-1]
        if _wrote(known, before):
            assert known.shot_logged is not None
            shot = _named(desk, known)
            problem = removed(desk, known, known.shot_logged)
            if problem:
                return Said(known, problem)
            out.append(shot)
        else:
            undone(desk, known, before)
        known = past.pop()
    if len(out) == 1:
        return Said(known, sentences([lines.SHOT_REMOVED.format(shot=out[0])]))
    each = [lines.SHOTS_REMOVED.format(count=spoken_number(len(out))), *out]
    return Said(known, shortest([each, each[:1]]), written=sentences(each))


def _named(desk: Desk, known: Known) -> str:
    """The shot as it was written: its club and what became of it."""
    said = ""
    if known.result is not None:
        read = Understanding(heard="", intent=Intent.RESULT)
        said = acknowledgement(known.result, None, read, desk.bag.player.distances_in)
    written = desk.log.shots(last=1) if desk.log is not None else []
    club_id = written[-1].club if written else None
    club = next((each.name for each in desk.bag.clubs if each.id == club_id), "")
    return ", ".join(filter(None, (club, said)))


def _step_back(desk: Desk, known: Known, past: deque[Known], *, told: bool) -> Said:
    before = past[-1]
    noted = undone(desk, known, before)
    past.pop()
    if noted and before.situation == known.situation:
        return Said(before, TAKEN_BACK.format(what=noted))
    stands = told and before.situation != Known().situation
    so_far = known_so_far(desk.on(before.day), before).spoken if stands else ""
    return Said(before, sentences([lines.UNDONE, so_far]))
