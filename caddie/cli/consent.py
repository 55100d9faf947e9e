"""Asking before anything is written."""

import sys

import typer

from caddie.errors import CaddieError


def agreed(question: str, yes: bool) -> bool:
    """Whether to go on: ``--yes``, or the person's answer on standard error's prompt.

    Raises:
        CaddieError: if nobody is there to answer.
    """
    if yes:
        return True
    try:
        return typer.confirm(question, err=True)
    except typer.Abort:
        raise CaddieError("nobody answered, nothing is written; add --yes to write without asking") from None


def ask_one_of(question: str, choices: tuple[str, ...]) -> str | None:
    """The person's choice, or None when nobody is at the keyboard."""
    if not sys.stdin.isatty():
        return None
    shown = f"{question} ({', '.join(choices)})"
    while True:
        said = typer.prompt(shown, err=True).strip()
        found = [choice for choice in choices if choice.lower().startswith(said.lower())]
        if said and len(found) == 1:
            return found[0]
