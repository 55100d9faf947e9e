"""Which of the wedges, whatever other club is in play: one of them by numbers, and how the next stands to it."""

from caddie.bag import ClubKind
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.trust import AS_GOOD
from caddie.reply.phrases import club_said, landing_short, shot_said
from caddie.reply.rivals import differences
from caddie.reply.spoken import sentences, shortest
from caddie.reply.why import strokes_said
from caddie.talk import lines
from caddie.talk.asked import in_play, same_shot
from caddie.talk.of_two import better_of, played_as_named
from caddie.talk.safe_shots import none_more
from caddie.talk.state import Desk, Known, Said
from caddie.talk.turned_down import without_the_putter
from caddie.words import Intent, Understanding


def which_wedge(desk: Desk, known: Known, clause: str) -> Said | None:
    """The best of the wedges from here; who says that it is to be chipped is offered no putter again."""
    plan, bag = in_play(known), desk.bag
    if plan is None or plan.chosen.line is not None:
        return None
    free = advise(known.situation, bag, seed=plan.seed, only=known.only)
    wedges = [Only(club=club.id) for club in bag.clubs if club.kind is ClubKind.WEDGE]
    found = [each.chosen for _, each in played_as_named(wedges, known.situation, bag, free)]
    if not found:
        return none_more(known, [lines.NO_OTHER])
    best = better_of(found, free)
    other = next((each for each in found if each.club != best.club), None)
    beside = ""
    if other is not None:
        gap, name = other.strokes - best.strokes, club_said(other, bag)
        why = differences(other, best, plan.situation, bag)[:1]
        beside = (
            f"the {name} is as good" if abs(gap) < AS_GOOD else f"the {name} costs {strokes_said(gap)} more"
        )
        beside = ": it ".join([beside, *why])
    shot, lands = shot_said(best, bag), landing_short(best, plan.situation, bag)
    spoken = shortest([[shot, lands, beside], [shot, lands, beside.partition(":")[0]], [shot, lands]])
    kept = None if same_shot(best, plan.chosen) else best
    after = known.changed(
        spoken=spoken, short=sentences([shot]), question=None, other=kept, supposed=None, verdict=beside
    )
    return Said(after, spoken, brief=sentences([shot, lands]), settles=True)


def chipped(desk: Desk, known: Known, clause: str) -> Said | None:
    """ "Putter, boring. I want to chip these": the shot without the putter."""
    return without_the_putter(desk, known, Understanding(heard=clause, intent=Intent.WHAT_IF))
