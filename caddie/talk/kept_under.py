"""What keeps trouble under a chance that is named, and what that costs; or that nothing does, and the least."""

from dataclasses import replace

from caddie.plan.called import name_of
from caddie.plan.careful import keeping_under
from caddie.plan.option import Option, Plan
from caddie.reply.phrases import landing_short, one_in, shot_said
from caddie.reply.spoken import sentences, shortest
from caddie.talk import lines
from caddie.talk.asked import asked_about, in_play, same_shot
from caddie.talk.comparison import what_it_costs
from caddie.talk.safe_shots import SAME_CARRY_M, beside
from caddie.talk.state import Desk, Known, Said, no_shot
from caddie.words import Understanding
from caddie.words.echoes import CHANCE, figures_in

LESS = 0.5
"""Where no chance is named, half as often as now is asked for (common practice, no source)."""


def kept_under(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "What gets the water under ten percent?": the shot that does with its cost, or the one nearest to it."""
    plan = in_play(known)
    if plan is None:
        return no_shot(known)
    if plan.chosen.line is not None:
        return Said(known, lines.ON_THE_GREEN)
    hazard, name = asked_about(plan.situation, heard.heard)
    if hazard is None:
        return Said(known, sentences([lines.NO_TROUBLE.format(trouble=name)]))
    kind, named = hazard.kind, name_of(hazard)

    def share(option: Option) -> float:
        return option.caught_by(kind)

    most = _named_chance(heard.heard) or LESS * share(plan.chosen)
    tried = [*plan.options, *keeping_under(plan, desk.bag, most)]
    under = [option for option in tried if share(option) < most]
    best = min(under, key=lambda option: option.rank_score) if under else min(tried, key=share)
    told = f"{named} {one_in(share(best))}"
    if not under:
        least = one_in(share(best))
        about = "about " if least == one_in(most) else ""
        told = f"nothing gets the {named} under {one_in(most)}: the least is {about}{least}"
    if same_shot(best, plan.chosen) and abs(best.carry_m - plan.chosen.carry_m) < SAME_CARRY_M:
        spoken = sentences([told, "that is this shot"])
        return Said(known.changed(spoken=spoken, question=None), spoken)
    return _told(desk, known, plan, best, told)


def _told(desk: Desk, known: Known, plan: Plan, best: Option, told: str) -> Said:
    """What it comes to and costs, then the shot, which can be adopted next."""
    cost = what_it_costs(best.strokes - plan.chosen.strokes)
    shown = beside(desk, known, plan, best, f"{told}, and {cost}")
    spoken = shortest(
        [
            [f"{told}, and {cost}", shot_said(best, desk.bag), landing_short(best, plan.situation, desk.bag)],
            [f"{told}, and {cost}", shot_said(best, desk.bag)],
            [told, shot_said(best, desk.bag)],
        ]
    )
    after = shown.known.changed(spoken=spoken, said_of_other=spoken)
    return replace(shown, known=after, spoken=spoken, written=f"{spoken}\n{shown.written or ''}")


def _named_chance(text: str) -> float:
    """The chance that is named, or 0; of "one in twenty" the figure is the twenty."""
    figures = figures_in(text)
    told = next((figure.value for figure in figures if figure.unit == CHANCE), 0.0)
    once_in = next((figure.value for figure in figures if figure.unit is None and figure.value > 1), 0.0)
    return told or (1.0 / once_in if once_in and " in " in f" {text} " else 0.0)
