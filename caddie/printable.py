"""Text made safe to print: what would steer a terminal or reorder a line is shown instead of done."""

import re

_CONTROLS = "\\x00-\\x1f\\x7f-\\x9f"
_REORDERING = "\\u061c\\u200e\\u200f\\u2028-\\u202e\\u2066-\\u2069"
_UNSEEN = re.compile(f"[{_CONTROLS}{_REORDERING}\\ud800-\\udfff]")


def printable(text: str) -> str:
    """The text with control characters, direction marks and half characters written as escapes.

    >>> printable("wedge\\x1b[2J.csv")
    'wedge\\\\x1b[2J.csv'
    """
    return _UNSEEN.sub(lambda found: found[0].encode("unicode_escape").decode("ascii"), text)


def storable(text: str) -> str:
    """The text with each half character, which no file can hold, as the mark for an unknown one.

    >>> ascii(storable("70" + chr(0xDCFF) + " yards"))
    "'70\\\\ufffd yards'"
    """
    return text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def one_line(text: str) -> str:
    """As :func:`printable`, with line breaks and the space around them as one space."""
    return printable(re.sub(r"\s*[\r\n]\s*", " ", text).strip())
