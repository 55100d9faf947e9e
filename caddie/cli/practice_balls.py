"""The balls of a practice called one by one in the terminal, typed or spoken."""

from typing import TYPE_CHECKING

from caddie.cli.partner import Exchange

if TYPE_CHECKING:
    from caddie.practice.under_way import Practising


def each_ball(now: "Practising", talk: Exchange, answer_named: str) -> None:
    """Call each ball and hear what became of it, until none is left or the player ends it.

    Args:
        now: what is practised.
        talk: how it is said and heard.
        answer_named: what the answer to a ball is called where it is printed as JSON.
    """
    called = -1
    while not now.over:
        if called != now.played:
            called = now.played
            prompt = now.prompt
            talk.say({"prompt": prompt}, prompt)
        line = talk.hear()
        told = now.tell(line) if line is not None else None
        if told is None or told.ended:
            return
        found = {answer_named: told.line, **now.scored} if told.taken else {"error": told.line}
        talk.say(found, told.line)
