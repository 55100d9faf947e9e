"""What is told in the order in which the ball meets it: "trap, then three steps of green, then the hole"."""

import re

from caddie.words.grammar import grammar
from caddie.words.reduction import reducer

_THEN = re.compile(r"[,;:.]?\s+(?:and\s+)?(?:then|after that)\s+", re.IGNORECASE)
_LAST_CLAUSE = re.compile(r"^(.*[,;:.!?]\s+)?(.+)$", re.DOTALL)
_BARE_LENGTH = re.compile(r"^(?:\w+[ -])?\w+\s+(?:paces?|steps?|yards?|metres?|meters?)$", re.IGNORECASE)
_ENDS = ("FLAG", "GREEN")
_LEADS = frozenset({"first", "there", "got", "have", "i", "it", "you"})
"""What may stand beside trouble that is named first."""


def told_in_a_row(text: str) -> str:
    """The text with trouble that is named first put before the ball, where green or the flag come then.

    >>> told_in_a_row("trap, then three steps, then the hole")
    'trap in front, then three steps of green, then the hole'
    """
    parts = _THEN.split(text)
    if len(parts) < 2:
        return text
    names = [_names(part) for part in parts]
    first = _LAST_CLAUSE.match(parts[0])
    ends = next((at for at, said in enumerate(names) if at and any(name in said for name in _ENDS)), None)
    if ends is None or first is None or not _is_trouble_alone(first[2]):
        return text
    plain = [f"{first[1] or ''}{re.sub(r'(?i) first$', '', first[2])} in front"]
    for at, part in enumerate(parts[1:], 1):
        before_the_flag = at + 1 < len(parts) and "FLAG" in names[at + 1]
        plain.append(f"{part} of green" if before_the_flag and _BARE_LENGTH.match(part) else part)
    return ", then ".join(plain)


def _names(part: str) -> list[str]:
    reduce = reducer()
    return [piece.text for piece in reduce.pieces(reduce.tokens(part))]


def _is_trouble_alone(clause: str) -> bool:
    """Whether a clause names trouble and tells nothing of it: no place, no ball that lies in it."""
    said = [name for name in _names(clause) if name not in _LEADS]
    return len(said) == 1 and said[0] in {noun.name.upper() for noun in grammar().troubles()}
