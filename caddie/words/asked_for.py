"""An answer laid out for the readers of :mod:`caddie.words.expected`: what it mentions, and what words are left."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from caddie.range.told import Command
from caddie.units import Unit, to_metres
from caddie.words.facts import Intent
from caddie.words.grammar import Fact, grammar
from caddie.words.intents import whole_intent
from caddie.words.kept import kept
from caddie.words.mentions import Finder, Mention
from caddie.words.patterns import patterns
from caddie.words.phrases import net
from caddie.words.quantities import Piece, Quantity
from caddie.words.reduction import reducer
from caddie.words.scene import Scene, laid_out

_DENIALS = frozenset({"not", "no", "never", "without"})
_TAKEN_BACK = frozenset({"CORRECTION", "RETRACTION", "no", "nope", "sorry", "wait"})
_COMMAND_OF = {
    Intent.UNDO: Command.SCRATCH,
    Intent.STOP: Command.FINISH,
    Intent.REPEAT: Command.REPEAT,
    Intent.READY: Command.GO_ON,
    Intent.NEXT_HOLE: Command.GO_ON,
}


@dataclass(frozen=True)
class Answer:
    """An answer, and what ``replies.toml`` and the other grammar files find in it."""

    text: str
    scene: Scene
    facts: tuple[Mention, ...]
    views: tuple[tuple[Sequence[Piece], Sequence[Mention]], ...]
    """The whole phrases in all that was said, and in what is left of it without phrases passed over."""
    unit: Unit
    pace_m: float

    @classmethod
    def of(cls, text: str, unit: Unit, pace_m: float) -> "Answer":
        """Lay out what was said."""
        reduce = reducer()
        said = reduce.tokens(text)
        pieces = reduce.pieces(said, names=False)
        every = reduce.pieces(said, fillers=True, names=False)
        own, scene = reply_finder(), laid_out(pieces, unit, pace_m)
        mine = own.find(pieces)
        views = [(every, own.find(every)["wholes"])] if every != pieces else []
        return cls(text, scene, tuple(mine["facts"]), (*views, (pieces, mine["wholes"])), unit, pace_m)

    def whole(self, key: str) -> Mention | None:
        """The first phrase that gives ``key`` when nothing but such phrases and words along with them was said."""
        along = grammar().along
        for pieces, wholes in self.views:
            mine = [mention for mention in wholes if key in mention]
            covered = {at for mention in mine for at in range(mention.start, mention.end)}
            rest = [piece for at, piece in enumerate(pieces) if at not in covered]
            if covered and len(rest) <= len(covered) and all(piece.text in along for piece in rest):
                return mine[0]
        return None

    def value(self, key: str) -> Fact | None:
        """What a whole answer gives for ``key``."""
        mention = self.whole(key)
        return None if mention is None else mention.get(key)

    def having(self, key: str) -> Iterator[Mention]:
        """Phrases anywhere in the answer that give ``key``, in order."""
        return (mention for mention in self.facts if key in mention)

    def command(self) -> Command | None:
        """The word to the session that is all of the answer."""
        said = self.value("command")
        if said is not None:
            return Command(str(said))
        intent = whole_intent(self.scene)
        if intent is Intent.REPEAT and any(m.get("intent") == Intent.GREETING for m in self.scene.wholes):
            # "What a lovely day" asks nothing.
            return None
        return _COMMAND_OF.get(intent) if intent is not None else None

    def denied(self, mention: Mention) -> bool:
        """Whether a "not" stands right before a phrase."""
        return mention.start > 0 and self.scene.pieces[mention.start - 1].text in _DENIALS

    def length_m(self, number: float) -> float:
        """A bare number in metres."""
        return to_metres(number, self.unit, self.pace_m)

    def numbers(self, counts: Callable[[Quantity], bool]) -> list[int]:
        """Where numbers stand that count, those taken back left out: "sixty three, no, sixty four" is the second."""
        found: list[int] = []
        for at, piece in enumerate(self.scene.pieces):
            if piece.text != "#" or piece.quantity is None or not counts(piece.quantity):
                continue
            between = {each.text for each in self.scene.pieces[found[-1] + 1 : at]} if found else set()
            if between & _TAKEN_BACK:
                found.pop()
            found.append(at)
        return found

    def strange(self, covered: set[int]) -> int:
        """Words beside those covered that no plain talk explains."""
        words = grammar()
        return sum(
            at not in covered and piece.text not in words.plain and piece.quantity is None
            for at, piece in enumerate(self.scene.pieces)
        )

    def elsewhere(self) -> bool:
        """Whether a word of another subject was said."""
        other = grammar().elsewhere
        return any(token.text in other for token in reducer().tokens(self.text))


@lru_cache(maxsize=1)
def reply_finder() -> Finder:
    """The finder of ``replies.toml``, built once."""
    words = replace(grammar(), entries=grammar().replies)
    return Finder(words, kept("replies", lambda: net(patterns(words, reducer()))))
