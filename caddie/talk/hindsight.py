"""What was played, looked back on: what should have been, whether the choice was right, and questions why it went so.

None of it tells a result, and none is written down.
"""

import re
from dataclasses import replace

from caddie.errors import CaddieError
from caddie.reply.phrases import club_said, small
from caddie.reply.spoken import sentences, shortest
from caddie.situation import Lie
from caddie.talk import lines
from caddie.talk.about import the_shot
from caddie.talk.compare import what_if
from caddie.talk.lore import remedy_for
from caddie.talk.nerves import how_to
from caddie.talk.planning import planned
from caddie.talk.result_said import acknowledgement
from caddie.talk.state import ASKED_OF_THE_SHOT, Desk, Known, Said, ToldShot
from caddie.talk.went_wrong import GOOD_M, STRUCK, fault_named, fault_of, went_wrong
from caddie.units import FOOT_M
from caddie.words import Intent, Understanding, understand
from caddie.words.acts import asks_why_so
from caddie.words.gist import is_question
from caddie.words.sayings import compared, says, sentences_of
from caddie.words.turns import WENT_WRONG

VERDICT = "verdict_lead"
GOOD_PUTT_M = 3 * FOOT_M
"""A putt that ends nearer was a good one (common practice, no source)."""
_NOT_RIGHT = frozenset({"wrong", "bad", "poor", "should", "could", "not", "too", "mistake"})
_PAST = frozenset({"did", "was", "were", "came", "ran", "went", "that"})
_NAMED = re.compile(r"\b(?:the|a|my)\s+((?:[a-z]+\s+)?[a-z0-9-]+(?:\s+(?:iron|wedge))?)", re.IGNORECASE)


def in_hindsight(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "What should I have hit there?": the shot that is advised from where the last one was played."""
    if not known.told or not (known.played or known.plan is None):
        return the_shot(desk, known, heard)
    said = planned(desk, known.afresh(situation=known.told[0].situation), heard)
    if said.advice is None:
        return Said(known, lines.NOT_KNOWN_FROM_WHERE)
    return _looked_back(known, said, said.shot)


def remarked(desk: Desk, known: Known, heard: Understanding, *, advises: bool) -> Said | None:
    """ "So the sixty was right", "should have used the eight": answered in kind; None for anything else."""
    if not known.told or not says(heard.heard, VERDICT):
        return None
    told, asks = known.told[0], is_question(heard.heard)
    if not advises:
        return Said(known, lines.SORE if asks or _is_regret(heard) else _so_it_was(desk, told))
    if asks or _is_regret(heard):
        return replace(_club_judged(desk, known, heard), intent=ASKED_OF_THE_SHOT)
    spoken = _so_it_was(desk, told)
    return Said(known.changed(spoken=spoken), spoken, intent=Intent.GREETING.value)


def went_wrong_or_club(desk: Desk, known: Known, heard: Understanding) -> Said:
    """What went wrong with the shot just told; where the club is asked about, whether it was that.

    Before any is told "what do I do differently" asks how the one in play is hit.
    """
    if known.plan is not None and not known.played and not known.told and not fault_named(heard.heard):
        return how_to(desk, known, heard)
    of_the_club = bool(known.told) and known.played and "club" in compared(heard.heard)
    return (_club_judged if of_the_club else went_wrong)(desk, known, heard)


def asked_of_the_last(heard: Understanding, known: Known) -> Understanding:
    """ "Why did it come out so low?" once the shot is over: what went wrong with it, and nothing of one to come."""
    asks_why = heard.intent is Intent.WHY or any(name.startswith("why") for name in heard.asks)
    past = not _PAST.isdisjoint(compared(heard.heard))
    over = known.played and asks_why and past and is_question(heard.heard)
    if not over and not _of_its_strike(heard, known):
        return heard
    return Understanding(heard=heard.heard, intent=Intent.OUT_OF_SCOPE, asks=(WENT_WRONG,))


def _of_its_strike(heard: Understanding, known: Known) -> bool:
    """ "How come I chunked that?", with the next ball told of already: the strike of the one hit is asked about."""
    if not known.told or heard.intent is Intent.RESULT or not asks_why_so(heard.heard):
        return False
    strike = known.told[0].result.strike
    return strike is not None and fault_named(heard.heard) == STRUCK.get(strike)


def _is_regret(heard: Understanding) -> bool:
    return not _NOT_RIGHT.isdisjoint(compared(heard.heard))


def _so_it_was(desk: Desk, told: ToldShot) -> str:
    """That a choice was right, by what became of the shot; where little did, what to do with the next one."""
    result, putting = told.result, told.situation.lie is Lie.GREEN
    bag = desk.bag
    good_m = GOOD_PUTT_M if putting else GOOD_M
    if result.holed or (result.distance_m is not None and result.distance_m <= good_m):
        read = Understanding(heard="", intent=Intent.RESULT)
        return sentences(
            [
                lines.SO_IT_WAS.format(
                    told=small(acknowledgement(result, None, read, bag.player, putting=putting))
                )
            ]
        )
    fault = fault_of(result, told.situation, bag)
    return sentences([lines.CHOICE_WAS_SOUND, f"next time {remedy_for(fault)}" if fault else ""])


def _club_judged(desk: Desk, known: Known, heard: Understanding) -> Said:
    """Whether the club was wrong, of the shot last told: another that is named beside it, or what is advised there."""
    told = known.told[0]
    advised = planned(desk, known.afresh(situation=told.situation), heard)
    if advised.advice is None or advised.known.plan is None:
        return went_wrong(desk, known, heard)
    chosen = advised.known.plan.chosen
    named = _club_named(heard.heard)
    if named is not None:
        club = desk.bag.club_called(named)
        if club is None:
            return Said(known, lines.NOT_IN_BAG.format(club=named))
        named = club.id
    if named is not None and named != chosen.club:
        asked = Understanding(heard="", intent=Intent.WHAT_IF, club=named)
        try:
            said = what_if(desk, advised.known, asked)
        except CaddieError:
            return _looked_back(known, advised, advised.shot)
        return _looked_back(known, said, said.spoken)
    played = known.plan.chosen.club if known.plan is not None and known.played else chosen.club
    if played != chosen.club:
        return _looked_back(known, advised, advised.shot)
    fault = fault_of(told.result, told.situation, desk.bag)
    remedy = f"next time {remedy_for(fault)}" if fault else ""
    spoken = sentences([lines.CLUB_WAS_SOUND.format(club=club_said(chosen, desk.bag)), remedy])
    return Said(known.changed(spoken=spoken), spoken)


def _club_named(text: str) -> str | None:
    """The first club that the words name, as it is said."""
    named = (understand(f"what about the {found[1]}").club for found in _NAMED.finditer(text))
    return next((club for club in named if club), None)


def _looked_back(known: Known, said: Said, shot: str) -> Said:
    """What is told of a shot from where the last one was played, while what is known stays."""
    told = [lines.FROM_THERE.format(shot=small(shot)), *sentences_of(shot)[-1:]]
    whole, less = told[:1], [lines.FROM_THERE.format(shot=small(sentences_of(shot)[0])), *told[1:]]
    spoken = shortest([whole, less])
    return replace(
        said,
        known=known.changed(spoken=spoken),
        spoken=spoken,
        written=None,
        brief=None,
        advice=None,
        step=False,
        settles=False,
        shot="",
    )
