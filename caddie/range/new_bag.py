"""A bag from a short conversation: a handicap, the clubs, a few carries the player knows.

The answers are frozen values, read elsewhere (:mod:`caddie.talk.new_bag`), so that they can be asked for
anywhere. What was not told is estimated from the usual shape of a player's carries and marked
so; a carry told from memory counts as three balls.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from caddie.bag.club_names import club_named, swing_named
from caddie.bag.curve import SAND_SPREAD, expected_spread_m
from caddie.bag.models import (
    STANDARD_SWINGS,
    Bag,
    Carry,
    Club,
    ClubKind,
    Family,
    Handed,
    Miss,
    Player,
)
from caddie.errors import CaddieError
from caddie.range.fit import estimate_carries, with_fit
from caddie.range.told import CarryAsSaid
from caddie.situation import Frozen
from caddie.units import Unit, from_metres, to_metres

TOLD_SHOTS = 3
"""Balls that a carry told from memory counts for."""
TRUSTED = 0.8

_IRON_LOFT = {9: 41.0, 8: 37.0, 7: 33.0, 6: 29.5, 5: 26.0, 4: 23.0}
USUAL_LOFT = {"pw": 46.0, "gw": 50.0, "aw": 50.0, "sw": 56.0, "lw": 60.0}
_SPOKEN = ("", "", "", "", "four", "five", "six", "seven", "eight", "nine")
PUTTER = Club(id="putter", name="putter", kind=ClubKind.PUTTER, loft_deg=3.0)
LONGEST_TOLD_M = 250.0
"""The longest carry that a bag holds."""


class ToldCarry(NamedTuple):
    """A carry told from memory."""

    club: str
    swing: str
    carry_m: float
    sand: bool = False
    """Splashed out of a bunker."""


class Answers(Frozen):
    """What has been answered so far; None where nothing was asked yet."""

    distances_in: Unit | None = None
    name: str | None = None
    handicap: float | None = None
    handed: Handed | None = None
    clubs: tuple[Club, ...] | None = None
    carries: tuple[ToldCarry, ...] | None = None
    """Carries that the player knows."""
    misses: tuple[Miss, ...] | None = None
    trusted: tuple[Family, ...] | None = None


class BagQuestion(Frozen):
    """One question of the conversation."""

    about: str
    """The field of :class:`Answers` it fills."""
    text: str
    usual: str
    """What an empty answer stands for."""


BAG_QUESTIONS = (
    BagQuestion(about="distances_in", text="Do you think in yards or metres?", usual="yards"),
    BagQuestion(about="name", text="What shall I call you?", usual="player"),
    BagQuestion(about="handicap", text="Your handicap? (a plus handicap as +2)", usual="18"),
    BagQuestion(about="handed", text="Do you play right- or left-handed?", usual="right"),
    BagQuestion(
        about="clubs",
        text="Which wedges and irons do you use inside 100 yards? Lofts for wedges, numbers for irons.",
        usual="60 56 52 46 9i 8i 7i",
    ),
    BagQuestion(
        about="carries",
        text="Which carries do you know? For example: 56 half 65, PW full 115, bunker 56 full 22. A few are enough.",
        usual="none",
    ),
    BagQuestion(
        about="misses",
        text=f"Your usual misses? Of {', '.join(miss.value for miss in Miss)}.",
        usual="none",
    ),
    BagQuestion(
        about="trusted",
        text="Which shots do you trust? Of putt, chip, bump and run, pitch, lob, splash.",
        usual="chip, pitch",
    ),
)


def next_question(answers: Answers) -> BagQuestion | None:
    """The next thing to ask, or None when there is enough for a bag."""
    return next((each for each in BAG_QUESTIONS if getattr(answers, each.about) is None), None)


def bag_from(answers: Answers) -> Bag:
    """The bag that the answers describe, every cell filled: told ones as told, the others estimated.

    Raises:
        CaddieError: if two told carries contradict each other.
    """
    told = {name: value for name, value in dict(answers).items() if value is not None}
    answers = USUAL.model_copy(update=told)
    player = Player(
        name=answers.name or "player",
        handicap=18.0 if answers.handicap is None else answers.handicap,
        handed=answers.handed or Handed.RIGHT,
        distances_in=answers.distances_in or Unit.YARDS,
        usual_misses=answers.misses or (),
    )
    clubs = tuple(club.with_cells(_told_cells(answers, club, player, False)) for club in answers.clubs or ())
    trust = dict.fromkeys(answers.trusted or (), TRUSTED)
    try:
        bag = Bag(player=player, clubs=(*clubs, PUTTER), trust=trust)
        bag = with_fit(bag, estimate_carries(bag), estimates="all")
        # A splash is known beside carries from grass, told or estimated.
        splashing = tuple(
            club.with_cells(_told_cells(answers, club, player, True), sand=True) for club in bag.clubs
        )
        return Bag.model_validate({**dict(bag), "clubs": splashing})
    except ValueError as error:
        message = str(error).splitlines()[-2].strip() if "\n" in str(error) else str(error)
        raise CaddieError(f"the carries contradict each other: {_reason(message)}") from None


def _told_cells(answers: Answers, club: Club, player: Player, sand: bool) -> tuple[Carry, ...]:
    order = {swing.name: swing.share for swing in STANDARD_SWINGS}
    mine = [each for each in answers.carries or () if (each.club, each.sand) == (club.id, sand)]
    told = {each.swing: each.carry_m for each in mine}
    return tuple(
        _told_cell(swing, told[swing], player, sand) for swing in sorted(told, key=lambda swing: order[swing])
    )


def _told_cell(swing: str, carry_m: float, player: Player, sand: bool) -> Carry:
    sd_m = (SAND_SPREAD if sand else 1.0) * float(expected_spread_m(carry_m, player.handicap)[0])
    return Carry(swing=swing, carry_m=carry_m, sd_m=_tenth(sd_m, player.distances_in), shots=TOLD_SHOTS)


def _tenth(length_m: float, unit: Unit) -> float:
    return to_metres(round(from_metres(length_m, unit), 1), unit)


def _reason(message: str) -> str:
    return re.sub(r"^Value error, | \[type=.*$", "", message)


def handicap_of(handicap: float | None, said: str) -> float:
    """The handicap, if there can be one like it.

    Raises:
        CaddieError: if not, with what may be said.
    """
    if handicap is None:
        raise CaddieError(f"{said!r}: say a number, for example 14, 0 or +2")
    if not -8 <= handicap <= 54:
        raise CaddieError(f"handicap {said}: say a number from +8 to 54")
    return handicap


def clubs_of(words: Iterable[str]) -> tuple[Club, ...]:
    """The clubs of such words as :func:`usual_club` takes, the most lofted first.

    Raises:
        CaddieError: if there is none, or a word names none.
    """
    clubs = {club.id: club for club in map(usual_club, words)}
    if not clubs:
        raise CaddieError("say at least one club, for example: 56 52 46 9i")
    return told_apart(sorted(clubs.values(), key=lambda club: -club.loft_deg))


def told_apart(clubs: Sequence[Club]) -> tuple[Club, ...]:
    """The clubs, those of one name named by their lofts."""
    names = [club.name for club in clubs]
    return tuple(
        club.model_copy(update={"name": f"{club.loft_deg:g} degree wedge"})
        if names.count(club.name) > 1
        else club
        for club in clubs
    )


def usual_club(word: str) -> Club:
    """The club of a word such as ``"56"``, ``"pw"`` or ``"9i"``, with its loft or the usual one.

    Raises:
        CaddieError: if it is none of these, with what may be said.
    """
    if word in USUAL_LOFT:
        loft = USUAL_LOFT[word]
        return Club(id=word.upper(), name=_wedge_name(loft), kind=ClubKind.WEDGE, loft_deg=loft)
    if (iron := re.fullmatch(r"([4-9])i|i([4-9])|([4-9])", word)) is not None:
        number = int(iron[1] or iron[2] or iron[3])
        return Club(
            id=f"{number}i",
            name=f"{_SPOKEN[number]} iron",
            kind=ClubKind.IRON,
            loft_deg=_IRON_LOFT[number],
            said=(_SPOKEN[number], f"{number} iron", f"{number}"),
        )
    if re.fullmatch(r"\d\d(?:\.\d)?", word) and 43 <= float(word) <= 72:
        return Club(id=word, name=_wedge_name(float(word)), kind=ClubKind.WEDGE, loft_deg=float(word))
    raise CaddieError(
        f"{word!r}: say a wedge by its loft from 43 to 72 (56), PW, GW, SW, LW, or an iron (9i)"
    )


def _wedge_name(loft_deg: float) -> str:
    if loft_deg >= 58:
        return "lob wedge"
    if loft_deg >= 54:
        return "sand wedge"
    return "gap wedge" if loft_deg >= 49 else "pitching wedge"


def carries_of(told: Sequence[CarryAsSaid], answers: Answers) -> tuple[ToldCarry, ...]:
    """The carries told, each of a club that was answered and a usual swing; the full one's when none was named.

    Raises:
        CaddieError: if a part is missing, strange, or the carries of a club do not rise with the swing.
    """
    bag = Bag(clubs=answers.clubs or (PUTTER,))
    unit = answers.distances_in or Unit.YARDS
    kept = []
    for each in told:
        if each.club is None or each.carry_m is None:
            raise CaddieError(f"{each.said!r}: say club, swing and carry, for example 56 half 65")
        if not 0 < each.carry_m <= LONGEST_TOLD_M:
            far = f"{from_metres(each.carry_m, unit):g} {unit.value}"
            raise CaddieError(f"{each.said!r}: a carry of {far} is out of reach; say it again")
        club, swing = club_named(bag, each.club), swing_named(bag, each.swing or "full")
        if club is None or swing is None:
            clubs = ", ".join(one.id for one in bag.clubs)
            swings = ", ".join(one.name for one in bag.swings)
            raise CaddieError(f"{each.said!r}: say one of {clubs}, then one of {swings}, then the carry")
        kept.append(ToldCarry(club.id, swing.name, each.carry_m, each.sand))
    _check_rising(kept, {swing.name: swing.share for swing in bag.swings})
    return tuple(kept)


def _check_rising(told: list[ToldCarry], share: Mapping[str, float]) -> None:
    for one in told:
        for other in told:
            same = (one.club, one.sand) == (other.club, other.sand)
            if same and share[other.swing] > share[one.swing] and other.carry_m <= one.carry_m:
                raise CaddieError(
                    f"{one.club}: {other.swing} must carry farther than {one.swing}; say the carries again"
                )


USUAL = Answers(
    distances_in=Unit.YARDS,
    name="player",
    handicap=18.0,
    handed=Handed.RIGHT,
    clubs=clubs_of(("60", "56", "52", "46", "9i", "8i", "7i")),
    carries=(),
    misses=(),
    trusted=(Family.CHIP, Family.PITCH),
)
"""What is taken where nothing is answered."""
