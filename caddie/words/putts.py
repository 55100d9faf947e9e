"""Whether the shot is a putt: said outright, or plain from what is said."""

from collections.abc import Sequence

from caddie.bag.models import Family
from caddie.situation import HazardKind, Lie
from caddie.units import Unit
from caddie.words.clubs import ShotNamed
from caddie.words.distances import Distances
from caddie.words.green import GreenSaid
from caddie.words.heads import TroubleSaid
from caddie.words.lies import LieSaid
from caddie.words.mentions import Mention
from caddie.words.quantities import LENGTHS
from caddie.words.scene import Scene

FARTHEST_BREAK_M = 20.0
"""A break from farther away is the green's, seen from off it."""
FARTHEST_IN_FEET_M = 40.0
"""Feet from farther away are no putt's."""
LEVEL_PUTT_M = 3.0
"""Up to here "straight" is said of a putt."""
_ON_GREEN = (HazardKind.RIDGE, HazardKind.TIER, HazardKind.SWALE)
_OFF_GREEN = ("stance", "sitting", "greenside", "family", "club", "wind_from", "elevation", "room")


def says_putt(scene: Scene, lie: LieSaid, shot: ShotNamed) -> bool:
    """On the green, a putt, a twelve footer."""
    if lie.lie is not None:
        return lie.lie is Lie.GREEN
    if any(piece.quantity is not None and piece.quantity.footer for piece in scene.pieces):
        return True
    off = any("distance" in m and m.get("distance") == "front" for m in scene.facts)
    return shot.family is Family.PUTT and not any(scene.intents) and not lie.greenside and not off


def reads_as_putt(
    scene: Scene, lie: LieSaid, distances: Distances, trouble: TroubleSaid, green: GreenSaid
) -> bool:
    """A flag so many feet away, or a break near by, with nothing in sight that lies off the green."""
    if lie.lie is not None or distances.front_m is not None or trouble.pin_position is not None:
        return False
    lengths = [p.quantity.unit for p in scene.pieces if p.quantity is not None and p.quantity.unit in LENGTHS]
    off_green = (m for m in scene.having(*_OFF_GREEN) if not _says_how_far(scene, m, lengths))
    if any(hazard.kind not in _ON_GREEN for hazard in trouble.hazards) or any(off_green):
        return False
    in_feet = any(_says_how_far(scene, m, lengths) for m in scene.having("elevation"))
    if (distances.pin_m is None or _in_yards(lengths)) and not in_feet and _speaks_of_green(scene):
        return False
    near = distances.pin_m is None or distances.pin_m <= FARTHEST_BREAK_M
    if near and (green.breaks or _speaks_of_break(scene)):
        return True
    if distances.pin_m is not None and distances.pin_m <= LEVEL_PUTT_M and any(scene.having("level")):
        return True
    alone = any(_says_how_far(scene, m, lengths) for m in scene.having("elevation"))
    facts = [m for m in scene.facts if "nothing" not in m]
    if distances.pin_m is None and alone and len(facts) == 1:
        return True
    return (
        distances.pin_m is not None and distances.pin_m <= FARTHEST_IN_FEET_M and set(lengths) == {Unit.FEET}
    )


def _in_yards(lengths: Sequence[str | None]) -> bool:
    """Putts are counted in feet or paces."""
    return Unit.YARDS in lengths and Unit.FEET not in lengths


def _says_how_far(scene: Scene, mention: Mention, lengths: Sequence[str | None]) -> bool:
    """ "20 ft downhill, left to right": the only length is the putt's, not how far down the green lies."""
    words = {piece.text for piece in scene.pieces[mention.start : mention.end]}
    return "elevation" in mention and lengths == [Unit.FEET] and bool(words & {"uphill", "downhill"})


def _speaks_of_green(scene: Scene) -> bool:
    """ "The low side is left and the green is firm" is what is seen from off it."""
    texts = {piece.text for piece in scene.pieces}
    return (
        "GREEN" in texts
        or bool(texts & {"low", "high", "side", "lower", "higher"})
        or any(scene.having("firmness"))
    )


def _speaks_of_break(scene: Scene) -> bool:
    level = (scene.pieces[m.start : m.end] for m in scene.having("level"))
    return any(piece.text in ("break", "borrow") for pieces in level for piece in pieces)
