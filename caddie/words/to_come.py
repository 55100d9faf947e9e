"""Whether an utterance that opens with what the last shot did tells the next one after all."""

from collections.abc import Iterator, Mapping
from itertools import pairwise

from caddie.units import SMALL_UNITS
from caddie.words.grammar import grammar
from caddie.words.mentions import Mention
from caddie.words.quantities import clause_end, clause_start
from caddie.words.scene import Scene

_AHEAD = {
    "stance": ("stance",),
    "sitting": ("sitting",),
    "room": ("room",),
    "wind": ("wind_from", "wind_number"),
    "green": ("stimp", "stimp_ft", "firmness"),
    "fall": ("fall",),
    "break": ("break",),
    "height": ("elevation", "height"),
    "grooves": ("dirty_grooves",),
}
"""What a player looks at before a shot and does not tell of one that is over, by the keys that tell it."""
_WEIGHED_AS = {"fall": "green", "break": "green"}
_ILL = frozenset({"divot", "bare", "plugged", "pine_straw", "heavy_rough"})
_NOW = frozenset({"need", "want", "next"})
_TELLS_THE_LAST = ("played", "strike", "result_side", "finish", "commitment")
_PASSED = frozenset({"past", "by", "from", "of", "beyond", "over", "long", "short", "right", "left", "to"})
_HELPING = frozenset({"do", "to", "can", "should", "would", "could", "not"})
_OWNS = frozenset({"have", "got", "facing", "leaves", "leaving"})
_BEFORE_OWN = frozenset({"only", "now", "still", "about", "around", "another", "down"})
_PUTTS = frozenset({"#", "uphill", "downhill", "straight", "flat", "lag", "level", "sidehill", "breaking"})
_SHOTS = frozenset({"chip", "pitch", "lob", "flop"})
_IS_IN = (["it", "in"], ["ball", "in"], ["gone", "in"])
"""Before trouble with its place, behind a ball that was hit: "it's in the trees at the back"."""
_BEGINNING = frozenset({"now", "so", "and", "but", "my"})
_AT_HAND = frozenset({"i", "ball", "it"})


def tells_a_shot_to_come(scene: Scene, results: list[Mention]) -> bool:
    """Whether more speaks for the next shot than for one that is over; the weights are data.

    "Pulled my second, it's kicked into the long stuff and I've got thirty-five yards" is a situation;
    "pulled it, ten yards left, in the rough" is a result.
    """
    to_come = _weighed(_speaks_of_the_next(scene, results), grammar().to_come)
    return to_come > 0 and to_come >= _weighed(_speaks_of_the_last(results), grammar().over)


def _weighed(evidence: Iterator[str], weights: Mapping[str, float]) -> float:
    return sum(weights[name] for name in evidence)


def _speaks_of_the_next(scene: Scene, results: list[Mention]) -> Iterator[str]:
    """Names of ``to_come`` in the grammar, each once for each thing that tells it."""
    if (
        _left_a_shot(scene)
        or _names_a_putt(scene, results)
        or any("distance" in m and "family" in m for m in scene.facts)
    ):
        yield "shot_named"
    if _asks_to_the_flag(scene, results):
        yield "to_the_flag"
    if _has_it_to_go(scene, results):
        yield "to_go"
    if any(_measures_ahead(scene, at, results) for at in range(len(scene.pieces))):
        yield "length"
    facts = [m for m in scene.facts if not any(r.start <= m.start and m.end <= r.end for r in results)]
    facts = [m for m in facts if not _leads_into_trouble(scene, m)]
    for name, keys in _AHEAD.items():
        if any(key in m for m in facts for key in keys):
            yield _WEIGHED_AS.get(name, name)
    if any(m.get("with") == "flag" or _of_the_flag(scene, m) for m in facts):
        yield "pin_position"
    placed = (m for m in scene.having("where", "side") if not (results and _goes_into(scene, m)))
    if any(m.get("with") == "trouble" or "hazard" in m for m in placed):
        yield "trouble"
    lies = [m for m in facts if "lie" in m and not _goes_into(scene, m)]
    if lies:
        yield "lie" if any(_lies_now(scene, m) for m in lies) else "lies_in"
    if any(m.get("lie") in _ILL for m in lies):
        yield "lies_ill"
    still = (p.text == "still" and scene.pieces[at + 1].text == "#" for at, p in enumerate(scene.pieces[:-1]))
    if any(piece.text in _NOW for piece in scene.pieces) or any(still):
        yield "now"


def _of_the_flag(scene: Scene, mention: Mention) -> bool:
    return "where" in mention and any(p.text == "FLAG" for p in scene.pieces[mention.start : mention.end])


def _speaks_of_the_last(results: list[Mention]) -> Iterator[str]:
    """Names of ``told_over`` in the grammar, each once."""
    strong = [m for m in results if "weak" not in m or "struck" in m or m.end - m.start > 1]
    if any("headed" in m for m in results):
        yield "headed"
    if any(m.get("finish") == "holed" and not m.get("last") for m in results):
        yield "holed"
    for name in ("down_in", "commitment", "strike"):
        if any(name in m for m in strong):
            yield name
    if any("played" in m for m in results):
        yield "played"
    sides = [m for m in results if "result_side" in m]
    if any(m.quantity is not None for m in sides):
        yield "side_by"
    elif sides:
        yield "side"
    told = [m.quantity for m in results if "result_distance" in m and m.quantity is not None]
    if any(quantity.unit in SMALL_UNITS for quantity in told):
        yield "feet"
    if any("near" in m for m in strong):
        yield "near"


def _left_a_shot(scene: Scene) -> bool:
    """ "Left myself a little chip of eight yards"."""
    shots = [at for at, piece in enumerate(scene.pieces) if piece.text in _SHOTS]
    return any(
        piece.text == "left"
        and at + 1 < len(scene.pieces)
        and scene.pieces[at + 1].text in ("me", "myself")
        and any(at < start <= at + 5 for start in shots)
        for at, piece in enumerate(scene.pieces)
    )


def _names_a_putt(scene: Scene, results: list[Mention]) -> bool:
    """ "It came back twenty feet, uphill putt"; "left it short of the ten footer" is over."""
    told = {
        at
        for r in results
        if "played" in r or "finish" in r or "left_over" in r
        for at in range(r.start, r.end)
    }
    for at, piece in enumerate(scene.pieces):
        if piece.text != "putt" or at in told:
            continue
        first = clause_start(scene.pieces, at)
        led = scene.pieces[at - 1].text if at else ""
        if told.isdisjoint(range(first, at)) and led in _PUTTS:
            return True
    return False


def _asks_to_the_flag(scene: Scene, results: list[Mention]) -> bool:
    """ "Trickled off the back, nine paces to the hole"."""
    return any(
        m.get("distance") == "pin"
        and {"to", "FLAG"} <= {piece.text for piece in scene.pieces[m.start : m.end]}
        and not any(r.start <= m.start and m.end <= r.end for r in results)
        for m in scene.facts
    )


def _has_it_to_go(scene: Scene, results: list[Mention]) -> bool:
    """ "I've got thirty yards", "the pin is 13 paces", "18 yards to go"; feet are left of a good one."""
    for at, piece in enumerate(scene.pieces):
        quantity = piece.quantity
        if piece.text != "#" or quantity is None or not quantity.is_length or quantity.unit in SMALL_UNITS:
            continue
        before = [p.text for p in scene.pieces[max(at - 3, 0) : at]]
        after = [p.text for p in scene.pieces[at + 1 : at + 3]]
        while before and before[-1] in _BEFORE_OWN:
            before.pop()
        if before[-1:] == ["i"] or (before[-1:] == ["have"] and after[:1] == ["left"]):
            return True
        sided = any(r.start <= at < r.end and ("result_side" in r or "left_over" in r) for r in results)
        if sided and after[:1] != ["left"]:
            continue
        if quantity.unit is not None and before[-1:] and before[-1] in _OWNS:
            return True
        if before[-1:] == ["FLAG"] and (len(before) < 2 or before[-2] not in _PASSED):
            return True
        told = any(r.start <= at - 1 < r.end for r in results)
        ends = at + 1 == len(scene.pieces) or scene.pieces[at + 1].after_break
        if (
            quantity.unit is not None
            and before[-1:] == ["it"]
            and (ends or after[:1] in (["out"], ["from"]))
            and not told
        ):
            return True
        if after == ["to", "go"]:
            return True
        # "Chunked it. 25 out now": what a ball left behind it stands in no clause of its own.
        if after[:1] == ["out"] and (piece.after_break or before[-1:] == ["now"]):
            return True
    return False


def _lies_now(scene: Scene, mention: Mention) -> bool:
    """ "I'm in gnarly rough", ", it's in thick rough"; "finished in the rough" is over."""
    at = mention.start - 1
    if at < 0:
        return False
    begins = scene.pieces[at].after_break or (at > 0 and scene.pieces[at - 1].text in _BEGINNING)
    return scene.pieces[at].text == "i" or (scene.pieces[at].text in _AT_HAND and begins)


def _goes_into(scene: Scene, mention: Mention) -> bool:
    """ "Over the back into the rough" tells the way of a ball that was hit."""
    before = [piece.text for piece in scene.pieces[max(mention.start - 2, 0) : mention.start + 1]]
    return "into" in before or before[:2] in _IS_IN


def _leads_into_trouble(scene: Scene, mention: Mention) -> bool:
    """ "Into" before a bunker is the way a ball went, and no wind."""
    at = mention.end
    alone = mention.end - mention.start == 1 and scene.pieces[mention.start].text == "into"
    return alone and at < len(scene.pieces) and scene.is_trouble(at)


def _measures_ahead(scene: Scene, at: int, results: list[Mention]) -> bool:
    """ ", 13 paces,": a length not in feet, in a clause that tells nothing of what the last shot did."""
    quantity = scene.pieces[at].quantity
    if scene.pieces[at].text != "#" or quantity is None or quantity.unit in (None, *SMALL_UNITS):
        return False
    first = next((i for i in range(at, 0, -1) if scene.pieces[i].after_break or _opens(scene, i)), 0)
    last = clause_end(scene.pieces, at + 1)
    told = (r for r in results if r.start < last and first < r.end)
    return quantity.is_length and not any(key in r for r in told for key in _TELLS_THE_LAST)


def _opens(scene: Scene, at: int) -> bool:
    """ "And now it's", "so I'm" and "but" begin another clause."""
    return scene.pieces[at].text in _BEGINNING and scene.pieces[at].text != "my"


def supposed(scene: Scene) -> bool:
    """ "And if I hit it fat?": what might be, and has not been."""
    opening = next(
        (at for at, piece in enumerate(scene.pieces) if at and piece.after_break), len(scene.pieces)
    )
    return "if" in {piece.text for piece in scene.pieces[: min(opening, 3)]}


def asks_how(scene: Scene) -> bool:
    """ "How do I not fluff it" asks; "oh how lovely, it's in" does not."""
    texts = [piece.text for piece in scene.pieces]
    return any(first == "how" and then in _HELPING for first, then in pairwise(texts))
