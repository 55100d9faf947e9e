"""Where a wind comes from that is told by what it blows towards: "it's blowing towards the water"."""

from collections.abc import Collection, Iterable

from caddie.situation import Hazard, HazardKind, Side, Wind, WindFrom
from caddie.words.heads import kind_at
from caddie.words.scene import Scene

_FROM = {
    Side.LEFT: WindFrom.RIGHT,
    Side.RIGHT: WindFrom.LEFT,
    Side.LONG: WindFrom.BEHIND,
    Side.SHORT: WindFrom.AHEAD,
}


def blown_toward(scene: Scene) -> tuple[HazardKind, ...]:
    """The trouble the wind blows towards; all kinds where it is "towards it", and none where nothing is said of it."""
    mention = next(scene.having("toward"), None)
    if mention is None:
        return ()
    kind = kind_at(scene, mention.trouble_at) if mention.trouble_at is not None else None
    return (kind,) if kind is not None else tuple(HazardKind)


def with_origin(wind: Wind, toward: Collection[HazardKind], hazards: Iterable[Hazard]) -> Wind:
    """The wind as it comes from across the trouble told last of those it blows towards; as it is without."""
    sides = [hazard.side for hazard in hazards if hazard.kind in toward and hazard.side is not None]
    if not sides or wind.from_ is not None:
        return wind
    return wind.model_copy(update={"from_": _FROM[sides[-1]]})
