"""Facts told with "does that change the swing?": the new shot beside the one before, in one sentence first."""

from contextlib import suppress
from dataclasses import replace

from caddie.bag import Bag, Family
from caddie.errors import CaddieError
from caddie.plan.candidates import ANY
from caddie.plan.choose import advise
from caddie.plan.option import Option, Plan
from caddie.reply.phrases import club_said, flight_said, said, shot_said, swing_said
from caddie.reply.putt import pace_said, putt_unit, start_said
from caddie.reply.spoken import sentences, shortest
from caddie.talk import lines
from caddie.talk.asked import in_play
from caddie.talk.state import Desk, Known, Said
from caddie.words.gist import gists_of
from caddie.words.sayings import sayings_of, sentences_of

_SAME_CLUB = "same_club"
SAME_SWING_M = 0.5
"""A carry that differs by less is the same swing."""


def with_the_change(desk: Desk, before: Known, told: list[Said], text: str) -> list[Said]:
    """The replies to a turn, its advice led by whether the shot is another one, where that was asked with new facts."""
    was = in_play(before)
    at = next((at for at in reversed(range(len(told))) if told[at].advice is not None), None)
    if was is None or at is None or not _asks_whether(text):
        return told
    advised, now = told[at], told[at].known.plan
    bag = desk.on(advised.known.day).bag
    if now is None or any(shot_said(now.chosen, bag) in each.spoken.lower() for each in told[at + 1 :]):
        return told
    lead = sentences([_beside_before(_as_chosen(was, advised.known, before, desk), now, bag)])
    spoken = shortest([[lead, advised.spoken], [lead, advised.shot], [lead]], AS_TWO)
    return [
        *told[:at],
        replace(
            advised,
            spoken=spoken,
            written=f"{lead}\n{advised.written or advised.spoken}",
            brief=lead,
            things=AS_TWO,
            known=advised.known.changed(spoken=spoken),
        ),
        *told[at + 1 :],
    ]


def _as_chosen(was: Plan, after: Known, before: Known, desk: Desk) -> Plan:
    """The plan before; with a club that was chosen in this turn, as it would have been played then."""
    if after.only in (ANY, before.only):
        return was
    with suppress(CaddieError):
        return advise(before.situation, desk.on(after.day).bag, seed=was.seed, only=after.only)
    return was


AS_TWO = 2
"""A shot and how it differs are two things."""


def _asks_whether(text: str) -> bool:
    return any(_SAME_CLUB in (*sayings_of(each), *gists_of(each)) for each in sentences_of(text))


def _beside_before(was: Plan, now: Plan, bag: Bag) -> str:
    if now.chosen.line is not None:
        return _of_a_putt(was, now, bag)
    old, new = was.chosen, now.chosen
    if old.club != new.club or Family.PUTT in (old.family, new.family):
        same = old.club == new.club
        return (
            lines.NO_CHANGE
            if same
            else f"another club: the {club_said(new, bag)}, not the {club_said(old, bag)}"
        )
    if (old.swing, old.flight, old.wide_open) != (new.swing, new.flight, new.wide_open):
        if old.swing == new.swing:
            return f"same club and swing, {flight_said(new) or lines.USUAL_HEIGHT} now"
        return f"same club, another swing: {_swung(new)}, not {_swung(old)}"
    if abs(old.carry_m - new.carry_m) < SAME_SWING_M:
        return lines.NO_CHANGE
    carried = said(old.carry_m, bag).rpartition(" ")[0]
    return f"same club and swing: it carries {said(new.carry_m, bag)} now, not {carried}"


def _swung(option: Option) -> str:
    return swing_said(option).removeprefix("hands ")


def _of_a_putt(was: Plan, now: Plan, bag: Bag) -> str:
    unit = putt_unit(bag)
    if was.chosen.line is None:
        return "yes: a putt now"
    line, pace = (
        (start_said(each.chosen, unit) for each in (was, now)),
        (pace_said(each.chosen, each.situation, unit) for each in (was, now)),
    )
    changed = [name for name, (old, new) in (("line", line), ("pace", pace)) if old != new]
    return f"yes, the {' and the '.join(changed)}" if changed else lines.NO_CHANGE
