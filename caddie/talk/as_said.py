"""What was said, taken as it is meant in this conversation: units, which hand, a number that is a club, a result."""

import re

from caddie.bag import Bag, ClubKind, Player
from caddie.bag.models import Handed
from caddie.plan.option import Option
from caddie.situation import IN_SAND, Finish, Lie, Result, Situation, Strike, Wind
from caddie.talk.digits import FARTHEST_PUTT_M
from caddie.talk.ended import brought_back, ended_there, on_its_tier
from caddie.talk.laid_over import merged
from caddie.talk.result_said import LONGEST_IN_FEET_M
from caddie.talk.state import Known
from caddie.units import FOOT_M, Unit, from_metres, in_feet, to_metres
from caddie.words import Expecting, Intent, Understanding, understand
from caddie.words.club_numbers import IRON_NUMBERS, WEDGE_LOFTS
from caddie.words.gist import gists_of, is_question, quotes, supposes
from caddie.words.golf_talk import unit_said
from caddie.words.numbers import is_number
from caddie.words.sayings import bare, begins, compared, ends, says_in_part, sentences_of
from caddie.words.told_as_made import only_spoken_of

IRON_IS_NO_LENGTH = 3.0
"""A number so many times smaller than the shot may be an iron's."""
AFTER_THE_SHOT_M = 12.0
"""A ball told nearer than this, right after the swing, is the one just hit (common practice, no source)."""
SAME_LENGTH = 0.1
"""Two lengths that differ by no more of themselves are one."""
NEARER = 0.5
"""And nearer than this share of the shot."""
_READS_AS_FACTS = (Intent.SITUATION, Intent.PUTT, Intent.CORRECT, Intent.WHAT_IF, Intent.RESULT)
_SWING = "swing"
_COUNTS_NOTHING = frozenset({"one", "two", "first", "second", "half", "quarter", "quarters", "three"})
_NOT_CHOSEN = re.compile(
    r"\b(?:not|wrong with|instead of) (?:just )?(?:hit |use |play )?(?:a |the |my |me )?(.+)"
)


def counting_as_said(known: Known, heard: Understanding) -> Known:
    """What is known, with the unit just spoken for lengths of that kind: of putts, or of shots."""
    unit = heard.pin_unit or unit_said(heard.heard)
    left_in_feet = heard.result is not None and unit is Unit.FEET
    near = heard.result is not None and (heard.result.distance_m or FARTHEST_PUTT_M) <= LONGEST_IN_FEET_M
    left_in_feet = left_in_feet or (near and unit is Unit.METRES)
    putting = heard.intent is Intent.PUTT or heard.situation.lie is Lie.GREEN or left_in_feet
    if putting and unit in (Unit.FEET, Unit.METRES):
        return known.on_the_day(putt_unit=unit)
    told = heard.result is None and not putting
    return known.on_the_day(unit=unit) if told and unit in (Unit.YARDS, Unit.METRES) else known


def handed_as_said(known: Known, heard: Understanding) -> Known:
    """What is known, with the hand the player plays with when they tell it anywhere."""
    told = next((each for each in Handed if says_in_part(heard.heard, f"{each.value}_handed")), None)
    return known if told is None else known.on_the_day(handed=told)


_SAYS_HOW_FAR = re.compile(r"\b(?:it is|it was|plays|playing|play) (?:like |as |more like |only |really )?\d")
"""What stands before a number that is how far, and no club: "same club if it's 52?"."""


def club_asked(heard: Understanding, bag: Bag, known: Known) -> Understanding:
    """ "52?", "52 then" or "nine it is" with a shot in play: a club by its number, and no new distance."""
    pin_m, plan = heard.situation.pin_m, known.plan
    if pin_m is None or plan is None or known.played or unit_said(heard.heard):
        return heard
    number = round(from_metres(pin_m, bag.player.distances_in, bag.player.pace_m), 2)
    if heard.situation != Situation(pin_m=pin_m) or heard.intent not in (Intent.SITUATION, Intent.WHAT_IF):
        return heard
    named_alone = heard.heard.rstrip().endswith("?") or ends(heard.heard, "taken_end")
    of_a_wedge = number in WEDGE_LOFTS and named_alone
    assert plan.situation.pin_m is not None
    if _SAYS_HOW_FAR.search(" ".join(compared(heard.heard))):
        return heard
    no_distance = pin_m < plan.situation.pin_m / IRON_IS_NO_LENGTH
    of_an_iron = number in IRON_NUMBERS and no_distance and says_in_part(heard.heard, "iron_by_number")
    if not of_a_wedge and not of_an_iron:
        return heard
    club = f"{number:.0f}" if of_a_wedge else f"{number:.0f}i"
    read = {"intent": Intent.WHAT_IF, "situation": Situation(), "club": club}
    return heard.model_copy(update=read)


def asked_in_play(heard: Understanding, known: Known) -> Understanding:
    """A question about the shot in play whose words read as facts of one: "how firm should my stroke be"."""
    if known.plan is None or known.played or heard.asks or heard.club or heard.intent not in _READS_AS_FACTS:
        return heard
    asking = is_question(heard.heard) or quotes(heard.heard)
    asks_back = is_question(heard.heard) and quotes(heard.heard)
    if not asking or supposes(heard.heard) or (_tells_a_number(heard.heard, known) and not asks_back):
        return heard
    names_a_shot = heard.swing or heard.family or heard.flight
    asks = tuple(name for name in gists_of(heard.heard) if not names_a_shot or name == _SWING)
    if not asks:
        return heard
    return Understanding(heard=heard.heard, intent=Intent.OUT_OF_SCOPE, asks=asks)


def plays_as_asked(heard: Understanding, known: Known) -> Understanding:
    """ "So it plays like seventy?", "seventy flat, less into this": what the shot in play plays, and no new flag."""
    in_play = known.plan is not None and not known.played
    if not in_play or not heard.plays_only or heard.situation.pin_m is None or heard.club:
        return heard
    return Understanding(heard=heard.heard, intent=Intent.OUT_OF_SCOPE, asks=("plays_like",))


def _tells_a_number(text: str, known: Known) -> bool:
    """Whether a number is told that the caddie did not just say: "seven left of what?" tells none."""
    said = {*compared(known.spoken), *_COUNTS_NOTHING}
    return any(is_number(word) and word not in said for word in compared(text))


def club_missed(heard: Understanding, known: Known, bag: Bag) -> Understanding:
    """ "Why not the fifty-six?": the reason is how that club compares."""
    named = _NOT_CHOSEN.search(heard.heard.lower())
    if named is None or known.plan is None or known.played or not is_question(heard.heard):
        return heard
    if heard.asks[:1] == ("would_club",):
        return heard
    if heard.intent is Intent.CORRECT:
        # "The flag's in the middle, not the front. Would you still go with the fifty-two?"
        return heard
    about = understand(f"what about the {named[1]}", unit=bag.player.distances_in, pace_m=bag.player.pace_m)
    club = bag.club_called(about.club or "")
    if club is None:
        return heard
    if about.swing or about.family or about.flight:
        read = {"intent": Intent.WHAT_IF, "situation": Situation(), "asks": (), "corrected": ()}
        return about.model_copy(update={"heard": heard.heard, **read})
    return Understanding(heard=heard.heard, intent=Intent.WHAT_IF, club=club.id, asks=("why_not",))


def chosen_again(heard: Understanding, known: Known, bag: Bag) -> Understanding:
    """ "Go on then, lob wedge", of a shot that was advised or compared: it is taken, and not compared once more."""
    plan = known.plan
    if heard.intent is not Intent.WHAT_IF or plan is None or known.played or is_question(heard.heard):
        return heard
    named = heard.club or heard.swing or heard.family or heard.flight
    wished = begins(heard.heard, "taken_lead")
    # The putter named is read as of a ball on the green.
    tells = heard.situation not in (Situation(), Situation(lie=Lie.GREEN))
    if not named or heard.asks or tells or not wished:
        return heard
    for option, saying in ((known.other, "adopt_other"), (plan.chosen, "stick")):
        if option is not None and _is_named(option, heard, bag):
            return heard.model_copy(update={"asks": (saying,)})
    return heard


_THE_WEDGE = re.compile(
    r"(?<!pitching )(?<!sand )(?<!gap )(?<!lob )"
    r"(\b(?:the|a|my|soft|easy|smooth|gentle|hard|full|little) |^|[.,;?!] )wedge\b(?! shot)",
    re.I,
)
PITCHING_WEDGE = "pitching wedge"


def wedge_named(text: str, known: Known, bag: Bag) -> str:
    """ "The wedge" is the one just compared, or else the pitching wedge (common practice, no source)."""
    if known.plan is None or known.played or not _THE_WEDGE.search(text):
        return text
    compared_club = next((club for club in bag.clubs if known.other and club.id == known.other.club), None)
    wedge = (
        compared_club
        if compared_club and compared_club.kind is ClubKind.WEDGE
        else bag.club_called(PITCHING_WEDGE)
    )
    return text if wedge is None else _THE_WEDGE.sub(rf"\1{wedge.name}", text)


def _is_named(option: Option, heard: Understanding, bag: Bag) -> bool:
    """Whether what is named of a shot, if not all of it, is true of ``option``."""
    club = bag.club_called(heard.club) if heard.club else None
    if heard.club and (club is None or club.id != option.club):
        return False
    told = ((heard.swing, option.swing), (heard.family, option.family), (heard.flight, option.flight.value))
    return all(said is None or said == has for said, has in told)


def goes_on_supposing(heard: Understanding, known: Known) -> Understanding:
    """ "And with the wind behind" after a what-if: more is supposed, and nothing told."""
    if known.supposed is None or known.played or heard.intent is not Intent.SITUATION or heard.club:
        return heard
    if heard.situation.pin_m is not None or compared(heard.heard)[:1] != ("and",):
        return heard
    told = merged(known.supposed, heard.situation, heard.corrected)
    return heard.model_copy(update={"intent": Intent.WHAT_IF, "situation": told})


FEWEST_OF_A_MISHIT_M = 15 * FOOT_M
"""A mishit told to be short or left by a bare number of so many or more is counted as the shot was."""
_MISHIT = (Strike.HEAVY, Strike.TOPPED, Strike.SHANK, Strike.THIN)


def counted_as_the_shot(heard: Understanding, known: Known, player: Player) -> Understanding:
    """ "Hit it fat, thirty short" of a shot told in yards: thirty yards, though results are mostly in feet."""
    told, plan = heard.result, known.plan
    if told is None or told.distance_m is None or told.strike not in _MISHIT or unit_said(heard.heard):
        return heard
    if player.distances_in is player.putt_unit:
        return heard
    if plan is None or known.played or plan.chosen.line is not None or told.distance_m < FEWEST_OF_A_MISHIT_M:
        return heard
    if not any(is_number(word) for word in compared(heard.heard)):
        # How far it is was told with the next shot.
        return heard
    far_m = to_metres(round(in_feet(told.distance_m), 2), player.distances_in, player.pace_m)
    if plan.situation.pin_m is None or far_m > plan.situation.pin_m:
        return heard
    return heard.model_copy(update={"result": told.model_copy(update={"distance_m": far_m})})


def putts_in_feet(heard: Understanding, player: Player) -> Understanding:
    """A bare length of a putt, or of what a shot left, of who counts shots in metres and putts in feet."""
    mixed = player.distances_in is Unit.METRES and player.putt_unit is Unit.FEET
    numbered = any(is_number(word) for word in compared(heard.heard))
    if not mixed or not numbered or unit_said(heard.heard) is not None:
        return heard
    told, pin_m = heard.result, heard.situation.pin_m
    if told is not None and told.distance_m is not None:
        told = told.model_copy(update={"distance_m": told.distance_m * FOOT_M})
        return heard.model_copy(update={"result": told})
    if heard.situation.lie is Lie.GREEN and pin_m is not None:
        putt = heard.situation.model_copy(update={"pin_m": pin_m * FOOT_M})
        return heard.model_copy(update={"situation": putt})
    return heard


_SENTENCES = re.compile(r"(?<=[.;!?])\s+")
_A_PUTT = re.compile(
    r"(?<!to )(?<!i )(?<!we )(?<!you )(?<!just )\bputt\b(?! (?:it|this|that|from|up|out|for)\b)"
)
"""A putt by name; "can I putt it" does something."""


def putt_named(heard: Understanding, known: Known, player: Player) -> Understanding:
    """ "Five yards, it's a level putt": called a putt, it is one, from no farther than a putt may be."""
    now, ended = heard.situation, known.result
    told = heard.intent in (Intent.SITUATION, Intent.CORRECT) or (
        heard.intent is Intent.OUT_OF_SCOPE and ended is not None
    )
    if not told or heard.asks or now.lie is not None or not _A_PUTT.search(heard.heard.lower()):
        return heard
    far_m = now.pin_m or (ended.distance_m if ended is not None else None)
    if far_m is None or far_m > FARTHEST_PUTT_M or is_question(heard.heard):
        return heard
    named = next(part for part in _SENTENCES.split(heard.heard) if _A_PUTT.search(part.lower()))
    putt = understand(f"on the green, {named}", unit=player.distances_in, pace_m=player.pace_m)
    if putt.problem or putt.situation.lie is not Lie.GREEN:
        return heard
    if putt.situation.elevation_m is None:
        # "The putt's downhill" tells which way the green falls, and no height.
        now = now.model_copy(update={"elevation_m": None})
    there = merged(now, putt.situation).model_copy(update={"pin_m": now.pin_m or putt.situation.pin_m})
    return putt.model_copy(update={"heard": heard.heard, "situation": there, "intent": Intent.PUTT})


def putter_asked(heard: Understanding, known: Known) -> Understanding:
    """ "Would I be better off putting it from here?" off the green: a club, and no ball on the green."""
    plan = known.plan
    if heard.intent is not Intent.PUTT or plan is None or known.played or heard.situation.pin_m is not None:
        return heard
    if plan.situation.lie is Lie.GREEN or not is_question(heard.heard) or heard.asks:
        return heard
    if _PUTTER_NAMED.isdisjoint(compared(heard.heard)):
        return heard
    read = {"intent": Intent.WHAT_IF, "club": "putter", "situation": Situation()}
    return heard.model_copy(update=read)


_PUTTER_NAMED = frozenset({"putt", "putting", "putter"})


_INTO_IT = frozenset({"in", "from", "into", "out", "found"})


def sand_told(heard: Understanding, known: Known) -> Understanding:
    """ "The sand's wet", of a ball on grass: how the sand by it is, and no ball in it."""
    now = heard.situation
    on_grass = known.situation.lie not in (None, *IN_SAND) and not known.played
    bare = now.model_copy(update={"lie": None, "wet": None, "hazards": ()})
    if not on_grass or now.lie is not Lie.BUNKER or now.wet is None or bare != Situation():
        return heard
    if not _INTO_IT.isdisjoint(compared(heard.heard)):
        return heard
    return heard.model_copy(update={"situation": now.model_copy(update={"lie": None, "wet": None})})


def where_it_lies(heard: Understanding, known: Known) -> Understanding:
    """ "Six metres, flat": a length just told as what was left, with no other lie named, is the putt."""
    heard = brought_back(heard, known)
    ended, now = known.result, heard.situation
    tiered = on_its_tier(heard, known) if ended is not None and heard.intent is Intent.SITUATION else None
    if tiered is not None:
        return heard.model_copy(update={"situation": tiered, "intent": Intent.PUTT})
    if now.hazards or now.elevation_m is not None or now.stance or now.pin_position is not None:
        return heard
    if says_in_part(heard.heard, "same_lie") or _came_up_short(ended, heard):
        return heard
    if _is_how_far_on_the_green(ended, now) and heard.intent is Intent.SITUATION:
        putt = now.model_copy(update={"lie": Lie.GREEN})
        return heard.model_copy(update={"situation": putt, "intent": Intent.PUTT})
    if ended is None or ended.distance_m is None or now.pin_m is None or now.lie is not None:
        return heard
    near = (
        abs(now.pin_m - ended.distance_m) <= SAME_LENGTH * ended.distance_m <= SAME_LENGTH * AFTER_THE_SHOT_M
    )
    if not near or ended.finish not in (None, Finish.GREEN) or heard.intent is not Intent.SITUATION:
        return heard
    putt = now.model_copy(update={"lie": Lie.GREEN})
    return heard.model_copy(update={"situation": putt, "intent": Intent.PUTT})


def _came_up_short(ended: Result | None, heard: Understanding) -> bool:
    """Whether a mishit, told with what it left in no feet, is mostly off the green still."""
    if ended is None or ended.finish is Finish.GREEN or ended.strike not in _STAYS_OFF:
        return False
    return unit_said(heard.heard) is not Unit.FEET


_STAYS_OFF = (Strike.HEAVY, Strike.TOPPED, Strike.SHANK)


def _is_how_far_on_the_green(ended: Result | None, now: Situation) -> bool:
    """ "Maybe ten big steps" of a ball that was only told to be on the green."""
    if ended is None or ended.finish is not Finish.GREEN or ended.distance_m is not None:
        return False
    return now.pin_m is not None and now.lie is None and now.pin_m <= FARTHEST_PUTT_M


def aim_told(heard: Understanding, known: Known) -> Understanding:
    """ "Aim seventy centimetres left" of a shot from off the green: the line is talked about, and no putt or finish."""
    plan, now = known.plan, heard.situation
    if plan is None or known.played or plan.chosen.line is not None or not begins(heard.heard, "aim_lead"):
        return heard
    ended = heard.result is not None and bool(heard.result.side)
    near = now.pin_m is not None and now.pin_m <= NEARER * (plan.situation.pin_m or 0.0)
    aside = now.pin_m is None and not _SIDES.isdisjoint(compared(heard.heard))
    told = any(each.side is not None for each in now.hazards)
    if not (ended or near or aside or now.green.borrow is not None) or told:
        return heard
    return Understanding(heard=heard.heard, intent=Intent.OUT_OF_SCOPE, asks=("why_line",))


def as_said(heard: Understanding, known: Known, player: Player) -> Understanding:
    """ "Five feet, below the hole" right after the swing: where the ball ended, though it reads as the next putt."""
    heard = ended_there(_line_asked(heard, known), known, player)
    now, plan = heard.situation, known.plan
    if plan is None or known.played or now.lie not in _WHERE_IT_STOPS or heard.intent not in _NEXT_SHOT:
        return heard
    if now.lie is Lie.FRINGE and (plan.situation.lie is Lie.FRINGE or now.pin_position or now.hazards):
        return heard
    asks = heard.intent is Intent.OUT_OF_SCOPE or is_question(heard.heard)
    if heard.asks or quotes(heard.heard) or (asks and not known.swung) or only_spoken_of(heard.heard):
        return heard
    assert plan.situation.pin_m is not None
    far = (now.pin_m or 0.0) > min(AFTER_THE_SHOT_M, NEARER * plan.situation.pin_m)
    if far or now.wind != Wind() or says_in_part(heard.heard, "next_putt"):
        return heard
    if now == Situation(lie=Lie.GREEN) and plan.situation.lie is not Lie.GREEN:
        on_it = Result(finish=Finish.GREEN)
        return Understanding(heard=heard.heard, intent=Intent.RESULT, result=on_it)
    for words in (heard.heard, bare(heard.heard)):
        reply = understand(words, unit=player.distances_in, pace_m=player.pace_m, expecting=Expecting.LEFT)
        if reply.result is not None:
            break
    told = reply.result
    if told is None or told.distance_m is None:
        return heard
    at_rest = plan.situation.lie is not Lie.GREEN and says_in_part(heard.heard, "at_rest")
    hit = known.swung or at_rest or (known.day.several and plan.situation.lie is not Lie.GREEN)
    plain = told.strike is not None or (now.pin_m is not None and (bool(told.side) or hit))
    if not plain:
        return heard
    if at_rest and told.finish is None:
        told = told.model_copy(update={"finish": Finish.GREEN})
    return Understanding(heard=heard.heard, intent=Intent.RESULT, result=told, commitment=reply.commitment)


def _line_asked(heard: Understanding, known: Known) -> Understanding:
    """ "Four feet, uphill. In the cup?" of a putt that is not hit: where to start it, and none that is holed."""
    holed = heard.result is not None and heard.result.holed
    asked = heard.heard.rstrip().endswith("?") and len(sentences_of(heard.heard)) == 1
    if not (holed and asked) or known.played or known.swung:
        return heard
    putt = known.situation.lie is Lie.GREEN
    return Understanding(heard=heard.heard, intent=Intent.OUT_OF_SCOPE, asks=("aim",)) if putt else heard


_SIDES = frozenset({"left", "right"})
_WHERE_IT_STOPS = (None, Lie.GREEN, Lie.FRINGE)
_NEXT_SHOT = (Intent.SITUATION, Intent.PUTT, Intent.OUT_OF_SCOPE)
