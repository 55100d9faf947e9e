"""What a request holds, checked field by field before any room sees it."""

import json
from typing import Annotated, Literal, TypeVar

from pydantic import Base64Bytes, BaseModel, ConfigDict, Field, StringConstraints, ValidationError
from starlette.requests import Request

from caddie.bag.file import explain
from caddie.errors import CaddieError
from caddie.words import LONGEST_TEXT

ShortText = Annotated[str, Field(max_length=80)]
PlayerName = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=40)]
Id = Annotated[str, Field(max_length=60)]
FiniteNumber = Annotated[float, Field(allow_inf_nan=False, ge=-10_000, le=10_000)]


class Asked(BaseModel):
    """A change asked for; ``id`` is the client's name for it, so that asking twice does it once."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    id: Id = ""


class Saying(Asked):
    """A sentence."""

    text: Annotated[str, Field(max_length=4 * LONGEST_TEXT)]


class FactTap(Asked):
    """A fact set, or taken out."""

    name: ShortText
    value: FiniteNumber | ShortText | None = None


class Pick(Asked):
    """An option picked."""

    number: Annotated[int, Field(ge=0, le=1000)]


class ResultTap(Asked):
    """What became of a shot."""

    left_ft: FiniteNumber | None = None
    side: ShortText | None = None
    strike: ShortText | None = None
    finish: ShortText | None = None


class Cell(Asked):
    """A carry written or taken out."""

    digest: ShortText | None
    club: ShortText
    swing: ShortText
    sand: bool = False
    carry: FiniteNumber | None = None
    spread: FiniteNumber | None = None


class SeenBag(Asked):
    """Something done to a bag that was seen so."""

    digest: ShortText | None
    shots: int = 0


class ShotNumber(Asked):
    """A shot of the log."""

    shot: Annotated[int, Field(ge=1, le=2**53)]


class PracticeWanted(Asked):
    """A rehearsal, game, drill or range session to begin."""

    kind: ShortText = "rehearsal"
    name: ShortText = ""
    """Of the game or drill."""
    balls: Annotated[int, Field(ge=1, le=500)] = 10
    order: ShortText = "mixed"
    players: Annotated[tuple[PlayerName, ...], Field(max_length=2)] = ()
    clubs: Annotated[tuple[ShortText, ...], Field(max_length=30)] = ()
    swings: Annotated[tuple[ShortText, ...], Field(max_length=30)] = ()
    sand: bool = False
    go_on: bool = False
    """The range session that was left, instead of a new one."""


class HoleTold(Asked):
    """Something to be remembered of a hole."""

    course: ShortText = ""
    hole: Annotated[int, Field(ge=0, le=1000)]
    text: Annotated[str, Field(max_length=LONGEST_TEXT)]


class WordTaught(Asked):
    """A word of the player's own."""

    word: ShortText
    means: ShortText
    sure: bool = False


class NoteGone(Asked):
    """A hole's note to erase, or a word."""

    course: ShortText = ""
    hole: Annotated[int, Field(ge=0, le=1000)] = 0
    word: ShortText = ""


class TableSent(Asked):
    """A table of shots, as its file is; ``wishes`` answer what it leaves open."""

    digest: ShortText | None = None
    name: Annotated[str, Field(max_length=200)]
    content: Base64Bytes
    wishes: dict[Literal["length_unit", "speed_unit", "club", "swing"], ShortText] = {}


T = TypeVar("T", bound=Asked)


async def read(request: Request, kind: type[T]) -> T:
    """The body as this kind of change.

    Raises:
        CaddieError: if it is no JSON of that kind.
    """
    if request.headers.get("content-type", "").partition(";")[0].strip() != "application/json":
        raise CaddieError("what is sent must be JSON")
    try:
        return kind.model_validate(json.loads(await request.body()))
    except ValidationError as error:
        raise CaddieError(explain(error)) from None
    except (ValueError, RecursionError):
        raise CaddieError("what is sent must be JSON") from None
