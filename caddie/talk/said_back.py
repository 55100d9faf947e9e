"""A figure of the last reply said back in wonder or doubt is answered: what it is, and of a chance the way out."""

import re

from caddie.bag import Bag, ClubKind, Family
from caddie.plan.option import Plan
from caddie.reply.aim import aim_said
from caddie.reply.phrases import landing_said, landing_short, run_said, small, stays_in_said, times_in_ten
from caddie.reply.putt import pace_said, putt_unit, start_said
from caddie.reply.spoken import shortest
from caddie.talk import lines, why_so
from caddie.talk.by_topic import asks_by_topic
from caddie.talk.question import HOW_FAR
from caddie.talk.state import ASKED_OF_THE_SHOT, Known, Said
from caddie.words import understand_turn
from caddie.words.echoes import CHANCE, Echo, Figure, echo_in, figures_in
from caddie.words.sayings import compared, says

_SENTENCE = re.compile(r"\S.*?[.?!](?=\s|$)")


def said_back(text: str, known: Known, bag: Bag) -> Echo | None:
    """The figure of the last reply that the turn begins by saying back; the number of a club is asked as a club."""
    if (known.plan is None and not known.played) or asks_by_topic(known, text):
        return None
    if known.other is not None and says(text, why_so.DOUBT_COST):
        return None
    if _IF in compared(text)[:3]:
        # "And if it was sixty?" supposes a number, whatever has it in the reply.
        return None
    spoken, _, written = known.replied.partition("\n")
    asked = known.question is not None and known.question.field == HOW_FAR
    found = echo_in(text, spoken, asked=asked, swung=known.swung)
    if found is None and len(compared(text)) > 1:
        # "Half?" is no share that was only written.
        found = echo_in(text, written, asked=asked, swung=known.swung)
    if found is None or (found.figure.unit is None and _is_a_club(found.figure, text, bag)):
        return None
    return found


_IF = "if"


def _is_a_club(figure: Figure, text: str, bag: Bag) -> bool:
    """Whether the number is a club's: a loft, or "the nine" of an iron that is in the bag."""
    if any(club.loft_deg == figure.value for club in bag.clubs if club.kind is not ClubKind.PUTTER):
        return True
    return _THE in compared(text) and bag.club_called(f"{figure.value:.0f} iron") is not None


_THE = "the"


def answered(echo: Echo, known: Known, bag: Bag) -> Said:
    """The sentence that the figure stood in, once more, and its reason or what it counts."""
    spoken, _, written = known.replied.partition("\n")
    said = next(
        (part for part in (*_SENTENCE.findall(spoken), *written.splitlines()) if _holds(part, echo.figure)),
        spoken,
    )
    label, colon, after = said.partition(": ")
    told = (after if colon and len(label.split()) == 1 else said).strip().rstrip(".")
    if said not in spoken:
        # A line that was only written is a list: what was asked about is one thing of it.
        told = next((part for part in _LISTED.split(told) if _holds(part, echo.figure)), told)
    told = small(told).removeprefix("yes, ")
    yes, meant = f"yes, {told}", list[str]()
    if known.plan is not None and not known.played:
        if why := _of_a_length(told, known.plan, bag):
            return Said(known, shortest([[told, *why], [told, *why[:1]], [told]]), intent=ASKED_OF_THE_SHOT)
        if echo.figure.unit == CHANCE:
            # A ball that the same turn tells the end of is played: no other shot is looked for.
            hit = any(part.result is not None for part in understand_turn(echo.rest)) if echo.rest else False
            flown = known.plan.chosen.make is None and not hit
            meant = _of_a_chance(told, known.plan, bag) or ([lines.CHANCE_MEANS] if flown else [])
    return Said(known, shortest([[yes, *meant], [yes]]), intent=ASKED_OF_THE_SHOT, brief="")


def _of_a_chance(told: str, plan: Plan, bag: Bag) -> list[str]:
    """What balls a chance counts, and where others go: of a ball left in its sand, and of those on the green."""
    option, there = plan.chosen, plan.situation
    stays = stays_in_said(option, there)
    if stays and stays in told:
        over = f"over the back {times_in_ten(option.through_green)}"
        return [lines.LEFT_IN_IT, over if option.through_green >= SEEN_OVER else ""]
    return why_so.odds(plan, bag)[:1] if "finds the green" in told else []


SEEN_OVER = 0.05
"""A ball over the back that is seldomer is not told of beside those that stay in the sand."""


def _of_a_length(told: str, plan: Plan, bag: Bag) -> list[str]:
    """The reason of a length that was told of the shot: where it lands, how far it runs, its line or its pace."""
    option, there = plan.chosen, plan.situation
    if option.line is not None:
        unit = putt_unit(bag)
        if _begins_alike(told, start_said(option, unit)):
            return why_so.line(plan, bag)[1:]
        return why_so.pace(plan, bag)[:1] if _begins_alike(told, pace_said(option, there, unit)) else []
    if option.family is Family.PUTT:
        return why_so.pace(plan, bag)[:1]
    if _begins_alike(told, landing_short(option, there, bag)) or _begins_alike(
        told, landing_said(option, there, bag)
    ):
        why = why_so.land(plan, bag)
        why = [each.removeprefix("and ") for each in why]
        return why[1:] if run_said(option, bag) in told or ", runs" in told else why
    aimed = aim_said(option, bag)
    return why_so.line(plan, bag)[1:] if aimed and _begins_alike(told, aimed) else []


def _begins_alike(told: str, own: str) -> bool:
    return small(told).startswith(small(own).partition(",")[0])


_LISTED = re.compile(r"[,;] ")


def _holds(part: str, figure: Figure) -> bool:
    return any(figure.is_of(each) for each in figures_in(part))


def replied(said: Said, before: Known) -> str:
    """The last reply for figures to be found in: what is said between two plans stands beside the plan's own."""
    spoken, _, written = before.replied.partition("\n")
    if said.advice is not None or said.known.plan is not before.plan:
        return f"{said.spoken}\n{said.written or ''}"
    kept = spoken if len(spoken) < LONGEST_KEPT else ""
    return f"{said.spoken} {kept}\n{said.written or ''}\n{written}"[: 2 * LONGEST_KEPT]


LONGEST_KEPT = 800
"""Letters of what was said since the shot was planned."""
