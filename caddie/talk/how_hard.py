"""How hard to hit it, and how to play it: of the shot advised, or of another club that is named."""

from caddie.reply.spoken import shortest
from caddie.talk.asked import how, how_played, in_play, motion, of_the_shot
from caddie.talk.compare import names_another, with_the_club
from caddie.talk.planning import with_where_it_goes
from caddie.talk.state import Desk, Known, Said
from caddie.words import Understanding


def how_hard(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "How hard do I whack it up that slope?": the pace or the swing as it was told."""
    if names_another(desk, known, heard):
        return with_the_club(desk, known, heard)
    return of_the_shot(how, whatever_the_club=heard.club is not None)(desk, known, heard)


def how_with(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "How do I play the fifty-six?": the shot and where it goes, then how; another club is compared."""
    plan = in_play(known)
    if plan is None or heard.club is None:
        return how_played(desk, known, heard)
    if names_another(desk, known, heard):
        return with_the_club(desk, known, heard)
    manner, shot = motion(plan, desk.bag)[0], with_where_it_goes(plan, desk.bag)
    spoken = shortest([[shot, manner], [shot, manner.partition(". ")[0]], [shot]])
    return Said(known.changed(spoken=spoken, question=None), spoken)
