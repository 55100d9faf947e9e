"""One utterance in typed pieces: mentions in order, with what was taken back or denied left out."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from caddie.units import Unit
from caddie.words.mentions import Mention, finder
from caddie.words.quantities import STROKES_BY_NAME, Piece, Quantity


@dataclass
class Scene:
    """What the readers work on."""

    pieces: list[Piece]
    facts: list[Mention]
    results: list[Mention]
    intents: list[Mention]
    wholes: list[Mention]
    """Phrases that count only when nothing else is said."""
    troubles: frozenset[str]
    unit: Unit
    pace_m: float
    denied: set[int] = field(default_factory=set)
    """Pieces that a "no" or "not" takes away, or that were taken back."""
    wind_denied: bool = False
    gone: set[str] = field(default_factory=set)
    """Kinds of trouble that were said not to be there: "no water", "what bunker?"."""
    denied_lies: set[str] = field(default_factory=set)
    """Lies that were said not to be."""
    denied_green: dict[str, object] = field(default_factory=dict)
    """What the green was said not to be."""
    covered: set[int] = field(default_factory=set)
    """Pieces of any phrase that was found, also of one that was taken back since."""
    aside: set[int] = field(default_factory=set)
    """Pieces of clauses that tell of other things; nothing is read in them."""
    plain: bool = False
    """Whether one clause of several plainly tells a shot."""
    lain_in: frozenset[int] = frozenset()
    """Pieces that name the sand the ball lies in."""
    used: set[int] = field(default_factory=set)
    """Quantities that a reader has taken."""

    @property
    def small_unit(self) -> Unit:
        """What a putt, and what is left of a shot, is counted in where no unit is said."""
        return Unit.METRES if self.unit is Unit.METRES else Unit.FEET

    def afresh(self) -> "Scene":
        """The same scene for another reading, that takes numbers of its own."""
        return replace(self, used=set(self.used))

    def having(self, *keys: str) -> Iterator[Mention]:
        """Mentions with any of these keys, in order."""
        return (mention for mention in self.facts if any(key in mention for key in keys))

    def breaks_between(self, first: int, second: int) -> int:
        """Commas between two pieces."""
        low, high = sorted((first, second))
        return sum(piece.after_break for piece in self.pieces[low + 1 : high + 1])

    def gap(self, mention: Mention, start: int, end: int) -> int:
        """Pieces between a mention and a span; 0 when they touch."""
        return max(start - mention.end, mention.start - end, 0)

    def length_m(self, quantity: Quantity, unit: Unit | None = None) -> float:
        """A quantity in metres; bare numbers in ``unit`` or the player's own."""
        return quantity.metres(unit or self.unit, self.pace_m)

    def are_strokes(self, at: int) -> bool:
        """ "Twenty feet right, two putts": strokes counted by name, and nothing else between two pauses."""
        piece, ends = self.pieces[at], at + 1 == len(self.pieces) or self.pieces[at + 1].after_break
        named = piece.quantity is not None and piece.said.split(" ")[-1] in STROKES_BY_NAME
        return named and piece.after_break and ends

    def is_trouble(self, at: int) -> bool:
        """Whether a piece names trouble."""
        return self.pieces[at].text in self.troubles


def laid_out(pieces: list[Piece], unit: Unit, pace_m: float) -> Scene:
    """The pieces of an utterance with every mention in them, before anything is taken back or denied."""
    matcher = finder()
    found = matcher.find(pieces)
    scene = Scene(
        pieces,
        found["facts"],
        found["results"],
        found["intents"],
        found["wholes"],
        matcher.troubles,
        unit,
        pace_m,
    )
    scene.covered = {at for mentions in found.values() for m in mentions for at in range(m.start, m.end)}
    return scene
