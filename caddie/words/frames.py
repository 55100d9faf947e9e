"""What is told in a roundabout way, put as the templates say it: "the front edge distance is 51" is "front edge 51".

A frame goes round things, not round one thing: what it is told of stays, the words round it go or are changed for
plain ones. They are data: ``frames.toml``.
"""

from collections.abc import Iterator
from functools import lru_cache

from caddie.words.grammar import NUMBER_SLOTS, Frame, grammar
from caddie.words.kept import kept
from caddie.words.phrases import Net, PhraseFinder, net
from caddie.words.quantities import Piece
from caddie.words.reduction import reducer
from caddie.words.stretches import Cutter

_ANY_TROUBLE = "TROUBLE"


def plainly_put(pieces: list[Piece]) -> list[Piece]:
    """The pieces with every frame put plainly, the longest first that begins at a place."""
    kept_pieces: list[Piece] = []
    at = 0
    for start, end, frame in _chosen(pieces):
        plain = list(_in_plain_words(frame, pieces[start:end]))
        kept_pieces += pieces[at:start]
        at = end
        if not plain:
            continue
        first, *rest = plain
        kept_pieces.append(_with_pause(first, pause=pieces[start].after_break))
        kept_pieces += rest
    return kept_pieces + pieces[at:]


def _chosen(pieces: list[Piece]) -> Iterator[tuple[int, int, Frame]]:
    frames = grammar().frames
    texts = [piece.text for piece in pieces]
    of_any = [_ANY_TROUBLE if text in _troubles() else text for text in texts]
    found = [each for said in {tuple(texts), tuple(of_any)} for each in _finder().find(said)]
    said = sorted(found, key=lambda each: (each[1], -each[2], each[0]))
    reached = 0
    for number, start, end in said:
        frame = frames[number]
        across = any(piece.after_break for piece in pieces[start + 1 : end])
        begins = start == 0 or pieces[start].after_break
        if start >= reached and (frame.across or not across) and (begins or not frame.begins):
            reached = end
            yield start, end, frame


def _in_plain_words(frame: Frame, said: list[Piece]) -> Iterator[Piece]:
    left = list(said)
    for word in frame.plain:
        name = word[1:-1]
        wanted = "#" if name in NUMBER_SLOTS else name.upper() if word.startswith("{") else word
        found = next((piece for piece in left if piece.text == wanted), None)
        if found is not None:
            left.remove(found)
        yield _with_pause(found or Piece(wanted), pause=False)
    if frame.without:
        yield from (piece for piece in left if piece.text not in frame.without)


def _with_pause(piece: Piece, *, pause: bool) -> Piece:
    return Piece(piece.text, pause, piece.quantity, piece.value, piece.said)


@lru_cache(maxsize=1)
def _troubles() -> frozenset[str]:
    return frozenset(noun.name.upper() for noun in grammar().troubles())


@lru_cache(maxsize=1)
def _finder() -> PhraseFinder:
    return PhraseFinder(kept("frames", _net))


def _net() -> Net:
    words = grammar()
    cutter = Cutter(words, reducer())
    return net(
        {
            number: [cutter.stretches(node, whole=False) for node in frame.say]
            for number, frame in enumerate(words.frames)
        }
    )
