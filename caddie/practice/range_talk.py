"""A range session talked through: each call is answered by what became of the ball, or a word to the session."""

from collections.abc import Callable
from datetime import datetime

from caddie.bag.models import Player
from caddie.range.session import RangeSession, Summary
from caddie.range.told import BallTold, Command
from caddie.words import Expecting, understand


def ball_told(text: str, player: Player) -> BallTold | Command | None:
    """What is said after a ball, lengths without a unit in the player's; None when it is not understood."""
    reply = understand(text, expecting=Expecting.CARRY, unit=player.distances_in, pace_m=player.pace_m)
    return reply.command or reply.ball


def hear(session: RangeSession, text: str, now: datetime) -> str:
    """Read one utterance and let the session take it; its answer.

    Raises:
        CaddieError: if the journal cannot be written.
    """
    return session.take(ball_told(text, session.player), text, now)


def run_range(
    session: RangeSession,
    listen: Callable[[str], str | None],
    say: Callable[[str], None],
    show: Callable[[Summary], None],
    clock: Callable[[], datetime],
) -> Summary:
    """Call, listen and answer until the balls are gone, every cell is known or the player ends it.

    ``listen`` gets the call and returns the utterance, or None when nobody is there any more.
    """
    while session.target is not None:
        show(session.summary())
        text = listen(session.call)
        if text is None:
            break
        if not text.strip():
            continue
        answer = hear(session, text, clock())
        if answer and not session.finished:
            say(answer)
    summary = session.summary()
    if summary.finished:
        say(session.call)
    session.close(clock())
    return session.summary()
