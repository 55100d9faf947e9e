"""The program as a user gets it: built, installed and run away from the checkout, on each supported Python."""

import json
import re
import tarfile
import zipfile
from email import message_from_bytes
from pathlib import Path

import pytest

pytestmark = pytest.mark.wheel

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
PUBLISHED_AS_SOURCE_ONLY = {"srt"}
"""Plain Python: no compiler is needed."""


def names_in(wheel: Path) -> dict[str, int]:
    """File to checksum of everything but the list of checksums."""
    with zipfile.ZipFile(wheel) as archive:
        return {
            each.filename: each.CRC for each in archive.infolist() if not each.filename.endswith("RECORD")
        }


def metadata_of(wheel: Path):
    with zipfile.ZipFile(wheel) as archive:
        return message_from_bytes(archive.read(next(n for n in archive.namelist() if n.endswith("METADATA"))))


def test_it_installs_without_a_compiler(installed):
    report = json.loads((installed.folder.parent / "report.json").read_text(encoding="utf-8"))
    compiled_here = {
        each["metadata"]["name"]
        for each in report["install"]
        if not each["download_info"]["url"].endswith(".whl")
    }
    assert compiled_here <= PUBLISHED_AS_SOURCE_ONLY
    assert "No broken requirements" in installed("pip", "check")


def test_ask_prints_what_the_readme_shows(installed):
    sentence = re.search(r'bin/caddie ask "([^"]+)"', README)[1]
    shown = README.split("```text\n")[1].split("```")[0]
    assert installed("caddie", "ask", sentence) == shown


def test_a_recording_brings_the_right_shot_back(installed):
    found = json.loads(installed("caddie", "hear", str(ROOT / "demo_bag" / "seventy_yards.wav"), "--json"))
    assert round(found["situation"]["pin_m"] / 0.9144) == 70
    assert found["situation"]["lie"] == "fairway"
    assert (found["advice"]["club"], found["advice"]["swing"]) == ("52", "just short of chest")


def test_a_reply_is_spoken_into_a_file(installed, tmp_path):
    installed("caddie", "ask", "forty yards, fairway", "--out", str(tmp_path / "reply.wav"))
    assert (tmp_path / "reply.wav").read_bytes()[:4] == b"RIFF"


def test_the_card_is_a_pdf(installed, tmp_path):
    installed("caddie", "card", str(tmp_path / "card.pdf"), "--yes")
    assert (tmp_path / "card.pdf").read_bytes()[:5] == b"%PDF-"


def test_the_module_is_the_command(installed, wheel):
    version = f"caddie {metadata_of(wheel)['Version']}\n"
    assert installed("python", "-m", "caddie", "--version") == version
    assert installed("caddie", "--version") == version


def test_the_documented_names_are_imported_from_the_installation(installed):
    told = installed(
        "python", "-c", "import caddie; from caddie import understand, advise, Bag; print(caddie.__file__)"
    )
    assert str(installed.folder) in told
    assert "site-packages" in told


def test_a_user_program_is_checked_against_the_shipped_types(installed, toolbox, tmp_path):
    blocks = re.findall(r"```python\n(.*?)```", README, re.S)
    lines = [line for line in "\n".join(blocks).splitlines() if line.startswith((">>> ", "... "))]
    right, wrong = tmp_path / "right.py", tmp_path / "wrong.py"
    right.write_text("\n".join(line[4:] for line in lines) + "\n", encoding="utf-8")
    wrong.write_text("from caddie import advise, load_bag\nadvise(70, load_bag())\n", encoding="utf-8")
    python = str(installed.scripts / "python")
    options = ("--strict", "--python-executable", python, "--cache-dir", str(tmp_path / "cache"))
    toolbox("mypy", *options, str(right))
    assert '"advise" has incompatible type "int"; expected "Situation"' in toolbox(
        "mypy", *options, str(wrong), ends=1
    )


def test_the_wheel_holds_what_is_needed_and_nothing_else(wheel):
    names = names_in(wheel)
    assert "caddie/py.typed" in names
    shipped = {name.removeprefix("caddie/shipped/") for name in names if "/shipped/" in name}
    there = {
        path.relative_to(ROOT).as_posix()
        for folder in ("grammars", "demo_bag")
        for path in (ROOT / folder).rglob("*")
        if path.is_file()
    }
    assert shipped == there
    assert {name.split("/")[0] for name in names} == {
        "caddie",
        f"caddie-{metadata_of(wheel)['Version']}.dist-info",
    }
    assert [name for name in names if name.endswith("licenses/LICENSE")]
    assert not [name for name in names if "test" in name.lower()]


def test_the_source_archive_builds_the_same_wheel(source_archive, wheel, toolbox, tmp_path):
    with tarfile.open(source_archive) as archive:
        assert {"tests", ".ci", "LICENSE"} <= {name.split("/")[1] for name in archive.getnames()}
    toolbox("pip", "wheel", "-q", "--no-deps", "-w", str(tmp_path), str(source_archive))
    assert names_in(next(tmp_path.glob("*.whl"))) == names_in(wheel)


def test_the_description_renders_and_says_what_it_is(wheel, source_archive, toolbox):
    assert toolbox("twine", "check", "--strict", str(wheel), str(source_archive)).count("PASSED") == 2
    told = metadata_of(wheel)
    assert told["License-Expression"] == "MIT"
    assert told["Description-Content-Type"] == "text/markdown"
    assert told["Keywords"]
    assert told.get_all("Project-URL") is None, "no address that nobody answers at"
    assert "golf" in told["Summary"]
