"""What the Rules of Golf offer, told before any shot: that one is played from elsewhere, and lies otherwise."""

from caddie.reply.spoken import shortest
from caddie.situation import Finish, Situation
from caddie.talk import lines, when
from caddie.talk.asked_with_the_shot import played_after
from caddie.talk.in_order import as_one
from caddie.talk.planning import describe, taken_in
from caddie.talk.state import Desk, Known, Said
from caddie.words import Intent, Understanding, understand
from caddie.words.rules import FREE_RELIEF, after_relief, rule_asked, rule_named

RULE_ASKED = "rule"
"""What a turn that asks for a rule is called on the wire."""


_ENDED = {Finish.WATER: "penalty_area", Finish.OUT_OF_BOUNDS: "out_or_lost"}


def ended_under_a_rule(known: Known, text: str) -> bool:
    """Whether the ball just hit ended where the Rules say from where the next one is played."""
    return known.result is not None and known.result.finish in _ENDED


def after_the_penalty(desk: Desk, known: Known, heard: Understanding) -> Said:
    """ "And the drop?" of a ball in the water: from where the next one may be played, and for what."""
    assert known.result is not None and known.result.finish is not None
    rule = rule_named(_ENDED[known.result.finish])
    written = f"{rule.say}\n{rule.rule}"
    return Said(known.changed(spoken=rule.say), rule.say, written=written, intent=RULE_ASKED)


def told_of_the_rules(desk: Desk, known: Known, text: str, *, advises: bool) -> Said | None:
    """The rule that is asked for; what is told of the shot beside it is kept for after the drop.

    ``advises`` is False where a competition is played: the rule is told all the same.
    """
    rule = rule_asked(text)
    if rule is None or (rule.name == FREE_RELIEF and when.stuck(known, text)):
        return None
    if rule.name == FREE_RELIEF and known.result is not None and known.result.finish in _ENDED:
        instead = rule_named(_ENDED[known.result.finish])
        written = f"{lines.NOT_FREE}\n{instead.say}\n{instead.rule}"
        return Said(known.changed(spoken=lines.NOT_FREE), lines.NOT_FREE, written=written, intent=RULE_ASKED)
    player = desk.bag.player
    heard = understand(text, unit=player.distances_in, pace_m=player.pace_m)
    shot = (
        heard.situation != Situation()
        and not heard.problem
        and heard.intent in (Intent.SITUATION, Intent.PUTT)
    )
    told = Said(known, rule.say, written=f"{rule.say}\n{rule.rule}", intent=RULE_ASKED)
    if not shot or not advises:
        return told
    if (dropped := played_after(rule, heard, desk.bag)) is not None:
        return as_one([told, describe(desk, known, dropped)])
    if not rule.dropped:
        # "May I clear the leaves, and how do I play it from twelve yards?"
        planned = heard.situation.pin_m is not None
        return as_one([told, describe(desk, known, heard)]) if planned else told
    elsewhere = heard.model_copy(update={"situation": after_relief(heard.situation)})
    after = taken_in(known, elsewhere).changed(plan=None, advised=None, cue=None, question=None)
    spoken = shortest([[rule.say, lines.THEN_THE_LIE], [rule.say]])
    kept = after.changed(spoken=spoken, short=rule.say)
    return Said(kept, spoken, written=f"{spoken}\n{rule.rule}", step=True, intent=RULE_ASKED)
