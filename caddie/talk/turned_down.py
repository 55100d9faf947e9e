"""Clubs that the player will not hit: "I hate the lob wedge", "not the putter"."""

from caddie.plan.candidates import Only
from caddie.situation import Lie
from caddie.talk import lines
from caddie.talk.asked import in_play
from caddie.talk.of_two import named_shots
from caddie.talk.planning import planned
from caddie.talk.refused_clubs import refused_clubs, refuses_the_putter, without_clubs
from caddie.talk.state import Desk, Known, Said
from caddie.talk.wish import without_putter
from caddie.words import Intent, Understanding, understand
from caddie.words.gist import is_question
from caddie.words.sayings import begins, denied_beside, sentences_of


def club_refused(desk: Desk, known: Known, heard: Understanding) -> Said | None:
    """ "No way am I hitting the sixty", "I'm not putting over a bunker": the shot without it, or None."""
    if in_play(known) is None:
        return None
    if refuses_the_putter(heard.heard) and known.situation.lie is not Lie.GREEN:
        return without_the_putter(desk, known, heard)
    clubs = refused_clubs(heard.heard, desk.bag)
    if not clubs or denied_beside(heard.heard):
        return None
    only = without_clubs(known.only, clubs, desk.bag)
    named = (desk.bag.club_called(each.club or "") for each in named_shots(heard.heard, desk.bag))
    instead = {club.id for club in named if club is not None and club not in clubs}
    if len(instead) == 1:
        # "The nine feels odd, what about the wedge?"
        only = only.model_copy(update={"club": instead.pop()})
    return planned(desk, known.changed(only=only, question=None, other=None), heard)


def without(desk: Desk, known: Known, heard: Understanding) -> Said | None:
    """ "I hate the lob wedge": the shot without that club; None when no club is turned down."""
    if not heard.club or in_play(known) is None or not begins(heard.heard, "without_lead"):
        return None
    if is_question(heard.heard) or heard.intent is Intent.CORRECT:
        # "No, it's sixty yards, the fifty-six is the club" puts right what was said, and turns nothing down.
        return None
    if denied_beside(heard.heard):
        # "No, the nine, not the wedge" names the one that was meant.
        return None
    player, first = desk.bag.player, sentences_of(heard.heard)[0]
    turned_down = understand(first, unit=player.distances_in, pace_m=player.pace_m).club
    club = desk.whole_bag.club_called(turned_down or "")
    if club is None:
        return None
    if club.id in known.day.out:
        return Said(known, lines.OUT_TODAY.format(clubs=club.name), brief="")
    only = Only(without=tuple(sorted({*known.only.without, club.id})))
    return planned(desk, known.changed(only=only, question=None, other=None), heard)


def without_the_putter(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Not the putter": the shot without it; with a club that is named instead."""
    instead = desk.bag.club_called(heard.club or "")
    only = without_putter(known.only, desk.bag)
    if instead is not None and instead.id not in only.without:
        only = only.model_copy(update={"club": instead.id})
    return planned(desk, known.changed(only=only, question=None, other=None), heard)
