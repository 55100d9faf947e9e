import sqlite3
import stat
from datetime import UTC, datetime, timedelta

import pytest

from caddie.errors import CaddieError
from caddie.log.migrations import MIGRATIONS, version_of
from caddie.log.seals import seal
from caddie.log.shot import Mode, Shot
from caddie.log.store import Log
from caddie.situation import Result

SEALED_SINCE = 4
"""The version of the log that brought checksums."""


def test_a_shot_comes_back_as_it_went_in(log, full_shot):
    number = log.add(full_shot)
    assert list(log.entries()) == [(number, full_shot)]
    assert log.shots()[0].time == full_shot.time


def test_what_is_acknowledged_is_seen_by_another_program(log, full_shot):
    log.add(full_shot)
    with Log(log.path, read_only=True) as other:
        assert other.shots() == [full_shot]


def test_shots_are_picked_by_player_mode_and_number(log):
    first = log.add(Shot(player="Ash", mode=Mode.RANGE, sentence="a"))
    log.add(Shot(player="Bryn", sentence="b"))
    log.add(Shot(player="Ash", sentence="c"))
    log.add(Shot(player="Ash", mode=Mode.GAME, sentence="d"))

    def said(**chosen):
        return [shot.sentence for shot in log.shots(**chosen)]

    assert said() == ["a", "b", "c", "d"]
    assert said(player="Ash") == ["a", "c", "d"]
    assert said(modes=(Mode.GAME, Mode.PRACTICE)) == ["b", "c", "d"]
    assert said(after_id=first) == ["b", "c", "d"]
    assert said(player="Ash", last=2) == ["c", "d"]
    assert log.players() == ["Ash", "Bryn"]
    assert (log.count(), log.count("Bryn")) == (4, 1)


def test_a_shot_taken_out_leaves_the_others_and_its_number_is_not_used_again(log):
    log.add(Shot(sentence="kept"))
    gone = log.add(Shot(sentence="gone"))
    log.remove(gone)
    assert [shot.sentence for shot in log.shots()] == ["kept"]
    assert log.add(Shot()) > gone


def test_several_shots_are_kept_all_or_none(log):
    log.connection.execute(
        "CREATE TRIGGER refuse BEFORE INSERT ON shots WHEN new.sentence = 'bad' "
        "BEGIN SELECT RAISE(ABORT, 'refused'); END"
    )
    with pytest.raises(CaddieError, match="cannot be written"):
        log.add_all([Shot(sentence="good"), Shot(sentence="bad")])
    assert log.count() == 0


def test_a_forgotten_sentence_is_nowhere_in_the_folder(log):
    secret = "the one behind the oak nobody saw"
    for number in range(300):
        log.add(Shot(player="Ash", sentence=f"{secret} {number}"))
    log.add(Shot(player="Bryn", sentence="stays"))
    assert any(secret.encode() in file.read_bytes() for file in log.path.parent.iterdir())
    assert log.forget("Ash") == 300
    assert not any(secret.encode() in file.read_bytes() for file in log.path.parent.iterdir())
    assert [shot.sentence for shot in log.shots()] == ["stays"]


def test_forget_up_to_a_moment(log):
    start = datetime(2026, 4, 1, tzinfo=UTC)
    for day in range(10):
        log.add(Shot(time=start + timedelta(days=day)))
    assert log.forget(before=start + timedelta(days=4)) == 4
    assert min(shot.time for shot in log.shots()) == start + timedelta(days=4)


def test_forget_says_so_when_another_program_still_reads(log):
    log.add(Shot(sentence="still being read"))
    reader = sqlite3.connect(log.path)
    reader.execute("BEGIN")
    reader.execute("SELECT * FROM shots").fetchall()
    log.connection.execute("PRAGMA busy_timeout = 50")
    with pytest.raises(CaddieError, match="traces stay"):
        log.forget()
    reader.close()
    log.forget()
    assert not any(b"still being read" in file.read_bytes() for file in log.path.parent.iterdir())


def test_file_and_folder_are_the_players_alone(tmp_path, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path / "data"))
    with Log() as log:
        log.add(Shot())
        files = list(log.path.parent.iterdir())
        assert {file.name for file in files} >= {"log.sqlite3", "log.sqlite3-wal"}
        assert all(stat.S_IMODE(file.stat().st_mode) == 0o600 for file in files)
    assert stat.S_IMODE((tmp_path / "data").stat().st_mode) == 0o700


def test_a_folder_and_file_open_to_others_are_closed(tmp_path, monkeypatch):
    monkeypatch.setenv("CADDIE_HOME", str(tmp_path / "data"))
    (tmp_path / "data").mkdir(mode=0o755)
    file = tmp_path / "data" / "log.sqlite3"
    file.touch(mode=0o644)
    Log().close()
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert stat.S_IMODE(file.parent.stat().st_mode) == 0o700


@pytest.mark.parametrize("version", range(len(MIGRATIONS)))
@pytest.mark.parametrize("read_only", [True, False])
def test_a_log_of_any_age_opens(tmp_path, version, read_only):
    path = tmp_path / "old.sqlite3"
    old = sqlite3.connect(path, isolation_level=None)
    for step in MIGRATIONS[:version]:
        old.executescript(step)
    if version:
        old.execute(
            "INSERT INTO shots (time, mode, player, sentence, situation, result) "
            "VALUES ('2026-01-02T03:04:05.000000+00:00', 'practice', 'Ash', 'old', '{\"pin_m\": 9}', '{}')"
        )
    if version >= SEALED_SINCE:
        seal(old, "shots")
        old.executemany(
            "INSERT INTO tally VALUES (?, ?, ?)", [("shots", 1, 1), ("lessons", 0, 0), ("games", 0, 0)]
        )
    old.execute(f"PRAGMA user_version = {version}")
    old.close()
    with Log(path, read_only=read_only) as log:
        assert version_of(log.connection) == len(MIGRATIONS)
        assert [shot.situation.pin_m for shot in log.shots()] == ([9] if version else [])


def test_a_log_of_a_newer_caddie_is_refused_and_left_alone(tmp_path):
    path = tmp_path / "new.sqlite3"
    newer = sqlite3.connect(path)
    newer.execute("PRAGMA user_version = 99")
    newer.close()
    for read_only in (True, False):
        with pytest.raises(CaddieError, match=r"new\.sqlite3: written by a newer caddie \(log version 99"):
            Log(path, read_only=read_only)
    assert version_of(sqlite3.connect(path)) == 99


def test_a_damaged_file_is_told_in_one_line_and_left_alone(tmp_path):
    path = tmp_path / "log.sqlite3"
    path.write_bytes(b"this was never a log, but somebody may want it back" * 100)
    before = path.read_bytes()
    for read_only in (True, False):
        with pytest.raises(CaddieError, match="is damaged or is no log") as error:
            Log(path, read_only=read_only)
        assert "\n" not in str(error.value)
    assert path.read_bytes() == before


def test_a_file_cut_short_is_told(log, full_shot):
    for _ in range(200):
        log.add(full_shot)
    log.close()
    content = log.path.read_bytes()
    log.path.write_bytes(content[: len(content) // 2])
    with pytest.raises(CaddieError, match="is damaged"), Log(log.path, read_only=True) as other:
        other.shots()


def test_no_log_yet(tmp_path):
    with pytest.raises(CaddieError, match="there is no log yet"):
        Log(tmp_path / "none.sqlite3", read_only=True)
    assert not (tmp_path / "none.sqlite3").exists()


def test_a_folder_where_the_file_should_be(tmp_path):
    with pytest.raises(CaddieError, match="cannot be opened"):
        Log(tmp_path)


def test_a_file_where_the_folder_should_be(tmp_path):
    (tmp_path / "data").write_text("in the way")
    with pytest.raises(CaddieError, match="the log cannot be opened"):
        Log(tmp_path / "data" / "log.sqlite3")


def test_a_writer_waits_for_another_and_gives_up_with_a_line(log, full_shot, monkeypatch):
    monkeypatch.setattr("caddie.log.opening.BUSY_S", 0.2)
    with Log(log.path) as second:
        log.connection.execute("BEGIN IMMEDIATE")
        with pytest.raises(CaddieError, match="another program has been writing"):
            second.add(full_shot)
        log.connection.execute("ROLLBACK")
        second.add(full_shot)
    assert log.count() == 1


def test_result_with_no_words_is_kept(log):
    log.add(Shot(result=Result()))
    assert log.shots()[0].result == Result()
