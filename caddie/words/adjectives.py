"""Whether an adjective tells of the ground: "soft" is also said of hands and shots, "quick" of a swing or a look."""

from functools import cache

from caddie.words.clauses import clauses
from caddie.words.mentions import Mention
from caddie.words.scene import Scene
from caddie.words.talk_files import adjectives_data

_CLUB = "CLUB"


def of_the_ground(scene: Scene, mention: Mention) -> bool:
    """Whether an adjective alone is carried: by a noun of the ground, or by what is said up to it being facts alone.

    A phrase of its own ("soft green", "rock hard") carries itself.
    """
    if mention.end - mention.start > 1:
        return True
    spans = list(clauses(scene))
    here = next(at for at, span in enumerate(spans) if span[0] <= mention.start < span[1])
    start, end = spans[here]
    if here and not scene.pieces[start].after_break and mention.start <= start + 1:
        # "Came out lovely and soft": joined to what stands before it.
        start = spans[here - 1][0]
    if any(scene.pieces[at].text in _words("grounds") for at in range(start, mention.start)):
        return True
    beside = (*range(start, mention.start), *range(mention.end, min(mention.end + 1, end)))
    return not any(_is_of_something_else(scene, at) for at in beside)


def names_the_ground(scene: Scene, mention: Mention) -> bool:
    """Whether a phrase says itself what it is of: "the ground's rock hard", "a firm green"."""
    said = [piece.text for piece in scene.pieces[mention.start : mention.end]]
    return "GREEN" in said or said[0] in _words("grounds")


def spoken_of(scene: Scene, at: int) -> int | None:
    """What stands right before an adjective, or before "and it": what it may be of; None behind a pause alone."""
    before = at - 1
    while before >= 0 and scene.pieces[before].text in _words("back_to"):
        before -= 1
    led = before < at - 1
    return before if before >= 0 and (led or not scene.pieces[at].after_break) else None


def _is_of_something_else(scene: Scene, at: int) -> bool:
    """Whether a piece may be what an adjective is of, and is neither a fact nor a plain word of none."""
    text = scene.pieces[at].text
    if text == "#" or (text.isupper() and text != _CLUB):
        return False
    if text in _words("frame") or text in _words("grounds"):
        return False
    return not any(m.start <= at < m.end for m in scene.facts if "nothing" not in m)


@cache
def _words(name: str) -> frozenset[str]:
    return frozenset(adjectives_data()[name].split())
