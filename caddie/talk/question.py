"""A bare answer to the question that was asked: "back", "soft", "fifty", read as that field alone."""

from collections.abc import Callable, Iterable

from caddie.bag import Player
from caddie.situation import Fall, Green, Hazard, HazardKind, Lie, Situation, Wind
from caddie.talk.break_said import break_meant
from caddie.talk.digits import FARTHEST_PUTT_M
from caddie.talk.height_asked import TREES, TREES_AWAY, TREES_PLACE
from caddie.talk.of_one_shot import hit_again
from caddie.talk.state import Known, Question
from caddie.units import Unit
from caddie.words import Intent, Understanding, understand
from caddie.words.gist import is_question
from caddie.words.golf_talk import unit_said
from caddie.words.sayings import bare, compared, frames, plain, says
from caddie.words.steepness import rise_told_m, steepness_named

HIT = "hit"
"""Field of the question whether the ball was hit."""
HOW_FAR = "pin_m"
"""Field of the question how far it is to the flag."""
PUTT = "putt"
"""Field of every question about a putt's read."""
STEEPNESS = {"slight": 0.01, "clear": 0.02, "severe": 0.035}
"""Slopes of a green that falls a little, usually and a lot (common practice, no source)."""
BARE_WORDS = 3
FEW_WORDS = 2
_TOLD_UNASKED = ("pin_position", "green.firmness", "wind")
"""Facts told in a word or two though nothing was asked, the likeliest first."""
MOST_WORDS = 6
"""A longer utterance is no bare answer."""
_A_PUTT = frozenset({"putt", "putter", "footer"})
_MAY_ANSWER = (
    Intent.OUT_OF_SCOPE, Intent.SITUATION, Intent.PUTT, Intent.CORRECT, Intent.YES, Intent.NO, Intent.RESULT,
    Intent.WHAT_IF,
)  # fmt: skip
_OF_THE_PUTT = (Intent.SITUATION, Intent.PUTT, Intent.CORRECT, Intent.WHAT_IF)


def in_context(heard: Understanding, known: Known, player: Player) -> Understanding:
    """What was heard, read as the answer when it answers the open question, else as it is."""
    heard = break_meant(_on_the_green(heard, known, player), known)
    question = known.question
    if question is None:
        return _said_of_the_shot(heard, known, player)
    if heard.intent not in _MAY_ANSWER or heard.problem:
        return heard
    if steep := _steepness_told(question, heard, known):
        return understood(heard, steep)
    if (off := _how_far_it_stands(question, heard, known, player)) is not None:
        return understood(heard, off)
    if _tells_how_far(heard):
        return heard
    # A word or two that name a shot ("high") may still be an answer; more are a question of the player's own.
    words = len(plain(bare(heard.heard)).split())
    if words > (2 if heard.intent is Intent.WHAT_IF else MOST_WORDS):
        return heard
    if heard.intent in (Intent.SITUATION, Intent.CORRECT, Intent.PUTT) and answers(
        question.field, heard.situation
    ):
        return heard
    if question.field == PUTT:
        found = putt_answer(question.text, heard.heard, player)
    else:
        found = framed(heard.heard, question.field, player) or framed(
            bare(heard.heard), question.field, player
        )
    if found is not None and question.field == TREES_PLACE and found.hazards[0].carry_m:
        found = None  # A length beyond the flag is none of theirs.
    if found is None and question.field == TREES_PLACE and (gone := _denied_there(heard.heard, player)):
        return Understanding(heard=heard.heard, intent=Intent.CORRECT, gone=gone)
    return _said_of_the_shot(heard, known, player) if found is None else understood(heard, found)


def _how_far_it_stands(
    question: Question, heard: Understanding, known: Known, player: Player
) -> Situation | None:
    """How far off it stands, told where it was asked how high or where: "ten yards in front", "about ten yards out"."""
    if question.field not in (TREES, TREES_PLACE) or len(plain(bare(heard.heard)).split()) > MOST_WORDS:
        return None
    found = framed(heard.heard, question.field, player) or framed(heard.heard, TREES_AWAY, player)
    away_m = found.hazards[0].carry_m if found is not None else None
    pin_m = known.situation.pin_m
    return found if away_m and pin_m and away_m < pin_m else None


def _steepness_told(question: Question, heard: Understanding, known: Known) -> Situation | None:
    """How steep the green is, in whatever words, where just that was asked and no length of a putt is told."""
    if question.field != PUTT or "steep" not in question.text or is_question(heard.heard):
        return None
    pin_m, rise_m = known.situation.pin_m, rise_told_m(heard.heard)
    if rise_m is not None and pin_m is not None and rise_m < pin_m * STEEPEST_TOLD:
        slope = rise_m / pin_m
    elif (
        not (unit_said(heard.heard) or _tells_how_far(heard))
        and (named := steepness_named(heard.heard)) is not None
    ):
        slope = STEEPNESS[named]
    else:
        return None
    return Situation(green=Green(side_slope=slope) if "side" in question.text else Green(fall_slope=slope))


STEEPEST_TOLD = 0.1
"""A rise that is more of a putt's length is no green's (common practice, no source)."""


def answer_to(known: Known, player: Player) -> Callable[[str], Understanding | None]:
    """Reads words beside other talk as the answer to the open question: "Back. And why does it roll so far?"."""

    def answered(words: str) -> Understanding | None:
        if len(plain(bare(words)).split()) > MOST_WORDS or is_question(words):
            return None
        heard = understand(words, unit=player.distances_in, pace_m=player.pace_m)
        answer = in_context(heard, known, player)
        if known.question is None:
            now = answer.situation
            told = answers("pin_position", now) or now.green.side_slope is not None
            return answer if told and heard.intent is Intent.OUT_OF_SCOPE else None
        taken = answer.intent in (Intent.SITUATION, Intent.PUTT)
        return answer if taken and answers(known.question.field, answer.situation) else None

    return answered


def _tells_how_far(heard: Understanding) -> bool:
    """ "Four feet past" answers no question about the shot: it is over."""
    told = heard.result
    if told is None:
        return False
    if told.distance_m is None:
        # "Left it a mile short" names no side of the hole.
        return bool(told.side) and hit_again(heard.heard)
    return bool(told.side or told.strike or told.finish)


def _said_of_the_shot(heard: Understanding, known: Known, player: Player) -> Understanding:
    """A word or two that no question asked for, about the shot in play: "back", "soft", "into"."""
    few = len(plain(bare(heard.heard)).split()) <= FEW_WORDS
    if known.plan is None or known.played or heard.intent is not Intent.OUT_OF_SCOPE or not few:
        return heard
    if (slope := _slope_of_its_break(heard.heard, known.situation)) is not None:
        return understood(heard, slope)
    found = (framed(bare(heard.heard), field, player) for field in _TOLD_UNASKED)
    told = next((each for each in found if each is not None), None)
    return heard if told is None else understood(heard, told)


def _slope_of_its_break(text: str, there: Situation) -> Situation | None:
    """ "Slope's clear, like definite": how steep the side slope is of a putt that was told to break."""
    across = {there.green.fall, there.green.side_fall} & {Fall.LEFT_TO_RIGHT, Fall.RIGHT_TO_LEFT}
    if not across or _BREAKS.isdisjoint(compared(text)):
        return None
    named = steepness_named(text)
    return None if named is None else Situation(green=Green(side_slope=STEEPNESS[named]))


_BREAKS = frozenset({"slope", "slopes", "break"})


def understood(heard: Understanding, situation: Situation) -> Understanding:
    """The utterance, taken to say exactly these facts."""
    return Understanding(heard=heard.heard, intent=Intent.SITUATION, situation=situation)


def framed(text: str, field: str, player: Player) -> Situation | None:
    """The answer in ``text`` about ``field`` alone, or None when it holds none."""
    for frame in frames(field):
        said = understand(frame.format(plain(text)), unit=player.distances_in, pace_m=player.pace_m)
        if not said.problem:
            part = part_of(said.situation, field)
            if part is not None:
                return part
    return None


def putt_answer(question: str, text: str, player: Player) -> Situation | None:
    """The answer to a question about a putt's read: the high side, the steepness, the speed of the greens."""
    if "higher" in question:
        found = framed(text, "pin_position", player)
        side = found.pin_position.value.partition("_")[2] if found and found.pin_position else ""
        fall = {"left": Fall.LEFT_TO_RIGHT, "right": Fall.RIGHT_TO_LEFT}.get(side)
        if fall is not None:
            return Situation(green=Green(fall=fall, fall_slope=_slope_said(text, fall, player)))
    asked_steep = "steep" in question
    for words, slope in STEEPNESS.items():
        if says(text, f"{words}_slope") or (asked_steep and says(text, words)):
            to_the_side = asked_steep and "side" in question
            return Situation(green=Green(side_slope=slope) if to_the_side else Green(fall_slope=slope))
    asks_the_speed = "slow" in question and _A_PUTT.isdisjoint(compared(text))
    if unit_said(text) and ("steep" in question or not (asks_the_speed or _tells_the_green(text, player))):
        # "Sixteen feet" is how long the putt is.
        return None
    found = framed(text, PUTT, player)
    # A break without its side is what the frame says by itself.
    return None if found is not None and found.green == Green(side_slope=found.green.side_slope) else found


def _denied_there(text: str, player: Player) -> tuple[HazardKind, ...]:
    """What is said not to be where it was asked for: "not in the way", of trees."""
    told = (frame.format(plain(text)) for frame in frames(TREES_PLACE))
    found = (understand(each, unit=player.distances_in, pace_m=player.pace_m).gone for each in told)
    return next((gone for gone in found if gone), ())


def _tells_the_green(text: str, player: Player) -> bool:
    """Whether a length stands beside how the green is: "twelve feet, left to right", "greens are ten feet"."""
    green = understand(
        f"on the green, {text}", unit=player.distances_in, pace_m=player.pace_m
    ).situation.green
    return green != Green()


def _slope_said(text: str, fall: Fall, player: Player) -> float | None:
    """The steepness told beside the side that is higher: "the right, about two percent"."""
    read = f"on the green, {fall.value.replace('_', ' ')}, {text}"
    return understand(read, unit=player.distances_in, pace_m=player.pace_m).situation.green.fall_slope


def side_answered(heard: Understanding, known: Known, player: Player) -> Understanding:
    """ "Right", to the question which side is higher: no wish for the line, though unasked it may be one."""
    question = known.question
    if question is None or question.field != PUTT or "higher" not in question.text or not heard.asks:
        return heard
    words = plain(bare(heard.heard)).split()
    if len(words) > MOST_WORDS or is_question(heard.heard) or heard.intent not in _MAY_ANSWER:
        return heard
    answer = putt_answer(question.text, heard.heard, player)
    told = answer is not None and answer.green.fall is not None
    return heard.model_copy(update={"asks": ()}) if told else heard


def answers(field: str, situation: Situation) -> bool:
    """Whether the facts hold the one that was asked for."""
    return part_of(situation, field) is not None


def part_of(said: Situation, field: str) -> Situation | None:
    """One field of what was said and nothing else, or None when it was not said."""
    green = said.green
    part = Situation()
    if field in ("pin_m", "lie", "pin_position", "lip_m", "lip_away_m"):
        part = Situation.model_validate({field: getattr(said, field)})
    elif field == "green.firmness":
        part = Situation(green=Green(firmness=green.firmness))
    elif field == PUTT:
        part = Situation(green=green)
    elif field == "green.fall":
        part = Situation(
            green=Green(
                fall=green.fall,
                fall_slope=green.fall_slope,
                side_fall=green.side_fall,
                side_slope=green.side_slope,
            )
        )
    elif field in ("water", "tier"):
        part = Situation(hazards=said.hazards)
    elif field == TREES_PLACE:
        part = Situation(hazards=_unnamed(each for each in said.hazards if each.side or each.beside))
    elif field in (TREES, TREES_AWAY):
        told = "height_m" if field == TREES else "carry_m"
        part = Situation(hazards=_unnamed(each for each in said.hazards if getattr(each, told)))
    elif field == "wind.known_by":
        part = Situation(wind=Wind(known_by=said.wind.known_by))
    elif field == "wind":
        part = Situation(wind=Wind(from_=said.wind.from_, speed_m_s=said.wind.speed_m_s))
    return None if part == Situation() else part


def _unnamed(told: Iterable[Hazard]) -> tuple[Hazard, ...]:
    """Trouble of which something is answered: its name is the one it had, and not that of the frame."""
    return tuple(each.model_copy(update={"called": None}) for each in told)


def _on_the_green(heard: Understanding, known: Known, player: Player) -> Understanding:
    """What is said while a putt is talked about, read as said of the putt: feet, uphill, left to right."""
    if known.situation.lie is not Lie.GREEN or known.played or heard.problem:
        return heard
    steep = putt_answer("", heard.heard, player) if heard.intent is Intent.OUT_OF_SCOPE else None
    if steep is not None and known.question is None:
        return understood(heard, steep)
    few = heard.intent is Intent.OUT_OF_SCOPE and len(plain(heard.heard).split()) <= BARE_WORDS
    if not few and heard.intent not in _OF_THE_PUTT:
        return heard
    if heard.situation.lie is not None or heard.club is not None:
        return heard
    putt = understand(
        f"on the green, {heard.heard}",
        unit=Unit.METRES if player.putt_unit is Unit.METRES else Unit.YARDS,
        pace_m=player.pace_m,
        from_speech=heard.sounds_like_m is not None,
    )
    if putt.problem or putt.situation.lie is not Lie.GREEN:
        return heard
    if few:
        said_something = putt.situation.green != Green()
        return understood(heard, putt.situation) if said_something else heard
    pin_m = putt.situation.pin_m
    if pin_m is not None and pin_m > FARTHEST_PUTT_M:
        return heard
    read = {"situation": putt.situation, "sounds_like_m": putt.sounds_like_m, "family": None, "swing": None}
    return heard.model_copy(update=read)
