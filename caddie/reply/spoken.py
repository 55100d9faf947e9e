"""The spoken reply: at most thirty words, in the order a caddie says them."""

from collections.abc import Sequence

from caddie.bag import Bag, Family
from caddie.plan.option import Plan
from caddie.plan.putt.green import fall_words
from caddie.reply.aim import aim_reason, aim_said, answers_trouble
from caddie.reply.cue import Cue
from caddie.reply.phrases import (
    ball_said,
    club_said,
    drop_said,
    flight_said,
    landing_said,
    landing_short,
    rolled_said,
    said,
    shot_said,
    stays_in_said,
    swing_said,
    trouble_said,
    trouble_that_matters,
)
from caddie.reply.putt import (
    TWO_BREAKS,
    pace_said,
    putt_unit,
    putt_versions,
    shapes_said,
    side_lacking_said,
    slope_said,
    start_said,
)
from caddie.situation import Fall, HazardKind, Lie, Side
from caddie.units import spoken_length, spoken_number

MOST_WORDS = 30


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

    When that is more than thirty words, where it lands is said shorter, and the least needed parts go: reasons
    first, then the tail of the cue and the landing; what is said of trouble and the aim goes last. A question comes
    last, and takes the place of the cue when there is no room for both.

    Args:
        distance: said instead of the plan's distance, as when its digits are spelt out.
        question: asked at the end.
        left_out: numbers as said that were not followed; said before the end while there are words left for it.
    """
    option, situation = plan.chosen, plan.situation
    left = left_out_said(left_out)
    if option.pace_m is not None:
        if question:
            return _before_the_end(_asking_about_putt(plan, bag, distance, question), left)
        return _before_the_end(_with_distance(shortest(putt_versions(plan, bag, cue)), distance), left)
    assert situation.pin_m is not None
    start, end = distance or said(situation.pin_m, bag), question or cue.say
    start = f"{start}. {drop}" if (drop := drop_said(situation)) else start
    if option.family is Family.PUTT:
        return _shortest_with(left, _from_off_the_green(plan, bag, f"{start}{_way_said(plan)}", end))
    return _shortest_with(left, _flown(plan, bag, start, end, before=cue.say if question else ""))


def _way_said(plan: Plan) -> str:
    """Up or down, when it was told of a putt from off the green."""
    green = plan.situation.green
    along = next((fall for fall in (green.fall, green.side_fall) if fall in (Fall.TOWARD, Fall.AWAY)), None)
    if plan.situation.lie is not Lie.FRINGE:
        return ""
    return shapes_said(plan.situation) + ("" if along is None else f", {fall_words(along)}")


def _from_off_the_green(plan: Plan, bag: Bag, start: str, end: str) -> list[list[str]]:
    """The putter from off the green, the longest version first."""
    option = plan.chosen
    named, rolled, aim = club_said(option, bag), rolled_said(option), aim_said(option, bag)
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
    aimed = ", ".join(filter(None, (aim, aim_reason(option, situation) if aim else "")))
    answered = bool(aim) and answers_trouble(option, situation)
    # Trouble at one side is named in the aim that keeps away from it; that part of the aim is not left out.
    aim = aimed if answered else aim
    if answered and hazard and hazard.side in (Side.LEFT, Side.RIGHT):
        hazard = None
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
    warned, flown = stays_in_said(option, situation), landing_said(option, situation, bag)
    trouble = warned or trouble
    named_alone = trouble.partition(",")[0]
    # The face and the ball position are part of the shot: without them the same swing goes elsewhere.
    swing = swing_said(option).removeprefix("hands ")
    brief = f"{named}, {', '.join(filter(None, (flight_said(option), swing)))}"
    curt = brief.replace("of a full swing", "of full")
    # A question is asked whole; of a cue the beginning does.
    soon = end if end.endswith("?") else end.partition(":")[0]
    sooner = end if end.endswith("?") else soon.partition(",")[0]
    cued = [[start, club, landing, aimed, trouble, before], [start, club, short, aimed, trouble, before]]
    return [
        *([[*parts, end] for parts in cued] if before else []),
        [start, club, landing, aimed, trouble, end],
        [start, club, short, aimed, trouble, end],
        [start, club, short, aimed, trouble, soon],
        [start, brief, short, aimed, named_alone, soon],
        [start, brief, short, aimed, named_alone, sooner],
        [start, club, short, aim, named_alone, end],
        *_keeping_trouble(start, brief, (short, flown), aim, named_alone, soon),
        *_keeping_trouble(start, brief, (short, flown, short.partition(",")[0]), aim, named_alone, sooner),
        *(
            [[start, brief, aim, named_alone, *told] for told in ([before, end], [sooner])]
            if trouble or answered
            else []
        ),
        *([[start, brief, flown, aim, warned, end]] if warned else []),
        [start, club, landing, aim, end],
        [start, club, short, aim, end],
        *([[start, brief, way, aim, end] for way in (short, flown)] if aim else []),
        *_curt(start, (club, brief, curt), (short, flown), end),
        [start, brief.replace(named, option.club), short, end],
        [start, brief.replace(named, option.club), end],
        [option.club, end],
    ]


def _curt(start: str, shots: tuple[str, str, str], ways: tuple[str, str], end: str) -> list[list[str]]:
    """The shot and its landing alone, in ever fewer words."""
    club, brief, curt = shots
    return [[start, club, ways[0], end], *([start, shot, way, end] for shot in (brief, curt) for way in ways)]


def _keeping_trouble(
    start: str, brief: str, ways: Sequence[str], aim: str, trouble: str, end: str
) -> list[list[str]]:
    """Versions that leave out of club, landing and cue what the ear can spare before the trouble or its answer."""
    if not (trouble or aim):
        return []
    return [[start, brief, way, aim, trouble, end] for way in ways]


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


def _asking_about_putt(plan: Plan, bag: Bag, distance: str, question: str) -> str:
    option, situation = plan.chosen, plan.situation
    assert situation.pin_m is not None
    length = distance or spoken_length(situation.pin_m, putt_unit(bag))
    line, pace = start_said(option), pace_said(option, situation, putt_unit(bag))
    if (told := side_lacking_said(situation)) and option.line is not None:
        # Without its side a told break has no line yet.
        line, question = "", f"{told}: {question[:1].lower()}{question[1:]}"
    return shortest(
        [
            *([[length, line, pace, TWO_BREAKS, question]] if situation.green.double_break else []),
            [f"{length}{slope_said(situation)}", line, pace, question],
            [length, line, pace, question],
            [length, line, question],
            [line, question] if line else [length, question],
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
