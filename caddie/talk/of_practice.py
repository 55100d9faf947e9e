"""Asked at practice: which club to begin with, and how many from a length ought to go in or be got up and down.

No shot is told by either: "how many six footers should I hole?" puts no ball on a green.
"""

from dataclasses import replace

from caddie.plan.choose import advise
from caddie.plan.ends import ends_of
from caddie.reply.phrases import club_called, times_in_ten
from caddie.reply.spoken import sentences
from caddie.situation import FARTHEST_M, Lie, Situation
from caddie.talk import lines, when
from caddie.talk.digits import FARTHEST_PUTT_M
from caddie.talk.lore import asks_for
from caddie.talk.several_balls import several_told
from caddie.talk.state import ASKED_OF_THE_SHOT, Desk, Known, Said
from caddie.talk.to_practise import kind_named
from caddie.talk.today import progress
from caddie.units import SMALL_UNITS, Unit, spoken_length, to_metres
from caddie.words import Intent, Understanding, understand
from caddie.words.echoes import figures_in
from caddie.words.sayings import compared
from caddie.words.talk_files import lore_data

THREE_PUTTED = 0.05
"""A share of three putts that is told with how many are holed."""
_CLUB_ASKED, _HOLED_ASKED = "practice_club_asked", "holed_asked"


def asked_of_practice(desk: Desk, known: Known, text: str) -> Said | None:
    """The answer to such a question, or None."""
    return club_to_practise(desk, known, text) or holed_of_ten(desk, known, text)


def club_to_practise(desk: Desk, known: Known, text: str) -> Said | None:
    """The club to begin a practice with, and how; None with a shot in play or told, and where no practice is named."""
    if when.in_play(known, text) or not asks_for(text, _CLUB_ASKED):
        return None
    told, words = several_told(known, text), compared(text)
    practises = told.day.several or not set(lore_data()["of_practice"]).isdisjoint(words)
    if not practises or figures_in(text) or understand(text).situation.pin_m is not None:
        return None
    kind = kind_named(words) or ("chip" if told.day.chips else "")
    advised = lore_data()["practice_club"].get(kind)
    if advised is None:
        return None
    bag = desk.on(known.day).bag
    clubs = [each for each in bag.clubs if each.carries]
    if not clubs:
        return None
    club = min(clubs, key=lambda each: abs(each.loft_deg - advised["loft_deg"]))
    spoken = sentences([advised["say"].format(club=club_called(club))])
    return Said(told.changed(spoken=spoken, question=None), spoken, intent=ASKED_OF_THE_SHOT)


def holed_of_ten(desk: Desk, known: Known, text: str) -> Said | None:
    """How often a putt of a length goes in, or a shot is got up and down; None where no length is asked about."""
    bag = desk.on(known.day).bag
    units = {unit.value: unit for unit in Unit}
    figures = [each for each in figures_in(text) if each.unit in units]
    if not figures or not asks_for(text, _HOLED_ASKED):
        return None
    if not set(lore_data()["holed_so_far"]).isdisjoint(compared(text)):
        told = Understanding(heard=text, intent=Intent.OUT_OF_SCOPE)
        return replace(progress(desk, known, told), intent=ASKED_OF_THE_SHOT)
    unit, pace_m = units[str(figures[0].unit)], bag.player.pace_m
    far_m = to_metres(figures[0].value, unit, pace_m)
    kind = kind_named(compared(text))
    lie = lore_data()["played_from"].get(kind) or ("green" if unit in SMALL_UNITS else "fairway")
    there = Situation(pin_m=far_m, lie=Lie(lie))
    if not 0 < far_m <= (FARTHEST_PUTT_M if there.lie is Lie.GREEN else FARTHEST_M):
        return None
    plan = advise(there, bag, seed=desk.seed)
    option = plan.chosen
    putt, ends = option.make is not None, ends_of(plan, option, bag)
    share = option.make if option.make is not None else ends.down_in_two(bag) if ends else None
    if share is None:
        return None
    line = lines.HOLED_OF_TEN if putt else lines.IN_TWO_OF_TEN
    three = lines.THREE_OF_TEN.format(often=times_in_ten(option.three_putt or 0.0))
    said = line.format(far=spoken_length(far_m, unit, pace_m), often=times_in_ten(share))
    spoken = sentences([said, three if (option.three_putt or 0.0) >= THREE_PUTTED else ""])
    return Said(known.changed(spoken=spoken), spoken, intent=ASKED_OF_THE_SHOT)
