"""Beginning again: from nothing, from the facts told, or from the shot advised; each says what stands now."""

from dataclasses import replace

from caddie.plan.candidates import ANY
from caddie.reply.situation import situation_said
from caddie.reply.spoken import sentences, shortest
from caddie.talk import lines
from caddie.talk.about import kept_to
from caddie.talk.lasts import Step, carried_on
from caddie.talk.planning import planned
from caddie.talk.state import Desk, Known, Said
from caddie.words import Understanding


def anew(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Start again": nothing of the shot stands, only what is of the day."""
    step = Step.NEXT_HOLE if known.hole_over else Step.ANOTHER_SHOT
    after = known.afresh(situation=carried_on(known.situation, step))
    still = situation_said(after.situation, desk.bag)
    said = sentences(
        [lines.FROM_THE_START, lines.STILL.format(what=still) if still else "", lines.FIRST_SIGHT]
    )
    return Said(after.changed(spoken=said, short=said), said, step=True)


def reopened(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Think again": the facts stand, and every club may be chosen."""
    after = known.changed(only=ANY, other=None, supposed=None, question=None)
    return planned(desk, after, heard, lead=lines.ALL_CLUBS_AGAIN)


def as_it_was(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "Back to how it was": the shot as advised, with the facts it stands on."""
    said = kept_to(lines.AS_IT_WAS)(desk, known, heard)
    facts = situation_said(known.situation, desk.bag)
    if said.brief is None or not facts:
        return said
    whole = [f"{lines.AS_IT_WAS}: {facts}", said.known.short]
    return replace(said, spoken=shortest([whole, [said.spoken]]), written=sentences(whole))
