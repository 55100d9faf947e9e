"""The one family of errors a user can meet."""

from caddie.printable import one_line


class CaddieError(Exception):
    """Bad input or set-up, told in one line: what was wrong, where, and what to do.

    The line is safe to print whatever file name or text it quotes. The command line prints it and ends with
    exit code 2; a traceback never reaches a user.
    """

    def __str__(self) -> str:
        return one_line(super().__str__())
