"""Which number measures what: to the flag, to the front, room on the green, to carry."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, field

from caddie.plan.assume import MOST_ROOM_M
from caddie.situation import FARTHEST_M
from caddie.units import Unit, from_metres
from caddie.words.clauses import is_strange
from caddie.words.mentions import Mention
from caddie.words.numbers import twin
from caddie.words.quantities import Quantity
from caddie.words.roles import (
    BARE,
    COUNTED,
    LOOSE,
    OUTRIGHT,
    PLAYS,
    is_past_trouble,
    is_small_beside_yards,
    measures,
    rank_of,
    role_of,
)
from caddie.words.scene import Scene

LITTLE_ROOM_M = 3.0
PLENTY_OF_ROOM_M = 15.0
LITTLE_BEHIND_M, PLENTY_BEHIND_M = 3.0, 12.0
"""What "not much green behind it" and "plenty behind the flag" come to [m]."""
_FURTHER = frozenset({"more", "another", "further"})
SAME = 0.02
"""Share by which two lengths may differ and still be one: "18 m, that is 20 yards"."""
_HALF_A_GREEN = 0.35
"""Share of the way to the middle by which a flag may stand nearer or farther."""
EDGE_M = 12.0
"""Up to here "five yards off" is off the green; "thirty yards off" is off the flag."""


@dataclass
class Distances:
    """Lengths as said [m]."""

    pin_m: float | None = None
    front_m: float | None = None
    room_m: float | None = None
    behind_m: float | None = None
    pin_range_m: tuple[float, float] | None = None
    sounds_like_m: float | None = None
    approximate: bool = False
    problem: str | None = None
    pin_approximate: bool = False
    pin_rank: int = 0
    """How plainly the distance was said to be the flag's; the plainest of several counts."""
    pin_unit: Unit | None = None
    """What it was counted in, where that was said."""
    strength: float = 0.0
    """How sure it is that a shot is meant: a bare number says little."""
    from_at: dict[str, int] = field(default_factory=dict)
    """Where the number of each length stands."""
    between_m: float | None = None
    """Ground before the green."""
    room_is_vague: bool = False
    """Whether the room was told in words alone: "not much", "plenty"."""
    room_is_tucked: bool = False
    """Whether no more was told of it than that the flag is tucked away."""
    fringe_m: float | None = None
    """A strip of fringe, which lies right before the green."""
    lost: set[int] = field(default_factory=set)
    """Numbers that said another value of a length than the one that counts."""

    def of(self, role: str) -> float | None:
        """The length of a role so far [m]."""
        return {"pin": self.pin_m, "front": self.front_m, "room": self.room_m}.get(role)

    def settle(self, role: str, at: int, before_m: float | None, said_m: float) -> None:
        """Note which of two values for one length does not count, if they are not plainly the same."""
        now_m = self.of(role)
        if now_m is None:
            return
        differs = before_m is not None and abs(said_m - before_m) > SAME * before_m
        if now_m != said_m and differs:
            self.lost.add(at)
            return
        if differs and role in self.from_at:
            self.lost.add(self.from_at[role])
        self.from_at[role] = at


def unit_meant(scene: Scene) -> Unit:
    """What a bare number is counted in: the one unit that distances were said in, or the player's own."""
    said = {
        m.quantity.unit
        for m in scene.having("distance")
        if m.quantity is not None
        and not m.quantity.footer
        and (m.quantity.unit in COUNTED or (m.quantity.unit == Unit.FEET and m.get("distance") == "pin"))
        and m.get("distance") != "height"
    }
    said |= {
        p.quantity.unit
        for at, p in enumerate(scene.pieces)
        if p.quantity is not None
        and p.quantity.unit in COUNTED
        and not any(m.start <= at < m.end for m in scene.facts)
    }
    return Unit(str(said.pop())) if len(said) == 1 else scene.unit


def read_distances(
    scene: Scene, *, on_green: bool, from_speech: bool, others: Collection[int] = ()
) -> Distances:
    """The distances of the situation; hazards take their own carries, and ``others`` are for other readers."""
    said = Distances()
    default = scene.small_unit if on_green else scene.unit
    mentions = [m for m in scene.facts if m.quantity is not None and m.quantity_at not in scene.used]
    scene.used.update(
        at
        for m in mentions
        if not measures(m)
        for at in range(m.start, m.end)
        if scene.pieces[at].quantity is not None
    )
    off_m: float | None = None
    for mention in mentions:
        role = role_of(scene, mention, mentions, on_green)
        if role is None or mention.quantity is None or mention.quantity_at is None:
            continue
        scene.used.add(mention.quantity_at)
        strength = 1.5 if mention.quantity.unit or mention.end - mention.start > 2 else 0.8
        rank = rank_of(scene, mention, role)
        small = not on_green and is_small_beside_yards(scene, mention.quantity_at)
        if role == "pin" and rank == OUTRIGHT and small:
            rank = BARE
        if rank == BARE:
            strength = min(strength, 0.5)
        before = said.of(role)
        _take(scene, said, role, mention.quantity, default, from_speech, strength, rank)
        if role == "front" and "of" in _texts(scene, mention)[:2]:
            said.fringe_m = said.front_m
        said.settle(role, mention.quantity_at, before, scene.length_m(mention.quantity, default))
        if role == "front" and mention.get("last") and scene.pieces[mention.end - 1].text == "off":
            off_m = said.front_m
    if off_m is not None and off_m > EDGE_M and said.pin_m is said.room_m is None:
        said.front_m, said.pin_m, said.pin_rank = None, off_m, OUTRIGHT
    _end_to_end(scene, said, mentions, default)
    _from_the_middle(scene, said, default)
    _read_vague(scene, said)
    _read_loose(scene, said, default, others, on_green=on_green, from_speech=from_speech)
    _over_the_ground(said)
    said.approximate = said.approximate or said.pin_approximate
    return said


def _read_vague(scene: Scene, said: Distances) -> None:
    """Green before the flag, and behind it, in words alone."""
    for mention in scene.having("room", "behind"):
        told = mention.get("room") or mention.get("behind")
        if "behind" in mention and not is_past_trouble(scene, mention):
            if said.behind_m is None:
                said.behind_m = LITTLE_BEHIND_M if told == "little" else PLENTY_BEHIND_M
                said.strength += 1
        elif said.room_m is None and "distance" not in mention:
            said.room_m = LITTLE_ROOM_M if told == "little" else PLENTY_OF_ROOM_M
            said.room_is_vague, said.room_is_tucked = told == "little", "tucked" in mention
            said.strength += 1


def _read_loose(
    scene: Scene,
    said: Distances,
    default: Unit,
    others: Collection[int],
    *,
    on_green: bool,
    from_speech: bool,
) -> None:
    """Numbers that no phrase explains: the flag's, when nothing says it more plainly."""
    loose = list(_loose(scene, others))
    for at, quantity in loose:
        read_off = at > 0 and scene.pieces[at - 1].text == "READING"
        rank = OUTRIGHT if read_off else LOOSE if quantity.unit else BARE
        if not on_green and is_small_beside_yards(scene, at):
            rank = PLAYS
        if said.pin_rank < rank and said.problem is None and quantity.is_length:
            scene.used.add(at)
            strength = (
                1.2
                if quantity.unit
                else 0.8
                if read_off or (quantity.approximate and len(loose) == 1)
                else 0.4
            )
            role = "front" if _goes_on(scene, said, at) else "pin"
            before = said.of(role)
            _take(scene, said, role, quantity, default, from_speech, strength, rank)
            said.settle(role, at, before, scene.length_m(quantity, default))


def _end_to_end(scene: Scene, said: Distances, mentions: list[Mention], default: Unit) -> None:
    """ "Three paces of fringe then thirty feet to the hole": said in one breath, one begins where the other ends."""
    for first in mentions:
        if first.get("distance") not in ("front", "between") or "of" not in _texts(scene, first):
            continue
        if first.get("part"):
            continue
        joined = first.end < len(scene.pieces) and scene.pieces[first.end].text == "and"
        next_at = first.end + joined
        then = next((m for m in mentions if m.start == next_at and m.get("distance") == "pin"), None)
        if (
            then is None
            or scene.pieces[then.start].after_break
            or first.quantity is None
            or then.quantity is None
        ):
            continue
        first_m = scene.length_m(first.quantity, default)
        pin_m = first_m + scene.length_m(then.quantity, default)
        if 0 < pin_m <= FARTHEST_M and said.pin_m is not None:
            said.front_m, said.pin_m, said.pin_range_m, said.between_m = first_m, pin_m, None, None


def _over_the_ground(said: Distances) -> None:
    """Ground before the green reaches to its front edge, where flag and room do not tell that otherwise."""
    if said.between_m is not None and said.front_m is None:
        if said.pin_m is None and said.room_m is None:
            said.pin_m, said.pin_rank = said.between_m, LOOSE
        elif said.pin_m is None or (said.room_m is None and said.between_m < said.pin_m):
            said.front_m = said.between_m
    if said.fringe_m is not None and said.front_m == said.fringe_m and said.pin_m and said.room_m:
        before_m = said.pin_m - said.room_m
        if before_m > said.fringe_m + SAME * said.pin_m:
            said.front_m = None


def _texts(scene: Scene, mention: Mention) -> list[str]:
    return [piece.text for piece in scene.pieces[mention.start : mention.end]]


def _from_the_middle(scene: Scene, said: Distances, default: Unit) -> None:
    """Eighty-seven to the middle, the flag five behind that; a false front, the flag four paces over it."""
    length = {
        str(m.get("distance")): scene.length_m(m.quantity, default)
        for m in scene.having("distance")
        if m.get("distance") in ("middle", "beyond", "before")
        and m.quantity is not None
        and m.quantity.is_length
    }
    if said.room_m is None and "beyond" in length and "middle" not in length:
        over = said.pin_m is None and any(m.get("distance") == "carry" for m in scene.having("distance"))
        if said.front_m is not None or over or _follows_trouble(scene):
            said.room_m = length["beyond"]
            said.strength += 1
    if said.pin_m is None and "middle" in length:
        reckoned = _reckoned_from_the_middle(scene, length["middle"], default)
        pin_m = reckoned or length["middle"] + length.get("beyond", 0.0) - length.get("before", 0.0)
        said.strength += 1.5
        said.pin_rank = LOOSE
        if 0 < pin_m <= FARTHEST_M:
            said.pin_m = pin_m
        else:
            said.problem = refusal(Quantity(pin_m, pin_m, Unit.METRES), default, pin_m, scene.pace_m)


def _reckoned_from_the_middle(scene: Scene, middle_m: float, default: Unit) -> float | None:
    """ "84 to the middle, pin back, call it 91": where the flag is, and then a length alone that is like the first."""
    middle = next(m for m in scene.having("distance") if m.get("distance") == "middle")
    places = [m.start for m in scene.having("where") if m.start >= middle.end and m.get("where") != "middle"]
    for at in range(min(places, default=len(scene.pieces)), len(scene.pieces)):
        quantity = scene.pieces[at].quantity
        if scene.pieces[at].text != "#" or quantity is None or not quantity.is_length or at in scene.used:
            continue
        alone = at + 1 == len(scene.pieces) or scene.pieces[at + 1].after_break
        metres = scene.length_m(quantity, default)
        if scene.pieces[at].after_break and alone and abs(metres - middle_m) <= _HALF_A_GREEN * middle_m:
            scene.used.add(at)
            return metres
    return None


def _follows_trouble(scene: Scene) -> bool:
    """Whether "the flag five behind it" comes after trouble, with no other length between."""
    beyond = next(m for m in scene.having("distance") if m.get("distance") == "beyond")
    before = [at for at in range(beyond.start) if scene.is_trouble(at)]
    return bool(before) and not any(p.quantity is not None for p in scene.pieces[before[-1] : beyond.start])


def _goes_on(scene: Scene, said: Distances, at: int) -> bool:
    """ "Five yards, then twenty more to the pin": the first length is to where the second begins."""
    room_at = said.from_at.get("room")
    if room_at is None or room_at < at or said.front_m is not None or said.pin_m is not None:
        return False
    mention = next((m for m in scene.having("distance") if m.quantity_at == room_at), None)
    words = {p.text for p in scene.pieces[mention.start : mention.end]} if mention is not None else set()
    return not words.isdisjoint(_FURTHER)


def _loose(scene: Scene, others: Collection[int]) -> Iterator[tuple[int, Quantity]]:
    for at, piece in enumerate(scene.pieces):
        if piece.text != "#" or piece.quantity is None or at in scene.used | scene.denied or at in others:
            continue
        if _is_of_something_else(scene, at):
            continue
        counts = at + 1 < len(scene.pieces) and scene.is_trouble(at + 1) and piece.quantity.unit is None
        if not (counts and not scene.pieces[at + 1].after_break):
            yield at, piece.quantity


def _is_of_something_else(scene: Scene, at: int) -> bool:
    """ "Four hundred yards of cable": a length of what no golfer plays over."""
    following = scene.pieces[at + 1 : at + 3]
    of_it = len(following) == 2 and following[0].text == "of" and not following[0].after_break
    return of_it and is_strange(scene, at + 2)


def _take(
    scene: Scene,
    said: Distances,
    role: str,
    quantity: Quantity,
    default: Unit,
    from_speech: bool,
    strength: float,
    rank: int,
) -> None:
    if role in ("ignore", "middle", "beyond", "before", "depth"):
        return
    metres = scene.length_m(quantity, default)
    said.strength += strength
    if role in ("back", "to_back"):
        return
    if role not in ("pin", "plays"):
        said.approximate = said.approximate or quantity.approximate
    if role == "between":
        said.between_m = metres
    elif role == "front":
        if 0 <= metres <= FARTHEST_M:
            said.front_m = metres
        else:
            said.problem = said.problem or refusal(quantity, default, metres, scene.pace_m)
    elif role == "room":
        if 0 < metres <= MOST_ROOM_M:
            said.room_m = metres
        else:
            said.problem = said.problem or refusal(quantity, default, metres, scene.pace_m)
    elif role == "behind":
        said.behind_m = metres if 0 < metres <= MOST_ROOM_M else None
    elif rank <= said.pin_rank:
        return
    elif 0 < metres <= FARTHEST_M:
        said.pin_rank = rank
        said.pin_approximate = quantity.approximate
        said.pin_m, said.pin_unit = metres, Unit(quantity.unit) if quantity.unit else None
        low, high = quantity.ends_m(default, scene.pace_m)
        said.pin_range_m = (low, high) if low < high else None
        said.sounds_like_m = _sounds_like(quantity, default, scene.pace_m) if from_speech else None
    else:
        said.problem = said.problem or refusal(quantity, default, metres, scene.pace_m)


def _sounds_like(quantity: Quantity, default: Unit, pace_m: float) -> float | None:
    if quantity.low != quantity.high or quantity.feet_and_inches:
        return None
    other = twin(quantity.low)
    if other is None:
        return None
    metres = Quantity(other, other, quantity.unit).metres(default, pace_m)
    return metres if metres <= FARTHEST_M else None


def refusal(quantity: Quantity, default: Unit, metres: float, pace_m: float) -> str:
    """One line: why a distance cannot be played, and what to say instead."""
    unit = Unit(quantity.unit) if quantity.unit else default
    number = quantity.low if quantity.low == quantity.high else quantity.middle
    said = f"{number:.10g} {unit.value}"
    farthest = round(from_metres(FARTHEST_M, Unit.YARDS))
    if metres > 0:
        if metres <= FARTHEST_M:
            return f"{said} of green is more than any green has: say how far on the flag is"
        limit = "" if unit is Unit.YARDS else f", {round(FARTHEST_M)} metres"
        return f"{said} is outside the short game (up to {farthest} yards{limit}): say a shorter distance"
    if metres == 0:
        return f"{said} leaves nothing to play: say the distance to the flag, for example 40 yards"
    return (
        f"{said} is less than nothing: say the distance to the flag as a plain number, for example 40 yards"
    )
