"""What an utterance tells, thing by thing, as far as is needed to see which one takes the place of another."""

from dataclasses import dataclass
from functools import cached_property

from caddie.situation import Lie
from caddie.words.mentions import Mention, finder
from caddie.words.quantities import Piece, Quantity

_KINDS = {
    "lie": "lie",
    "thick": "lie",
    "where": "place",
    "side": "place",
    "fall": "fall",
    "break": "break",
    "wind_from": "wind from",
    "distance": "distance",
    "stance": "hill",
    "slope_word": "hill",
    "elevation": "height",
    "height": "height",
    "club": "club",
    "swing": "swing",
    "family": "family",
    "flight": "flight",
    "firmness": "firmness",
    "stimp_ft": "stimp",
    "stimp": "stimp",
    "room": "room",
    "behind": "behind",
    "sitting": "sitting",
    "slope": "slope",
    "wind_number": "wind number",
}
"""The kind of thing a fact tells, by its key."""
_LEADS = frozenset({"it", "that", "at", "from", "i", "have", "got", "READING", "#"})
"""Words beside a number that do not tell what it measures."""


@dataclass(frozen=True)
class Thing:
    """Pieces that tell one thing."""

    start: int
    end: int
    kinds: frozenset[str]
    about: str = ""
    """The flag or the trouble that it tells of, if it names one."""
    number_at: int | None = None
    number: Quantity | None = None
    role: str | None = None
    """What the number measures, if that is told."""

    @property
    def measures(self) -> bool:
        """Whether it is a length and tells nothing besides, such as which way a hill goes."""
        return self.number_at is not None and self.kinds == {"distance"}

    def tells_like(self, other: "Thing") -> bool:
        """Whether one may be said instead of the other."""
        names_others = "FLAG" in (self.about, other.about) and "" not in (self.about, other.about)
        return bool(self.kinds & other.kinds) and (self.about == other.about or not names_others)


@dataclass(frozen=True)
class Told:
    """Pieces with everything they tell, worked out once and only when asked for."""

    pieces: list[Piece]

    @cached_property
    def facts(self) -> list[Mention]:
        """The facts mentioned, in order."""
        return finder().find(self.pieces)["facts"]

    @cached_property
    def things(self) -> list[Thing]:
        """Facts, numbers that measure nothing yet, and names of trouble and clubs, in order."""
        things = [_fact(self.pieces, mention) for mention in self.facts]
        inside = {at for mention in self.facts for at in range(mention.start, mention.end)}
        things += [_alone(piece, at) for at, piece in enumerate(self.pieces) if at not in inside]
        return sorted((thing for thing in things if thing.kinds), key=lambda thing: thing.start)


def _fact(pieces: list[Piece], mention: Mention) -> Thing:
    kinds = {kind for key, kind in _KINDS.items() if key in mention}
    texts = [piece.text for piece in pieces[mention.start : mention.end]]
    if "height" in kinds and mention.quantity is None:
        # "It's downhill" tells of the hill that "uphill" alone tells of.
        kinds.add("hill")
    if mention.get("lie") == Lie.PLUGGED.value:
        # How deep it sits is told by it too.
        kinds.add("sitting")
    troubles = finder().troubles
    about = next((text for text in texts if text in troubles or text == "FLAG"), "")
    if about in troubles:
        kinds.add("trouble")
    role = mention.get("distance") if mention.quantity is not None else None
    if role is not None and _LEADS.issuperset(texts):
        role = None
    elif role == "pin":
        about = ""
    return Thing(
        mention.start,
        mention.end,
        frozenset(kinds),
        about,
        mention.quantity_at,
        mention.quantity,
        None if role is None else str(role),
    )


def _alone(piece: Piece, at: int) -> Thing:
    """What a piece tells that stands in no fact."""
    if piece.text == "#":
        return Thing(at, at + 1, frozenset({"distance"}), number_at=at, number=piece.quantity)
    if piece.text in finder().troubles:
        return Thing(at, at + 1, frozenset({"trouble"}), about=piece.text)
    return Thing(at, at + 1, frozenset({"club"} if piece.text == "CLUB" else ()))
