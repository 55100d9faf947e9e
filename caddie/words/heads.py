"""The flag and each piece of trouble in an utterance: what can have a place, a carry and a height."""

from dataclasses import dataclass, field
from functools import cache

from caddie.situation import Hazard, HazardKind, PinPosition, Side
from caddie.words.mentions import Mention
from caddie.words.scene import Scene
from caddie.words.talk_files import talk_data

KIND_OF_NOUN = {
    **dict.fromkeys(("BUSH", "BRANCH", "TRUNK", "WALL"), HazardKind.TREES),
    "SCRUB": HazardKind.ROUGH,
    "GRASS_BUNKER": HazardKind.SWALE,
}


@dataclass
class Head:
    """Something that can have a place: the pin, or one piece of trouble."""

    start: int
    end: int
    kind: HazardKind | None
    places: list[str] = field(default_factory=list)
    carry_m: float | None = None
    height_m: float | None = None
    past_flag_m: float | None = None
    called: str | None = None
    """The name it was given, where it has one of its own."""
    down: bool | None = None
    """Whether the ball comes down it: a tier."""
    overhead: bool = False
    """Its height is how high the way underneath is open."""
    not_over: bool | None = None
    round: Side | None = None
    """The side on which there is a way past it."""
    gap_m: float | None = None
    several: bool = False
    screens: bool = False
    """The flag stands behind it, so a further place is the flag's."""
    mine: bool = False
    """The ball lies in it: it takes its own places, and is no trouble."""


@dataclass
class TroubleSaid:
    """The pin's position and the hazards, in the order they were said."""

    pin_position: PinPosition | None = None
    hazards: tuple[Hazard, ...] = ()
    front_m: float | None = None
    """A carry with nothing named to carry: to the front edge."""
    lip_m: float | None = None
    """Height of the face of the bunker that the ball lies in."""
    problem: str | None = None


def heads_of(scene: Scene, not_hazards: frozenset[int], places: list[Mention]) -> list[Head]:
    """The flag and the trouble named, in order, with what tells of each in the same phrase."""
    inside = {at for m in places if m.get("with") != "trouble" for at in range(m.start, m.end)}
    inside |= {at for m in scene.having("greenside", "stance") for at in range(m.start, m.end)}
    on_slope = {at for m in scene.having("stance", "height", "elevation") for at in range(m.start, m.end)}
    heads: list[Head] = []
    in_sand = any(scene.pieces[at].text == "BUNKER" for at in not_hazards)
    for at, piece in enumerate(scene.pieces):
        if at in scene.denied or (piece.text == "WALL" and in_sand):
            continue
        if piece.text == "FLAG" and at not in inside:
            heads.append(Head(at, at + 1, None))
        elif scene.is_trouble(at) and at not in on_slope:
            kind, several = kind_at(scene, at), piece.value == "several"
            overhead = piece.text == "BRANCH"
            mine = at in not_hazards
            heads.append(
                Head(
                    at,
                    at + 1,
                    kind,
                    called=called_at(scene, at),
                    several=several,
                    mine=mine,
                    overhead=overhead,
                )
            )
    heads += [head for m in scene.having("again") if (head := _another(heads, m)) is not None]
    for mention in scene.facts:
        head = next((h for h in heads if mention.start <= h.start < mention.end), None)
        if head is not None:
            head.start, head.end = min(head.start, mention.start), max(head.end, mention.end)
    return heads


def _another(heads: list[Head], mention: Mention) -> Head | None:
    """ "A bunker on the left and another one on the right"."""
    before = [head for head in heads if head.kind and head.end <= mention.start]
    return Head(mention.start, mention.end, before[-1].kind, called=before[-1].called) if before else None


def head_at(heads: list[Head], at: int) -> Head | None:
    """The trouble named at a piece."""
    return next((head for head in heads if head.start <= at < head.end and head.kind), None)


def kind_at(scene: Scene, at: int) -> HazardKind:
    """The kind of trouble that a piece names."""
    text = scene.pieces[at].text
    return KIND_OF_NOUN.get(text) or HazardKind(text.lower())


def called_at(scene: Scene, at: int) -> str | None:
    """The name of its own that trouble was said by: "a deep rocky gorge" is a gorge, and "water" has none."""
    said = scene.pieces[at].said.split()
    return next((word for word in reversed(said) if word in names_kept()), None)


@cache
def names_kept() -> frozenset[str]:
    """The names of its own that trouble keeps in a reply."""
    return frozenset(talk_data()["trouble_keeps_its_name"]["say"].split())
