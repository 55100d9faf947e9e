"""The spoken reply: at most thirty words to one thing, in the order a caddie says them."""

from collections.abc import Sequence

from caddie.bag import Bag, Family
from caddie.plan.called import name_of
from caddie.plan.lip import is_under_a_wall
from caddie.plan.option import Option, Plan
from caddie.plan.putt.green import fall_words
from caddie.plan.trust import is_offered, stays_in
from caddie.reply.aim import aim_reason, aim_said, answers_trouble, is_worth_saying
from caddie.reply.cue import Cue
from caddie.reply.obstacles import after_the_drop_said, better_dropped_said, first_said, stuck_said
from caddie.reply.phrases import (
    WARN_CAUGHT,
    ball_said,
    caught_said,
    club_said,
    flag_said,
    flight_said,
    landing_said,
    landing_short,
    lip_said,
    mud_said,
    picked_said,
    said,
    shot_said,
    small,
    stays_in_said,
    swing_said,
    trouble_said,
    trouble_that_matters,
)
from caddie.reply.putt import (
    line_told,
    minded_said,
    pace_said,
    putt_unit,
    putt_versions,
    shapes_said,
    side_lacking_said,
    slope_said,
)
from caddie.reply.rolled import rolled_said
from caddie.reply.second_danger import behind_too_said
from caddie.reply.start import start_said
from caddie.situation import Fall, Hazard, HazardKind, Lie, Side, Situation
from caddie.units import Unit, spoken_length, spoken_number

MOST_WORDS = 30
MORE_WORDS = 15
"""So many more may answer what is told or asked beside the first thing."""
OFTEN = 0.35
"""A ball that stays in the sand so often is told of the way out sideways too."""
ON_ITS_WAY_M = 4.0
"""A ball that comes to rest so far before the green is not meant for it."""
OFTEN_CAUGHT = 0.25
"""So is one that trees catch so often."""


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
        question: asked at the end, or what is told there of another shot, which may be cut at its colon.
        left_out: numbers as said that were not followed; said before the end while there are words left for it.
    """
    option, situation = plan.chosen, plan.situation
    left = left_out_said(left_out)
    first = better_dropped_said(situation) if plan.dropped else first_said(situation)
    if option.pace_m is not None:
        cue = cue.model_copy(update={"say": first}) if first else cue
        if question:
            return _before_the_end(_asking_about_putt(plan, bag, distance, question, first), left)
        return _before_the_end(_with_distance(shortest(putt_versions(plan, bag, cue)), distance), left)
    assert situation.pin_m is not None
    start, end = distance or start_said(plan, bag, curt=bool(first)), question or cue.say
    if option.family is Family.PUTT:
        start = _then(f"{start}{_way_said(plan)}", first)
        return _shortest_with(left, _from_off_the_green(plan, bag, start, end))
    before = cue.say if question else ""
    versions = _flown(plan, bag, _then(start, first), end, before=before, whole=question.endswith("?"))
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
    return sentences([distance or flag_said(situation.pin_m, bag)])


def _way_said(plan: Plan) -> str:
    """Up or down, when it was told of a putt from off the green."""
    green = plan.situation.green
    along = next((fall for fall in (green.fall, green.side_fall) if fall in (Fall.TOWARD, Fall.AWAY)), None)
    if plan.situation.lie is not Lie.FRINGE:
        return shapes_said(plan.situation)
    return shapes_said(plan.situation) + ("" if along is None else f", {fall_words(along)}")


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


def _aims(option: Option, situation: Situation, bag: Bag) -> tuple[str, str, bool]:
    """Where to aim, the same with its reason, and whether that names the trouble at one side."""
    aim, mud = aim_said(option, bag), mud_said(situation)
    # In wind it takes the flight to tell, so it is asked for once.
    reason = aim_reason(option, situation, bag) if aim else ""
    aim = aim if is_worth_saying(option, reason) else ""
    why = reason if aim and not mud else ""
    aimed = f"{mud}: {aim}" if mud and aim else ", ".join(filter(None, (aim, why))) or mud
    aim = f"{mud.partition(',')[0]}, {aim}" if mud and aim else aim
    return aim, aimed, bool(aim) and answers_trouble(reason)


def _flown(plan: Plan, bag: Bag, start: str, end: str, *, before: str, whole: bool) -> list[list[str]]:
    """A shot through the air, the longest version first; the cue ``before`` a question while there is room."""
    option, situation = plan.chosen, plan.situation
    hazard, dropped = _trouble_of(option, situation), after_the_drop_said(plan)
    bare = f"{dropped}{option.club}"
    club, named = f"{dropped}{shot_said(option, bag)}", f"{dropped}{club_said(option, bag)}"
    aim, aimed, answered = _aims(option, situation, bag)
    # Trouble at one side is named in the aim that keeps away from it; that part of the aim is not left out.
    aim = aimed if answered else aim
    if answered and hazard and hazard.side in (Side.LEFT, Side.RIGHT):
        hazard = None
    landing, short = ball_said(option, situation, bag), landing_short(option, situation, bag)
    if on_its_way := on_its_way_said(option, situation, bag):
        landing, short = f"{landing}, {on_its_way}", f"{short}, {on_its_way}"
    trouble = trouble_said(hazard, option, situation, bag) if hazard else ""
    if option.lay_up and hazard:
        trouble = _going_said(plan, hazard) or trouble
    if hazard and _is_run_up(hazard, option, trouble):
        over = " ".join(trouble.split()[1:])
        landing, short, trouble = f"{landing} {over}", f"{short} {over}", ""
    warned, flown = _stays_in(plan) or stuck_said(option, situation), landing_said(option, situation, bag)
    trouble = warned or trouble or picked_said(option, situation) or lip_said(option, situation)
    named_alone = warned or (trouble if option.lay_up else trouble.partition(",")[0])
    if hazard and not warned:
        trouble += _of_the_trees(plan, hazard)
    # The face and the ball position are part of the shot: without them the same swing goes elsewhere.
    swing = swing_said(option).removeprefix("hands ")
    brief = f"{named}, {', '.join(filter(None, (flight_said(option), swing)))}"
    curt = brief.replace("of a full swing", "of full")
    # A question is asked whole, and another shot told whole; of a cue the beginning does.
    soon = end if whole else end.partition(":")[0]
    sooner = end if whole else soon.partition(",")[0]
    cued = [[start, club, landing, aimed, trouble, before], [start, club, short, aimed, trouble, before]]
    return [
        *_between_two((start, club, landing, short, aimed, trouble, end, soon), hazard, situation),
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
        *([[start, brief, aim, warned, end]] if warned and stays_in(option) >= OFTEN else []),
        [start, club, landing, aim, end],
        [start, club, short, aim, end],
        *([[start, brief, way, aim, end] for way in (short, flown)] if aim else []),
        *_curt(start, (club, brief, curt), (short, flown), end, whole=whole),
        [start, brief.replace(named, bare), short, end],
        [start, brief.replace(named, bare), end],
        [bare, end],
    ]


def _between_two(parts: Sequence[str], hazard: Hazard | None, situation: Situation) -> list[list[str]]:
    """The versions that name what waits behind beside the trouble before it; none where nothing does."""
    start, club, landing, short, aimed, trouble, end, soon = parts
    behind = behind_too_said(hazard, situation)
    both = ", ".join(filter(None, (trouble, behind)))
    ways = ((landing, end), (short, end), (short, soon))
    return [[start, club, way, aimed, both, last] for way, last in ways] if behind else []


def _trouble_of(option: Option, situation: Situation) -> Hazard | None:
    """The one trouble to name of a shot: what catches it oftenest where that is often, or what matters on the way."""
    usual = trouble_that_matters(situation)
    often = {name: share for name, share in option.trouble.items() if share >= WARN_CAUGHT}
    caught = [each for each in situation.hazards if caught_said(each, option, situation)]
    if not caught or (usual in caught and option.caught_by(usual.kind) >= max(often.values())):
        return usual
    return max(caught, key=lambda each: option.caught_by(each.kind))


def on_its_way_said(option: Option, situation: Situation, bag: Bag) -> str:
    """What a shot that is not to reach the green leaves to the flag; nothing of one that is laid up, or reaches it."""
    assert situation.front_m is not None and situation.pin_m is not None
    if option.lay_up or option.sideways or option.turned:
        return ""
    rolled_m = option.carry_m + option.run_m
    if rolled_m > situation.front_m - ON_ITS_WAY_M:
        return ""
    left = said(situation.pin_m - rolled_m, bag, option.run_m)
    return f"leaves {left if left.startswith('a ') else left.rpartition(' ')[0]}"


def _of_the_trees(plan: Plan, hazard: Hazard) -> str:
    """What goes with the odds of trees: the height that was taken for them, and the way out sideways."""
    if hazard.kind is not HazardKind.TREES or not caught_said(hazard, plan.chosen, plan.situation):
        return ""
    high_m = plan.assumed.get("tree_height_m")
    high = f" if {spoken_length(high_m, Unit.FEET)} high" if high_m else ""
    often = plan.chosen.trouble.get("trees", 0.0) >= OFTEN_CAUGHT
    return high + ("; or out sideways" if often and _aside_is_near(plan) else "")


def _aside_is_near(plan: Plan) -> bool:
    """Whether the way out sideways costs so little more that it is offered."""
    return any(each.sideways and is_offered(each, plan.chosen) for each in plan.options)


def _going_said(plan: Plan, hazard: Hazard) -> str:
    """What going for it finds in place of a lay-up, where it finds it often."""
    going = next((option for option in plan.options if not (option.lay_up or option.sideways)), None)
    odds = caught_said(hazard, going, plan.situation) if going is not None else ""
    return f"going for it, {name_of(hazard)} {odds}" if odds else ""


def _is_run_up(hazard: Hazard, option: Option, trouble: str) -> bool:
    """ "It runs fifteen paces up the tier": the words that name it belong to the run."""
    return hazard.kind is HazardKind.TIER and trouble.startswith(("runs ", "comes ")) and option.run_m > 0


def _stays_in(plan: Plan) -> str:
    """The warning of a ball that often stays in the sand, and what else there is then."""
    option, situation = plan.chosen, plan.situation
    warned = stays_in_said(option, situation)
    if not warned:
        return ""
    if is_under_a_wall(situation):
        warned = f"{warned} and may come back at you"
    behind = trouble_that_matters(situation)
    if behind is not None and behind.side is Side.LONG:
        warned = f"{warned}, {name_of(behind)} behind"
    aside = stays_in(option) >= OFTEN and _aside_is_near(plan)
    return f"{warned}; or out sideways" if aside else warned


def _curt(
    start: str, shots: tuple[str, str, str], ways: tuple[str, str], end: str, *, whole: bool
) -> list[list[str]]:
    """The shot and its landing alone, in ever fewer words; without its landing where the end is said ``whole``."""
    club, brief, curt = shots
    landed = [[start, shot, way, end] for shot in (brief, curt) for way in ways]
    return [
        [start, club, ways[0], end],
        *landed,
        *([[start, club, end], [start, brief, end]] if whole else []),
    ]


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


def _asking_about_putt(plan: Plan, bag: Bag, distance: str, question: str, first: str) -> str:
    option, situation = plan.chosen, plan.situation
    assert situation.pin_m is not None
    length = distance or spoken_length(situation.pin_m, putt_unit(bag))
    line, pace = line_told(plan, putt_unit(bag)), pace_said(option, situation, putt_unit(bag))
    minded = minded_said(situation)
    if (told := side_lacking_said(situation)) and option.line is not None:
        # Without its side a told break has no line yet.
        line, question = "", f"{told}: {small(question)}"
    return shortest(
        [
            *([[length, line, pace, minded, question]] if minded else []),
            [f"{length}{slope_said(situation)}", line, pace, first, question],
            [length, line, pace, first, question],
            [length, line, first, question],
            [length, line, question],
            [line, question] if line else [length, question],
        ]
    )


def most_words(things: int) -> int:
    """Words that a reply to so many things may have: thirty hold one thing, and cut the answers to several.

    >>> most_words(1), most_words(2), most_words(4)
    (30, 45, 45)
    """
    return MOST_WORDS if things <= 1 else MOST_WORDS + MORE_WORDS


def shortest(versions: list[list[str]], things: int = 1) -> str:
    """The first version that can be said in the words there are for so many things, or else the last."""
    spoken = [sentences(parts) for parts in versions]
    return next((text for text in spoken if len(text.split()) <= most_words(things)), spoken[-1])


def sentences(parts: list[str]) -> str:
    """Join the parts as short sentences, each with its capital and its stop.

    >>> sentences(["seventy yards", "", "full swing", "soft or firm?"])
    'Seventy yards. Full swing. Soft or firm?'
    """
    kept = [part.strip() for part in parts if part.strip()]
    return " ".join(f"{part[:1].upper()}{part[1:]}{'' if part[-1] in '.?!' else '.'}" for part in kept)
