"""While a shot is talked about a number is how far the flag is only where it is said so; else it is what it is.

A club of the bag by its loft is one, an age is one, a number beside a wind is how hard it blows. What is left changes
the shot where it is said of the flag, is near what was told, or comes with a lie, trouble or a length of its own.
"""

from collections.abc import Sequence
from functools import partial

from caddie.bag import Bag, Player
from caddie.situation import Fall, Lie, Situation, Wind
from caddie.talk.as_said import club_asked
from caddie.talk.asked import in_play
from caddie.talk.clubs_by_number import clubs_by_number
from caddie.talk.lasts import is_same_length
from caddie.talk.new_shot import SAME_SHOT_RATIO
from caddie.talk.state import Known
from caddie.units import MPH_M_S, SMALL_UNITS, Unit, from_metres, to_metres
from caddie.words import Intent, Understanding, understand
from caddie.words.echoes import Figure, figures_in
from caddie.words.gist import with_asks
from caddie.words.golf_talk import doubts_a_line, gives_a_line, unit_said
from caddie.words.green import HEIGHTS_M, NEAR_M
from caddie.words.log_corrections import says_it_was_said
from caddie.words.numbers import is_number
from caddie.words.numbers_in_play import (
    ages_said_so,
    carries_said_so,
    denials_said_so,
    is_to_fly,
    names_the_green,
    numbers_that_stay,
    says_how_far,
    says_so_plainly,
    speaks_of_before,
    speed_named,
)
from caddie.words.rises import slope_of
from caddie.words.sayings import begins, compared
from caddie.words.told_as_made import is_wish
from caddie.words.turns import PUTS_RIGHT
from caddie.words.wind_numbers import LIKELY_MPH

DOUBTED_LINE = "doubt_line"
_SMALL = tuple(unit.value for unit in SMALL_UNITS)
_LENGTHS = {unit.value: unit for unit in Unit}
_TOLD = (Intent.SITUATION, Intent.PUTT)
_MOVES_ON = (Intent.RESULT, Intent.NEXT_HOLE, Intent.UNDO)
"""Of what is told after these another shot may be talked about."""


def said_as_meant(text: str, known: Known, bag: Bag) -> str:
    """The words with each number said as what it is, where they tell that it is no length."""
    if in_play(known) is None:
        return clubs_by_number(text, known, bag)
    text = carries_said_so(text, bag.player.distances_in.value.removesuffix("s"))
    return clubs_by_number(ages_said_so(text, partial(_may_be_far, text, known, bag.player)), known, bag)


def denied_as_meant(text: str, known: Known) -> str:
    """The words with "six feet, no three" as "not three", where the one or the other is what stood."""
    lengths_m = [known.situation.pin_m, *(each.result.distance_m for each in known.told[:1])]
    replied = {each.value for each in figures_in(known.replied.partition("\n")[0])}

    def stands(number: float) -> bool:
        return number in replied or any(
            is_same_length(length_m, to_metres(number, unit))
            for length_m in lengths_m
            if length_m
            for unit in Unit
        )

    return denials_said_so(text, stands, puts_right=begins(text, PUTS_RIGHT) or says_it_was_said(text))


def _may_be_far(text: str, known: Known, player: Player, number: float) -> bool:
    """Whether a number might be how far it is: near what was told, or with other facts of a shot."""
    far_m = to_metres(number, player.distances_in, player.pace_m)
    told = understand(text, unit=player.distances_in, pace_m=player.pace_m).situation
    return _is_near(far_m, known) or not _is_alone(told)


def of_the_flag(parts: tuple[Understanding, ...], known: Known, bag: Bag) -> tuple[Understanding, ...]:
    """The things said in a turn, with a length taken for the flag's only where it may be."""
    if in_play(known) is None:
        return parts
    meant: list[Understanding] = []
    for at, part in enumerate(parts):
        if part.intent in _MOVES_ON:
            return (*meant, *parts[at:])
        meant.append(_as_meant(part, known, bag))
    asked = [part for part, was in zip(meant, parts, strict=True) if part is was or part.asks]
    return tuple(asked) if asked else tuple(meant)


def _as_meant(heard: Understanding, known: Known, bag: Bag) -> Understanding:
    """One thing said, with its number taken for what it may be."""
    if _is_how_it_was(heard, known):
        return with_asks(Understanding(heard=heard.heard, intent=Intent.OUT_OF_SCOPE))
    heard = _without_what_is_said_back(_of_a_near_green(heard, known, bag.player), known)
    now = heard.situation
    if heard.intent is Intent.CORRECT and now.pin_m is not None and _is_of_the_reply(heard, known, bag):
        return _without_its_length(heard, now)
    if _is_to_fly_so_far(heard, known):
        tried = {"intent": Intent.WHAT_IF, "situation": Situation(), "corrected": (), "pin_range_m": None}
        return heard.model_copy(update=tried)
    if heard.intent not in _TOLD or now.pin_m is None:
        return heard
    given = gives_a_line(heard.heard) and _is_short_of(now.pin_m, known) and now.green.borrow is None
    if given and known.situation.lie is not Lie.GREEN:
        return _without_its_length(heard, now)
    if known.situation.lie is Lie.GREEN and (doubts_a_line(heard.heard) or given):
        return Understanding(heard=heard.heard, intent=Intent.OUT_OF_SCOPE, asks=(DOUBTED_LINE,))
    if _is_of_the_reply(heard, known, bag) or is_wish(heard.heard):
        return _without_its_length(heard, now)
    if not _is_bare(heard.heard) or club_asked(heard, bag, known) is not heard:
        return heard
    number = from_metres(now.pin_m, bag.player.distances_in, bag.player.pace_m)
    if _is_of_the_wind(heard, known, number):
        wind = now.wind.model_copy(update={"speed_m_s": number * MPH_M_S})
        return _without_its_length(heard, now.model_copy(update={"wind": wind}))
    if speed_named(heard.heard) == number:
        green = now.green.model_copy(update={"stimp_ft": number})
        return _without_its_length(heard, now.model_copy(update={"green": green}))
    if not _is_alone(now) or _is_near(now.pin_m, known) or says_how_far(heard.heard):
        return heard
    stray = Understanding(heard=heard.heard, intent=Intent.OUT_OF_SCOPE)
    return with_asks(stray)


def _is_how_it_was(heard: Understanding, known: Known) -> bool:
    """ "First I had to land it from thirty-five as well": a distance put right since is spoken of, and not told."""
    told_m, pin_m = heard.situation.pin_m, known.situation.pin_m
    if heard.intent not in (*_TOLD, Intent.CORRECT) or told_m is None or pin_m is None:
        return False
    put_right = not is_same_length(told_m, pin_m) and any(
        is_same_length(told_m, far_m) for far_m in known.pins_m
    )
    return put_right and speaks_of_before(heard.heard) and not begins(heard.heard, PUTS_RIGHT)


def as_it_stays(text: str, known: Known, past: Sequence[Known], bag: Bag) -> Known:
    """What is known, or what was known of this shot before its distance changed to another than it "still" is."""
    pin_m, player = known.situation.pin_m, bag.player
    stays_m = [to_metres(number, player.distances_in, player.pace_m) for number in numbers_that_stay(text)]
    if in_play(known) is None or not stays_m or pin_m is None:
        return known
    if any(is_same_length(pin_m, far_m) for far_m in stays_m):
        return known
    for before in list(past)[-1 : -1 - _TURNS_BACK : -1]:
        was_m = before.situation.pin_m
        if in_play(before) is None or before.told != known.told or was_m is None:
            break
        if any(is_same_length(was_m, far_m) for far_m in stays_m):
            return before.changed(replied=known.replied, day=known.day, pins_m=known.pins_m)
    return known


_TURNS_BACK = 3


def _is_to_fly_so_far(heard: Understanding, known: Known) -> bool:
    """ "Fly a wedge sixty-eight and go past": how far the ball is to fly, unless just that is how far the flag is."""
    told_m, pin_m = heard.situation.pin_m, known.situation.pin_m
    return (
        None not in (told_m, pin_m)
        and is_to_fly(heard.heard)
        and not is_same_length(told_m or 0.0, pin_m or 0.0)
    )


def _of_a_near_green(heard: Understanding, known: Known, player: Player) -> Understanding:
    """ "Downhill", with a chip in play: which way the green falls, as it is read beside how far the flag is."""
    now, pin_m = heard.situation, known.situation.pin_m
    if not now.elevation_m or now.pin_m is not None or pin_m is None or pin_m > NEAR_M:
        return heard
    if known.situation.lie is Lie.GREEN and now.lie is None:
        return _rising(heard, now.elevation_m, pin_m)
    by_a_word = abs(now.elevation_m) in HEIGHTS_M.values()
    if known.situation.elevation_m is not None or known.situation.lie is Lie.GREEN or not by_a_word:
        return heard
    far = from_metres(pin_m, Unit.YARDS, player.pace_m)
    near = understand(f"{far:.0f} yards, {heard.heard}", pace_m=player.pace_m).situation
    if near.elevation_m is not None or near.green.fall is None:
        return heard
    fall = {"fall": near.green.fall, "fall_slope": near.green.fall_slope}
    green = now.green.model_copy(update=fall)
    return heard.model_copy(
        update={"situation": now.model_copy(update={"elevation_m": None, "green": green})}
    )


def _rising(heard: Understanding, rise_m: float, far_m: float) -> Understanding:
    """ "It climbs a foot", with a putt in play: how steep it is; a word for it alone tells no amount."""
    now = heard.situation
    told = abs(rise_m) not in HEIGHTS_M.values()
    fall = {
        "fall": Fall.TOWARD if rise_m > 0 else Fall.AWAY,
        "fall_slope": slope_of(rise_m, far_m) if told else now.green.fall_slope,
    }
    flat = now.model_copy(update={"elevation_m": None, "green": now.green.model_copy(update=fall)})
    return heard.model_copy(update={"situation": flat})


def _without_what_is_said_back(heard: Understanding, known: Known) -> Understanding:
    """ "Downhill and running seven" of a ball that runs seven paces: a figure of the reply is of no other kind."""
    now = heard.situation
    if heard.intent not in (*_TOLD, Intent.CORRECT):
        return heard
    told = {"stimp_ft": now.green.stimp_ft, "front_m": now.front_m, "elevation_m": now.elevation_m}
    replied = [each for each in figures_in(known.replied.partition("\n")[0]) if each.unit in _LENGTHS]
    figures = [each for each in figures_in(heard.heard) if any(each.is_of(other) for other in replied)]
    back = {name for name, value in told.items() if value is not None and _is_one_of(value, figures)}
    if "stimp_ft" in back and names_the_green(heard.heard):
        back.remove("stimp_ft")
    if not back or any(says_so_plainly(heard.heard, figure.value) for figure in figures):
        return heard
    update: dict[str, object] = dict.fromkeys(back - {"stimp_ft"})
    if "stimp_ft" in back:
        update["green"] = now.green.model_copy(update={"stimp_ft": None})
    left = now.model_copy(update=update)
    if left == Situation():
        return with_asks(Understanding(heard=heard.heard, intent=Intent.OUT_OF_SCOPE))
    return heard.model_copy(update={"situation": left})


def _is_one_of(value: float, figures: list[Figure]) -> bool:
    """Whether a number was said as one of these figures, in feet, in metres or in what the figure is counted in."""
    return any(
        is_same_length(abs(value), each.value)
        or (each.unit in _LENGTHS and is_same_length(abs(value), to_metres(each.value, _LENGTHS[each.unit])))
        for each in figures
    )


def _is_of_the_reply(heard: Understanding, known: Known, bag: Bag) -> bool:
    """ "Why roll it as a nine-footer?": whether the length is one that the last reply said of the shot."""
    told_m, pin_m = heard.situation.pin_m, known.situation.pin_m
    if told_m is None or pin_m is None or is_same_length(told_m, pin_m):
        return False
    lofts = {club.loft_deg for club in bag.clubs}
    replied = figures_in(known.replied.partition("\n")[0])
    # "Runs two" is counted as what stands before it, "down in two" is no feet, and "fifty-six" is a club.
    spoken = [each for each in replied if each.unit is not None or each.value not in lofts]
    counted = [each for each in spoken if each.unit is not None]
    said = (
        figure
        for figure in figures_in(heard.heard)
        if any(figure.is_of(each) for each in (counted if figure.unit in _SMALL else spoken))
    )
    return any(
        figure.unit in _LENGTHS
        and is_same_length(to_metres(figure.value, _LENGTHS[figure.unit]), told_m)
        and not says_so_plainly(heard.heard, figure.value)
        for figure in said
    )


def _without_its_length(heard: Understanding, now: Situation) -> Understanding:
    told = now.model_copy(update={"pin_m": None})
    if told.model_copy(update={"lie": None}) == Situation():
        return with_asks(Understanding(heard=heard.heard, intent=Intent.OUT_OF_SCOPE))
    read = {"situation": told, "pin_range_m": None, "sounds_like_m": None}
    return heard.model_copy(update=read)


def _is_of_the_wind(heard: Understanding, known: Known, number: float) -> bool:
    """ "Into the wind, fifteen": a wind and a number that one may blow at; said first it may be how far it is."""
    now = heard.situation
    assert now.pin_m is not None
    blows = now.wind.from_ is not None and now.wind.speed_m_s is None
    if not blows or now.model_copy(update={"wind": Wind(), "pin_m": None}) != Situation():
        return False
    first = is_number(compared(heard.heard)[0])
    return 0 < number <= LIKELY_MPH and not (first and _is_near(now.pin_m, known))


def _is_short_of(far_m: float, known: Known) -> bool:
    """ "My mate gives it two feet": far too short to be how far the flag of the shot in play is."""
    pin_m = known.situation.pin_m
    return pin_m is not None and far_m < GIVEN_A_LINE * pin_m


GIVEN_A_LINE = 0.34
"""A length that a putt is given is at most this share of it."""


def _is_bare(text: str) -> bool:
    """Whether the number is counted in nothing, and there is more said than that number."""
    words = compared(text)
    return unit_said(text) is None and not all(map(is_number, words))


def _is_near(far_m: float, known: Known) -> bool:
    """Whether a length is much like that of the shot talked about, or was told of it."""
    pin_m = known.situation.pin_m
    if pin_m is None or any(is_same_length(far_m, told_m) for told_m in known.pins_m):
        return True
    return 1 / SAME_SHOT_RATIO <= far_m / pin_m <= SAME_SHOT_RATIO


def _is_alone(now: Situation) -> bool:
    """Whether nothing is told with a length, if not the green that "putt" puts it on."""
    lie = None if now.lie is Lie.GREEN else now.lie
    return now.model_copy(update={"pin_m": None, "lie": lie}) == Situation()
