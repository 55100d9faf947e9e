"""The command line: thin commands over the rooms below."""

import contextlib
import gc
import os
import re
import sys
from pathlib import Path
from typing import Any, Protocol, runtime_checkable

import typer

from caddie.cli.app import app
from caddie.cli.screen import safe_output
from caddie.errors import CaddieError
from caddie.keeping import refused
from caddie.printable import one_line

__all__ = ["app", "run"]

BAD_INPUT = 2
INTERRUPTED = 130
_OBJECTS_BEFORE_SWEEP = 100_000


@runtime_checkable
class WrongUse(Protocol):
    """What typer raises on a wrong command line; it exports no class of its own for all of them."""

    ctx: Any

    def format_message(self) -> str:
        """What is wrong."""


def run() -> None:
    """Run the command line; every error ends in one line on standard error and exit code 2.

    ``CADDIE_DEBUG=1`` lets a defect of the program show its traceback instead.
    """
    # Most of what a command makes lives until it ends: looking for garbage as often as Python does by itself
    # costs a one-shot answer a twentieth of its time.
    gc.set_threshold(_OBJECTS_BEFORE_SWEEP, 50, 50)
    # Looking for plugins of pydantic reads what every installed package says of itself.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    with safe_output():
        _run()


def _run() -> None:
    try:
        sys.exit(app(prog_name="caddie", standalone_mode=False) or 0)
    except CaddieError as error:
        _refuse(str(error))
    except (KeyboardInterrupt, typer.Abort):
        if sys.stderr.isatty():
            print(file=sys.stderr)
        sys.exit(INTERRUPTED)
    except BrokenPipeError:
        _stop_output()
        sys.exit(0)
    except OSError as error:
        if os.environ.get("CADDIE_DEBUG"):
            raise
        _stop_output()
        _refuse(refused(Path(error.filename or "the output"), "cannot be read or written", error))
    except Exception as error:
        if isinstance(error, WrongUse):
            _refuse_use(error)
        if os.environ.get("CADDIE_DEBUG"):
            raise
        _refuse(f"this should not happen ({type(error).__name__}: {error}); CADDIE_DEBUG=1 shows where")


def _refuse_use(error: WrongUse) -> None:
    """A wrong command or option in one line; a group of commands without one shows its help instead."""
    told = error.format_message()
    if "\n" in told:
        print(told, file=sys.stderr)
        sys.exit(BAD_INPUT)
    command = error.ctx.command_path if error.ctx else "caddie"
    if re.match(r"No such option: -\d", told):
        _refuse("a text that begins with - is taken for an option: put -- before it")
    _refuse(f"{told.rstrip('.')} (see {command} --help)")


def _stop_output() -> None:
    """Whoever read the output has gone, or its disk is full: Python must not try to flush into it again."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _refuse(reason: str) -> None:
    print(f"caddie: {one_line(reason)}", file=sys.stderr)
    sys.exit(BAD_INPUT)
