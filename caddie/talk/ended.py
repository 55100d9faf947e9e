"""Where a ball ended, told so that it reads as something else: as how the next one lies, or as a length to the hole."""

import re

from caddie.bag import Player
from caddie.situation import IN_SAND, Finish, Hazard, HazardKind, Lie, Result, Side, Situation
from caddie.talk.laid_over import merged
from caddie.talk.state import Known
from caddie.words import Expecting, Intent, Understanding, understand, understand_turn
from caddie.words.sayings import begins, compared, says_in_part

NEAREST_SAND_M = 3.6
"""A hole is cut four paces or more from the edge of the green (common practice, no source): no sand lies nearer."""
_SHORT_OF = re.compile(
    r"\b(?:short of|in front of|off|before) (?:the )?(?:green|fringe|edge|apron|collar|front)\b"
)
_OF_IT = "went_aside_of_it"
_AGAIN = frozenset({"again", "same", "that"})
_IN_IT = re.compile(
    r"\b(?:in|into|from|out of|off) (?:the |that |a |it )?(?:same )?(?:greenside )?(?:bunker|sand|trap)"
)
_FLAG_WORDS = frozenset({"flag", "pin", "hole", "stick", "cup"})


def ended_there(heard: Understanding, known: Known, player: Player) -> Understanding:
    """ "Short, on the front fringe", "in that bunker", with a shot in play: where it ended, not how it lies."""
    now, plan = heard.situation, known.plan
    if plan is None or known.played or heard.intent is not Intent.SITUATION or heard.asks or now.pin_m:
        return heard
    if now.lie is None or now.green != Situation().green or heard.club:
        return heard
    if _is_the_one_told(heard, known) or _is_in_it_still(heard, known):
        return _as_result(heard, Result(finish=Finish.BUNKER))
    of_it = says_in_part(heard.heard, _OF_IT) or begins(heard.heard, _OF_IT)
    if not (of_it or says_in_part(heard.heard, "went_aside")):
        return heard
    told = understand(
        heard.heard, unit=player.distances_in, pace_m=player.pace_m, expecting=Expecting.LEFT
    ).result
    return heard if told is None or told.finish is None else _as_result(heard, told)


def _is_the_one_told(heard: Understanding, known: Known) -> bool:
    """ "In that bunker" of a ball that lay elsewhere, and that had to carry it."""
    there = any(hazard.kind is HazardKind.BUNKER for hazard in known.situation.hazards)
    elsewhere = known.situation.lie is not None and known.situation.lie not in IN_SAND
    alone = heard.situation == Situation(lie=heard.situation.lie)
    return (
        there and elsewhere and alone and heard.situation.lie in IN_SAND and "that" in compared(heard.heard)
    )


def _is_in_it_still(heard: Understanding, known: Known) -> bool:
    """ "Rolled back into the same bunker", "still in the sand" of a ball that was played from it."""
    alone = heard.situation == Situation(lie=heard.situation.lie)
    in_sand = known.situation.lie in IN_SAND and heard.situation.lie in IN_SAND
    return in_sand and alone and not _STAYED.isdisjoint(compared(heard.heard))


_STAYED = frozenset({"still", "again", "back", "same", "left", "stayed", "another"})


def _as_result(heard: Understanding, told: Result) -> Understanding:
    return Understanding(heard=heard.heard, intent=Intent.RESULT, result=told)


def before_the_green(heard: Understanding, told: Result) -> tuple[Result, float | None]:
    """ "Ten yards short of the green": how far it is to the green's edge, and not to the hole."""
    if told.distance_m is None or told.side != (Side.SHORT,) or not _SHORT_OF.search(heard.heard.lower()):
        return told, None
    return told.model_copy(update={"distance_m": None}), told.distance_m


def brought_back(heard: Understanding, known: Known) -> Understanding:
    """ "Thirty yards, same lie, the bunker again": the trouble told before, and not what the ball lies in."""
    now = heard.situation
    told = next((each for each in known.situation.hazards if each.kind is HazardKind.BUNKER), None)
    if told is None or now.lie is not Lie.BUNKER or now.pin_m is None or _IN_IT.search(heard.heard.lower()):
        return heard
    words = compared(heard.heard)
    went_in = known.result is not None and known.result.finish is Finish.BUNKER
    if _AGAIN.isdisjoint(words) or known.situation.lie in IN_SAND or went_in:
        return heard
    there = now.model_copy(update={"lie": None, "hazards": (*now.hazards, told)})
    return heard.model_copy(update={"situation": there})


def with_front(now: Situation, known: Known) -> Situation:
    """The next shot with how far it is to the green's edge, when just that was told of where the last one ended."""
    front_m = known.front_left_m
    if front_m is None or now.front_m is not None or now.room_m is not None:
        return now
    if now.pin_m is None or now.pin_m <= front_m or now.lie is Lie.GREEN:
        return now
    return now.model_copy(update={"front_m": front_m})


def of_the_putt(heard: Understanding, now: Situation) -> Situation:
    """ "Downhill, breaks right" of a ball on the green: which way the green falls, and no height."""
    read = [
        *understand_turn(f"putt, {heard.heard}"),
        understand(f"on the green, {heard.heard}"),
        heard.model_copy(update={"situation": now}),
    ]
    putt = next(part.situation for part in read if part.situation.lie is Lie.GREEN or part is read[-1])
    flat = now.model_copy(update={"elevation_m": None})
    return merged(flat, Situation(lie=Lie.GREEN, green=putt.green))


def contradicts(told: Result) -> bool:
    """ "Ten feet past, in the sand": no bunker lies so near a hole."""
    return told.finish is Finish.BUNKER and told.distance_m is not None and told.distance_m < NEAREST_SAND_M


def on_its_tier(heard: Understanding, known: Known) -> Situation | None:
    """ "Six metres from the hole, on the lower tier": the tier the ball is on, with the flag on the other; or None."""
    now, before = heard.situation, known.situation.pin_position
    tiers = [hazard for hazard in now.hazards if hazard.kind is HazardKind.TIER]
    if not tiers or len(tiers) != len(now.hazards) or now.pin_position is None or before is None:
        return None
    if "tier" not in compared(heard.heard) or any(
        f"{word} on" in heard.heard.lower() for word in _FLAG_WORDS
    ):
        return None
    here, flag = now.pin_position.value.partition("_")[0], before.value.partition("_")[0]
    between: tuple[Hazard, ...] = ()
    if {here, flag} == {"front", "back"}:
        between = (Hazard(kind=HazardKind.TIER, side=Side.SHORT, down=flag == "front"),)
    return now.model_copy(update={"lie": Lie.GREEN, "pin_position": before, "hazards": between})
