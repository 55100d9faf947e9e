"""Fairway, fringe, sand and paths that are named and that the ball does not lie on."""

from caddie.words.mentions import Mention
from caddie.words.sand import OUT_OF, bunker_named_first, kept_clear
from caddie.words.scene import Scene

_MOWN = frozenset({"fairway", "grass", "turf"})
_SENT = frozenset(
    {
        "kicked",
        "bounced",
        "knocked",
        "threw",
        "took",
        "sent",
        "deflected",
        "fired",
        "shot",
        "flung",
        "spat",
        "steered",
    }
)
_CAME = frozenset(
    {
        "bounced",
        "kicked",
        "ricocheted",
        "deflected",
        "hopped",
        "jumped",
        "skipped",
        "cannoned",
        "clattered",
        "pinged",
    }
)
_THE_BALL = frozenset({"me", "it", "ball", "us", "mine"})


def stands_elsewhere(scene: Scene, start: int, end: int) -> bool:
    """Whether a lie named from ``start`` to ``end`` lies between or is passed over, and not under the ball."""
    if scene.pieces[end - 1].text == "BUNKER" and _lies_between(scene, start, end):
        return True
    if scene.pieces[end - 1].text in _MOWN and _lies_ahead(scene, start, end):
        return True
    if scene.pieces[end - 1].text == "fairway" and _is_before_its_bunker(scene, end):
        return True
    if scene.pieces[end - 1].text == "fairway" and _is_where_its_bunker_is(scene, start):
        return True
    if _sent_it_on(scene, end):
        return True
    if kept_clear(scene, start) or _is_beyond_trouble(scene, start, end):
        return True
    if start == 0 or scene.pieces[start].after_break or scene.pieces[start].text in ("in", "on"):
        return False
    if "into" in (scene.pieces[start].text, scene.pieces[start - 1].text) and _runs_off_before(scene, start):
        return True
    before = scene.pieces[start - 1].text
    counted = before == "of" and start > 1 and scene.pieces[start - 2].text == "#"
    return counted or before in ("over", "beyond", "past", "behind", "across")


def _sent_it_on(scene: Scene, end: int) -> bool:
    """ "The path kicked me into the needles": what the ball came off, and not what it lies on."""
    following = [piece.text for piece in scene.pieces[end : end + 2] if not piece.after_break]
    return len(following) == 2 and following[0] in _SENT and following[1] in _THE_BALL


def _is_where_its_bunker_is(scene: Scene, start: int) -> bool:
    """ "Pot bunker in the fairway", at the beginning: the fairway is the bunker's place."""
    led = start > 0 and not scene.pieces[start].after_break and scene.pieces[start].text in ("in", "on")
    return led and bunker_named_first(scene) == start - 1


def _is_before_its_bunker(scene: Scene, at: int) -> bool:
    """ "Fairway bunker, ninety yards out": the bunker's name."""
    return at < len(scene.pieces) and scene.pieces[at].text == "BUNKER" and not scene.pieces[at].after_break


def _lies_between(scene: Scene, start: int, end: int) -> bool:
    """ "With a greenside bunker between us": in the way, and not where the ball is."""
    if scene.pieces[start].text in OUT_OF:
        return False
    led = start > 0 and scene.pieces[start - 1].text == "with" and not scene.pieces[start].after_break
    return led or _is_followed_by_between(scene, end)


def _lies_ahead(scene: Scene, start: int, end: int) -> bool:
    """ "Fairway between me and the green", "fairway in front of me", "open fairway": what the ball is sent over."""
    if scene.pieces[start].text in (*OUT_OF, "on", "off"):
        return False
    if start > 0 and scene.pieces[start - 1].text == "open" and not scene.pieces[start].after_break:
        return True
    after = [piece.text for piece in scene.pieces[end : end + 4]]
    ahead = after[:1] == ["ahead"] or after in (["in", "front", "of", "me"], ["in", "front", "of", "us"])
    return _is_followed_by_between(scene, end) or (ahead and not scene.pieces[end].after_break)


def _is_followed_by_between(scene: Scene, end: int) -> bool:
    followed = end < len(scene.pieces) and not scene.pieces[end].after_break
    return followed and scene.pieces[end].text == "between"


def _is_beyond_trouble(scene: Scene, start: int, end: int) -> bool:
    """ "Fringe beyond the bunker", "bunker, then fringe": ground on the way to the flag, unless the ball is on it."""
    if scene.pieces[start].text in (*OUT_OF, "on", "off"):
        return False
    if start and scene.pieces[start - 1].text == "then" and any(map(scene.is_trouble, range(start - 1))):
        return True
    after = scene.pieces[end : end + 2]
    beyond = len(after) == 2 and after[0].text in _BEYOND and not after[0].after_break
    return beyond and scene.is_trouble(end + 1)


_BEYOND = frozenset({"beyond", "past", "over", "after"})


def _runs_off_before(scene: Scene, at: int) -> bool:
    """ "It all runs off at the back into the rough": where the ground leads."""
    return any(
        piece.text == "RUN_OFF" and scene.breaks_between(before, at) == 0
        for before, piece in enumerate(scene.pieces[:at])
    )


def came_off(scene: Scene, mention: Mention) -> bool:
    """ "Bounced off the path and into the semi": a thing on the way of a ball that went on."""
    led = mention.start > 0 and scene.pieces[mention.start].text in ("off", "from")
    return led and scene.pieces[mention.start - 1].text in _CAME
