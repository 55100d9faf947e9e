"""Clubs that the player does not have today: out of every plan until said otherwise."""

from caddie.bag import Club, ClubKind
from caddie.reply.spoken import sentences
from caddie.talk import lines
from caddie.talk.choices import named_shots
from caddie.talk.planning import planned
from caddie.talk.state import Desk, Known, Said
from caddie.words import Understanding


def missing(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "I left the sixty at home"."""
    clubs = _named(desk, heard)
    if not clubs:
        return Said(known, lines.NOT_IN_BAG.format(club="such club"))
    return _with_out(
        desk, known, heard, {*known.day.out, *(club.id for club in clubs)}, clubs, lines.OUT_TODAY
    )


def only_have(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "I only have the sand wedge and the nine iron"; the putter is always there."""
    clubs = _named(desk, heard)
    if not clubs:
        return Said(known, lines.NOT_IN_BAG.format(club="such club"))
    kept = {club.id for club in clubs}
    out = {c.id for c in desk.bag.clubs if c.id not in kept and c.kind is not ClubKind.PUTTER}
    gone = [club for club in desk.bag.clubs if club.id in out]
    return _with_out(desk, known, heard, {*known.day.out, *out}, gone, lines.OUT_TODAY)


def found(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "I've got the sixty back"."""
    clubs = _named(desk, heard)
    out = {*known.day.out} - {club.id for club in clubs}
    return _with_out(desk, known, heard, out, clubs, lines.BACK_TODAY)


def all_here(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Every club is back."""
    clubs = [club for club in desk.whole_bag.clubs if club.id in known.day.out]
    return _with_out(desk, known, heard, set(), clubs, lines.BACK_TODAY)


def handed(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "I'm left-handed": the desk counts on it already, the shot in play is planned again."""
    noted = lines.HANDED.format(hand=desk.bag.player.handed.value)
    if known.plan is None or known.played:
        return Said(known, sentences([noted, lines.NOTHING_KNOWN]), step=True)
    return planned(desk, known.changed(other=None, question=None), heard)


def _named(desk: Desk, heard: Understanding) -> list[Club]:
    named = (desk.whole_bag.club_called(only.club) for only in named_shots(heard.heard, desk) if only.club)
    return list({club.id: club for club in named if club is not None}.values())


def _with_out(
    desk: Desk, known: Known, heard: Understanding, out: set[str], clubs: list[Club], line: str
) -> Said:
    """The day with these clubs out, and the shot in play planned again."""
    after = known.on_the_day(out=tuple(sorted(out)))
    there = desk.on(after.day)
    if not any(club.carries for club in there.bag.clubs):
        return Said(known, lines.NO_CLUB_LEFT)
    names = " and ".join(club.name for club in clubs[:2]) if len(clubs) <= 2 else "the rest"
    noted = sentences([line.format(clubs=names)])
    if known.plan is None or known.played:
        return Said(after, noted, step=True)
    said = planned(there, after.changed(other=None, question=None), heard)
    return Said(said.known, said.spoken, written=said.written, advice=said.advice, step=True, brief=noted)
