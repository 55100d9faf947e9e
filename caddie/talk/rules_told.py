"""What the Rules of Golf offer, told before any shot: that one is played from elsewhere, and lies otherwise."""

from caddie.reply.spoken import shortest
from caddie.situation import Situation
from caddie.talk import lines
from caddie.talk.planning import taken_in
from caddie.talk.state import Desk, Known, Said
from caddie.words import Intent, understand
from caddie.words.rules import after_relief, rule_asked

RULE_ASKED = "rule"
"""What a turn that asks for a rule is called on the wire."""


def told_of_the_rules(desk: Desk, known: Known, text: str, *, advises: bool) -> Said | None:
    """The rule that is asked for; what is told of the shot beside it is kept for after the drop.

    ``advises`` is False where a competition is played: the rule is told all the same.
    """
    rule = rule_asked(text)
    if rule is None:
        return None
    player = desk.bag.player
    heard = understand(text, unit=player.distances_in, pace_m=player.pace_m)
    shot = (
        heard.situation != Situation()
        and not heard.problem
        and heard.intent in (Intent.SITUATION, Intent.PUTT)
    )
    if not shot or not rule.dropped or not advises:
        return Said(known, rule.say, written=f"{rule.say}\n{rule.rule}", intent=RULE_ASKED)
    elsewhere = heard.model_copy(update={"situation": after_relief(heard.situation)})
    after = taken_in(known, elsewhere).changed(plan=None, advised=None, cue=None, question=None)
    spoken = shortest([[rule.say, lines.THEN_THE_LIE], [rule.say]])
    kept = after.changed(spoken=spoken, short=rule.say)
    return Said(kept, spoken, written=f"{spoken}\n{rule.rule}", step=True, intent=RULE_ASKED)
