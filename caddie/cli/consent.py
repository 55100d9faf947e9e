"""Asking before anything is written."""

import sys
from collections.abc import Callable
from typing import TypeVar

import typer

from caddie.errors import CaddieError

Given = TypeVar("Given")


def answer_to(ask: Callable[[], Given]) -> Given | None:
    """What the person answers to a question, or None at the end of input; Ctrl-C goes on its way.

    typer reports both alike: only what it was handling tells them apart.
    """
    try:
        return ask()
    except typer.Abort as cut:
        if isinstance(cut.__context__, KeyboardInterrupt):
            raise
        return None


def agreed(question: str, yes: bool) -> bool:
    """Whether to go on: ``--yes``, or the person's answer on standard error's prompt.

    Raises:
        CaddieError: if nobody is there to answer.
    """
    if yes:
        return True
    answer = answer_to(lambda: typer.confirm(question, err=True))
    if answer is None:
        raise CaddieError("nobody answered, nothing is written; add --yes to write without asking")
    return answer


def ask_one_of(question: str, choices: tuple[str, ...]) -> str | None:
    """The person's choice, or None when nobody is at the keyboard."""
    if not sys.stdin.isatty():
        return None
    shown = f"{question} ({', '.join(choices)})"
    while True:
        said = answer_to(lambda: str(typer.prompt(shown, err=True)).strip())
        if said is None:
            return None
        found = [choice for choice in choices if choice.lower().startswith(said.lower())]
        if said and len(found) == 1:
            return found[0]
