"""The typer application and its groups."""

import typer

from caddie.cli import ask, bag, card, log, practice, report, talk, voice

app = typer.Typer(
    name="caddie",
    help="A caddie for the short game: say what you see, get the shot and commit to it.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)
app.command("ask")(ask.ask)
app.command("understand")(ask.understand)
app.command("hear")(voice.hear)
app.command("talk")(talk.talk)
app.add_typer(bag.app, name="bag")
app.add_typer(practice.app, name="practice")
app.add_typer(log.app, name="log")
app.add_typer(voice.app, name="voice")
app.command("card")(card.card)
app.command("report")(report.report)
