"""Text made safe to print: what would steer a terminal or reorder a line is shown instead of done.

The same for a cell of a table: what a spreadsheet would take for a formula stays text.
"""

import re

_CONTROLS = "\\x00-\\x1f\\x7f-\\x9f"
_REORDERING = "\\u061c\\u200e\\u200f\\u2028-\\u202e\\u2066-\\u2069"
_UNSEEN = re.compile(f"[{_CONTROLS}{_REORDERING}\\ud800-\\udfff]")

_FORMULA = ("=", "+", "-", "@", "\t", "\r")
_HARMLESS = re.compile(r"[+-]+|[+-]\d[\d.,]*\s?[a-zA-Z/°%]{0,6}")
"""A number with its sign and perhaps its unit, or the dash that stands for none."""


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


def table_cell(text: str) -> str:
    """The text of a cell; a quote mark before it keeps a spreadsheet from taking it for a formula.

    >>> table_cell("=1+1"), table_cell("-2.5"), table_cell("-3 yd")
    ("'=1+1", '-2.5', '-3 yd')
    """
    return f"'{text}" if text.startswith(_FORMULA) and not _HARMLESS.fullmatch(text) else text


def cell_text(cell: str) -> str:
    """What :func:`table_cell` was given.

    >>> cell_text("'=1+1"), cell_text("'twas thin")
    ('=1+1', "'twas thin")
    """
    return cell[1:] if cell.startswith("'") and table_cell(cell[1:]) == cell else cell
