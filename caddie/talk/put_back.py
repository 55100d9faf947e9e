"""What was taken back in this talk is put back: "did you just delete one? Put it back"."""

import re

from caddie.errors import CaddieError
from caddie.reply.spoken import sentences
from caddie.talk import lines
from caddie.talk.state import Desk, Known, Said, TakenOut, ToldShot, with_told
from caddie.words import Intent
from caddie.words.sayings import says

_PUT_BACK, _ASKED_WHETHER = "put_back", "asked_whether_taken"
_CLAUSE = re.compile(r"(?<=[,.;:!?…])\s+")


def put_back(desk: Desk, known: Known, text: str) -> tuple[Said, str] | None:
    """The reply to a wish for what was taken back, and what else was said; None where no such thing is said."""
    parts = [part for part in _CLAUSE.split(text.strip()) if part]
    wished = any(says(part, _PUT_BACK) for part in parts)
    if not wished and not (parts and says(parts[0], _ASKED_WHETHER)):
        return None
    rest = " ".join(part for part in parts if not (says(part, _PUT_BACK) or says(part, _ASKED_WHETHER)))
    out = known.taken_out
    if out is None:
        said = Said(known, lines.NOTHING_TAKEN_OUT)
    elif not wished:
        said = Said(known, lines.TAKEN_OUT_LAST.format(what=out.named))
    else:
        said = _as_before(desk, known, out)
    return Said(said.known, said.spoken, intent=Intent.UNDO.value, step=said.step, logged=said.logged), rest


def _as_before(desk: Desk, known: Known, out: TakenOut) -> Said:
    """What stood before it was taken back, its shots in the log again; what was told since is kept."""
    told = known.situation != out.left
    before = known if told else out.known
    if not out.shots:
        return Said(
            out.known.changed(taken_out=None), sentences([lines.PUT_BACK.format(what=out.named)]), step=True
        )
    try:
        numbers = desk.log.add_all(out.shots) if desk.log is not None else []
    except CaddieError:
        numbers = []
    if not numbers:
        return Said(known, lines.NOT_LOGGED)
    last = out.shots[-1]
    shot = ToldShot(numbers[-1], last.situation, last.result)
    update = {} if told else {"shot_logged": numbers[-1]}
    after = before.changed(written=numbers[-1], told=with_told(known, shot), taken_out=None, **update)
    return Said(after, sentences([lines.PUT_BACK.format(what=out.named)]), step=True, logged=True)
