"""Strokes told with a result: how many it took to hole out, said or counted up."""

from caddie.situation import Finish
from caddie.words.mentions import Mention
from caddie.words.quantities import STROKES
from caddie.words.result_mentions import own_mentions
from caddie.words.scene import Scene

TWO = 2
_STILL_TO_DO = frozenset(
    {"need", "needs", "want", "wants", "to", "can", "could", "will", "must", "try", "should"}
)
_ANOTHER = frozenset({"missed", "lipped", "rimmed", "horseshoed", "burnt"})
"""Said after how far a ball stopped, these tell the next one; "slid past" tells the same."""


def holed_out(scene: Scene, mention: Mention) -> bool:
    """ "Up and down", not "I need to get up and down"."""
    if "down_in" not in mention:
        return False
    before = {piece.text for piece in scene.pieces[max(mention.start - 3, 0) : mention.start]}
    return not before & _STILL_TO_DO


def read_strokes(scene: Scene) -> int | None:
    """The strokes it took to hole out."""
    holed_next = missed_before_holing(scene)
    for mention in own_mentions(scene):
        if holed_out(scene, mention):
            if mention.quantity is None:
                told = int(float(mention.get("down_in") or 0))
                return max(told, holed_next + 1) if "after_a_miss" in mention else told
            number = mention.quantity.middle
            return int(number)
    counted = (p.quantity for at, p in enumerate(scene.pieces) if scene.are_strokes(at))
    if (strokes := next(counted, None)) is not None and strokes.middle in STROKES:
        return int(strokes.middle)
    return holed_next + 1 if holed_next else None


def missed_before_holing(scene: Scene) -> int:
    """ "Left it a foot short, tapped in": how many balls told about stopped before one dropped; 0 where none did.

    "Four feet short, then lipped out, knocked in" tells two; "lipped out, two feet past" is one.
    """
    mentions = own_mentions(scene)
    holed = [m.start for m in mentions if m.get("finish") == Finish.HOLED.value or "after_a_miss" in m]
    before = [m for m in mentions if holed and m.start < max(holed)]
    stopped = [m for m in before if "result_distance" in m and ("result_side" in m or "played" in m)]
    stayed_out = [m for m in before if "stayed_out" in m]
    if not stopped and not stayed_out:
        # "Missed the nine-footer, tapped in".
        return sum("not_left" in m and scene.pieces[m.start].text in _ANOTHER for m in before)
    first = min(m.start for m in (*stopped, *stayed_out))
    again = {m.start for m in stayed_out if m.start > first and scene.pieces[m.start].text in _ANOTHER}
    named = any("not_left" in m and "result_side" not in m for m in mentions)
    return 1 + max(len(again), int(named))
