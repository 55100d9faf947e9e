"""A wrong command line is refused in one line that says where to look."""

import pytest


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("aks hello", "caddie: No such command 'aks'. Did you mean 'ask'? (see caddie --help)"),
        ("ask", "caddie: Missing argument 'text' (see caddie ask --help)"),
        ("ask -70", "caddie: a text that begins with - is taken for an option: put -- before it"),
        (
            "ask -- -70",
            "caddie: -70 yards is less than nothing: say the distance to the flag as a plain number, "
            "for example 40 yards",
        ),
        ("practice gme", "caddie: No such command 'gme'. Did you mean 'game'? (see caddie practice --help)"),
    ],
)
def test_it_is_one_line(caddie, line, told):
    ended = caddie(*line.split())
    assert (ended.code, ended.out, ended.err) == (2, "", told + "\n")


@pytest.mark.parametrize("line", ["log show --last x", "practice rehearse --balls 0", "ask forty --sed 4"])
def test_a_wrong_value_is_named_with_its_option(caddie, line):
    ended = caddie(*line.split())
    assert ended.code == 2
    assert len(ended.err.splitlines()) == 1
    assert line.split()[2] in ended.err


def test_a_group_without_a_command_shows_its_help(caddie):
    ended = caddie("bag")
    assert ended.code == 2
    assert ended.err.startswith("Usage: caddie bag")
