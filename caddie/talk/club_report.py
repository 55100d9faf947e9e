"""A club named beside a result is the one that was played: "Hit the sixty. Three feet, left." """

import re

from caddie.words import Intent, Understanding

_PLAYED = re.compile(
    r"^\W*(?:(?:and|so|ok|okay|right|well|anyway|no),? )*(?:i |we |just |i've |i have )*"
    r"(?:hit|played|used|took|went with|chose|swung|pulled|picked|had|made it)\b",
    re.IGNORECASE,
)


def club_reported(parts: tuple[Understanding, ...]) -> tuple[Understanding, ...]:
    """The parts of a turn without a club that was only told as played, for a result stands beside it."""
    if not any(part.intent is Intent.RESULT for part in parts):
        return parts
    clubs = [part for part in parts if _is_report(part)]
    kept = [part for part in parts if not _is_report(part)]
    at = next(i for i, part in enumerate(kept) if part.intent is Intent.RESULT)
    if clubs and kept[at].club is None:
        kept[at] = kept[at].model_copy(update={"club": clubs[0].club})
    return tuple(kept)


def _is_report(part: Understanding) -> bool:
    told = part.intent is Intent.WHAT_IF and (part.club or part.swing or part.family)
    return bool(told) and not part.heard.rstrip().endswith("?") and _PLAYED.match(part.heard) is not None
