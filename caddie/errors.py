"""The one family of errors a user can meet."""


class CaddieError(Exception):
    """Bad input or set-up, told in one line: what was wrong, where, and what to do.

    The command line prints the message and ends with exit code 2; a traceback never reaches a user.
    """
