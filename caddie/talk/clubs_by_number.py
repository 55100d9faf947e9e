"""A number that is a club, by the bag and by the talk: with a shot in play "the fifty-six" is a wedge."""

from collections.abc import Iterator

from caddie.bag import Bag, Club, ClubKind
from caddie.talk.state import Known
from caddie.units import Unit, from_metres
from caddie.words.club_numbers import IRON_NUMBERS, WEDGE_LOFTS, ClubsKnown, clubs_named_so

_NAMES = ("lob wedge", "sand wedge", "gap wedge", "pitching wedge")


def clubs_by_number(text: str, known: Known, bag: Bag) -> str:
    """The words with each number that is a club said as one."""
    return clubs_named_so(text, _what_numbers_may_be(known, bag))


def _what_numbers_may_be(known: Known, bag: Bag) -> ClubsKnown:
    wedges = {number: club for number in WEDGE_LOFTS if (club := bag.club_called(str(number))) is not None}
    return ClubsKnown(
        lofts=frozenset(wedges),
        irons=frozenset(number for number in IRON_NUMBERS if bag.club_called(f"{number} iron") is not None),
        lengths=frozenset(_lengths_told(known, bag)),
        named=frozenset(number for number, club in wedges.items() if club.id in _clubs_named(known, bag)),
        in_play=known.plan is not None and not known.played,
        names={number: club.name for number, club in wedges.items() if _goes_by_its_name(club)},
    )


def _goes_by_its_name(club: Club) -> bool:
    return club.kind is ClubKind.WEDGE and club.name in _NAMES


def _lengths_told(known: Known, bag: Bag) -> Iterator[int]:
    """The whole numbers that the lengths of the shot were told by."""
    there = known.situation
    for length_m in (there.pin_m, there.front_m, there.room_m, *(each.carry_m for each in there.hazards)):
        if length_m is not None:
            for unit in (bag.player.distances_in, Unit.PACES, Unit.FEET):
                yield round(from_metres(length_m, unit, bag.player.pace_m))


def _clubs_named(known: Known, bag: Bag) -> set[str]:
    """Ids of the clubs that the advice and the player named last."""
    asked = bag.club_called(known.only.club) if known.only.club else None
    shots = (known.plan.chosen if known.plan else None, known.advised, known.other, known.before)
    return {*(shot.club for shot in shots if shot is not None), *([asked.id] if asked else [])}
