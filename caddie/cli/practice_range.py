"""``caddie practice range``: a session that calls each ball and takes down what became of it."""

import json
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from caddie.cli.consent import agreed
from caddie.cli.partner import HandsFree, partner
from caddie.cli.screen import literal_console
from caddie.cli.spoken import Loudspeaker, Microphone
from caddie.errors import CaddieError

_BAR_COLUMNS = 40

if TYPE_CHECKING:
    from rich.console import Console

    from caddie.bag.models import Bag
    from caddie.range.session import RangeSession, Summary


def range_command(
    balls: Annotated[int, typer.Option(help="Balls at hand.")] = 100,
    clubs: Annotated[str, typer.Option(help="Clubs, comma between; three wedges when left out.")] = "",
    swings: Annotated[str, typer.Option(help="Swing lengths, comma between; the three longest.")] = "",
    sand: Annotated[
        bool, typer.Option("--sand", help="A bucket from a practice bunker: every ball is a splash.")
    ] = False,
    order: Annotated[str, typer.Option(help="mixed or blocked.")] = "mixed",
    bag: Annotated[Path | None, typer.Option("--bag", help="Bag file; your own when left out.")] = None,
    temperature: Annotated[float | None, typer.Option(help="Air temperature, degrees Celsius.")] = None,
    altitude: Annotated[float | None, typer.Option(help="Height above the sea, metres.")] = None,
    fresh: Annotated[
        bool, typer.Option("--new", help="Leave an unfinished session alone, and a damaged one aside.")
    ] = False,
    seed: Annotated[int, typer.Option(min=0, help="Seed of the mixed order.")] = 1,
    voice: HandsFree = False,
    microphone: Microphone = None,
    loudspeaker: Loudspeaker = None,
    yes: Annotated[bool, typer.Option("--yes", "-y", help="Keep the session without asking.")] = False,
    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object at the end.")] = False,
) -> None:
    """Hit a bucket of balls: say each carry ("sixty-three, left"), "thin", "scratch that", "pause", "finish".

    Example: caddie practice range.

    A session that was cut off goes on where it stood. Say "finish" to end it early.
    """
    from caddie.bag.file import load_bag, own_bag
    from caddie.practice.range_talk import ball_told, run_range
    from caddie.range.session import STOPPING_RULE
    from caddie.range.sessions import keep_range
    from caddie.words.listened_for import range_sentences

    path = bag or own_bag()
    if not path.exists():
        raise CaddieError(f"{path}: no such bag file; make one with 'caddie bag new' or name one with --bag")
    owned = load_bag(path)
    screen = literal_console(stderr=as_json)
    session = _session(
        owned, balls, clubs, swings, sand, order, temperature, altitude, fresh, seed, screen, path, yes
    )
    if session is None:
        typer.echo("Nothing written.", err=True)
        raise typer.Exit(1)
    screen.print(f"{STOPPING_RULE} Look that nobody is in range.")

    def understood(text: str) -> bool:
        return ball_told(text, owned.player) is not None

    beside = partner(range_sentences(), microphone, loudspeaker, understood) if voice else None

    def say(line: str) -> None:
        screen.print(line)
        if beside is not None:
            beside.say(line)

    def listen(call: str) -> str | None:
        screen.print(call, style="bold")
        if beside is not None:
            beside.say(call)
            heard = beside.hear()
            if heard is not None:
                screen.print(f"> {heard}")
            return heard
        try:
            return input("> " if not as_json else "")
        except (EOFError, KeyboardInterrupt):
            return None

    with session:
        try:
            summary = run_range(session, listen, say, lambda now: _bar(screen, now), _now)
        finally:
            if beside is not None:
                beside.close()
        kept = keep_range(session, path, owned, _now()) if summary.finished else None
    if as_json:
        done = {"kept": str(kept) if kept else None, **summary.model_dump(mode="json")}
        typer.echo(json.dumps(done, ensure_ascii=False))
    elif kept:
        typer.echo(f"Kept {kept}. Next: caddie bag fit")
    elif not summary.finished:
        typer.echo(f"{summary.used} balls are kept; run the same command to go on.")


def _session(
    owned: "Bag",
    balls: int,
    clubs: str,
    swings: str,
    sand: bool,
    order: str,
    temperature: float | None,
    altitude: float | None,
    fresh: bool,
    seed: int,
    screen: "Console",
    path: Path,
    yes: bool,
) -> "RangeSession | None":
    """The unfinished session, or a new one once the person agrees to have it kept."""
    from caddie.bag.models import Conditions
    from caddie.range.bucket import Order, plan_range
    from caddie.range.journal import journals, unfinished
    from caddie.range.session import begin_range, resume_range
    from caddie.range.sessions import sessions_folder

    old = None if fresh else unfinished()
    if old is not None:
        session = resume_range(old)
        place = " in the bunker" if session.plan.sand else ""
        screen.print(
            f"Going on with the session{place} of {session.date}: {len(session.shots)} balls so far."
        )
        return session
    if order not in list(Order):
        raise CaddieError(f"--order {order}: say mixed or blocked")
    air = None
    if temperature is not None or altitude is not None:
        usual = owned.measured_in
        try:
            air = Conditions(
                temperature_c=usual.temperature_c if temperature is None else temperature,
                altitude_m=usual.altitude_m if altitude is None else altitude,
            )
        except ValueError:
            raise CaddieError("--temperature must be -20 to 50 and --altitude -400 to 4500") from None
    plan = plan_range(owned, balls, _list(clubs), _list(swings), Order(order), seed, air, sand)
    screen.print(
        f"{plan.balls} balls, {plan.order.value}: "
        + ", ".join(f"{target.club} {target.swing}" for target in plan.targets)
    )
    if not agreed(f"Keep each ball in {journals()} and the session in {sessions_folder(path)}?", yes):
        return None
    session, told = begin_range(plan, owned.player, _now())
    for line in told:
        screen.print(line)
    return session


def _bar(screen: "Console", summary: "Summary") -> None:
    from rich.progress_bar import ProgressBar
    from rich.table import Table

    told = f"{summary.used} of {summary.balls} balls, {summary.known} of {len(summary.cells)} carries known"
    if screen.width < _BAR_COLUMNS + 1 + len(told):
        screen.print(told)
        return
    line = Table.grid(padding=(0, 1))
    line.add_row(ProgressBar(total=summary.balls, completed=summary.used, width=_BAR_COLUMNS), told)
    screen.print(line)


def _list(text: str) -> list[str]:
    return [part.strip() for part in text.split(",") if part.strip()]


def _now() -> datetime:
    return datetime.now().astimezone()
