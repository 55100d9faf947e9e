"""Clubs that the player does not have today: out of every plan until said otherwise."""

from dataclasses import replace

from caddie.bag import Club, ClubKind
from caddie.reply.spoken import sentences, shortest
from caddie.talk import lines
from caddie.talk.of_two import named_shots
from caddie.talk.planning import planned
from caddie.talk.state import Desk, Known, Said
from caddie.words import Understanding
from caddie.words.gist import gists_of
from caddie.words.sayings import sentences_of

_MISSING = "missing"


def missing(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "I left the sixty at home"."""
    clubs = _named(desk, heard)
    if not clubs:
        return Said(known, lines.NOT_IN_BAG.format(club="such club"))
    return _with_out(
        desk, known, heard, {*known.day.out, *(club.id for club in clubs)}, clubs, lines.OUT_TODAY
    )


def missing_besides(desk: Desk, known: Known, heard: Understanding) -> list[Club]:
    """The clubs told beside something else not to be there: "I said 52's not in my bag. What for a 56?"."""
    if _MISSING in heard.asks:
        return []
    told = [
        part for part in sentences_of(heard.heard) if _MISSING in gists_of(part) and not part.endswith("?")
    ]
    named = (
        desk.bag.club_called(only.club) for part in told for only in named_shots(part, desk.bag) if only.club
    )
    return [club for club in named if club is not None and club.kind is not ClubKind.PUTTER]


def noted_besides(desk: Desk, known: Known, heard: Understanding, clubs: list[Club]) -> Known:
    """The day without these clubs, and the shot in play without one of them."""
    after = known.on_the_day(out=tuple(sorted({*known.day.out, *(club.id for club in clubs)})))
    gone = after.plan is not None and not after.played and after.plan.chosen.club in after.day.out
    there = desk.on(after.day)
    if not any(club.carries for club in there.bag.clubs):
        return known.on_the_day(out=known.day.out)
    return planned(there, after.changed(other=None, question=None), heard).known if gone else after


def told_besides(said: Said, clubs: list[Club]) -> Said:
    """The reply, with the clubs that are out."""
    return told_first(
        said, sentences([lines.OUT_TODAY.format(clubs=" and ".join(club.name for club in clubs))])
    )


def told_first(said: Said, noted: str) -> Said:
    """The reply behind a sentence of what is noted."""
    spoken = shortest([[noted, said.spoken], [noted, said.brief or said.spoken], [said.spoken]])
    return replace(said, spoken=spoken, written=f"{noted}\n{said.written or said.spoken}".strip(), step=True)


def only_have(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "I only have the sand wedge and the nine iron"; the putter is always there."""
    names = _names(desk, heard)
    clubs = _in_the_bag(desk, names)
    if not clubs:
        return Said(known, lines.NOT_IN_BAG.format(club="such club"))
    kept = {club.id for club in clubs}
    out = {c.id for c in desk.bag.clubs if c.id not in kept and c.kind is not ClubKind.PUTTER}
    said = _with_out(desk, known, heard, {*known.day.out, *out}, clubs, lines.ONLY_TODAY)
    strange = next((name for name in names if desk.whole_bag.club_called(name) is None), None)
    return said if strange is None else told_first(said, lines.NOT_IN_BAG.format(club=strange))


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
    return _in_the_bag(desk, _names(desk, heard))


def _names(desk: Desk, heard: Understanding) -> list[str]:
    """The clubs named, as they were."""
    return [only.club for only in named_shots(heard.heard, desk.bag) if only.club]


def _in_the_bag(desk: Desk, names: list[str]) -> list[Club]:
    named = (desk.whole_bag.club_called(name) for name in names)
    return list({club.id: club for club in named if club is not None}.values())


def _with_out(
    desk: Desk, known: Known, heard: Understanding, out: set[str], clubs: list[Club], line: str
) -> Said:
    """The day with these clubs out, and the shot in play planned again."""
    after = known.on_the_day(out=tuple(sorted(out)))
    there = desk.on(after.day)
    if not any(club.carries for club in there.bag.clubs):
        return Said(known, lines.NO_CLUB_LEFT)
    names = [club.name for club in clubs]
    listed = " and ".join([", ".join(names[:-1]), names[-1]] if names[:-1] else names)
    noted = sentences([line.format(clubs=listed)]) if names else ""
    if known.plan is None or known.played:
        return Said(after, noted or lines.AS_IT_WAS + ".", step=True)
    said = planned(there, after.changed(other=None, question=None), heard)
    return replace(told_first(said, noted), brief=noted)
