"""The spoken reply: at most thirty words, in the order a caddie says them."""

from collections.abc import Sequence

from caddie.bag import Bag, Family
from caddie.plan.option import Plan
from caddie.plan.putt.green import fall_words
from caddie.plan.trust import stays_in
from caddie.reply.cue import Cue
from caddie.reply.obstacles import first_said
from caddie.reply.phrases import (
    HAZARD_SAID,
    aim_said,
    ball_said,
    club_said,
    flight_said,
    landing_said,
    landing_short,
    lip_said,
    mud_said,
    rolled_said,
    said,
    shot_said,
    stays_in_said,
    swing_said,
    toward_middle,
    trouble_said,
    trouble_that_matters,
)
from caddie.reply.putt import TWO_BREAKS, pace_said, putt_unit, putt_versions, slope_said, start_said
from caddie.situation import Fall, HazardKind, Lie, Side, Situation
from caddie.units import spoken_length, spoken_number

MOST_WORDS = 30
OFTEN = 0.35
"""A ball that stays in the sand so often is told of the way out sideways too."""


def speak(
    plan: Plan,
    bag: Bag,
    cue: Cue,
    *,
    distance: str = "",
    question: str = "",
    left_out: Sequence[str] = (),
) -> str:
    """Distance as understood, club, swing, landing and run, the trouble that matters, the cue.

    When that is more than thirty words, where it lands is said shorter, and the least needed parts go: the
    trouble first, then the aim. A question comes last, and takes the place of the cue when there is no room for both.

    Args:
        distance: said instead of the plan's distance, as when its digits are spelt out.
        question: asked at the end.
        left_out: numbers as said that were not followed; said before the end while there are words left for it.
    """
    option, situation = plan.chosen, plan.situation
    left = left_out_said(left_out)
    first = first_said(situation)
    if option.pace_m is not None:
        cue = cue.model_copy(update={"say": first}) if first else cue
        if question:
            return _before_the_end(_asking_about_putt(plan, bag, distance, question, first), left)
        return _before_the_end(_with_distance(shortest(putt_versions(plan, bag, cue)), distance), left)
    assert situation.pin_m is not None
    start, end = distance or said(situation.pin_m, bag), question or cue.say
    if option.family is Family.PUTT:
        start = _then(f"{start}{_way_said(plan)}", first)
        return _shortest_with(left, _from_off_the_green(plan, bag, start, end))
    before = cue.say if question and not first else ""
    versions = _flown(plan, bag, _then(start, first), end, before=before)
    return _shortest_with(left, _rather_than_the_cue(versions) if first and not question else versions)


def _then(start: str, first: str) -> str:
    return f"{start}. {first[:1].upper()}{first[1:]}" if first else start


def _rather_than_the_cue(versions: list[list[str]]) -> list[list[str]]:
    """The versions with those that keep all but the cue before those that leave out where the ball lands."""
    whole = [parts for parts in versions if len(parts) > 3]
    return [*whole, *(parts[:-1] for parts in whole[-8:]), *versions[len(whole) :]]


def opening(situation: Situation, bag: Bag, distance: str = "") -> str:
    """The sentence with which advice for this will begin, before it is planned; nothing where the shot decides.

    Where the whole reply would be too long it begins without.
    """
    if situation.pin_m is None or situation.lie is Lie.FRINGE:
        return ""
    if situation.lie is Lie.GREEN:
        return sentences(
            [f"{distance or spoken_length(situation.pin_m, putt_unit(bag))}{slope_said(situation)}"]
        )
    return sentences([distance or said(situation.pin_m, bag)])


def _way_said(plan: Plan) -> str:
    """Up or down, when it was told of a putt from off the green."""
    green = plan.situation.green
    along = next((fall for fall in (green.fall, green.side_fall) if fall in (Fall.TOWARD, Fall.AWAY)), None)
    return "" if along is None or plan.situation.lie is not Lie.FRINGE else f", {fall_words(along)}"


def _from_off_the_green(plan: Plan, bag: Bag, start: str, end: str) -> list[list[str]]:
    """The putter from off the green, the longest version first."""
    option = plan.chosen
    named, rolled, aim = club_said(option, bag), rolled_said(option, bag), aim_said(option, bag)
    return [
        [start, named, aim, rolled, end] if aim else [start, f"{named}, {rolled}", end],
        [start, f"{named}, {rolled}", end],
        [start, option.club, end],
        [option.club, end],
    ]


def _flown(plan: Plan, bag: Bag, start: str, end: str, *, before: str) -> list[list[str]]:
    """A shot through the air, the longest version first; the cue ``before`` a question while there is room."""
    option, situation = plan.chosen, plan.situation
    hazard = trouble_that_matters(situation)
    club, named, aim = shot_said(option, bag), club_said(option, bag), aim_said(option, bag)
    mud = mud_said(situation)
    aimed = f"{mud}: {aim}" if mud and aim else aim or mud
    aim = f"{mud.partition(',')[0]}, {aim}" if mud and aim else aim
    if aim and not mud and not hazard and toward_middle(option, situation):
        aimed = f"{aim}, toward the middle of the green"
    landing, short = ball_said(option, situation, bag), landing_short(option, situation, bag)
    trouble = trouble_said(hazard, option, situation, bag) if hazard else ""
    if (
        hazard
        and hazard.kind is HazardKind.TIER
        and trouble.startswith(("runs ", "comes "))
        and option.run_m > 0
    ):
        # "It runs fifteen paces up the tier": the words that name it belong to the run.
        over = " ".join(trouble.split()[1:])
        landing, short, trouble = f"{landing} {over}", f"{short} {over}", ""
    warned, flown = _stays_in(plan), landing_said(option, situation, bag)
    trouble = warned or trouble or lip_said(option, situation)
    named_alone = warned or trouble.partition(",")[0]
    # The face and the ball position are part of the shot: without them the same swing goes elsewhere.
    swing = swing_said(option).removeprefix("hands ")
    brief = ", ".join(filter(None, (flight_said(option), swing)))
    curt = brief.replace("of a full swing", "of full")
    cued = [[start, club, landing, aimed, trouble, before], [start, club, short, aimed, trouble, before]]
    return [
        *([[*parts, end] for parts in cued] if before else []),
        [start, club, landing, aimed, trouble, end],
        [start, club, short, aimed, trouble, end],
        [start, club, short, aim, named_alone, end],
        *([[start, f"{named}, {brief}", short, aim, named_alone, end]] if trouble else []),
        *([[start, f"{named}, {brief}", flown, aim, warned, end]] if warned else []),
        *([[start, f"{named}, {brief}", aim, warned, end]] if warned and stays_in(option) >= OFTEN else []),
        [start, club, landing, aim, end],
        [start, club, short, aim, end],
        *([[start, f"{named}, {brief}", way, aim, end] for way in (short, flown)] if aim else []),
        [start, club, short, end],
        [start, f"{named}, {brief}", short, end],
        [start, f"{named}, {brief}", flown, end],
        [start, f"{named}, {curt}", short, end],
        [start, f"{named}, {curt}", flown, end],
        [start, f"{option.club}, {brief}", short, end],
        [start, f"{option.club}, {brief}", end],
        [option.club, end],
    ]


def _stays_in(plan: Plan) -> str:
    """The warning of a ball that often stays in the sand, and what else there is then."""
    option, situation = plan.chosen, plan.situation
    warned = stays_in_said(option, situation)
    if not warned:
        return ""
    behind = trouble_that_matters(situation)
    if behind is not None and behind.side is Side.LONG:
        return f"{warned}, {HAZARD_SAID[behind.kind]} behind"
    aside = stays_in(option) >= OFTEN and any(each.sideways for each in plan.options)
    return f"{warned}; or out sideways" if aside else warned


def left_out_said(left_out: Sequence[str]) -> str:
    """Names the numbers that were not followed, so that the player can say them again.

    >>> left_out_said(["15", "six feet"]), left_out_said([])
    ('I left out the fifteen and the six feet', '')
    """
    named = " and ".join(f"the {_in_words(words.removeprefix('a '))}" for words in left_out)
    return f"I left out {named}" if named else ""


def _in_words(text: str) -> str:
    return " ".join(spoken_number(int(w)) if w.isdecimal() and len(w) <= 3 else w for w in text.split())


def _shortest_with(left: str, versions: list[list[str]]) -> str:
    """The first version that has room for what was left out, or else the first that can be said without."""
    told = [[*parts[:-1], left, parts[-1]] for parts in versions[:-1]] if left else []
    spoken = (sentences(parts) for parts in told)
    fitting = next((text for text in spoken if len(text.split()) <= MOST_WORDS), None)
    return fitting or shortest(versions)


def _before_the_end(spoken: str, left: str) -> str:
    first, stop, last = spoken.rpartition(". ")
    return shortest([[f"{first}{stop}{left}. {last}"], [spoken]]) if left and stop else spoken


def _with_distance(spoken: str, distance: str) -> str:
    """The length as it was just said in place of the plain one, when there are words left for it."""
    if not distance:
        return spoken
    first, stop, rest = spoken.partition(".")
    slopes = ",".join(first.split(",")[1:])
    versions = [f"{distance}{f',{slopes}' if slopes else ''}", distance]
    return shortest([[f"{version}{stop}{rest}"] for version in versions] + [[spoken]])


def _asking_about_putt(plan: Plan, bag: Bag, distance: str, question: str, first: str) -> str:
    option, situation = plan.chosen, plan.situation
    assert situation.pin_m is not None
    length = distance or spoken_length(situation.pin_m, putt_unit(bag))
    line, pace = start_said(option, putt_unit(bag)), pace_said(option, situation, putt_unit(bag))
    return shortest(
        [
            *([[length, line, pace, TWO_BREAKS, question]] if situation.green.double_break else []),
            [f"{length}{slope_said(situation)}", line, pace, first, question],
            [length, line, pace, first, question],
            [length, line, first, question],
            [length, line, question],
            [line, question],
        ]
    )


def shortest(versions: list[list[str]]) -> str:
    """The first version that can be said in thirty words, or else the last."""
    spoken = [sentences(parts) for parts in versions]
    return next((text for text in spoken if len(text.split()) <= MOST_WORDS), spoken[-1])


def sentences(parts: list[str]) -> str:
    """Join the parts as short sentences, each with its capital and its stop.

    >>> sentences(["seventy yards", "", "full swing", "soft or firm?"])
    'Seventy yards. Full swing. Soft or firm?'
    """
    kept = [part.strip() for part in parts if part.strip()]
    return " ".join(f"{part[:1].upper()}{part[1:]}{'' if part[-1] in '.?!' else '.'}" for part in kept)
