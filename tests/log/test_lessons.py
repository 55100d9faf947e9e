import numpy as np

from caddie.bag import load_bag
from caddie.bag.file import save_bag
from caddie.bag.models import Family
from caddie.log.change import ChangeKind
from caddie.log.lessons import note_lesson, taught
from caddie.log.shot import Mode, Shot
from caddie.log.table import read_table
from caddie.log.teach import teach
from caddie.situation import Result


def range_shots(carry_m, count):
    return [
        Shot(
            mode=Mode.RANGE, player="Rowan Fenwick", club="56", swing="chest", family=Family.PITCH,
            result=Result(carry_m=carry_m + i % 3),
        )
        for i in range(count)
    ]  # fmt: skip


def lesson_on(log, bag):
    known = taught(log, bag)
    table = read_table(log, bag.player.name, after_id=known.up_to)
    return table, teach(bag, table, known.changes)


def test_no_shot_is_taught_twice(log):
    bag = load_bag()
    log.add_all(range_shots(62, 10))
    table, lesson = lesson_on(log, bag)
    assert len(table) == 10
    note_lesson(log, bag, int(table.id.max()), lesson.changes)
    log.add_all(range_shots(62, 4))
    assert len(lesson_on(log, lesson.bag)[0]) == 4


def test_a_lesson_whose_bag_was_never_saved_does_not_count(log):
    bag = load_bag()
    log.add_all(range_shots(62, 10))
    table, lesson = lesson_on(log, bag)
    note_lesson(log, bag, int(table.id.max()), lesson.changes)
    assert taught(log, bag) == (0, [])
    assert taught(log, lesson.bag) == (10, lesson.changes)


def test_a_bag_restored_from_before_two_lessons_is_taught_both_again(log):
    first = load_bag()
    log.add_all(range_shots(62, 6))
    table, lesson = lesson_on(log, first)
    note_lesson(log, first, int(table.id.max()), lesson.changes)
    log.add_all(range_shots(61, 5))
    table, later = lesson_on(log, lesson.bag)
    note_lesson(log, lesson.bag, int(table.id.max()), later.changes)
    assert taught(log, later.bag).up_to == 11
    assert taught(log, lesson.bag).up_to == 6
    assert taught(log, first).up_to == 0


def test_a_bag_that_went_through_its_file_is_the_taught_one(log, tmp_path):
    path = tmp_path / "bag.toml"
    save_bag(load_bag(), path)
    bag = load_bag(path)
    log.add_all(range_shots(62, 6))
    table, lesson = lesson_on(log, bag)
    note_lesson(log, bag, int(table.id.max()), lesson.changes)
    save_bag(lesson.bag, path)
    assert taught(log, load_bag(path)).up_to == 6


def test_what_is_known_of_a_run_is_built_on():
    """The bag remembers how far the run is off the model; later shots are held against what it then expects."""

    def shots_running(expected_m):
        return [
            Shot(
                club="56", swing="chest", flight="stock", family=Family.PITCH,
                advice={"club": "56", "swing": "chest", "flight": "stock", "carry_m": 59.0, "run_m": expected_m},
                result=Result(run_m=run),
            )
            for run in np.linspace(6.5, 7.5, 12)
        ]  # fmt: skip

    def run_of(lesson):
        return next(change for change in lesson.changes if change.kind is ChangeKind.RUN)

    first = teach(load_bag(), shots_running(4.0))
    once = run_of(first)
    twice = run_of(teach(first.bag, shots_running(4.0 + once.after), [once]))
    assert twice.before == once.after
    assert once.after < twice.after < 3.05
    assert twice.se < once.se
