"""What other rooms say of commands, said for the page: it names what one taps there, or that the machine is needed."""

import re

_DROPPED = "“Bag: a table of your shots”"
AT_HAND = {
    "bag new": _DROPPED,
    "bag import": _DROPPED,
    "bag check": "the bag file on the machine",
    "bag fit": "“Bag: Fit”",
    "practice range": "“Practice: Range session”",
    "practice drill": "“Practice: Putting drills”",
    "practice rehearse": "“Practice: Rehearsal”",
    "log undo": "mending the log on the machine",
    "page devices": "the list of devices on the machine",
    "talk": "the text in the page",
    "voice": "the sound of the machine",
}
"""Where a command's work is done from the page, by the command or by the group that it is of."""
_NAMED = rf"caddie (?P<{{}}>{'|'.join(AT_HAND)})\b"
_COMMAND = re.compile(
    rf"(?P<run>run )?(?:(?P<mark>['`]){_NAMED.format('quoted')}.*?(?P=mark)"
    rf"|{_NAMED.format('bare')}(?: --?[\w-]+| [\w-]+=[\w-]+| [A-Z]+\b)*)",
    re.DOTALL,
)
_OPTION = re.compile(
    r"^--|, or [^,;]* --[\w-]+[^,;]*| with --[\w-]+(?: or --[\w-]+)*|, for example --[^,;]+", re.DOTALL
)
"""A way out that only the terminal has."""

_TWICE = re.compile(r"(“[^”]+”) or \1")


def at_hand(message: str) -> str:
    """A message without names of commands.

    >>> at_hand("the bag has no carry: run 'caddie bag new' first")
    'the bag has no carry: tap “Bag: a table of your shots” first'
    """
    said = _COMMAND.sub(_place, _OPTION.sub("", message))
    return _TWICE.sub(r"\1", said)


def _place(found: re.Match[str]) -> str:
    place = AT_HAND[found["quoted"] or found["bare"]]
    verb = "tap " if place.startswith("“") else "see to "
    return f"{verb if found['run'] else ''}{place}"
