"""A number or a short name that is a club, by the bag and by the talk: "the fifty-six", "my lob" are wedges."""

from collections.abc import Collection, Iterable, Iterator

from caddie.bag import Bag, Club, ClubKind, Family
from caddie.situation import Situation
from caddie.talk.asked import in_play
from caddie.talk.state import Known
from caddie.units import Unit, from_metres
from caddie.words import Intent, understand
from caddie.words.club_numbers import IRON_NUMBERS, WEDGE_LOFTS, ClubsKnown, clubs_named_so
from caddie.words.numbers import is_number
from caddie.words.numbers_in_play import says_how_far
from caddie.words.round_numbers import RoundNumbers
from caddie.words.sayings import compared, sentences_of
from caddie.words.short_names import owned_in_full

SEVERAL = 2
"""Of so many sentences each is looked at alone."""
_NAMES = ("lob wedge", "sand wedge", "gap wedge", "pitching wedge")


def clubs_by_number(text: str, known: Known, bag: Bag) -> str:
    """The words with each number that is a club said as one.

    "You told me putter. Fifty-two, chip": a sentence that tells no shot names a club, whatever stands beside it.
    """
    whole = _what_numbers_may_be(text, known, bag)
    named, sentences = clubs_named_so(text, whole), sentences_of(text)
    if whole.agreeable or not whole.in_play or len(sentences) < SEVERAL or named != text:
        return named
    return " ".join(clubs_named_so(each, _what_numbers_may_be(each, known, bag)) for each in sentences)


def clubs_said_in_full(text: str, known: Known, bag: Bag) -> str:
    """The words with "lob" as the lob wedge where they mean the club; a lob that was just compared is the shot."""
    just_compared = known.other is not None and known.other.family is Family.LOB
    return text if just_compared else owned_in_full(text, bag)


def wedges_in_play(known: Known, bag: Bag) -> frozenset[int]:
    """The numbers that wedges of the bag go by, with a shot in play; else none."""
    return frozenset(_wedges(bag)) if in_play(known) is not None else frozenset()


def _wedges(bag: Bag) -> dict[int, Club]:
    """The clubs of the bag that wedges' numbers call."""
    return _called(bag, WEDGE_LOFTS, "{}")


def _called(bag: Bag, numbers: Iterable[int], name: str) -> dict[int, Club]:
    """The clubs of the bag by their numbers, each called by its number in this name."""
    return {number: club for number in numbers if (club := bag.club_called(name.format(number))) is not None}


def _what_numbers_may_be(text: str, known: Known, bag: Bag) -> ClubsKnown:
    wedges, irons = _wedges(bag), _called(bag, IRON_NUMBERS, "{} iron")
    just_named = _clubs_named(known, bag)
    named = frozenset(number for number, club in (wedges | irons).items() if club.id in just_named)
    return ClubsKnown(
        lofts=frozenset(wedges),
        irons=frozenset(irons),
        lengths=frozenset(_lengths_told(known, bag)),
        named=named,
        in_play=in_play(known) is not None,
        agreeable=_has_one_of({*wedges, *named}, text) and _tells_no_shot(text, bag),
        names={number: club.name for number, club in wedges.items() if _goes_by_its_name(club)},
    )


def _has_one_of(wedges: Collection[int], text: str) -> bool:
    return any(number in wedges for _, number in RoundNumbers(text).numbers())


def _tells_no_shot(text: str, bag: Bag) -> bool:
    """Whether there is more in the words than a number, and no fact of a shot but its length, nor one put right."""
    if says_how_far(text) or all(map(is_number, compared(text))):
        return False
    heard = understand(text, unit=bag.player.distances_in, pace_m=bag.player.pace_m)
    there = heard.situation.model_copy(update={"pin_m": None})
    return heard.intent is not Intent.CORRECT and there == Situation()


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
