"""Questions that a whole turn asks, whatever else it tells: a rule, how much to leave for the next shot, a pace."""

from caddie.plan.assume import ASK_DISTANCE
from caddie.talk import when
from caddie.talk.by_topic import asked_by_topic
from caddie.talk.how_to import HOW_TO_ASKED, how_to
from caddie.talk.kind_wished import kind_wished
from caddie.talk.leave_asked import LEAVE_ASKED, leave_asked, leave_said, leave_wished_m, wish_said
from caddie.talk.of_practice import asked_of_practice
from caddie.talk.question import HOW_FAR
from caddie.talk.refused_clubs import refuses_a_club
from caddie.talk.relief_taken import shot_from_the_drop
from caddie.talk.rules_told import told_of_the_rules
from caddie.talk.state import Desk, Known, Question, Said
from caddie.talk.supposed_pace import supposed_pace
from caddie.talk.two_ways_out import both_ways_out, way_out_to
from caddie.talk.why_this_club import why_this_club
from caddie.words import understand_turn


def asked_whole(desk: Desk, known: Known, text: str, *, advises: bool) -> Said | None:
    """The answer to such a question, or None; where nothing may be advised, a rule alone is told."""
    if advises and (dropped := shot_from_the_drop(desk, known, text)) is not None:
        return dropped
    ruled = told_of_the_rules(desk, known, text, advises=advises)
    if ruled is not None or not advises:
        return ruled
    said = (
        told_what_to_leave(desk, known, text) or told_how_to(known, text) or supposed_pace(desk, known, text)
    )
    said = said or asked_of_practice(desk, known, text)
    said = said or both_ways_out(desk, known, text) or why_this_club(desk, known, text)
    said = said or way_out_to(desk, known, text) or _wished(desk, known, text)
    # "I'm not putting over a bunker" asks nothing of the bunker.
    return said or (None if refuses_a_club(text) else asked_by_topic(desk, known, text))


def told_what_to_leave(desk: Desk, known: Known, text: str) -> Said | None:
    """The length to leave, where it is asked and no shot is being played."""
    if when.in_play(known, text):
        return None
    left_m = leave_wished_m(text, desk.bag) if known.situation.pin_m is None else None
    if left_m is not None and not leave_asked(text):
        asked = known.changed(question=Question(HOW_FAR, ASK_DISTANCE))
        return Said(asked, wish_said(left_m, desk.bag), intent=LEAVE_ASKED)
    if not leave_asked(text):
        return None
    spoken, written = leave_said(desk.bag)
    return Said(known, spoken, written=written, intent=LEAVE_ASKED)


def told_how_to(known: Known, text: str) -> Said | None:
    """How the kind of shot that is named is played, while none is in play."""
    if when.in_play(known, text):
        return None
    spoken = how_to(text)
    return None if spoken is None else Said(known.changed(spoken=spoken), spoken, intent=HOW_TO_ASKED)


def _wished(desk: Desk, known: Known, text: str) -> Said | None:
    """The kind of shot wished for; "I'll just bump it out. Ten foot past" tells one that was played."""
    said = kind_wished(desk, known, text)
    if said is not None and any(part.result is not None for part in understand_turn(text)):
        return None
    return said
