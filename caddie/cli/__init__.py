"""The command line: thin commands over the rooms below."""

import sys

from caddie.cli.app import app
from caddie.errors import CaddieError

__all__ = ["app", "run"]


def run() -> None:
    """Run the command line; every error ends in one line on standard error and exit code 2."""
    try:
        app()
    except CaddieError as error:
        print(f"caddie: {error}", file=sys.stderr)
        sys.exit(2)
    except KeyboardInterrupt:
        sys.exit(130)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)
