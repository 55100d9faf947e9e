"""What kind of green it is: how firm, how deep and wide."""

from caddie.situation import Extent, Firmness
from caddie.words.adjectives import names_the_ground, of_the_ground, spoken_of
from caddie.words.mentions import Mention
from caddie.words.sand import told_on_grass
from caddie.words.scene import Scene

_WORDS_BETWEEN = 1
_OF_A_GREEN = (
    "height",
    "elevation",
    "firmness",
    "stimp_ft",
    "fall",
    "wet",
    "level",
    "green_depth",
    "green_width",
)
_NOT_GREEN = frozenset(
    {
        "BUNKER",
        "ground",
        "lie",
        "lies",
        "turf",
        "earth",
        "dirt",
        "mud",
        "grass",
        "rough",
        "fairway",
        "hardpan",
        "soil",
        "breeze",
        "wind",
        "air",
        "lob",
        "pitch",
        "chip",
        "shot",
        "hands",
        "swing",
    }
)


def _of_the_lie(scene: Scene, mention: Mention) -> bool:
    """ "Soft powdery sand" and "hard bare ground" speak of the lie, "breaks hard" of how much."""
    texts = [piece.text for piece in scene.pieces]
    if names_the_ground(scene, mention) or "of_all" in mention:
        return False
    if "degree" in mention and any(
        scene.gap(mention, m.start, m.end) == 0 for m in scene.having("break", "fall")
    ):
        return True
    after = mention.end
    while after < len(texts) and after - mention.end < 2 and not scene.pieces[after].after_break:
        if texts[after] in _NOT_GREEN:
            return True
        after += 1
    before = spoken_of(scene, mention.start)
    return before is not None and texts[before] in _NOT_GREEN


def read_firmness(scene: Scene) -> Firmness | None:
    """How hard the ground is that the ball comes down on; of the green's own word and the ground's the green's."""
    told = [m for m in scene.having("firmness") if not _of_the_lie(scene, m) and of_the_ground(scene, m)]
    if any(piece.text == "BUNKER" for piece in scene.pieces) and not told_on_grass(scene):
        told = [m for m in told if "underfoot" not in m]
    said = [m.get("firmness") for m in told if "of_all" not in m] or [m.get("firmness") for m in told]
    return Firmness(str(said[-1])) if said else None


def read_extent(scene: Scene, key: str) -> Extent | None:
    """ "A postage stamp", "long narrow green": how deep or wide it was said to be."""
    told = (m for m in scene.having(key) if "adjective" not in m or _leads_to_the_green(scene, m))
    return next((Extent(str(mention.get(key))) for mention in told), None)


def _leads_to_the_green(scene: Scene, adjective: Mention) -> bool:
    """ "Small, raised green": nothing but another word of it stands between."""
    named = range(adjective.end, min(adjective.end + _WORDS_BETWEEN + 1, len(scene.pieces)))
    green = next((at for at in named if scene.pieces[at].text == "GREEN"), None)
    if green is None:
        return False
    of_it = {at for m in scene.having(*_OF_A_GREEN) for at in range(m.start, m.end)}
    return of_it.issuperset(range(adjective.end, green))
