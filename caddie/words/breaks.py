"""A putt that breaks one way and then the other: the last way counts most."""

from collections.abc import Iterator
from dataclasses import dataclass

from caddie.situation import Fall
from caddie.words.mentions import Mention
from caddie.words.scene import Scene

_NEAR = 2
"""Words at most between "left" and the "first" or "at the end" that it goes with."""
_WAYS = {"left": Fall.RIGHT_TO_LEFT, "right": Fall.LEFT_TO_RIGHT}


@dataclass(frozen=True)
class TwoWays:
    """The last way of several, and where the words stand that told them: they place nothing."""

    last: Fall
    at: frozenset[int]


def two_ways(scene: Scene) -> TwoWays | None:
    """ "Breaks right first, then left at the end": the way told last, where words tell an order or two breaks."""
    if not any(scene.having("break_order", "double_break")):
        return None
    told = list(_told(scene))
    ways = [way for way, _ in told]
    if len(set(ways)) < len(_WAYS) or not any(scene.having("break", "break_lead", "double_break")):
        return None
    places = {m.start for _, m in told if "where" in m}
    back = {m.start for m in scene.having("where") if m.end in places}
    return TwoWays(ways[-1], frozenset(places | back))


def _told(scene: Scene) -> Iterator[tuple[Fall, Mention]]:
    """Each way told, in order."""
    twice = any(scene.having("double_break"))
    for mention in scene.having("break", "where"):
        if "break" in mention:
            yield Fall(str(mention.get("break"))), mention
            continue
        way = _WAYS.get(str(mention.get("where")).split("_")[-1])
        if way is not None and not _of_trouble(scene, mention) and (twice or _in_an_order(scene, mention)):
            yield way, mention


def _of_trouble(scene: Scene, mention: Mention) -> bool:
    """Whether the clause names a flag or trouble, which has its place there."""
    first = next((at for at in range(mention.start, 0, -1) if scene.pieces[at].after_break), 0)
    end = next(
        (at for at in range(mention.end, len(scene.pieces)) if scene.pieces[at].after_break),
        len(scene.pieces),
    )
    named = any(scene.is_trouble(at) for at in range(first, end))
    return named or mention.get("with") == "trouble"


def _in_an_order(scene: Scene, mention: Mention) -> bool:
    """Whether "first", "late" or "at the hole" stands by, or a word that it breaks."""
    return any(
        scene.gap(each, mention.start, mention.end) <= _NEAR
        and scene.breaks_between(mention.start, each.start) == 0
        for each in scene.having("break_order", "break_lead")
    )
