"""``caddie ask`` and ``caddie understand``: one sentence, or one a line from standard input."""

import json
import sys
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Annotated, Any

import typer

from caddie.cli.demo import tell_demo
from caddie.cli.notes_reading import notes_or_none
from caddie.cli.options import AsJson, BagFile, Competition, Seed, Yes, bag_at
from caddie.cli.output import output
from caddie.cli.spoken import USUAL_RATE, Out, Say
from caddie.errors import CaddieError

Text = Annotated[str, typer.Argument(help="What you see, in your own words; - reads one situation a line.")]
Answering = Callable[[str], tuple[dict[str, Any], str, int]]
"""A sentence to its JSON object, its lines of text and its exit code."""


def ask(
    text: Text,
    bag: BagFile = None,
    as_json: AsJson = False,
    picture: Annotated[Path | None, typer.Option(help="Draw the shot as SVG into this file.")] = None,
    say: Say = False,
    out: Out = None,
    seed: Seed = 1,
    competition: Competition = False,
    yes: Yes = False,
) -> None:
    """Plan the shot from a sentence: caddie ask "seventy yards, fairway, bunker short"."""
    from caddie.talk.answer import Answer, answer

    owned, notes = bag_at(bag), notes_or_none()
    can_ask = text != "-" or sys.stdin.isatty()
    drawn = output(picture, "the picture", yes, bag, can_ask=can_ask) if picture else None
    sound = output(out, "the spoken reply", yes, bag, [picture], can_ask) if out else None

    def reply(sentence: str) -> tuple[dict[str, Any], str, int]:
        found: Answer = answer(sentence, owned, seed=seed, competition=competition, notes=notes)
        if drawn and found.plan:
            from caddie.reply.picture import draw_picture

            drawn.write(draw_picture(found.plan, owned))
        if say or sound:
            from caddie.cli.spoken import settings, speak_reply

            aloud = found.advice["spoken"] if found.advice else found.question or found.note or ""
            speak_reply(aloud, say, sound, settings(USUAL_RATE, None, 1.0))
        lines = (
            found.advice["written"] if found.advice else "\n".join(filter(None, (found.question, found.note)))
        )
        spoken = f"\n{found.advice['spoken']}" if found.advice else ""
        return found.wire(), f"{lines}\n{spoken}".rstrip(), 1 if found.question else 0

    code = print_answers(text, as_json, reply)
    tell_demo(bag, as_json)
    raise typer.Exit(code)


def understand(text: Text, bag: BagFile = None, as_json: AsJson = False) -> None:
    """Show only the facts in a sentence, no plan: caddie understand "forty, heavy rough, bunker long"."""
    from caddie.talk.answer import read
    from caddie.talk.facts import facts_text

    player, notes = bag_at(bag).player, notes_or_none()

    def reply(sentence: str) -> tuple[dict[str, Any], str, int]:
        found = read(sentence, player, notes, from_speech=False)[0]
        if found.problem:
            raise CaddieError(found.problem)
        return found.model_dump(mode="json"), facts_text(found, player), 0

    raise typer.Exit(print_answers(text, as_json, reply))


def print_answers(text: str, as_json: bool, reply: Answering) -> int:
    """Answer one sentence, or each line of standard input, and return the exit code.

    In a stream one bad line does not end the others: its object holds the error.
    """
    if text != "-":
        found, lines, code = reply(text)
        typer.echo(json.dumps(found, ensure_ascii=False) if as_json else lines)
        return code
    worst = 0
    for sentence in _lines(sys.stdin):
        try:
            found, lines, code = reply(sentence)
        except CaddieError as error:
            found, lines, code = {"heard": sentence, "error": str(error)}, f"caddie: {error}", 2
        typer.echo(json.dumps(found, ensure_ascii=False) if as_json else f"{lines}\n")
        worst = max(worst, code)
    return worst


def _lines(stream: Iterable[str]) -> Iterator[str]:
    return (line.strip() for line in stream if line.strip())
