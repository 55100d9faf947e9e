"""A figure of the last reply said back in wonder or doubt is answered: what it is, and of a chance the way out."""

import re
from dataclasses import replace

from caddie.bag import Bag, ClubKind
from caddie.reply.phrases import small
from caddie.reply.spoken import sentences
from caddie.talk import lines
from caddie.talk.by_topic import asks_by_topic
from caddie.talk.question import HOW_FAR
from caddie.talk.state import ASKED_OF_THE_SHOT, Known, Said
from caddie.words.echoes import CHANCE, Echo, Figure, echo_in, figures_in
from caddie.words.sayings import compared

_SENTENCE = re.compile(r"\S.*?[.?!](?=\s|$)")


def said_back(text: str, known: Known, bag: Bag) -> Echo | None:
    """The figure of the last reply that the turn begins by saying back; the number of a club is asked as a club."""
    if (known.plan is None and not known.played) or asks_by_topic(known, text):
        return None
    spoken, _, written = known.replied.partition("\n")
    asked = known.question is not None and known.question.field == HOW_FAR
    found = echo_in(text, spoken, asked=asked, swung=known.swung)
    if found is None and len(compared(text)) > 1:
        # "Half?" is no share that was only written.
        found = echo_in(text, written, asked=asked, swung=known.swung)
    if found is None or (found.figure.unit is None and _is_a_club(found.figure, bag)):
        return None
    return found


def _is_a_club(figure: Figure, bag: Bag) -> bool:
    return any(club.loft_deg == figure.value for club in bag.clubs if club.kind is not ClubKind.PUTTER)


def answered(echo: Echo, known: Known) -> Said:
    """The sentence that the figure stood in, once more."""
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
    told = f"yes, {small(told).removeprefix('yes, ')}"
    flown = known.plan is not None and known.plan.chosen.make is None and not known.played
    parts = [told, lines.CHANCE_MEANS] if echo.figure.unit == CHANCE and flown else [told]
    return Said(known, sentences(parts), intent=ASKED_OF_THE_SHOT, brief="")


_LISTED = re.compile(r"[,;] ")


def _holds(part: str, figure: Figure) -> bool:
    return any(figure.is_of(each) for each in figures_in(part))


def not_word_for_word(said: Said, before: Known) -> Said:
    """The advice that was just given, in short the second time: it stands."""
    news = said.known.situation != before.situation
    if said.advice is None or said.spoken != before.spoken or not said.known.short or news:
        return said
    short = said.known.short
    spoken = sentences([lines.STANDS.format(shot=small(short))])
    return replace(said, spoken=spoken, known=said.known.changed(spoken=spoken))


def replied(said: Said, before: Known) -> str:
    """The last reply for figures to be found in: what is said between two plans stands beside the plan's own."""
    spoken, _, written = before.replied.partition("\n")
    if said.advice is not None or said.known.plan is not before.plan:
        return f"{said.spoken}\n{said.written or ''}"
    kept = spoken if len(spoken) < LONGEST_KEPT else ""
    return f"{said.spoken} {kept}\n{said.written or ''}\n{written}"[: 2 * LONGEST_KEPT]


LONGEST_KEPT = 800
"""Letters of what was said since the shot was planned."""
