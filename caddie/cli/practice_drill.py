"""``caddie practice drill``: putting drills with a score, typed or spoken."""

from typing import Annotated

import typer

from caddie.cli.log import LogFile
from caddie.cli.options import AsJson, BagFile, bag_at
from caddie.cli.partner import Exchange, HandsFree, exchange
from caddie.cli.practice_balls import each_ball
from caddie.cli.spoken import Loudspeaker, Microphone

NoLog = Annotated[bool, typer.Option("--no-log", help="Keep nothing.")]
EARLIER = 5
"""Earlier scores that are told."""


def drill_command(
    name: Annotated[str, typer.Argument(help="Which drill; left out, the drills are listed.")] = "",
    bag: BagFile = None,
    log_file: LogFile = None,
    no_log: NoLog = False,
    voice: HandsFree = False,
    microphone: Microphone = None,
    loudspeaker: Loudspeaker = None,
    as_json: AsJson = False,
) -> None:
    """Putt a drill with a score: pace, gate or ring: caddie practice drill ring."""
    from caddie.log.games import scores
    from caddie.log.store import Log
    from caddie.practice.drills import LAYOUTS, layout, sentences_of
    from caddie.practice.under_way import Putting

    if not name:
        for known, one in LAYOUTS.items():
            found = {"drill": known, "title": one.title, "layout": one.text}
            Exchange(as_json).show(found, f"{known}: {one.text}")
        return
    laid_out = layout(name)
    owned = bag_at(bag)
    log = None if no_log else Log(log_file)
    before = [score.points.get(owned.player.name) for score in scores(log, name)] if log is not None else []
    now = Putting(name, laid_out.fresh, owned, log)
    talk = exchange(as_json, voice, microphone, loudspeaker, lambda: sentences_of(name), nothing_else=True)
    try:
        talk.say({"title": laid_out.title, "layout": laid_out.text}, laid_out.text)
        each_ball(now, talk, "counted")
        if now.played:
            earlier = [f"{points:g}" for points in before if points is not None][-EARLIER:]
            said = f"{now.summary} Before: {', '.join(earlier)}." if earlier and now.over else now.summary
            talk.say({"summary": said, **now.scored}, said)
    finally:
        talk.close()
        if log is not None:
            log.close()
