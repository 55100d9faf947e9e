"""Clubs and swings as tables and people name them, found in a bag."""

import re

from caddie.bag.models import Bag, Club, ClubKind, SwingLength

LETTERS = {
    "pw": "pitching wedge",
    "gw": "gap wedge",
    "aw": "approach wedge",
    "uw": "utility wedge",
    "sw": "sand wedge",
    "lw": "lob wedge",
}
_NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
LOFT = re.compile(r"^(?:wedge )?(\d\d(?:\.\d)?)(?: ?(?:°|deg|degs|degrees?))?(?: wedge)?$")
IRON = re.compile(r"^(?:i|iron ?)?([1-9])(?: ?i| ?iron)?$")
_SHARES = {"1/4": 0.25, "1/2": 0.5, "3/4": 0.75, "1/1": 1.0}


def spelled(name: str) -> str:
    """A club's name in lower case, one space between its parts.

    >>> spelled(" Sand-Wedge")
    'sand wedge'
    """
    return " ".join(name.lower().replace("-", " ").replace("_", " ").split())


def club_named(bag: Bag, name: str) -> Club | None:
    """The club of the bag that a table means: by name, letters, loft or iron number."""
    said = spelled(name)
    if found := bag.club_called(name) or bag.club_called(said):
        return found
    if said in LETTERS:
        return bag.club_called(LETTERS[said])
    if iron := IRON.match(said):
        digit = iron[1]
        in_words = _NUMBERS[int(digit) - 1]
        for each in (f"{digit}i", f"{digit} iron", f"{digit}-iron", f"{in_words} iron", f"iron {digit}"):
            if found := bag.club_called(each):
                return found
    if loft := LOFT.match(said):
        wanted = float(loft[1])
        near = [c for c in bag.clubs if c.kind is ClubKind.WEDGE and abs(c.loft_deg - wanted) <= 0.5]
        return near[0] if len(near) == 1 else None
    return None


def swing_named(bag: Bag, name: str) -> SwingLength | None:
    """The swing length that a table means: by name, nickname, fraction or per cent."""
    said = " ".join(name.lower().replace("_", " ").split())
    for each in (said, said.removesuffix(" swing"), said.replace("-", " "), said.replace(" ", "-")):
        if found := bag.swing_called(each):
            return found
    share = _SHARES.get(said.removesuffix(" swing"))
    if share is None and (per_cent := re.match(r"^(\d{1,3}) ?%$", said)):
        share = int(per_cent[1]) / 100
    if share is None:
        return None
    return next((swing for swing in bag.swings if abs(swing.share - share) < 0.005), None)
