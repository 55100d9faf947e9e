"""``caddie practice``: rehearsals, games, and what to work on next."""

import json
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from caddie.cli import practice_drill, practice_range
from caddie.cli.log import LogFile
from caddie.cli.log_reading import log_to_read
from caddie.cli.options import AsJson, BagFile, Seed, bag_at
from caddie.cli.partner import Exchange, HandsFree, exchange
from caddie.cli.practice_balls import each_ball
from caddie.cli.practice_drill import NoLog
from caddie.cli.spoken import Loudspeaker, Microphone
from caddie.errors import CaddieError

if TYPE_CHECKING:
    from caddie.bag import Bag
    from caddie.log.shot import Shot

app = typer.Typer(
    name="practice", help="Rehearsals, drills, games, and what to work on next.", no_args_is_help=True
)

app.command("range")(practice_range.range_command)
app.command("drill")(practice_drill.drill_command)

NEWEST = 3000
"""Shots of the log that a rehearsal is chosen from."""


@app.command("next")
def what_next(
    bag: BagFile = None,
    log_file: LogFile = None,
    seed: Seed = 1,
    as_json: AsJson = False,
) -> None:
    """What twenty minutes would gain most: caddie practice next."""
    from caddie.practice.begin import ReadOn, how_to_begin
    from caddie.practice.next import CLOSED, FOR_EVERYBODY, most_to_gain, shots_counted, too_few

    owned = bag_at(bag)
    table = _table(log_file, owned)
    gains = most_to_gain(table, owned.player.handicap, owned.player.distances_in, seed)[:5]
    if as_json:
        rows: list[dict[str, Any]] = [
            {
                "kind": gain.kind.name,
                "practise": how_to_begin(gain.drill, ReadOn.TERMINAL),
                "per_round": round(gain.per_round, 3),
                "shots": gain.shots,
                "lost": round(gain.lost, 4),
                "lost_se": round(gain.lost_se, 4),
                "strokes": round(gain.strokes, 4),
                "low": round(gain.low, 4),
                "high": round(gain.high, 4),
                "first": round(gain.first, 3),
            }
            for gain in gains
        ]
        known = {"shots": shots_counted(table), "enough": not too_few(table)}
        typer.echo(json.dumps({"assumed_share_closed": CLOSED, **known, "next": rows}, ensure_ascii=False))
        return
    if few := too_few(table):
        typer.echo(few)
        for number, each in enumerate(FOR_EVERYBODY, start=1):
            typer.echo(f"{number}. {each.sentence}.\n   {how_to_begin(each.drill, ReadOn.TERMINAL)}")
        return
    for number, gain in enumerate(gains, start=1):
        typer.echo(
            f"{number}. {gain.sentence}.\n   Twenty minutes: {gain.strokes:.3f} strokes a round "
            f"({gain.low:.3f} to {gain.high:.3f}); the best choice with {gain.first:.0%} chance.\n"
            f"   Practise it: {how_to_begin(gain.drill, ReadOn.TERMINAL)}"
        )
    typer.echo(
        f"Taken that twenty minutes close {CLOSED:.0%} of the gap, which nobody has measured: "
        "trust the order more than the strokes."
    )


@app.command()
def rehearse(
    balls: Annotated[int, typer.Option(min=1, max=99, help="How many balls.")] = 10,
    order: Annotated[str, typer.Option(help="mixed, blocked or rising.")] = "mixed",
    within: Annotated[
        float | None, typer.Option(min=5, help="Longest shot, in your unit, that the green has room for.")
    ] = None,
    advice: Annotated[bool, typer.Option("--advice", help="Say the shot to play, too.")] = False,
    bag: BagFile = None,
    log_file: LogFile = None,
    no_log: NoLog = False,
    seed: Seed = 1,
    voice: HandsFree = False,
    microphone: Microphone = None,
    loudspeaker: Loudspeaker = None,
    as_json: AsJson = False,
) -> None:
    """Read out shots to rehearse; drop a ball, play, say what happened: caddie practice rehearse."""
    from caddie.log.store import Log
    from caddie.practice.rehearse import RehearsalOrder, plan_rehearsal, summary
    from caddie.practice.told import told_sentences
    from caddie.practice.under_way import Rehearsing
    from caddie.situation import FARTHEST_M
    from caddie.units import to_metres

    if order not in list(RehearsalOrder):
        raise CaddieError(f"--order {order}: choose {', '.join(RehearsalOrder)}")
    owned = bag_at(bag)
    farthest_m = to_metres(within, owned.player.distances_in) if within else FARTHEST_M
    rehearsal = plan_rehearsal(_shots(log_file, owned), owned, balls, RehearsalOrder(order), farthest_m, seed)
    log = None if no_log else Log(log_file)
    now = Rehearsing(rehearsal, log, advise=partial(_advised, owned=owned, seed=seed) if advice else None)
    talk = exchange(as_json, voice, microphone, loudspeaker, told_sentences)
    try:
        talk.show({"note": rehearsal.note, "balls": balls}, rehearsal.note)
        if log is not None:
            talk.show({"log": str(log.path)}, f"Every ball is kept in {log.path} (--no-log keeps none).")
        each_ball(now, talk, "feedback")
        talk.say({"summary": summary(now.now)}, summary(now.now))
    finally:
        talk.close()
        if log is not None:
            log.close()


@app.command()
def game(
    rule: Annotated[str, typer.Argument(help="Which game; left out, the games are listed.")] = "",
    player: Annotated[
        list[str] | None, typer.Option("--player", help="Once for each of two players; you alone otherwise.")
    ] = None,
    bag: BagFile = None,
    log_file: LogFile = None,
    no_log: NoLog = False,
    seed: Seed = 1,
    voice: HandsFree = False,
    microphone: Microphone = None,
    loudspeaker: Loudspeaker = None,
    as_json: AsJson = False,
) -> None:
    """Play a game, alone or in turns: caddie practice game nearest --player Ash --player Bryn."""
    from caddie.log.store import Log
    from caddie.practice.games import RULES, start
    from caddie.practice.told import told_sentences
    from caddie.practice.under_way import Playing

    if not rule:
        for name, rules in RULES.items():
            found = {"game": name, "title": rules.title, "rules": rules.text}
            Exchange(as_json).show(found, f"{name}: {rules.text}")
        return
    owned = bag_at(bag)
    game_begun = start(rule, tuple(player or [owned.player.name]), owned, seed)
    log = None if no_log else Log(log_file)
    now = Playing(game_begun, log)
    talk = exchange(as_json, voice, microphone, loudspeaker, told_sentences)
    try:
        rules = now.now.rules
        talk.say({"title": rules.title, "rules": rules.text}, rules.text)
        if log is not None:
            talk.show({"log": str(log.path)}, f"Shots and points go to {log.path} (--no-log keeps none).")
        each_ball(now, talk, "said")
        if now.played:
            talk.say({"outcome": now.summary, **now.scored}, now.summary)
    finally:
        talk.close()
        if log is not None:
            log.close()


def _table(log_file: Path | None, owned: "Bag") -> Any:
    from caddie.log.table import read_table, table_of

    if not _log_path(log_file).exists():
        return table_of([])
    with log_to_read(log_file) as log:
        return read_table(log, owned.player.name)


def _shots(log_file: Path | None, owned: "Bag") -> "list[Shot]":
    if not _log_path(log_file).exists():
        return []
    with log_to_read(log_file) as log:
        return log.shots(owned.player.name, last=NEWEST)


def _log_path(log_file: Path | None) -> Path:
    from caddie.log.store import FILE_NAME
    from caddie.places import home

    return log_file or home() / FILE_NAME


def _advised(situation: Any, owned: "Bag", seed: int) -> dict[str, Any]:
    from caddie.plan.choose import advise
    from caddie.talk.advice import advice_of

    return advice_of(advise(situation, owned, seed=seed), owned)
