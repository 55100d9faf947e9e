"""Facts told with "does that change the swing?": the new shot beside the one before, in one sentence first, then why.

Of a fact that was known the shot without it stands in the place of the one before.
"""

from contextlib import suppress
from dataclasses import replace

from caddie.bag import Bag, Family
from caddie.errors import CaddieError
from caddie.plan.candidates import ANY
from caddie.plan.choose import advise
from caddie.plan.option import Option, Plan
from caddie.reply.aim import aim_said
from caddie.reply.phrases import club_said, flight_said, run_said, said, shot_said, swing_said
from caddie.reply.putt import pace_said, putt_unit, start_said
from caddie.reply.spoken import sentences, shortest
from caddie.situation import IN_SAND, Lie, Situation
from caddie.talk import lines
from caddie.talk.asked import AT_THE_FLAG, in_play
from caddie.talk.same_place import tells_it_again
from caddie.talk.state import Desk, Known, Said
from caddie.words import understand
from caddie.words.asked_of_facts import circumstances_of, fact_asked_about, what_it_does
from caddie.words.gist import gists_of
from caddie.words.sayings import clauses, sayings_of, sentences_of

_SAME_CLUB = "same_club"
SAME_SWING_M = 0.5
"""A carry that differs by less is the same swing."""


def with_the_change(desk: Desk, before: Known, told: list[Said], text: str) -> list[Said]:
    """The replies to a turn, its advice led by whether the shot is another one, where that was asked with new facts."""
    was = before.plan if tells_it_again(text) else in_play(before)
    if was is None or not _asks_whether(text):
        return told
    at = next((at for at in reversed(range(len(told))) if told[at].advice is not None), None)
    if at is None:
        return _with_its_reason(told, was, text)
    advised, now = told[at], told[at].known.plan
    bag = desk.on(advised.known.day).bag
    if now is None or any(shot_said(now.chosen, bag) in each.spoken.lower() for each in told[at + 1 :]):
        return told
    lead = _without_it(desk, before, now, text) or _beside_before(
        _as_chosen(was, advised.known, before, desk), now, bag
    )
    reason = _reason(now, text)
    lead = lines.SHOT_STAYS if reason and lead == lines.NO_CHANGE else lead
    lead, led = sentences([lead]), sentences([lead, reason])
    versions = [
        [led, advised.spoken],
        [led, advised.shot],
        [led, advised.known.short],
        [led],
    ]
    spoken = shortest(versions, AS_TWO)
    return [
        *told[:at],
        replace(
            advised,
            spoken=spoken,
            written=f"{led}\n{advised.written or advised.spoken}",
            brief=lead,
            things=AS_TWO,
            known=advised.known.changed(spoken=spoken),
        ),
        *told[at + 1 :],
    ]


def _with_its_reason(told: list[Said], plan: Plan, text: str) -> list[Said]:
    """The replies behind what a circumstance does of which no shot is planned anew: "it's cold"."""
    reason = _reason(plan, text)
    if not reason:
        return told
    first, *rest = told
    spoken = shortest([[reason, first.spoken], [reason]])
    return [replace(first, spoken=spoken, written=spoken, known=first.known.changed(spoken=spoken)), *rest]


def _reason(plan: Plan, text: str) -> str:
    """What the circumstance that is asked about does to such a shot, where a teacher would say it."""
    where = "putt" if plan.chosen.line is not None else "sand" if plan.situation.lie in IN_SAND else "grass"
    fact = fact_asked_about(text) or text
    told = (what_it_does(name) for name in circumstances_of(fact))
    return next((say for there, say in told if there == where), "")


def _without_it(desk: Desk, before: Known, now: Plan, text: str) -> str:
    """Of a fact that was known already, what the shot would be without it; nothing of a new one."""
    fact = fact_asked_about(text)
    if fact is None or now.situation != (before.plan.situation if before.plan else None):
        return ""
    player = desk.bag.player
    told = understand(fact, unit=player.distances_in, pace_m=player.pace_m).situation
    plain = Situation()
    names = [name for name in type(told).model_fields if getattr(told, name) != getattr(plain, name)]
    update = {name: getattr(plain, name) for name in names if name != "pin_m"}
    if "lie" in update:
        update["lie"] = Lie.FAIRWAY
    with suppress(CaddieError):
        there = before.situation.model_copy(update=update)
        without = advise(there, desk.on(before.day).bag, seed=now.seed, only=before.only)
        change = _beside_before(without, now, desk.on(before.day).bag)
        return lines.SAME_WITHOUT if change == lines.NO_CHANGE else lines.IN_ALREADY.format(change=change)
    return ""


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
    parts = (*sentences_of(text), *clauses(text))
    asked = any(_SAME_CLUB in (*sayings_of(each), *gists_of(each)) for each in parts)
    return asked or fact_asked_about(text) is not None


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
    if abs(old.carry_m - new.carry_m) >= SAME_SWING_M:
        carried = said(old.carry_m, bag).rpartition(" ")[0]
        return f"same club and swing: it carries {said(new.carry_m, bag)} now, not {carried}"
    return _goes_otherwise(old, new, bag)


def _goes_otherwise(old: Option, new: Option, bag: Bag) -> str:
    """Of the same swing, how far it runs now and where it is aimed, where that is another than before."""
    if (aim := aim_said(new, bag)) != aim_said(old, bag):
        return f"same club and swing: {aim or AT_THE_FLAG} now"
    if abs(old.run_m - new.run_m) >= RUNS_OTHERWISE_M:
        return f"same club and swing: {run_said(new, bag)} now, not {said(old.run_m, bag).rpartition(' ')[0]}"
    return lines.NO_CHANGE


RUNS_OTHERWISE_M = 1.0
"""A run that differs by less is not seen."""


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
