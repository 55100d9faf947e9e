"""Turns in a competition: shots are kept and distances said back, nothing is recommended (Rule 4.3a(1)).

What would help with the stroke, the plan included, is not worked out at all here, so none of it can slip
into a reply.
"""

from caddie.log.shot import Mode
from caddie.reply.putt import putt_unit
from caddie.reply.situation import distance_said
from caddie.reply.spoken import sentences
from caddie.situation import Lie
from caddie.talk import lines
from caddie.talk.digits import digits, is_twin, twin_of
from caddie.talk.earlier import in_clauses
from caddie.talk.kinds import kind_said
from caddie.talk.planning import taken_in
from caddie.talk.played import result
from caddie.talk.state import Desk, Known, Said
from caddie.words import Intent, Understanding


def competition_turn(desk: Desk, known: Known, heard: Understanding) -> Said:
    """One turn of what is the same in no other mode."""
    kind = kind_said(heard, known)
    if kind is not None and not kind.advises:
        return kind.handle(desk, known, heard)
    if kind is not None:
        return Said(known, lines.COMPETITION_NO_ADVICE)
    heard = in_clauses(heard, desk.bag)
    match heard.intent:
        case Intent.SITUATION | Intent.PUTT | Intent.CORRECT:
            return noted(desk, known, heard)
        case Intent.RESULT:
            return result(desk, known, heard)
        case Intent.REPEAT:
            return Said(known, known.spoken or lines.COMPETITION_HELP)
        case Intent.HELP:
            return Said(known, lines.COMPETITION_HELP)
        case Intent.GREETING:
            return Said(known, lines.GREETING_MIDWAY)
        case Intent.OUT_OF_SCOPE:
            return Said(known, lines.OFF_TOPIC_MIDWAY)
        case _:
            return Said(known, lines.COMPETITION_NO_ADVICE)


def noted(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Distances said back as they were said; the rest is kept for the log and not read."""
    correcting = is_twin(heard.situation.pin_m, known)
    after = taken_in(known.changed(result=None) if correcting else known, heard)
    said = heard.situation
    twin_m = twin_of(heard, after.situation)
    parts = []
    if said.pin_m is not None:
        flag = distance_said(said.pin_m, after.situation, desk.bag)
        if twin_m is not None:
            unit = putt_unit(desk.bag) if after.situation.lie is Lie.GREEN else desk.bag.player.distances_in
            flag = f"{flag}, {digits(said.pin_m, unit, desk.bag)}"
        parts.append(f"{flag}, as you said")
    elif said.front_m is not None:
        parts.append(f"{distance_said(said.front_m, after.situation, desk.bag)} to the front, as you said")
    distances = f"{sentences(parts)} " if parts else ""
    spoken = lines.COMPETITION_NOTED.format(distances=distances)
    return Said(
        after.changed(
            spoken=spoken, short=spoken, twin_m=twin_m if said.pin_m is not None else known.twin_m, walk=None
        ),
        spoken,
        step=True,
    )


def into_competition(known: Known) -> Said:
    """Competition begun: of the shot, what is a fact or was written down is kept, and nothing advised."""
    kept = Known(
        day=known.day,
        situation=known.situation,
        sentence=known.sentence,
        shot_logged=known.shot_logged,
        result=known.result,
    )
    return Said(kept, lines.COMPETITION_ON, mode=Mode.COMPETITION)


def asked_on_leaving(leaving: int) -> str | None:
    """The question that stands while the player is leaving competition."""
    return {1: lines.CONFIRM_LEAVE, 2: lines.CONFIRM_AGAIN}.get(leaving)
