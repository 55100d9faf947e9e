"""Where a wind comes from that is told by trouble: "it's blowing towards the water", "there's a breeze off it"."""

from collections.abc import Collection, Iterable

from caddie.situation import Hazard, HazardKind, Side, Wind, WindFrom
from caddie.words.heads import kind_at
from caddie.words.scene import Scene

_TOWARD = {
    Side.LEFT: WindFrom.RIGHT,
    Side.RIGHT: WindFrom.LEFT,
    Side.LONG: WindFrom.BEHIND,
    Side.SHORT: WindFrom.AHEAD,
}
_OFF = {
    Side.LEFT: WindFrom.LEFT,
    Side.RIGHT: WindFrom.RIGHT,
    Side.LONG: WindFrom.AHEAD,
    Side.SHORT: WindFrom.AHEAD,
}


def blown_by(scene: Scene, way: str) -> tuple[HazardKind, ...]:
    """The trouble the wind blows "toward" or comes "off": every kind of it where it is "towards it"."""
    mention = next(scene.having(way), None)
    if mention is None:
        return ()
    kind = kind_at(scene, mention.trouble_at) if mention.trouble_at is not None else None
    return (kind,) if kind is not None else tuple(HazardKind)


def with_origin(
    wind: Wind, toward: Collection[HazardKind], off: Collection[HazardKind], hazards: Iterable[Hazard]
) -> Wind:
    """The wind as it comes from by the trouble told last of those it blows towards or off; as it is without."""
    if wind.from_ is not None:
        return wind
    told = list(hazards)
    for kinds, ways in ((toward, _TOWARD), (off, _OFF)):
        sides = [hazard.side for hazard in told if hazard.kind in kinds and hazard.side is not None]
        if sides:
            return wind.model_copy(update={"from_": ways[sides[-1]]})
    return wind
