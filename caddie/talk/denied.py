"""Facts said not to be so, and facts said again: the first are taken out and stay out, both are said back."""

from caddie.bag import Bag
from caddie.plan.called import names_of
from caddie.reply.situation import LIE_SAID, situation_said
from caddie.situation import IN_SAND, Against, Green, HazardKind, Lie, Sitting, Situation
from caddie.talk.lasts import facts_of, news_of
from caddie.talk.state import Known
from caddie.words import Intent, Understanding

_ROUGH = (Lie.FIRST_CUT, Lie.LIGHT_ROUGH, Lie.HEAVY_ROUGH)
_OF_THE_SAND = ("sand", "lip_m", "deep_bunker", "lip_away_m", "under_lip", "sand_behind")
IS_COUNTED = "{what}: counted"
_PACE_FT = 1.5
"""Two words for a green's speed within this are of one kind: quick, or slow."""


def denied_of_the_shot(heard: Understanding, known: Known) -> Understanding:
    """ "No water", when water was told: it puts that right, and answers nothing."""
    known_of = {hazard.kind for hazard in known.situation.hazards}
    of_nothing = heard.gone and known.plan is not None and known.question is None
    of_this = known_of.intersection(heard.gone) or _green_left(known.situation.green, heard.not_green)
    if known.played or heard.situation != Situation() or not (of_this or of_nothing):
        return heard
    return heard.model_copy(update={"intent": Intent.CORRECT, "asks": (), "result": None})


def taken_out(before: Situation, heard: Understanding) -> Situation:
    """What was known without what is said not to be so."""
    update: dict[str, object] = {}
    kept = tuple(hazard for hazard in before.hazards if hazard.kind not in heard.gone)
    if kept != before.hazards:
        update["hazards"] = kept
    if before.against is Against.WATER and HazardKind.WATER in heard.gone:
        update |= {"against": None, "unplayable": None}
    stance = () if heard.level_stance else tuple(s for s in before.stance if s.value not in heard.not_lying)
    if stance != before.stance:
        update.update(stance=stance, steepness=before.steepness if stance else None)
    of_the_ground = (
        heard.not_green.model_copy(update={"fall": None}) if kept != before.hazards else heard.not_green
    )
    if green := _green_left(before.green, of_the_ground):
        update["green"] = green
    lie = _lie_left(before, heard, any_bunker=kept != before.hazards)
    if lie is not before.lie:
        update["lie"] = lie
        if lie not in IN_SAND:
            update |= dict.fromkeys((*_OF_THE_SAND, "sitting"))
    return before.model_copy(update=update) if update else before


def _lie_left(before: Situation, heard: Understanding, *, any_bunker: bool) -> Lie | None:
    """The lie that is left: "it's not plugged" is in the sand all the same, "no bunker" of a ball in one is in none."""
    lie, denied = before.lie, heard.not_lying
    if lie in IN_SAND and (
        Lie.BUNKER.value in denied or (HazardKind.BUNKER in heard.gone and not any_bunker)
    ):
        return None
    if lie is Lie.PLUGGED and Lie.PLUGGED.value in denied:
        return Lie.BUNKER
    in_rough = lie in _ROUGH and not {each.value for each in _ROUGH}.isdisjoint(denied)
    if in_rough and lie is not None and (lie.value in denied or Lie.LIGHT_ROUGH.value in denied):
        return None
    return None if lie is not None and lie.value in denied else lie


def _green_left(before: Green, denied: Green) -> Green | None:
    """A green without what it is said not to be; None where that was not known of it."""
    update: dict[str, None] = {}
    if before.firmness is not None and before.firmness is denied.firmness:
        update["firmness"] = None
    if before.fall is not None and before.fall is denied.fall:
        update |= {"fall": None, "fall_slope": None}
    told_ft, denied_ft = before.stimp_ft, denied.stimp_ft
    if told_ft is not None and denied_ft is not None and abs(told_ft - denied_ft) <= _PACE_FT:
        update["stimp_ft"] = None
    return before.model_copy(update=update) if update else None


def as_it_lies(heard: Understanding, before: Situation) -> Situation:
    """What is told, where a lie is known already: called good, it is that lie still."""
    now = heard.situation
    if not heard.lies_well or before.lie is None:
        return now
    sitting = Sitting.UP if before.lie in (*_ROUGH, Lie.BUNKER) else None
    return now.model_copy(update={"lie": None, "sitting": sitting})


def without_its_own(before: Situation, now: Situation) -> Situation:
    """What was known without the bunker that was told with no place, where the ball is told to lie in one now."""
    if now.lie not in IN_SAND or before.lie in IN_SAND:
        return before
    placed = tuple(h for h in before.hazards if h.kind is not HazardKind.BUNKER or h.side or h.carry_m)
    return before.model_copy(update={"hazards": placed})


def still_gone(known: Known, heard: Understanding) -> frozenset[HazardKind]:
    """Trouble that was said not to be there, until it is told of."""
    told = {hazard.kind for hazard in heard.situation.hazards}
    return (known.gone | set(heard.gone)) - told


def without_gone(known: Known) -> Known:
    """What is known without the trouble that stays out, wherever it came from."""
    kept = tuple(hazard for hazard in known.situation.hazards if hazard.kind not in known.gone)
    if kept == known.situation.hazards:
        return known
    return known.changed(situation=known.situation.model_copy(update={"hazards": kept}))


def said_back(heard: Understanding, before: Situation, bag: Bag) -> str:
    """That something is taken out, or that what was told again is counted; nothing where neither is so."""
    out = _said_out(heard, before)
    if out:
        return ", ".join(out)
    # Of a putt nobody says again that it is one: its words are read as said on the green.
    putts = heard.situation.lie is Lie.GREEN and before.lie is Lie.GREEN
    now = heard.situation.model_copy(update={"pin_m": None, **({"lie": None} if putts else {})})
    named = heard.club or heard.swing or heard.family or heard.flight
    if named or not facts_of(now) or facts_of(news_of(now, before)):
        return ""
    told = situation_said(now, bag)
    return IS_COUNTED.format(what=told) if told else ""


def _said_out(heard: Understanding, before: Situation) -> list[str]:
    """What is said not to be so: what was known of it, or all where nothing else is told."""
    alone = heard.situation == Situation()
    after = taken_out(before, heard)
    known = {hazard.kind for hazard in before.hazards}
    if before.against is not after.against:
        known.add(HazardKind.WATER)
    said = [f"no {names_of(kind, before.hazards)}" for kind in heard.gone if alone or kind in known]
    if before.lie is not after.lie and heard.situation.lie is None and before.lie is not None:
        sand = "not plugged" if after.lie in IN_SAND else "not in the sand"
        said.append(sand if before.lie in IN_SAND else f"no {LIE_SAID[before.lie]}")
    if before.green.fall is not None and after.green.fall is None and heard.situation.green.fall is None:
        said.append("no fall of the green that way")
    if before.stance and not after.stance:
        said.append("no slope under your feet")
    if before.green.firmness is not None and after.green.firmness is None:
        said.append(f"green not {before.green.firmness.value}")
    return said
