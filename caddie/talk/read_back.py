"""The shot said back to be told whether it was understood: yes, or what it is instead; nothing is planned anew."""

from dataclasses import dataclass

from caddie.bag import Bag, Club, Family
from caddie.plan.option import Plan
from caddie.reply.aim import aim_said
from caddie.reply.phrases import landing_said, landing_short, run_said, said, shot_said, small
from caddie.reply.putt import near_said, pace_said, putt_unit, start_said
from caddie.reply.rolled import rolled_said
from caddie.reply.spoken import sentences
from caddie.talk import lines
from caddie.talk.asked import AT_THE_FLAG, in_play
from caddie.talk.by_topic import asks_of_a_swing
from caddie.talk.distrust import distrust_in, distrusted_first
from caddie.talk.in_kind import answered_in_kind, cut_in_kind
from caddie.talk.planning import with_where_it_goes
from caddie.talk.said_back import answered, said_back
from caddie.talk.state import ASKED_OF_THE_SHOT, Desk, Known, Said
from caddie.words import understand
from caddie.words.echoes import Figure, figures_in
from caddie.words.read_backs import FREELY, OF_A_LINE, Claimed, claimed, read_back_in
from caddie.words.sayings import compared

ANY_OF_IT = FREELY
"""Stands for what any figure may be of."""


@dataclass(frozen=True)
class _Checked:
    """What is said of a shot, in the sentences that what was claimed of it is about, and whether all of it holds."""

    right: tuple[str, ...]
    wrong: tuple[str, ...]


def read_back(desk: Desk, known: Known, sentence: str) -> Said | None:
    """Whether the shot in play, or the one just compared, is as it was said back; None where no shot is said back."""
    plan, told, player = in_play(known), claimed(sentence), desk.bag.player
    if plan is None or asks_of_a_swing(known, sentence):
        return None
    if (distance := _distance_alone(told, plan, desk.bag)) is not None:
        return _said(known, [distance], brief=lines.YES_JUST_SO)
    if not _says_a_shot_back(told, plan, desk.bag):
        return None
    club = understand(sentence, unit=player.distances_in, pace_m=player.pace_m).club
    options = [plan.chosen, *([known.other] if known.other is not None else [])]
    checked = [_checked(told, club, plan.model_copy(update={"chosen": each}), desk.bag) for each in options]
    best = min(checked, key=lambda each: len(each.wrong))
    if best.wrong:
        return _said(known, [f"{lines.NO_IT_IS}{small(best.wrong[0])}", *best.wrong[1:]])
    if told.vaguely or not best.right:
        return _said(known, [with_where_it_goes(plan, desk.bag)])
    return _said(
        known, [f"{lines.YES_IT_IS}{small(best.right[0])}", *best.right[1:]], brief=lines.YES_JUST_SO
    )


def _said(known: Known, parts: list[str], brief: str = "") -> Said:
    spoken = sentences(parts)
    after = known.changed(spoken=spoken, question=None)
    return Said(after, spoken, brief=sentences([brief]) or spoken, intent=ASKED_OF_THE_SHOT)


def _says_a_shot_back(told: Claimed, plan: Plan, bag: Bag) -> bool:
    return told.is_of([of for of in _told_of(plan, bag) if of != ANY_OF_IT])


def _distance_alone(told: Claimed, plan: Plan, bag: Bag) -> str | None:
    """ "So it is forty yards, right?": the distance, where it is that and no more is said."""
    putting = plan.chosen.line is not None
    pin_m = plan.situation.pin_m or 0.0
    far = near_said(pin_m, putt_unit(bag)) if putting else said(pin_m, bag)
    own = figures_in(far)
    alone = len(told.figures) == 1 and told.is_only(told.figures[0][1])
    return (
        f"{lines.YES_IT_IS}{far}" if alone and any(_same(told.figures[0][1], each) for each in own) else None
    )


def _checked(told: Claimed, club: str | None, plan: Plan, bag: Bag) -> _Checked:
    option = plan.chosen
    named = bag.club_called(club) if club is not None else _by_its_number(told, bag)
    found: dict[str, bool] = {}
    if named is not None or told.hands:
        same_club = named is None or named.id == option.club
        found[shot_said(option, bag)] = same_club and told.hands <= set(option.swing.split())
    own = _told_of(plan, bag)
    every = [each for _, figures in own.values() for each in figures]
    for kind, figure in told.figures:
        if _is_of_the_club(figure, named):
            continue
        of = "aim" if not kind and figure.unit in OF_A_LINE else kind
        sentence, figures = own.get(of, (own[ANY_OF_IT][0], every)) if of else (own[ANY_OF_IT][0], every)
        found[sentence] = found.get(sentence, True) and any(_same(figure, each) for each in figures)
    if option.line is not None and len(told.sides) == 1:
        line = own["aim"][0]
        found[line] = found.get(line, True) and (
            told.sides <= set(compared(line)) or option.aim_left_m == 0.0
        )
    right = tuple(sentence for sentence, holds in found.items() if holds)
    return _Checked(right, tuple(sentence for sentence, holds in found.items() if not holds))


def _told_of(plan: Plan, bag: Bag) -> dict[str, tuple[str, list[Figure]]]:
    """By what a figure may be of, the sentence that tells it and its figures; under ``ANY_OF_IT`` how far it is."""
    option, there = plan.chosen, plan.situation
    pin_m, unit = there.pin_m or 0.0, putt_unit(bag)
    if option.line is not None:
        line, pace = start_said(option, unit), pace_said(option, there, unit)
        paced, far = figures_in(pace), figures_in(near_said(pin_m, unit))
        # "As if the hole were a metre further."
        apart = [Figure(abs(one.value - other.value), one.unit) for one in paced for other in far]
        figures = [*paced, *apart]
        return {
            "aim": (line, [*figures_in(line), *figures, *far]),
            "as_if": (pace, figures),
            ANY_OF_IT: (pace, [*figures, *far]),
        }
    if option.family is Family.PUTT:
        rolled = rolled_said(option, bag)
        figures = figures_in(rolled)
        return {
            "as_if": (rolled, figures),
            "run": (rolled, figures),
            ANY_OF_IT: (rolled, figures_in(said(pin_m, bag))),
        }
    where, aim = landing_short(option, there, bag), aim_said(option, bag) or AT_THE_FLAG
    return {
        "land": (where, figures_in(landing_said(option, there, bag))),
        "run": (where, figures_in(run_said(option, bag))),
        "carry": (f"it carries {said(option.carry_m, bag)}", figures_in(said(option.carry_m, bag))),
        "aim": (aim, figures_in(aim)),
        ANY_OF_IT: (where, figures_in(said(pin_m, bag))),
    }


def _by_its_number(told: Claimed, bag: Bag) -> Club | None:
    """ "It is the sixty": a bare number that a wedge goes by."""
    bare = {int(each.value) for of, each in told.figures if not of and each.unit is None}
    return next((club for club in bag.clubs if club.id.isdigit() and int(club.id) in bare), None)


def _is_of_the_club(figure: Figure, named: Club | None) -> bool:
    """Whether a number is the club's own."""
    return figure.unit == "degrees" or (named is not None and figure == Figure(named.loft_deg, None))


def _same(claim: Figure, own: Figure) -> bool:
    return _in_yards(claim).is_of(_in_yards(own))


def _in_yards(figure: Figure) -> Figure:
    """A pace and a yard are one where a shot is said back."""
    return Figure(figure.value, "yards") if figure.unit == "paces" else figure


def before_a_read_back(known: Known, text: str, bag: Bag) -> tuple[str, str]:
    """What a turn says before it says the shot back, which may change the shot, and the rest; ("", text) without."""
    if (asked := cut_in_kind(known, text, bag)) is not None and asked.before:
        return asked.before, f"{asked.clause} {asked.behind}".strip()
    plan, cut = in_play(known), read_back_in(text)
    before, told, behind = distrust_in(known, text, bag)
    if told and before:
        return before, f"{told} {behind}".strip()
    if cut is None or not cut.before or plan is None:
        return "", text
    if not _says_a_shot_back(claimed(cut.sentence), plan, bag):
        return "", text
    return cut.before, f"{cut.sentence} {cut.behind}".strip()


def first_said_back(desk: Desk, known: Known, text: str) -> tuple[Said, str] | None:
    """The answer where a turn begins by saying back the shot or a figure of the last reply, and what is said behind."""
    asked = cut_in_kind(known, text, desk.bag)
    if asked is not None and not asked.before:
        answer = answered_in_kind(desk, known, asked)
        if answer is not None:
            return answer, asked.behind
    cut = read_back_in(text)
    if cut is not None and not cut.before and (said := read_back(desk, known, cut.sentence)) is not None:
        return said, cut.behind
    before, told, behind = distrust_in(known, text, desk.bag)
    if told and not before:
        return distrusted_first(desk, known, told), behind
    echo = said_back(text, known, desk.bag)
    return (answered(echo, known, desk.bag), echo.rest) if echo is not None else None
