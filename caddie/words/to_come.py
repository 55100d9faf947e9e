"""Whether an utterance that opens with what the last shot did tells the next one after all."""

from caddie.units import Unit
from caddie.words.mentions import Mention
from caddie.words.scene import Scene

_PRESENT = (
    "stance",
    "sitting",
    "room",
    "wind_from",
    "wind_number",
    "stimp",
    "stimp_ft",
    "firmness",
    "elevation",
    "height",
    "fall",
    "dirty_grooves",
)
"""What a player looks at before a shot and does not tell of one that is over."""
_PASSED = frozenset({"past", "by", "from", "of", "beyond", "over", "long", "short", "right", "left", "to"})
_OWNS = frozenset({"have", "got", "facing", "leaves", "leaving"})
_BEFORE_OWN = frozenset({"only", "now", "still", "about", "around", "another", "down"})
_PUTTS = frozenset({"#", "uphill", "downhill", "straight", "flat", "lag", "level", "sidehill", "breaking"})
_SHOTS = frozenset({"chip", "pitch", "lob", "flop"})
_BEGINNING = frozenset({"now", "so", "and", "but", "my"})
_AT_HAND = frozenset({"i", "ball", "it"})


def tells_a_shot_to_come(scene: Scene, results: list[Mention]) -> bool:
    """A distance that is still to be played, or so much of what lies ahead that a shot is meant.

    "Pulled my second, it's kicked into the long stuff and I've got thirty-five yards" is a situation;
    "pulled it, ten yards left, in the rough" is a result.
    """
    if any(m.get("finish") == "holed" for m in results):
        return False
    if (
        _left_a_shot(scene)
        or _names_a_putt(scene, results)
        or _asks_to_the_flag(scene, results)
        or _has_it_to_go(scene, results)
    ):
        return True
    if any("distance" in m and "family" in m for m in scene.facts):
        return True
    present = sum(key in m for m in scene.facts for key in _PRESENT)
    present += any(_lies_now(scene, m) for m in scene.having("lie"))
    present += any(m.get("with") == "trouble" or "hazard" in m for m in scene.having("where", "side"))
    at_hand = any(_stands_alone(scene, at, results) for at in range(len(scene.pieces)))
    return present >= 2 or (at_hand and present >= 1)


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
        first = next((i for i in range(at, 0, -1) if scene.pieces[i].after_break), 0)
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
        if piece.text != "#" or quantity is None or not quantity.is_length or quantity.unit == Unit.FEET:
            continue
        before = [p.text for p in scene.pieces[max(at - 3, 0) : at]]
        after = [p.text for p in scene.pieces[at + 1 : at + 3]]
        while before and before[-1] in _BEFORE_OWN:
            before.pop()
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
    return False


def _lies_now(scene: Scene, mention: Mention) -> bool:
    """ "I'm in gnarly rough", ", it's in thick rough"; "finished in the rough" is over."""
    at = mention.start - 1
    if at < 0:
        return False
    begins = scene.pieces[at].after_break or (at > 0 and scene.pieces[at - 1].text in _BEGINNING)
    return scene.pieces[at].text == "i" or (scene.pieces[at].text in _AT_HAND and begins)


def _stands_alone(scene: Scene, at: int, results: list[Mention]) -> bool:
    """ ", 13 paces,": a length between two pauses, not in feet, with no side to it."""
    quantity = scene.pieces[at].quantity
    if scene.pieces[at].text != "#" or quantity is None or quantity.unit in (None, Unit.FEET):
        return False
    if not quantity.is_length or any(r.start <= at < r.end and "result_side" in r for r in results):
        return False
    ends = at + 1 == len(scene.pieces) or scene.pieces[at + 1].after_break
    return ends and (at == 0 or scene.pieces[at].after_break or scene.pieces[at - 1].text in _AT_HAND)
