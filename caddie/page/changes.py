"""What the page asks for by address: what it looks at and what it changes, each a line that calls a view."""

from collections.abc import Callable
from typing import Any, NamedTuple, TypeVar

from caddie.page import asked
from caddie.page.service import Views

Answer = dict[str, Any]
Body = TypeVar("Body", bound=asked.Asked)


class PageChange(NamedTuple):
    """A change: what the request must hold, and what it does."""

    kind: type[asked.Asked]
    act: Callable[[Views, Any], Answer]


def _change(kind: type[Body], act: Callable[[Views, Body], Answer]) -> PageChange:
    return PageChange(kind, act)


def _of_the_bag(kind: type[Body], act: Callable[[Views, Body], Answer]) -> PageChange:
    """A change of the bag file: the talk goes on with the bag as it was just written."""

    def changed(views: Views, wanted: Body) -> Answer:
        answer = act(views, wanted)
        views.bag_changed()
        return answer

    return PageChange(kind, changed)


def _shots(views: Views) -> Answer:
    player = views.talk.bag.player
    return views.shots.state(player.name, player.distances_in)


def _remove(views: Views, which: asked.ShotNumber) -> Answer:
    views.shots.remove(which.shot)
    return _shots(views)


def _teach(views: Views, seen: asked.SeenBag) -> Answer:
    views.shots.teach(seen.digest, seen.shots)
    return views.shots.lesson()


def _begin(views: Views, wanted: asked.PracticeWanted) -> Answer:
    return views.practice.start(views.bag.bag(), wanted, views.seed)


def _told(views: Views, said: asked.Saying) -> Answer:
    return views.practice.tell(views.bag.bag(), said.id, said.text)


def _forget(views: Views, which: asked.NoteGone) -> Answer:
    if which.word:
        return views.notes.forget_word(which.word)
    return views.notes.forget_hole(which.course, which.hole)


LOOKS: dict[str, Callable[[Views], Answer]] = {
    "/api/bag": lambda views: views.bag.state(),
    "/api/bag/fit": lambda views: views.bag.fit_seen(),
    "/api/shots": _shots,
    "/api/shots/lesson": lambda views: views.shots.lesson(),
    "/api/practice": lambda views: views.practice.state(views.bag.bag()),
    "/api/practice/next": lambda views: views.practice.gains(views.bag.bag(), views.seed),
    "/api/notes": lambda views: views.notes.state(),
}
CHANGES: dict[str, PageChange] = {
    "/api/say": _change(asked.Saying, lambda views, said: views.talk.say(said.id, said.text)),
    "/api/fact": _change(asked.FactTap, lambda views, tap: views.talk.set_fact(tap.id, tap.name, tap.value)),
    "/api/pick": _change(asked.Pick, lambda views, tap: views.talk.pick(tap.id, tap.number)),
    "/api/result": _change(
        asked.ResultTap, lambda views, told: views.talk.tell(told.id, told.model_dump(exclude={"id"}))
    ),
    "/api/bag/cell": _of_the_bag(asked.Cell, lambda views, cell: views.bag.set_cell(cell)),
    "/api/bag/undo": _of_the_bag(asked.SeenBag, lambda views, seen: views.bag.undo(seen.digest)),
    "/api/bag/table": _change(asked.TableSent, lambda views, sent: views.bag.table_seen(sent)),
    "/api/bag/table/keep": _of_the_bag(asked.TableSent, lambda views, sent: views.bag.keep_table(sent)),
    "/api/bag/fit": _of_the_bag(asked.SeenBag, lambda views, seen: views.bag.fit(seen.digest, seen.shots)),
    "/api/shots/remove": _change(asked.ShotNumber, _remove),
    "/api/shots/teach": _of_the_bag(asked.SeenBag, _teach),
    "/api/practice/start": _change(asked.PracticeWanted, _begin),
    "/api/practice/tell": _change(asked.Saying, _told),
    "/api/practice/stop": _change(asked.Asked, lambda views, _: views.practice.stop(views.bag.bag())),
    "/api/notes/hole": _change(
        asked.HoleTold,
        lambda views, told: views.notes.tell_hole(told.course, told.hole, told.text, views.bag.bag().player),
    ),
    "/api/notes/word": _change(
        asked.WordTaught, lambda views, taught: views.notes.teach(taught.word, taught.means, taught.sure)
    ),
    "/api/notes/forget": _change(asked.NoteGone, _forget),
    "/api/notes/undo": _change(asked.Asked, lambda views, _: views.notes.undo()),
}
