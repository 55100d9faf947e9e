"""What a piece of trouble is called: by the name it was given, else by its kind."""

from collections.abc import Iterable
from typing import Protocol

from caddie.ball.ground import Surface
from caddie.plan.option import CAUGHT_ON
from caddie.situation import HazardKind

HAZARD_SAID = {
    HazardKind.BUNKER: "bunker",
    HazardKind.WATER: "water",
    HazardKind.TREES: "trees",
    HazardKind.OUT_OF_BOUNDS: "out of bounds",
    HazardKind.ROUGH: "rough",
    HazardKind.UNNAMED: "trouble",
    HazardKind.RIDGE: "ridge",
    HazardKind.TIER: "tier",
    HazardKind.SWALE: "swale",
    HazardKind.UPSLOPE: "upslope",
    HazardKind.FALSE_FRONT: "false front",
    HazardKind.RUN_OFF: "run-off",
}
CATCHES = (
    HazardKind.BUNKER,
    HazardKind.WATER,
    HazardKind.TREES,
    HazardKind.OUT_OF_BOUNDS,
    HazardKind.UNNAMED,
)
"""What is told of as catching a ball, in the order in which it is told."""


class HasAName(Protocol):
    """Trouble as it is told of a shot or noted of a hole."""

    @property
    def kind(self) -> HazardKind:
        """What the ball does there."""

    @property
    def called(self) -> str | None:
        """The name that the player gave it."""


def name_of(trouble: HasAName) -> str:
    """The name that trouble was given, else that of its kind.

    >>> from caddie.situation import Hazard
    >>> name_of(Hazard(kind=HazardKind.WATER, called="ravine")), name_of(Hazard(kind=HazardKind.WATER))
    ('ravine', 'water')
    """
    return trouble.called or HAZARD_SAID[trouble.kind]


def names_of(kind: HazardKind, troubles: Iterable[HasAName]) -> str:
    """What all the trouble of one kind is called: by name where there is but one, else by the kind."""
    names = {name_of(each) for each in troubles if each.kind is kind}
    return names.pop() if len(names) == 1 else HAZARD_SAID[kind]


def with_the(name: str) -> str:
    """The name as a sentence has it: "the burn", and "out of bounds"."""
    return name if name == HAZARD_SAID[HazardKind.OUT_OF_BOUNDS] else f"the {name}"


def caught_by(name: str) -> str:
    """That it catches the ball.

    >>> caught_by("gorge"), caught_by("whins"), caught_by("abyss")
    ('the gorge catches it', 'the whins catch it', 'the abyss catches it')
    """
    if name == HAZARD_SAID[HazardKind.OUT_OF_BOUNDS]:
        return "it goes out of bounds"
    return f"the {name} catch it" if is_several(name) else f"the {name} catches it"


def is_several(name: str) -> bool:
    """Whether a name is that of several: "brambles", and not "abyss"."""
    return name.endswith("s") and name[-2] != "s"


def found(surface: Surface, troubles: Iterable[HasAName]) -> str:
    """The trouble that a ball lies in, by its name where it was given one.

    >>> from caddie.situation import Hazard
    >>> found(Surface.WATER, [Hazard(kind=HazardKind.WATER, called="beck")]), found(Surface.SAND, [])
    ('the beck', 'the sand')
    """
    given = {each.called for each in troubles if CAUGHT_ON.get(each.kind) is surface}
    name = given.pop() if len(given) == 1 else None
    return with_the(name or surface.name.lower().replace("_", " "))
