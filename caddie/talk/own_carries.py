"""How far a club of the player's own goes: what the bag holds of it, whatever shot is being played."""

from collections.abc import Iterable
from dataclasses import replace

from caddie.bag import Carry, Club, ClubKind
from caddie.reply.phrases import said
from caddie.reply.spoken import sentences, shortest
from caddie.situation import Wind
from caddie.talk import lines
from caddie.talk.asked import carry, in_play, of_the_shot
from caddie.talk.length_named import length_named_m
from caddie.talk.state import Desk, Known, Said
from caddie.words import Understanding

FULL = "full"
NO_WIND_M_S = 1.0


def own_carry(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The carries of the club asked about: of the swing named, or of each; without a club of the one advised."""
    if heard.club is None and in_play(known) is not None:
        return of_the_shot(carry)(desk, known, heard)
    club = desk.whole_bag.club_called(heard.club or "")
    if club is None or not club.carries:
        return Said(known, _none_of(heard, desk))
    asked = [cell for cell in club.carries if heard.swing in (None, cell.swing)]
    if not asked:
        missing = f"that swing of the {club.name} was never measured"
        told = _told(club, club.carries, desk)
        return Said(known, shortest([[missing, told], [told]]), written=sentences([missing, told]))
    told = _told(club, tuple(asked), desk)
    wind = _wind(known)
    spoken = shortest([[told, wind], [told]]) if wind else sentences([told])
    return Said(known, spoken)


def with_carry(said: Said) -> Said:
    """The reply to what was said beside the carry of an own club: that the bag's carries are counted on."""
    alone = said.spoken == lines.LISTENING
    spoken = shortest(
        [
            [lines.CARRIES_STAND, "" if alone else said.spoken],
            [lines.CARRIES_STAND, said.brief or said.spoken],
        ]
    )
    written = lines.CARRIES_STAND if alone else f"{lines.CARRIES_STAND}\n{said.written or said.spoken}"
    return replace(said, spoken=spoken, written=written)


def _none_of(heard: Understanding, desk: Desk) -> str:
    measured = [club.name for club in desk.whole_bag.clubs if club.carries]
    named = f"the {heard.club}" if heard.club else "that club"
    return sentences([f"I have no carry of {named}: I know your {_listed(measured)}"])


def _wind(known: Known) -> str:
    """That the numbers are those of still air, where a wind was told."""
    wind: Wind = known.situation.wind
    blows = wind.from_ is not None and (wind.speed_m_s is None or wind.speed_m_s > NO_WIND_M_S)
    return "in still air: today's wind changes it" if blows else ""


def every_club(desk: Desk, known: Known, heard: Understanding) -> Said:
    """What each club carries with a full swing; all of them are written."""
    clubs = [club for club in desk.whole_bag.clubs if club.carries and club.kind is not ClubKind.PUTTER]
    if not clubs:
        return Said(known, sentences(["no carry is in your bag yet: hit some on the range"]))
    written = "\n".join(sentences([_told(club, club.carries, desk)]) for club in clubs)
    told = [_full(club, club.carries[-1], desk) for club in clubs]
    lead = f"full, in {desk.bag.player.distances_in.value}"
    spoken = shortest([[f"{lead}: {', '.join(told[:last])}"] for last in range(len(told), 0, -1)])
    return Said(known, spoken, written=written)


def _full(club: Club, cell: Carry, desk: Desk) -> str:
    """The most that is known of a club: its full swing, or the longest measured."""
    far = said(cell.carry_m, desk.bag, FARTHER_THAN_PACES_M).rpartition(" ")[0]
    return f"{club.name} {far}{'' if cell.swing == FULL else f' {_swing(cell)}'}"


FARTHER_THAN_PACES_M = 50.0
"""Beside a length of so much, one is not told in paces."""


def which_goes(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The clubs and swings of the bag that carry nearest to the length asked about."""
    length_m = heard.situation.pin_m or length_named_m(heard.heard, desk.bag)
    cells = [(club, cell) for club in desk.whole_bag.clubs for cell in club.carries]
    if length_m is None or not cells:
        return every_club(desk, known, heard)
    nearest = sorted(cells, key=lambda each: abs(each[1].carry_m - length_m))[:2]
    told = [
        f"your {club.name} {_swing(cell)} carries {said(cell.carry_m, desk.bag)}" for club, cell in nearest
    ]
    return Said(known, sentences([", ".join(told)]))


def _told(club: Club, cells: tuple[Carry, ...], desk: Desk) -> str:
    """ "Your pitching wedge carries eighty-eight yards to the chest, a hundred and eighteen yards full"."""
    unit = desk.bag.player.distances_in
    lengths = [said(cell.carry_m, desk.bag, club.carries[-1].carry_m) for cell in cells]
    parts = [f"{length} {_swing(cell)}" for length, cell in zip(lengths, cells, strict=True)]
    if len(parts) > 2:
        parts[1:] = [part.replace(f" {unit.value}", "", 1) for part in parts[1:]]
    guess = "" if any(cell.measured for cell in cells) else ", an estimate: it was never measured"
    return f"your {club.name} carries {', '.join(parts)}{guess}"


def _listed(names: Iterable[str]) -> str:
    *first, last = list(names) or ["clubs once you measure them"]
    return f"{', '.join(first)} and {last}" if first else last


def _swing(cell: Carry) -> str:
    return FULL if cell.swing == FULL else f"to the {cell.swing}"
