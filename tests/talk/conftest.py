"""A small bag, and a planner that works each distinct shot out once for all tests."""

import functools
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

import caddie.talk.as_wished
import caddie.talk.choices
import caddie.talk.compare
import caddie.talk.of_two
import caddie.talk.planning
from caddie.bag import Bag, Carry, Club, ClubKind, Family, Miss, Player
from caddie.log.shot import Mode
from caddie.log.store import Log
from caddie.notes.notebook import Notebook
from caddie.notes.sheet import folder
from caddie.plan.candidates import ANY, Only
from caddie.plan.choose import advise
from caddie.plan.option import Plan
from caddie.plan.unknowns import Unknown, most_telling
from caddie.situation import Situation
from caddie.talk.conversation import Conversation
from caddie.units import YARD_M


def _club(id: str, name: str, loft: float, **carries: float) -> Club:
    cells = tuple(
        Carry(swing=swing, carry_m=yards * YARD_M, sd_m=0.055 * yards * YARD_M, shots=20)
        for swing, yards in carries.items()
    )
    kind = ClubKind.WEDGE if loft > 44 else ClubKind.IRON
    return Club(
        id=id, name=name, kind=kind, loft_deg=loft, carries=cells, said=("9 iron",) if id == "9i" else ()
    )


SMALL_BAG = Bag(
    player=Player(name="Perrin Ashby", handicap=16, usual_misses=(Miss.QUIT,)),
    clubs=(
        _club("60", "lob wedge", 60, hip=19, chest=46, full=70),
        _club("56", "sand wedge", 56, hip=24, chest=65, full=92),
        _club("52", "gap wedge", 52, hip=28, chest=78, full=103),
        _club("9i", "nine iron", 41, hip=38, full=130),
        Club(id="putter", name="putter", kind=ClubKind.PUTTER, loft_deg=3),
    ),
    trust={Family.CHIP: 0.7, Family.PITCH: 0.7, Family.LOB: 0.5, Family.SPLASH: 0.5, Family.PUTT: 0.7},
)
"""An invented player's."""


@functools.cache
def _plan(situation_json: str, bag_json: str, seed: int, only_json: str) -> Plan:
    return advise(
        Situation.model_validate_json(situation_json),
        Bag.model_validate_json(bag_json),
        seed=seed,
        only=Only.model_validate_json(only_json),
    )


def planned_once(situation: Situation, bag: Bag, seed: int = 1, only: Only = ANY) -> Plan:
    """The planner, remembering."""
    return _plan(situation.model_dump_json(), bag.model_dump_json(), seed, only.model_dump_json())


_asked: dict[tuple[str, str, tuple[str, ...]], Unknown | None] = {}


def asked_once(said: Situation, plan: Plan, bag: Bag, asked: tuple[str, ...] = ()) -> Unknown | None:
    """The search for the telling gap, remembering."""
    key = said.model_dump_json(), plan.model_dump_json(), asked
    if key not in _asked:
        _asked[key] = most_telling(said, plan, bag, asked)
    return _asked[key]


@pytest.fixture(autouse=True)
def remembering_planner(monkeypatch: pytest.MonkeyPatch) -> None:
    """Plans are the planner's own; the same shot is only not worked out again."""
    monkeypatch.setattr(caddie.talk.as_wished, "advise", planned_once)
    monkeypatch.setattr(caddie.talk.of_two, "advise", planned_once)
    monkeypatch.setattr(caddie.talk.compare, "advise", planned_once)
    monkeypatch.setattr(caddie.talk.choices, "advise", planned_once)
    monkeypatch.setattr(caddie.talk.planning, "most_telling", asked_once)


@pytest.fixture
def log(tmp_path: Path) -> Iterator[Log]:
    with Log(tmp_path / "log.sqlite3") as opened:
        yield opened


@pytest.fixture
def notebook(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], Notebook]:
    """A notebook of its own that begins with these holes."""

    def begin(holes: str = "") -> Notebook:
        monkeypatch.setenv("CADDIE_HOME", str(tmp_path / "home"))
        if holes:
            folder().mkdir(parents=True)
            (folder() / "holes.toml").write_text(holes, encoding="utf-8")
        return Notebook(day=date(2026, 5, 2))

    return begin


Start = Callable[..., Conversation]


@pytest.fixture
def start(log: Log) -> Start:
    """Begin a conversation with the small bag and a log of its own."""

    def begin(mode: Mode = Mode.PRACTICE, **settings: Any) -> Conversation:
        return Conversation(SMALL_BAG, mode=mode, **{"log": log, **settings})

    return begin
