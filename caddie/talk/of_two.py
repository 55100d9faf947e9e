"""Two shots named in one breath, "the eight iron or the sixty?": which one is played, and what the other costs."""

from contextlib import suppress
from dataclasses import dataclass

from caddie.bag import Bag
from caddie.errors import CaddieError
from caddie.plan.candidates import ANY, Only
from caddie.plan.choose import advise
from caddie.plan.option import Option, Plan
from caddie.plan.trust import plainer
from caddie.reply.phrases import club_said
from caddie.reply.rivals import costs
from caddie.reply.written import shot_line
from caddie.situation import Lie, Situation
from caddie.talk.wish import asked_for
from caddie.words import Understanding, understand
from caddie.words.alternatives import alternatives, listed
from caddie.words.gist import gists_of
from caddie.words.within_measure import within_a_measure

EITHER = "either"
MOST_CHOSEN_FROM = 3
BEATS_BOTH = 0.1
"""Strokes by which a third shot has to be better than those named to be told of (common practice, no source)."""
_NAMED_WORDS = 5
"""Most words that one shot is named in."""


@dataclass(frozen=True)
class Weighed:
    """The better of the shots named: its plan, and what is told of the other."""

    plan: Plan
    told: str
    """What the other costs and why, aloud."""
    written: str


def weighed(heard: Understanding, situation: Situation, bag: Bag, seed: int) -> Weighed | None:
    """The shots that a sentence chooses between, weighed against each other; None where it chooses between none."""
    if situation.lie is Lie.GREEN or EITHER not in gists_of(heard.heard):
        return None
    shots = shots_named(alternatives(heard.heard) or listed(heard.heard), bag)[:MOST_CHOSEN_FROM]
    if len(shots) < 2:
        return None
    free = advise(situation, bag, seed=seed)
    found = played_as_named(shots, situation, bag, free)
    if len(found) < 2:
        return None
    best = better_of([plan.chosen for _, plan in found], free)
    other = next(plan.chosen for _, plan in found if plan.chosen is not best)
    if (other.club, other.swing, other.flight) == (best.club, best.swing, best.flight):
        return None
    chosen = next(plan for _, plan in found if plan.chosen is best)
    third, saved = free.chosen, best.strokes - free.chosen.strokes
    there = chosen.situation
    told, lines = costs(other, best, there, bag, most=1), [f"Other: {costs(other, best, there, bag)}"]
    lines.append(f"Not:   {shot_line(other, bag)}: {other.strokes:.2f} strokes against {best.strokes:.2f}")
    if saved > 0 and third.club not in (best.club, other.club):
        lines.append(f"Else:  {shot_line(third, bag)}: {third.strokes:.2f} strokes")
        if saved >= BEATS_BOTH:
            told = f"{told.partition(':')[0]}; better still the {club_said(third, bag)}"
    return Weighed(chosen, told, "\n".join(lines))


def played_as_named(shots: list[Only], situation: Situation, bag: Bag, free: Plan) -> list[tuple[Only, Plan]]:
    """The plan of each shot named that can be played from there, the best by numbers first.

    Where what is advised freely is one of them, it is that.
    """
    found = []
    for only in shots:
        if _is_it(only, free.chosen, bag):
            found.append((only, free))
            continue
        with suppress(CaddieError):
            found.append((only, advise(situation, bag, seed=free.seed, only=only)))
    return sorted(found, key=lambda each: each[1].chosen.rank_score)


def _is_it(only: Only, option: Option, bag: Bag) -> bool:
    """Whether a shot is the one named, as far as it is named."""
    club = bag.club_called(only.club) if only.club else None
    named = only.club is None or (club is not None and club.id == option.club)
    rest = only.model_dump(exclude_defaults=True, exclude={"club", "family"})
    return named and only.family in (None, option.family) and not rest and not option.sideways


def better_of(options: list[Option], free: Plan) -> Option:
    """Of shots in order of their numbers the one that would be advised, or else that a teacher likes the better."""
    advised = (free.chosen.club, free.chosen.family)
    own = next((each for each in options if (each.club, each.family) == advised), None)
    return own or plainer(tuple(options), free.situation)


def named_shots(text: str, bag: Bag) -> list[Only]:
    """The clubs and kinds of shot named, in order."""
    return shots_named(listed(text), bag)


def shots_named(parts: list[str], bag: Bag) -> list[Only]:
    """The shot that each part names, of those that name one: the most that is told of it, a club before a kind."""
    found = []
    for part in parts:
        words = part.split()
        spans = (
            " ".join(words[start : start + size])
            for size in range(_NAMED_WORDS, 0, -1)
            for start in range(max(len(words) - size + 1, 0))
            if not within_a_measure(tuple(words), start + size)
        )
        named = [each for each in (_named(span, bag) for span in spans) if each != ANY]
        if named:
            found.append(max(named, key=_told_most))
    return list(dict.fromkeys(found))


def _told_most(only: Only) -> tuple[bool, int]:
    """What orders ways to take a part: one that names a club first, then the one with the most named."""
    return only.club is not None, len(only.model_dump(exclude_defaults=True))


def _named(words: str, bag: Bag) -> Only:
    player = bag.player
    return asked_for(understand(f"what about the {words}", unit=player.distances_in, pace_m=player.pace_m))
