"""Questions that a whole turn asks, whatever else it tells: a rule, how much to leave for the next shot, a pace."""

from caddie.talk.by_topic import asked_by_topic
from caddie.talk.leave_asked import LEAVE_ASKED, leave_asked, leave_said
from caddie.talk.rules_told import told_of_the_rules
from caddie.talk.state import Desk, Known, Said
from caddie.talk.supposed_pace import supposed_pace
from caddie.talk.two_ways_out import both_ways_out


def asked_whole(desk: Desk, known: Known, text: str, *, advises: bool) -> Said | None:
    """The answer to such a question, or None; where nothing may be advised, a rule alone is told."""
    ruled = told_of_the_rules(desk, known, text, advises=advises)
    if ruled is not None or not advises:
        return ruled
    said = told_what_to_leave(desk, known, text) or supposed_pace(desk, known, text)
    said = said or both_ways_out(desk, known, text)
    return said or asked_by_topic(desk, known, text)


def told_what_to_leave(desk: Desk, known: Known, text: str) -> Said | None:
    """The length to leave, where it is asked and no shot is being played."""
    in_play = known.plan is not None and not known.played
    if in_play or not leave_asked(text):
        return None
    spoken, written = leave_said(desk.bag)
    return Said(known, spoken, written=written, intent=LEAVE_ASKED)
