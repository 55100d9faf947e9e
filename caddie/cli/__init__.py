"""The command line: thin commands over the rooms below."""

import contextlib
import os
import sys

from caddie.cli.app import app
from caddie.cli.screen import safe_output
from caddie.errors import CaddieError
from caddie.printable import one_line

__all__ = ["app", "run"]

BAD_INPUT = 2
INTERRUPTED = 130


def run() -> None:
    """Run the command line; every error ends in one line on standard error and exit code 2.

    ``CADDIE_DEBUG=1`` lets a defect of the program show its traceback instead.
    """
    with safe_output():
        _run()


def _run() -> None:
    try:
        app()
    except CaddieError as error:
        _refuse(str(error))
    except KeyboardInterrupt:
        sys.exit(INTERRUPTED)
    except BrokenPipeError:
        _stop_output()
        sys.exit(0)
    except OSError as error:
        if os.environ.get("CADDIE_DEBUG"):
            raise
        _stop_output()
        _refuse(f"{error.filename or 'the output'}: cannot be read or written ({error.strerror or error})")
    except Exception as error:
        if os.environ.get("CADDIE_DEBUG"):
            raise
        _refuse(f"this should not happen ({type(error).__name__}: {error}); CADDIE_DEBUG=1 shows where")


def _stop_output() -> None:
    """Whoever read the output has gone, or its disk is full: Python must not try to flush into it again."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _refuse(reason: str) -> None:
    print(f"caddie: {one_line(reason)}", file=sys.stderr)
    sys.exit(BAD_INPUT)
