"""Completion of commands in bash, zsh and fish: installed at home, fast, and of the real commands."""

import os
import resource
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PLACES = {
    "bash": ".bash_completions/caddie.sh",
    "zsh": ".zfunc/_caddie",
    "fish": ".config/fish/completions/caddie.fish",
}
LONGEST_S = 2.0


@pytest.fixture
def caddie(tmp_path):
    """The installed command under its own name, which the shells ask for, in an empty home."""
    program = tmp_path / "bin" / "caddie"
    program.parent.mkdir()
    program.write_text(f"#!{sys.executable}\nfrom caddie.cli import run\nrun()\n")
    program.chmod(0o755)
    home = tmp_path / "at home"
    home.mkdir()

    def run(*words, program=program, **env):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        done = subprocess.run(
            [str(program), *words],
            capture_output=True,
            text=True,
            env={
                "PATH": f"{tmp_path / 'bin'}{os.pathsep}{os.environ['PATH']}",
                "PYTHONPATH": str(ROOT),
                "HOME": str(home),
                "_TYPER_COMPLETE_TEST_DISABLE_SHELL_DETECTION": "1",
                **env,
            },
        )
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        assert (after.ru_utime + after.ru_stime) - (before.ru_utime + before.ru_stime) < LONGEST_S
        assert "Traceback" not in done.stderr
        return done

    run.home = home
    return run


@pytest.mark.parametrize("shell", PLACES)
def test_what_is_installed_is_what_is_shown(shell, caddie):
    shown = caddie("--show-completion", shell)
    assert shown.returncode == 0
    assert "_CADDIE_COMPLETE" in shown.stdout
    assert caddie("--install-completion", shell).returncode == 0
    assert (caddie.home / PLACES[shell]).read_text().strip() == shown.stdout.strip()


ASKED = {
    "bash": {"COMP_WORDS": "caddie log f", "COMP_CWORD": "2"},
    "zsh": {"_TYPER_COMPLETE_ARGS": "caddie log f"},
    "fish": {"_TYPER_COMPLETE_ARGS": "caddie log f", "_TYPER_COMPLETE_FISH_ACTION": "get-args"},
}


@pytest.mark.parametrize("shell", PLACES)
def test_a_command_begun_is_completed(shell, caddie):
    done = caddie(_CADDIE_COMPLETE=f"complete_{shell}", **ASKED[shell])
    assert "forget" in done.stdout
    assert "undo" not in done.stdout


@pytest.mark.parametrize(
    "words", ['caddie bag "', "caddie \x1b[2J", "caddie log show --last x ", "caddie " * 500]
)
def test_odd_words_cost_nothing(words, caddie):
    caddie(_CADDIE_COMPLETE="complete_zsh", _TYPER_COMPLETE_ARGS=words)


def test_bash_itself_completes(caddie):
    bash = shutil.which("bash")
    assert bash, "these tests need bash"
    assert caddie("--install-completion", "bash").returncode == 0
    script = (
        f"source '{caddie.home / PLACES['bash']}'\n"
        'COMP_WORDS=(caddie practice r); COMP_CWORD=2; _caddie_completion caddie; echo "${COMPREPLY[@]}"'
    )
    assert caddie("-c", script, program=bash).stdout.split() == ["range", "rehearse"]
