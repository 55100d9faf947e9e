"""Two shots named, "wedge or fifty-two?": which one, by how much, and why in a few words."""

import re

from caddie.bag import Family
from caddie.errors import CaddieError
from caddie.plan.candidates import ANY, Only
from caddie.plan.choose import advise
from caddie.plan.option import Option
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import club_said, landing_short, rolled_said, shot_said
from caddie.reply.spoken import sentences, shortest
from caddie.reply.why import strokes_said
from caddie.talk import lines
from caddie.talk.as_said import PITCHING_WEDGE
from caddie.talk.asked import in_play, same_shot
from caddie.talk.compare import another, asked_for
from caddie.talk.state import Desk, Known, Said, no_shot
from caddie.talk.why_so import differences
from caddie.units import spoken_number
from caddie.words import Understanding, understand
from caddie.words.sayings import plain

_OR = re.compile(r"\b(?:or|versus|vs|against|and|with|between)\b|,")
_NAMED_WORDS = 3
_BARE_WEDGE = re.compile(r"^\W*(?:the |a |my )?wedge\b(?! shot)")


def either(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Both against each other, and which it is; of one that cannot be played from here, that it cannot."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    if plan.chosen.line is not None:
        return Said(known, lines.ON_THE_GREEN)
    found: list[tuple[Only, Option]] = []
    out: list[Only] = []
    for only in named_shots(heard.heard, desk)[:2]:
        try:
            found.append((only, advise(known.situation, desk.bag, seed=desk.seed, only=only).chosen))
        except CaddieError:
            out.append(only)
    if not found:
        return another(desk, known)
    (asked, best), *rest = sorted(found, key=lambda each: each[1].rank_score)
    if rest and same_shot(best, rest[0][1]):
        return Said(known, sentences([f"they come to one shot: {shot_said(best, desk.bag)}"]))
    if rest:
        against = _against(best, rest[0][1], desk)
    else:
        against = _cannot(out[0], desk) if out else ""
    named = f"{_called(asked, desk)}, {against}" if rest else ""
    shot = rolled_said(best, desk.bag) if best.family is Family.PUTT else shot_said(best, desk.bag)
    after_it = against if not rest else ""
    assert plan.situation.front_m is not None
    lands = "" if best.family is Family.PUTT else landing_short(best, plan.situation, desk.bag)
    spoken = shortest([[named, shot, lands, after_it], [named, shot, after_it], [named, after_it]])
    figures = [f"{best.strokes:.2f} strokes against {rest[0][1].strokes:.2f}"] if rest else []
    written = sentences([named, shot, lands, after_it, *figures])
    chosen = same_shot(best, plan.chosen)
    after = known.changed(
        spoken=spoken,
        short=sentences([shot]),
        question=None,
        other=None if chosen else best,
        supposed=None,
        verdict=against,
    )
    return Said(after, spoken, written=written)


def _against(best: Option, other: Option, desk: Desk) -> str:
    """ "By a tenth of a stroke: the fifty-six runs nine paces, not seven": how much better, than which, and why."""
    gap = other.strokes - best.strokes
    named = club_said(other, desk.bag) if other.club != best.club else shot_said(other, desk.bag)
    if abs(gap) < AS_GOOD:
        return f"by a whisker over the {named}: play the one you trust"
    by = f"by {strokes_said(gap)}"
    why = differences(other, best, desk.bag)[:1]
    return f"{by}: the {named} {why[0]}" if why else f"{by} over the {named}"


def _cannot(only: Only, desk: Desk) -> str:
    """Why what was asked about is no choice: it is not there, or it does not play from here."""
    if only.club and desk.bag.club_called(only.club) is None and not only.is_putting(desk.bag):
        return lines.NOT_IN_BAG.format(club=only.club)
    return f"{_called(only, desk)} does not play from here"


def _called(only: Only, desk: Desk) -> str:
    """What was asked about, as players call it: a club, or a kind of shot."""
    if only.is_putting(desk.bag):
        return "the putter"
    club = desk.bag.club_called(only.club) if only.club else None
    if club is not None and club.id.isdigit():
        return f"the {spoken_number(int(club.id))}"
    if club is not None:
        return f"the {club.name}"
    if only.family is not None:
        return f"the {only.family.value.replace('_', ' ')}"
    return f"the {only.flight.value} one" if only.flight is not None else "that one"


def named_shots(text: str, desk: Desk) -> list[Only]:
    """The clubs and kinds of shot named in a question, in order."""
    found = []
    for part in _OR.split(text.lower()):
        words = plain(_BARE_WEDGE.sub(PITCHING_WEDGE, part)).split()
        spans = (
            " ".join(words[start : start + size])
            for size in range(_NAMED_WORDS, 0, -1)
            for start in range(len(words) - size + 1)
        )
        named = [each for each in (_named(span, desk) for span in spans) if each != ANY]
        # A club outweighs a kind of shot that begins its name: "got my lob wedge".
        only = next((each for each in named if each.club), next(iter(named), None))
        if only is not None:
            found.append(only)
    return found


def _named(words: str, desk: Desk) -> Only:
    player = desk.bag.player
    return asked_for(understand(f"what about the {words}", unit=player.distances_in, pace_m=player.pace_m))
