"""A fact that the player never told, by their own account: it goes out of the shot, and the reply says so.

"Where'd that break come from?", "I never said anything about wind".
"""

import re
from dataclasses import replace

from caddie.reply.spoken import sentences
from caddie.situation import Fall, Situation, Wind
from caddie.talk import lines
from caddie.talk.planning import planned
from caddie.talk.state import Desk, Known, Said
from caddie.words import Intent, Understanding
from caddie.words.sayings import says

_FOLLOWS = "disowned_follows"
_CLAUSE = re.compile(r"(?<=[,.;:!?…])\s+")
_ACROSS = (Fall.LEFT_TO_RIGHT, Fall.RIGHT_TO_LEFT)


def disowned(desk: Desk, known: Known, text: str) -> tuple[Said, str] | None:
    """The shot without the fact that is disowned, and what else was said; None where none that is known is."""
    clauses = [part for part in _CLAUSE.split(text.strip()) if part]
    found = [
        (at, what) for at, part in enumerate(clauses) for what in _WITHOUT if says(part, f"disowned_{what}")
    ]
    if not found or known.plan is None or known.played:
        return None
    after = known.situation
    out = []
    for _, what in found:
        without = _WITHOUT[what](after)
        out += [what] if without != after else []
        after = without
    if not out:
        return None
    told = {at for at, _ in found}
    rest = " ".join(part for at, part in enumerate(clauses) if at not in told and not says(part, _FOLLOWS))
    what = " and ".join(out)
    known = known.changed(situation=after, question=None)
    heard = Understanding(heard=text, intent=Intent.CORRECT)
    if rest:
        lead = lines.DISOWNED_BESIDE.format(what=what)
        return Said(known, sentences([lead]), intent=Intent.CORRECT.value, step=True), rest
    lead = lines.DISOWNED.format(what=what)
    return replace(planned(desk, known, heard, lead=lead), intent=Intent.CORRECT.value), ""


def _without_break(now: Situation) -> Situation:
    green = now.green
    update: dict[str, object] = dict.fromkeys(
        ("side_fall", "side_slope", "borrow", "double_break", "break_part")
    )
    if green.fall in _ACROSS:
        update |= {"fall": None, "fall_slope": None}
    return now.model_copy(update={"green": green.model_copy(update=update)})


def _without_slope(now: Situation) -> Situation:
    green = now.green
    update = {} if green.fall in _ACROSS else {"fall": None, "fall_slope": None}
    return now.model_copy(update={"green": green.model_copy(update=update), "elevation_m": None})


def _without_wind(now: Situation) -> Situation:
    return now.model_copy(update={"wind": Wind()})


_WITHOUT = {"break": _without_break, "slope": _without_slope, "wind": _without_wind}
