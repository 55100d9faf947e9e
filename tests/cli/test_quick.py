"""Quick from the first word: what whole commands cost, and what an answer does without."""

import os
import subprocess
import sys

import pytest
from children import caddie as command
from children import over_floor, ratio
from started import started_before

from caddie.log.export import read_lines
from caddie.log.store import Log
from caddie.places import shipped

SENTENCE = "seventy yards, fairway, flag in the middle, bunker short"
MOST = {"ask": 6.0, "bag show": 3.5, "log show": 3.0, "card": 3.5, "help": 1.5}
"""Times the floor, with room for a machine that does other things at the same time."""
NOT_FOR_AN_ANSWER = (
    "spacy tomlkit rich PIL fpdf fontTools vosk pocketsphinx pyttsx3 miniaudio sqlite3 "
    "numpy.ma numpy.polynomial numpy.random caddie.voice caddie.log caddie.practice caddie.reply.picture"
).split()


def test_whole_commands_stay_close_to_what_python_itself_costs(tmp_path):
    log = tmp_path / "log.sqlite3"
    with Log(log) as written:
        written.add_all(read_lines(shipped("demo_bag/round.jsonl")))
    commands = {
        "ask": command("ask", SENTENCE),
        "bag show": command("bag", "show"),
        "log show": command("log", "show", "--log", str(log)),
        "card": command("card", str(tmp_path / "card.html"), "--yes"),
        "help": command("--help"),
    }
    costs = over_floor(commands, 3, {"CADDIE_HOME": str(tmp_path / "home")})
    found = {name: round(ratio(costs, name), 2) for name in commands}
    assert all(found[name] < MOST[name] for name in found), found


@pytest.mark.parametrize("sentence", [SENTENCE, "15 yards, bunker", "thirty yards, fringe, flag at the back"])
def test_an_answer_is_printed_before_anything_it_does_without_is_imported(tmp_path, sentence):
    code = (
        "import sys\n"
        f"sys.argv = ['caddie', 'ask', {sentence!r}]\n"
        "from caddie.cli import run\n"
        "try: run()\n"
        f"finally: print([name for name in {NOT_FOR_AN_ANSWER!r} if name in sys.modules], file=sys.stderr)\n"
    )
    ended = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "CADDIE_HOME": str(started_before(tmp_path))},
    )
    assert ended.stdout.startswith("Flag")
    assert ended.stderr.splitlines()[-1] == "[]"


def test_the_first_answer_needs_no_folder_to_write_to(tmp_path, caddie):
    usual = caddie("ask", SENTENCE)
    nowhere = tmp_path / "file"
    nowhere.write_text("a file where the folder should be")
    code = f"import sys; sys.argv = ['caddie', 'ask', {SENTENCE!r}]; from caddie.cli import run; run()"
    ended = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        env={**os.environ, "CADDIE_HOME": str(nowhere)},
    )
    assert (ended.returncode, ended.stdout) == (0, usual.out)
