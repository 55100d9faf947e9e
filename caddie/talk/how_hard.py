"""How hard to hit it, and how to play it: of the shot advised, or of another club that is named."""

from caddie.reply.spoken import shortest
from caddie.situation import Situation
from caddie.talk.asked import how, how_played, in_play, motion, of_the_shot
from caddie.talk.compare import what_if
from caddie.talk.planning import with_where_it_goes
from caddie.talk.state import Desk, Known, Said
from caddie.words import Intent, Understanding


def how_hard(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "How hard do I whack it up that slope?": the pace or the swing as it was told."""
    if _names_another(desk, known, heard):
        return _compared(desk, known, heard)
    return of_the_shot(how, whatever_the_club=heard.club is not None)(desk, known, heard)


def how_with(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "How do I play the fifty-six?": the shot and where it goes, then how; another club is compared."""
    plan = in_play(known)
    if plan is None or heard.club is None:
        return how_played(desk, known, heard)
    if _names_another(desk, known, heard):
        return _compared(desk, known, heard)
    manner, shot = motion(plan, desk.bag)[0], with_where_it_goes(plan, desk.bag)
    spoken = shortest([[shot, manner], [shot, manner.partition(". ")[0]], [shot]])
    return Said(known.changed(spoken=spoken, question=None), spoken)


def _names_another(desk: Desk, known: Known, heard: Understanding) -> bool:
    plan, club = in_play(known), desk.bag.club_called(heard.club or "")
    return plan is not None and club is not None and club.id != plan.chosen.club


def _compared(desk: Desk, known: Known, heard: Understanding) -> Said:
    read = {"intent": Intent.WHAT_IF, "asks": (), "situation": Situation()}
    return what_if(desk, known, heard.model_copy(update=read))
