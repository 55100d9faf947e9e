"""Two shots named, "wedge or fifty-two?": which one, by how much, and why in a few words."""

from caddie.bag import Family
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.option import Option
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import club_said, landing_short, shot_said
from caddie.reply.rivals import differences
from caddie.reply.rolled import rolled_said
from caddie.reply.spoken import sentences, shortest
from caddie.reply.why import strokes_said
from caddie.situation import Situation
from caddie.talk import lines
from caddie.talk.asked import in_play, same_shot
from caddie.talk.compare import another, what_if
from caddie.talk.of_two import MOST_CHOSEN_FROM, better_of, played_as_named, shots_named
from caddie.talk.safe_shots import short_of_it, sideways
from caddie.talk.state import Desk, Known, Said, no_shot
from caddie.units import spoken_number
from caddie.words import Understanding
from caddie.words.alternatives import alternatives, listed
from caddie.words.gist import gists_of

_GENTLER = "gentler"
_SIDEWAYS, _LAID_UP = "sideways", ("short_of_it", "beside_it", "safer")


def either(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Both against each other, and which it is; of one that cannot be played from here, that it cannot."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    if plan.chosen.line is not None:
        return Said(known, lines.ON_THE_GREEN)
    between = alternatives(heard.heard) or listed(heard.heard)
    wished = {name for part in between for name in gists_of(part)}
    if _SIDEWAYS in wished:
        return sideways(desk, known, heard)
    shots = shots_named(between, desk.bag)
    if len(shots) < 2 and not wished.isdisjoint(_LAID_UP):
        return short_of_it(desk, known, heard)
    named = shots[:MOST_CHOSEN_FROM]
    free = advise(known.situation, desk.bag, seed=desk.seed)
    found = [(only, each.chosen) for only, each in played_as_named(named, known.situation, desk.bag, free)]
    out = [only for only in named if only not in [each for each, _ in found]]
    if not found:
        return another(desk, known)
    best = better_of([option for _, option in found], free)
    asked = next(only for only, option in found if option is best)
    rest = [each for each in found if each[1] is not best]
    if rest and same_shot(best, rest[0][1]):
        return Said(known, sentences([f"they come to one shot: {shot_said(best, desk.bag)}"]))
    if rest:
        against = _against(best, rest[0], plan.situation, desk)
    else:
        against = _cannot(out[0], desk) if out else ""
    opening = f"{_called(asked, desk)}, {against}" if rest else ""
    shot = shot_said(best, desk.bag)
    if best.family is Family.PUTT:
        rolled = rolled_said(best, desk.bag)
        shot = rolled if rest else f"{shot}, {rolled}"
    after_it = against if not rest else ""
    assert plan.situation.front_m is not None
    lands = "" if best.family is Family.PUTT else landing_short(best, plan.situation, desk.bag)
    spoken = shortest([[opening, shot, lands, after_it], [opening, shot, after_it], [opening, after_it]])
    figures = [f"{best.strokes:.2f} strokes against {rest[0][1].strokes:.2f}"] if rest else []
    written = sentences([opening, shot, lands, after_it, *figures])
    chosen = same_shot(best, plan.chosen)
    after = known.changed(
        spoken=spoken,
        short=sentences([shot]),
        question=None,
        other=None if chosen else best,
        supposed=None,
        verdict=against,
    )
    return Said(after, spoken, written=written, settles=True, brief=sentences([opening or after_it, shot]))


def asked_or_either(desk: Desk, known: Known, heard: Understanding) -> Said:
    """What if it were another club; with two of them named, "eight iron or the putter?", both against each other."""
    if heard.club and heard.swing is None and _GENTLER in gists_of(heard.heard):
        # "The sand wedge with a smaller swing": plain, and so square.
        heard = heard.model_copy(update={"face": heard.face or "square"})
    plan = in_play(known)
    new = heard.situation.model_copy(update={"lie": None}) != Situation()
    if plan is None or plan.chosen.line is not None or new:
        return what_if(desk, known, heard)
    two = len(shots_named(alternatives(heard.heard), desk.bag)) > 1
    return either(desk, known, heard) if two else what_if(desk, known, heard)


def _against(best: Option, second: tuple[Only, Option], there: Situation, desk: Desk) -> str:
    """ "By a tenth of a stroke: the fifty-six runs nine paces, not seven": how much better, than which, and why."""
    only, other = second
    gap = other.strokes - best.strokes
    named = club_said(other, desk.bag) if other.club != best.club else shot_said(other, desk.bag)
    if only.club is None and only.family is not None and other.family is not Family.PUTT:
        named = f"{only.family.value.replace('_', ' ')} with the {club_said(other, desk.bag)}"
    why = differences(other, best, there, desk.bag)[:1]
    if abs(gap) < AS_GOOD:
        return (
            f"by a whisker: the {named} {why[0]}"
            if why
            else f"by a whisker over the {named}: play the one you trust"
        )
    by = f"by {strokes_said(gap)}"
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
