"""How often a shot is mishit, heavy or thin: of the shot advised, or of each club that is named."""

from collections.abc import Callable
from contextlib import suppress

from caddie.bag import Family
from caddie.errors import CaddieError
from caddie.plan.candidates import Only
from caddie.plan.choose import advise
from caddie.plan.option import Option
from caddie.reply.phrases import club_said
from caddie.reply.spoken import shortest
from caddie.talk import lines
from caddie.talk.asked import in_play
from caddie.talk.clubs_by_number import clubs_by_number
from caddie.talk.state import Desk, Known, Said, no_shot
from caddie.talk.why_so import clubs_named
from caddie.units import spoken_number
from caddie.words import Understanding
from caddie.words.topics import lists_in

MOST_ASKED_OF = 3
_THIN, _HEAVY, _BESIDE = "thin_word", "heavy_word", "beside_word"


def mishits(desk: Desk, known: Known, heard: Understanding) -> Said:
    """A figure for each club named, or of the shot advised; of thin or heavy ones alone where just these are asked."""
    plan, bag = in_play(known), desk.on(known.day).bag
    if plan is None:
        return no_shot(known)
    if plan.chosen.family is Family.PUTT:
        return Said(known, lines.PUTT_NOT_MISHIT)
    text = clubs_by_number(heard.heard, known, bag)
    found = lists_in(text)
    named = list(dict.fromkeys(club.id for club in clubs_named(text, bag)))[:MOST_ASKED_OF] or [
        plan.chosen.club
    ]
    if _BESIDE in found and len(named) == 1 and named[0] != plan.chosen.club:
        named = [plan.chosen.club, *named]
    options = []
    for club in named:
        with suppress(CaddieError):
            only = Only(club=club)
            own = club == plan.chosen.club
            options.append(
                plan.chosen if own else advise(known.situation, bag, seed=plan.seed, only=only).chosen
            )
    how, share = _asked(_THIN in found, _HEAVY in found)
    told = [f"the {club_said(each, bag)} {_percent(share(each))}" for each in options]
    spoken = shortest([[f"{how}: {', '.join(told)}", lines.MISHITS_FROM], [f"{how}: {', '.join(told)}"]])
    return Said(known.changed(spoken=spoken, question=None), spoken)


def _asked(thin: bool, heavy: bool) -> tuple[str, Callable[[Option], float]]:
    if thin != heavy:
        return ("thin", lambda option: option.thin) if thin else ("heavy", lambda option: option.heavy)
    return "heavy or thin", lambda option: option.heavy + option.thin


def _percent(share: float) -> str:
    return f"{spoken_number(max(round(100 * share), 1))} in a hundred"
