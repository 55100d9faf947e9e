"""What a reader can hold at once: functions of 60 lines, files of 400."""

import ast
from pathlib import Path

import caddie

ROOT = Path(caddie.__file__).parent
LONGEST_FUNCTION, LONGEST_FILE = 60, 400

STILL_LONGER = {"cli/practice_range.py:range_command"}


def test_no_function_is_longer_than_60_lines() -> None:
    long = {
        f"{path.relative_to(ROOT).as_posix()}:{node.name}"
        for path in ROOT.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and (node.end_lineno or 0) - node.lineno + 1 > LONGEST_FUNCTION
    }
    assert long <= STILL_LONGER


def test_no_file_is_longer_than_400_lines() -> None:
    lengths = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in ROOT.rglob("*.py")}
    assert not {path.name: count for path, count in lengths.items() if count > LONGEST_FILE}
