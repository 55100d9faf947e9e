"""What the number of a mention measures, and how plainly it is said to be the flag's."""

from caddie.units import SMALL_UNITS, Unit
from caddie.words.mentions import Mention
from caddie.words.quantities import LOFTS, Quantity, clause_start
from caddie.words.rises import is_a_rise
from caddie.words.scene import Scene

_FAR_OFF = frozenset({"away", "off", "out"})
_OFF_IT = (["off", "it"], ["short", "of", "it"], ["short", "of", "that"])
_TARGETS = frozenset({"FLAG", "GREEN", "edge", "fringe", "front"})
_BETWEEN_ME_AND = 4
"""Pieces back from the flag within which "between" begins what it ends."""
_OF_THE_GREEN = ("room", "behind", "beyond")
COUNTED = (Unit.METRES, Unit.YARDS)

PLAYS, BARE, LOOSE, OUTRIGHT, TO_THE_FLAG = 1, 2, 3, 4, 5
"""How plainly it is the flag's: "plays like 65", "at 65", "65 yards", "65 out", "65 to the flag"."""


def names_a_club(quantity: Quantity) -> bool:
    """Whether a number may be a wedge's loft."""
    return quantity.unit in (None, "degrees") and quantity.low == quantity.high and quantity.low in LOFTS


def measures(mention: Mention) -> bool:
    """Whether the number in a mention is a measure, not part of a name such as "three quarter"."""
    return any(
        key in mention for key in ("distance", "elevation", "stimp", "slope", "wind_number", "club", "borrow")
    )


def is_past_trouble(scene: Scene, mention: Mention) -> bool:
    """Whether green "behind it" is green before the flag: it lies past trouble, which was named last.

    In "sand between me and the hole" the sand is, not the hole.
    """
    if scene.pieces[mention.end - 1].text == "FLAG":
        return False
    texts = [piece.text for piece in scene.pieces[: mention.start]]
    if _tells_of_the_flag(scene, mention):
        texts.pop()
    for at in reversed(range(len(texts))):
        if scene.is_trouble(at):
            return True
        if texts[at] == "FLAG" and "between" not in texts[max(at - _BETWEEN_ME_AND, 0) : at]:
            return False
    return False


def _tells_of_the_flag(scene: Scene, mention: Mention) -> bool:
    """ "To a flag six paces behind it": said of the flag itself, so that it is behind something else."""
    flagged = mention.start > 0 and scene.pieces[mention.start - 1].text == "FLAG"
    return flagged and not scene.pieces[mention.start].after_break


def _is_behind_trouble(scene: Scene, mention: Mention) -> bool:
    """ "A stream, then ten yards of fairway": ground told next after what lies on the way begins behind it."""
    if mention.start == 0 or not scene.pieces[mention.start].after_break:
        return False
    before = range(clause_start(scene.pieces, mention.start - 1), mention.start)
    beside = any(m.get("where") in ("left", "right", "sides") and m.start in before for m in scene.facts)
    return not beside and any(scene.is_trouble(at) for at in before)


def role_of(scene: Scene, mention: Mention, mentions: list[Mention], on_green: bool) -> str | None:
    """What the number of a mention measures: the pin, the front, the room, or nothing of them."""
    quantity = mention.quantity
    if quantity is None or not quantity.is_length:
        return None
    if "elevation" in mention and "distance" not in mention:
        if _is_distance_up_or_down(scene, mention, mentions, on_green):
            return "pin"
        return None
    role = mention.get("distance")
    if (
        mention.get("club") == "number"
        and names_a_club(quantity)
        and scene.pieces[mention.start].text != "at"
    ):
        return None
    if mention.get("last") and not (
        mention.end == len(scene.pieces)
        or scene.pieces[mention.end].after_break
        or scene.pieces[mention.end].text == "and"
    ):
        return None
    if role in (None, "carry", "height", "past_flag"):
        return None
    if role == "between" and _is_behind_trouble(scene, mention):
        scene.used.add(mention.quantity_at or mention.start)
        return None
    if mention.get("before_green") and mention.trouble_at in scene.lain_in:
        return "pin" if scene.pieces[mention.end - 1].text == "FLAG" else "front"
    if role == "behind":
        return "room" if is_past_trouble(scene, mention) else "behind"
    if role == "to_back" and any(scene.having("from_behind")) and "to" in _words(scene, mention):
        return "front"  # From behind the green its back edge is the near one.
    if role == "off_edge":
        return "front" if _is_of_the_ball(scene, mention) else "back"
    if role == "after":
        return "ignore" if on_green else "room"
    if role == "across":
        return "pin" if sum(p.quantity is not None for p in scene.pieces) == 1 else "ignore"
    if role == "beside":
        return "pin" if _is_beside_the_flag(scene, mention) else "ignore"
    if role == "room" and _is_over_trouble(mention) and _is_the_way_to_the_flag(scene, mention):
        return "pin"
    if role == "pin" and measures_room_on_the_green(scene, mention):
        return "room"
    if role == "pin" and _of_trouble(scene, mention):
        return "ignore"
    if role == "front" and (beside := _beside_its_edge(scene, mention)) is not None:
        return beside
    if role == "front" and _is_off_the_flag(scene, mention):
        return "pin"
    return str(role)


def _is_over_trouble(mention: Mention) -> bool:
    """ "Twenty yards over the bunker to the flag"."""
    return mention.trouble_at is not None and mention.quantity_at == mention.start


def _is_the_way_to_the_flag(scene: Scene, mention: Mention) -> bool:
    """Whether every other length told is a shorter one of the green, so that this is the way from the ball."""
    of_green = {m.quantity_at for m in scene.having("distance") if m.get("distance") in _OF_THE_GREEN}
    this = mention.quantity
    return this is not None and all(
        at == mention.quantity_at or (at in of_green and scene.length_m(other) < scene.length_m(this))
        for at, other in enumerate(piece.quantity for piece in scene.pieces)
        if other is not None and other.is_length
    )


def _words(scene: Scene, mention: Mention) -> list[str]:
    return [piece.text for piece in scene.pieces[mention.start : mention.end]]


def _is_of_the_ball(scene: Scene, mention: Mention) -> bool:
    """ "I'm eight yards off the back edge": the ball is, where the clause speaks of neither flag nor trouble."""
    first = clause_start(scene.pieces, mention.start)
    before = range(first, mention.start)
    named = any(scene.pieces[at].text == "FLAG" or scene.is_trouble(at) for at in before)
    return not named and not _goes_on_of_the_flag(scene, first, mention.start)


def _goes_on_of_the_flag(scene: Scene, first: int, start: int) -> bool:
    """Whether a clause that begins with a length follows one that tells where the flag is cut."""
    if first != start or start == 0:
        return False
    before = clause_start(scene.pieces, start - 1)
    placed = any(before <= m.start and m.end == start for m in scene.having("where"))
    return placed and any(piece.text == "FLAG" for piece in scene.pieces[before:start])


def _is_off_the_flag(scene: Scene, mention: Mention) -> bool:
    """ "A hollow between me and the pin, and I'm twenty-seven yards off it": the flag, when it was named last."""
    if [piece.text for piece in scene.pieces[mention.start + 1 : mention.end]] not in _OFF_IT:
        return False
    targets = (piece.text for piece in reversed(scene.pieces[: mention.start]) if piece.text in _TARGETS)
    return next(targets, None) == "FLAG"


def measures_room_on_the_green(scene: Scene, mention: Mention) -> bool:
    """ "Thirty yards, 5 on the green": beside a shot's length, how far on the flag is; alone it is a putt's."""
    quantity = mention.quantity
    words = [piece.text for piece in scene.pieces[mention.start + 1 : mention.end]]
    if quantity is None or words != ["on", "GREEN"] or quantity.unit not in (None, *COUNTED, Unit.PACES):
        return False
    others = (p.quantity for p in scene.pieces if p.text == "#" and p.quantity is not quantity)
    if any(other.get("distance") == "front" for other in scene.having("distance")):
        return True
    return any(q is not None and q.unit in COUNTED and q.middle > quantity.middle for q in others)


def _is_beside_the_flag(scene: Scene, mention: Mention) -> bool:
    """ "Pin high, fourteen yards right of the hole" is how far; "a bunker five yards left of the flag" is not."""
    first = clause_start(scene.pieces, mention.start)
    named = any(
        scene.is_trouble(at) or scene.pieces[at].text in ("GREEN", "edge", "back", "front")
        for at in range(first, mention.start)
        if not any(m.start <= at < m.end and "lie" in m for m in scene.facts)
    )
    return scene.pieces[mention.end - 1].text == "FLAG" and not named


def _beside_its_edge(scene: Scene, mention: Mention) -> str | None:
    """ "Hole's cut on the right, five paces from the edge": the edge at that side, not how far it is to the green.

    Of a flag at the back that is what is behind it, of one at the front what is before it.
    """
    words = [piece.text for piece in scene.pieces[mention.start + 1 : mention.end]]
    edge = words in (["from", "edge"], ["off", "edge"]) and scene.pieces[mention.start].after_break
    if not edge or not _goes_on_of_the_flag(scene, mention.start, mention.start):
        return None
    placed = next(str(m.get("where")) for m in scene.having("where") if m.end == mention.start)
    return {"back": "behind", "front": "room"}.get(placed.split("_")[0], "ignore")


def _of_trouble(scene: Scene, mention: Mention) -> bool:
    """ "70 yards, trees in front, twenty yards away": how far the trouble is, once the flag's distance was told."""
    if scene.pieces[mention.end - 1].text not in _FAR_OFF or mention.end - mention.start != 2:
        return False
    trouble = next((at for at in range(mention.start - 1, -1, -1) if scene.is_trouble(at)), None)
    if trouble is None or any(p.text == "FLAG" for p in scene.pieces[trouble : mention.start]):
        return False
    return any(p.quantity is not None and p.quantity.unit in COUNTED for p in scene.pieces[:trouble])


def _is_distance_up_or_down(scene: Scene, mention: Mention, mentions: list[Mention], on_green: bool) -> bool:
    """Seventy yards uphill is how far; ten feet above me is how high."""
    words = {piece.text for piece in scene.pieces[mention.start : mention.end]}
    if not words & {"uphill", "downhill", "up", "down"} or mention.quantity is None:
        return False
    if is_a_rise(scene, mention):
        return False
    if any("distance" in other and other.get("distance") not in ("plays", "ignore") for other in mentions):
        return False
    alone = sum(p.quantity is not None and p.quantity.is_length for p in scene.pieces) == 1
    return on_green or scene.length_m(mention.quantity) > 12 or (alone and mention.quantity.unit != Unit.FEET)


def rank_of(scene: Scene, mention: Mention, role: str) -> int:
    """How plainly a mention says that its length is the flag's."""
    if role == "plays":
        return PLAYS
    if mention.get("distance") == "beside":
        return BARE
    named = any(piece.text == "FLAG" for piece in scene.pieces[mention.start : mention.end])
    if named:
        return TO_THE_FLAG
    led = scene.pieces[mention.start].text in ("at", "from") and mention.end - mention.start == 2
    return BARE if led and mention.quantity is not None and mention.quantity.unit is None else OUTRIGHT


def is_small_beside_yards(scene: Scene, at: int) -> bool:
    """ "Ball above my feet, about a foot, 50 yards": feet and inches that nobody named, beside yards or metres."""
    quantity = scene.pieces[at].quantity
    if quantity is None or quantity.unit not in SMALL_UNITS:
        return False
    carries = {m.quantity_at for m in scene.having("distance") if m.get("distance") not in ("pin", "plays")}
    return any(
        other.text == "#"
        and other.quantity is not None
        and other.quantity.unit in COUNTED
        and i not in carries
        for i, other in enumerate(scene.pieces)
    )
