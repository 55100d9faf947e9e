"""``caddie practice drill``: putting drills with a score, typed or spoken."""

from typing import Annotated

import typer

from caddie.cli.log import LogFile
from caddie.cli.options import AsJson, BagFile, bag_at
from caddie.cli.partner import Exchange, HandsFree, exchange
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
    from caddie.log.games import note_game, scores
    from caddie.log.store import Log
    from caddie.practice.drills import LAYOUTS, after, ends, layout, sentences_of

    if not name:
        for known, one in LAYOUTS.items():
            found = {"drill": known, "title": one.title, "layout": one.text}
            Exchange(as_json).show(found, f"{known}: {one.text}")
        return
    laid_out = layout(name)
    drill = laid_out.fresh
    owned = bag_at(bag)
    talk = exchange(as_json, voice, microphone, loudspeaker, lambda: sentences_of(name), nothing_else=True)
    try:
        talk.say({"title": laid_out.title, "layout": laid_out.text}, laid_out.text)
        told = 0
        while not drill.over:
            talk.say({"prompt": drill.prompt}, drill.prompt)
            line = talk.hear()
            following = after(drill, line, owned) if line is not None else None
            if following is not None:
                drill, told = following, told + 1
                talk.say({"counted": drill.counted, "points": drill.points}, drill.counted)
            elif line is None or ends(drill, line):
                break
            else:
                ask = f'{laid_out.say[0].upper()}{laid_out.say[1:]}; "stop" ends it.'
                talk.say({"error": ask}, ask)
        if not told:
            return
        said = drill.summary(owned.player.handicap)
        if drill.over and not no_log:
            with Log(log_file) as log:
                before = [score.points.get(owned.player.name) for score in scores(log, name)]
                note_game(log, name, {owned.player.name: drill.points}, said)
            earlier = [f"{points:g}" for points in before if points is not None][-EARLIER:]
            said += f" Before: {', '.join(earlier)}." if earlier else ""
        talk.say({"summary": said, "points": drill.points}, said)
    finally:
        talk.close()
