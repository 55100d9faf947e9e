"""What a player without a bag of their own is told: that the demo bag answers, and whose its shots are logged as."""

from pathlib import Path

import typer

DEMO_ANSWERS = (
    "No bag of your own yet: this is the demo bag, of an invented player. 'caddie bag new' makes yours from a few "
    "answers, 'caddie bag import' from a table of your balls."
)
TAKE_THEM = "{count} logged as {name}, of the demo bag: 'caddie log take-over' makes them yours."


def tell_demo(path: Path | None, as_json: bool = False) -> None:
    """Say on standard error that the demo bag answers, where it does, but to no program.

    Args:
        path: the bag file that was named, if one was.
        as_json: whether a program reads.
    """
    from caddie.bag.file import kept_bag

    if not as_json and path is None and kept_bag() is None:
        typer.echo(DEMO_ANSWERS, err=True)


def demo_player() -> str:
    """The name that shots are logged under while the demo bag answers."""
    from caddie.bag.file import load_bag

    return load_bag().player.name


def offer_demo_shots(log_file: Path | None = None) -> None:
    """Say on standard error which shots were logged with the demo bag, where there are any, and how to have them."""
    from caddie.errors import CaddieError
    from caddie.log.store import Log

    name = demo_player()
    try:
        with Log(log_file, read_only=True) as log:
            count = log.count(name)
    except CaddieError:
        # There is no log, or it cannot be read: whoever needs it is told so.
        return
    if count:
        shots = "1 shot is" if count == 1 else f"{count} shots are"
        typer.echo(TAKE_THEM.format(count=shots, name=name), err=True)
