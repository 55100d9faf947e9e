"""The club, swing length, kind of shot and flight that were named."""

from dataclasses import dataclass

from caddie.bag.models import Family
from caddie.words.denials import PREFERS
from caddie.words.mentions import Mention
from caddie.words.quantities import clause_start
from caddie.words.roles import names_a_club
from caddie.words.scene import Scene


@dataclass
class ShotNamed:
    """A shot as the player names it."""

    club: str | None = None
    swing: str | None = None
    family: Family | None = None
    flight: str | None = None
    effort: str | None = None
    face: str | None = None


def read_shot(scene: Scene) -> ShotNamed:
    """The shot named; numbers taken for a club are no distance any more."""
    shot = ShotNamed()
    named_at: list[tuple[int, str]] = []
    before = {at for mention in scene.having("club_before") for at in range(mention.start, mention.end)}
    passed_over = scene.denied | before
    for at, piece in enumerate(scene.pieces):
        if piece.text == "CLUB" and at not in passed_over and piece.value is not None:
            number = f"{piece.quantity.middle:.10g}" if piece.quantity is not None else ""
            named_at.append((at, piece.value.replace("{n}", number)))
        elif piece.quantity is not None and piece.quantity.unit == "degrees" and names_a_club(piece.quantity):
            named_at.append((at, f"{piece.quantity.middle:.10g}"))
            scene.used.add(at)
    wanted = [club for at, club in named_at if not _turned_down(scene, at)]
    shot.club = wanted[-1] if wanted else None
    measured = {mention.quantity_at for mention in scene.having("distance")}
    for at, piece in enumerate(scene.pieces):
        quantity = piece.quantity
        if (
            quantity is not None
            and quantity.definite
            and names_a_club(quantity)
            and at not in measured | scene.denied
        ):
            shot.club = shot.club or f"{quantity.middle:.10g}"
            scene.used.add(at)
    for mention in scene.facts:
        quantity = mention.quantity
        number_at = mention.quantity_at
        if mention.get("club") == "iron" and quantity is not None and number_at is not None:
            shot.club = shot.club or f"{quantity.middle:.10g} iron"
            scene.used.add(number_at)
        named = mention.get("club") == "number" and quantity is not None and names_a_club(quantity)
        if (
            named
            and shot.club is None
            and number_at is not None
            and quantity is not None
            and ("swing" in mention or "effort" in mention or _is_club(scene, number_at))
        ):
            shot.club = f"{quantity.middle:.10g}"
            scene.used.add(number_at)
        if (swing := mention.get("swing")) is not None:
            shot.swing = str(swing)
        if (effort := mention.get("effort")) is not None:
            shot.effort = str(effort)
        if (face := mention.get("face")) is not None:
            shot.face = str(face)
        if (family := mention.get("family")) is not None:
            shot.family = Family(str(family))
        if (flight := mention.get("flight")) is not None and _is_flight(scene, mention):
            shot.flight = str(flight)
    if shot.club is None and named_at:
        shot.club = named_at[-1][1]
    if shot.club == "putter" and shot.family is None:
        shot.family = Family.PUTT
    return shot


_TURNS_DOWN = frozenset({"not", "never", "hate", "dislike", "cannot", "without"})


def _turned_down(scene: Scene, at: int) -> bool:
    """ "I don't really love the sixty, what about the fifty-six": a club that is not the one asked about."""
    start = clause_start(scene.pieces, at)
    before = [piece.text for piece in scene.pieces[start:at]]
    less_liked = before[-1:] == ["than"] and not PREFERS.isdisjoint(before)
    return not _TURNS_DOWN.isdisjoint(before) or less_liked or before[-2:] == ["instead", "of"]


def _is_flight(scene: Scene, mention: Mention) -> bool:
    """A bare "high" or "low" is the flight's beside a shot, not before a lip."""
    if mention.end - mention.start > 1 or scene.pieces[mention.start].text not in (
        "low",
        "high",
        "lower",
        "higher",
    ):
        return True
    shots = [(m.start, m.end) for m in scene.having("family", "swing", "club") if m is not mention]
    shots += [
        (at, at + 1)
        for at, piece in enumerate(scene.pieces)
        if piece.quantity is not None and piece.quantity.definite and names_a_club(piece.quantity)
    ]
    return any(scene.gap(mention, start, end) <= 1 for start, end in shots)


def _is_club(scene: Scene, at: int) -> bool:
    """A number is a distance after all when it is followed by what it measures."""
    after = [piece.text for piece in scene.pieces[at + 1 : at + 3] if not piece.after_break]
    return not after or after[0] not in ("to", "out", "away", "off", "left", "short", "carry", "FLAG")
