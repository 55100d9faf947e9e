"""What was acknowledged stays: killed writers, two writers at once, a full disk, a read-only disk."""

import contextlib
import json
import os
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from caddie.log.shot import Shot
from caddie.log.store import Log

ROOT = Path(__file__).parents[2]


def run(script: str, *arguments: object, **options) -> subprocess.CompletedProcess:
    """Run Python source in a process of its own."""
    return subprocess.run(
        [sys.executable, "-c", textwrap.dedent(script), *map(str, arguments)],
        capture_output=True,
        text=True,
        timeout=240,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        **options,
    )


KILLED = """
    import json, multiprocessing, random, sys, time
    from pathlib import Path
    from caddie.log.shot import Shot
    from caddie.log.store import Log

    def write(path, name, acknowledged):
        with Log(path) as log:
            for number in range(100_000):
                sentence = f"{name}.{number} " + "x" * (number % 900)
                acknowledged.send((log.add(Shot(sentence=sentence)), sentence))

    def main():
        folder, kills, draw = Path(sys.argv[1]), int(sys.argv[2]), random.Random(8)
        methods = multiprocessing.get_all_start_methods()
        start = multiprocessing.get_context("fork" if "fork" in methods else "spawn")
        told = []
        for kill in range(kills):
            path = folder / f"{kill % 10}.sqlite3"
            ours, theirs = start.Pipe(duplex=False)
            writer = start.Process(target=write, args=(path, f"writer {kill}", theirs))
            writer.start()
            theirs.close()
            # One in four is killed while it opens the file, the others at a random instant of their writing.
            if kill % 4:
                ours.poll(30)
            time.sleep(draw.uniform(0, 0.02))
            writer.kill()
            writer.join()
            try:
                while ours.poll(0):
                    number, sentence = ours.recv()
                    told.append([path.name, number, sentence])
            except (EOFError, OSError):
                pass
            ours.close()
        print(json.dumps(told))

    if __name__ == "__main__":
        main()
"""


@pytest.mark.parametrize("kills", [20, pytest.param(200, marks=pytest.mark.rare)])
def test_killed_writers_lose_nothing_acknowledged(kills, tmp_path):
    script = tmp_path / "killed.py"
    script.write_text(textwrap.dedent(KILLED))
    folder = tmp_path / "logs"
    done = subprocess.run(
        [sys.executable, str(script), str(folder), str(kills)],
        capture_output=True,
        text=True,
        timeout=240,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        check=True,
    )
    told = json.loads(done.stdout)
    assert len({sentence.split(".")[0] for _, _, sentence in told}) > kills / 2, (
        "too few writers got to write"
    )
    kept = {}
    for path in folder.glob("*.sqlite3"):
        with Log(path) as log:
            assert log.rows("PRAGMA integrity_check") == [("ok",)]
            kept |= {(path.name, entry.id): entry.shot.sentence for entry in log.entries()}
    lost = [(name, number) for name, number, sentence in told if kept.get((name, number)) != sentence]
    assert not lost


TWO = """
    import sys, time
    from pathlib import Path
    from caddie.log.shot import Shot
    from caddie.log.store import Log
    with Log(Path(sys.argv[1])) as log:
        print("ready", flush=True)
        sys.stdin.readline()
        for number in range(150):
            log.add(Shot(player=sys.argv[2], sentence=str(number)))
            time.sleep(0.001)
"""


def test_two_programs_write_at_once_and_nothing_is_lost(tmp_path):
    path = tmp_path / "log.sqlite3"
    writers = [
        subprocess.Popen(
            [sys.executable, "-c", textwrap.dedent(TWO), str(path), name],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
        )
        for name in ("Ash", "Bryn")
    ]
    for writer in writers:
        assert writer.stdout.readline() == "ready\n"
    for writer in writers:
        writer.stdin.write("\n")
        writer.stdin.flush()
    for writer in writers:
        _, errors = writer.communicate(timeout=120)
        assert writer.returncode == 0, errors
    with Log(path, read_only=True) as log:
        for name in ("Ash", "Bryn"):
            assert [shot.sentence for shot in log.shots(name)] == [str(number) for number in range(150)]
        names = [shot.player for shot in log.shots()]
    assert names != sorted(names), "the two writers did not overlap"


FULL = """
    import sys
    from pathlib import Path
    from caddie.errors import CaddieError
    from caddie.log.shot import Shot
    from caddie.log.store import Log
    limit = int(sys.argv[2])
    if limit:
        import resource
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
    log = Log(Path(sys.argv[1]))
    kept = 0
    try:
        for number in range(100_000):
            log.add(Shot(sentence=f"{number} " + "x" * 900))
            kept += 1
    except CaddieError as error:
        try:
            log.add(Shot(sentence="again"))
            print("a second shot went in")
        except CaddieError:
            pass
        print(f"{kept}|{error}")
"""


@pytest.fixture
def small_disk(tmp_path):
    """A disk of 1 MB where this user may mount one, else None."""
    place = tmp_path / "small"
    place.mkdir()
    try:
        mounted = (
            subprocess.run(
                ["mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", str(place)], capture_output=True
            ).returncode
            == 0
        )
    except OSError:
        mounted = False
    yield place if mounted else None
    if mounted:
        subprocess.run(["umount", "-l", str(place)], check=True)


def check_full(path: Path, limit: int) -> None:
    told = run(FULL, path, limit).stdout.strip()
    kept, line = told.split("|", 1)
    assert int(kept) > 20
    assert "\n" not in line
    assert "the disk is full" in line
    assert str(path) in line
    with Log(path, read_only=True) as log:
        assert [shot.sentence.split()[0] for shot in log.shots()] == [str(n) for n in range(int(kept))]


def test_a_full_disk_is_told_and_nothing_written_is_lost(tmp_path, small_disk):
    if small_disk is not None:
        check_full(small_disk / "log.sqlite3", 0)
    check_full(tmp_path / "log.sqlite3", 600_000)


OPENED = """
    import sys
    from pathlib import Path
    from caddie.errors import CaddieError
    from caddie.log.store import Log
    limit = int(sys.argv[2])
    if limit:
        import resource
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
    try:
        Log(Path(sys.argv[1]))
        print("opened")
    except CaddieError as error:
        print(error)
"""


@pytest.mark.parametrize("room", [0, 8_192, 20_480])
def test_a_disk_that_is_full_when_the_log_is_opened_is_told(room, tmp_path, small_disk):
    path = (small_disk or tmp_path) / "log.sqlite3"
    with Log(path) as log:
        log.add_all([Shot(sentence="x" * 500)] * 20)
    if small_disk is not None:
        fill = small_disk / "fill"
        with contextlib.suppress(OSError), fill.open("wb", buffering=0) as file:
            while file.write(b"\0" * 4096):
                pass
        os.truncate(fill, fill.stat().st_size - room)
    line = run(OPENED, path, 0 if small_disk else max(room, 1)).stdout.strip()
    assert line.startswith(f"{path}: the log cannot be opened: the disk is full or failing"), line
    if small_disk is not None:
        fill.unlink()
    with Log(path) as log:
        assert log.count() == 20


def test_a_log_goes_on_once_there_is_room_again(tmp_path):
    path = tmp_path / "log.sqlite3"
    kept = int(run(FULL, path, 600_000).stdout.split("|")[0])
    with Log(path) as log:
        log.add(Shot(sentence="there is room"))
        assert log.count() == kept + 1


READ_ONLY = """
    import os, sys
    from pathlib import Path
    from caddie.errors import CaddieError
    from caddie.log.shot import Shot
    from caddie.log.store import Log
    if os.geteuid() == 0:
        os.setgroups([])
        os.setgid(65534)
        os.setuid(65534)
    path = Path(sys.argv[1])
    with Log(path, read_only=True) as log:
        print(len(log.shots()))
    try:
        Log(path).add(Shot())
        print("written")
    except CaddieError as error:
        print(error)
"""


def test_a_read_only_log_is_read_and_its_writing_refused_in_one_line(tmp_path):
    folder = tmp_path / "stick"
    path = folder / "log.sqlite3"
    with Log(path) as log:
        log.add(Shot())
    path.chmod(0o444)
    folder.chmod(0o555)
    # A superuser may write anything, so the script first becomes nobody; that user must reach the folder.
    opened = []
    for parent in folder.parents:
        if parent == Path(parent.anchor):
            break
        if not parent.stat().st_mode & 0o001:
            opened.append((parent, parent.stat().st_mode))
            parent.chmod(parent.stat().st_mode | 0o005)
    try:
        done = run(READ_ONLY, path)
    finally:
        for parent, mode in opened:
            parent.chmod(mode)
        folder.chmod(0o755)
    read, refused = done.stdout.strip().splitlines()
    assert read == "1", done.stderr
    assert "cannot be" in refused
    assert "read-only" in refused or "may be read and written" in refused
