"""Fixtures of the installed program: wheels built from here, and an empty environment for every supported Python.

Tests marked ``wheel`` take minutes and fetch packages: they run when asked for with ``-m wheel``, on each of the
supported Pythons that the machine has and at least on the running one.
"""

import os
import re
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@dataclass(frozen=True)
class Environment:
    """A virtual environment away from the checkout."""

    folder: Path

    @property
    def scripts(self) -> Path:
        return self.folder / ("Scripts" if os.name == "nt" else "bin")

    def __call__(self, program: str, *words: str, ends: int = 0) -> str:
        """Run a program of the environment from an unrelated folder, and return what it printed."""
        elsewhere = self.folder.parent / "elsewhere"
        elsewhere.mkdir(exist_ok=True)
        kept = {
            name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "CADDIE"))
        }
        done = subprocess.run(
            [self.scripts / program, *words],
            cwd=elsewhere,
            env={**kept, "CADDIE_HOME": str(self.folder.parent / "home"), "PYTHONUTF8": "1"},
            capture_output=True,
            encoding="utf-8",
            check=False,
        )
        assert done.returncode == ends, (
            f"{program} {' '.join(words)}\n{done.stdout[-3000:]}\n{done.stderr[-3000:]}"
        )
        return done.stdout


def made_with(python: str, folder: Path) -> Environment:
    subprocess.run([python, "-m", "venv", str(folder / "env")], check=True)
    return Environment(folder / "env")


def supported() -> list[str]:
    """The versions that the project says it runs on, oldest first."""
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    return re.findall(r"Programming Language :: Python :: (3\.\d+)", text)


def interpreters() -> dict[str, str]:
    """Version to interpreter: the running one, and those found on the path or where pyenv keeps them."""
    found = {f"{sys.version_info.major}.{sys.version_info.minor}": sys.executable}
    for version in supported():
        kept = sorted(Path.home().glob(f".pyenv/versions/{version}.*/bin/python{version}"))
        for candidate in filter(None, [*map(str, kept[-1:]), shutil.which(f"python{version}")]):
            asked = [
                candidate,
                "-c",
                f"import ensurepip, sys; sys.exit(sys.version_info[:2] != {version_tuple(version)})",
            ]
            if (
                version not in found
                and subprocess.run(asked, capture_output=True, check=False).returncode == 0
            ):
                found[version] = candidate
    return dict(sorted(found.items(), key=lambda item: version_tuple(item[0])))


def version_tuple(version: str) -> tuple[int, ...]:
    return tuple(int(part) for part in version.split("."))


@pytest.fixture(scope="session")
def toolbox(tmp_path_factory) -> Environment:
    """What builds, checks and reads types, apart from what is tested."""
    tools = made_with(sys.executable, tmp_path_factory.mktemp("toolbox"))
    tools("pip", "install", "-q", "hatchling", "twine", "mypy")
    return tools


@pytest.fixture(scope="session")
def wheel(tmp_path_factory, toolbox) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    toolbox("pip", "wheel", "-q", "--no-deps", "-w", str(folder), str(ROOT))
    return next(folder.glob("caddie-*.whl"))


@pytest.fixture(scope="session")
def source_archive(tmp_path_factory, toolbox) -> Path:
    """The source distribution, made from a copy so that nothing is left here."""
    folder = tmp_path_factory.mktemp("source")
    left_out = shutil.ignore_patterns(".venv", ".git", "__pycache__", ".*_cache", ".hypothesis")
    shutil.copytree(ROOT, folder / "copy", ignore=left_out)
    subprocess.run(
        [toolbox.scripts / "hatchling", "build", "-t", "sdist", "-d", str(folder)],
        cwd=folder / "copy",
        check=True,
        capture_output=True,
    )
    return next(folder.glob("caddie-*.tar.gz"))


def pytest_generate_tests(metafunc):
    if "installed" in metafunc.fixturenames:
        metafunc.parametrize(
            "installed", interpreters().items(), indirect=True, scope="session", ids=lambda item: item[0]
        )


@pytest.fixture(scope="session")
def installed(request, tmp_path_factory, wheel) -> Environment:
    """The wheel with its dependencies in an empty environment; pip's report of it lies beside."""
    version, python = request.param
    folder = tmp_path_factory.mktemp(f"python{version}")
    environment = made_with(python, folder)
    environment("pip", "install", "-q", "--report", str(folder / "report.json"), str(wheel))
    return environment
