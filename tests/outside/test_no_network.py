"""Nothing but the model download may use the network: every other command runs with sockets forbidden."""

import io
import socket
import sys

import pytest

from caddie.cli import run

COMMANDS = [
    (["ask", "seventy yards, fairway"], ""),
    (["ask", "12 footer, downhill"], ""),
    (["understand", "forty from heavy rough"], ""),
    (["talk"], "forty out\nrough\nfinished eight feet past\nbye\n"),
    (["bag", "show"], ""),
    (["bag", "check"], ""),
    (["bag", "import", "demo_bag/range_session.csv", "--yes"], ""),
    (["card", "{folder}/card.pdf", "--yes"], ""),
    (["report", "--demo", "--out", "{folder}/report.html", "--yes"], ""),
    (["practice", "next"], ""),
    (["log", "show"], ""),
    (["voice", "model"], ""),
]


@pytest.mark.parametrize(("words", "typed"), COMMANDS, ids=[" ".join(words[:2]) for words, _ in COMMANDS])
def test_the_command_needs_no_network(words, typed, monkeypatch, tmp_path, capsys):
    def refused(*_args, **_rest):
        raise AssertionError(f"caddie {words[0]} reached for the network")

    monkeypatch.setenv("CADDIE_HOME", str(tmp_path / "home"))
    monkeypatch.setattr(socket, "socket", refused)
    monkeypatch.setattr(socket, "create_connection", refused)
    monkeypatch.setattr(sys, "argv", ["caddie", *(word.format(folder=tmp_path) for word in words)])
    monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
    with pytest.raises(SystemExit):
        run()
    out, err = capsys.readouterr()
    assert "reached for the network" not in out + err
    assert "should not happen" not in err
