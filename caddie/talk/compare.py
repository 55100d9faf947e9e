"""What if: another club, swing, kind of shot or circumstance against the shot advised, in numbers."""

from contextlib import suppress
from dataclasses import replace

from caddie.bag import Bag, Family, Player
from caddie.ball.launch import Flight
from caddie.errors import CaddieError
from caddie.plan.assume import question_for
from caddie.plan.candidates import ANY, Only
from caddie.plan.choose import advise
from caddie.reply.phrases import (
    said,
)
from caddie.reply.spoken import sentences, shortest
from caddie.situation import Green, Lie, Situation, Wind
from caddie.talk import lines
from caddie.talk.asked import chances, in_play, same_club, says_of
from caddie.talk.comparison import compared_with, told
from caddie.talk.laid_over import merged
from caddie.talk.planning import planned, taken_in
from caddie.talk.question import framed, part_of
from caddie.talk.state import Desk, Handler, Known, Question, Said, no_shot
from caddie.talk.wish import asked_for, is_chosen, still_refused
from caddie.words import Intent, Understanding, understand
from caddie.words.echoes import asks_a_chance
from caddie.words.numbers import is_number
from caddie.words.sayings import bare, begins, compared, plain, says_in_part

IF_WIND = "if_wind"
"""Field of the question where a supposed wind comes from."""
_SOURCE_WORDS = 3
RISES_BY = 1.5
"""A wind that "gets up" blows so many times as hard (common practice, no source)."""
LIGHT_M_S = 3.0
"""A wind of no told speed."""


def what_if(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Compare the shot asked about with the one advised; with none advised yet, advise on it.

    "Let's go with the gap wedge" is no question: the shot is planned with that club.

    Raises:
        CaddieError: when the bag has no such club, or it cannot play that shot from here.
    """
    heard = _with_source(heard, desk.bag.player)
    if asks_wind(known, heard):
        return wind_from_where(desk, known, heard)
    if known.plan is None or known.played:
        if question_for(merged(known.situation, heard.situation)) is None and not known.played:
            return planned(desk, taken_in(known, heard), heard)
        return no_shot(known)
    only = _of_the_club_in_hand(asked_for(heard), known)
    if only != ANY and is_chosen(heard.heard):
        only = still_refused(only, known.only, desk.bag)
        return planned(desk, known.changed(only=only, question=None), heard)
    there = heard.situation
    if there == Situation(lie=Lie.GREEN) and only != ANY:
        # "My mate says putt it", "the sand wedge, and get it on the green": no ball is on the green.
        there = Situation()
    situation = merged(known.situation, there, heard.corrected)
    supposed = situation != known.situation
    if only == ANY and not supposed:
        return another(desk, known)
    if only == ANY:
        only = known.only
    if known.plan.chosen.make is not None and not supposed and asks_a_chance(heard.heard):
        # "I am a fifty percent putter?" asks for no club.
        return chances(desk, known, heard)
    if situation.lie is Lie.GREEN and not supposed and not only.is_putting(desk.bag):
        return Said(known, lines.ON_THE_GREEN)
    try:
        other = advise(situation, desk.bag, seed=desk.seed, only=only)
    except CaddieError as error:
        if supposed and asked_for(heard) != ANY:
            # "If I chunk it into the bunker? And can I flop it?": the shot asked about is played from here.
            return what_if(desk, known, heard.model_copy(update={"situation": Situation(), "corrected": ()}))
        return _instead(desk, known, only, str(error))
    option = other.chosen
    mine = known.plan.chosen
    same_club_alone = only == Only(club=only.club) and option.club == mine.club
    if not supposed and (same_club_alone or only == Only(family=mine.family)):
        option = mine
    may_i = not supposed and begins(heard.heard, "may_i_lead")
    asks_why, there = says_of("why", heard.heard), other.situation
    compared = told(option, known.plan, desk, supposed=supposed, there=there, may_i=may_i, asks_why=asks_why)
    return replace(compared_with(known, compared, situation if supposed else None), settles=not supposed)


def _of_the_club_in_hand(only: Only, known: Known) -> Only:
    """ "What if I hit it full, or open it?": a swing or a face alone is one with the club talked about."""
    swung = Only(swing=only.swing, longest=only.longest, face=only.face)
    if swung == ANY or only != swung or known.plan is None:
        return only
    shot = known.other or known.plan.chosen
    return only if shot.family is Family.PUTT else swung.model_copy(update={"club": shot.club})


def _instead(desk: Desk, known: Known, only: Only, reason: str) -> Said:
    """Why a shot cannot be played, and one that can: for the putter one along the ground, else the next best."""
    assert known.plan is not None
    offered, first = another(desk, known), _measured(only, desk.bag) or reason.partition(":")[0]
    likest = _likest(only, desk.bag)
    if likest is not None:
        with suppress(CaddieError):
            there = advise(known.situation, desk.bag, seed=desk.seed, only=likest)
            compared = told(there.chosen, known.plan, desk, supposed=False, there=there.situation)
            offered = compared_with(known, compared)
            first = lines.ITS_OWN_HEIGHT if likest.club else first
    spoken = shortest([[first, offered.spoken], [first, offered.known.short], [first]])
    return replace(
        offered, spoken=spoken, written=f"{sentences([reason])}\n{offered.written or offered.spoken}"
    )


def _likest(only: Only, bag: Bag) -> Only | None:
    """What comes nearest to a shot that does not go: a runner for a putt, the club at its own height for a high one."""
    if only.is_putting(bag):
        return Only(family=Family.BUMP_AND_RUN)
    return only.model_copy(update={"flight": None}) if only.club and only.flight is Flight.HIGH else None


def _measured(only: Only, bag: Bag) -> str:
    """What the club and swing asked about carry, when they were measured."""
    club = bag.club_called(only.club) if only.club else None
    cell = next((each for each in (club.carries if club else ()) if each.swing == only.swing), None)
    if club is None or cell is None:
        return ""
    swing = "full swing" if cell.swing == "full" else f"hands to the {cell.swing}"
    return f"the {club.name}, {swing}, carries {said(cell.carry_m, bag)}: that does not fit from here"


def asks_wind(known: Known, heard: Understanding) -> bool:
    """Whether a wind is supposed that comes from nobody knows where."""
    wind = heard.situation.wind
    return (
        bool(wind.speed_m_s)
        and wind.from_ is None
        and known.situation.wind.from_ is None
        and (IF_WIND not in known.asked and known.plan is not None and not known.played)
    )


def _with_source(heard: Understanding, player: Player) -> Understanding:
    """A supposed wind with the side it is said to come from: "gets up against me"."""
    if not heard.situation.wind.speed_m_s or heard.situation.wind.from_ is not None:
        return heard
    words = plain(heard.heard).split()
    for count in range(_SOURCE_WORDS, 0, -1):
        found = framed(" ".join(words[-count:]), "wind", player)
        if found is not None and found.wind.from_ is not None:
            wind = heard.situation.wind.model_copy(update={"from_": found.wind.from_})
            return heard.model_copy(update={"situation": heard.situation.model_copy(update={"wind": wind})})
    return heard


def still_the_club(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Would you still go with the fifty-two?": whether it is the one now, or how it compares with that."""
    if not names_another(desk, known, heard):
        return same_club(desk, known, heard)
    return with_the_club(desk, known, heard)


def names_another(desk: Desk, known: Known, heard: Understanding) -> bool:
    """Whether a club of the bag is named that is not the one in play."""
    plan, club = in_play(known), desk.bag.club_called(heard.club or "")
    return plan is not None and club is not None and club.id != plan.chosen.club


def with_the_club(desk: Desk, known: Known, heard: Understanding) -> Said:
    """The club that is named beside the one advised, whatever was asked of it."""
    read = {"intent": Intent.WHAT_IF, "asks": (), "situation": Situation()}
    return what_if(desk, known, heard.model_copy(update=read))


def wind_from_where(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Ask once where the supposed wind comes from; a wind that is known is compared with none."""
    if heard.situation.wind.speed_m_s == 0.0 and known.situation.wind.from_ is None:
        return what_if(desk, known, heard.model_copy(update={"intent": Intent.WHAT_IF, "asks": ()}))
    if known.situation.wind.from_ is not None and known.plan is not None:
        rising = _rising(known, heard, desk.bag.player)
        if rising is not None:
            what = heard.model_copy(update={"intent": Intent.WHAT_IF, "situation": Situation(wind=rising)})
            return what_if(desk, known, what)
        calm = known.situation.model_copy(update={"wind": Wind(speed_m_s=0.0)})
        other = advise(calm, desk.bag, seed=desk.seed, only=known.only)
        compared = told(other.chosen, known.plan, desk, supposed=True, there=other.situation)
        said = compared_with(known, compared, calm)
        return replace(said, spoken=shortest([[lines.WITHOUT_WIND, said.spoken], [said.spoken]]))
    light = Situation(wind=Wind(speed_m_s=LIGHT_M_S))
    sourced = _with_source(heard.model_copy(update={"situation": light}), desk.bag.player)
    if sourced.situation.wind.from_ is not None and known.plan is not None and not known.played:
        return what_if(desk, known, sourced.model_copy(update={"intent": Intent.WHAT_IF, "asks": ()}))
    question = Question(IF_WIND, lines.WIND_FROM)
    after = known.changed(question=question, asked=(*known.asked, IF_WIND), spoken=question.text)
    return Said(after, question.text)


def _rising(known: Known, heard: Understanding, player: Player) -> Wind | None:
    """The known wind as strong as it is supposed to blow: "what if it gusts to fifteen"; None when it is not."""
    words = compared(heard.heard)
    number = next((word for word in words if is_number(word) and word != "one"), None)
    wind = known.situation.wind
    if number is not None:
        told = understand(f"{number} mile an hour wind", unit=player.distances_in, pace_m=player.pace_m)
        speed_m_s = told.situation.wind.speed_m_s
        return wind.model_copy(update={"speed_m_s": speed_m_s}) if speed_m_s else None
    if not says_in_part(heard.heard, "wind_rises"):
        return None
    return wind.model_copy(update={"speed_m_s": RISES_BY * (wind.speed_m_s or LIGHT_M_S)})


def supposed_wind(desk: Desk, known: Known, heard: Understanding) -> Said | None:
    """The answer to where a supposed wind comes from, as a what-if; None when it is none."""
    if known.question is None or known.question.field != IF_WIND:
        return None
    found = part_of(heard.situation, "wind") or framed(bare(heard.heard), "wind", desk.bag.player)
    if found is None or found.wind.from_ is None:
        return None
    what = heard.model_copy(update={"intent": Intent.WHAT_IF, "situation": found, "corrected": ()})
    return what_if(desk, known.changed(question=None), what)


CHANGED_BY_FT = 2.0
"""A green "slower" or "quicker" than thought is so much so on the stimpmeter (common practice, no source)."""


def green_speed(by_ft: float) -> Handler:
    """A turn that supposes the green quicker by ``by_ft`` than it is taken for."""

    def suppose(desk: Desk, known: Known, heard: Understanding) -> Said:
        assert known.plan is not None and known.plan.situation.green.stimp_ft is not None
        stimp_ft = max(known.plan.situation.green.stimp_ft + by_ft, LEAST_STIMP_FT)
        supposed = Situation(green=Green(stimp_ft=stimp_ft))
        update = {"intent": Intent.WHAT_IF, "situation": supposed, "asks": (), "club": None}
        return what_if(desk, known, heard.model_copy(update=update))

    return suppose


LEAST_STIMP_FT = 5.0


def another(desk: Desk, known: Known, heard: Understanding | None = None) -> Said:
    """The next best shot with another club, or with another swing when there is none."""
    if known.plan is None or known.played:
        return no_shot(known)
    taken = {option.club for option in (known.plan.chosen, known.other) if option}
    rest = [option for option in known.plan.options if option.club not in taken]
    if not rest:
        return Said(known, lines.NO_OTHER)
    compared = told(rest[0], known.plan, desk, supposed=False, there=known.plan.situation)
    return compared_with(known, compared)
