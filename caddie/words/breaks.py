"""A putt that breaks one way and then the other: the last way counts most."""

from collections.abc import Iterator
from dataclasses import dataclass

from caddie.situation import Fall, Green
from caddie.units import YARD_M
from caddie.words.mentions import Mention
from caddie.words.quantities import clause_end, clause_start
from caddie.words.scene import Scene

SLOPES = {"little": 0.01, "clear": 0.02, "much": 0.04}
"""Rise over run of "a little", "clearly" and "severe"."""

_NEAR = 2
"""Words at most between "left" and the "first" or "at the end" that it goes with."""
_SHARES = {"half": 0.5, "third": 0.33, "quarter": 0.25}
_WAYS = {"left": Fall.RIGHT_TO_LEFT, "right": Fall.LEFT_TO_RIGHT}


@dataclass(frozen=True)
class TwoWays:
    """The last way of several, and where the words stand that told them: they place nothing."""

    last: Fall
    at: frozenset[int]


def two_ways(scene: Scene) -> TwoWays | None:
    """ "Breaks right first, then left at the end": the way told last, where words tell an order or two breaks."""
    if not any(scene.having("break_order", "break_part", "double_break")):
        return None
    told = list(_told(scene))
    ways = [way for way, _ in told]
    if len(set(ways)) < len(_WAYS) or not any(scene.having("break", "break_lead", "double_break")):
        return None
    places = {m.start for _, m in told if "where" in m}
    back = {m.start for m in scene.having("where") if m.end in places}
    return TwoWays(ways[-1], frozenset(places | back))


def with_its_part(green: Green, scene: Scene, pin_m: float | None) -> Green:
    """The green of a putt that breaks on a part of the way alone: "breaks left the last four feet"."""
    told = list(scene.having("break_part"))
    if len(told) != 1 or green.double_break:
        return green
    part, quantity = str(told[0].get("break_part")), told[0].quantity
    share = _SHARES.get(part)
    if share is None and pin_m:
        share = (YARD_M if quantity is None else scene.length_m(quantity, scene.small_unit)) / pin_m
    return green.model_copy(update={"break_part": round(share, 2)}) if share and share < 1 else green


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
    first = clause_start(scene.pieces, mention.start)
    end = clause_end(scene.pieces, mention.end)
    named = any(scene.is_trouble(at) for at in range(first, end))
    return named or mention.get("with") == "trouble"


def _in_an_order(scene: Scene, mention: Mention) -> bool:
    """Whether "first", "late" or "at the hole" stands by, or a word that it breaks."""
    return any(
        scene.gap(each, mention.start, mention.end) <= _NEAR
        and scene.breaks_between(mention.start, each.start) == 0
        for each in scene.having("break_order", "break_part", "break_lead")
    )


def how_much(scene: Scene) -> float | None:
    """ "Breaks a lot", "lots of break": how steep it is to the side, where no side was told."""
    leads = [m for m in scene.having("break_lead") if "of_break" in m]
    near = (
        m
        for m in scene.having("degree")
        for lead in leads
        if scene.gap(m, lead.start, lead.end) <= 1 and not scene.breaks_between(m.start, lead.start)
    )
    told = next((str(m.get("degree")) for m in near), "clear")
    return SLOPES[told] if leads else None
